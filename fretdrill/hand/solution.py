"""What a planner worked out: the best line, and what every other one costs.

Notes are counted from 0 here, and F and B are those of :mod:`fretdrill.hand.planner`.
"""

from array import array
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from operator import add, itemgetter
from typing import NamedTuple

from fretdrill.hand.cost import IMPOSSIBLE, UNIT, CostModel, Gap, Layer, Steps
from fretdrill.hand.states import Choice, State


class Step(NamedTuple):
    """The hand at a note, and what it costs, the way there included."""

    state: State
    cost: float


class RatedChoice(NamedTuple):
    """A choice for a note and what it costs beyond the best line."""

    choice: Choice
    regret: float


class Problem:
    """A line as the planner sees it: layers of states and the gaps between.

    Attributes:
        model: the costs.
        layers: one a note.
        gaps: one between each two notes.
    """

    def __init__(self, model: CostModel, layers: Sequence[Layer], gaps: Sequence[Gap]) -> None:
        self.model = model
        self.layers = layers
        self.gaps = gaps

    def steps(self, index: int) -> Steps:
        """Return the costs of the steps from a note, from 0, to the next."""
        return self.model.steps(self.layers[index], self.layers[index + 1], self.gaps[index])

    def step_costs(self, path: Sequence[int]) -> list[int]:
        """Return what each note of a path of state indexes costs, the way there included."""
        costs = []
        for index, state in enumerate(path):
            cost = self.layers[index].nodes[state]
            if index:
                cost += self.steps(index - 1).rows[state][path[index - 1]]
            costs.append(cost)
        if costs:
            costs[-1] += self.layers[-1].ends[path[-1]]
        return costs

    def path(self, indexes: Sequence[int]) -> "Path":
        """Return the way to play that takes these states, by their indexes."""
        states = tuple(layer.states[i] for layer, i in zip(self.layers, indexes, strict=True))
        return Path(states, tuple(cost / UNIT for cost in self.step_costs(indexes)))

    def terms(self, path: "Path", index: int) -> dict[str, float]:
        """Return what a note of a path costs, term by term; terms of 0 are left out."""
        before = path.states[index - 1] if index else None
        return self.note_terms(index, before, path.states[index])

    def note_terms(self, index: int, before: State | None, state: State) -> dict[str, float]:
        """Return what a note costs, term by term; terms of 0 are left out.

        Args:
            index: the note, from 0.
            before: the hand at the note before, None at the first note.
            state: the hand at the note.
        """
        parts = [self.model.node_terms(state)]
        if before is not None:
            parts.append(self.model.step_terms(before, state, self.gaps[index - 1]))
        if index == len(self.layers) - 1:
            parts.append(self.model.end_terms(state))
        terms: dict[str, int] = {}
        for name, cost in (item for part in parts for item in part.items()):
            terms[name] = terms.get(name, 0) + cost
        return {name: cost / UNIT for name, cost in terms.items() if cost}


