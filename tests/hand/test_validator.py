"""Every way to play that a solution gives can be played."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import SYSTEMS, Hand
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.planner import Planner
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import Solution
from fretdrill.hand.states import Pin, State
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from tests.hand.enumeration import Case, cases
from tests.hand.validator import faults
from tests.reference.lines import line
from tests.strategies import hands, lines

MANY = settings(max_examples=80, deadline=None)
EVERY_WAY = 10**12


def paths(solution: Solution) -> list[tuple[str, Path]]:
    """Return a path of each sort, and where it comes from."""
    found = [
        ("best", solution.best()),
        ("easiest hardest", solution.easiest_hardest()),
        *((f"{n}th best", path) for n, path in enumerate(solution.best_paths(4), 1)),
    ]
    if not solution.problem.model.strict:  # someone who sees little may run out of time
        found += [(f"ahead {n}", look_ahead(solution.problem, n)) for n in (0, 2)]
    for index in range(len(solution.problem.layers)):
        rated = solution.regrets(index)
        chosen = {rated[0].choice, rated[-1].choice}
        found += [(f"through {c} at {index}", solution.through(index, c)) for c in chosen]
    if solution.problem.layers:
        positions = list(solution.by_position())
        found += [(f"from {p}", solution.from_position(p)) for p in positions[::3]]
    return found


def check(case: Case) -> None:
    solution = Planner(case.model).solve(case.line, case.pins)
    said = [
        f"{sort}: {fault}"
        for sort, path in paths(solution)
        for fault in faults(solution, path, case.line, case.pins)
    ]
    assert not said, "\n".join(said)


@MANY
@given(cases(most_ways=EVERY_WAY))
def test_all_paths_through_small_lines_can_be_played(case: Case) -> None:
    check(case)


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from(("4-string", "5-string", "6-string", "guitar")).map(Tuning.parse),
    hands(),
    st.data(),
)
def test_all_paths_through_longer_lines_on_a_whole_neck_can_be_played(
    tuning: Tuning, hand: Hand, data: st.DataObject
) -> None:
    neck = Neck(tuning, 21)
    written = data.draw(lines(neck, 5, 15))
    check(Case(CostModel(neck, hand), written, {}))


# The validator itself

NECK = Neck(frets=12)
MODEL = CostModel(NECK, Hand())


def faults_of(
    music: str, states: list[tuple[int, int, int, int]], pins: dict[int, Pin] | None = None
) -> list[str]:
    """Return what the validator says about a path that nobody planned."""
    written = line(music)
    solution = Planner(MODEL).solve(written)
    given = tuple(State(*state) for state in states)
    costs = tuple(
        sum(solution.problem.terms(Path(given, (0.0,) * len(given)), i).values())
        for i in range(len(given))
    )
    return faults(solution, Path(given, costs), written, pins)


def test_what_can_be_played_is_passed() -> None:
    assert faults_of("C2 E2(", [(3, 3, 2, 2), (2, 2, 1, 2)]) == []
    assert faults_of("E1 F1", [(4, 0, 0, 1), (4, 1, 1, 1)]) == []


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ((3, 4, 2, 3), "does not sound"),
        ((5, 3, 2, 2), "off the neck"),
        ((3, 3, 2, 0), "the hand is off the neck"),
    ],
)
def test_a_wrong_place_is_told(state: tuple[int, int, int, int], said: str) -> None:
    assert said in faults_of("C2", [state])[0]


def test_a_finger_on_an_open_string_is_told() -> None:
    assert any("go together" in what for what in faults_of("A1", [(4, 5, 0, 5)]))


def test_a_broken_pin_is_told() -> None:
    said = faults_of("C2", [(3, 3, 2, 2)], {0: Pin(finger=3, position=1)})
    assert [what.rpartition("its ")[2] for what in said] == [
        "finger was settled otherwise",
        "position was settled otherwise",
    ]


def test_costs_that_do_not_add_up_are_told() -> None:
    written = line("C2")
    solution = Planner(MODEL).solve(written)
    best = solution.best()
    dearer = Path(best.states, (best.costs[0] + 1,))
    assert "sum up" in faults(solution, dearer, written)[0]
    assert "each note" in faults(solution, Path((), ()), written)[0]


class Lenient(CostModel):
    """A model that charges for nothing."""

    def node_terms(self, state: State) -> dict[str, int]:
        return dict.fromkeys(super().node_terms(state), 0)

    def step_terms(self, *args: object) -> dict[str, int]:
        return dict.fromkeys(super().step_terms(*args), 0)

    def pivots(self, state: State) -> bool:
        return False


@pytest.mark.parametrize(
    ("music", "states", "said"),
    [
        ("F1 A1", [(4, 1, 1, 1), (4, 5, 4, 1)], "stretch"),
        ("C2 Eb2", [(3, 3, 2, 3), (3, 6, 3, 3)], "bent"),
        ("D2 C#2", [(3, 5, 3, 3), (3, 4, 4, 3)], "higher finger"),
        ("C2( D2", [(3, 3, 3, 1), (3, 5, 1, 5)], "join"),
        ("C2 G2", [(3, 3, 1, 3), (3, 10, 1, 10)], "shift"),
    ],
)
def test_what_is_hard_and_charged_nothing_is_told(
    music: str, states: list[tuple[int, int, int, int]], said: str
) -> None:
    written = line(music)
    solution = Planner(Lenient(NECK, Hand())).solve(written)
    path = Path(tuple(State(*state) for state in states), (0.0,) * len(states))
    assert any(said in fault for fault in faults(solution, path, written))
    # The same path is passed where it is charged for.
    assert faults_of(music, states) == []


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("scale", [0.9, 1.1])
def test_every_system_and_size_plans_what_it_can_play(system: str, scale: float) -> None:
    written = line("E1 F1( G1 A#1 B1 C2 E2 G2( F2 C3 G3 E1 z Eb3")
    check(Case(CostModel(NECK, Hand(scale, system)), written, {}))
