"""Played times as written ones: onsets to a grid, lengths to note values.

Onsets. In each beat (a quarter, counted from the bar) the grid is the one that costs
least: half the squared distance of each onset from its nearest place, in units of
how precisely people play (:data:`NEAR_S`, but no more than :data:`NEAR_BEATS`), and a
price for finer grids (:data:`GRIDS`). So a coarse grid is kept as long as it stays
near. A line whose onsets all lie on places of :data:`EXACT_GRIDS` is not moved.

Lengths. Where every end lies on a grid too, lengths stand as they are. Otherwise
they are how somebody plays, and a note of which another follows within a beat of its
end is written up to that one: as staccato if it sounds for :data:`STACCATO` of the
time or less. Before longer rests a note lasts up to the next half beat, or third,
or quarter of a beat if it is no longer than that.

All constants are [assumption].
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

from fretdrill.scores.midi_time import Span
from fretdrill.scores.midi_tracks import Sounded

GRIDS = {1: 0.0, 2: 0.5, 4: 1.0, 3: 2.0, 6: 5.0, 8: 5.0}
"""Places in a beat → what a beat on that grid costs."""

EXACT_GRIDS = (1, 2, 4, 3, 8, 6, 16, 12)
NEAR_S = 0.015
NEAR_BEATS = 0.03
LOST_NOTE = 8.0  # what it costs to write two notes as one
TOGETHER_S = 0.025  # notes of a chord begin within that
STACCATO = 0.55
SHORTEST = 8  # a thirty-second: parts of a beat
END_SLACK = 96  # an end is on the grid within this part of a beat: many stop a tick early
LATE_END = 12  # a note may sound that part of a beat too long

GRID_NAMES = {
    1: "quarters",
    2: "eighths",
    4: "sixteenths",
    8: "thirty-seconds",
    3: "eighth triplets",
    6: "sixteenth triplets",
}


class Written(NamedTuple):
    """A note as it is written, in steps.

    Attributes:
        onset: where it begins.
        length: how long it is, at least a step.
        pitch: its MIDI number.
        staccato: whether it is cut short.
        played: where it began in the source.
    """

    onset: int
    length: int
    pitch: int
    staccato: bool
    played: int


@dataclass
class Quantised:
    """A line's written notes and what was done to get them.

    Attributes:
        notes: in order; none begins before the one before it has ended.
        grids: the grids that onsets were moved to; empty if none was moved.
        mean_s: how far an onset was moved on average.
        most_s: how far at the most.
        chords: where notes began together and only the lowest was kept.
        crowded: notes left out because the grid has no place of their own for them.
        without_length: notes that had no length.
        cut: notes that sounded more than a sixteenth into the next one.
    """

    notes: list[Written] = field(default_factory=list)
    grids: set[int] = field(default_factory=set)
    mean_s: float = 0.0
    most_s: float = 0.0
    chords: int = 0
    crowded: int = 0
    without_length: int = 0
    cut: int = 0

    @property
    def grid_name(self) -> str:
        """The grids in words, such as ``"sixteenths and eighth triplets"``."""
        straight = max((n for n in self.grids if n % 3), default=0)
        triplet = max((n for n in self.grids if n % 3 == 0), default=0)
        # Beats of quarters beside triplets say nothing about a straight grid.
        named = [n for n in (straight if straight > 1 or not triplet else 0, triplet) if n]
        return " and ".join(GRID_NAMES[n] for n in named)


class Pulse:
    """The beats of a piece: bars cut into quarters, each with its tempo.

    Args:
        quarter: steps in a quarter, a multiple of 48.
        bars: without gaps from 0 on, past the last note.
        tempos: quarters a minute from a step on; the first from 0.
    """

    def __init__(
        self, quarter: int, bars: Sequence[Span], tempos: Sequence[tuple[int, float]]
    ) -> None:
        self.quarter = quarter
        self._bars = bars
        self._tempos = tempos
        self._bar_onsets = [bar.onset for bar in bars]
        self._tempo_onsets = [onset for onset, _ in tempos]

    def beat_at(self, step: int) -> tuple[int, int]:
        """Return where the beat around a step begins and where it ends."""
        bar = self._bars[bisect_right(self._bar_onsets, step) - 1]
        onset = step - (step - bar.onset) % self.quarter
        return onset, min(onset + self.quarter, max(bar.end, step + 1))

    def step_s(self, step: int) -> float:
        """Return how many seconds a step lasts at a place."""
        bpm = self._tempos[bisect_right(self._tempo_onsets, step) - 1][1]
        return 60.0 / bpm / self.quarter


class _Placed(NamedTuple):
    """A note with its onset on the grid, and the grid's places in a beat."""

    onset: int
    grid: int
    played: Sounded


def quantise(notes: Sequence[Sounded], pulse: Pulse, slack: int = 0) -> Quantised:
    """Write played notes down.

    Args:
        notes: in steps, by onset, then from low to high.
        pulse: the beats they are played to.
        slack: the largest distance, in steps, that is but the rounding of ticks.
    """
    result = Quantised()
    placed = _exact(notes, pulse, slack)
    if placed is None:
        placed = [one for beat in _beats(notes, pulse) for one in _nearest(beat, pulse)]
        _measure(placed, pulse, result)
    single = list(_lowest(placed, pulse, result))
    _write(single, pulse, result, as_they_are=_ends_on_grid(single, pulse))
    return result


