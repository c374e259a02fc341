"""The bottom line: what can be done now, by key or by mouse.

Textual's own Footer makes a widget for every key and makes them anew whenever one
comes or goes; with a question every few seconds that is slow, and what it holds on
to grows with every question. This is one line of text.
"""

from collections.abc import Sequence

from rich.text import Text
from textual import events
from textual.widgets import Static

from fretdrill.tui.commands import Command

GAP = "  "


class KeyLine(Static):
    """Keys and what they do; a click does it too."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__(id="keys")
        self._shown: tuple[tuple[str, Command], ...] = ()

    def show(self, commands: Sequence[tuple[str, Command]]) -> None:
        """Show commands, each with what is printed on its key."""
        if tuple(commands) == self._shown:
            return
        self._shown = tuple(commands)
        text = Text(no_wrap=True)
        for key, command in commands:
            text.append(f"{key} ", "bold")
            text.append(f"{command.label}{GAP}")
        self.update(text, layout=False)

    async def on_click(self, event: events.Click) -> None:
        """Do what was clicked."""
        offset = event.get_content_offset(self)
        if offset is None:
            return
        start = 0
        for key, command in self._shown:
            end = start + len(f"{key} {command.label}{GAP}")
            if start <= offset.x < end:
                await self.screen.run_action(command.action)
                return
            start = end
