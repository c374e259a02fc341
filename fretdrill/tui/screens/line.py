"""Line: a written line as tab, every choice in it, and what it costs."""

from typing import ClassVar

from textual import events
from textual.binding import BindingType

from fretdrill.hand.states import Pin
from fretdrill.presentation import line_words
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.line_display import LineDisplay
from fretdrill.tui.line_jobs import Beside, Compared, Done, Job
from fretdrill.tui.line_keys import note_by_key
from fretdrill.tui.line_panels import (
    ChoicesPanel,
    PositionsPanel,
    SpotsPanel,
)
from fretdrill.tui.line_work import OpenLine
from fretdrill.tui.line_worker import LineWorker
from fretdrill.tui.widgets.bar_prompt import BarPrompt
from fretdrill.tui.widgets.neck import NeckWidget
from fretdrill.tui.widgets.tab import TabWidget

FINGERS = "01234"
SOON_S = 0.15  # a plan that comes sooner is not announced


class LineScreen(LineDisplay):
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
        Command("line.unpin", "u", "Unpin", "Take the note's pin away.", "unpin", in_line=False),
        Command("line.undo", "z", "Undo", "Take back the last change of the pins.", "undo"),
        Command("line.clear", "c", "Clear", "Take all pins away.", "clear"),
        Command("line.view", "v", "View", "Choices, positions, hardest, look-ahead.", "view"),
        Command("line.hard", "h", "Hard", "Go to the next hard spot.", "hard"),
        Command("line.drill", "d", "Drill", "Make a drill of the notes around here.", "drill"),
        Command("line.bar", "g", "Bar", "Go to a bar by its number.", "bar"),
        Command("line.neck", "n", "Neck", "Show the neck, or give its room away.", "neck"),
        Command("line.leave", "escape", "Back", "Leave the line.", "app.pop_screen"),
    )
    MORE_KEYS = (
        ("Left  Right", "note by note; with Ctrl, bar by bar"),
        ("PgUp  PgDn", "line of tab by line of tab; Home and End"),
        ("Up  Down", "another choice, position or hard spot; Enter takes it"),
        ("0-4", "the next choice with that finger; 0 is the open string"),
        ("^ ! * x", "in the tab: the cursor, a hard spot, a pin, a note off the neck"),
        ("> <  h p /", "the hand moves up, back; hammer-on, pull-off, slide to the next note"),
        ("4+ 1-", "a finger reaches up, or back, beyond its four frets"),
        ("% row", "how much of its written length a note sounds, = for all of it"),
        ("+0 to +3", "fingers of who sees so many notes ahead; a point is the plan's own"),
    )
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self, opened: OpenLine) -> None:
        """Prepare to show a line."""
        super().__init__(opened)
        self._worker = LineWorker(self, self._take, self._take_compared, self._take_beside)

    def on_mount(self) -> None:
        """Ask for the first plan."""
        opened = self.opened
        if opened.part.off:
            self._remark = line_words.off_text(
                opened.line, opened.part.off, opened.ways, self.words
            )
        if opened.part.line.notes:
            self._plan(opened.ask())
        self._show()

    # Planning

    def _plan(self, job: Job) -> None:
        """Have a job done, and say so if it takes a while."""
        self._worker.plan(job)
        self.set_timer(SOON_S, self._show_heading)

    def _take(self, done: Done) -> None:
        """Take a plan, keep the pins it was made with, and show it."""
        pins = dict(self.opened.pins)
        if not self.opened.take(done):
            return
        if done.left_out:
            self._remark = line_words.unusable_text(str(done.fault), len(done.left_out))
        elif self.opened.pins != pins:
            kept = self.opened.kept_pins
            self.fretdrill.practice.pins.save(self.opened.name, self.opened.line, kept)
        if self.opened.plan is not None:
            self._frets = range(1, 1 + max(state.fret for state in self.opened.plan.states))
        self._need_beside()
        self._show()
        # Not before it is seen: two threads that reckon at once would hold the picture up.
        self.call_after_refresh(self._worker.compare, done)

    def _take_compared(self, compared: Compared) -> None:
        if self.opened.take_compared(compared):
            self._need_freed()
            self._show_note()

    def _need_freed(self) -> None:
        """Have worked out what the note's pin is compared with, where that takes long."""
        job = self.opened.ask_freed(self.note)
        if job is not None:
            self._worker.free(job, self.note, self.opened.pins)

    def _need_beside(self) -> None:
        """Have worked out what the open panel shows beside the plan."""
        if self.opened.plan is not None and self.panel.needs_beside and self.opened.beside is None:
            self._worker.look_beside(self.opened.plan)

    def _take_beside(self, beside: Beside) -> None:
        if self.opened.take_beside(beside):
            self._show()

    # Moving

    def takes_key(self, event: events.Key) -> bool:
        """Move about."""
        if not self.opened.line.notes or isinstance(self.focused, BarPrompt):
            return False
        if event.key in ("up", "down"):
            self._choose(1 if event.key == "down" else -1)
            return True
        if event.key in FINGERS and self.panel is self._choices:
            if self._choices.choose_finger(self.note, int(event.key)):
                self._show_note()
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
        self._choices.begin(self.note)
        self.query_one(TabWidget).go_to(self.note)
        self._need_freed()
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
                self._show()
                return

    # Commands

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        if action == "unpin":
            return self.note in self.opened.pins
        if action == "undo":
            return self.opened.can_go_back
        if action == "clear":
            return bool(self.opened.pins)
        return super().check_action(action, parameters)

    def is_command_key(self, key: str) -> bool:
        """Whether holding a key down must not do again what it does."""
        return key in ("enter", "escape", "p", "u", "z", "c", "v", "d", "n")

    def action_pick(self) -> None:
        """Pin, take a position over, or go to a hard spot: what the panel has."""
        panel = self.panel
        if isinstance(panel, ChoicesPanel):
            rated = panel.rated(self.note)
            if rated is not None:
                string, fret, finger = rated.choice
                pin = Pin(finger, string, fret)
                self._plan(self.opened.ask(self.opened.with_pin(self.note, pin)))
        elif isinstance(panel, PositionsPanel) and panel.chosen is not None:
            first = self.opened.part.kept[0]
            pin = Pin(position=panel.chosen[0])
            self._plan(self.opened.ask(self.opened.with_pin(first, pin)))
        elif isinstance(panel, SpotsPanel) and panel.notes:
            self.go_to(panel.notes[min(panel.cursor, len(panel.notes) - 1)])

    def action_unpin(self) -> None:
        """Take the note's pin away, whichever choice is under the cursor."""
        self._plan(self.opened.ask(self.opened.without(self.note)))

    def action_undo(self) -> None:
        """Take back the last change of the pins."""
        job = self.opened.ask_back()
        if job is not None:
            self._plan(job)

    def action_clear(self) -> None:
        """Take all pins away."""
        if self.opened.pins:
            self._plan(self.opened.ask({}))

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
        elif self.opened.plan is not None:
            self._remark = "Nothing in it is hard."
            self._show_note()

    def action_drill(self) -> None:
        """Drill the notes around the cursor."""
        self.fretdrill.drill_spot(self.opened.name, self.opened.line, self.note)

    def action_neck(self) -> None:
        """Show the neck, or give its room to the rest."""
        self._turned = not self._turned
        self._show()

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
