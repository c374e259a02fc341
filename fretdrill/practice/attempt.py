"""One answered question, as the journal keeps it.

An attempt holds what was asked (kind, settings, level, focus), what was answered
and what it was worth; the reasons and the things learnt follow from those and are
not stored. Answers are text: ``"3/5 1/7"``, ``"Eb"``,
``"2"``, ``"2@3/5 1@3/3"``, ``"after 3"``, ``"slide"``; None is giving up.
"""

from dataclasses import dataclass
from datetime import datetime

from fretdrill.engine.drill import Drill
from fretdrill.engine.player import Player
from fretdrill.engine.question import AfterNote, Fingering, Given, Joining, Verdict
from fretdrill.neck.neck import in_order


@dataclass(frozen=True, slots=True)
class Sitting:
    """One session, as the journal keeps it.

    Attributes:
        started_ms: Unix time in milliseconds, UTC.
        title: the pack's title, or the kind of drill.
        seed: what the session's questions come from.
    """

    started_ms: int
    title: str
    seed: int


@dataclass(frozen=True, slots=True)
class Attempt:
    """One answered question.

    Attributes:
        number: the question's number in its session, from 1.
        kind, drill: the kind and the drill's settings as text.
        player: neck, hand and accidentals as text.
        level, focus: what was asked within the drill.
        answer: what was given, or None for giving up.
        accuracy: 0 to 1.
        points: 0 to 100.
        seconds, target_s: the time taken and the time for full speed.
        units: how many things had to be given.
        at_ms: Unix time of the answer in milliseconds, UTC.
    """

    number: int
    kind: str
    drill: str
    player: str
    level: int
    focus: str
    answer: str | None
    accuracy: float
    points: int
    seconds: float
    target_s: float
    units: int
    at_ms: int

    @classmethod
    def of(cls, verdict: Verdict, drill: Drill, level: int, number: int, at_ms: int) -> "Attempt":
        """Make the record of a verdict."""
        question = verdict.question
        return cls(
            number=number,
            kind=question.kind,
            drill=drill.key,
            player=player_text(question.player),
            level=level,
            focus=question.focus,
            answer=given_text(verdict.answer.given),
            accuracy=verdict.accuracy,
            points=verdict.points,
            seconds=verdict.answer.seconds,
            target_s=verdict.target_s,
            units=question.units,
            at_ms=at_ms,
        )


@dataclass(frozen=True, slots=True)
class PastAnswer:
    """An earlier answer to one drill.

    Attributes:
        focus: what was asked about.
        level: the player's level when it was asked.
        right, in_time: how it went.
    """

    focus: str
    level: int
    right: bool
    in_time: bool


@dataclass(frozen=True, slots=True)
class PastSitting:
    """An earlier session in short.

    Attributes:
        started: local time.
        title: what it was called.
        questions: answered ones.
        points: their mean.
    """

    started: datetime
    title: str
    questions: int
    points: float


def player_text(player: Player) -> str:
    """Write a neck, a hand and a liking as text."""
    neck, hand = player.neck, player.hand
    return (
        f"{neck.tuning}; {neck.frets} frets; {neck.scale_mm:g} mm; "
        f"{hand.size}; {hand.system}; {player.accidentals}"
    )


def given_text(given: Given | None) -> str | None:
    """Write what was given as text."""
    match given:
        case frozenset():
            return " ".join(map(str, in_order(given)))
        case Fingering(choices):
            return " ".join(f"{finger}@{string}/{fret}" for string, fret, finger in choices)
        case AfterNote(number):
            return f"after {number}"
        case Joining():
            return given.value
    return None if given is None else str(given)
