"""A row of choices to click, each standing for a key."""

from collections.abc import Collection, Sequence

from rich.text import Text
from textual import events
from textual.message import Message
from textual.widgets import Static

GAP = 3


class Choices(Static):
    """Choices in a row; the chosen one is bracketed, so that it shows without colour."""

    class Picked(Message):
        """A choice was clicked."""

        def __init__(self, choice: str) -> None:
            super().__init__()
            self.choice = choice

    def __init__(self, *, id: str | None = None) -> None:
        """Begin with none."""
        super().__init__(id=id)
        self._choices: Sequence[str] = ()

    def offer(self, choices: Sequence[str], chosen: Collection[str] = ()) -> None:
        """Show choices, some of them chosen."""
        self._choices = choices
        text = Text(no_wrap=True)
        for choice in choices:
            picked = choice in chosen
            cell = f"[{choice}]" if picked else f" {choice} "
            text.append(cell, style="bold reverse" if picked else "")
            text.append(" " * (GAP - 2))
        self.update(text)

    def on_click(self, event: events.Click) -> None:
        """Tell what was clicked."""
        offset = event.get_content_offset(self)
        if offset is None:
            return
        start = 0
        for choice in self._choices:
            end = start + len(choice) + GAP
            if start <= offset.x < end:
                self.post_message(self.Picked(choice))
                return
            start = end
