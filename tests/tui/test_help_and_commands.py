"""Help, the palette and keys of one's own: all from one declaration."""

import pytest
from textual.command import CommandPalette
from textual.widgets import Static
from textual.widgets._toast import Toast

from fretdrill.neck.neck import Place
from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from fretdrill.practice.settings import Settings
from fretdrill.tui.app import FretdrillApp
from fretdrill.tui.commands import EVERYWHERE, Command
from fretdrill.tui.screen import FretScreen
from fretdrill.tui.screens.drill import DrillScreen
from fretdrill.tui.screens.help import HelpScreen
from fretdrill.tui.screens.result import ResultScreen
from fretdrill.tui.screens.setup import SetupScreen
from fretdrill.tui.screens.today import TodayScreen
from tests.conftest import FakeClock
from tests.tui.stage import Stage, on_stage, program, squeezed

SCREENS: dict[type[FretScreen], tuple[str, ...]] = {
    TodayScreen: (),
    SetupScreen: ("s",),
    DrillScreen: ("enter",),
    ResultScreen: ("enter", "f2", "escape"),
}
screens = pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.TITLE_WORD)


async def go_to(stage: Stage, screen: type[FretScreen]) -> None:
    await stage.press(*SCREENS[screen])
    assert isinstance(stage.app.screen, screen)


def help_text(stage: Stage) -> str:
    assert isinstance(stage.app.screen, HelpScreen)
    shown = stage.app.screen.query(Static)
    return squeezed(" ".join(str(part.content) for part in shown))


def spoken_keys(command: Command) -> list[set[str]]:
    """Ways in which a key may be written on the screen."""
    names = {"escape": {"escape", "Esc", "Escape"}, "space": {"space", "Space"}}
    ways = []
    for key in command.keys.split(","):
        written = {key, key.title(), key.upper(), key.replace("ctrl+", "Ctrl+")}
        written |= {f"Ctrl+{key[-1].upper()}"} if key.startswith("ctrl+") else set()
        ways.append(written | names.get(key, set()))
    return ways


def toasts(stage: Stage) -> str:
    return " ".join(str(toast.render()) for toast in stage.app.screen.query(Toast))


def key_line(stage: Stage) -> list[str]:
    """What the bottom line says, such as "F2 Give up"."""
    return [part for part in stage.text("#keys").split("  ") if part]


def palette(stage: Stage) -> dict[str, str]:
    """Title → help of what the palette lists."""
    commands = list(stage.app.get_system_commands(stage.app.screen))
    return {command.title: command.help for command in commands}


@pytest.mark.parametrize(
    ("screen", "key"),
    [*((screen, "question_mark") for screen in SCREENS), (SetupScreen, "f1")],
)
async def test_help_opens_and_lists_every_action_with_its_keys(
    home: Home, clock: FakeClock, screen: type[FretScreen], key: str
) -> None:
    async with on_stage(home, clock) as stage:
        await go_to(stage, screen)
        await stage.press(key)
        text = help_text(stage)
        assert screen.PURPOSE in text
        for command in screen.ACTIONS:
            assert command.help in text
            for written in spoken_keys(command):
                assert any(f"{way} " in text for way in written), command
        await stage.press("escape")
        assert isinstance(stage.app.screen, screen)


async def test_help_in_ascii_is_ascii(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, settings=Settings(ascii_only=True)) as stage:
        await stage.press("question_mark")
        assert help_text(stage).isascii()


async def test_help_names_keys_of_ones_own(home: Home, clock: FakeClock) -> None:
    settings = Settings(commands={"today.setup": "f9"})
    async with on_stage(home, clock, settings=settings) as stage:
        await stage.press("question_mark")
        text = help_text(stage).lower()
        assert "f9 tuning, neck" in text


@pytest.mark.parametrize("key", ["question_mark", "ctrl+p"])
async def test_time_stands_still_under_help_and_palette(
    home: Home, clock: FakeClock, key: str
) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        session = stage.drill.session
        await stage.press(key)
        before = session.seconds
        clock.advance(300)
        assert session.seconds == pytest.approx(before)
        await stage.press("escape")
        assert stage.state is State.ASKING
        resumed = session.seconds
        assert resumed < 10
        clock.advance(5)
        assert session.seconds == pytest.approx(resumed + 5)


NOT_YET = {"drill.next", "drill.play"}  # when a question has just been asked


@screens
async def test_the_palette_has_every_action_that_is_possible(
    home: Home, clock: FakeClock, screen: type[FretScreen]
) -> None:
    async with on_stage(home, clock) as stage:
        await go_to(stage, screen)
        offered = palette(stage)
        now = [command for command in screen.ACTIONS if command.id not in NOT_YET]
        assert offered.keys() == {command.label for command in now} | {"Help", "Find", "Quit"}
        for command in now:
            if command.label != "Quit":
                assert offered[command.label] == command.help


