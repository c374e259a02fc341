"""``read``: mark where notes on the bass staff lie, in the octave that they sound in.

A figure is one note or a few: neighbours in the scale, thirds, turns. Its notes are those of
the scope in order of pitch. Where a pitch lies at two places of the scope, either is right.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.kind import FindLine
from fretdrill.engine.kinds.find import WRONG_MARK_COST
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import SCOPE, read_notes
from fretdrill.engine.player import Player
from fretdrill.engine.question import Given, Judgement, Question, ReadNotes
from fretdrill.engine.reasons import OutsideScope, Reason
from fretdrill.engine.table import Setting
from fretdrill.engine.tone_reasons import (
    NoteMissed,
    NotOnStaff,
    OtherOctave,
    SignatureForgotten,
)
from fretdrill.errors import NothingToAsk
from fretdrill.neck.neck import Place, in_order
from fretdrill.neck.scope import Scope
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, Pitch
from fretdrill.theory.staff import signature_alters, staff_step

MOST_TOGETHER = 4
DEFAULT_KEYS = ("C major", "G major", "F major", "D major", "Bb major", "A minor", "Eb major")
SHAPES = ((0, 1, 2, 3), (0, -1, -2, -3), (0, 2, 4, 6), (0, 2, 1, 3), (0, 1, -1, 2), (0, 4, 2, 3))
"""Figures as steps from their first note, in the scale of the scope's notes; cut to length."""


@dataclass(frozen=True, slots=True)
class ReadStage:
    """One step of difficulty.

    Attributes:
        scope: the part of the neck.
        key: whose signature stands on the staff.
        notes: which notes may occur; None for the key's scale.
        together: notes at once.
    """

    scope: Scope
    key: Key
    notes: NoteSet | None
    together: int


