"""What is read of a question: an excerpt of its line, its phrase, or notes on the staff."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from fretdrill.engine.line_reasons import PlayedOn
from fretdrill.engine.piece import plan_of
from fretdrill.engine.question import (
    ChooseShift,
    FingerAhead,
    Fingering,
    Question,
    ReadNotes,
    Shown,
    Verdict,
)
from fretdrill.hand.plan import Plan
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Place
from fretdrill.presentation.excerpt import Cell, draw_excerpt
from fretdrill.presentation.line_task_words import phrase_lengths
from fretdrill.presentation.names import Names
from fretdrill.presentation.staff import StaffNote, draw_staff, staff_legend
from fretdrill.presentation.tab_columns import reach_sign
from fretdrill.presentation.told import told
from fretdrill.theory.key import Key
from fretdrill.theory.line import Line

NOTES_BEFORE = 2  # of the one that the hand stands at: how the line comes there
LEAST_STAFF_ROWS = 12
MOST_AFTER = 6  # notes shown after the one that the hand stood at


def question_sheet(
    question: Question,
    names: Names,
    rows: int,
    *,
    chosen: Sequence[Choice] = (),
    verdict: Verdict | None = None,
) -> list[str]:
    """Return what is to be read, in rows of text; none where the neck says it all.

    Args:
        question: the question.
        names: how notes are written.
        rows: how many rows there are for a staff.
        chosen: the choices given so far for coming notes.
        verdict: shows the best way beside the one given, once there is one.
    """
    match question.task:
        case FingerAhead(shown=Shown.STAFF) as task if verdict is None:
            return _staff(_staff_notes(question, task, chosen), task.context, names, rows)
        case FingerAhead() as task:
            return _excerpt_ahead(question, task, names, chosen, verdict)
        case ChooseShift() as task:
            return _phrase(question, task, names, told=verdict is not None)
        case ReadNotes(pitches, key):
            return _staff([StaffNote(pitch) for pitch in pitches], key, names, rows)
    return []


class Sheet(NamedTuple):
    """What is read of a question: rows of text, or the same in words where they do not fit."""

    rows: list[str]
    told: str = ""


def fitting_sheet(
    question: Question,
    names: Names,
    rows: int,
    *,
    chosen: Sequence[Choice] = (),
    verdict: Verdict | None = None,
) -> Sheet:
    """Return a question's sheet; a staff that would be cut off is told in words.

    The arguments are those of :func:`question_sheet`.
    """
    drawn = question_sheet(question, names, rows, chosen=chosen, verdict=verdict)
    on_staff = isinstance(question.task, ReadNotes) or verdict is None
    if len(drawn) > rows and on_staff and sheet_legend(question, names, rows):
        return Sheet([], told(question, names))
    return Sheet(drawn)


def sheet_legend(question: Question, names: Names, rows: int) -> str:
    """Return what the signs of a question's staff mean; nothing where there is none."""
    match question.task:
        case FingerAhead(shown=Shown.STAFF) as task:
            notes, key = _staff_notes(question, task, ()), task.context
        case ReadNotes(pitches, key):
            notes = [StaffNote(pitch) for pitch in pitches]
        case _:
            return ""
    most, ascii_only = max(rows, LEAST_STAFF_ROWS), names.ascii_only
    return staff_legend(notes, key, most_rows=most, ascii_only=ascii_only)


def _staff(notes: Sequence[StaffNote], key: Key | None, names: Names, rows: int) -> list[str]:
    """Return notes on the staff."""
    most, ascii_only = max(rows, LEAST_STAFF_ROWS), names.ascii_only
    return list(draw_staff(notes, key, most_rows=most, ascii_only=ascii_only))


