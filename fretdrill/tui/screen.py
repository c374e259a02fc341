"""What all screens share: commands, help, and what happens in too small a window."""

from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from fretdrill.tui.commands import Command

if TYPE_CHECKING:
    from fretdrill.presentation.words import Words
    from fretdrill.tui.app import FretdrillApp

CONFIRMS = frozenset({"enter", "space", "escape"})
LEAST_COLUMNS, LEAST_ROWS = 56, 16
ROOMY_ROWS = 24  # from here up there are blank lines between the parts


class FretScreen(Screen[None]):
    """A screen of fretdrill.

    Subclasses list :attr:`ACTIONS`, put them into ``BINDINGS`` with
    :func:`fretdrill.tui.commands.bindings`, say what they are for in
    :attr:`PURPOSE`, and compose their parts in :meth:`compose_parts`.
    """

    ACTIONS: ClassVar[tuple[Command, ...]] = ()
    PURPOSE: ClassVar[str] = ""
    TITLE_WORD: ClassVar[str] = ""

    @property
    def fretdrill(self) -> "FretdrillApp":
        """The app, as what it is."""
        return cast("FretdrillApp", self.app)

    @property
    def words(self) -> "Words":
        """Words in the player's signs."""
        from fretdrill.presentation.words import Words  # after the first paint

        return Words(self.fretdrill.settings.ascii_only)

    def compose(self) -> ComposeResult:
        """Compose the parts, and what covers them in too small a window."""
        yield from self.compose_parts()
        yield Static(id="too-small")

    def compose_parts(self) -> ComposeResult:
        """Compose what the screen is made of."""
        yield from ()

    def on_resize(self, event: events.Resize) -> None:
        """Cover the screen while it is too small."""
        columns, rows = event.size
        too_small = columns < LEAST_COLUMNS or rows < LEAST_ROWS
        self.set_class(rows >= ROOMY_ROWS, "-roomy")
        if too_small:
            self.query_one("#too-small", Static).update(
                f"fretdrill needs {LEAST_COLUMNS} columns and {LEAST_ROWS} rows; this window has "
                f"{columns} and {rows}. Make it bigger and it goes on."
            )
        if too_small != self.has_class("-too-small"):
            self.set_class(too_small, "-too-small")
            self.covered(too_small)

    def on_key(self, event: events.Key) -> None:
        """Swallow what a key held down repeats; give the rest to the screen."""
        held = self.fretdrill.is_repeat(event.key) and self.is_command_key(event.key)
        if held or self.has_class("-too-small") or self.takes_key(event):
            event.stop()

    def is_command_key(self, key: str) -> bool:
        """Whether holding a key down must not do again what it does."""
        return key in CONFIRMS

    def takes_key(self, event: events.Key) -> bool:
        """Use a key before it counts as a command; for subclasses."""
        return False

    def covered(self, hidden: bool) -> None:
        """React to the screen being hidden or seen again; for subclasses."""
