"""Result: how a session went, question by question, and beside earlier ones."""

from typing import ClassVar

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from fretdrill.engine.question import Verdict
from fretdrill.practice.session import Result, Session
from fretdrill.presentation.words import seconds
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.screen import FretScreen


class ResultScreen(FretScreen):
    """The end of a session."""

    CSS_PATH = "result.tcss"
    TITLE_WORD = "Result"
    PURPOSE = (
        "Each question is worth up to 100 points. Below stands every one with what it brought; "
        "what went wrong has its reasons and comes back more often."
    )
    ACTIONS = (
        Command("result.today", "enter,escape", "Today", "Go back to Today.", "today"),
        Command("result.again", "r", "Again", "The same session with new questions.", "again"),
    )
    MORE_KEYS = (("Arrows", "scroll"),)
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
        yield Static(self.words.to_practise(result), id="practise", markup=False)
        with VerticalScroll(id="questions"):
            yield Static(self._table(result))

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one("#questions").focus()

    def _table(self, result: Result) -> Table:
        ascii_only = self.fretdrill.settings.ascii_only
        right, partly, wrong = ("+", "~", "x") if ascii_only else ("✓", "~", "✗")
        table = Table(box=None, pad_edge=False, expand=True, show_edge=False, padding=(0, 2, 0, 0))
        for heading in ("No.", "", "points", "time"):
            table.add_column(heading, justify="right", no_wrap=True)
        table.add_column("question", ratio=1)
        for number, verdict in enumerate(result.verdicts, start=1):
            sign = right if verdict.right else partly if verdict.points else wrong
            time = seconds(verdict.answer.seconds)
            table.add_row(str(number), sign, str(verdict.points), time, self._question(verdict))
        return table

    def _question(self, verdict: Verdict) -> Text:
        text = Text(self.words.task(verdict.question), "" if verdict.right else "bold")
        if not verdict.right:
            for reason in self.words.reasons(verdict):
                text.append(f"\n{reason}", "not bold")
        return text

    def action_today(self) -> None:
        """Go back to Today."""
        self.app.pop_screen()

    def action_again(self) -> None:
        """Begin the same session anew."""
        app = self.fretdrill
        app.pop_screen()
        app.begin(self._session.program)
