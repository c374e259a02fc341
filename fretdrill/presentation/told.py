"""What a question shows, in sentences: for who does not see it drawn."""

from fretdrill.engine.piece import plan_of
from fretdrill.engine.question import (
    ChooseShift,
    FindTones,
    FingerAhead,
    JoinNotes,
    Question,
    ReadNotes,
    Shown,
)
from fretdrill.presentation.names import Names
from fretdrill.presentation.plan_words import PlanWords
from fretdrill.presentation.staff_words import notes_text, signature_text


def told(question: Question, names: Names) -> str:
    """Return what is shown of a question beside its task; nothing if the task says it all."""
    match question.task:
        case FingerAhead() as task:
            return _coming(question, task, names)
        case ChooseShift(piece):
            words = PlanWords(plan_of(piece, question.player), names)
            notes = (
                f"{index + 1} {names.pitch(note.pitch)}, {words.length(index)}, "
                f"{words.moment(index)}"
                for index, note in enumerate(piece.line.notes)
            )
            return f"At {piece.line.tempos[0].bpm:g} bpm: {'; '.join(notes)}."
        case ReadNotes(pitches, key):
            where = notes_text(pitches, [1] * len(pitches), key, names)
            return f"Bass staff, {signature_text(key)}, sounding an octave lower: {where}."
        case FindTones() | JoinNotes():
            return ""
    return ""


def _coming(question: Question, task: FingerAhead, names: Names) -> str:
    plan = plan_of(task.piece, question.player)
    if task.shown is Shown.STAFF:
        notes = [plan.line.notes[index] for index in task.asked]
        bars = [plan.line.bar_at(note.onset).number for note in notes]
        where = notes_text([note.pitch for note in notes], bars, task.context, names)
        key = signature_text(task.context) if task.context else "no signature"
        return f"On the bass staff, {key}, sounding an octave lower: {where}."
    coming = []
    for index in task.asked:
        where = f" ({names.place(question.player.neck, plan.states[index].place)})"
        pitch = names.pitch(plan.line.notes[index].pitch)
        coming.append(f"{pitch}{where if task.shown is Shown.PLACES else ''}")
    return f"Coming: {', '.join(coming)}."
