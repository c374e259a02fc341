"""The exact planner: the cheapest path of hand states through a line.

Idea: every note is a layer of states (:mod:`fretdrill.hand.states`), every step from
a state to one of the next note has a cost. With n(t) the cost of a state and
c(s, t) that of a step,

    F(t) = n(t) + min over s of (F(s) + c(s, t))       cheapest way to come to t
    B(s) = min over t of (c(s, t) + n(t) + B(t))       cheapest way on from s

and F + B is the cheapest whole line through a state, so one pass each way gives the
best line and what every other choice costs beyond it, its regret. All sums are of
whole numbers: equal is equal.

Ties are broken so: of all cheapest lines the one whose hardest step is easiest;
then, from the last note back, the lower anchor, the lower finger, the higher string.
"""

from array import array
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from operator import add
from typing import Protocol

from fretdrill.hand.cost import IMPOSSIBLE, CostModel
from fretdrill.hand.failure import (
    Cause,
    ImpossiblePin,
    NoFingering,
    NoOpenString,
    NoTime,
    OutOfRange,
)
from fretdrill.hand.gap import gap_between
from fretdrill.hand.hand import Hand
from fretdrill.hand.layer import Layer
from fretdrill.hand.problem import Problem
from fretdrill.hand.solution import Solution
from fretdrill.hand.states import ANY, BENT_FRAMES, Pin, states_of
from fretdrill.neck.neck import Neck
from fretdrill.theory.key import Key
from fretdrill.theory.line import Line

_SPELLER = Key.parse("C major")


class Observer(Protocol):
    """What may watch a plan being worked out, and stop it by raising."""

    def planned(self, done: int, of: int) -> None:
        """Tell that some of all passes over notes are done."""


class Planner:
    """Plans lines under one cost model."""

    def __init__(self, model: CostModel, observer: Observer | None = None) -> None:
        self.model = model
        self._observer = observer

    def solve(
        self, line: Line, pins: Mapping[int, Pin] | None = None, position: int | None = None
    ) -> "Solution":
        """Work out the costs of every choice of every note.

        Args:
            line: what is played; its written fingers do not count.
            pins: index of a note, from 0 → what is settled about it.
            position: where the hand is to stand at the first note.

        Raises:
            NoFingering: there is none, and why.
        """
        settled = dict(pins or {})
        if position is not None and line.notes:
            settled[0] = replace(settled.get(0, ANY), position=position)
        layers = self._layers(line, settled)
        gaps = [gap_between(line, note, after) for note, after in pairwise(line.notes)]
        problem = Problem(self.model, layers, gaps)
        return Solution(problem, *self._passes(problem))

    def _layers(self, line: Line, pins: Mapping[int, Pin]) -> list[Layer]:
        layers, causes = [], []
        for index, note in enumerate(line.notes):
            layer = self.model.layer(note.pitch.midi, pins.get(index, ANY))
            layers.append(layer)
            if not layer.states:
                name = note.pitch.text(ascii_only=True)
                causes.append(_cause(self.model, index, note.pitch.midi, name, pins.get(index)))
        if causes:
            raise NoFingering(causes)
        return layers

    def _passes(self, problem: "Problem") -> "tuple[list[array[int]], list[array[int]]]":
        """Return F and B, one array a note."""
        layers, total = problem.layers, 2 * len(problem.layers)
        if not layers:
            return [], []
        costs = layers[0].nodes
        forward = [array("q", costs)]
        for index in range(1, len(layers)):
            rows = problem.steps(index - 1).rows
            costs = [
                node + min(map(add, costs, row))
                for node, row in zip(layers[index].nodes, rows, strict=True)
            ]
            forward.append(array("q", costs))
            self._tell(index, total)
        costs = layers[-1].ends
        backward = [array("q", costs)]
        for index in range(len(layers) - 2, -1, -1):
            onward = list(map(add, costs, layers[index + 1].nodes))
            costs = [min(map(add, onward, column)) for column in problem.steps(index).columns]
            backward.append(array("q", costs))
            self._tell(total - index, total)
        backward.reverse()
        if min(map(add, forward[-1], backward[-1])) >= IMPOSSIBLE:
            raise NoFingering([_no_time(problem, forward)])
        return forward, backward

    def _tell(self, done: int, of: int) -> None:
        if self._observer is not None and done % 256 == 0:
            self._observer.planned(done, of)


def _no_time(problem: Problem, forward: "Sequence[array[int]]") -> NoTime:
    index = next(i for i, costs in enumerate(forward) if min(costs) >= IMPOSSIBLE)
    return NoTime(index, problem.gaps[index - 1].ioi_s)


def _cause(model: CostModel, index: int, midi: int, name: str, pin: Pin | None) -> Cause:
    """Say why a note has no state at all."""
    neck = model.neck
    if not neck.places_of(midi):
        strings = sorted(pitch.midi for pitch in neck.tuning.strings)
        lowest = _SPELLER.spell(strings[0]).text(ascii_only=True)
        highest = _SPELLER.spell(strings[-1] + neck.frets).text(ascii_only=True)
        return OutOfRange(index + 1, name, lowest, highest)
    if pin is None or (not model.open_strings and states_of(neck, model.hand, midi, pin)):
        return NoOpenString(index + 1, name)
    return ImpossiblePin(index + 1, name, pin, _limit(neck, model.hand, midi, pin))


def _limit(neck: Neck, hand: Hand, midi: int, pin: Pin) -> str:
    """Say which limit a pin breaks."""
    if pin.finger is not None and pin.finger not in (0, *BENT_FRAMES):
        return "fingers are 1 to 4, or 0 for an open string"
    anywhere = states_of(neck, hand, midi, replace(pin, position=None))
    if anywhere:
        reached = _ranges(sorted({state.anchor for state in anywhere}))
        no = f"finger {pin.finger} does not reach" if pin.finger else "no finger reaches"
        return f"{no} it with the hand in position {pin.position}, only from {reached}"
    places = neck.places_of(midi)
    there = [
        place
        for place in places
        if pin.string in (None, place.string) and pin.fret in (None, place.fret)
    ]
    if not there:
        known = ", ".join(map(str, places))
        asked = "/".join("*" if part is None else str(part) for part in (pin.string, pin.fret))
        return f"it is not at {asked} (string/fret) but at {known}"
    if pin.finger == 0:
        return "it is no open string there, so it needs a finger"
    if all(place.fret == 0 for place in there):
        return "an open string needs no finger: 0"
    return f"finger {pin.finger} does not get there"


def _ranges(numbers: Sequence[int]) -> str:
    """Write rising numbers as ranges: ``"1 to 4, 7"``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