@dataclass(frozen=True)
class Path:
    """One way to play a line.

    Attributes:
        states: one a note.
        costs: what each note costs, the way there included.
    """

    states: tuple[State, ...]
    costs: tuple[float, ...]

    @property
    def cost(self) -> float:
        """What the whole line costs."""
        return round(sum(self.costs) * UNIT) / UNIT

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What a player sees of it."""
        return tuple(state.choice for state in self.states)


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
            node, last = layers[index].nodes[state], index == len(layers) - 1
            hard = self._nodes(index, last=last)[state]
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
        nodes = self._nodes(index, last=index == len(self.problem.layers) - 1)
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
            InputError: it is none of the note's choices.
        """
        layer = self.problem.layers[index]
        members = layer.members[layer.choices.index(choice)]
        totals = self._totals(index)
        return self.problem.path(self._indexes_through(index, min(members, key=totals.__getitem__)))

    def onward(self, index: int, choice: Choice, before: State | None) -> Iterator[Step]:
        """Yield the cheapest way on through a choice for one note, from that note.

        Args:
            index: the note, from 0.
            choice: one of its choices.
            before: the hand at the note before, None at the first note.
        """
        layers = self.problem.layers
        layer, backward = layers[index], self._backward[index]
        costs = layer.nodes
        if before is not None:
            column = self.problem.steps(index - 1).columns[layers[index - 1].states.index(before)]
            costs = list(map(add, costs, column))
        members = layer.members[layer.choices.index(choice)]
        state = min(members, key=lambda i: costs[i] + backward[i])
        yield Step(layer.states[state], costs[state] / UNIT)
        for later in range(index + 1, len(layers)):
            column = self.problem.steps(later - 1).columns[state]
            costs = list(map(add, self._nodes(later, last=later == len(layers) - 1), column))
            onward = self._backward[later] if later < len(layers) - 1 else [0] * len(costs)
            state = _least(list(map(add, costs, onward)))
            yield Step(layers[later].states[state], costs[state] / UNIT)

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
        """Return the cheapest lines that differ in what a player sees, best first.

        Best-first search over lines begun, with the exact cost of the best way on: no
        beginning is looked at that is not that of one of the lines returned.
        """
        if not self.problem.layers:
            return []
        found: list[Path] = []
        # Of equal estimates the longest beginning comes first, so that ties end.
        queue = list(self._begun())
        serial = len(queue)
        heapify(queue)
        while queue and len(found) < count:
            total, _, _, begun = heappop(queue)
            if total >= IMPOSSIBLE:
                break
            if begun.index == len(self.problem.layers) - 1:
                found.append(self.problem.path(self._cheapest_of(begun)))
                continue
            for estimate, following in self._continued(begun):
                serial += 1
                heappush(queue, (estimate, -following.index, serial, following))
        return found

    def _begun(self) -> "Iterator[tuple[int, int, int, _Begun]]":
        layer = self.problem.layers[0]
        for serial, members in enumerate(layer.members):
            costs = {state: layer.nodes[state] for state in members}
            yield self._estimate(0, costs), 0, serial, _Begun(0, costs, None)

    def _continued(self, begun: "_Begun") -> "Iterator[tuple[int, _Begun]]":
        index = begun.index + 1
        layer, rows = self.problem.layers[index], self.problem.steps(begun.index).rows
        for members in layer.members:
            costs = {
                state: layer.nodes[state]
                + min(cost + rows[state][before] for before, cost in begun.costs.items())
                for state in members
            }
            yield self._estimate(index, costs), _Begun(index, costs, begun)

    def _estimate(self, index: int, costs: Mapping[int, int]) -> int:
        onward = self._backward[index]
        return min(cost + onward[state] for state, cost in costs.items())

    def _cheapest_of(self, begun: "_Begun") -> list[int]:
        """Return the cheapest states behind what a player sees of a whole line."""
        ends = self.problem.layers[-1].ends
        state = min(begun.costs, key=lambda i: begun.costs[i] + ends[i])
        path, here = [state], begun
        while here.before is not None:
            row = self.problem.steps(here.before.index).rows[state]
            costs = here.before.costs
            state = min(costs, key=lambda i: costs[i] + row[i])
            path.append(state)
            here = here.before
        return path[::-1]

    def easiest_hardest(self) -> Path:
        """Return the line whose hardest note is easiest; of several the cheapest.

        First the least hardest cost that any line has, then the cheapest line whose
        every note keeps within it.
        """
        if not self.problem.layers:
            return Path((), ())
        limit = min(self._bottlenecks())
        costs = [c if c <= limit else IMPOSSIBLE for c in self._first_costs()]
        kept = [costs]
        for index in range(1, len(self.problem.layers)):
            last = index == len(self.problem.layers) - 1
            costs = [
                min(
                    cost + step + node if step + node <= limit else IMPOSSIBLE
                    for cost, step in zip(costs, row, strict=True)
                )
                for node, row in zip(
                    self._nodes(index, last=last), self.problem.steps(index - 1).rows, strict=True
                )
            ]
            kept.append(costs)
        return self.problem.path(self._within(limit, kept))

    def _first_costs(self) -> list[int]:
        return self._nodes(0, last=len(self.problem.layers) == 1)

    def _nodes(self, index: int, *, last: bool) -> list[int]:
        layer = self.problem.layers[index]
        return list(map(add, layer.nodes, layer.ends)) if last else layer.nodes

    def _bottlenecks(self) -> list[int]:
        """Return the least hardest cost on the way to each state of the last note."""
        worst = self._first_costs()
        for index in range(1, len(self.problem.layers)):
            nodes = self._nodes(index, last=index == len(self.problem.layers) - 1)
            worst = [
                min(max(before, step + node) for before, step in zip(worst, row, strict=True))
                for node, row in zip(nodes, self.problem.steps(index - 1).rows, strict=True)
            ]
        return worst

    def _within(self, limit: int, kept: list[list[int]]) -> list[int]:
        state = min(range(len(kept[-1])), key=kept[-1].__getitem__)
        path = [state]
        for index in range(len(kept) - 1, 0, -1):
            last = index == len(kept) - 1
            node = self._nodes(index, last=last)[state]
            row, before = self.problem.steps(index - 1).rows[state], kept[index - 1]
            state = min(
                (i for i in range(len(row)) if row[i] + node <= limit),
                key=lambda i: before[i] + row[i],
            )
            path.append(state)
        return path[::-1]

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


@dataclass(frozen=True, slots=True)
class _Begun:
    """A line up to a note, as a player sees it.

    Attributes:
        index: the note.
        costs: state of that note → cheapest way there that looks so.
        before: the line up to the note before.
    """

    index: int
    costs: dict[int, int]
    before: "_Begun | None"


def _least(values: list[int]) -> int:
    return values.index(min(values))
