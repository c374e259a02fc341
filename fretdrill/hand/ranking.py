"""The cheapest lines, one after another.

Idea: best-first search over lines begun, each as a player sees it, with the exact cost of the
best way on from the planner's backward pass: no beginning is looked at that is not that of one
of the lines found, or costs the same.
"""

from array import array
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from fretdrill.hand.cost import IMPOSSIBLE
from fretdrill.hand.problem import Path, Problem


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


class Ranking:
    """Ranks the ways to play a line.

    Attributes:
        problem: the line.
    """

    def __init__(self, problem: Problem, backward: "Sequence[array[int]]") -> None:
        """Take a line and what the cheapest way on from each state costs."""
        self.problem = problem
        self._backward = backward

    def best(self, count: int) -> list[Path]:
        """Return the cheapest lines that differ in what a player sees, best first."""
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

    def _begun(self) -> Iterator[tuple[int, int, int, _Begun]]:
        layer = self.problem.layers[0]
        for serial, members in enumerate(layer.members):
            costs = {state: layer.nodes[state] for state in members}
            yield self._estimate(0, costs), 0, serial, _Begun(0, costs, None)

    def _continued(self, begun: _Begun) -> Iterator[tuple[int, _Begun]]:
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

    def _cheapest_of(self, begun: _Begun) -> list[int]:
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
