"""A line as the planner sees it, and a way to play it. Notes are counted from 0."""

from collections.abc import Sequence
from dataclasses import dataclass
from operator import add

from fretdrill.hand.cost import UNIT, CostModel, Steps
from fretdrill.hand.gap import Gap
from fretdrill.hand.layer import Layer
from fretdrill.hand.states import Choice, State


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

    def nodes(self, index: int) -> list[int]:
        """Return what each state of a note costs, at the last note with what ending there costs."""
        layer = self.layers[index]
        last = index == len(self.layers) - 1
        return list(map(add, layer.nodes, layer.ends)) if last else layer.nodes

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

    def path(self, indexes: Sequence[int]) -> Path:
        """Return the way to play that takes these states, by their indexes."""
        states = tuple(layer.states[i] for layer, i in zip(self.layers, indexes, strict=True))
        return Path(states, tuple(cost / UNIT for cost in self.step_costs(indexes)))

    def terms(self, path: Path, index: int) -> dict[str, float]:
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
