"""Help: what the screen below is for, and its keys."""

from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from fretdrill.presentation.neck_drawing import in_ascii
from fretdrill.presentation.words import SAFETY
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.screen import FretScreen

SIGNS = (
    "On the neck: string 1, the highest, is at the top. The hand row under it shows where the "
    "fingers rest, the position in Roman numerals and the span from the first finger to the last. "
    "● is your mark, or a right one; ✗ a wrong one; ○ one you missed; ? the note asked about."
)
KEY_COLUMN = 18


class HelpScreen(FretScreen):
    """Explains the screen it was called from."""

    CSS_PATH = "help.tcss"
    TITLE_WORD = "Help"
    PURPOSE = "Says what a screen is for and lists its keys."
    ACTIONS = (Command("help.close", "escape,enter,q", "Close", "Go back.", "close"),)
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self, about: FretScreen) -> None:
        """Prepare to explain a screen."""
        super().__init__()
        self._about = about

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        yield Static(f"Help: {self._about.TITLE_WORD}", classes="title", markup=False)
        with VerticalScroll(id="help"):
            yield Static(self._text())

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one("#help").focus()

    def _text(self) -> Text:
        text = Text(f"{self._about.PURPOSE}\n\n")
        rows = [
            ("  ".join(self.fretdrill.keys_of(command)), command.help)
            for command in self._about.commands()
        ]
        for keys, meaning in (*rows, *self._about.MORE_KEYS):
            text.append(f"{keys:<{KEY_COLUMN}}", "bold")
            text.append(f"{meaning}\n")
        text.append(f"\n{SIGNS}\n\n{SAFETY}")
        if not self.fretdrill.settings.ascii_only:
            return text
        return Text(in_ascii(text.plain), spans=text.spans)

    def action_close(self) -> None:
        """Go back."""
        self.app.pop_screen()
