"""The way on through several choices, against counting every way there is."""

import math
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.cost import IMPOSSIBLE
from fretdrill.hand.planner import Planner
from fretdrill.hand.solution import Solution, Step
from fretdrill.hand.states import Choice, State
from tests.hand.enumeration import Case, Way, cases, parts, ways
from tests.hand.lines import planned

COUNTED = settings(max_examples=50, deadline=None)
MOST_CHOICES = 3
Drawn = tuple[int, tuple[Choice, ...], State | None]
"""First note, choices, the hand at the note before."""


def solved(case: Case) -> Solution:
    return Planner(case.model).solve(case.line, case.pins)


def draw_choices(data: st.DataObject, case: Case) -> Drawn:
    """Draw what is asked: any hand before, whether or not a good line has it."""
    layers = case.layers
    index = data.draw(st.integers(0, len(layers) - 1))
    count = data.draw(st.integers(1, min(MOST_CHOICES, len(layers) - index)))
    choices = tuple(
        data.draw(st.sampled_from(layers[at])).choice for at in range(index, index + count)
    )
    before = data.draw(st.sampled_from(layers[index - 1])) if index else None
    return index, choices, before


def least(case: Case, index: int, choices: Sequence[Choice], before: State | None) -> int:
    """Return what the cheapest way on costs, having looked at all of them."""
    found = [
        sum(way.costs[index:])
        for way in ways(case)
        if way.choices[index : index + len(choices)] == tuple(choices)
        and (before is None or way.states[index - 1] == before)
    ]
    return min(found)


def way_with(case: Case, index: int, before: State | None, steps: Sequence[Step]) -> Way:
    """Return the one way that ends with these steps, beginning anyhow."""
    states = tuple(step.state for step in steps)
    return next(
        way
        for way in ways(case)
        if way.states[index:] == states and (before is None or way.states[index - 1] == before)
    )


@COUNTED
@given(cases(min_notes=1, max_notes=4), st.data())
def test_no_way_on_of_all_is_cheaper(case: Case, data: st.DataObject) -> None:
    index, choices, before = draw_choices(data, case)
    solution = solved(case)
    counted = least(case, index, choices, before)
    assert parts(solution.continued(index, choices, before)) == counted
    steps = list(solution.onward(index, choices, before))
    assert len(steps) == len(case.layers) - index
    assert tuple(step.state.choice for step in steps[: len(choices)]) == choices
    assert sum(parts(step.cost) for step in steps) == counted


@COUNTED
@given(cases(min_notes=1, max_notes=4), st.data())
def test_every_step_costs_what_it_costs(case: Case, data: st.DataObject) -> None:
    index, choices, before = draw_choices(data, case)
    steps = list(solved(case).onward(index, choices, before))
    way = way_with(case, index, before, steps)
    assert tuple(parts(step.cost) for step in steps) == way.costs[index:]


@settings(max_examples=25, deadline=None)
@given(cases(min_notes=1, max_notes=4, strict=True), st.data())
def test_where_there_is_no_time_nothing_goes_on(case: Case, data: st.DataObject) -> None:
    """Only a strict hand gets stuck; what a line of all choices costs is then endless."""
    index, choices, before = draw_choices(data, case)
    if min(way.total for way in ways(case)) >= IMPOSSIBLE:
        return  # such a line has no plan at all
    counted = least(case, index, choices, before)
    cost = solved(case).continued(index, choices, before)
    if counted >= IMPOSSIBLE:
        assert math.isinf(cost)
    else:
        assert parts(cost) == counted


@COUNTED
@given(cases(min_notes=1, max_notes=4), st.data())
def test_from_the_first_note_a_choice_and_its_regret_are_one(
    case: Case, data: st.DataObject
) -> None:
    solution = solved(case)
    rated = data.draw(st.sampled_from(solution.regrets(0)))
    cost = solution.continued(0, (rated.choice,), None)
    assert parts(cost - solution.cost) == parts(rated.regret)
    through = solution.through(0, rated.choice)
    assert parts(through.cost) == parts(cost)


@COUNTED
@given(cases(min_notes=2, max_notes=5), st.data())
def test_the_plan_itself_is_the_cheapest_way_on(case: Case, data: st.DataObject) -> None:
    solution = solved(case)
    best = solution.best()
    index = data.draw(st.integers(1, len(best.states) - 1))
    count = data.draw(st.integers(1, min(MOST_CHOICES, len(best.states) - index)))
    before = best.states[index - 1]
    cost = solution.continued(index, best.choices[index : index + count], before)
    assert parts(cost) == sum(map(parts, best.costs[index:]))


PLAN = planned("C,, D,, E,, F,,")
STRANGERS = (
    Choice(3, 4, 1),  # another note
    Choice(3, 5, 0),  # a stopped note without a finger
    Choice(2, 0, 1),  # an open string with one
    Choice(9, 5, 1),
    Choice(3, 5, 5),
)


@pytest.mark.parametrize("stranger", STRANGERS)
def test_a_choice_that_is_none_of_the_notes_is_refused(stranger: Choice) -> None:
    solution, before = PLAN.solution, PLAN.states[0]
    sound = PLAN.states[2].choice
    for choices in ((stranger,), (PLAN.states[1].choice, stranger), (stranger, sound)):
        with pytest.raises(ValueError, match="not in"):
            solution.continued(1, choices, before)
        with pytest.raises(ValueError, match="not in"):
            list(solution.onward(1, choices, before))


def test_a_hand_that_the_note_before_has_not_is_refused() -> None:
    with pytest.raises(ValueError, match="not in"):
        PLAN.solution.continued(1, (PLAN.states[1].choice,), State(3, 4, 2, 3))
