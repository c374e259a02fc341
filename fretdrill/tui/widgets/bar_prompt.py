"""A line to type a bar's number into; seen only while it is asked for."""

from textual import events
from textual.message import Message
from textual.widgets import Input


class BarPrompt(Input):
    """Asks for a number."""

    class Given(Message):
        """A number was typed, or the asking was given up: then there is none."""

        def __init__(self, number: int | None) -> None:
            super().__init__()
            self.number = number

    def __init__(self) -> None:
        """Begin unseen."""
        super().__init__(
            id="ask", placeholder="Bar number, then Enter", type="integer", compact=True
        )

    def begin(self) -> None:
        """Ask."""
        self.value = ""
        self.set_class(True, "-asking")
        self.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Tell the number."""
        event.stop()
        self._end(int(event.value) if event.value.isdecimal() and len(event.value) < 9 else None)

    def on_key(self, event: events.Key) -> None:
        """Give up on Escape."""
        if event.key == "escape":
            event.stop()
            event.prevent_default()
            self._end(None)

    def _end(self, number: int | None) -> None:
        self.set_class(False, "-asking")
        self.screen.set_focus(None)
        self.post_message(self.Given(number))
