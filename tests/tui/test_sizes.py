"""What matters is inside the window at every size that is promised."""

import pytest

from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from fretdrill.practice.settings import Settings
from fretdrill.tui.widgets.key_line import KeyLine
from tests.conftest import FakeClock
from tests.tui.stage import Stage, on_stage, program

SIZES = ((60, 18), (80, 24), (120, 40))
sizes = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
tunings = pytest.mark.parametrize("tuning", ["4-string", "6-string"])


def neck_of(tuning: str) -> Settings:
    return Settings(neck=Neck(Tuning.parse(tuning)))


def what_matters_is_inside(stage: Stage) -> None:
    """The task, all strings, the verdict's first line and the footer, none over another."""
    screen = stage.app.screen
    columns, rows = screen.size
    footer = screen.query_one(KeyLine).region
    assert footer.height == 1
    assert footer.y == rows - 1
    task = screen.query_one("#task").region
    assert task.height >= 1
    assert task.bottom <= stage.neck.region.y
    drawing, neck = stage.neck.drawing, stage.neck.region
    assert len(drawing.string_rows) == len(stage.question.player.neck.tuning)
    for row in drawing.string_rows.values():
        assert row < neck.height
        assert neck.y + row < footer.y
    assert neck.x >= 0
    assert neck.x + drawing.layout.width <= columns
    verdict = screen.query_one("#verdict").region
    assert verdict.height >= 1
    assert neck.bottom <= verdict.y < footer.y


WRONG = {"find": ("q", "enter"), "name": ("f", "number_sign", "enter"), "finger": ("0",)}


@pytest.mark.parametrize(
    ("kind", "size"),
    [*(("find", size) for size in SIZES), ("name", SIZES[0]), ("finger", SIZES[0])],
)
@tunings
async def test_all_is_seen_after_a_wrong_answer(
    home: Home, clock: FakeClock, size: tuple[int, int], tuning: str, kind: str
) -> None:
    notes = "D" if kind == "find" else "naturals"
    settings = neck_of(tuning)
    asked = program(kind, notes=notes)
    async with on_stage(home, clock, size=size, program=asked, settings=settings) as stage:
        await stage.press(*WRONG[kind])
        assert stage.state is State.JUDGED
        assert not stage.drill.session.verdicts[-1].right
        what_matters_is_inside(stage)


@sizes
@tunings
async def test_all_is_seen_with_the_longest_task_on_the_whole_neck(
    home: Home, clock: FakeClock, size: tuple[int, int], tuning: str
) -> None:
    asked = program("find", "whole neck", "D")
    async with on_stage(home, clock, size=size, program=asked, settings=neck_of(tuning)) as stage:
        await stage.press("space", "enter")
        assert stage.state is State.JUDGED
        what_matters_is_inside(stage)


@sizes
@tunings
async def test_every_pack_is_in_sight_on_today(
    home: Home, clock: FakeClock, size: tuple[int, int], tuning: str
) -> None:
    async with on_stage(home, clock, size=size, settings=neck_of(tuning)) as stage:
        screen = stage.app.screen
        footer = screen.query_one(KeyLine).region
        packs = screen.query_one("#packs").region
        # All that ship where there is room for them; in a small window they scroll.
        assert packs.height == (8 if size[1] >= 24 else 4)
        assert packs.bottom <= footer.y
        assert footer.y == screen.size.height - 1
        for row in stage.neck.drawing.string_rows.values():
            assert stage.neck.region.y + row < packs.y


async def test_today_wears_its_own_style_sheet(home: Home, clock: FakeClock) -> None:
    """``#title`` has a blank column at each side there, as on every other screen."""
    async with on_stage(home, clock) as stage:
        assert stage.app.screen.query_one("#title").styles.padding.left == 1


@sizes
async def test_the_warning_about_pain_can_be_read_on_a_first_run(
    home: Home, clock: FakeClock, size: tuple[int, int]
) -> None:
    async with on_stage(home, clock, size=size) as stage:
        safety = stage.app.screen.query_one("#safety").region
        footer = stage.app.screen.query_one(KeyLine).region
        assert safety.height >= 2
        assert safety.bottom <= footer.y
