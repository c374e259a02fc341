"""What a drill asks, what the player gives, what comes of it.

All of it is plain immutable data. A question holds what to show and what counts
as an answer, never how it looks; an answer is the same type whether it came from
keys, a mouse, an instrument or a line of text.
"""

from dataclasses import dataclass
from enum import Enum

from fretdrill.engine.player import Player
from fretdrill.engine.reasons import Reason
from fretdrill.neck.neck import Place
from fretdrill.neck.scope import Scope
from fretdrill.theory.chord import Chord
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, simple_name


class AnswerForm(Enum):
    """What the player gives."""

    PLACES = "places"
    NOTE = "note"
    FINGER = "finger"


Context = Key | Chord
"""What a note belongs to, and is spelled by."""


@dataclass(frozen=True, slots=True)
class FindNote:
    """Mark every place of a note, which may belong to a key or a chord."""

    name: NoteName
    context: Context | None = None

    @property
    def place(self) -> None:
        """No place is asked about; many are asked for."""
        return None


@dataclass(frozen=True, slots=True)
class NamePlace:
    """Name the note at a place, spelled for the key or chord if there is one."""

    place: Place
    context: Context | None = None


@dataclass(frozen=True, slots=True)
class FingerPlace:
    """Give the finger that takes a place from a position."""

    place: Place
    position: int


Task = FindNote | NamePlace | FingerPlace
Given = frozenset[Place] | NoteName | int


@dataclass(frozen=True)
class Question:
    """One question.

    Attributes:
        kind: name of the kind of drill.
        player: the neck and the hand it is asked for.
        scope: the part of the neck it is about.
        task: what is asked.
        focus: what the question is about within its drill, as text; the same
            focus is the same question.
        right: a full answer; other answers may score as much.
        item_keys: what is learnt by it, one key an item.
        position: where the hand rests, or None if it is free.
    """

    kind: str
    player: Player
    scope: Scope
    task: Task
    focus: str
    right: Given
    item_keys: tuple[str, ...]
    position: int | None = None

    @property
    def form(self) -> AnswerForm:
        """What the player has to give."""
        if isinstance(self.right, frozenset):
            return AnswerForm.PLACES
        return AnswerForm.NOTE if isinstance(self.right, NoteName) else AnswerForm.FINGER

    def name_at(self, place: Place) -> NoteName:
        """Return the note at a place, spelled as this question would."""
        midi = self.player.neck.midi(place)
        name = self.task.name if isinstance(self.task, FindNote) else self.right
        if isinstance(name, NoteName) and name.pitch_class == midi % 12:
            return name
        context = None if isinstance(self.task, FingerPlace) else self.task.context
        if isinstance(context, Key):
            return context.spell(midi).name
        if isinstance(context, Chord):
            for tone in context.tones:
                if tone.pitch_class == midi % 12:
                    return tone
        return simple_name(midi, sharps=self.player.accidentals == "sharps")

    @property
    def units(self) -> int:
        """How many things have to be given, to compare times."""
        return len(self.right) if isinstance(self.right, frozenset) else 1


@dataclass(frozen=True, slots=True)
class Answer:
    """What the player gave.

    Attributes:
        given: places, a note name or a finger (0 = open); None for giving up.
        seconds: time from the question being shown to the answer.
    """

    given: Given | None
    seconds: float


@dataclass(frozen=True, slots=True)
class Judgement:
    """How right an answer is, before time is counted.

    Attributes:
        accuracy: 0 to 1.
        reasons: what to tell the player, most important first.
        regret: cost beyond the best choice, for finger drills.
    """

    accuracy: float
    reasons: tuple[Reason, ...] = ()
    regret: float | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What an answer is worth.

    Attributes:
        question, answer: what was asked and given.
        points: 0 to 100, accuracy × speed.
        accuracy, speed: the two factors, 0 to 1.
        target_s: the time that full speed allows.
        reasons: what to tell the player, most important first.
        regret: cost beyond the best choice, for finger drills.
    """

    question: Question
    answer: Answer
    points: int
    accuracy: float
    speed: float
    target_s: float
    reasons: tuple[Reason, ...]
    regret: float | None = None

    @property
    def right(self) -> bool:
        """Whether nothing was missing and nothing wrong."""
        return self.accuracy >= 1.0

    @property
    def in_time(self) -> bool:
        """Whether the answer came within the target."""
        return self.answer.seconds <= self.target_s
