"""Help, the palette and keys of one's own: all from one declaration."""

import pytest
from textual.command import CommandPalette
from textual.widgets import Footer, Static
from textual.widgets._footer import FooterKey
from textual.widgets._toast import Toast

from fretdrill.practice.home import Home
from fretdrill.practice.session import State
from fretdrill.practice.settings import Settings
from fretdrill.tui.commands import Command
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


def footer_texts(stage: Stage) -> str:
    keys = stage.app.screen.query_one(Footer).query(FooterKey)
    return " ".join(f"{key.key_display} {key.description}" for key in keys)


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
        before = session.question_seconds
        clock.advance(300)
        assert session.question_seconds == pytest.approx(before)
        await stage.press("escape")
        assert stage.state is State.ASKING
        resumed = session.question_seconds
        assert resumed < 10
        clock.advance(5)
        assert session.question_seconds == pytest.approx(resumed + 5)


@screens
async def test_the_palette_has_every_action(
    home: Home, clock: FakeClock, screen: type[FretScreen]
) -> None:
    async with on_stage(home, clock) as stage:
        await go_to(stage, screen)
        offered = {one.title: one.help for one in stage.app.get_system_commands(stage.app.screen)}
        assert offered.keys() >= {command.label for command in screen.ACTIONS}
        assert offered.keys() >= {"Help", "Quit"}
        for command in screen.ACTIONS:
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
    """The palette offers it all the same."""
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
        assert "F2" not in footer_texts(stage).upper()
        assert "F4 GIVE UP" in footer_texts(stage).upper()
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
    keys = dict.fromkeys((*known, "help", "quit"), "f12")
    async with on_stage(home, clock, settings=Settings(commands=keys)) as stage:
        await stage.pilot.pause()
        assert toasts(stage) == ""


def test_command_ids_are_unique_and_belong_to_their_screen() -> None:
    ids = [command.id for screen in (*SCREENS, HelpScreen) for command in screen.ACTIONS]
    assert len(set(ids)) == len(ids)
    for screen in (*SCREENS, HelpScreen):
        for command in screen.ACTIONS:
            assert hasattr(screen, f"action_{command.action}")
            assert command.help.endswith(".")


async def test_the_footer_offers_what_can_be_done_now(home: Home, clock: FakeClock) -> None:
    async with on_stage(home, clock, program=program("find", notes="D")) as stage:
        assert "Answer" in footer_texts(stage)
        assert "Next" not in footer_texts(stage)
        await stage.press("f2")
        assert "Next" in footer_texts(stage)
        assert "Answer" not in footer_texts(stage)
