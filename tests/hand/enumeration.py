"""Every way to play a short line, by counting them all.

This knows the terms of the cost model and nothing of how the planner adds them up.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise, product
from typing import NamedTuple

from hypothesis import strategies as st

from fretdrill.hand.cost import UNIT, CostModel
from fretdrill.hand.gap import gap_between
from fretdrill.hand.states import ANY, Choice, Pin, State
from fretdrill.hand.weights import Weights
from fretdrill.theory.line import Line
from tests.strategies import hands, lines, small_necks

MOST_WAYS = 3000
LEVEL = Weights(
    stretch=1.0, stretch_near_nut=0.0, stretch_together=1.0, crowded=0.0, bent=1.0, pivot=0.0,
    pivot_far=0.0, creep=1.0, shift=1.0, shift_time=0.0, shift_fret=0.0, no_time=1.0, guide=1.0,
    string=1.0, roll=1.0, hop=1.0, too_fast=0.0, swap=1.0, order=1.0, slant=0.0, finger_1=0.0,
    finger_2=0.0, finger_3=0.0, finger_4=0.0, place=0.0, open=0.0, open_high=0.0, open_leap=1.0,
    broken_join=1.0,
)  # fmt: skip
"""Weights under which a great many ways cost the same."""


class Way(NamedTuple):
    """One way to play a line.

    Attributes:
        costs: what each note costs in whole parts, the way there included.
        indexes: which state of each note.
        states: the states themselves.
    """

    costs: tuple[int, ...]
    indexes: tuple[int, ...]
    states: tuple[State, ...]

    @property
    def total(self) -> int:
        return sum(self.costs)

    @property
    def choices(self) -> tuple[Choice, ...]:
        return tuple(state.choice for state in self.states)


class Case:
    """A model, a line and what is settled about it."""

    def __init__(self, model: CostModel, line: Line, pins: Mapping[int, Pin]) -> None:
        self.model = model
        self.line = line
        self.pins = pins

    @property
    def layers(self) -> list[list[State]]:
        return [
            self.model.layer(note.pitch.midi, self.pins.get(index, ANY)).states
            for index, note in enumerate(self.line.notes)
        ]

    def __repr__(self) -> str:
        """Write it so that a failure can be typed in again."""
        model = self.model
        notes = [
            (str(n.onset), str(n.duration), str(n.pitch), sorted(a.value for a in n.articulations),
             n.join and n.join.value)
            for n in self.line.notes
        ]  # fmt: skip
        return (
            f"{model.neck}, {model.hand}, strict={model.strict}, open={model.open_strings}, "
            f"frets_a_second={model.frets_a_second}, "
            f"{model.weights}, "
            f"{self.line.tempos}, {notes}, {dict(self.pins)}"
        )


def node_cost(model: CostModel, state: State, *, last: bool) -> int:
    """Return what a state costs by itself."""
    ends = sum(model.end_terms(state).values()) if last else 0
    return sum(model.node_terms(state).values()) + ends


def step_tables(case: Case) -> list[list[list[int]]]:
    """Return gap by gap, by state before and by next state, what the step costs."""
    gaps = [gap_between(case.line, one, two) for one, two in pairwise(case.line.notes)]
    return [
        [[sum(case.model.step_terms(s, t, gap).values()) for t in after] for s in before]
        for (before, after), gap in zip(pairwise(case.layers), gaps, strict=True)
    ]


def ways(case: Case) -> Iterator[Way]:
    """Count all ways up."""
    layers, steps = case.layers, step_tables(case)
    last = len(layers) - 1
    nodes = [
        [node_cost(case.model, state, last=index == last) for state in states]
        for index, states in enumerate(layers)
    ]
    for indexes in product(*(range(len(states)) for states in layers)):
        costs = [nodes[0][indexes[0]]] if layers else []
        for index in range(1, len(layers)):
            s, t = indexes[index - 1], indexes[index]
            costs.append(steps[index - 1][s][t] + nodes[index][t])
        states = tuple(map(list.__getitem__, layers, indexes))
        yield Way(tuple(costs), indexes, states)


def cost_of(case: Case, states: tuple[State, ...]) -> int:
    """Return what one way costs in whole parts."""
    model, last = case.model, len(states) - 1
    total = sum(node_cost(model, state, last=i == last) for i, state in enumerate(states))
    for (one, two), (note, after) in zip(pairwise(states), pairwise(case.line.notes), strict=True):
        total += sum(model.step_terms(one, two, gap_between(case.line, note, after)).values())
    return total


def parts(cost: float) -> int:
    """Return a cost in whole parts."""
    whole = round(cost * UNIT)
    assert math.isclose(whole, cost * UNIT, abs_tol=1e-4)
    return whole


@st.composite
def coarse_weights(draw: st.DrawFn) -> Weights:
    """Weights of small whole numbers, so that much costs the same in different ways."""
    names = ("finger_1", "finger_2", "finger_3", "finger_4", "open", "open_high", "creep", "shift",
             "slant", "string", "roll", "hop", "swap", "order", "pivot")  # fmt: skip
    return replace(LEVEL, **{name: float(draw(st.integers(0, 3))) for name in names})


@st.composite
def models(draw: st.DrawFn, *, strict: bool = False) -> CostModel:
    """Cost models of small necks, with every switch in both ways."""
    return CostModel(
        draw(small_necks()),
        draw(hands()),
        draw(st.just(Weights()) | st.just(LEVEL) | coarse_weights()),
        strict=strict,
        open_strings=draw(st.booleans()),
        frets_a_second=draw(st.booleans()) if not strict else False,
    )


@st.composite
def pins_for(draw: st.DrawFn, states: list[State], *, fingers: bool, least: int = 0) -> Pin:
    """Pins that leave a note at least one of its states.

    Args:
        draw: Hypothesis's.
        states: those of the note.
        fingers: whether fingers may be settled too, which adds bent hands.
        least: how many things are settled at least.
    """
    state = draw(st.sampled_from(states))
    fields = ["string", "position", "fret", *(["finger"] if fingers else [])]
    settled = draw(st.sets(st.sampled_from(fields), min_size=least, max_size=2))
    values = state._asdict() | {"position": state.anchor}
    return Pin(**{name: values[name] for name in settled})


@st.composite
def cases(
    draw: st.DrawFn,
    min_notes: int = 0,
    max_notes: int = 6,
    *,
    strict: bool = False,
    fingers: bool = True,
    most_ways: int = MOST_WAYS,
) -> Case:
    """Lines with so much settled that all ways can be counted."""
    model = draw(models(strict=strict))
    lowest = 0 if model.open_strings else 1
    line = draw(lines(model.neck, min_notes, max_notes, lowest))
    pins: dict[int, Pin] = {}
    for index, note in enumerate(line.notes):
        if draw(st.integers(0, 3)) == 0:
            states = model.layer(note.pitch.midi).states
            pins[index] = draw(pins_for(states, fingers=fingers, least=1))
    case = Case(model, line, pins)
    while math.prod(map(len, case.layers)) > most_ways:
        longest = max(range(len(line.notes)), key=lambda i: len(case.layers[i]))
        state = draw(st.sampled_from(case.layers[longest]))
        old = pins.get(longest, ANY)
        if old.position is None:
            pins[longest] = Pin(old.finger, old.string, old.fret, state.anchor)
        else:
            pins[longest] = Pin(old.finger, state.string, state.fret, old.position)
    return case
