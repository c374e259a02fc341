"""What is seen of an opened line: the heading, the tab, the neck, the panel under it."""

from dataclasses import replace

from textual import events
from textual.app import ComposeResult
from textual.widgets import Static

from fretdrill.hand.plan import Plan
from fretdrill.presentation import line_words
from fretdrill.presentation.line_view import line_view
from fretdrill.presentation.names import Names
from fretdrill.presentation.neck_drawing import NeckView
from fretdrill.tui.line_keys import keys_that_fit
from fretdrill.tui.line_layout import NARROW_REASON_ROWS, Arrangement, arrange
from fretdrill.tui.line_panels import (
    AheadPanel,
    ChoicesPanel,
    Panel,
    PositionsPanel,
    SpotsPanel,
)
from fretdrill.tui.line_work import OpenLine
from fretdrill.tui.screen import FretScreen
from fretdrill.tui.widgets.bar_prompt import BarPrompt
from fretdrill.tui.widgets.key_line import KeyLine
from fretdrill.tui.widgets.line_panel import LinePanel
from fretdrill.tui.widgets.tab import TabWidget

HARD_SIGN = "!"
LEFT_OUT = "this note is left out"
SPARE_KEYS = ("line.bar", "line.clear", "line.undo", "line.hard", "line.neck", "line.drill")


class LineDisplay(FretScreen):
    """Shows an opened line; :class:`fretdrill.tui.screens.line.LineScreen` moves about in it.

    Attributes:
        opened: the line.
        note: the note under the cursor, from 0.
    """

    def __init__(self, opened: OpenLine) -> None:
        """Begin at the first note, with its choices."""
        super().__init__()
        self.opened = opened
        self.note = 0
        names = Names(opened.settings.ascii_only)
        self._choices, self._spots = ChoicesPanel(opened, names), SpotsPanel(opened, names)
        positions, ahead = PositionsPanel(opened, names), AheadPanel(opened, names)
        self._panels: tuple[Panel, ...] = (self._choices, positions, self._spots, ahead)
        self._panel = 0
        self._turned = False
        self._remark = self._heading = ""
        self._frets = range(1, 1)  # to be seen
        self._arranged: tuple[Arrangement, int] | None = None

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        yield Static(id="heading", classes="title", markup=False)
        yield TabWidget()
        yield self.neck_widget()
        yield LinePanel()
        yield BarPrompt()

    @property
    def panel(self) -> Panel:
        """The panel that is open."""
        return self._panels[self._panel]

    def show_keys(self) -> None:
        """Show what can be done now, as far as there is room."""
        app = self.fretdrill
        shown = [(app.key_of(command), command) for command in self.possible() if command.in_line]
        self.query_one(KeyLine).show(keys_that_fit(shown, self.size.width - 2, SPARE_KEYS))

    def _show(self) -> None:
        self._arrange()
        self._show_tab()
        self._show_note()
        self.show_keys()

    def _arrange(self) -> None:
        """Give the room to what matters."""
        panel = self.panel
        arranged = arrange(
            *self.size,
            len(self.opened.settings.neck.tuning),
            wide=panel.wide,
            ahead=isinstance(panel, AheadPanel),
            turned=self._turned,
        )
        reason_rows = NARROW_REASON_ROWS if arranged.narrow and not panel.wide else 0
        if (arranged, reason_rows) != self._arranged:  # else there is nothing to lay out anew
            self._arranged = arranged, reason_rows
            self.set_class(not arranged.neck, "-no-neck")
            self.set_class(not arranged.panel, "-no-panel")
            self.query_one(LinePanel).apply(arranged.panel_rows, reason_rows)

    def _show_heading(self) -> None:
        opened = self.opened
        cost = None if opened.plan is None else opened.plan.cost
        told = line_words.cost_text(cost, opened.free_cost, len(opened.pins), opened.waiting)
        heading = line_words.heading(opened.line, told, self.words, self.size.width - 2)
        if heading != self._heading:
            self._heading = heading
            self.query_one("#heading", Static).update(heading, layout=False)

    def _show_tab(self) -> None:
        """Show the plan, or the line from the position under the cursor."""
        plan, opened = self.opened.plan, self.opened
        if plan is None:
            return
        panel = self.panel
        if isinstance(panel, PositionsPanel) and panel.chosen is not None:
            plan = Plan(plan.line, plan.solution, panel.chosen[1])
        paths = opened.beside.ahead if isinstance(panel, AheadPanel) and opened.beside else ()
        hard = dict.fromkeys(self._spots.notes, HARD_SIGN)
        self.query_one(TabWidget).show(opened.columns(plan, self.words, hard, paths), self.note)

    def _show_note(self) -> None:
        self._show_heading()
        self._show_panel()
        plan, index = self.opened.plan, self.opened.planned(self.note)
        if plan is None:
            self.neck.show(NeckView(self.opened.settings.neck), self._frets)
        elif index is None:  # off the neck: the hand waits where it was
            view = line_view(plan, self.opened.planned_before(self.note), None, self.words)
            waiting = replace(view, marks={}, labels={}, hand_text=LEFT_OUT)
            self.neck.show(waiting, self._frets)
        else:
            view = line_view(plan, index, self._choices.rated(self.note), self.words)
            self.neck.show(view, self._frets)

    def _show_panel(self) -> None:
        panel, opened, shown = self.panel, self.opened, self.query_one(LinePanel)
        if not opened.line.notes:
            shown.show(panel.name, ["This line has no notes."], 0, "", wide=True)
            return
        bar = opened.moments.notes_of(opened.moments.bar_of(self.note))
        said = self._remark or (f"That cannot be: {opened.fault}." if opened.fault else "")
        text = said or panel.text(self.note)
        wide = panel.wide and not said  # what has just happened has to be told
        shown.show(panel.name, panel.rows(self.note, bar), panel.cursor, text, wide=wide)

    def on_resize(self, event: events.Resize) -> None:
        """Share the room out anew; the base class does the rest."""
        self._show()
