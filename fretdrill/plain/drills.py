"""A session on plain lines of text.

Nothing is drawn unless it is asked for, and there are no control codes, so that it
reads well aloud, through a pipe and in a log.
"""

from typing import TextIO

from fretdrill.engine.question import AnswerForm, Fingering, Given, Question
from fretdrill.engine.reasons import GaveUp
from fretdrill.errors import InputError, printable
from fretdrill.plain.reading import read_answer
from fretdrill.practice.session import Result, Session
from fretdrill.practice.settings import Settings
from fretdrill.presentation.neck_drawing import draw_neck
from fretdrill.presentation.neck_layout import lay_out
from fretdrill.presentation.question_view import question_view
from fretdrill.presentation.sheet import question_sheet
from fretdrill.presentation.told import told
from fretdrill.presentation.words import SAFETY, Words

COLUMNS = 79
SHEET_ROWS = 20
HOW_TO = {
    AnswerForm.PLACES: "string/fret, such as 3/5 1/7; string 1 is the highest, fret 0 is open",
    AnswerForm.NOTE: "a note, such as A, Eb or F#",
    AnswerForm.FINGER: "a finger, 1 to 4, or 0 for the open string",
    AnswerForm.FINGERS: "a finger for each note in turn, such as 2 1 4; 0 for an open string",
    AnswerForm.FINGERING: "finger@string/fret for each note in turn, such as 2@3/5 1@2/4",
    AnswerForm.MOMENT: "the number of the note after which the hand moves",
    AnswerForm.JOINING: "hammer-on, pull-off, slide, or plucked only",
}
COMMANDS = "Also: neck (draws it), answer (gives up), help, quit."


class PlainDrills:
    """Runs a session on two text streams."""

    def __init__(self, session: Session, settings: Settings, read: TextIO, write: TextIO) -> None:
        """Prepare.

        Args:
            session: not begun yet.
            settings: how to draw and spell.
            read: where lines come from.
            write: where lines go to.
        """
        self._session = session
        self._settings = settings
        self._read = read
        self._write = write
        self._ascii = settings.ascii_only
        self._words = Words(self._ascii)

    def run(self, *, first_time: bool) -> Result:
        """Ask until the session is over or the lines end.

        Args:
            first_time: say the cautions.
        """
        words, session = self._words, self._session
        self._say(f"{session.program.title}. {COMMANDS}")
        if first_time:
            self._say(SAFETY)
        explained: set[AnswerForm] = set()
        while (question := session.ask()) is not None:
            self._say("")
            hint = words.hint(question)
            self._say(
                f"{words.number(session)}. {words.task(question)}{f' ({hint})' if hint else ''}"
            )
            shown = told(question, words)
            if shown:
                self._say(shown)
            if question.form not in explained:
                explained.add(question.form)
                self._say(f"Answer with {HOW_TO[question.form]}.")
            if not self._answer(question):
                break
        result = session.result
        self._say("")
        self._say(words.result(result))
        practise = words.to_practise(result)
        if practise:
            self._say(practise)
        return result

    def _answer(self, question: Question) -> bool:
        """Read lines until one answers; False when the player leaves."""
        while True:
            self._write.write("> ")
            self._write.flush()
            line = self._read.readline()
            if not line:
                self._say("")
                return False
            command = line.strip().casefold()
            if command in ("quit", "q", "exit"):
                return False
            if command in ("help", "?", ""):
                self._say(f"Answer with {HOW_TO[question.form]}. {COMMANDS}")
            elif command == "neck":
                self._draw(question)
            elif command in ("answer", "give up"):
                self._judge(None)
                return True
            else:
                try:
                    given = read_answer(question, line.strip())
                except InputError as fault:
                    self._say(f"{_sentence(str(fault))} {COMMANDS}")
                    continue
                self._judge(given)
                return True

    def _judge(self, given: Given | None) -> None:
        words, session = self._words, self._session
        verdict = session.answer(given)
        self._say(f"{_sentence(words.verdict(verdict))}")
        told = any(isinstance(reason, GaveUp) for reason in verdict.reasons)
        if isinstance(given, Fingering) and not verdict.right and not told:
            easiest = words.given(verdict.question, verdict.question.right)
            self._say(f"  Easiest: {easiest}.")
        for reason in words.reasons(verdict):
            self._say(f"  {reason}")
        for remark in words.remarks(session):
            self._say(f"  {remark}")

    def _draw(self, question: Question) -> None:
        layout = lay_out(
            question.player.neck,
            question.scope.frets(question.player.neck),
            COLUMNS,
            focus=question.scope.first_fret,
            mirrored=self._settings.left_handed,
        )
        for row in question_sheet(question, self._words, SHEET_ROWS):
            self._say(row)
        view = question_view(question, self._words)
        for line in draw_neck(view, layout, ascii_only=self._ascii).lines:
            self._say(line)

    def _say(self, text: str) -> None:
        self._write.write(f"{printable(text)}\n")


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
