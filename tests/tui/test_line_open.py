"""The line screen and the list of lines, by keys."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from fretdrill.practice.home import Home
from fretdrill.practice.pins import load_pins
from fretdrill.practice.settings import Settings
from fretdrill.practice.start import Practice
from fretdrill.tui.app import FretdrillApp
from fretdrill.tui.notices import Notices
from fretdrill.tui.screens.drill import DrillScreen
from fretdrill.tui.screens.line import LineScreen
from fretdrill.tui.screens.lines import LinesScreen
from fretdrill.tui.widgets.tab import TabWidget
from tests.conftest import FakeClock

Stage = tuple[FretdrillApp, Pilot[None], FakeClock]


@asynccontextmanager
async def opened(
    home: Home,
    clock: FakeClock,
    line: str | None = "walk-up",
    size: tuple[int, int] = (80, 24),
    settings: Settings | None = None,
) -> AsyncIterator[Stage]:
    """Run the app with a line open, and wait for its plan."""
    notices = Notices()
    with Practice(home, settings or Settings(), notices.tell, clock) as practice:
        app = FretdrillApp(practice, notices, line=line)
        async with app.run_test(size=size, notifications=True) as pilot:
            await settle(app, pilot)
            yield app, pilot, clock


async def settle(app: FretdrillApp, pilot: Pilot[None]) -> None:
    """Wait until all that was asked for has been worked out and shown."""
    for _ in range(2):
        await pilot.pause()
        await app.workers.wait_for_complete()
    await pilot.pause()


async def press(stage: Stage, *keys: str) -> None:
    app, pilot, clock = stage
    for key in keys:
        clock.advance(2.0)
        await pilot.press(key)
        await settle(app, pilot)


def text(app: FretdrillApp, selector: str) -> str:
    return str(app.screen.query_one(selector, Static).content)


def screen(app: FretdrillApp) -> LineScreen:
    assert isinstance(app.screen, LineScreen)
    return app.screen


def tab_rows(app: FretdrillApp) -> list[str]:
    tab = app.screen.query_one(TabWidget)
    return [tab.render_line(y).text.rstrip() for y in range(tab.size.height)]


async def test_every_choice_of_the_note_stands_with_its_cost(home, clock):
    async with opened(home, clock) as stage:
        app = stage[0]
        line = screen(app)
        assert "48 notes" in text(app, "#heading")
        assert f"cost {line.opened.plan.cost:.1f}" in text(app, "#heading")
        await press(stage, "right", "right")
        choices = line.opened.choices(2)
        shown = text(app, "#choices")
        assert f"1 of {len(choices)}" in shown
        assert "easiest" in shown
        await press(stage, "down")
        assert f"+{choices[1].regret:.1f}" in text(app, "#choices")
        assert text(app, "#why").endswith(".")


async def test_the_cursor_goes_by_note_bar_system_and_number(home, clock):
    async with opened(home, clock) as stage:
        line, bars = screen(stage[0]), screen(stage[0]).opened.moments
        await press(stage, "right", "right", "left")
        assert line.note == 1
        await press(stage, "ctrl+right")
        assert bars.bar_of(line.note) == 1
        await press(stage, "ctrl+left")
        assert line.note == 0
        await press(stage, "left")
        assert line.note == 0
        await press(stage, "end")
        assert line.note == 47
        await press(stage, "home", "pagedown")
        assert bars.bar_of(line.note) > 0
        await press(stage, "pageup")
        assert line.note == 0
        await press(stage, "g", "7", "enter")
        assert line.opened.line.bar_at(line.opened.line.notes[line.note].onset).number == 7
        await press(stage, "g", "9", "9", "enter")
        assert "There is no bar 99" in text(stage[0], "#why")
        await press(stage, "g", "escape")
        assert isinstance(stage[0].screen, LineScreen)


async def test_a_pin_costs_its_regret_is_kept_and_can_be_undone(home, clock):
    async with opened(home, clock) as stage:
        app, line = stage[0], screen(stage[0])
        free = line.opened.plan.cost
        await press(stage, "right", "down", "down")
        rated = line.opened.choices(1)[2]
        await press(stage, "enter")
        assert line.opened.plan.states[1].choice == rated.choice
        assert line.opened.plan.cost == pytest.approx(free + rated.regret)
        assert f"1 pin +{rated.regret:.1f}" in text(app, "#heading")
        assert any("*" in row for row in tab_rows(app))
        assert len(line.opened.choices(1)) > 3  # the others can still be compared
        pins = dict(line.opened.pins)
    async with opened(home, clock) as stage:
        line = screen(stage[0])
        assert line.opened.pins == pins
        assert line.opened.free_cost == pytest.approx(free)
        await press(stage, "c")
        assert line.opened.pins == {}
        assert line.opened.plan.cost == pytest.approx(free)
        await press(stage, "z")
        assert line.opened.pins == pins
        await press(stage, "c")
    assert not load_pins(home.pins, "walk-up", line.opened.line).pins


async def test_positions_are_seen_and_taken_over(home, clock):
    async with opened(home, clock) as stage:
        app, line = stage[0], screen(stage[0])
        await press(stage, "v")
        assert text(app, "#choices").startswith("Positions")
        before = tab_rows(app)
        await press(stage, "down")
        assert tab_rows(app) != before
        position = line.panel.chosen[0]
        await press(stage, "enter")
        assert line.opened.plan.states[0].anchor == position


async def test_hard_spots_are_marked_found_and_drilled(home, clock):
    async with opened(home, clock) as stage:
        app, line = stage[0], screen(stage[0])
        spots = {line.opened.part.kept[spot.index] for spot in line.opened.plan.hard_spots}
        await press(stage, "h")
        assert line.note == min(spots)
        assert any("!" in row for row in tab_rows(app))
        await press(stage, "d")
        assert isinstance(app.screen, DrillScreen)
        assert app.screen.session.question.kind == "ahead"


async def test_who_sees_less_far_stands_under_the_tab(home, clock):
    async with opened(home, clock) as stage:
        app = stage[0]
        await press(stage, "v", "v", "v")
        assert text(app, "#choices").startswith("Look-ahead")
        rows = tab_rows(app)
        for seen in range(4):
            assert any(row.startswith(f" +{seen}") for row in rows)
        await press(stage, "v")
        assert text(app, "#choices").startswith("Choices")


async def test_notes_off_the_neck_are_told_and_the_rest_can_be_used(home, clock, tmp_path):
    path = tmp_path / "low.abc"
    path.write_text("X:1\nT:Low\nM:4/4\nL:1/4\nK:C bass\nC,,, E,, G,, C,|\n", encoding="utf-8")
    async with opened(home, clock, str(path)) as stage:
        app, line = stage[0], screen(stage[0])
        assert line.opened.part.off
        told = text(app, "#why")
        assert "Off the neck lies note 1" in told
        assert "would bring all in" in told
        await press(stage, "right", "down", "enter")
        assert line.opened.pins


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
@pytest.mark.parametrize("ascii_only", [False, True])
async def test_it_fits(home, clock, size, ascii_only):
    settings = Settings(ascii_only=ascii_only)
    async with opened(home, clock, size=size, settings=settings) as stage:
        rows = tab_rows(stage[0])
        assert any(row.startswith(" G") for row in rows)
        assert any("^" in row for row in rows)
        if ascii_only:
            assert all(row.isascii() for row in rows)
            assert text(stage[0], "#choices").isascii()


async def test_lines_are_listed_and_opened_from_today(home, clock):
    home.lines.mkdir(parents=True)
    (home.lines / "mine.abc").write_text("X:1\nT:Mine\nK:C bass\nC,,2 E,,2|\n", encoding="utf-8")
    (home.lines / "broken.mid").write_bytes(b"no music")
    async with opened(home, clock, line=None) as stage:
        app = stage[0]
        await press(stage, "l")
        assert isinstance(app.screen, LinesScreen)
        listed = app.screen.query_one("#lines")
        assert listed.get_option("broken").disabled
        assert not listed.get_option("mine").disabled
        assert listed.get_option("walk-up")
        await press(stage, "enter")
        assert screen(app).opened.line.title == "Mine"
        await press(stage, "escape")
        assert isinstance(app.screen, LinesScreen)


async def test_a_path_is_typed_and_a_fault_in_it_told(home, clock, tmp_path: Path):
    path = tmp_path / "a.abc"
    path.write_text("X:1\nT:Typed\nK:C bass\nC,,2 E,,2|\n", encoding="utf-8")
    async with opened(home, clock, line=None) as stage:
        app = stage[0]
        await press(stage, "l", "o")
        for wrong in ("nothing.abc", str(path)):
            app.screen.query_one("#path").value = wrong
            await press(stage, "enter")
        assert screen(app).opened.line.title == "Typed"


async def test_a_click_goes_to_the_note(home, clock):
    async with opened(home, clock) as stage:
        app, pilot, _ = stage
        tab = app.screen.query_one(TabWidget)
        spot = tab.sheet.system(tab.sheet.key_of(0)).spots[3]
        await pilot.click(TabWidget, offset=(spot.column, 3))
        await settle(app, pilot)
        assert screen(app).note == 3
