"""Made-up practice lines: figures that a teacher would hand out, in any key, on any neck.

Idea: a line is a rhythm, chords of the key, a room on the neck, and a figure that turns
them into notes. A line is made from its number alone: the same one comes out wherever and
whenever it is asked for.

Conventions: four bars of four quarters, eight where the notes are long; 12 to 32 notes. Chords
are triads and sevenths of the scale; a minor key keeps its natural scale.
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from random import Random
from typing import NamedTuple

from fretdrill.engine.figure_rhythms import Sound, make_rhythm, sounds_of
from fretdrill.engine.figure_room import Room, room_on
from fretdrill.engine.figure_shapes import arpeggio, octave, syncopated
from fretdrill.engine.figure_walks import chromatic, stepwise
from fretdrill.errors import UnknownName
from fretdrill.neck.neck import Neck
from fretdrill.theory.key import Key
from fretdrill.theory.line import Bar, KeyChange, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch

Maker = Callable[[Room, Sequence[int], Sequence[Sequence[Sound]], Random], list[Pitch]]
"""Room, chord degrees and notes of each bar, chance → one pitch a note."""


class Figure(NamedTuple):
    """One sort of made-up line.

    Attributes:
        title: what its lines are called.
        make: what gives them their pitches.
        tempos: beats a minute, one of which is drawn.
    """

    title: str
    make: Maker
    tempos: range


_FIGURES = {
    "stepwise": Figure("Scale steps", stepwise, range(84, 117, 4)),
    "arpeggio": Figure("Arpeggios", arpeggio, range(80, 109, 4)),
    "octave": Figure("Octaves", octave, range(84, 109, 4)),
    "chromatic": Figure("Chromatic approaches", chromatic, range(80, 105, 4)),
    "syncopated": Figure("Syncopation", syncopated, range(80, 105, 4)),
}
FIGURES = tuple(_FIGURES)

PROGRESSIONS = {
    "lydian": ("1 2 5 1", "1 2 6 1", "1 5 2 1", "1 3 2 1"),
    "major": ("1 4 5 1", "1 2 5 1", "1 6 5 1", "1 6 4 1", "1 3 4 1"),
    "mixolydian": ("1 7 4 1", "1 4 7 1", "1 5 4 1", "1 2 7 1"),
    "dorian": ("1 4 7 1", "1 2 4 1", "1 4 5 1", "1 7 4 1"),
    "minor": ("1 4 5 1", "1 6 7 1", "1 6 5 1", "1 3 7 1", "1 4 7 1"),
    "phrygian": ("1 2 7 1", "1 6 2 1", "1 4 2 1", "1 2 3 1"),
    "locrian": ("1 2 6 1", "1 2 3 1", "1 4 2 1", "1 6 2 1"),
}
"""Mode → the degrees that four bars' chords stand on (common practice, no source)."""


def make_line(figure: str, key: Key, number: int, neck: Neck) -> Line:
    """Make a practice line; the same arguments always make the same one.

    Of the neck only the tuning counts, as long as it has the frets.

    Args:
        figure: one of :data:`FIGURES`.
        key: what it is in.
        number: which of the lines of this figure, key and tuning.
        neck: where all of it lies.

    Raises:
        UnknownName: there is no such figure.
    """
    if figure not in _FIGURES:
        raise UnknownName("figure", figure, FIGURES)
    title, make, tempos = _FIGURES[figure]
    rng = Random(f"{figure}, {key}, {number}, {neck.tuning}")
    rhythm = make_rhythm(figure, rng)
    sounds = sounds_of(rhythm)
    by_bar = [[sound for sound in sounds if sound.bar == bar] for bar in range(len(rhythm))]
    pitches = make(room_on(neck, key, rng), _chords(key, len(rhythm), rng), by_bar, rng)
    return Line(
        f"{title} in {key}, no. {number}",
        tuple(Note(s.onset, s.length, p) for s, p in zip(sounds, pitches, strict=True)),
        tuple(Bar(n + 1, Fraction(n), Fraction(1), Metre()) for n in range(len(rhythm))),
        (Tempo(bpm=float(rng.choice(tempos))),),
        (KeyChange(Fraction(0), key),),
    )


def _chords(key: Key, bars: int, rng: Random) -> list[int]:
    """Return the degree that each bar's chord stands on; eight bars halt half-way."""
    drawn = [rng.choice(PROGRESSIONS[key.mode]).split() for _ in range(2)]
    first, second = ([int(root) for root in roots] for roots in drawn)
    return second if bars == len(second) else [*first[:3], first[1], *second]
