"""What all screens share: commands, the key line, held keys, too small a window."""

from typing import TYPE_CHECKING, ClassVar, NamedTuple, cast

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.timer import Timer
from textual.widgets import Static

from fretdrill.tui.commands import EVERYWHERE, Command
from fretdrill.tui.key_guard import WAIT_S, Press
from fretdrill.tui.widgets.key_line import KeyLine
from fretdrill.tui.widgets.neck import NeckWidget

if TYPE_CHECKING:
    from fretdrill.presentation.words import Words
    from fretdrill.tui.app import FretdrillApp

CONFIRMS = frozenset({"enter", "space", "escape"})
LEAST_COLUMNS, LEAST_ROWS = 56, 16
ROOMY_ROWS = 24  # from here up there are blank lines between the parts
SHORT_ROWS = 20  # below this there is no room for a sheet beside a verdict
TALL_ROWS = 30  # from here up a question stays beside its verdict


class Unsure(NamedTuple):
    """A key that may be pressed again or held down."""

    event: events.Key
    timer: Timer


class FretScreen(Screen[None]):
    """A screen of fretdrill.

    Subclasses list :attr:`ACTIONS`, put them into ``BINDINGS`` with
    :func:`fretdrill.tui.commands.bindings`, say what they are for in
    :attr:`PURPOSE`, and compose their parts in :meth:`compose_parts`.
    """

    ACTIONS: ClassVar[tuple[Command, ...]] = ()
    PURPOSE: ClassVar[str] = ""
    TITLE_WORD: ClassVar[str] = ""
    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = ()
    """Keys that are no commands, with what they do, for the help."""

    _unsure: "Unsure | None" = None

    @property
    def fretdrill(self) -> "FretdrillApp":
        """The app, as what it is."""
        return cast("FretdrillApp", self.app)

    @property
    def words(self) -> "Words":
        """Words in the player's signs."""
        from fretdrill.presentation.words import Words  # after the first paint

        return Words(self.fretdrill.settings.ascii_only)

    # Parts

    def compose(self) -> ComposeResult:
        """Compose the parts, the key line, and what covers them in too small a window."""
        yield from self.compose_parts()
        yield KeyLine()
        yield Static(id="too-small")

    def compose_parts(self) -> ComposeResult:
        """Compose what the screen is made of."""
        yield from ()

    def neck_widget(self) -> NeckWidget:
        """Return the player's neck."""
        settings = self.fretdrill.settings
        neck = NeckWidget(settings.neck)
        neck.apply(ascii_only=settings.ascii_only, mirrored=settings.left_handed)
        return neck

    @property
    def neck(self) -> NeckWidget:
        """The neck on this screen."""
        return self.query_one("#neck", NeckWidget)

    def put(self, selector: str, text: str) -> None:
        """Say something in one of the parts."""
        self.query_one(selector, Static).update(text)

    # Commands

    def possible(self) -> list[Command]:
        """Return what can be done now, on this screen and on every one."""
        return [command for command in self.commands() if self.check_action(command.action, ())]

    @classmethod
    def commands(cls) -> list[Command]:
        """Return the screen's commands and those of every screen, nothing twice."""
        own = {command.action for command in cls.ACTIONS}
        return [*cls.ACTIONS, *(command for command in EVERYWHERE if command.action not in own)]

    def show_keys(self) -> None:
        """Show what can be done now."""
        app = self.fretdrill
        shown = [(app.key_of(command), command) for command in self.possible() if command.in_line]
        self.query_one(KeyLine).show(shown)

    def on_screen_resume(self) -> None:
        """Show the keys; they may have been changed."""
        self.show_keys()

    # Keys

    def on_key(self, event: events.Key) -> None:
        """Swallow what a key held down repeats; give the rest to the screen."""
        waiting, self._unsure = self._unsure, None
        if waiting is not None:
            waiting.timer.stop()
            if waiting.event.key != event.key:  # so the first was let go, and was a press
                event.stop()
                self._press_after_all(waiting, event)
                return
        press = self.fretdrill.take_key(event.key)
        if press is not Press.ANEW and self.is_command_key(event.key):
            event.stop()
            if press is Press.UNSURE:
                self._unsure = Unsure(event, self.set_timer(WAIT_S, self._nothing_followed))
        elif self.has_class("-too-small") or self.takes_key(event):
            event.stop()

    def _nothing_followed(self) -> None:
        """Take an unsure key for pressed after all."""
        if self._unsure is not None and self.app.screen is self:
            self._press_after_all(self._unsure)
        self._unsure = None

    def _press_after_all(self, unsure: "Unsure", *later: events.Key) -> None:
        """Send an unsure key again, as one that is pressed, and what came after it."""
        # Called by the app: what a screen itself sends does not rise beyond that screen.
        self.app.call_later(self.fretdrill.press_again, (unsure.event, *later))

    def is_command_key(self, key: str) -> bool:
        """Whether holding a key down must not do again what it does."""
        return key in CONFIRMS

    def takes_key(self, event: events.Key) -> bool:
        """Use a key before it counts as a command; for subclasses."""
        return False

    # Size

    def on_resize(self, event: events.Resize) -> None:
        """Cover the screen while it is too small."""
        columns, rows = event.size
        too_small = columns < LEAST_COLUMNS or rows < LEAST_ROWS
        self.set_class(rows >= ROOMY_ROWS, "-roomy")
        self.set_class(rows < TALL_ROWS, "-low")
        self.set_class(rows < SHORT_ROWS, "-short")
        if too_small:
            self.put(
                "#too-small",
                f"fretdrill needs {LEAST_COLUMNS} columns and {LEAST_ROWS} rows; this window has "
                f"{columns} and {rows}. Make it bigger and it goes on.",
            )
        if too_small != self.has_class("-too-small"):
            self.set_class(too_small, "-too-small")
            self.covered(too_small)

    def covered(self, hidden: bool) -> None:
        """React to the screen being hidden or seen again; for subclasses."""
