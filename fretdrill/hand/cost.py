"""What a fingering costs: small terms in mm and seconds, added up.

Idea: a note costs something by how the hand stands (stretch, weak finger, place on
the neck, open string), and something by how it got there from the note before (shift
as time needed over time available, string crossing, the same finger again, a slur
that breaks). Along and across the neck are separate terms (Radicioni & Lombardo 2005).

Conventions: terms are whole numbers of :data:`UNIT` parts, so that sums are exact in
any order and ties are ties. Nothing costs less than 0. :data:`IMPOSSIBLE` and more is
no fingering at all; only ``strict`` models have such moves.
"""

from collections.abc import Iterator
from functools import lru_cache
from operator import add
from typing import NamedTuple

from fretdrill.hand import terms
from fretdrill.hand.gap import Gap, Timing
from fretdrill.hand.hand import Hand
from fretdrill.hand.joins import technique
from fretdrill.hand.layer import Layer
from fretdrill.hand.reach import pair_stretch
from fretdrill.hand.states import ANY, Pin, State, is_bent, states_of
from fretdrill.hand.weights import WEIGHT_SETS, Weights
from fretdrill.neck.neck import Neck

UNIT = 10_000
IMPOSSIBLE = 10**12

Terms = dict[str, int]
"""Name of a term → its cost."""


class Moves(NamedTuple):
    """What it costs to move the hand in one gap, by frets from -N to N, in order.

    Attributes:
        stopped: from a stopped note.
        guided: the same, on the same finger and string.
        open: from an open string.
    """

    stopped: tuple[int, ...]
    guided: tuple[int, ...]
    open: tuple[int, ...]


class Steps(NamedTuple):
    """What it costs to get from each state of one note to each of the next.

    Attributes:
        rows: by next state, then by state before.
        columns: by state before, then by next state.
    """

    rows: tuple[list[int], ...]
    columns: tuple[tuple[int, ...], ...]


