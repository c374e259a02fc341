"""An opened line beside its screen: plans asked for and taken, pins, undoing, what pins cost.

No outside source: what is promised is held against the planner alone, and against a history of
pins that is kept here.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.cost import CostModel
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.states import Pin
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.settings import Settings
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab_systems import TabSheet
from fretdrill.theory.line import Line
from fretdrill.tui.line_work import MOST_UNDONE, Beside, Compared, Done, Job, OpenLine
from tests.hand.lines import abc_line
from tests.strategies import lines, small_necks

LINE = abc_line("G,,,C,,D,,F,,|A,,G,,F,,E,,|")
SETTINGS = Settings()


def opened(line: Line = LINE, pins=None, settings: Settings = SETTINGS) -> OpenLine:
    """Open a line and have its first plan worked out."""
    open_line = OpenLine("test", line, settings, pins or {})
    do(open_line, open_line.ask())
    return open_line


def do(open_line: OpenLine, job: Job) -> Done:
    """Do a job as the worker does: first the plan, then what its pins cost."""
    done = job.work()
    assert open_line.take(done)
    compared = job.compare(done)
    open_line.take_compared(compared)
    return done


def planned(line: Line, pins=None, settings: Settings = SETTINGS) -> Plan:
    """Plan a line past the screen."""
    solution = Planner(CostModel(settings.neck, settings.hand)).solve(line, pins or {})
    return Plan(line, solution, solution.best())


def pin_of(rated) -> Pin:
    string, fret, finger = rated.choice
    return Pin(finger, string, fret)


# The first plan


def test_before_the_first_plan_there_is_nothing_to_choose():
    line = OpenLine("test", LINE, SETTINGS, {})
    assert (line.plan, line.waiting, line.fault, line.free_cost) == (None, False, "", None)
    assert line.choices(0) == ()
    assert line.ask_back() is None
    line.ask()
    assert line.waiting


def test_the_plan_is_the_planners():
    line = opened()
    assert not line.waiting
    assert line.plan.states == planned(LINE).states
    assert line.free_cost == line.plan.cost
    assert line.choices(2) == planned(LINE).choices(2)


def test_an_empty_line_can_be_opened_and_planned():
    line = OpenLine("test", replace(LINE, notes=()), SETTINGS, {})
    assert line.part.line.notes == ()
    do(line, line.ask())
    assert line.plan.states == ()
    assert line.plan.cost == 0


# Pins


@st.composite
def small_lines(draw: st.DrawFn) -> tuple[Line, Settings]:
    neck = draw(small_necks())
    return draw(lines(neck, min_notes=1, max_notes=6)), Settings(neck=neck)


@settings(deadline=None, max_examples=25)
@given(small_lines(), st.data())
def test_a_pin_costs_exactly_the_regret_of_its_choice(case, data):
    line = opened(*[case[0], None, case[1]])
    free = line.plan.cost
    note = data.draw(st.integers(0, len(line.line.notes) - 1))
    rated = data.draw(st.sampled_from(line.choices(note)))
    do(line, line.ask(line.with_pin(note, pin_of(rated))))
    assert line.fault == ""
    assert line.plan.cost == pytest.approx(free + rated.regret, abs=1e-6)
    assert line.plan.states[note].choice == rated.choice
    assert line.free_cost == pytest.approx(free)
    assert line.is_pinned(note, rated)


@settings(deadline=None, max_examples=25)
@given(small_lines(), st.data())
def test_with_other_pins_the_regret_is_counted_from_the_plan_without_this_one(case, data):
    line = opened(*[case[0], None, case[1]])
    notes = st.integers(0, len(line.line.notes) - 1)
    for _ in range(4):
        note = data.draw(notes)
        without = planned(line.line, line.without(note), case[1])
        assert line.choices(note) == without.choices(note)
        rated = data.draw(st.sampled_from(line.choices(note)))
        if line.is_pinned(note, rated):
            continue
        do(line, line.ask(line.with_pin(note, pin_of(rated))))
        assert line.plan.cost == pytest.approx(without.cost + rated.regret, abs=1e-6)


def test_a_pin_that_is_there_already_is_taken_away():
    line = opened()
    rated = line.choices(1)[1]
    once = line.with_pin(1, pin_of(rated))
    do(line, line.ask(once))
    assert line.with_pin(1, pin_of(rated)) == {}
    assert line.with_pin(1, Pin(4)) == {1: Pin(4)}
    assert line.without(1) == {}
    assert line.pins == once  # asking what they would be changes nothing


def test_choices_of_a_pinned_note_can_still_be_compared():
    line = opened()
    rated, every = line.choices(1)[2], line.choices(1)
    do(line, line.ask(line.with_pin(1, pin_of(rated))))
    assert line.choices(1) == every
    assert line.compared(1).cost == line.free_cost
    assert line.compared(0) is line.plan
    assert [line.is_pinned(1, one) for one in every].count(True) == 1


def test_a_position_pinned_is_kept_to():
    line = opened()
    for position in line.plan.solution.by_position():
        do(line, line.ask({0: Pin(position=position)}))
        assert line.plan.states[0].anchor == position
        expected = planned(LINE).solution.by_position()[position]
        assert line.plan.cost == pytest.approx(expected)


def test_long_lines_are_not_planned_again_for_every_pin(monkeypatch):
    monkeypatch.setattr("fretdrill.tui.line_jobs.MOST_FREED", 2 * len(LINE.notes))
    line = opened()
    three = {note: pin_of(line.choices(note)[1]) for note in range(3)}
    job = line.ask(three)
    assert job.compare(job.work()).freed == {}
    two = dict(list(three.items())[:2])
    job = line.ask(two)
    assert set(job.compare(job.work()).freed) == {0, 1}


def test_the_cost_without_pins_is_worked_out_once():
    line = OpenLine("test", LINE, SETTINGS, {1: Pin(2)})
    job = line.ask()
    assert job.wants_free
    do(line, job)
    assert line.free_cost == pytest.approx(planned(LINE).cost)
    assert not line.ask({}).wants_free


# A pin that cannot be


IMPOSSIBLE = {"no such fret": Pin(1, 3, 4), "no such string": Pin(string=9)}


@pytest.mark.parametrize("name", IMPOSSIBLE)
def test_a_pin_that_cannot_be_is_explained_and_nothing_is_lost(name):
    line = opened()
    do(line, line.ask(line.with_pin(1, pin_of(line.choices(1)[1]))))
    pins, plan, choices, freed = line.pins, line.plan, line.choices(1), line.compared(1)
    do(line, line.ask(line.with_pin(2, IMPOSSIBLE[name])))
    assert "note 3" in line.fault
    assert not line.waiting
    assert (line.pins, line.plan, line.choices(1)) == (pins, plan, choices)
    assert line.compared(1) is freed
    do(line, line.ask())
    assert line.fault == ""
    back = line.ask_back()
    assert back is not None
    assert back.pins == {}  # what could not be is no step of its own


def test_pins_from_the_disk_that_this_neck_does_not_allow_are_left_out_and_kept():
    other = pin_of(planned(LINE).choices(0)[1])
    line = OpenLine("test", LINE, SETTINGS, {0: other, 2: Pin(string=9)})
    done = do(line, line.ask())
    assert done.left_out == {2}
    assert "note 3" in str(done.fault)
    assert line.fault == ""
    assert line.pins == {0: other}
    assert line.plan.cost == pytest.approx(planned(LINE, {0: other}).cost)
    assert line.kept_pins == {0: other, 2: Pin(string=9)}
    assert line.ask_back() is None  # opening is no step
    do(line, line.ask({}))
    assert line.kept_pins == {2: Pin(string=9)}
    do(line, line.ask_back())
    assert line.kept_pins == {0: other, 2: Pin(string=9)}


def test_a_pin_takes_the_place_of_one_that_this_neck_does_not_allow():
    line = opened(pins={2: Pin(string=9)})
    mine = pin_of(line.choices(2)[1])
    do(line, line.ask(line.with_pin(2, mine)))
    assert line.kept_pins == {2: mine}


# Out of date


def test_results_that_come_late_are_dropped():
    line = opened()
    one = line.ask(line.with_pin(0, pin_of(line.choices(0)[1])))
    other = line.ask(line.with_pin(0, pin_of(line.choices(0)[2])))
    before = (line.pins, line.plan)
    early = one.work()
    assert not line.take(early)
    assert (line.pins, line.plan, line.waiting) == (*before, True)
    done = other.work()
    assert line.take(done)
    assert line.pins == other.pins
    assert not line.take(early)
    assert not line.take_compared(one.compare(early))
    assert line.plan is done.plan
    assert line.ask_back().pins == {}


def test_a_fault_that_comes_late_is_dropped():
    line = opened()
    wrong, right = line.ask({0: Pin(string=9)}), line.ask({0: Pin(string=4)})
    late = wrong.work()
    do(line, right)
    assert not line.take(late)
    assert line.fault == ""


def test_what_was_worked_out_beside_an_older_plan_is_dropped():
    line = opened()
    beside = Beside.of(line.plan)
    assert line.take_beside(beside)
    do(line, line.ask(line.with_pin(1, pin_of(line.choices(1)[1]))))
    assert line.beside is None
    assert not line.take_beside(beside)
    assert line.take_beside(Beside.of(line.plan))


def test_the_cost_without_pins_counts_even_if_it_comes_late():
    line = opened(pins={1: Pin(2)})
    line.free_cost = None
    job = line.ask()
    line.ask({1: Pin(4)})
    assert not line.take_compared(Compared(job, {}, 12.5))
    assert line.free_cost == 12.5


def test_pins_cleared_before_the_first_plan_came_can_be_had_back():
    line = OpenLine("test", LINE, SETTINGS, {1: Pin(4)})
    line.ask()
    do(line, line.ask({}))
    assert line.pins == {}
    assert line.ask_back() is not None


def test_a_pin_asked_for_while_another_is_worked_out_keeps_both():
    line = opened()
    one, other = pin_of(line.choices(0)[1]), pin_of(line.choices(4)[1])
    first = line.ask(line.with_pin(0, one))
    second = line.ask(line.with_pin(4, other))
    line.take(first.work())
    line.take(second.work())
    assert line.pins == {0: one, 4: other}


# Undoing


def test_undoing_goes_back_step_by_step():
    line = opened()
    history = [dict(line.pins)]
    for note in range(4):
        do(line, line.ask(line.with_pin(note, pin_of(line.choices(note)[1]))))
        history.append(dict(line.pins))
    do(line, line.ask({}))
    while history:
        do(line, line.ask_back())
        assert line.pins == history.pop()
        assert line.plan.cost == pytest.approx(planned(LINE, line.pins).cost)
    assert line.ask_back() is None


def test_what_changes_nothing_is_no_step():
    line = opened()
    do(line, line.ask({}))
    do(line, line.ask())
    assert line.ask_back() is None


steps = st.lists(
    st.sampled_from(("pin", "unpin", "clear", "undo", "impossible", "late")), max_size=12
)


@settings(deadline=None, max_examples=15)
@given(steps, st.data())
def test_any_sequence_against_a_history_kept_by_hand(sequence, data):
    line = opened()
    pins, history = {}, []
    for step in sequence:
        wanted = dict(pins)
        if step in ("pin", "late"):
            note = data.draw(st.integers(0, len(LINE.notes) - 1))
            wanted[note] = pin_of(data.draw(st.sampled_from(line.choices(note))))
            job = line.ask(wanted)
            if step == "late":
                line.ask()
                assert not line.take(job.work())
                do(line, line.ask())
                continue
            do(line, job)
        elif step == "unpin" and pins:
            wanted.pop(min(pins))
            do(line, line.ask(line.without(min(pins))))
        elif step == "clear":
            wanted = {}
            do(line, line.ask({}))
        elif step == "impossible":
            do(line, line.ask({**pins, 0: Pin(string=9)}))
        elif step == "undo":
            job = line.ask_back()
            assert (job is None) is (not history)
            if job is not None:
                do(line, job)
                wanted = pins = history.pop()
        if wanted != pins:
            history.append(pins)
        pins = wanted
        assert line.pins == pins
        assert line.plan.cost == pytest.approx(planned(LINE, pins).cost)


def test_so_many_steps_are_kept():
    line = opened()
    job = line.ask()
    done = job.work()
    for number in range(MOST_UNDONE + 20):  # the plan stands for any: only the pins are looked at
        line.ask()
        one = replace(job, number=job.number + number + 1, pins={0: Pin(position=number + 1)})
        assert line.take(Done(one, done.plan, None))
    count = 0
    while (back := line.ask_back()) is not None:
        line.take(Done(back, done.plan, None))
        count += 1
    assert MOST_UNDONE <= count <= MOST_UNDONE + 1


# Notes off the neck


def low() -> OpenLine:
    return opened(abc_line("C,,,E,,,G,,,C,,|D,,,E,,F,,c'|"))


def test_the_notes_on_the_neck_can_be_used_and_the_others_not():
    line = low()
    assert [off.index for off in line.part.off] == [0, 4, 7]
    assert [line.planned(note) for note in range(8)] == [None, 0, 1, 2, None, 3, 4, None]
    assert line.choices(0) == ()
    assert line.choices(1) == line.plan.choices(0)
    rated = line.choices(3)[1]
    free = line.plan.cost
    do(line, line.ask(line.with_pin(3, pin_of(rated))))
    assert line.plan.states[2].choice == rated.choice
    assert line.plan.cost == pytest.approx(free + rated.regret)
    assert set(line.pins) == {3}
    assert line.compared(3).cost == pytest.approx(free)


def test_a_pin_of_a_note_off_the_neck_is_kept_and_left_out():
    line = opened(abc_line("D,,,E,,,G,,,"), {0: Pin(2), 1: Pin(0)})
    assert line.fault == ""
    assert line.pins == {0: Pin(2), 1: Pin(0)}
    assert line.plan.states[0].finger == 0


def test_its_tab_has_every_note_with_its_sign():
    line = low()
    line.pins[3] = Pin(1)
    columns = line.columns(line.plan, Names(), {1: "!", 3: "!"}, [])
    system = TabSheet(columns, 200).system((0, 0))
    assert sorted(system.spots) == list(range(8))
    marks = {note: line_mark(system, note) for note in range(8)}
    assert marks == {0: "", 1: "!", 2: "", 3: "!*", 4: "", 5: "", 6: "", 7: ""}


def line_mark(system, note: int) -> str:
    rows = {row.kind: row.text for row in system.rows}
    spot = system.spots[note]
    return rows["mark"][spot.column : spot.column + spot.width].strip()


# Beside the plan


def test_positions_are_the_cheapest_first_and_look_ahead_is_four_deep():
    plan = planned(LINE)
    beside = Beside.of(plan)
    costs = plan.solution.by_position()
    told = [costs[position] for position, _ in beside.positions]
    assert told == sorted(costs.values())[: len(told)]
    assert len(told) == min(8, len(costs))
    for position, path in beside.positions:
        assert path.states[0].anchor == position
        assert path.cost == pytest.approx(costs[position])
    expected = [look_ahead(plan.solution.problem, seen).cost for seen in range(4)]
    assert [path.cost for path in beside.ahead] == expected


def test_five_strings_are_planned_on_five():
    five = Settings(neck=Neck(Tuning.parse("5-string")))
    line = opened(abc_line("C,,,E,,,G,,,C,,|"), None, five)
    assert not line.part.off
    assert max(state.string for state in line.plan.states) == 5
