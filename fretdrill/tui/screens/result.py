"""Result: how a session went, question by question, and beside earlier ones."""

from collections.abc import Iterator
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Footer, Static

from fretdrill.engine.question import Verdict
from fretdrill.practice.session import Session
from fretdrill.presentation.words import seconds
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.screen import FretScreen


class ResultScreen(FretScreen):
    """The end of a session."""

    CSS_PATH = "result.tcss"
    TITLE_WORD = "Result"
    PURPOSE = (
        "Points are the mean of the session's questions, 0 to 100. Below stands every question "
        "with what it was worth; what went wrong has its reasons and comes back more often."
    )
    ACTIONS = (
        Command("result.today", "enter,escape", "Today", "Go back to Today.", "today"),
        Command("result.again", "r", "Again", "The same session with new questions.", "again"),
    )
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self, session: Session) -> None:
        """Prepare to show how a session went."""
        super().__init__()
        self._session = session

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        result = self._session.result
        yield Static(result.title, classes="title", markup=False)
        yield Static(self.words.result(result), id="points", markup=False)
        yield Static("No.   points    time", id="columns", classes="quiet", markup=False)
        with VerticalScroll(id="questions"):
            for number, verdict in enumerate(result.verdicts, start=1):
                yield from self._lines(number, verdict)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one("#questions").focus()

    def _lines(self, number: int, verdict: Verdict) -> Iterator[Static]:
        words = self.words
        right, wrong = ("+", "x") if self.fretdrill.settings.ascii_only else ("✓", "✗")
        sign = right if verdict.right else wrong
        time = seconds(verdict.answer.seconds)
        task = words.task(verdict.question)
        line = f"{number:<3} {sign} {verdict.points:6} {time:>7}  {task}"
        yield Static(Text(line, "" if verdict.right else "bold"))
        if not verdict.right:
            yield Static("\n".join(words.reasons(verdict)), classes="reasons", markup=False)

    def action_today(self) -> None:
        """Go back to Today."""
        self.app.pop_screen()

    def action_again(self) -> None:
        """Begin the same session anew."""
        app = self.fretdrill
        app.pop_screen()
        app.begin(self._session.program)
