"""The list of lines: the player's own first, what is in each, a path typed, faults told."""

import pytest
from rich.text import Text
from textual.widgets import Input

from fretdrill.practice.settings import Settings
from fretdrill.tui.screens.line import LineScreen
from fretdrill.tui.screens.lines import LinesScreen
from fretdrill.tui.widgets.pack_list import PackList
from tests.tui.stage import Stage, on_stage

TUNE = "X:1\nT:{}\nM:4/4\nL:1/4\nK:Eb bass octave=-1\nE,E,E,E,|E,4|\n"


async def settle(stage: Stage) -> None:
    """Wait until files have been read and what they hold is shown."""
    await stage.pilot.pause()
    while list(stage.app.workers):
        await stage.app.workers.wait_for_complete()
        await stage.pilot.pause()


async def go_to_lines(stage: Stage) -> PackList:
    await stage.press("l")
    await settle(stage)
    assert isinstance(stage.app.screen, LinesScreen)
    return stage.app.screen.query_one("#lines", PackList)


def rows(listed: PackList) -> dict[str, str]:
    prompts = [(str(option.id), option.prompt) for option in listed.options]
    return {name: prompt.plain for name, prompt in prompts if isinstance(prompt, Text)}


@pytest.fixture
def own(home):
    home.lines.mkdir(parents=True)
    (home.lines / "zz-mine.abc").write_text(TUNE.format("Mine"), encoding="utf-8")
    return home.lines


async def test_own_lines_come_first_and_are_marked(home, clock, own):
    async with on_stage(home, clock) as stage:
        shown = rows(await go_to_lines(stage))
        assert next(iter(shown)) == "zz-mine"
        assert [name for name, row in shown.items() if " own " in row] == ["zz-mine"]
        assert shown["zz-mine"].split() == "zz-mine own 5 notes 2 bars E♭ major Mine".split()
        assert shown["walk-up"].split()[:5] == "walk-up 48 notes 12 bars".split()


@pytest.mark.parametrize("size", [(56, 16), (80, 24)])
async def test_the_list_is_ascii_where_asked_and_says_what_counts_first(home, clock, own, size):
    (own / ("long" * 20 + ".abc")).write_text(TUNE.format("Long"), encoding="utf-8")
    settings = Settings(ascii_only=True)
    async with on_stage(home, clock, size=size, settings=settings) as stage:
        shown = rows(await go_to_lines(stage))
        assert all(row.isascii() for row in shown.values())
        assert all(" notes " in row[: size[0]] for row in shown.values())
        assert all(" bars " in row[: size[0]] for row in shown.values())


async def test_a_faulty_line_is_told_and_cannot_be_opened(home, clock, own):
    (own / "aa-broken.mid").write_bytes(b"no music")
    async with on_stage(home, clock) as stage:
        listed = await go_to_lines(stage)
        assert listed.get_option("aa-broken").disabled
        assert "aa-broken.mid" in rows(listed)["aa-broken"]
        await stage.press("enter")  # the cursor has gone on to what can be opened
        await settle(stage)
        assert isinstance(stage.app.screen, LineScreen)
        assert stage.app.screen.opened.name == "zz-mine"


async def test_a_fault_of_a_path_is_one_sentence_and_the_field_stays(home, clock, tmp_path):
    path = tmp_path / "typed.abc"
    async with on_stage(home, clock) as stage:
        await go_to_lines(stage)
        await stage.press("o")
        field = stage.app.screen.query_one("#path", Input)
        field.value = str(path)
        await stage.press("enter")
        await settle(stage)
        assert stage.text("#fault") == f"there is no file {path}"
        assert stage.app.focused is field
        assert field.value == str(path)
        path.write_text(TUNE.format("Typed"), encoding="utf-8")
        await stage.press("enter")
        await settle(stage)
        assert isinstance(stage.app.screen, LineScreen)
        assert stage.app.screen.opened.line.title == "Typed"
        await stage.press("escape")
        assert stage.text("#fault") == ""
        await stage.press("escape", "escape")  # out of the field, then out of the list
        assert not isinstance(stage.app.screen, LinesScreen)
