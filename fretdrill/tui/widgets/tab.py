"""Tab as a widget: as many systems as fit, with a cursor on a note."""

from typing import NamedTuple

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from fretdrill.presentation.tab_columns import Columns
from fretdrill.presentation.tab_systems import Key, Row, Spot, System, TabSheet

CURSOR_SIGN = "^"
UNDER_CURSOR = ("count", "finger", "hand", "length")
QUIET = ("number", "count", "length")
SPARE = ("length", "number", "hand")  # rows left out where there is no room, the first one first


class _Styles(NamedTuple):
    plain: Style
    quiet: Style
    cursor: Style


def _strip(row: Row, spot: Spot | None, styles: _Styles) -> Strip:
    """Return a row of a system, with the cursor if it stands in that one."""
    style = styles.quiet if row.kind in QUIET else styles.plain
    if spot is None:
        return Strip([Segment(row.text, style)])
    start, end = spot.column, spot.column + spot.width
    text = row.text.ljust(end)
    inner = text[start:end]
    under = row.kind in UNDER_CURSOR or row.kind == str(spot.string)
    if row.kind == "mark":
        inner = f"{CURSOR_SIGN}{inner.rstrip()}".ljust(spot.width)[: max(1, spot.width)]
        under = True
    cursor = styles.cursor if under else style
    return Strip([Segment(text[:start], style), Segment(inner, cursor), Segment(text[end:], style)])


class TabWidget(Widget):
    """The tab of a line; the cursor is a sign in the row of marks, and in reverse above it."""

    COMPONENT_CLASSES = {"tab--cursor", "tab--quiet"}  # noqa: RUF012 - Textual's own way

    class Clicked(Message):
        """A note was clicked."""

        def __init__(self, note: int) -> None:
            super().__init__()
            self.note = note

    def __init__(self) -> None:
        """Begin empty."""
        super().__init__(id="tab")
        self._columns: Columns | None = None
        self._sheet: TabSheet | None = None
        self._note = 0
        self._top: Key | None = None
        self._strips: list[Strip] | None = None

    def show(self, columns: Columns, note: int) -> None:
        """Show a line, with the cursor on a note."""
        self._columns, self._note = columns, note
        self._sheet = self._strips = None
        self.refresh()

    def go_to(self, note: int) -> None:
        """Move the cursor."""
        self._note = note
        self._strips = None
        self.refresh()

    @property
    def sheet(self) -> TabSheet | None:
        """The tab laid out for the present width; None without a line."""
        if self._sheet is None and self._columns is not None and self.size.width:
            self._sheet = TabSheet(self._columns, self.size.width)
        return self._sheet

    def notes_in_sight(self) -> tuple[int, int] | None:
        """Return the first and the last note of the system that the cursor is in."""
        if self.sheet is None:
            return None
        spots = self.sheet.system(self.sheet.key_of(self._note)).spots
        return (min(spots), max(spots)) if spots else None

    def next_system(self, by: int) -> int:
        """Return the first note of the system before or after, the cursor's note if none is."""
        if self.sheet is None:
            return self._note
        key = self.sheet.key_of(self._note)
        other = self.sheet.after(key) if by > 0 else self.sheet.before(key)
        while other is not None and not self.sheet.system(other).spots:
            other = self.sheet.after(other) if by > 0 else self.sheet.before(other)
        return self._note if other is None else min(self.sheet.system(other).spots)

    def on_resize(self, event: events.Resize) -> None:
        """Lay out anew."""
        self._sheet = self._strips = None

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the rows of one system."""
        if self._columns is None:
            return 0
        sheet = self._sheet or TabSheet(self._columns, width)
        return len(sheet.system(sheet.key_of(self._note)).rows)

    def _rows(self, system: System) -> list[Row]:
        """Return the rows of a system that there is room for."""
        rows = list(system.rows)
        for kind in SPARE:
            if len(rows) <= self.size.height:
                break
            rows = [row for row in rows if row.kind != kind]
        return rows

    def _page(self, sheet: TabSheet) -> list[Key]:
        """Return the systems to be seen: those from the top one on, with the cursor's in sight."""
        here = sheet.key_of(self._note)
        rows = len(sheet.system(here).rows) + 1
        fit = max(1, (self.size.height + 1) // rows)
        top = here if self._top is None or self._top > here else self._top
        page = sheet.page(top, fit)
        if here not in page:
            page = sheet.page(here, fit)
        self._top = page[0]
        return page

    def render_line(self, y: int) -> Strip:
        """Return a row of the tab."""
        if self._strips is None:  # all at once: to ask for a style takes longer than to use it
            self._strips = self._draw_strips()
        return self._strips[y] if y < len(self._strips) else Strip.blank(self.size.width)

    def _draw_strips(self) -> list[Strip]:
        sheet, width, plain = self.sheet, self.size.width, self.rich_style
        strips: list[Strip] = []
        if sheet is not None:
            styles = _Styles(
                plain,
                self.get_component_rich_style("tab--quiet"),
                self.get_component_rich_style("tab--cursor"),
            )
            for key in self._page(sheet):
                system = sheet.system(key)
                spot = system.spots.get(self._note)
                strips += [_strip(row, spot, styles) for row in self._rows(system)]
                strips.append(Strip([]))
        strips = [strip.adjust_cell_length(width, plain) for strip in strips[: self.size.height]]
        return strips + [Strip.blank(width, plain)] * (self.size.height - len(strips))

    def notify_style_update(self) -> None:
        """Draw anew in other colours."""
        super().notify_style_update()
        self._strips = None

    def on_click(self, event: events.Click) -> None:
        """Tell which note was clicked."""
        offset = event.get_content_offset(self)
        if offset is None or self.sheet is None:
            return
        y = offset.y
        for key in self._page(self.sheet):
            system = self.sheet.system(key)
            rows = len(self._rows(system))
            if y < rows:
                note = system.note_at(offset.x)
                if note is not None:
                    self.post_message(self.Clicked(note))
                return
            y -= rows + 1