class CostModel:
    """The costs for one neck, one hand and one set of weights.

    Attributes:
        neck, hand, weights: what it is made for.
        strict: whether a move that needs more time than there is counts as impossible.
        open_strings: whether open strings may be used at all.
        frets_a_second: use the move term of Hori & Sagayama instead of shift times.
    """

    def __init__(
        self,
        neck: Neck,
        hand: Hand,
        weights: Weights = WEIGHT_SETS["bass"],
        *,
        strict: bool = False,
        open_strings: bool = True,
        frets_a_second: bool = False,
    ) -> None:
        self.neck = neck
        self.hand = hand
        self.weights = weights
        self.strict = strict
        self.open_strings = open_strings
        self.frets_a_second = frets_a_second
        self._layers: dict[tuple[int, Pin], Layer] = {}
        self._specials: dict[tuple[object, ...], list[_Special]] = {}
        self._relations: dict[tuple[object, ...], int] = {}
        self._crossings: dict[tuple[object, ...], list[int]] = {}
        self._steps = lru_cache(maxsize=1024)(self._make_steps)
        self._moves = lru_cache(maxsize=1024)(self._make_moves)

    # A note by itself

    def layer(self, midi: int, pin: Pin = ANY) -> Layer:
        """Return the states of a pitch; none where the neck or the pin leaves none."""
        key = (midi, pin)
        if key not in self._layers:
            states = states_of(self.neck, self.hand, midi, pin)
            if not self.open_strings and pin.finger != 0 and pin.fret != 0:
                states = [state for state in states if state.fret]
            nodes = [sum(self.node_terms(state).values()) for state in states]
            ends = [sum(self.end_terms(state).values()) for state in states]
            self._layers[key] = Layer(key, states, nodes, ends)
        return self._layers[key]

    def node_terms(self, state: State) -> Terms:
        """Return what a state costs wherever it stands in a line."""
        weights = self.weights
        place = {"place": _parts(terms.place_cost(weights, state.anchor))}
        if state.finger == 0:
            return place | {"open string": _parts(weights.open)}
        space_mm = self.neck.span_mm(state.fret - 1, state.fret)
        return place | {
            "finger": _parts(terms.finger_cost(weights, state.finger)),
            "stretch": _parts(self.reach_cost(state)),
            "crowding": _parts(terms.crowding_cost(weights, state.finger, space_mm)),
        }

    def end_terms(self, state: State) -> Terms:
        """Return what a state costs more if no note follows."""
        high = terms.open_high_cost(self.weights, state.anchor)
        return {"open string": _parts(high) if state.finger == 0 else 0}

    def reach_cost(self, state: State) -> float:
        """Return what reaching from the anchor costs, a bent hand included."""
        bend = 0.0
        if is_bent(self.hand, state):
            bend = terms.bend_cost(self.weights, state.finger, state.fret - state.anchor)
        pair, span_mm = self.reach(state)
        if pair is None:
            return bend
        units = pair_stretch(self.hand, *pair, span_mm)
        past_mm = span_mm - self.hand.span(*pair).practical
        return bend + terms.reach_cost(self.weights, state.anchor, units, past_mm)

    def reach(self, state: State) -> tuple[tuple[int, int] | None, float]:
        """Return which fingers part for a state, None if none do, and how far in mm."""
        if state.finger == 1 and state.fret < state.anchor:  # back, while finger 2 stays
            return (1, 2), self.neck.span_mm(state.fret, state.anchor + 1)
        if state.finger < 2:
            return None, 0.0
        return (1, state.finger), self.neck.span_mm(state.fret, state.anchor)

    def pivots(self, state: State) -> bool:
        """Whether the hand turns on its thumb for a state, rather than stretch."""
        pair, span_mm = self.reach(state)
        if pair is None:
            return False
        units = pair_stretch(self.hand, *pair, span_mm)
        return terms.stretch_cost(self.weights, state.anchor, units) > self.weights.pivot

    # From a note to the next

    def step_terms(self, one: State, two: State, gap: Gap) -> Terms:
        """Return what it costs to get from one state to the next, term by term.

        :meth:`steps` gives the same sums for all pairs of states at once.
        """
        frets = two.anchor - one.anchor
        moves = self._moves(gap.timing)
        table = moves.open if one.finger == 0 else moves.stopped
        if frets and _guided(one, two):
            table = moves.guided
        return self.stay_terms(one, two, gap) | {"shift": table[frets + self.neck.frets]}

    def stay_terms(self, one: State, two: State, gap: Gap) -> Terms:
        """Return all of a step's terms but the shift; they don't depend on the tempo."""
        weights = self.weights
        frets = two.anchor - one.anchor
        stay = {"string": _parts(terms.string_cost(weights, one.string - two.string))}
        if one.finger == 0:
            if abs(frets) <= 1:  # a longer move is what the open string is for
                stay["open string"] = _parts(terms.open_high_cost(weights, one.anchor))
        elif two.finger and not frets:
            cost = terms.same_hand_cost(
                weights, one, two, fast=gap.fast, staccato=gap.staccato, joined=gap.join is not None
            )
            stay["same hand"] = _parts(cost)
        if gap.join is not None:
            broken = technique(self.neck, self.hand, one, two, gap.join) is None
            stay["slur"] = _parts(weights.broken_join if broken else self._pull(one, two))
        return stay

    def _pull(self, one: State, two: State) -> float:
        """Return what it costs to have both fingers down for a pull-off."""
        if not (two.finger and one.string == two.string and two.fret < one.fret):
            return 0.0
        if one.finger == two.finger:
            return 0.0
        span = self.neck.span_mm(one.fret, two.fret)
        return self.weights.stretch_together * pair_stretch(self.hand, two.finger, one.finger, span)

    def available_s(self, one: State, two: State, gap: Gap) -> float:
        """Return the seconds that the hand has to move between two states."""
        timing = gap.timing
        if one.finger == 0:
            return timing.open_s
        return timing.guided_s if _guided(one, two) else timing.stopped_s

    def move_cost(self, frets: int, available_s: float) -> float:
        """Return what moving the hand costs, infinite if a strict model has no time for it."""
        if self.frets_a_second:
            return terms.frets_a_second_cost(frets, available_s)
        return terms.move_cost(self.weights, self.hand, frets, available_s, strict=self.strict)

    def _make_moves(self, timing: Timing) -> Moves:
        span = range(-self.neck.frets, self.neck.frets + 1)
        stopped_s, guided_s, open_s = timing
        guide = self.weights.guide
        return Moves(
            tuple(_parts(self.move_cost(frets, stopped_s)) for frets in span),
            tuple(_parts(guide * self.move_cost(frets, guided_s)) for frets in span),
            tuple(_parts(self._open_move(frets, open_s)) for frets in span),
        )

    def _open_move(self, frets: int, available_s: float) -> float:
        return self.move_cost(frets, available_s) + terms.open_leap_cost(self.weights, frets)

    def steps(self, one: Layer, two: Layer, gap: Gap) -> Steps:
        """Return the costs of all steps from one note to the next."""
        return self._steps(one, two, gap)

    def _make_steps(self, one: Layer, two: Layer, gap: Gap) -> Steps:
        offset = self.neck.frets
        moves = self._moves(gap.timing)
        tables = (moves.stopped, moves.guided, moves.open)
        joined = gap.join is not None
        rows = []
        for state in two.states:
            stopped, opened = one.getters(state.anchor, offset)
            moved = (*stopped(moves.stopped), *opened(moves.open))
            rows.append(list(map(add, moved, self._crossing(one, state.string, joined=joined))))
        for row, column, table, frets, extra in self._special_steps(one, two, gap):
            rows[row][column] = tables[table][frets] + extra
        return Steps(tuple(rows), tuple(zip(*rows, strict=True)))

    def _crossing(self, one: Layer, string: int, *, joined: bool) -> list[int]:
        """Return what an ordinary step to a string costs besides the move, by state before."""
        key = (one.key, string, joined)
        if key not in self._crossings:
            broken = _parts(self.weights.broken_join) if joined else 0
            self._crossings[key] = [
                _parts(terms.string_cost(self.weights, string - state.string)) + broken
                for state in one.states
            ]
        return self._crossings[key]

    def _special_steps(self, one: Layer, two: Layer, gap: Gap) -> "list[_Special]":
        """Return the steps that cost otherwise than a move and the strings crossed."""
        key = (one.key, two.key, gap.join, gap.staccato, gap.fast)
        if key not in self._specials:
            self._specials[key] = list(self._find_special(one, two, gap))
        return self._specials[key]

    def _find_special(self, one: Layer, two: Layer, gap: Gap) -> "Iterator[_Special]":
        offset = self.neck.frets
        for row, after in enumerate(two.states):
            for column in one.special_to(after, joined=gap.join is not None):
                state = one.states[column]
                frets = after.anchor - state.anchor
                guided = frets != 0 and _guided(state, after)
                table = 2 if state.finger == 0 else int(guided)
                yield _Special(row, column, table, frets + offset, self._stay(state, after, gap))

    def _stay(self, one: State, two: State, gap: Gap) -> int:
        """Return the sum of :meth:`stay_terms`; equal relations are worked out once."""
        if gap.join is not None:
            return sum(self.stay_terms(one, two, gap).values())
        anchors = (one.anchor, two.anchor) if one.finger == 0 else one.anchor == two.anchor
        key = (
            one.string - two.string, one.fret - two.fret, one.finger, two.finger, anchors,
            gap.staccato, gap.fast,
        )  # fmt: skip
        found = self._relations.get(key)
        if found is None:
            found = self._relations[key] = sum(self.stay_terms(one, two, gap).values())
        return found


class _Special(NamedTuple):
    row: int
    column: int
    table: int
    frets: int
    extra: int


def _parts(cost: float) -> int:
    return round(cost * UNIT) if cost < IMPOSSIBLE / UNIT else IMPOSSIBLE


def _guided(one: State, two: State) -> bool:
    """Whether the same finger stays on its string and goes as far as the hand does."""
    along = two.fret - one.fret == two.anchor - one.anchor
    return 0 != one.finger == two.finger and one.string == two.string and along
