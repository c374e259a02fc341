"""A held key never answers twice and never skips."""

from unittest.mock import patch

import pytest

from fretdrill.neck.neck import Place
from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from fretdrill.tui.screens.result import ResultScreen
from fretdrill.tui.screens.today import TodayScreen
from tests.conftest import FakeClock
from tests.tui.stage import Stage, on_stage, program

FIRST_GAP_S, REPEAT_GAP_S = 0.5, 0.03  # common keyboard settings, no source
AGAIN_S = 0.5  # a finger that presses the same key once more
LONG_S = 600.0
PAST_WAIT_S = 0.3  # real time; the app waits 0.15 s for what follows an unsure press


async def hold(stage: Stage, key: str, times: int = 4) -> None:
    """Hold a key down after a calm moment."""
    # The app's wait is real time; a stalled machine must not make a press of a repeat.
    with patch("fretdrill.tui.screen.WAIT_S", LONG_S):
        await stage.press(key)
        await stage.press(key, gap_s=FIRST_GAP_S)
        await stage.press(*[key] * times, gap_s=REPEAT_GAP_S)


async def press_again(stage: Stage, key: str) -> None:
    """Press a key half a second after the same one, and nothing after it for a while."""
    await stage.press(key, gap_s=AGAIN_S)
    await stage.pilot.pause(PAST_WAIT_S)


@pytest.mark.parametrize("key", ["enter", "f2"])
async def test_holding_a_key_judges_once_and_stays(home: Home, clock: FakeClock, key: str) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("a")
        await hold(stage, key)
        assert stage.state is State.JUDGED
        assert stage.drill.session.number == 1
        await stage.press("enter")
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 2


async def test_holding_enter_on_a_verdict_asks_once(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("a", "enter")
        await hold(stage, "enter")
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 2
        assert stage.text("#verdict") == ""


async def test_enter_held_from_today_starts_and_does_no_more(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await hold(stage, "enter")
        assert stage.state is State.ASKING
        assert stage.text("#verdict") == ""


async def test_enter_held_through_the_last_verdict_stops_at_the_result(
    home: Home, clock: FakeClock
) -> None:
    async with on_stage(home, clock, program=program("finger", count=1)) as stage:
        await stage.answer_rightly()
        await hold(stage, "enter")
        assert isinstance(stage.app.screen, ResultScreen)
        await stage.press("enter")
        assert isinstance(stage.app.screen, TodayScreen)


async def test_a_held_digit_answers_one_question(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger")) as stage:
        await hold(stage, "1")
        assert len(stage.drill.session.verdicts) == 1


async def test_a_held_row_key_marks_and_does_not_flicker(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await hold(stage, "a", times=5)
        assert stage.marked == {Place(3, 5)}
        await stage.press("a")
        assert stage.marked == set()


async def test_held_space_marks_once(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await hold(stage, "space", times=4)
        assert stage.marked == {Place(4, 5)}


async def test_a_held_arrow_goes_on_moving(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", "frets 1-12")) as stage:
        await hold(stage, "right", times=5)
        assert stage.neck.view.cursor == Place(4, 8)  # from fret 1, seven steps


async def test_another_key_at_once_is_not_a_repeat(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("a")
        await stage.press("3", "enter", "space", gap_s=0.05)
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 2


async def test_a_note_may_have_two_signs_typed_quickly(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("name")) as stage:
        await stage.press("b", "b", gap_s=0.1)
        await stage.press("enter")
        assert str(stage.drill.session.verdicts[-1].answer.given) == "Bb"


async def test_held_escape_leaves_one_screen_only(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger")) as stage:
        await stage.answer_rightly()
        await hold(stage, "escape")
        assert isinstance(stage.app.screen, ResultScreen)


async def test_held_r_on_the_result_begins_once(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D", count=1)) as stage:
        await stage.press("f2", "enter")
        assert isinstance(stage.app.screen, ResultScreen)
        await hold(stage, "r")
        assert stage.state is State.ASKING
        assert stage.marked == set()  # r is a row key there: D string, fret 8


@pytest.mark.parametrize("key", ["enter", "f2"])
async def test_nothing_is_left_to_do_after_a_stream(home: Home, clock: FakeClock, key: str) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("a")
        await hold(stage, key)
        await stage.pilot.pause(PAST_WAIT_S)
        assert stage.state is State.JUDGED
        assert stage.drill.session.number == 1
        assert len(stage.drill.session.verdicts) == 1


async def test_enter_again_half_a_second_later_goes_on(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("a", "enter")
        assert stage.state is State.JUDGED
        await press_again(stage, "enter")
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 2
        await press_again(stage, "enter")  # once more: nothing is marked yet
        assert "Mark a place first" in stage.text("#verdict")
        assert stage.drill.session.number == 2


async def test_an_unsure_press_is_done_once(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger")) as stage:
        await stage.press("1")
        await stage.press("enter")
        await press_again(stage, "enter")
        await stage.pilot.pause(PAST_WAIT_S)
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 2
        assert len(stage.drill.session.verdicts) == 1


@pytest.mark.parametrize("key", ["a", "space"])
async def test_a_mark_is_taken_away_half_a_second_later(
    home: Home, clock: FakeClock, key: str
) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press(key)
        assert len(stage.marked) == 1
        await press_again(stage, key)
        assert stage.marked == set()


@pytest.mark.parametrize(
    ("key", "place"),
    [
        ("comma", Place(4, 8)),
        ("full_stop", Place(4, 9)),
        ("slash", Place(4, 10)),
        ("semicolon", Place(3, 10)),
    ],
)
async def test_so_is_one_made_by_a_key_that_is_no_letter(
    home: Home, clock: FakeClock, key: str, place: Place
) -> None:
    """The last keys of the lower rows, frets 1 to 10."""
    asked = program("find", "frets 1-10", "D")
    async with on_stage(home, clock, program=asked) as stage:
        await stage.press(key)
        assert stage.marked == {place}
        await press_again(stage, key)
        assert stage.marked == set()


async def test_the_same_finger_half_a_second_later_answers_nothing_twice(
    home: Home, clock: FakeClock
) -> None:
    async with on_stage(home, clock, program=program("finger")) as stage:
        await stage.press("1")
        await press_again(stage, "1")
        assert stage.state is State.JUDGED
        assert len(stage.drill.session.verdicts) == 1


async def test_another_key_tells_that_an_unsure_one_was_pressed(
    home: Home, clock: FakeClock
) -> None:
    """It was let go; both are done, in the order in which they came."""
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("a")
        await stage.press("a", gap_s=AGAIN_S)
        await stage.press("q", gap_s=REPEAT_GAP_S)
        await stage.pilot.pause(PAST_WAIT_S)
        assert stage.marked == {Place(2, 5)}
        await stage.press("q", gap_s=AGAIN_S)
        await stage.press("enter", gap_s=REPEAT_GAP_S)
        await stage.pilot.pause(PAST_WAIT_S)
        assert stage.state is State.ASKING  # both marks were gone when Enter came
        assert "Mark a place first" in stage.text("#verdict")


async def test_start_half_a_second_after_enter_on_the_result(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger", count=1)) as stage:
        await stage.answer_rightly()
        await stage.press("enter")
        assert isinstance(stage.app.screen, ResultScreen)
        await press_again(stage, "enter")
        assert isinstance(stage.app.screen, TodayScreen)
        await press_again(stage, "enter")
        assert stage.state is State.ASKING