def _beats(notes: Sequence[Sounded], pulse: Pulse) -> Iterator[tuple[int, int, list[Sounded]]]:
    for (onset, end), group in groupby(notes, lambda note: pulse.beat_at(note.onset)):
        yield onset, end, list(group)


def _exact(notes: Sequence[Sounded], pulse: Pulse, slack: int) -> list[_Placed] | None:
    placed: list[_Placed] = []
    for note in notes:
        onset, end = pulse.beat_at(note.onset)
        for grid in EXACT_GRIDS:
            place = _place(note.onset, onset, end, pulse.quarter // grid)
            if abs(place - note.onset) <= slack:
                placed.append(_Placed(place, grid, note))
                break
        else:
            return None
    return placed


def _place(step: int, onset: int, end: int, unit: int) -> int:
    """Return the place of a beat's grid that is nearest to a step, the later of two."""
    return min(end, onset + (2 * (step - onset) + unit) // (2 * unit) * unit)


def _nearest(beat: tuple[int, int, list[Sounded]], pulse: Pulse) -> list[_Placed]:
    onset, end, notes = beat
    step_s = pulse.step_s(onset)
    spread = min(NEAR_S / step_s, NEAR_BEATS * pulse.quarter)
    options: list[tuple[float, int, list[int]]] = []
    for grid, price in GRIDS.items():
        if options and min(options)[0] <= price:
            break
        targets = [_place(note.onset, onset, end, pulse.quarter // grid) for note in notes]
        cost = price
        for i, (target, note) in enumerate(zip(targets, notes, strict=True)):
            cost += ((target - note.onset) / spread) ** 2 / 2
            if i and target == targets[i - 1]:
                apart_s = (note.onset - notes[i - 1].onset) * step_s
                cost += LOST_NOTE * (apart_s > TOGETHER_S)
        options.append((cost, grid, targets))
    _, grid, targets = min(options)
    return list(map(_Placed, targets, [grid] * len(notes), notes))


def _measure(placed: Sequence[_Placed], pulse: Pulse, result: Quantised) -> None:
    moves = [abs(p.onset - p.played.onset) * pulse.step_s(p.played.onset) for p in placed]
    result.grids = {p.grid for p in placed}
    result.mean_s, result.most_s = sum(moves) / len(moves), max(moves)


def _lowest(placed: Sequence[_Placed], pulse: Pulse, result: Quantised) -> Iterator[_Placed]:
    for onset, group in groupby(placed, lambda one: one.onset):
        together = list(group)
        lowest = min(together, key=lambda one: (one.played.pitch, -one.played.end))
        if len(together) > 1:
            step_s = pulse.step_s(onset)
            apart_s = [abs(o.played.onset - lowest.played.onset) * step_s for o in together]
            result.crowded += sum(distance > TOGETHER_S for distance in apart_s)
            result.chords += any(
                one.played.pitch != lowest.played.pitch and distance <= TOGETHER_S
                for one, distance in zip(together, apart_s, strict=True)
            )
        yield lowest


def _ends_on_grid(placed: Sequence[_Placed], pulse: Pulse) -> bool:
    return all(
        _end_on_grid(one.played.end, pulse) is not None
        for one in placed
        if one.played.end > one.played.onset
    )


def _end_on_grid(step: int, pulse: Pulse) -> int | None:
    onset, end = pulse.beat_at(step)
    for grid in EXACT_GRIDS:
        place = _place(step, onset, end, pulse.quarter // grid)
        near = grid in GRIDS and abs(place - step) * END_SLACK <= pulse.quarter
        if near or place == step:
            return place
    return None


def _write(
    placed: Sequence[_Placed], pulse: Pulse, result: Quantised, *, as_they_are: bool
) -> None:
    shortest = pulse.quarter // SHORTEST
    for one, after in zip(placed, [*placed[1:], None], strict=True):
        length, staccato = shortest, False
        if one.played.end == one.played.onset:
            result.without_length += 1
        elif as_they_are:
            end = _end_on_grid(one.played.end, pulse)
            if end is not None and end > one.onset:
                length = end - one.onset
        else:
            length, staccato = _length(one, after, pulse)
        if after is not None:
            result.cut += one.played.end - after.played.onset > pulse.quarter // 4
            length = min(length, after.onset - one.onset)
        note = one.played
        result.notes.append(Written(one.onset, length, note.pitch, staccato, note.onset))


def _length(one: _Placed, after: _Placed | None, pulse: Pulse) -> tuple[int, bool]:
    """Return a note's written length and whether it is staccato."""
    sounding = one.played.end - one.played.onset
    if after is not None:
        interval = after.played.onset - one.played.onset
        if interval - sounding <= pulse.quarter:
            return after.onset - one.onset, sounding <= STACCATO * interval
    unit = pulse.quarter // (3 if one.grid % 3 == 0 else 2)
    slack = pulse.quarter // LATE_END
    for finer in (unit // 4, unit // 2):
        if sounding <= finer:
            unit = finer
            slack = 0
            break
    onset = pulse.beat_at(one.onset)[0]
    past = one.onset - onset + sounding - slack
    end = onset + -(-past // unit) * unit
    return max(end - one.onset, pulse.quarter // SHORTEST), False
