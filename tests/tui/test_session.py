"""A session from the first key to the result, by keys and by mouse."""

import pytest
from textual.widgets import OptionList

from fretdrill.engine.question import AnswerForm
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from fretdrill.practice.settings import Settings
from fretdrill.tui.screens.result import ResultScreen
from fretdrill.tui.screens.today import TodayScreen
from tests.conftest import FakeClock
from tests.tui.stage import QWERTY, attempts_in, key_name, on_stage, program

# D in fifth position on E A D G: A string fret 5, G string fret 7 (D2 = 38, D3 = 50).
D_LOW, D_HIGH = Place(3, 5), Place(1, 7)


async def test_first_run_needs_no_set_up_and_one_key_starts(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        assert isinstance(stage.app.screen, TodayScreen)
        packs = stage.app.screen.query_one("#packs", OptionList)
        assert packs.highlighted == 0
        assert "Daily" in str(packs.get_option_at_index(0).prompt)
        assert "Enter" in str(packs.get_option_at_index(0).prompt)
        assert "Warm up" in stage.text("#safety")
        await stage.press("enter")
        assert stage.state is State.ASKING
        assert stage.drill.session.length == 10


async def test_ten_right_answers_by_keys(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("enter")
        forms = set()
        for number in range(1, 11):
            assert stage.drill.session.number == number
            forms.add(stage.question.form)
            await stage.answer_rightly()
            assert stage.state is State.JUDGED
            assert stage.drill.session.verdicts[-1].right
            await stage.press("enter")
        assert forms == {AnswerForm.PLACES, AnswerForm.NOTE, AnswerForm.FINGER}
        assert isinstance(stage.app.screen, ResultScreen)
        assert "10 of 10 right" in stage.text("#points")
        await stage.press("enter")
        assert isinstance(stage.app.screen, TodayScreen)
        past = stage.text("#past")
        assert "Daily" in past
        assert "10 questions" in past
    assert attempts_in(home) == 10


async def test_history_is_there_when_one_comes_back(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger", count=1)) as stage:
        await stage.answer_rightly()
        await stage.press("enter")
    clock.advance(86_400)
    async with on_stage(home, clock) as stage:
        assert "Finger  1 question, " in stage.text("#past")
        assert "Warm up" not in stage.text("#safety")


async def test_a_wrong_mark_is_shown_with_its_reason(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        assert stage.question.right == {D_LOW, D_HIGH}
        await stage.press("a", "q", "enter")  # A string 5 is D; D string 5 is G
        assert stage.marked == {D_LOW, D_HIGH, Place(2, 5)}
        verdict = stage.text("#verdict")
        assert "1 of 2 found, 1 wrong" in verdict
        assert "D string, fret 5 is G" in verdict
        assert "Missed: G string, fret 7" in verdict
        # One right less half of one wrong, of two: (1 - 0.5) / 2. Pace is no matter yet.
        assert stage.drill.session.verdicts[-1].points == 25


async def test_giving_up_shows_the_answer_and_scores_nothing(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("f2")
        assert stage.state is State.JUDGED
        assert stage.drill.session.verdicts[-1].points == 0
        assert stage.marked == {D_LOW, D_HIGH}
        # D2 on the A string is the open D string; D3 lies an octave above it.
        told = stage.text("#verdict").splitlines()[1:]
        assert [line.split(", the same")[0].split(", an octave")[0] for line in told] == [
            "A string, fret 5",
            "G string, fret 7",
        ]
        await stage.press("f2")
        assert len(stage.drill.session.verdicts) == 1
    assert attempts_in(home) == 1


async def test_leaving_midway_keeps_what_was_answered(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger")) as stage:
        await stage.answer_rightly()
        await stage.press("enter", "escape")
        assert isinstance(stage.app.screen, ResultScreen)
        assert "1 of 1 right" in stage.text("#points")
    assert attempts_in(home) == 1


async def test_leaving_before_any_answer_goes_back_to_today(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("enter", "escape")
        assert isinstance(stage.app.screen, TodayScreen)
        assert stage.text("#past") == ""
    assert attempts_in(home) == 0


@pytest.mark.parametrize(
    ("kind", "remark"),
    [("find", "Mark a place first"), ("name", "Type a note first"), ("finger", "finger first")],
)
async def test_an_empty_answer_is_not_taken(
    home: Home, clock: FakeClock, kind: str, remark: str
) -> None:
    async with on_stage(home, clock, program=program(kind)) as stage:
        await stage.press("enter")
        assert stage.state is State.ASKING
        assert remark in stage.text("#verdict")
        assert "F2" in stage.text("#verdict")


async def test_the_remark_names_the_key_that_the_player_chose(home: Home, clock: FakeClock) -> None:
    settings = Settings(commands={"drill.give-up": "f4"})
    async with on_stage(home, clock, program=program("find"), settings=settings) as stage:
        await stage.press("enter")
        assert "F4" in stage.text("#verdict").upper()
        assert "F2" not in stage.text("#verdict")


async def test_again_begins_the_same_session_anew(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger", count=1)) as stage:
        await stage.answer_rightly()
        await stage.press("enter", "r")
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 1
        await stage.press("escape")
        assert isinstance(stage.app.screen, TodayScreen)


async def test_arrows_and_space_mark_too(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("up", "space")  # from E string 5 to A string 5
        await stage.press("up", "up", "right", "right", "space", "enter")
        assert stage.drill.session.verdicts[-1].right


async def test_points_progress_and_time_are_shown(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger", count=2)) as stage:
        assert "question 1 of 2" in stage.text("#status")
        assert "█" not in stage.text("#bar")
        clock.advance(8)
        await stage.answer_rightly()
        status = stage.text("#status")
        assert "points" in status
        assert "0:10" in status  # 8 s and 2 s before the key
        bar = stage.text("#bar")
        assert bar.count("█") == bar.count("░")
        await stage.press("enter")
        assert "question 2 of 2" in stage.text("#status")


async def test_time_to_read_a_verdict_is_not_counted(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger", count=2)) as stage:
        await stage.answer_rightly()
        clock.advance(600)
        await stage.press("enter")
        assert stage.drill.session.seconds == pytest.approx(2.0)


@pytest.mark.parametrize("columns", [60, 80])
async def test_the_place_asked_about_is_in_sight(
    home: Home, clock: FakeClock, columns: int
) -> None:
    """Whole neck, last fret of the lowest string: a page further up is needed at 60 columns."""
    asked = program("name", "frets 19-24, strings 4", "E", 1)
    async with on_stage(home, clock, size=(columns, 24), program=asked) as stage:
        place = stage.question.task.place
        assert place == Place(4, 24)  # E1 is 28, E3 is 52
        assert stage.neck.drawing.layout.shows(place.fret)
        await stage.press("e", "enter")
        assert stage.neck.drawing.layout.shows(place.fret)


async def test_marks_stay_in_sight_with_the_verdict(home: Home, clock: FakeClock) -> None:
    asked = program("find", "frets 13-24, string 4", "E", 1)
    async with on_stage(home, clock, size=(60, 18), program=asked) as stage:
        assert stage.question.right == {Place(4, 24)}
        await stage.press("end", "space", "enter")
        assert stage.drill.session.verdicts[-1].right
        assert stage.neck.drawing.layout.shows(24)


async def test_six_strings_are_answered_by_rows_with_shift(home: Home, clock: FakeClock) -> None:
    """B0 E1 A1 D2 G2 C3: string 6 is the bottom row with Shift, string 5 the one above."""
    settings = Settings(neck=Neck(Tuning.parse("6-string")))
    asked = program("find", notes="D")
    async with on_stage(home, clock, program=asked, settings=settings) as stage:
        rows = (*QWERTY, QWERTY[2].upper(), QWERTY[3].upper())
        right = stage.question.right
        assert isinstance(right, frozenset)
        # string 4 (A1 = 33) fret 5 and string 2 (G2 = 43) fret 7; C3 = 48, B0 = 23, E1 = 28
        assert right == {Place(4, 5), Place(2, 7)}
        await stage.press(*(key_name(rows[p.string - 1][p.fret - 5]) for p in right))
        await stage.press(rows[5][1])
        assert stage.marked == right | {Place(6, 6)}
