"""Answers by mouse."""

import pytest

from fretdrill.neck.neck import Place
from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from fretdrill.practice.settings import Settings
from fretdrill.tui.widgets.choices import Choices
from tests.conftest import FakeClock
from tests.tui.stage import on_stage, program

# D in fifth position on E A D G: A string fret 5, G string fret 7 (D2 = 38, D3 = 50).
D_LOW, D_HIGH = Place(3, 5), Place(1, 7)


@pytest.mark.parametrize(
    ("size", "left_handed"),
    [((80, 24), False), ((80, 24), True), ((60, 18), True), ((120, 40), False)],
)
async def test_a_click_marks_the_place_under_the_pointer(
    home: Home, clock: FakeClock, size: tuple[int, int], left_handed: bool
) -> None:
    settings = Settings(left_handed=left_handed)
    asked = program("find", notes="D")
    async with on_stage(home, clock, size=size, program=asked, settings=settings) as stage:
        for place in (D_LOW, D_HIGH, Place(4, 8)):
            clock.advance(1)
            await stage.pilot.click("#neck", offset=stage.offset(place))
        assert stage.marked == {D_LOW, D_HIGH, Place(4, 8)}
        await stage.pilot.click("#neck", offset=stage.offset(Place(4, 8)))
        assert stage.marked == {D_LOW, D_HIGH}
        await stage.press("enter")
        assert stage.drill.session.verdicts[-1].right
        await stage.pilot.click("#neck", offset=stage.offset(Place(4, 6)))
        assert stage.marked == {D_LOW, D_HIGH}


async def test_a_click_beside_the_strings_marks_nothing(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        column, _ = stage.offset(D_LOW)
        await stage.pilot.click("#neck", offset=(column, 0))
        await stage.pilot.click("#neck", offset=(column, 5))
        assert stage.marked == set()


@pytest.mark.parametrize("ascii_only", [False, True])
async def test_note_names_can_be_clicked(home: Home, clock: FakeClock, ascii_only: bool) -> None:
    settings = Settings(ascii_only=ascii_only)
    asked = program("name", notes="key Eb major")
    async with on_stage(home, clock, program=asked, settings=settings) as stage:
        right = stage.question.right
        choices = stage.app.screen.query_one("#choices", Choices)
        flat = "b" if ascii_only else "♭"
        for sign in str(right).replace("b", flat):
            row = str(choices.content)
            await stage.pilot.click("#choices", offset=(row.index(f" {sign} ") + 1, 0))
        await stage.press("enter")
        assert stage.drill.session.verdicts[-1].answer.given == right


async def test_the_accidental_can_be_clicked(home: Home, clock: FakeClock) -> None:
    """B flat, whichever note is asked: the letter, then the sign."""
    async with on_stage(home, clock, program=program("name")) as stage:
        row = str(stage.app.screen.query_one("#choices", Choices).content)
        for sign in "B♭":
            await stage.pilot.click("#choices", offset=(row.index(sign), 0))
        await stage.press("enter")
        assert str(stage.drill.session.verdicts[-1].answer.given) == "Bb"


async def test_a_finger_can_be_clicked(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("finger")) as stage:
        row = str(stage.app.screen.query_one("#choices", Choices).content)
        await stage.pilot.click("#choices", offset=(row.index(str(stage.question.right)), 0))
        assert stage.state is State.JUDGED
        assert stage.drill.session.verdicts[-1].right