class Read:
    """Mark where the notes on the staff lie."""

    name = "read"
    about = "mark where notes on the bass staff lie"

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        keys = tuple(map(Key.parse, DEFAULT_KEYS))
        return {
            "scope": SCOPE,
            "key": Setting(table.list_of(table.parsed(Key.parse)), keys),
            "notes": Setting(read_notes, None),
            "together": Setting(table.list_of(table.whole_number(1, MOST_TOGETHER)), (1, 2, 3)),
        }

    def stages(self, values: Mapping[str, Any]) -> tuple[ReadStage, ...]:
        """Return as many stages as the longest list has; the others stay at their last."""
        lists = (values["scope"], values["key"], values["together"])
        return tuple(
            ReadStage(scope, key, values["notes"], together)
            for scope, key, together in table.side_by_side(*lists)
        )

    def wording(self, stages: tuple[ReadStage, ...]) -> str:
        """Return the stages as text."""
        steps = (f"{stage.scope}; {stage.key}; {stage.together}" for stage in stages)
        return f"{' | '.join(steps)}; {stages[0].notes or 'scale'}"

    def check(self, player: Player, stage: ReadStage) -> None:
        """Make sure that the scope has a figure.

        Raises:
            InputError: the scope does not fit the neck.
            NothingToAsk: too few notes lie in it.
        """
        stage.scope.check(player.neck)
        if not self.foci(player, stage):
            notes = stage.notes or stage.key
            raise NothingToAsk(f"{stage.together} notes of {notes} do not lie in '{stage.scope}'")

    def foci(self, player: Player, stage: ReadStage) -> tuple[str, ...]:
        """Return ``key: pitch pitch …`` for every figure that lies in the scope."""
        pitches = _pitches(player, stage)
        shapes = dict.fromkeys(shape[: stage.together] for shape in SHAPES)
        figures = (
            " ".join(str(pitches[start + step]) for step in shape)
            for shape in shapes
            for start in range(len(pitches))
            if all(0 <= start + step < len(pitches) for step in shape)
        )
        return tuple(f"{stage.key}: {figure}" for figure in figures)

    def subject(self, focus: str) -> str:
        """Return the first note."""
        return focus.split(": ")[1].split(" ")[0]

    def ask(self, player: Player, stage: ReadStage, focus: str) -> Question:
        """Ask where the notes of a figure lie."""
        key, figure = focus.split(": ")
        pitches = tuple(map(Pitch.parse, figure.split(" ")))
        right = frozenset(_places(player, stage.scope, pitch)[0] for pitch in pitches)
        return Question(
            kind=self.name,
            player=player,
            scope=stage.scope,
            task=ReadNotes(pitches, Key.parse(key)),
            focus=focus,
            right=right,
            item_keys=tuple(f"read: {pitch}" for pitch in pitches),
            position=stage.scope.position,
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Count the notes found, less half of the marks that are none, over those there are."""
        match question.task, given:
            case ReadNotes(pitches, key), frozenset() as marked:
                good = _good(question, pitches, marked)
                found = {question.player.neck.midi(place) for place in good}
                wrong = in_order(marked - good)
                reasons: list[Reason] = [_wrong(question, place, pitches, key) for place in wrong]
                reasons += _missed(question, [p for p in pitches if p.midi not in found])
                worth = len(found) - WRONG_MARK_COST * len(wrong)
                return Judgement(max(0.0, worth / len(pitches)), tuple(reasons))
        raise TypeError("a read question is answered with places")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Say where each note lies."""
        if not isinstance(question.task, ReadNotes):
            raise TypeError("a read question asks for notes on the staff")
        return tuple(_missed(question, question.task.pitches))


def full_answer(question: Question, marked: frozenset[Place]) -> frozenset[Place]:
    """Return the full answer that comes nearest to what was marked.

    A pitch that lies at several places is answered by those of them that were marked.
    """
    if not isinstance(question.task, ReadNotes) or not isinstance(question.right, frozenset):
        raise TypeError("a read question asks for notes on the staff")
    neck = question.player.neck
    good = _good(question, question.task.pitches, marked)
    heard = {neck.midi(place) for place in good}
    return good | {place for place in question.right if neck.midi(place) not in heard}


def _good(
    question: Question, pitches: tuple[Pitch, ...], marked: frozenset[Place]
) -> frozenset[Place]:
    """Return the marks in the scope that sound a note of the figure."""
    asked = {pitch.midi for pitch in pitches}
    there = {place for place in marked if place in question.scope}
    return frozenset(place for place in there if question.player.neck.midi(place) in asked)


def _pitches(player: Player, stage: ReadStage) -> list[Pitch]:
    """Return the pitches of the scope that may be asked, low to high, spelled by the key."""
    neck, names = player.neck, stage.notes.names(player.accidentals) if stage.notes else ()
    classes = {name.pitch_class for name in names or stage.key.scale}
    midis = {neck.midi(place) for place in stage.scope.places(neck)}
    return [stage.key.spell(midi) for midi in sorted(midis) if midi % 12 in classes]


def _places(player: Player, scope: Scope, pitch: Pitch) -> list[Place]:
    return [place for place in player.neck.places_of(pitch.midi) if place in scope]


def _missed(question: Question, pitches: list[Pitch] | tuple[Pitch, ...]) -> list[Reason]:
    return [
        NoteMissed(pitch, tuple(_places(question.player, question.scope, pitch)))
        for pitch in pitches
    ]


def _wrong(question: Question, place: Place, pitches: tuple[Pitch, ...], key: Key) -> Reason:
    """Say what is at a marked place, beside the note of the figure that it comes nearest to."""
    sounds = key.spell(question.player.neck.midi(place))
    if any(pitch.midi == sounds.midi for pitch in pitches):
        return OutsideScope(place)
    for pitch in pitches:
        if (pitch.midi - sounds.midi) % 12 == 0:
            return OtherOctave(place, pitch, (sounds.midi - pitch.midi) // 12)
    for pitch in pitches:
        for name in _forgotten(pitch, key):
            if sounds.midi == pitch.midi - pitch.name.alter + name.alter:
                by_key = pitch.name in key.scale
                return SignatureForgotten(place, name, pitch, key if by_key else None)
    nearest = min(pitches, key=lambda pitch: (abs(pitch.midi - sounds.midi), pitch.midi))
    return NotOnStaff(place, sounds, nearest, staff_step(sounds) - staff_step(nearest))


def _forgotten(pitch: Pitch, key: Key) -> list[NoteName]:
    """Return what a written note is without its accidental, and without the signature."""
    letter = pitch.name.letter
    names = (NoteName(letter, signature_alters(key)[letter]), NoteName(letter))
    return [name for name in dict.fromkeys(names) if name != pitch.name]
