"""What a planner worked out: the best line, and what every other one costs.

Notes are counted from 0 here, and F and B are those of :mod:`fretdrill.hand.planner`.
"""

import math
from array import array
from collections.abc import Iterator, Sequence
from operator import add, itemgetter
from typing import NamedTuple

from fretdrill.hand.cost import IMPOSSIBLE, UNIT
from fretdrill.hand.minimax import easiest_hardest
from fretdrill.hand.problem import Path, Problem
from fretdrill.hand.ranking import Ranking
from fretdrill.hand.states import Choice, State


class Step(NamedTuple):
    """The hand at a note, and what it costs, the way there included."""

    state: State
    cost: float


class RatedChoice(NamedTuple):
    """A choice for a note and what it costs beyond the best line."""

    choice: Choice
    regret: float


class Solution:
    """The costs of every choice of every note of a line.

    Notes are counted from 0 here.
    """

    def __init__(
        self, problem: Problem, forward: "list[array[int]]", backward: "list[array[int]]"
    ) -> None:
        self.problem = problem
        self._forward = forward
        self._backward = backward
        self._best = min(map(add, forward[0], backward[0])) if forward else 0

    @property
    def cost(self) -> float:
        """What the best line costs."""
        return self._best / UNIT

    def regrets(self, index: int) -> list[RatedChoice]:
        """Return every choice for a note and what it costs beyond the best line, best first."""
        layer, totals = self.problem.layers[index], self._totals(index)
        rated = []
        for choice, members in zip(layer.choices, layer.members, strict=True):
            total = min(map(totals.__getitem__, members))
            if total < IMPOSSIBLE:
                rated.append(RatedChoice(choice, (total - self._best) / UNIT))
        rated.sort(key=itemgetter(1))
        return rated

    def _totals(self, index: int) -> list[int]:
        """Return what the cheapest line through each state of a note costs."""
        return list(map(add, self._forward[index], self._backward[index]))

    def best(self) -> Path:
        """Return the best line; see :mod:`fretdrill.hand.planner` for how ties are broken."""
        layers = self.problem.layers
        if not layers:
            return Path((), ())
        hardest: list[dict[int, int]] = []
        for index in range(len(layers)):
            hardest.append(self._hardest_steps(index, hardest[-1] if hardest else {}))
        limit = min(hardest[-1].values())
        state = min(i for i, worst in hardest[-1].items() if worst <= limit)
        path = [state]
        for index in range(len(layers) - 1, 0, -1):
            row, earlier = self.problem.steps(index - 1).rows[state], self._forward[index - 1]
            node = layers[index].nodes[state]
            hard = self.problem.nodes(index)[state]
            state = min(
                i
                for i, worst in hardest[index - 1].items()
                if max(worst, row[i] + hard) <= limit
                and earlier[i] + row[i] + node == self._forward[index][state]
            )
            path.append(state)
        return self.problem.path(path[::-1])

    def _hardest_steps(self, index: int, before: dict[int, int]) -> dict[int, int]:
        """Return the states of a note on a cheapest line → its hardest step so far, least."""
        forward = self._forward[index]
        nodes = self.problem.nodes(index)
        on_best = [i for i, total in enumerate(self._totals(index)) if total == self._best]
        if not index:
            return {state: nodes[state] for state in on_best}
        rows, earlier = self.problem.steps(index - 1).rows, self._forward[index - 1]
        hardest = {}
        for state in on_best:
            came = forward[state] - self.problem.layers[index].nodes[state]
            hardest[state] = min(
                max(worst, rows[state][i] + nodes[state])
                for i, worst in before.items()
                if earlier[i] + rows[state][i] == came
            )
        return hardest

    def through(self, index: int, choice: Choice) -> Path:
        """Return the cheapest line through a choice for one note.

        Raises:
            ValueError: it is none of the note's choices.
        """
        members = self.problem.layers[index].members_of(choice)
        totals = self._totals(index)
        return self.problem.path(self._indexes_through(index, min(members, key=totals.__getitem__)))

    def onward(self, index: int, choices: Sequence[Choice], before: State | None) -> Iterator[Step]:
        """Yield the cheapest way on through choices for a note and those after it.

        Args:
            index: the first of these notes, from 0.
            choices: one of each note's choices, from that note on.
            before: the hand at the note before, None at the first note.

        Raises:
            ValueError: one of them is none of its note's choices.
        """
        layers = self.problem.layers
        _, path = self._through_choices(index, choices, self._coming(index, before))
        for state, cost in path:
            yield Step(layers[index].states[state], cost / UNIT)
            index += 1
        for later in range(index, len(layers)):
            column = self.problem.steps(later - 1).columns[state]
            costs = list(map(add, self.problem.nodes(later), column))
            last = later == len(layers) - 1
            onward = [0] * len(costs) if last else self._backward[later]
            state = _least(list(map(add, costs, onward)))
            yield Step(layers[later].states[state], costs[state] / UNIT)

    def continued(self, index: int, choices: Sequence[Choice], before: State | None) -> float:
        """Return what the cheapest way on costs, see :meth:`onward`; inf if there is none."""
        total, _ = self._through_choices(index, choices, self._coming(index, before))
        return total / UNIT if total < IMPOSSIBLE else math.inf

    def _coming(self, index: int, before: State | None) -> list[int] | None:
        """Return what coming to each state of a note costs, None if nothing."""
        if before is None:
            return None
        state = self.problem.layers[index - 1].states.index(before)
        return list(self.problem.steps(index - 1).columns[state])

    def _through_choices(
        self, index: int, choices: Sequence[Choice], came: list[int] | None
    ) -> tuple[int, list[tuple[int, int]]]:
        """Return what the line costs from some choices on, and their states and costs.

        Args:
            index: the first note, from 0.
            choices: one a note.
            came: what coming to each state of the first note costs, None if nothing.
        """
        reached: list[dict[int, tuple[int, int, int]]] = []  # state → total, own cost, state before
        for at, choice in enumerate(choices, start=index):
            nodes = self.problem.nodes(at)
            here = {}
            for state in self.problem.layers[at].members_of(choice):
                if reached:
                    row = self.problem.steps(at - 1).rows[state]
                    total, earlier = min((t + row[i], i) for i, (t, _, _) in reached[-1].items())
                    own = row[earlier] + nodes[state]
                    here[state] = (total + nodes[state], own, earlier)
                else:
                    own = nodes[state] + (came[state] if came is not None else 0)
                    here[state] = (own, own, -1)
            reached.append(here)
        at = index + len(choices) - 1
        last = at == len(self.problem.layers) - 1  # there the cost of ending is in the nodes
        onward = [0] * len(self.problem.layers[at].states) if last else self._backward[at]
        state = min(reached[-1], key=lambda i: reached[-1][i][0] + onward[i])
        total = reached[-1][state][0] + onward[state]
        path = []
        for here in reversed(reached):
            _, own, earlier = here[state]
            path.append((state, own))
            state = earlier
        return total, path[::-1]

    def by_position(self) -> dict[int, float]:
        """Return position of the hand at the first note → cost of the best line from there."""
        if not self.problem.layers:
            return {}
        costs: dict[int, int] = {}
        for state, total in zip(self.problem.layers[0].states, self._totals(0), strict=True):
            costs[state.anchor] = min(total, costs.get(state.anchor, total))
        return {
            anchor: costs[anchor] / UNIT for anchor in sorted(costs) if costs[anchor] < IMPOSSIBLE
        }

    def from_position(self, position: int) -> Path:
        """Return the best line that begins in a position of :meth:`by_position`."""
        states = self.problem.layers[0].states
        there = [i for i, state in enumerate(states) if state.anchor == position]
        totals = self._totals(0)
        return self.problem.path(self._indexes_through(0, min(there, key=totals.__getitem__)))

    def best_paths(self, count: int) -> list[Path]:
        """Return the cheapest lines that differ in what a player sees, best first."""
        return Ranking(self.problem, self._backward).best(count)

    def easiest_hardest(self) -> Path:
        """Return the line whose hardest note is easiest, see :mod:`fretdrill.hand.minimax`."""
        return easiest_hardest(self.problem)

    def _indexes_through(self, index: int, state: int) -> list[int]:
        """Return the cheapest path of state indexes through a state."""
        path = [state]
        for earlier in range(index - 1, -1, -1):
            row = self.problem.steps(earlier).rows[path[-1]]
            path.append(_least(list(map(add, self._forward[earlier], row))))
        path.reverse()
        for later in range(index + 1, len(self.problem.layers)):
            column = self.problem.steps(later - 1).columns[path[-1]]
            onward = map(add, self.problem.layers[later].nodes, self._backward[later])
            path.append(_least(list(map(add, onward, column))))
        return path


def _least(values: list[int]) -> int:
    return values.index(min(values))
