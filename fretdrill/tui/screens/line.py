"""Line: a written line as tab, every choice in it, and what it costs."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from fretdrill.hand.advice import ways_in
from fretdrill.hand.plan import Plan
from fretdrill.hand.states import Pin
from fretdrill.presentation import line_words
from fretdrill.presentation.line_view import line_view
from fretdrill.presentation.names import Names
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.line_keys import note_by_key
from fretdrill.tui.line_panels import (
    AheadPanel,
    ChoicesPanel,
    Panel,
    PositionsPanel,
    SpotsPanel,
)
from fretdrill.tui.line_work import Beside, Compared, Done, OpenLine
from fretdrill.tui.line_worker import LineWorker
from fretdrill.tui.screen import TALL_ROWS, FretScreen
from fretdrill.tui.widgets.bar_prompt import BarPrompt
from fretdrill.tui.widgets.line_panel import LinePanel
from fretdrill.tui.widgets.neck import NeckWidget
from fretdrill.tui.widgets.tab import TabWidget

HARD_SIGN = "!"
CRAMPED_ROWS = 22  # below this the neck gives its room to the tab


class LineScreen(FretScreen):
    """A line, opened."""

    CSS_PATH = "line.tcss"
    AUTO_FOCUS = ""  # keys are the screen's own, until a bar's number is asked for
    TITLE_WORD = "Line"
    PURPOSE = (
        "The easiest way to play the line, note by note. Below the neck stands every choice for "
        "the note under the cursor with what it costs more by the end, and why the plan takes "
        "another. Pin a choice and the rest is planned around it; pins are kept."
    )
    ACTIONS = (
        Command("line.pin", "enter,p", "Pin", "Pin the choice under the cursor, or unpin.", "pick"),
        Command("line.undo", "z", "Undo", "Take back the last change of the pins.", "undo"),
        Command("line.clear", "c", "Clear", "Take all pins away.", "clear"),
        Command("line.view", "v", "View", "Choices, positions, hardest, look-ahead.", "view"),
        Command("line.hard", "h", "Hard", "Go to the next hard spot.", "hard"),
        Command("line.drill", "d", "Drill", "Make a drill of the notes around here.", "drill"),
        Command("line.bar", "g", "Bar", "Go to a bar by its number.", "bar"),
        Command("line.leave", "escape", "Back", "Leave the line.", "app.pop_screen"),
    )
    MORE_KEYS = (
        ("Left  Right", "note by note; with Ctrl, bar by bar"),
        ("PgUp  PgDn", "line of tab by line of tab; Home and End"),
        ("Up  Down", "another choice, position or hard spot; Enter takes it"),
        ("^ ! * x", "in the tab: the cursor, a hard spot, a pin, a note off the neck"),
        ("% row", "how much of its written length a note sounds, = for all of it"),
        ("+0 to +3", "fingers of who sees so many notes ahead; a point is the plan's own"),
    )
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self, opened: OpenLine) -> None:
        """Prepare to show a line."""
        super().__init__()
        self.opened = opened
        self.note = 0
        names = Names(opened.settings.ascii_only)
        self._choices, self._spots = ChoicesPanel(opened, names), SpotsPanel(opened, names)
        positions, ahead = PositionsPanel(opened, names), AheadPanel(opened, names)
        self._panels: tuple[Panel, ...] = (self._choices, positions, self._spots, ahead)
        self._panel = 0
        self._remark = self._heading = ""
        self._frets = range(1, 1)  # to be seen
        self._worker = LineWorker(self, self._take, self._take_compared, self._take_beside)

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        yield Static(id="heading", classes="title", markup=False)
        yield TabWidget()
        yield self.neck_widget()
        yield LinePanel(id="panel")
        yield BarPrompt()

    def on_mount(self) -> None:
        """Ask for the first plan."""
        opened = self.opened
        if opened.part.off:
            ways = ways_in(opened.line, opened.settings.neck)
            self._remark = line_words.off_text(opened.line, opened.part.off, ways, self.words)
        if opened.part.line.notes:
            self._worker.plan(opened.ask())
        self._show()

    # Planning

    def _take(self, done: Done) -> None:
        """Take a plan, keep the pins it was made with, and show it."""
        pins = dict(self.opened.pins)
        if not self.opened.take(done):
            return
        if self.opened.pins != pins:
            self.fretdrill.practice.pins.save(self.opened.name, self.opened.line, self.opened.pins)
        if self.opened.plan is not None:
            self._frets = range(1, 1 + max(state.fret for state in self.opened.plan.states))
        self._need_beside()
        self._show()

    def _take_compared(self, compared: Compared) -> None:
        if self.opened.take_compared(compared):
            self._show_note()

    def _need_beside(self) -> None:
        """Have worked out what the open panel shows beside the plan."""
        if self.opened.plan is not None and self.panel.needs_beside and self.opened.beside is None:
            self._worker.look_beside(self.opened.plan)

    def _take_beside(self, beside: Beside) -> None:
        if self.opened.take_beside(beside):
            self._show()

    # Moving

    @property
    def panel(self) -> Panel:
        """The panel that is open."""
        return self._panels[self._panel]

    def takes_key(self, event: events.Key) -> bool:
        """Move about."""
        if not self.opened.line.notes or isinstance(self.focused, BarPrompt):
            return False
        if event.key in ("up", "down"):
            self._choose(1 if event.key == "down" else -1)
            return True
        tab = self.query_one(TabWidget)
        note = note_by_key(event.key, self.note, self.opened.moments, tab)
        if note is not None:
            self.go_to(note)
        return note is not None

    def go_to(self, note: int) -> None:
        """Put the cursor on a note, or on the nearest there is."""
        self.note = min(max(0, note), len(self.opened.line.notes) - 1)
        self._remark = ""
        self.opened.fault = ""
        self._choices.cursor = 0
        self.query_one(TabWidget).go_to(self.note)
        self._show_note()

    def _choose(self, by: int) -> None:
        panel = self.panel
        count = len(panel.rows(self.note, range(0)))
        panel.cursor = min(max(0, panel.cursor + by), max(0, count - 1))
        self._remark = ""
        if isinstance(panel, PositionsPanel):
            self._show_tab()
        self._show_note()

    def on_tab_widget_clicked(self, event: TabWidget.Clicked) -> None:
        """Go to the note that was clicked."""
        self.go_to(event.note)

    def on_neck_widget_clicked(self, event: NeckWidget.Clicked) -> None:
        """Choose the first choice at the place that was clicked."""
        for row, rated in enumerate(self.opened.choices(self.note)):
            if rated.choice[:2] == tuple(event.place):
                self._panel = 0
                self.panel.cursor = row
                self._show_note()
                return

    # Commands

    def is_command_key(self, key: str) -> bool:
        """Whether holding a key down must not do again what it does."""
        return key in ("enter", "escape", "p", "z", "c", "v", "d")

    def action_pick(self) -> None:
        """Pin, take a position over, or go to a hard spot: what the panel has."""
        panel = self.panel
        if isinstance(panel, ChoicesPanel):
            rated = panel.rated(self.note)
            if rated is not None:
                string, fret, finger = rated.choice
                pin = Pin(finger, string, fret)
                self._worker.plan(self.opened.ask(self.opened.with_pin(self.note, pin)))
        elif isinstance(panel, PositionsPanel) and panel.chosen is not None:
            first = self.opened.part.kept[0]
            pin = Pin(position=panel.chosen[0])
            self._worker.plan(self.opened.ask(self.opened.with_pin(first, pin)))
        elif isinstance(panel, SpotsPanel) and panel.notes:
            self.go_to(panel.notes[min(panel.cursor, len(panel.notes) - 1)])
        self._show_heading()

    def action_undo(self) -> None:
        """Take back the last change of the pins."""
        job = self.opened.ask_back()
        if job is not None:
            self._worker.plan(job)

    def action_clear(self) -> None:
        """Take all pins away."""
        if self.opened.pins:
            self._worker.plan(self.opened.ask({}))

    def action_view(self) -> None:
        """Open the next panel."""
        self._panel = (self._panel + 1) % len(self._panels)
        self.panel.cursor = 0
        self._need_beside()
        self._show()

    def action_hard(self) -> None:
        """Go to the next hard spot, round and round."""
        spots = sorted(self._spots.notes)
        if spots:
            self.go_to(next((note for note in spots if note > self.note), spots[0]))

    def action_drill(self) -> None:
        """Drill the notes around the cursor."""
        self.fretdrill.drill_spot(self.opened.name, self.opened.line, self.note)

    def action_bar(self) -> None:
        """Ask for a bar's number."""
        self.query_one(BarPrompt).begin()

    def on_bar_prompt_given(self, event: BarPrompt.Given) -> None:
        """Go to the bar."""
        if event.number is None:
            return
        note = self.opened.moments.numbered(event.number, self.note)
        if note is not None:
            self.go_to(note)
            return
        lowest, highest = self.opened.moments.numbers
        self._remark = f"There is no bar {event.number}: they are {lowest} to {highest}."
        self._show_note()

    # Showing

    def _show(self) -> None:
        low, many_rows = self.size.height < TALL_ROWS, isinstance(self.panel, AheadPanel)
        self.set_class(low and many_rows, "-more-tab")
        self._show_tab()
        self._show_note()
        self.show_keys()

    def _show_heading(self) -> None:
        opened = self.opened
        cost = None if opened.plan is None else opened.plan.cost
        told = line_words.cost_text(cost, opened.free_cost, len(opened.pins), opened.waiting)
        heading = f"{line_words.title(opened.line, self.words)}   {told}"
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
        columns = opened.columns(
            plan, self.words, dict.fromkeys(self._spots.notes, HARD_SIGN), paths
        )
        self.query_one(TabWidget).show(columns, self.note)

    def _show_note(self) -> None:
        self._show_heading()
        self._show_panel()
        plan, index = self.opened.plan, self.opened.planned(self.note)
        if plan is None or index is None:
            return
        rated = self._choices.rated(self.note)
        self.neck.show(line_view(plan, index, rated, self.words), self._frets)

    def _show_panel(self) -> None:
        panel, opened, shown = self.panel, self.opened, self.query_one(LinePanel)
        if not opened.line.notes:
            shown.show(panel.name, ["This line has no notes."], 0, "", wide=True)
            return
        bar = opened.moments.notes_of(opened.moments.bar_of(self.note))
        text = self._remark or panel.text(self.note)
        shown.show(panel.name, panel.rows(self.note, bar), panel.cursor, text, wide=panel.wide)

    def on_resize(self, event: events.Resize) -> None:
        """Give the room to what matters; the base class does the rest."""
        self.set_class(event.size.height >= TALL_ROWS, "-tall")
        self.set_class(event.size.height < CRAMPED_ROWS, "-cramped")
        self._show()
