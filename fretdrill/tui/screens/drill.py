"""Drill: one question after another, each with its verdict."""

from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from fretdrill.engine.question import Given, Question, Verdict
from fretdrill.practice.session import Session, State
from fretdrill.presentation.line_view import play_through
from fretdrill.presentation.neck_drawing import NeckView, in_ascii
from fretdrill.presentation.question_view import question_view
from fretdrill.presentation.sheet import fitting_sheet, sheet_legend
from fretdrill.tui import asking
from fretdrill.tui.answering import AnswerInput, NoteInput
from fretdrill.tui.commands import Command, bindings
from fretdrill.tui.playing import PlayThrough
from fretdrill.tui.screen import CONFIRMS, ROOMY_ROWS, FretScreen
from fretdrill.tui.widgets.choices import Choices
from fretdrill.tui.widgets.neck import NeckWidget
from fretdrill.tui.widgets.session_lines import DoneBar, StatusLine

TICK_S = 0.5
UNSEEN_S = 0.5  # nobody has read a verdict that soon
GIVE_THE_ANSWER = "Give the answer (where places are asked for, Space marks)."
REASONS, REASONS_IF_ROOMY = 2, 4  # the rest is on the neck, and all of it on Result
GIVE_UP = Command("drill.give-up", "f2,ctrl+g", "Give up", "Show the answer; scores 0.", "give_up")
MOVES = frozenset({"up", "down", "left", "right", "home", "end", "backspace"})
ROWS_BESIDE_SHEET = 7  # status, fret numbers, dots, hand, choices, keys; the strings not counted


