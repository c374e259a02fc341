"""Set-up: seen at once, saved whole, or not at all."""

import dataclasses
import tomllib
from typing import Any

import pytest
from textual.widgets import Input, Select, Static

from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.home import Home
from fretdrill.practice.settings import Settings, load_settings
from fretdrill.tui.screens.setup import SetupScreen
from fretdrill.tui.screens.today import TodayScreen
from tests.conftest import FakeClock
from tests.tui.stage import Stage, on_stage


async def choose(stage: Stage, **values: Any) -> None:
    """Fill the form in; ``__`` in a name stands for ``-``."""
    for name, value in values.items():
        widget = stage.app.screen.query_one(f"#{name.replace('__', '-')}")
        assert isinstance(widget, Select | Input)
        widget.value = value
    await stage.pilot.pause()


def faults(stage: Stage) -> str:
    shown = stage.app.screen.query_one("#faults", Static)
    return str(shown.content) if shown.display else ""


async def test_the_form_shows_the_settings_and_finds_nothing_wrong(
    home: Home, clock: FakeClock
) -> None:
    settings = Settings(neck=Neck(Tuning.parse("5-string"), 21, 889.0), left_handed=True)
    async with on_stage(home, clock, settings=settings) as stage:
        await stage.press("s")
        assert isinstance(stage.app.screen, SetupScreen)
        assert stage.app.screen.query_one("#tuning", Select).value == "5-string"
        assert stage.app.screen.query_one("#frets", Input).value == "21"
        assert stage.app.screen.query_one("#scale", Select).value == "extra-long"
        assert stage.app.screen.query_one("#left", Select).value == "yes"
        assert faults(stage) == ""
        assert stage.neck.view.neck == settings.neck
        assert set(stage.neck.view.fingers) >= {1, 2, 4}


