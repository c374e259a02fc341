"""Too small a window: a kind sentence, time stands still, and it goes on."""

import pytest

from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from tests.conftest import FakeClock
from tests.tui.stage import Stage, on_stage, program, squeezed

TOO_SMALL = (40, 10)


def only_the_message_is_seen(stage: Stage) -> bool:
    shown = [widget for widget in stage.app.screen.children if widget.display]
    return [widget.id for widget in shown] == ["too-small"]


def message(stage: Stage) -> str:
    return squeezed(stage.text("#too-small"))


async def test_the_message_names_the_size_needed_and_lies_inside(
    home: Home, clock: FakeClock
) -> None:
    async with on_stage(home, clock, size=TOO_SMALL) as stage:
        assert only_the_message_is_seen(stage)
        assert "56 columns and 16 rows" in message(stage)
        assert "40 and 10" in message(stage)
        region = stage.app.screen.query_one("#too-small").region
        assert stage.app.screen.region.contains_region(region)


@pytest.mark.parametrize("kind", ["find", "name", "finger"])
@pytest.mark.parametrize("keys", [(), ("f2",)])
async def test_nothing_else_is_seen_of_a_question(
    home: Home, clock: FakeClock, kind: str, keys: tuple[str, ...]
) -> None:
    async with on_stage(home, clock, program=program(kind)) as stage:
        await stage.press(*keys)
        await stage.pilot.resize_terminal(*TOO_SMALL)
        await stage.pilot.pause()
        assert only_the_message_is_seen(stage)


async def test_the_size_named_is_enough(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, size=(56, 16)) as stage:
        assert not only_the_message_is_seen(stage)
    async with on_stage(home, clock, size=(55, 16)) as stage:
        assert only_the_message_is_seen(stage)
    async with on_stage(home, clock, size=(56, 15)) as stage:
        assert only_the_message_is_seen(stage)


async def test_time_stands_still_and_the_question_stays(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        clock.advance(3)
        await stage.press("a")
        before = stage.drill.session.seconds
        question = stage.question
        await stage.pilot.resize_terminal(*TOO_SMALL)
        await stage.pilot.pause()
        clock.advance(500)
        await stage.press("enter", "f2", "escape", "q")
        assert stage.drill.session.seconds == pytest.approx(before)
        await stage.pilot.resize_terminal(80, 24)
        await stage.pilot.pause()
        assert not only_the_message_is_seen(stage)
        assert stage.question is question
        assert stage.state is State.ASKING
        assert stage.marked  # the mark made before is there still
        clock.advance(1)
        assert stage.drill.session.seconds == pytest.approx(before + 1)
        await stage.press("3", "enter")
        assert stage.drill.session.verdicts[-1].right


async def test_a_session_begun_in_too_small_a_window_waits(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, size=TOO_SMALL, program=program("find", notes="D")) as stage:
        clock.advance(100)
        assert stage.drill.session.seconds == 0
        await stage.pilot.resize_terminal(80, 24)
        await stage.pilot.pause()
        clock.advance(2)
        assert stage.drill.session.seconds == pytest.approx(2)


async def test_today_cannot_be_started_unseen(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, size=TOO_SMALL) as stage:
        await stage.press("enter", "s")
        assert only_the_message_is_seen(stage)
        await stage.pilot.resize_terminal(80, 24)
        await stage.pilot.pause()
        await stage.press("enter")
        assert stage.state is State.ASKING


async def test_time_stands_still_under_help_whatever_the_window_does(
    home: Home, clock: FakeClock
) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        session = stage.drill.session
        await stage.press("question_mark")
        before = session.seconds
        for size in (TOO_SMALL, (80, 24)):
            await stage.pilot.resize_terminal(*size)
            await stage.pilot.pause()
            clock.advance(50)
            assert session.seconds == pytest.approx(before), size
        await stage.press("escape")
        assert stage.state is State.ASKING
        resumed = session.seconds
        clock.advance(1)
        assert session.seconds == pytest.approx(resumed + 1)


async def test_one_can_leave_a_small_window(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, size=TOO_SMALL) as stage:
        await stage.press("ctrl+q")
        assert not stage.app.is_running