class DrillScreen(FretScreen):
    """Asks the questions of a session."""

    CSS_PATH = "drill.tcss"
    TITLE_WORD = "Drill"
    PURPOSE = (
        "Answer on the neck, by a note's name, a finger or a number. Points are accuracy times "
        "speed, against your own pace; a wrong mark takes half of what a right one brings. Giving "
        "up shows the answer and scores 0."
    )
    ACTIONS = (
        Command("drill.answer", "enter,space", "Answer", GIVE_THE_ANSWER, "answer"),
        Command("drill.next", "enter,space", "Next", "Go on to the next question.", "next"),
        GIVE_UP,
        Command("drill.play", "p", "Play", "Play both hands through again.", "play"),
        Command("drill.leave", "escape", "Leave", "End the session here.", "leave"),
    )
    MORE_KEYS = asking.KEYS_OF_ANSWERS
    BINDINGS: ClassVar[list[BindingType]] = bindings(ACTIONS)

    def __init__(self, session: Session) -> None:
        """Prepare to ask."""
        super().__init__()
        self.session = session
        self._verdict: Verdict | None = None
        self._input: AnswerInput = NoteInput()
        self._remark = ""
        self._said = Text()
        self._judged_s = 0.0
        self._command_keys = CONFIRMS
        self._play = PlayThrough(self, self._show_neck)

    def compose_parts(self) -> ComposeResult:
        """Compose the screen."""
        yield StatusLine(id="status")
        yield DoneBar(id="bar", markup=False)
        with Horizontal(id="above"):
            yield Static(id="sheet", markup=False)
            with Vertical(id="told"):
                yield Static(id="task", markup=False)
                yield Static(id="how", classes="quiet", markup=False)
                yield Static(id="beside", markup=False)
        yield self.neck_widget()
        yield Choices(id="choices")
        yield Static(id="verdict", markup=False)

    # Time

    def on_mount(self) -> None:
        """Ask the first question."""
        changed = self.fretdrill.settings.commands
        listed = (changed.get(command.id, command.keys) for command in self.ACTIONS)
        self._command_keys = CONFIRMS | {key for keys in listed for key in keys.split(",")}
        self.set_interval(TICK_S, self._show_status)
        self._ask()

    def on_screen_suspend(self) -> None:
        """Let time stand still while another screen is open."""
        self.session.pause()

    def on_screen_resume(self) -> None:
        """Let time run again."""
        super().on_screen_resume()
        if not self.has_class("-too-small"):
            self.session.resume()

    def covered(self, hidden: bool) -> None:
        """Let time stand still while nothing can be seen."""
        if hidden:
            self.session.pause()
        elif self.app.screen is self:
            self.session.resume()

    # Asking and answering

    def _ask(self) -> None:
        question = self.session.ask()
        if question is None:
            self.fretdrill.finish(self.session)
            return
        settings = self.fretdrill.settings
        self._play.stop()
        self._verdict = None
        self._remark = ""
        self._input = asking.input_for(question, settings.key_rows, mirrored=settings.left_handed)
        self._show()

    def _answer(self, given: Given | None) -> None:
        self._verdict = self.session.answer(given)
        self._judged_s = self.fretdrill.practice.clock.seconds()
        self._play.start(play_through(self._question, self._verdict, self.words))
        self._show()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        asking = self.session.state is State.ASKING
        if action == "answer":
            return asking and not self._input.answers_itself
        if action == "give_up":
            return asking
        if action == "play":
            return not asking and self._play.has_frames
        if action == "next":
            return self.session.state is State.JUDGED
        return super().check_action(action, parameters)

    def action_answer(self) -> None:
        """Give the answer as it stands."""
        given = self._input.given
        if given is None:
            question = self._question
            key = self.fretdrill.key_of(GIVE_UP)
            self._remark = f"{asking.NOTHING_YET[question.form]}; {key} shows the answer."
            self._show_verdict()
            return
        self._answer(given)

    def action_next(self) -> None:
        """Go on; not by an Enter that was meant to give an answer that gave itself."""
        since = self.fretdrill.practice.clock.seconds() - self._judged_s
        if not self._input.complete or since >= UNSEEN_S:
            self._ask()

    def action_give_up(self) -> None:
        """Show the answer."""
        self._answer(None)

    def action_play(self) -> None:
        """Play both hands through again."""
        self._play.again()

    def action_leave(self) -> None:
        """End the session."""
        if self.session.verdicts:
            self.fretdrill.finish(self.session)
        else:
            self.app.pop_screen()

    def takes_key(self, event: events.Key) -> bool:
        """Give keys to the answer before they count as commands."""
        if self.session.state is State.ASKING:
            return self._press(event.key, event.character)
        return event.key in ("left", "right") and self._play.step(1 if event.key == "right" else -1)

    def is_command_key(self, key: str) -> bool:
        """Whether holding a key down must not do again what it does."""
        if key in MOVES:
            return False
        # In a note's name a letter may well stand twice: B, then b for flat.
        return key in self._command_keys or not isinstance(self._input, NoteInput)

    def _press(self, key: str, character: str | None) -> bool:
        if not self._input.press(key, character):
            return False
        if self._input.complete:
            self._answer(self._input.given)
        else:
            self._remark = ""
            self._show_answer()
        return True

    def on_neck_widget_clicked(self, event: NeckWidget.Clicked) -> None:
        """Mark the place that was clicked."""
        if self.session.state is State.ASKING and self._input.toggle(event.place):
            self._show_answer()

    def on_choices_picked(self, event: Choices.Picked) -> None:
        """Take a choice that was clicked, as if it had been typed."""
        if self.session.state is State.ASKING:
            self._press(event.choice, event.choice)

    # Showing

    @property
    def _question(self) -> Question:
        if self.session.question is None:
            raise RuntimeError("nothing has been asked yet")
        return self.session.question

    def _show(self) -> None:
        question, words = self._question, self.words
        judged = self._verdict is not None
        self.set_class(judged, "-judged")
        self.query_one("#how").set_class(judged, "-read")
        self._show_status()
        self._show_bar()
        self._show_answer()
        legend = sheet_legend(question, words, self._sheet_rows) if self.has_class("-sheet") else ""
        how = f"{asking.HOW_TO[question.form]} {legend}".rstrip()
        self.put("#how", in_ascii(how) if words.ascii_only else how)
        self.show_keys()

    def _show_answer(self) -> None:
        question, answer = self._question, self._input
        hinted = self._verdict is None and self.fretdrill.settings.key_hints
        view = question_view(
            question,
            self.words,
            chosen=answer.marks,
            verdict=self._verdict,
            cursor=answer.cursor,
            coming=answer.coming,
            hints=answer.hints if hinted else {},
        )
        self._show_sheet()
        self._show_neck(view)
        self._show_choices()
        self._show_verdict()

    def _show_neck(self, view: NeckView) -> None:
        question = self._question
        self.neck.show(view, question.scope.frets(question.player.neck))

    @property
    def _sheet_rows(self) -> int:
        strings = len(self.session.player.neck.tuning)
        return self.size.height - strings - ROWS_BESIDE_SHEET

    def _show_sheet(self) -> None:
        question, words, room = self._question, self.words, self._sheet_rows
        chosen, verdict = self._input.coming, self._verdict
        sheet = fitting_sheet(question, words, room, chosen=chosen, verdict=verdict)
        self.set_class(bool(sheet.rows), "-sheet")
        self.put("#sheet", "\n".join(sheet.rows))
        hint = words.hint(question)
        parts = (words.task(question), f" ({hint})" if hint else "", sheet.told)
        self.put("#task", " ".join(filter(None, parts)))

    def _show_choices(self) -> None:
        playing = self._verdict is not None and self._play.has_frames
        offered = None if playing else asking.offer(self._input, self.words)
        choices = self.query_one("#choices", Choices)
        choices.set_class(offered is None, "-unused")
        if offered is not None:
            choices.offer(*offered)

    def _show_verdict(self) -> None:
        verdict, words = self._verdict, self.words
        if verdict is None:
            text = Text(asking.standing(self._question, self._input, words) + self._remark)
        else:
            roomy = self.has_class("-roomy") or self.has_class("-sheet")
            most = REASONS_IF_ROOMY if roomy else REASONS
            text = asking.verdict_text(verdict, words, words.remarks(self.session), most)
        if text != self._said:  # a repaint of the neck alone needs no new layout
            self._said = text
            for place in ("#beside", "#verdict"):  # one of them is seen
                self.query_one(place, Static).update(text)

    def _show_status(self) -> None:
        self.query_one(StatusLine).show(self.session, self.words)

    def _show_bar(self) -> None:
        ascii_only, columns = self.fretdrill.settings.ascii_only, max(1, self.size.width - 2)
        self.query_one(DoneBar).show(self.session.done_share, columns, ascii_only=ascii_only)

    def on_resize(self, event: events.Resize) -> None:
        """Spread the strings where there is room; the base class does the rest."""
        strings = len(self.session.player.neck.tuning)
        self.neck.spread_out(event.size.height >= ROOMY_ROWS + 2 * strings)
        self._show_bar()
        if self.session.question is not None:
            self._show_sheet()  # a staff is drawn for the rows there are
