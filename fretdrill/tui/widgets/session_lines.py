"""How far a session is: a line of words and a bar."""

from textual.widgets import Static

from fretdrill.practice.session import Session
from fretdrill.presentation.words import Words, minutes


class StatusLine(Static):
    """Title, question, points and time of a session."""

    def __init__(self, *, id: str | None = None) -> None:
        """Begin empty."""
        super().__init__(id=id, classes="title", markup=False)
        self._said = ""

    def show(self, session: Session, words: Words) -> None:
        """Show where a session stands."""
        parts = [session.program.title, f"question {words.number(session)}"]
        if session.verdicts:
            parts.append(f"{session.result.points} points")
        parts.append(minutes(session.seconds))
        text = "   ".join(parts)
        if text != self._said:
            self._said = text
            self.update(text, layout=False)


class DoneBar(Static):
    """The share of a session that is done."""

    def show(self, share: float, columns: int, *, ascii_only: bool) -> None:
        """Show a share, 0 to 1, on so many columns."""
        full, empty = ("#", ".") if ascii_only else ("█", "░")
        done = round(share * columns)
        self.update(full * done + empty * (columns - done), layout=False)
