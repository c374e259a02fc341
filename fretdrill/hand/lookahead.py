"""What a player does who sees only a few notes ahead.

Idea: standing at a note, the player takes the choice that is cheapest for this note and the
next h, and knows nothing of the rest; then goes on from there. With h = 0 only the note itself
counts. What that costs by the end, beside the best line, is the worth of looking further.
"""

from collections.abc import Collection
from operator import add

from fretdrill.hand.problem import Path, Problem


def look_ahead(problem: Problem, depth: int) -> Path:
    """Return the line as played by someone who sees ``depth`` notes ahead.

    Ties go to the state that comes first, see :func:`fretdrill.hand.states.states_of`.
    """
    path: list[int] = []
    for index in range(len(problem.layers)):
        path.append(next_state(problem, index, path[-1] if path else None, depth))
    return problem.path(path)


def next_state(
    problem: Problem,
    index: int,
    before: int | None,
    depth: int,
    among: Collection[int] | None = None,
) -> int:
    """Return the index of the state that such a player takes for a note.

    Args:
        problem: the line.
        index: the note, from 0.
        before: index of the state at the note before; None if the hand is free.
        depth: how many notes after it are seen.
        among: the states that such a player thinks of, by index; None for all.
    """
    costs = list(map(add, problem.layers[index].nodes, _seen_costs(problem, index, depth)))
    if index and before is not None:
        costs = list(map(add, costs, problem.steps(index - 1).columns[before]))
    if among is not None:
        return min(among, key=costs.__getitem__)
    return costs.index(min(costs))


def _seen_costs(problem: Problem, index: int, depth: int) -> list[int]:
    """Return what going on from each state of a note costs as far as is seen."""
    last = min(index + depth, len(problem.layers) - 1)
    ends = last == len(problem.layers) - 1
    costs = problem.layers[last].ends if ends else [0] * len(problem.layers[last].states)
    for later in range(last, index, -1):
        onward = list(map(add, costs, problem.layers[later].nodes))
        costs = [min(map(add, onward, column)) for column in problem.steps(later - 1).columns]
    return costs
