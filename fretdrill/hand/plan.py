"""A fingering as a player needs it: notes, shifts and where their time comes from.

Notes are counted from 0 here; front ends count from 1.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from fretdrill.hand.joins import Technique, technique
from fretdrill.hand.problem import Path
from fretdrill.hand.reach import resting_frets
from fretdrill.hand.shifts import shift_s
from fretdrill.hand.solution import RatedChoice, Solution
from fretdrill.hand.states import State
from fretdrill.theory.line import Line

READY_NOTES = 3  # how far ahead "under the hand" looks
HARD_COST = 2.0  # of one note: about what moving the hand one fret costs [assumption]
MOST_HARD_SPOTS = 5


class TakenFrom(Enum):
    """Where the time of a shift comes from."""

    REST = "rest"
    OPEN_STRING = "open string"
    NOTE_LENGTH = "note length"
    NONE = "none"  # a slide: the move itself sounds


@dataclass(frozen=True, slots=True)
class Shift:
    """The hand moves between a note and the next.

    Attributes:
        index: the note after which it moves; the next one is played in the new position.
        from_position, to_position: the fret under finger 1.
        distance_mm: how far.
        needs_s: the seconds that it needs.
        available_s: the seconds that there are if the note may be cut as short as its marks allow.
        taken_from: where the time comes from.
        shortened_s: how much shorter the note before sounds than written.
        share: that as a share of its written length.
        ioi_s: the seconds from the note before to the next.
    """

    index: int
    from_position: int
    to_position: int
    distance_mm: float
    needs_s: float
    available_s: float
    taken_from: TakenFrom
    shortened_s: float
    share: float
    ioi_s: float = math.inf

    @property
    def frets(self) -> int:
        """How many frets, positive towards the bridge."""
        return self.to_position - self.from_position

    @property
    def tight(self) -> bool:
        """Whether it needs more time than there is."""
        return self.needs_s > self.available_s

    @property
    def late(self) -> bool:
        """Whether it takes longer than from note to note."""
        return self.needs_s > self.ioi_s


@dataclass(frozen=True, slots=True)
class HardSpot:
    """One of the notes that cost most.

    Attributes:
        index: the note.
        cost: what it costs, the way there included.
        terms: name of a term → its part of the cost.
    """

    index: int
    cost: float
    terms: dict[str, float]


class Plan:
    """One way to play a line, with all there is to say about it.

    Attributes:
        line: the line.
        solution: what every other choice costs.
        path: the way to play it.
    """

    def __init__(self, line: Line, solution: Solution, path: Path) -> None:
        self.line = line
        self.solution = solution
        self.path = path
        self._model = solution.problem.model

    @property
    def states(self) -> tuple[State, ...]:
        """The hand at each note."""
        return self.path.states

    @property
    def cost(self) -> float:
        """What it costs."""
        return self.path.cost

    def choices(self, index: int) -> list[RatedChoice]:
        """Return every choice for a note with its regret, best first."""
        return self.solution.regrets(index)

    def technique(self, index: int) -> Technique | None:
        """Return how a note leads into the next without a pluck, None if it does not."""
        join = self.line.notes[index].join
        if index + 1 >= len(self.states) or join is None:
            return None
        one, two = self.states[index : index + 2]
        return technique(self._model.neck, self._model.hand, one, two, join)

    def at_rest(self, index: int) -> bool:
        """Whether a note's finger lies over its fret, and has neither to stretch nor to bend."""
        state, model = self.states[index], self._model
        resting = resting_frets(model.neck, model.hand, state.anchor)
        return resting.get(state.finger) == state.fret

    def ready(self, index: int) -> int:
        """Return how many of the next three notes lie under the hand as it stands."""
        here = self.states[index].anchor
        return sum(self._under(state, here) for state in self._next_states(index))

    def _next_states(self, index: int) -> tuple[State, ...]:
        return self.states[index + 1 : index + 1 + READY_NOTES]

    def _under(self, state: State, anchor: int) -> bool:
        if state.fret == 0 or state.anchor == anchor:
            return True
        return state.fret in self._resting(anchor)

    def _resting(self, anchor: int) -> frozenset[int]:
        if anchor not in self._resting_frets:
            resting = resting_frets(self._model.neck, self._model.hand, anchor).values()
            self._resting_frets[anchor] = frozenset(resting)
        return self._resting_frets[anchor]

    @cached_property
    def _resting_frets(self) -> dict[int, frozenset[int]]:
        return {}

    @cached_property
    def shifts(self) -> tuple[Shift, ...]:
        """Where the hand moves, in order."""
        return tuple(self._find_shifts())

    def _find_shifts(self) -> Iterator[Shift]:
        for index in range(len(self.states) - 1):
            shift = self.shift_after(index)
            if shift is not None:
                yield shift

    def shift_after(self, index: int) -> Shift | None:
        """Return how the hand moves between a note, from 0, and the next; None if it stays."""
        if index + 1 >= len(self.states):
            return None
        one, two = self.states[index : index + 2]
        return None if one.anchor == two.anchor else self._shift(index, one, two)

    def _shift(self, index: int, one: State, two: State) -> Shift:
        gap = self.solution.problem.gaps[index]
        needs = shift_s(self._model.hand, two.anchor - one.anchor)
        taken = TakenFrom.NOTE_LENGTH
        shortened = min(gap.sounding_s, max(0.0, needs - gap.rest_s))
        if self.technique(index) is Technique.SLIDE:
            taken, shortened = TakenFrom.NONE, 0.0
        elif gap.rest_s >= needs:
            taken, shortened = TakenFrom.REST, 0.0
        elif one.finger == 0:
            taken, shortened = TakenFrom.OPEN_STRING, 0.0
        return Shift(
            index,
            one.anchor,
            two.anchor,
            self._model.neck.span_mm(one.anchor, two.anchor),
            needs,
            self._model.available_s(one, two, gap),
            taken,
            shortened,
            shortened / gap.sounding_s if gap.sounding_s else 0.0,
            gap.ioi_s,
        )

    @cached_property
    def hard_spots(self) -> tuple[HardSpot, ...]:
        """The notes that cost most, the hardest first; none if all is easy."""
        costs = self.path.costs
        ranked = sorted(range(len(costs)), key=lambda i: (-costs[i], i))
        hard = [i for i in ranked[:MOST_HARD_SPOTS] if costs[i] >= HARD_COST]
        return tuple(HardSpot(i, costs[i], self.terms(i)) for i in hard)

    def terms(self, index: int) -> dict[str, float]:
        """Return what a note costs, term by term; terms of 0 are left out."""
        return self.solution.problem.terms(self.path, index)