def _staff_notes(
    question: Question, task: FingerAhead, chosen: Sequence[Choice]
) -> list[StaffNote]:
    """Return the note that the hand stands at, in brackets, and the coming ones."""
    plan = plan_of(task.piece, question.player)
    notes = []
    for index in (task.index, *task.asked):
        note = plan.line.notes[index]
        given = index - task.index - 1
        label = str(chosen[given].finger) if 0 <= given < len(chosen) else "?"
        label = f"[{plan.states[index].finger}]" if index == task.index else label
        bar = plan.line.bar_at(note.onset).number
        notes.append(StaffNote(note.pitch, bar, label, note.duration))
    return notes


def _excerpt_ahead(
    question: Question,
    task: FingerAhead,
    names: Names,
    chosen: Sequence[Choice],
    verdict: Verdict | None,
) -> list[str]:
    plan = plan_of(task.piece, question.player)
    neck = question.player.neck
    cells = []
    for index in range(max(0, task.index - NOTES_BEFORE), task.index + 1):
        state = plan.states[index]
        finger = f"{state.finger}{reach_sign(state)}"
        finger = f"[{finger}]" if index == task.index else finger
        cells.append(Cell(index, state.place, finger))
    if verdict is not None and isinstance(verdict.answer.given, Fingering):
        return _both(plan, task, verdict, names, cells)
    if verdict is not None:
        chosen = [plan.states[index].choice for index in task.asked]
    for given, index in enumerate(task.asked):
        state = plan.states[index]
        place = state.place if task.shown is Shown.PLACES else None
        finger = "?"
        if given < len(chosen):
            place, finger = Place(*chosen[given][:2]), str(chosen[given].finger)
        cells.append(Cell(index, place, finger))
    return draw_excerpt(plan.line, neck, cells, names)


def _both(
    plan: Plan, task: FingerAhead, verdict: Verdict, names: Names, cells: list[Cell]
) -> list[str]:
    """Return the excerpt as the easiest hand plays it, and the fingers that were given."""
    played = next((r for r in verdict.reasons if isinstance(r, PlayedOn)), None)
    best, last = (plan, task.asked[-1]) if played is None else (played.best, played.last)
    given = verdict.answer.given
    taken = given.choices if isinstance(given, Fingering) else ()
    fingers = [str(choice.finger) for choice in taken]
    if played is not None:
        fingers += [str(s.finger) for s in played.yours.states[task.asked[-1] + 1 : last + 1]]
    shown = list(cells)
    for index in range(task.index + 1, min(last, task.index + MOST_AFTER) + 1):
        state, at = best.states[index], index - task.index - 1
        other = fingers[at] if at < len(fingers) else ""
        shown.append(Cell(index, state.place, f"{state.finger}{reach_sign(state)}", other))
    return draw_excerpt(plan.line, verdict.question.player.neck, shown, names, ("best", "yours"))


def _phrase(question: Question, task: ChooseShift, names: Names, *, told: bool) -> list[str]:
    """Return a phrase to choose a moment in: numbers, counts, names, how long the notes are.

    Once it is told, also what each note loses in ms if the hand moves after it.
    """
    labels = ["note", "count", "", "length", *(["cut ms"] if told else [])]
    rows = [f" {label:<8}" for label in labels]
    losses = [_loss(seconds) for seconds in phrase_lengths(question, task)] if told else []
    for number, told_of in enumerate(_phrase_notes(task.piece.line, names), start=1):
        cells = (str(number), *told_of, *losses[number - 1 : number])
        width = max(map(len, cells)) + 2
        for row, cell in enumerate(cells):
            rows[row] += cell.ljust(width)
    return [row.rstrip() for row in rows]


def _loss(shortened_s: float | None) -> str:
    return "no" if shortened_s is None else f"{1000 * shortened_s:.0f}"


def _phrase_notes(line: Line, names: Names) -> Iterator[tuple[str, str, str]]:
    """Yield count, name and length in whole notes of each note."""
    for note in line.notes:
        bar = line.bar_at(note.onset)
        count = bar.metre.count(note.onset - bar.onset + bar.start)
        yield count, names.pitch(note.pitch), str(note.duration)
