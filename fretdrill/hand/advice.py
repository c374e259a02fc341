"""What to do about notes that lie off the neck: which they are, how far, what would help.

Idea: a line with a few such notes is still worth planning. It is split into what the neck has and
what it lacks, and every single change that would bring all of it in is worked out. All of it is
data; front ends word it.

Notes are counted from 0 here.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from fretdrill.errors import InputError
from fretdrill.neck.neck import MAX_FRETS, Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.theory.line import Line

OCTAVES = (1, -1, 2, -2)
WIDER_TUNINGS = ("5-string", "6-string")


@dataclass(frozen=True, slots=True)
class OffNote:
    """A note that lies off the neck.

    Attributes:
        index: which note of the line.
        semitones: how far above the highest note of the neck, or below the lowest as a
            negative number; 0 where it lies in a gap between two strings.
    """

    index: int
    semitones: int


@dataclass(frozen=True, slots=True)
class Playable:
    """A line split into what a neck has and what it lacks.

    Attributes:
        line: the line with the notes that lie on the neck alone; rests stand for the others.
        kept: for each of its notes, which note of the whole line it is.
        off: the notes left out.
    """

    line: Line
    kept: tuple[int, ...]
    off: tuple[OffNote, ...]


@dataclass(frozen=True, slots=True)
class Octaves:
    """Play the line octaves higher, or lower for a negative number."""

    octaves: int


@dataclass(frozen=True, slots=True)
class OtherTuning:
    """Play it on an instrument with another tuning, one of the presets."""

    tuning: str


@dataclass(frozen=True, slots=True)
class MoreFrets:
    """Play it on a neck with so many frets."""

    frets: int


Way = Octaves | OtherTuning | MoreFrets


def playable(line: Line, neck: Neck) -> Playable:
    """Split a line into the notes that lie on a neck and those that do not.

    A slur or slide into a note that is left out is left out too.
    """
    there = {midi: bool(neck.places_of(midi)) for midi in _midis(line)}
    if all(there.values()):
        return Playable(line, tuple(range(len(line.notes))), ())
    on_neck = [there[note.pitch.midi] for note in line.notes]
    followed = [*on_neck[1:], True]
    notes = tuple(
        note if next_is_there or note.join is None else replace(note, join=None)
        for note, is_there, next_is_there in zip(line.notes, on_neck, followed, strict=True)
        if is_there
    )
    kept = tuple(index for index, is_there in enumerate(on_neck) if is_there)
    lowest, highest = _range(neck)
    off = tuple(
        OffNote(index, _semitones(line.notes[index].pitch.midi, lowest, highest))
        for index, is_there in enumerate(on_neck)
        if not is_there
    )
    return Playable(replace(line, notes=notes), kept, off)


def ways_in(line: Line, neck: Neck) -> list[Way]:
    """Return what would bring every note of a line onto the neck, each by itself enough.

    Of several octaves, and of several tunings, the first that helps is named.
    """
    midis = _midis(line)
    return [way for ways in (_octaves, _tunings, _frets) for way in ways(midis, neck)]


def _midis(line: Line) -> set[int]:
    return {note.pitch.midi for note in line.notes}


def _range(neck: Neck) -> tuple[int, int]:
    strings = [pitch.midi for pitch in neck.tuning.strings]
    return min(strings), max(strings) + neck.frets


def _semitones(midi: int, lowest: int, highest: int) -> int:
    if midi < lowest:
        return midi - lowest
    return max(0, midi - highest)


def _octaves(midis: Collection[int], neck: Neck) -> Iterator[Way]:
    for octaves in OCTAVES:
        if all(neck.places_of(midi + 12 * octaves) for midi in midis):
            yield Octaves(octaves)
            return


def _tunings(midis: Collection[int], neck: Neck) -> Iterator[Way]:
    for name in WIDER_TUNINGS:
        if _fits(midis, neck, tuning=Tuning.parse(name)):
            yield OtherTuning(name)
            return


def _frets(midis: Collection[int], neck: Neck) -> Iterator[Way]:
    for frets in range(neck.frets + 1, MAX_FRETS + 1):
        if _fits(midis, neck, frets=frets):
            yield MoreFrets(frets)
            return


def _fits(
    midis: Collection[int], neck: Neck, *, tuning: Tuning | None = None, frets: int | None = None
) -> bool:
    """Whether all notes would lie on a neck that is changed."""
    try:
        changed = replace(neck, tuning=tuning or neck.tuning, frets=frets or neck.frets)
    except InputError:  # its highest fret would sound above every MIDI pitch
        return False
    return all(map(changed.places_of, midis))