@screens
async def test_the_palette_names_nothing_twice(
    home: Home, clock: FakeClock, screen: type[FretScreen]
) -> None:
    async with on_stage(home, clock) as stage:
        await go_to(stage, screen)
        titles = [one.title for one in stage.app.get_system_commands(stage.app.screen)]
        assert len(set(titles)) == len(titles)


async def test_the_palette_lists_only_what_can_be_done_now(home: Home, clock: FakeClock) -> None:
    everywhere = {"Help", "Find", "Quit"}
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        assert palette(stage).keys() == {"Answer", "Give up", "Leave"} | everywhere
        await stage.press("f2")
        assert palette(stage).keys() == {"Next", "Leave"} | everywhere
        await stage.press("enter")
        assert palette(stage).keys() == {"Answer", "Give up", "Leave"} | everywhere


async def test_the_palette_runs_a_command(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press("ctrl+p")
        assert isinstance(stage.app.screen, CommandPalette)
        await stage.press("g", "i", "v", "e", gap_s=0.1)
        await stage.app.workers.wait_for_complete()
        await stage.pilot.pause()
        await stage.press("down", "enter")
        await stage.app.workers.wait_for_complete()
        await stage.pilot.pause()
        if isinstance(stage.app.screen, CommandPalette):
            await stage.press("enter")
            await stage.pilot.pause()
        assert stage.state is State.JUDGED
        assert stage.drill.session.verdicts[-1].answer.given is None


@pytest.mark.parametrize(
    ("first", "action"),
    [((), "next"), (("f2",), "answer"), (("f2",), "give_up")],
)
async def test_a_command_that_cannot_be_used_now_does_nothing(
    home: Home, clock: FakeClock, first: tuple[str, ...], action: str
) -> None:
    """Whoever calls for it."""
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await stage.press(*first)
        state, number = stage.state, stage.drill.session.number
        await stage.drill.run_action(action)
        await stage.pilot.pause()
        assert (stage.state, stage.drill.session.number) == (state, number)


async def test_a_key_of_ones_own_replaces_the_usual_one(home: Home, clock: FakeClock) -> None:
    settings = Settings(commands={"drill.give-up": "f4"})
    async with on_stage(home, clock, program=program("find"), settings=settings) as stage:
        await stage.press("f2")
        assert stage.state is State.ASKING
        assert "F2" not in stage.text("#keys").upper()
        assert "F4 Give up" in key_line(stage)
        await stage.press("f4")
        assert stage.state is State.JUDGED


async def test_keys_of_ones_own_come_from_the_settings_file(home: Home, clock: FakeClock) -> None:
    home.config.mkdir(parents=True)
    home.settings.write_text('[keys.commands]\n"today.setup" = "f9"\n', encoding="utf-8")
    async with on_stage(home, clock) as stage:
        await stage.press("s")
        assert isinstance(stage.app.screen, TodayScreen)
        await stage.press("f9")
        assert isinstance(stage.app.screen, SetupScreen)


async def test_an_unknown_command_is_told_with_the_nearest(home: Home, clock: FakeClock) -> None:
    settings = Settings(commands={"drill.giv-up": "f4"})
    async with on_stage(home, clock, settings=settings) as stage:
        await stage.pilot.pause()
        assert "drill.giv-up" in toasts(stage)
        assert "drill.give-up" in toasts(stage)
        await stage.press("enter")
        assert stage.state is State.ASKING


async def test_every_command_that_there_is_may_be_given_a_key(home: Home, clock: FakeClock) -> None:
    known = {command.id for screen in (*SCREENS, HelpScreen) for command in screen.ACTIONS}
    known |= {"help", "palette", "quit"}
    # Each its own key, for one that two commands of a screen share is told.
    keys = {command: f"f{number}" for number, command in enumerate(sorted(known), start=1)}
    assert len(keys) <= 24  # there are no more function keys
    async with on_stage(home, clock, settings=Settings(commands=keys)) as stage:
        await stage.pilot.pause()
        assert toasts(stage) == ""


def test_command_ids_are_unique_and_belong_to_their_screen() -> None:
    ids = [command.id for screen in (*SCREENS, HelpScreen) for command in screen.ACTIONS]
    ids += [command.id for command in EVERYWHERE]
    assert len(set(ids)) == len(ids)
    for screen in (*SCREENS, HelpScreen):
        for command in screen.ACTIONS:
            assert command.id.startswith(f"{screen.TITLE_WORD.lower().replace('-', '')}.")
            holder = FretdrillApp if command.action.startswith("app.") else screen
            assert hasattr(holder, f"action_{command.action.removeprefix('app.')}")
            assert command.help.endswith(".")
    for command in EVERYWHERE:
        assert "." not in command.id
        assert command.action.startswith("app.")
        assert hasattr(FretdrillApp, f"action_{command.action.removeprefix('app.')}")
        assert command.help.endswith(".")


async def test_the_key_line_shows_what_can_be_done_now(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        asking = ["Enter Answer", "F2 Give up", "Esc Leave", "? Help"]
        assert key_line(stage) == asking
        await stage.press("f2")
        assert key_line(stage) == ["Enter Next", "Esc Leave", "? Help"]
        await stage.press("enter")
        assert key_line(stage) == asking


@screens
async def test_the_key_line_names_no_key_twice_and_fits(
    home: Home, clock: FakeClock, screen: type[FretScreen]
) -> None:
    async with on_stage(home, clock, size=(56, 16)) as stage:
        await go_to(stage, screen)
        shown = key_line(stage)
        keys = [part.split(" ")[0] for part in shown]
        assert len(set(keys)) == len(keys)
        assert len(set(shown)) == len(shown)
        assert "? Help" in shown
        line = stage.app.screen.query_one("#keys")
        assert len(stage.text("#keys").rstrip()) <= line.content_size.width
        assert line.region.bottom == 16


async def click_key(stage: Stage, shown: str, *, at_end: bool = False) -> None:
    """Click on the first or last sign of what the key line says."""
    line = stage.text("#keys")
    column = line.index(shown) + (len(shown) - 1 if at_end else 0)
    place = stage.app.screen.query_one("#keys")
    left = place.content_region.x - place.region.x
    stage.clock.advance(2)
    await stage.pilot.click("#keys", offset=(left + column, 0))
    await stage.pilot.pause()


@pytest.mark.parametrize("at_end", [False, True])
async def test_a_click_on_the_key_line_does_it(home: Home, clock: FakeClock, at_end: bool) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        await click_key(stage, "F2 Give up", at_end=at_end)
        assert stage.state is State.JUDGED
        assert stage.drill.session.verdicts[-1].answer.given is None
        await click_key(stage, "Enter Next", at_end=at_end)
        assert stage.state is State.ASKING
        assert stage.drill.session.number == 2
        await click_key(stage, "Enter Answer", at_end=at_end)
        assert "Mark a place first" in stage.text("#verdict")
        await stage.press("a")
        await click_key(stage, "Enter Answer", at_end=at_end)
        assert stage.state is State.JUDGED
        await click_key(stage, "? Help", at_end=at_end)
        assert isinstance(stage.app.screen, HelpScreen)
        await click_key(stage, "Esc Close", at_end=at_end)
        await click_key(stage, "Esc Leave", at_end=at_end)
        assert isinstance(stage.app.screen, ResultScreen)
        await click_key(stage, "R Again" if "R Again" in key_line(stage) else "r Again")
        assert stage.state is State.ASKING
        await click_key(stage, "Esc Leave", at_end=at_end)
        assert isinstance(stage.app.screen, TodayScreen)
        await click_key(stage, "s Set-up", at_end=at_end)
        assert isinstance(stage.app.screen, SetupScreen)


async def test_a_click_beside_the_keys_does_nothing(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        end = len(stage.text("#keys"))
        await stage.pilot.click("#keys", offset=(end + 3, 0))
        await stage.pilot.pause()
        assert isinstance(stage.app.screen, DrillScreen)
        assert stage.state is State.ASKING
        assert stage.text("#verdict") == ""


@pytest.mark.parametrize("ascii_only", [False, True])
async def test_drill_help_tells_how_to_mark_name_and_finger(
    home: Home, clock: FakeClock, ascii_only: bool
) -> None:
    settings = Settings(ascii_only=ascii_only)
    async with on_stage(home, clock, program=program("find"), settings=settings) as stage:
        await stage.press("f1")
        shown = stage.app.screen.query(Static)
        lines = "\n".join(str(part.content) for part in shown).splitlines()
        keys = "<keys>" if ascii_only else "‹keys›"
        told = {
            "Arrows  Space": ("place", "mark"),
            keys: ("place", "mark"),
            "Backspace": ("marks", "note"),
            "A-G  b  #": ("name", "note"),
            "0-4": ("finger", "answers"),
        }
        for key, words in told.items():
            (line,) = [one for one in lines if one.startswith(f"{key} ")]
            assert all(word in line.removeprefix(key) for word in words), line


async def test_left_handed_row_keys_mark_where_the_picture_has_them(
    home: Home, clock: FakeClock
) -> None:
    """Fifth position, nut on the right: a is fret 8, f is fret 5 of the A string."""
    asked, settings = program("find", notes="D"), Settings(left_handed=True)
    async with on_stage(home, clock, program=asked, settings=settings) as stage:
        columns = [stage.offset(Place(3, fret))[0] for fret in (8, 7, 6, 5)]
        assert columns == sorted(columns)
        for key, fret in zip("asdf", (8, 7, 6, 5), strict=True):
            await stage.press(key)
            assert stage.marked == {Place(3, fret)}
            await stage.press("backspace")
