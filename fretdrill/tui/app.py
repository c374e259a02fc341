"""The app: holds what the screens share and moves between them.

Screens other than the first are imported when they are first shown, so that the
first is painted sooner.
"""

import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.command import CommandPalette
from textual.screen import Screen

from fretdrill.errors import FretdrillError
from fretdrill.practice.log import log_unexpected
from fretdrill.practice.settings import Settings
from fretdrill.practice.start import Practice
from fretdrill.tui.commands import EVERYWHERE, Command, bindings, key_names
from fretdrill.tui.key_guard import KeyGuard, Press
from fretdrill.tui.notices import Notices
from fretdrill.tui.screen import FretScreen
from fretdrill.tui.screens.today import TodayScreen

if TYPE_CHECKING:
    from fretdrill.practice.program import Program
    from fretdrill.practice.session import Session
    from fretdrill.theory.line import Line
    from fretdrill.tui.line_work import OpenLine

NOTICE_S = 8
LONG_LINE = 500  # notes; planning more of them would hold the screen up


class FretdrillApp(App[FretdrillError]):
    """fretdrill on a terminal; returns the fault that ended it, if one did.

    Attributes:
        practice: the player at practice.
        crashed: whether an error that nobody foresaw ended the app.
    """

    ENABLE_COMMAND_PALETTE = False  # a command of ours, so that its key can be changed too
    # Textual does not load the sheet of a default screen, so Today's stands here.
    CSS_PATH = ["app.tcss", "screens/today.tcss"]  # noqa: RUF012 - Textual's own way
    TITLE = "fretdrill"
    BINDINGS: ClassVar[list[BindingType]] = bindings(EVERYWHERE)

    def __init__(
        self,
        practice: Practice,
        notices: Notices,
        program: "Program | None" = None,
        seed: int | None = None,
        line: str | None = None,
    ) -> None:
        """Prepare the app.

        Args:
            practice: the player at practice.
            notices: what was said before there was a screen.
            program: what to begin with; None begins at Today.
            seed: asks the same again; None for any.
            line: the name or path of a line to open at once.
        """
        super().__init__()
        self.practice = practice
        self.crashed = False
        self._notices = notices
        self._program = program
        self._seed = seed
        self._line = line
        self._guard = KeyGuard()

    @property
    def settings(self) -> Settings:
        """The player's settings."""
        return self.practice.settings

    def get_default_screen(self) -> Screen[None]:
        """Begin at Today."""
        return TodayScreen()

    def on_mount(self) -> None:
        """Use the player's settings."""
        self.apply_settings()

    def on_ready(self) -> None:
        """Do the rest, now that the first frame has been painted."""
        self._notices.listen(self._show_notice)
        if isinstance(self.screen, TodayScreen):
            self.screen.load()
        if self._program is not None:
            self.begin(self._program, self._seed)
        if self._line is not None:
            self.open_line(self._line)

    def on_unmount(self) -> None:
        """Leave later notices to whoever comes after."""
        self._notices.listen(None)

    def _show_notice(self, notice: str) -> None:
        # notify() only posts a message, so that it may be called from any thread.
        self.notify(notice, timeout=NOTICE_S, severity="warning", markup=False)

    def apply_settings(self) -> None:
        """Use the settings as they are now."""
        settings = self.settings
        self.theme = "textual-light" if self._is_light() else "textual-dark"
        self.set_class(settings.ascii_only, "-ascii")
        if settings.commands:
            from fretdrill.tui.screens import faults_of_keys

            for fault in faults_of_keys(settings.commands):
                self._notices.tell(f"settings.toml: keys.commands: {fault}")
        self.set_keymap(dict(settings.commands))

    def _is_light(self) -> bool:
        if self.settings.theme != "auto":
            return self.settings.theme == "light"
        # COLORFGBG is "foreground;background"; 7 and 15 are the light ones of the 16 colours.
        return os.environ.get("COLORFGBG", "").rpartition(";")[2] in ("7", "15")

    # Keys

    def keys_of(self, command: Command) -> list[str]:
        """Return what is printed on a command's keys, as the player has them."""
        return key_names(self.settings.commands.get(command.id, command.keys))

    def key_of(self, command: Command) -> str:
        """Return what is printed on a command's first key."""
        return self.keys_of(command)[0]

    def take_key(self, key: str) -> Press:
        """Take note of a key and say whether it is pressed or held down."""
        return self._guard.take(key, self.practice.clock.seconds())

    def press_again(self, keys: Iterable[events.Key]) -> None:
        """Take keys once more, the first of them as one that is pressed."""
        self._guard.forget()
        for key in keys:
            self.post_message(events.Key(key.key, key.character))

    # Sessions

    def begin(self, program: "Program", seed: int | None = None) -> None:
        """Begin a session; say so if it cannot be asked on this neck."""
        if program.longest <= LONG_LINE:
            self._begin(program, seed)
            return
        self.notify(f"Working out {program.title}; this takes some seconds.", markup=False)
        work = partial(self._plan_then_begin, program, seed)
        self.run_worker(work, name="plan lines", group="begin", exclusive=True, thread=True)

    def _plan_then_begin(self, program: "Program", seed: int | None) -> None:
        """Plan the lines of a program off the screen's thread; the plans are kept."""
        with suppress(FretdrillError):  # it is told when the session is begun
            program.check(self.settings.player)
        self.call_from_thread(self._begin, program, seed)

    def _begin(self, program: "Program", seed: int | None) -> None:
        from fretdrill.tui.screens.drill import DrillScreen

        try:
            session = self.practice.session(program, seed)
        except FretdrillError as fault:
            self.notify(str(fault), timeout=NOTICE_S, severity="error", markup=False)
            return
        self.push_screen(DrillScreen(session))

    def open_line(self, name: str, tell: Callable[[str], None] | None = None) -> None:
        """Open a line by its name or path.

        Args:
            name: name or path.
            tell: called with why it cannot be read; None for a notice.
        """
        work = partial(self._read_line, name, tell or self._tell_fault)
        self.run_worker(work, name="read line", group="begin", exclusive=True, thread=True)

    def _tell_fault(self, fault: str) -> None:
        self.notify(fault, timeout=NOTICE_S, severity="error", markup=False)

    def _read_line(self, name: str, tell: Callable[[str], None]) -> None:
        """Read a line and its pins off the screen's thread."""
        from fretdrill.practice.library import find_line
        from fretdrill.tui.line_work import OpenLine

        try:
            reading = find_line(name, self.practice.home.lines)
        except FretdrillError as fault:
            self.call_from_thread(tell, str(fault))
            return
        found = self.practice.pins.load(name, reading.line)
        opened = OpenLine(name, reading.line, self.settings, found.pins)
        said = [*map(str, reading.notices), *filter(None, [found.notice])]
        self.call_from_thread(self._show_line, opened, said)

    def _show_line(self, opened: "OpenLine", said: list[str]) -> None:
        from fretdrill.tui.screens.line import LineScreen

        self.push_screen(LineScreen(opened))
        for notice in said:
            self._notices.tell(notice)

    def drill_spot(self, name: str, line: "Line", note: int) -> None:
        """Begin a session about the notes around one of a line."""
        from fretdrill.practice.spots import spot_program

        try:
            program = spot_program(name, line, note, self.settings.player)
        except FretdrillError as fault:
            self.notify(str(fault), timeout=NOTICE_S, severity="error", markup=False)
        else:
            self.begin(program)

    def finish(self, session: "Session") -> None:
        """Show how a session went, in place of the session."""
        from fretdrill.tui.screens.result import ResultScreen

        self.switch_screen(ResultScreen(session))

    # Commands of every screen

    def action_help(self) -> None:
        """Show help on the screen that is open."""
        from fretdrill.tui.screens.help import HelpScreen

        if isinstance(self.screen, FretScreen) and not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))

    def action_palette(self) -> None:
        """Open the palette; its own placeholder ends in a sign that ASCII lacks."""
        if not CommandPalette.is_open(self):  # type: ignore[arg-type]
            placeholder = "Type a command's name"
            self.push_screen(CommandPalette(placeholder=placeholder, id="--command-palette"))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Put what can be done on the open screen into the palette."""
        if isinstance(screen, FretScreen):
            for command in screen.possible():
                run = partial(screen.run_action, command.action)
                yield SystemCommand(command.label, command.help, run)

    def _fatal_error(self) -> None:
        # Textual's own would print a traceback on the player's terminal; there is no public
        # hook. It is called while the exception is being handled.
        self._notices.listen(None)
        self._notices.tell(log_unexpected())
        self.crashed = True
        self._close_messages_no_wait()
