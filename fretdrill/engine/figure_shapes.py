"""Figures that lay one shape over each chord: arpeggios, octaves, off-beat lines.

Idea: a bar is a shape of degrees above the root of its chord, chosen by how many notes
the bar has; bars of one rhythm have one shape, so that it travels from root to root, and
each root is the one that the hand comes to most easily.

Conventions: degrees are counted in the scale from the root, 1 the root and 8 its octave;
a comma after one puts it an octave lower. Shapes of common practice, no source.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from random import Random
from typing import NamedTuple

from fretdrill.engine.figure_rhythms import Sound
from fretdrill.engine.figure_room import OCTAVE, Room
from fretdrill.theory.pitch import Pitch

Shapes = Mapping[int, tuple[str, ...]]
"""Notes in a bar → shapes with so many degrees."""

TRIADS: Shapes = {
    3: ("1 3 5", "5 3 1", "3 5 8", "8 5 3"),
    4: ("1 3 5 8", "8 5 3 1", "1 5 3 5", "3 5 8 5", "5 3 1 3", "1 5 8 10"),
    5: ("1 3 5 8 5", "8 5 3 5 1", "1 5 3 5 8", "3 5 8 5 3", "1 5 8 10 8"),
    6: ("1 3 5 8 5 3", "8 5 3 1 3 5", "1 5 3 5 8 5", "1 3 5 8 10 8", "5 3 1 3 5 8"),
    7: ("1 3 5 8 5 3 1", "8 5 3 5 1 3 5", "1 3 5 8 10 8 5", "1 5 3 8 5 3 5"),
    8: ("1 3 5 8 10 8 5 3", "1 5 3 5 8 5 3 5", "8 5 3 1 3 5 8 5", "1 3 5 3 5 8 5 3"),
}
SEVENTHS: Shapes = {
    3: ("1 3 5", "5 3 1"),
    4: ("1 3 5 7", "8 7 5 3", "1 7 5 3"),
    5: ("1 3 5 7 8", "8 7 5 3 1", "1 3 5 7 5"),
    6: ("1 3 5 7 5 3", "8 7 5 3 5 7", "1 3 5 7 8 5"),
    7: ("1 3 5 7 8 7 5", "8 7 5 3 1 3 5", "1 5 3 7 5 3 5"),
    8: ("1 3 5 7 8 7 5 3", "8 7 5 3 1 3 5 7", "1 5 3 7 5 8 7 5"),
}
TRIAD_ENDS: Shapes = {
    3: ("5 3 1", "3 5 8"),
    4: ("8 5 3 1", "1 3 5 8", "5 3 5 1"),
    5: ("1 3 5 3 1", "8 5 3 5 1", "1 5 3 5 8"),
}
OCTAVES: Shapes = {
    4: ("1 8 5 8", "1 5 8 5", "1 8 1 8"),
    5: ("1 8 1 5 8", "1 8 5 1 8", "1 5 8 5 8"),
    6: ("1 8 5 1 8 5", "1 8 5 1 5 8", "1 5 8 1 5 8", "1 1 8 1 5 8"),
    7: ("1 8 5 8 1 5 8", "1 1 8 1 1 5 8", "1 5 8 5 1 5 8"),
    8: ("1 8 1 8 1 8 5 8", "1 8 5 8 1 8 5 8", "1 5 8 5 1 5 8 5", "1 1 8 1 1 8 5 8"),
}
OCTAVE_ENDS: Shapes = {
    3: ("1 8 1", "1 5 1"),
    4: ("1 8 5 1", "1 5 8 1"),
    5: ("1 8 5 8 1", "1 5 8 5 1"),
}
OFF_BEATS: Shapes = {
    3: ("1 5 8", "1 8 5", "1 5 3"),
    4: ("1 5 8 5", "1 8 7 5", "1 1 5 3", "1 3 5 8"),
    5: ("1 1 5 8 5", "1 5 8 7 5", "1 8 5 3 5", "1 3 5 8 5", "1 5, 1 3 5"),
    6: ("1 1 5 8 7 5", "1 5 8 5 3 5", "1 8 8 5 3 5", "1 1 8 5 6 5", "1 3 5 8 7 5"),
    7: ("1 1 8 7 5 3 5", "1 5 8 5 6 5 3", "1 3 5 8 5 3 5"),
}
OFF_BEAT_ENDS: Shapes = {
    2: ("5 1", "8 1"),
    3: ("1 5 1", "8 5 1", "3 2 1"),
    4: ("1 8 5 1", "5 3 2 1", "1 3 5 1"),
    5: ("1 5 8 5 1", "8 7 5 3 1"),
}
WALK_SHARE = 0.35  # of octave lines step into each next root
SEVENTH_SHARE = 0.35  # of arpeggio lines are of seventh chords
ARPEGGIO_JOINS = (2, 4)  # scale steps
ROOT_JOIN, OFF_BEAT_JOIN = 4, 5
FIRST_NOTE, LAST_NOTE = 0, -1
FAR_SHARE = 0.2  # of roots that are taken further off than need be


class Way(NamedTuple):
    """How shapes follow one another.

    Attributes:
        shapes: those of the bars, and those of the last one.
        joined: which note of a bar the next one begins near, by its index.
        farthest: scale steps from there that a bar's own shape may begin off.
    """

    shapes: tuple[Shapes, Shapes]
    joined: int
    farthest: int


def arpeggio(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], rng: Random
) -> list[Pitch]:
    """Return broken chords, one a bar, the last one a triad.

    Args:
        room: the tones there are.
        chords: the degree of the scale that each bar's chord stands on.
        bars: the notes of each bar.
        rng: chance.
    """
    shapes = SEVENTHS if rng.random() < SEVENTH_SHARE else TRIADS
    way = Way((shapes, TRIAD_ENDS), LAST_NOTE, rng.choice(ARPEGGIO_JOINS))
    return _pitches(room, _laid(room, chords, bars, way, rng))


def octave(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], rng: Random
) -> list[Pitch]:
    """Return roots with their octaves and fifths; see :func:`arpeggio`."""
    laid = _laid(room, chords, bars, Way((OCTAVES, OCTAVE_ENDS), FIRST_NOTE, ROOT_JOIN), rng)
    if rng.random() < WALK_SHARE:
        for bar, after in pairwise(laid):
            bar[-1] = _step_into(room, bar[-2], after[0])
    return _pitches(room, laid)


def syncopated(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], rng: Random
) -> list[Pitch]:
    """Return a line mostly of chord tones; see :func:`arpeggio`."""
    way = Way((OFF_BEATS, OFF_BEAT_ENDS), LAST_NOTE, OFF_BEAT_JOIN)
    return _pitches(room, _laid(room, chords, bars, way, rng))


def _laid(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], way: Way, rng: Random
) -> list[list[int]]:
    """Lay shapes over the chords, bar by bar.

    Bars with so many notes have one shape; where that would begin too far off, another.
    """
    moving, ending = way.shapes
    own = {count: rng.choice(moving[count]) for count in sorted({len(bar) for bar in bars[:-1]})}
    laid: list[list[int]] = []
    before = room.home
    for chord, sounds in zip(chords[:-1], bars[:-1], strict=True):
        shapes = (own[len(sounds)], *moving[len(sounds)])
        laid.append(_nearest(room, chord, shapes, before, way.farthest, rng))
        before = laid[-1][way.joined]
    shapes = (rng.choice(ending[len(bars[-1])]), *ending[len(bars[-1])])
    return [*laid, _nearest(room, chords[-1], shapes, before, way.farthest, rng)]


def _nearest(
    room: Room, chord: int, shapes: Sequence[str], before: int, farthest: int, rng: Random
) -> list[int]:
    """Return the places of the first shape, or of another where that begins too far off."""

    def leap(places: list[int]) -> int:
        return _leap(places[0] - before)

    near = [places for places in _laid_on(room, chord, shapes[0]) if leap(places) <= farthest]
    if len(near) > 1 and rng.random() < FAR_SHARE:
        return max(near, key=leap)
    others = [places for shape in shapes for places in _laid_on(room, chord, shape)]
    return min(near or others or [_folded(room, chord, shapes[0])], key=leap)


def _steps(shape: str) -> list[int]:
    """Read a shape as scale steps above the root."""
    return [int(degree.rstrip(",")) - 1 - OCTAVE * degree.count(",") for degree in shape.split()]


def _laid_on(room: Room, chord: int, shape: str) -> list[list[int]]:
    """Return the places of a shape, for each root with room for it."""
    steps = _steps(shape)
    laid = [[root + step for step in steps] for root in room.places(chord)]
    return [places for places in laid if min(places) >= 0 and max(places) < len(room)]


def _folded(room: Room, chord: int, shape: str) -> list[int]:
    """Return the places of a shape, each in whatever octave the room has."""
    return [room.folded(room.places(chord)[0] + step) for step in _steps(shape)]


def _leap(steps: int) -> int:
    """Rank a way from bar to bar: the nearest first, the same note again after a fourth."""
    return abs(steps) or OCTAVE // 2


def _step_into(room: Room, before: int, aim: int) -> int:
    """Return the scale step below or above a place, the nearer one to the note before."""
    steps = [step for step in (aim - 1, aim + 1) if 0 <= step < len(room)]
    return min(steps, key=lambda step: _leap(step - before))


def _pitches(room: Room, laid: list[list[int]]) -> list[Pitch]:
    return [room.tones[place] for bar in laid for place in bar]
