"""Jobs for an opened line: what becomes of them when nobody waits, or a pin cannot be.

Costs are held against planning the same line and pins anew; a place is possible if its string
and fret sound the note (open strings E1 A1 D2 G2 are MIDI 28 33 38 43, common practice).
"""

import pytest

from fretdrill.hand.advice import playable
from fretdrill.hand.cost import CostModel
from fretdrill.hand.planner import Planner
from fretdrill.hand.states import Pin
from fretdrill.practice.settings import Settings
from fretdrill.presentation import line_words
from fretdrill.presentation.names import Names
from fretdrill.tui.line_jobs import Beside, Job, Outdated
from fretdrill.tui.line_panels import ChoicesPanel
from fretdrill.tui.line_work import OpenLine
from tests.bench.planning import random_line
from tests.hand.lines import abc_line

LINE = abc_line("E,,,G,,,A,,,C,,|D,,E,,G,,A,,|")  # E1 G1 A1 C2 | D2 E2 G2 A2
SETTINGS = Settings()
HERE, NOWHERE = Pin(1, 4, 3), Pin(1, 5, 8)  # G1 on the E string; there is no fifth string


def job(line=LINE, pins=None, **others) -> Job:
    return Job(1, playable(line, SETTINGS.neck), SETTINGS, pins or {}, **others)


def cost(pins) -> float:
    return Planner(CostModel(SETTINGS.neck, SETTINGS.hand)).solve(LINE, pins).cost


def test_pins_that_cannot_be_are_left_out_when_a_line_is_opened():
    done = job(pins={1: HERE, 2: NOWHERE}, opening=True).work()
    assert done.plan is not None
    assert done.plan.cost == pytest.approx(cost({1: HERE}))
    assert (done.left_out, done.pins) == ({2}, {1: HERE})
    assert "note 3" in str(done.fault)


def test_later_on_they_are_a_fault():
    done = job(pins={1: HERE, 2: NOWHERE}).work()
    assert (done.plan, done.left_out) == (None, frozenset())
    assert "note 3" in str(done.fault)


def test_what_is_left_out_stays_on_disk_until_the_note_gets_another_pin():
    opened = OpenLine("line", LINE, SETTINGS, {1: HERE, 2: NOWHERE})
    assert opened.take(opened.ask().work())
    assert (opened.pins, opened.fault) == ({1: HERE}, "")
    assert opened.ask_back() is None  # it was no step of the player's
    assert opened.kept_pins == {1: HERE, 2: NOWHERE}
    other = Pin(0, 3, 0)
    assert opened.take(opened.ask(opened.with_pin(2, other)).work())
    assert opened.kept_pins == {1: HERE, 2: other}


def test_a_job_that_nobody_waits_for_gives_up():
    long = job(random_line(2_000), {0: Pin(position=5)})
    asked = []

    def stop() -> bool:
        asked.append(True)
        return len(asked) > 2

    with pytest.raises(Outdated):
        long.work(stop)
    assert len(asked) == 3  # long before the end: it looks every 256 notes, on both passes
    done = long.work()
    for late in (lambda: long.compare(done, lambda: True), lambda: long.free(0, {0: HERE}, stop)):
        with pytest.raises(Outdated):
            late()
    with pytest.raises(Outdated):
        Beside.of(done.plan, lambda: True)


def test_a_note_is_compared_without_its_pin_in_a_long_line_when_it_is_looked_at():
    line = random_line(3_000)
    opened = OpenLine("long", line, SETTINGS, {})
    pins = {0: Pin(position=5), 10: Pin(position=5)}
    done = opened.ask(pins).work()
    opened.take(done)
    assert opened.ask_freed(0) is None  # not before it is known what is compared at once
    assert opened.take_compared(done.job.compare(done))
    wanted = opened.ask_freed(0)
    assert wanted is not None
    assert opened.ask_freed(5) is None
    assert opened.take_compared(wanted.free(0, opened.pins))
    freed = opened.compared(0)
    assert freed is not None
    alone = Planner(CostModel(SETTINGS.neck, SETTINGS.hand)).solve(line, {10: pins[10]})
    assert freed.cost == pytest.approx(alone.cost)
    assert opened.ask_freed(0) is None


def test_what_is_said_beside_a_plan_is_said_of_that_plan():
    plan = job().work().plan
    assert plan is not None
    beside = Beside.of(plan)
    whole = range(len(LINE.notes))
    assert len(beside.position_rows) == len(beside.positions)
    for row, (position, path) in zip(beside.position_rows, beside.positions, strict=True):
        assert line_words.position_text(plan, position, path, whole).startswith(row)
    assert list(beside.ahead_rows) == line_words.ahead_text(plan, beside.ahead)


def test_a_pinned_note_is_come_to_at_its_pin():
    opened = OpenLine("line", LINE, SETTINGS, {})
    panel = ChoicesPanel(opened, Names())
    opened.take(opened.ask().work())
    third = opened.choices(1)[2].choice
    done = opened.ask({1: Pin(third.finger, third.string, third.fret), 4: Pin(position=5)}).work()
    opened.take(done)
    opened.take_compared(done.job.compare(done))
    panel.begin(1)
    assert panel.rated(1).choice == third
    for note in (0, 4):  # none, and one that is no choice of the list
        panel.begin(note)
        assert panel.cursor == 0
