"""Lines: those that ship and the player's own, to be opened."""

import os
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Input, Static
from textual.widgets.option_list import Option, OptionDoesNotExist

from fretdrill.errors import InputError
from fretdrill.practice.library import line_files, load_line
from fretdrill.presentation import line_words
from fretdrill.presentation.names import Names
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.screen import FretScreen
from fretdrill.tui.widgets.pack_list import PackList

NAME_COLUMN, OWN_COLUMN = 18, 4
OWN = "own"
TYPE_A_PATH = "A file's path, then Enter: .abc, .mid"
READING = "being read"


class LinesScreen(FretScreen):
    """A list of lines."""

    CSS_PATH = "lines.tcss"
    TITLE_WORD = "Lines"
    PURPOSE = (
        "Choose a line and press Enter to see how it is played most easily, and what every other "
        "choice costs. Your own lines lie in the folder named above the list, and come first in it."
    )
    ACTIONS = (
        Command("lines.open", "enter", "Open", "Open the line under the cursor.", "open"),
        Command("lines.file", "o", "Open a file", "Type the path of a line's file.", "file"),
        Command("lines.back", "escape", "Back", "Go back to Today.", "back"),
    )
    MORE_KEYS = (("Arrows", "go from line to line"),)
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self) -> None:
        """Begin with no lines."""
        super().__init__()
        self._own: frozenset[str] = frozenset()

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        folder = self.fretdrill.practice.home.lines
        yield Static("Lines", classes="title", markup=False)
        yield Static(f"Your own: {folder}", classes="quiet", markup=False)
        yield PackList(id="lines", compact=True, markup=False)
        yield Static(id="fault", markup=False)
        yield Input(id="path", placeholder=TYPE_A_PATH, compact=True)

    def on_mount(self) -> None:
        """List names at once, and what is in the files as they are read."""
        own = self.fretdrill.practice.home.lines
        files = sorted(line_files(own).items(), key=lambda item: (item[1].parent != own, item[0]))
        self._own = frozenset(name for name, path in files if path.parent == own)
        listed = self.query_one("#lines", PackList)
        listed.add_options(Option(self._label(name, READING), id=name) for name, _ in files)
        if files:
            listed.highlighted = 0
        listed.focus()
        work = partial(self._read, files)
        self.run_worker(work, name="lines", group="lines", exclusive=True, thread=True)

    def _read(self, files: list[tuple[str, Path]]) -> None:
        """Read the files; on another thread."""
        for name, told, sound in _told(files, self.words.ascii_only):
            self.app.call_from_thread(self._tell, name, told, sound)

    def _tell(self, name: str, told: str, sound: bool) -> None:
        if not self.is_attached:
            return
        listed = self.query_one("#lines", PackList)
        try:
            listed.replace_option_prompt(name, self._label(name, told))
            if not sound:
                listed.disable_option(name)
                if listed.highlighted == listed.get_option_index(name):
                    listed.action_cursor_down()
        except OptionDoesNotExist:  # the list was made anew meanwhile
            return

    def _label(self, name: str, told: str) -> Text:
        cut = f"{name[: NAME_COLUMN - 2]:<{NAME_COLUMN}}"
        own = f"{OWN if name in self._own else '':<{OWN_COLUMN}}"
        return Text.assemble(Text(cut, "bold", end=""), own, told)

    def on_option_list_option_selected(self, event: PackList.OptionSelected) -> None:
        """Open the line that was chosen."""
        self._open(str(event.option_id))

    def _open(self, name: str) -> None:
        self._say("")
        self.fretdrill.open_line(name, self._say)

    def _say(self, fault: str) -> None:
        """Tell why a line cannot be opened."""
        if self.is_attached:
            self.put("#fault", fault)

    def action_open(self) -> None:
        """Open the line under the cursor."""
        self.query_one("#lines", PackList).action_select()

    def action_file(self) -> None:
        """Let a path be typed."""
        self.query_one("#path", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Open the file whose path was typed."""
        event.stop()
        path = event.value.strip()
        if path:
            self._open(os.path.expanduser(path))

    def action_back(self) -> None:
        """Go back, first from the path to the list."""
        if isinstance(self.focused, Input):
            self.query_one("#lines", PackList).focus()
        else:
            self.app.pop_screen()


def _told(files: list[tuple[str, Path]], ascii_only: bool) -> Iterator[tuple[str, str, bool]]:
    """Yield each line's name, what is in it or wrong with it, and whether it can be opened."""
    names = Names(ascii_only)
    for name, path in files:
        try:
            line = load_line(path).line
        except InputError as fault:
            yield name, str(fault).splitlines()[0], False
        else:
            yield name, line_words.contents(line, names), True
