"""Pins by other ways than the choice under the cursor, and what is seen in small windows."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from itertools import pairwise

import pytest

from fretdrill.hand.states import Pin
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.library import find_line
from fretdrill.practice.pins import load_pins, save_pins
from fretdrill.practice.settings import Settings
from fretdrill.tui.screens.line import LineScreen
from fretdrill.tui.widgets.line_panel import LinePanel
from fretdrill.tui.widgets.neck import NeckWidget
from fretdrill.tui.widgets.tab import TabWidget
from tests.tui.stage import Stage, on_stage

WALK_UP = find_line("walk-up", None).line


@asynccontextmanager
async def opened(
    home, clock, name="walk-up", size=(80, 24), settings=None
) -> AsyncIterator[tuple[Stage, LineScreen]]:
    async with on_stage(home, clock, size=size, settings=settings) as stage:
        stage.app.open_line(name)
        await settle(stage)
        assert isinstance(stage.app.screen, LineScreen)
        yield stage, stage.app.screen


async def settle(stage: Stage) -> None:
    await stage.pilot.pause()
    while list(stage.app.workers):
        await stage.app.workers.wait_for_complete()
        await stage.pilot.pause()


async def press(stage: Stage, *keys: str) -> None:
    for key in keys:
        await stage.press(key)
        await settle(stage)


async def test_a_pin_is_taken_away_whatever_is_under_the_cursor(home, clock):
    async with opened(home, clock) as (stage, screen):
        await press(stage, "v", "down", "enter")  # a position is no row of the choices
        assert screen.opened.pins[0].position is not None
        await press(stage, "v", "v", "v", "down", "u")
        assert screen.opened.pins == {}
        assert screen.opened.plan.cost == pytest.approx(screen.opened.free_cost)
        await press(stage, "u", "z")  # there was no pin the second time
        assert screen.opened.pins[0].position is not None


async def test_a_digit_goes_to_the_next_choice_with_that_finger(home, clock):
    async with opened(home, clock) as (stage, screen):
        await press(stage, "right", "right", "right")
        fingers = [rated.choice.finger for rated in screen.opened.choices(3)]
        for finger in (4, 1, 0, 2, 3):
            rows = [row for row, one in enumerate(fingers) if one == finger]
            seen = []
            for _ in rows:
                await press(stage, str(finger))
                seen.append(screen.panel.cursor)
            assert sorted(seen) == rows
        before = screen.panel.cursor
        await press(stage, "9")
        assert screen.panel.cursor == before


async def test_a_pin_of_another_neck_is_told_and_stays_on_disk(home, clock):
    pins = {0: Pin(2, 5, 8), 3: Pin(4, 3, 10)}
    save_pins(home.pins, "walk-up", WALK_UP, pins)
    async with opened(home, clock) as (stage, screen):
        assert "A pin is left out" in stage.text("#why")
        assert screen.opened.plan.states[3].choice == (3, 10, 4)
        await press(stage, "right", "down", "enter")
        assert len(screen.opened.pins) == 2
    assert load_pins(home.pins, "walk-up", WALK_UP).pins == {**screen.opened.pins, **pins}


@pytest.mark.parametrize("size", [(56, 16), (60, 18), (60, 24), (80, 24), (120, 40)])
@pytest.mark.parametrize("tuning", ["4-string", "6-string"])
async def test_n_gives_the_neck_or_its_room(home, clock, size, tuning):
    settings = Settings(neck=Neck(Tuning.parse(tuning)))
    async with opened(home, clock, size=size, settings=settings) as (stage, screen):
        necks = set()
        for _ in range(2):
            neck, panel = screen.query_one(NeckWidget), screen.query_one(LinePanel)
            tab = screen.query_one(TabWidget)
            necks.add(neck.display)
            assert neck.display or panel.display
            shown = [part for part in (tab, neck, panel) if part.display]
            for above, below in pairwise(shown):
                assert above.region.bottom <= below.region.y
            await press(stage, "n")
        assert necks == {False, True}


@pytest.mark.parametrize("columns", [56, 60, 80])
async def test_the_cost_is_seen_however_long_the_title(home, clock, tmp_path, columns):
    path = tmp_path / "long.abc"
    title = "A line with a title that goes on and on and on and on"
    path.write_text(f"X:1\nT:{title}\nK:C bass octave=-1\nE,,G,,A,,C,|\n", encoding="utf-8")
    for ascii_only in (False, True):
        settings = Settings(ascii_only=ascii_only)
        size = (columns, 24)
        async with opened(home, clock, str(path), size, settings) as (stage, screen):
            heading = stage.text("#heading")
            assert heading.endswith(f"cost {screen.opened.plan.cost:.1f}")
            assert heading.startswith("A line with a title")
            assert len(heading) <= columns - 2
            assert heading.isascii() is ascii_only
