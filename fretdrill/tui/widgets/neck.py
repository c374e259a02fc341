"""The neck as a widget: draws a view, tells where it was clicked."""

from collections.abc import Sequence

from rich.segment import Segment
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from fretdrill.neck.neck import Neck, Place
from fretdrill.presentation.neck_drawing import Drawing, NeckView, Role, Span, draw_neck
from fretdrill.presentation.neck_layout import lay_out

NUMBER_ROW, DOT_ROW, HAND_ROWS = 1, 1, 2
MOST_COLUMNS = 160  # beyond this the frets are too far apart to take in at a glance


class NeckWidget(Widget):
    """A drawn neck.

    Styled by component classes ``neck--`` and a role's name.
    """

    COMPONENT_CLASSES = {f"neck--{role}" for role in Role}  # noqa: RUF012 - Textual's own way

    class Clicked(Message):
        """A place was clicked."""

        def __init__(self, place: Place) -> None:
            super().__init__()
            self.place = place

    def __init__(self, neck: Neck) -> None:
        """Begin with a bare neck."""
        super().__init__(id="neck")
        self.view = NeckView(neck)
        self._wanted: Sequence[int] = ()
        self._ascii_only = False
        self._mirrored = False
        self._spread = False
        self._drawing: Drawing | None = None
        self._drawn_columns = 0
        self._strips: list[Strip] = []

    def apply(self, *, ascii_only: bool, mirrored: bool) -> None:
        """Draw with ASCII signs alone, or for a left-handed player, or not."""
        self._ascii_only, self._mirrored = ascii_only, mirrored
        self._drawing = None
        self.refresh()

    def show(self, view: NeckView, wanted: Sequence[int] = ()) -> None:
        """Show something else.

        Args:
            view: what is to be seen.
            wanted: the frets that have to be seen; none for the whole neck.
        """
        resized = self._rows(view) != self._rows(self.view)
        self.view, self._wanted = view, wanted
        self._drawing = None
        self.refresh(layout=resized)

    def spread_out(self, spread: bool) -> None:
        """Leave a row between strings, or don't."""
        if spread != self._spread:
            self._spread = spread
            self._drawing = None
            self.refresh(layout=True)

    def _rows(self, view: NeckView) -> int:
        strings = len(view.neck.tuning)
        hand = HAND_ROWS * (bool(view.fingers) + (view.other_hand is not None))
        return NUMBER_ROW + strings + (strings - 1) * self._spread + DOT_ROW + hand

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the rows of the drawing."""
        return self._rows(self.view)

    @property
    def drawing(self) -> Drawing:
        """The neck as it is drawn at the present width."""
        columns = min(self.size.width, MOST_COLUMNS)
        if self._drawing is None or columns != self._drawn_columns:
            view = self.view
            wanted = self._wanted or range(1, view.neck.frets + 1)
            layout = lay_out(view.neck, wanted, columns, focus=view.focus, mirrored=self._mirrored)
            self._drawing = draw_neck(
                view, layout, ascii_only=self._ascii_only, spread=self._spread
            )
            self._drawn_columns = columns
            self._strips = []
        return self._drawing

    def render_line(self, y: int) -> Strip:
        """Return a row of the drawing."""
        rows = self.drawing.rows
        if not self._strips:  # all at once: to ask for a style takes longer than to use it
            self._strips = self._draw_strips(rows)
        if y >= len(rows):
            return Strip.blank(self.size.width, self.rich_style)
        return self._strips[y]

    def _draw_strips(self, rows: Sequence[Sequence[Span]]) -> list[Strip]:
        roles = {span.role for row in rows for span in row}
        styles = {role: self.get_component_rich_style(f"neck--{role}") for role in roles}
        plain, width = self.rich_style, self.size.width
        return [
            Strip([Segment(span.text, styles[span.role]) for span in row]).adjust_cell_length(
                width, plain
            )
            for row in rows
        ]

    def notify_style_update(self) -> None:
        """Draw anew in other colours."""
        super().notify_style_update()
        self._strips = []

    def on_click(self, event: events.Click) -> None:
        """Tell which place was clicked."""
        offset = event.get_content_offset(self)
        place = self.drawing.place_at(offset.x, offset.y) if offset is not None else None
        if place is not None:
            self.post_message(self.Clicked(place))
