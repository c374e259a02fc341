"""All the states that one note can have, arranged for looking up."""

from collections.abc import Callable, Sequence
from operator import itemgetter

from fretdrill.hand.states import Choice, Pin, State

_Getter = Callable[[Sequence[int]], tuple[int, ...]]


def _getter(indexes: list[int]) -> _Getter:
    if not indexes:
        return lambda table: ()
    if len(indexes) == 1:
        return lambda table: (table[indexes[0]],)
    return itemgetter(*indexes)


class Layer:
    """All states that one note can have, and what each costs by itself.

    Attributes:
        key: pitch and pin.
        states: in the order of :func:`fretdrill.hand.states.states_of`.
        nodes: what each state costs.
        ends: what each state costs more if the line ends there.
        choices: what a player sees of the states, each once.
        members: choice by choice, the indexes of its states.
    """

    def __init__(
        self, key: tuple[int, Pin], states: list[State], nodes: list[int], ends: list[int]
    ) -> None:
        self.key = key
        self.states = states
        self.nodes = nodes
        self.ends = ends
        members: dict[Choice, list[int]] = {}
        for index, state in enumerate(states):
            members.setdefault(state.choice, []).append(index)
        self.choices = tuple(members)
        self.members = tuple(map(tuple, members.values()))
        self.stopped = sum(state.fret > 0 for state in states)
        self._getters: dict[int, tuple[_Getter, _Getter]] = {}
        self._by_anchor: dict[int, list[int]] = {}
        self._by_finger: dict[tuple[int, int], list[int]] = {}
        self._by_string: dict[int, list[int]] = {}
        for index, state in enumerate(states):
            if state.fret:
                self._by_anchor.setdefault(state.anchor, []).append(index)
                self._by_finger.setdefault((state.string, state.finger), []).append(index)
            self._by_string.setdefault(state.string, []).append(index)

    def members_of(self, choice: Choice) -> tuple[int, ...]:
        """Return the indexes of the states that a choice can be.

        Raises:
            ValueError: it is none of this note's choices.
        """
        return self.members[self.choices.index(choice)]

    def special_to(self, after: State, *, joined: bool) -> set[int]:
        """Return the states from which a step costs otherwise than a move and strings crossed.

        These are the ones in the same position, on a guide finger, on open strings that
        cover no shift, and those that a slur or slide can join.
        """
        special = set(self._by_anchor.get(after.anchor, ()))
        if after.finger:
            special.update(self._by_finger.get((after.string, after.finger), ()))
        if joined:
            special.update(self._by_string.get(after.string, ()))
        for index in range(self.stopped, len(self.states)):
            if abs(after.anchor - self.states[index].anchor) <= 1:
                special.add(index)
        return special

    def getters(self, anchor: int, offset: int) -> tuple[_Getter, _Getter]:
        """Return what takes each state's move to an anchor from the tables of moves."""
        found = self._getters.get(anchor)
        if found is None:
            indexes = [anchor - state.anchor + offset for state in self.states]
            found = _getter(indexes[: self.stopped]), _getter(indexes[self.stopped :])
            self._getters[anchor] = found
        return found