async def test_everything_can_be_changed_and_is_kept(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        await choose(
            stage,
            tuning="5-string",
            frets="21",
            scale="extra-long",
            hand="large",
            system="1-2-4",
            pace="careful",
            left="yes",
            accidentals="sharps",
            keyboard="nordic",
            hints="no",
            ascii="yes",
            theme="light",
        )
        assert faults(stage) == ""
        preview = stage.neck
        assert len(preview.view.neck.tuning) == 5
        assert preview.drawing.layout.mirrored
        assert all(line.isascii() for line in preview.drawing.lines)
        assert not home.settings.exists()
        await stage.press("ctrl+s")
        assert isinstance(stage.app.screen, TodayScreen)
        assert str(stage.neck.view.neck.tuning) == "B0 E1 A1 D2 G2"
        assert stage.neck.view.neck.frets == 21
        assert stage.neck.drawing.layout.mirrored
        assert all(line.isascii() for line in stage.neck.drawing.lines)
        await stage.press("enter")
        assert stage.question.player.neck == stage.app.settings.neck
        assert stage.question.player.accidentals == "sharps"
    written = tomllib.loads(home.settings.read_text(encoding="utf-8"))
    assert written["neck"] == {"tuning": "5-string", "frets": 21, "scale_mm": 889.0}
    assert written["hand"] == {"size": "large", "system": "1-2-4", "pace": "careful"}
    assert written["notes"] == {"accidentals": "sharps"}
    assert written["screen"] == {
        "left_handed": True,
        "ascii": True,
        "theme": "light",
        "key_hints": False,
    }
    assert written["keys"]["rows"] == "nordic"
    assert load_settings(home.settings).neck == Neck(Tuning.parse("5-string"), 21, 35 * 25.4)


@pytest.mark.parametrize("key", ["ctrl+s", "f10"])
async def test_own_tuning_scale_and_hand(home: Home, clock: FakeClock, key: str) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        await choose(stage, tuning="own", scale="own", hand="own")
        await choose(stage, tuning__own="A0 D1 G1 C2", scale__own="825.5", hand__own="105")
        assert faults(stage) == ""
        assert str(stage.neck.view.neck.tuning) == "A0 D1 G1 C2"
        await stage.press(key)
        assert isinstance(stage.app.screen, TodayScreen)
    kept = load_settings(home.settings)
    assert str(kept.neck.tuning) == "A0 D1 G1 C2"
    assert kept.neck.scale_mm == 825.5
    assert kept.hand.span(1, 4).comfortable == pytest.approx(105)


FAULTS = (
    ({"frets": "99"}, "Frets"),
    ({"frets": ""}, "Frets"),
    ({"frets": "24", "tuning": "own", "tuning__own": "E1 A1 H2"}, "Tuning"),
    ({"tuning__own": ""}, "Tuning"),
    ({"tuning": "4-string", "scale": "own", "scale__own": "34"}, "Scale length"),
    ({"scale__own": "wide"}, "Scale length"),
    ({"scale__own": "nan"}, "Scale length"),
    ({"scale__own": "inf"}, "Scale length"),
    ({"scale": "long", "hand": "own", "hand__own": "9"}, "Hand"),
    ({"hand__own": "huge"}, "Hand"),
)


async def test_each_fault_is_shown_and_not_saved(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        for values, told in FAULTS:
            await choose(stage, **values)
            assert faults(stage).count("\n") == 0, values
            assert told in faults(stage).partition(":")[0], values
            await stage.press("ctrl+s")
            assert isinstance(stage.app.screen, SetupScreen)
            assert not home.settings.exists()


async def test_all_faults_are_shown_at_once_and_go_away(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        await choose(stage, frets="5", hand="own")
        await choose(stage, hand__own="1")
        assert "Frets: " in faults(stage)
        assert "Hand: " in faults(stage)
        await choose(stage, frets="20", hand="small")
        assert faults(stage) == ""
        assert stage.neck.view.neck.frets == 20


async def test_cancelling_changes_nothing(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        before = stage.app.settings
        await stage.press("s")
        await choose(stage, tuning="6-string", left="yes", ascii="yes", theme="light")
        await stage.press("escape")
        assert isinstance(stage.app.screen, SetupScreen)  # asked once, since something is lost
        await stage.press("escape")
        assert isinstance(stage.app.screen, TodayScreen)
        assert stage.app.settings == before
        assert len(stage.neck.view.neck.tuning) == 4
        assert not stage.neck.drawing.layout.mirrored
    assert not home.settings.exists()


async def test_leaving_without_a_change_is_not_asked_twice(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s", "escape")
        assert isinstance(stage.app.screen, TodayScreen)


async def test_the_form_begins_at_its_first_row(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        assert stage.app.focused is not None
        assert stage.app.focused.id == "tuning"
        await stage.press("enter", "down", "enter")  # the second tuning of the list
        assert len(stage.neck.view.neck.tuning) == 5


async def test_what_only_this_run_was_told_is_not_saved(home: Home, clock: FakeClock) -> None:
    """As with --ascii on the command line."""
    async with on_stage(home, clock) as stage:
        practice = stage.app.practice
        practice._adapt = lambda saved: dataclasses.replace(saved, ascii_only=True)
        practice.saved = practice.saved  # as the command line has it from the start
        assert stage.app.settings.ascii_only
        await stage.press("s")
        await choose(stage, frets="20")
        await stage.press("ctrl+s")
        assert stage.app.settings.ascii_only
    assert not load_settings(home.settings).ascii_only


async def test_the_form_is_filled_in_by_keys_alone(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        while stage.app.focused is None or stage.app.focused.id != "frets":
            await stage.press("tab", gap_s=1)
        await stage.press("end", "backspace", "backspace", "2", "2", gap_s=0.2)
        assert stage.neck.view.neck.frets == 22
        await stage.press("ctrl+s")
        assert isinstance(stage.app.screen, TodayScreen)
    assert load_settings(home.settings).neck.frets == 22


async def test_a_preset_is_chosen_by_keys(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        stage.app.screen.query_one("#tuning", Select).focus()
        await stage.press("enter", "down", "enter")
        assert stage.app.screen.query_one("#tuning", Select).value == "5-string"
        assert len(stage.neck.view.neck.tuning) == 5


async def test_saving_keeps_what_a_person_wrote(home: Home, clock: FakeClock) -> None:
    home.config.mkdir(parents=True)
    home.settings.write_text(
        '# my bass\n[neck]\nfrets = 20 # worn\n\n[keys.commands]\n"today.setup" = "f9"\n',
        encoding="utf-8",
    )
    async with on_stage(home, clock) as stage:
        await stage.press("f9")
        await choose(stage, tuning="drop-d")
        await stage.press("ctrl+s")
    text = home.settings.read_text(encoding="utf-8")
    assert "# my bass" in text
    assert "# worn" in text
    written = tomllib.loads(text)
    assert written["neck"]["tuning"] == "drop-d"
    assert written["keys"]["commands"] == {"today.setup": "f9"}


async def test_a_file_that_cannot_be_written_is_told(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        home.settings.mkdir(parents=True)  # in the file's place
        await choose(stage, frets="20")
        await stage.press("ctrl+s")
        assert isinstance(stage.app.screen, SetupScreen)


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
async def test_the_whole_form_can_be_reached(
    home: Home, clock: FakeClock, size: tuple[int, int]
) -> None:
    async with on_stage(home, clock, size=size) as stage:
        await stage.press("s")
        form = stage.app.screen.query_one("#form")
        assert form.region.height >= 3
        stage.app.screen.query_one("#theme").focus()
        for _ in range(20):  # a busy machine scrolls a few frames later
            await stage.pilot.pause()
            if form.region.contains_region(stage.app.screen.query_one("#theme").region):
                return
        raise AssertionError("the last choice does not scroll into sight")
