"""The rows under the neck of the line screen, with a text beside them."""

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Static

HERE, ELSEWHERE = ">", " "


class LinePanel(Horizontal):
    """Rows under a name, one of them under the cursor, and what is said of that one."""

    def __init__(self) -> None:
        """Begin with room for one row."""
        super().__init__(id="panel")
        self._list_rows = 1

    def apply(self, rows: int, reason_rows: int) -> None:
        """Take some rows.

        Args:
            rows: in all.
            reason_rows: those under the list for what is said; 0 where that stands beside it.
        """
        self.styles.height = rows
        self.set_class(reason_rows > 0, "-narrow")
        self.query_one("#why").styles.height = reason_rows or "1fr"
        self._list_rows = max(1, rows - reason_rows - 1)

    def compose(self) -> ComposeResult:
        """Compose the two parts."""
        yield Static(id="choices", markup=False)
        yield Static(id="why", markup=False)

    def show(self, name: str, rows: list[str], cursor: int, text: str, *, wide: bool) -> None:
        """Show rows.

        Args:
            name: what they are.
            rows: all of them; those around the cursor are seen.
            cursor: which one is chosen, from 0.
            text: what is said beside them; a wide panel has no room for it.
            wide: whether the rows take the whole width.
        """
        self.set_class(wide, "-wide")
        # Both parts have their size from the style sheet: a new text needs no new layout.
        self.query_one("#choices", Static).update(self._list(name, rows, cursor), layout=False)
        self.query_one("#why", Static).update(text, layout=False)

    def _list(self, name: str, rows: list[str], cursor: int) -> Text:
        fit = self._list_rows
        cursor = min(cursor, max(0, len(rows) - 1))
        start = min(max(0, cursor - fit + 1), max(0, len(rows) - fit))
        text = Text(f"{name}  ", "bold", no_wrap=True)
        text.append(f"{cursor + 1} of {len(rows)}" if len(rows) > fit else "", "not bold")
        for number, row in enumerate(rows[start : start + fit], start=start):
            here = number == cursor
            text.append(f"\n{HERE if here else ELSEWHERE} {row}", "bold" if here else "not bold")
        return text
