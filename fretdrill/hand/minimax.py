"""The line whose hardest note is easiest.

Idea: first the least hardest cost that any line has (the bottleneck), then the cheapest line
whose every note keeps within it. The form goes back to Hori & Sagayama (ISMIR 2016,
second-hand); costs have no part that every path shares, so slow notes do not look hard.
"""

from fretdrill.hand.cost import IMPOSSIBLE
from fretdrill.hand.problem import Path, Problem


def easiest_hardest(problem: Problem) -> Path:
    """Return the line whose hardest note is easiest; of several the cheapest."""
    if not problem.layers:
        return Path((), ())
    limit = _bottleneck(problem)
    costs = [cost if cost <= limit else IMPOSSIBLE for cost in problem.nodes(0)]
    kept = [costs]
    for index in range(1, len(problem.layers)):
        rows = problem.steps(index - 1).rows
        costs = [
            min(
                cost + step + node if step + node <= limit else IMPOSSIBLE
                for cost, step in zip(costs, row, strict=True)
            )
            for node, row in zip(problem.nodes(index), rows, strict=True)
        ]
        kept.append(costs)
    return problem.path(_traced(problem, limit, kept))


def _bottleneck(problem: Problem) -> int:
    """Return the least hardest cost of a note that any line has."""
    worst = problem.nodes(0)
    for index in range(1, len(problem.layers)):
        rows = problem.steps(index - 1).rows
        worst = [
            min(max(before, step + node) for before, step in zip(worst, row, strict=True))
            for node, row in zip(problem.nodes(index), rows, strict=True)
        ]
    return min(worst)


def _traced(problem: Problem, limit: int, kept: list[list[int]]) -> list[int]:
    """Return the states of the cheapest line within the limit, from its costs so far."""
    path = [kept[-1].index(min(kept[-1]))]
    for index in range(len(kept) - 1, 0, -1):
        state, before = path[-1], kept[index - 1]
        node, row = problem.nodes(index)[state], problem.steps(index - 1).rows[state]
        within = (i for i, step in enumerate(row) if step + node <= limit)
        path.append(min((before[i] + row[i], i) for i in within)[1])
    return path[::-1]
