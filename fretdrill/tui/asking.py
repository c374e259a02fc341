"""What the Drill screen says of a question and offers to click, by its form of answer."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

from rich.text import Text

from fretdrill.engine.question import AnswerForm, Fingering, Given, Question, Verdict
from fretdrill.presentation.words import Words
from fretdrill.theory.pitch import NoteName
from fretdrill.tui.answering import (
    AnswerInput,
    FingerInput,
    NoteInput,
    PlacesInput,
)
from fretdrill.tui.line_answering import (
    FingeringInput,
    FingersInput,
    JoiningInput,
    MomentInput,
)

FINGERS = tuple("01234")
HOW_TO = {
    AnswerForm.PLACES: "Press the ‹key› shown at a place, or use arrows and Space; then Enter.",
    AnswerForm.NOTE: "Type a letter, then b or # if it needs one; then Enter.",
    AnswerForm.FINGER: "Type the finger, 1 to 4, or 0 for an open string: that answers.",
    AnswerForm.FINGERS: "Type a finger for each ? in turn, 0 for open; the last one answers.",
    AnswerForm.FINGERING: "Arrows or a ‹key› go to a place, a finger takes it; the last answers.",
    AnswerForm.MOMENT: "Type the number of the note, or use the arrows; then Enter.",
    AnswerForm.JOINING: "Type the number of the way: that answers.",
}
NOTHING_YET = {
    AnswerForm.PLACES: "Mark a place first",
    AnswerForm.NOTE: "Type a note first",
    AnswerForm.FINGER: "Type a finger first",
    AnswerForm.FINGERS: "Type a finger for every ? first",
    AnswerForm.FINGERING: "Arrows or a ‹key› go to a place, a finger takes it; the last answers.",
    AnswerForm.MOMENT: "Type the number of a note first",
    AnswerForm.JOINING: "Type a number first",
}

KEYS_OF_ANSWERS = (
    ("Arrows  Space", "on the neck: go to a place; mark it, or take the mark away"),
    ("‹keys›", "on the neck: the key shown at a place marks it; a key, not a note"),
    ("Backspace", "take all marks away, or a step back in a note's name"),
    ("A-G  b  #", "name a note; the arrows do it too"),
    ("0-4", "give a finger; it answers at once, or the next note of a line is asked for"),
    ("Left  Right", "after a line's verdict: go through its notes, as both hands play them"),
)
"""Keys that answer, with what they do, for the help."""


class Offer(NamedTuple):
    """Choices to click, and which of them are chosen."""

    choices: Sequence[str]
    chosen: Collection[str] = ()


def input_for(
    question: Question, key_rows: Sequence[str], *, mirrored: bool = False
) -> AnswerInput:
    """Return the input that a question's answer is given through."""
    match question.form:
        case AnswerForm.PLACES:
            return PlacesInput(question.player.neck, question.scope, key_rows, mirrored=mirrored)
        case AnswerForm.NOTE:
            return NoteInput()
        case AnswerForm.FINGER:
            return FingerInput()
        case AnswerForm.FINGERS:
            return FingersInput(question)
        case AnswerForm.FINGERING:
            return FingeringInput(question)
        case AnswerForm.MOMENT:
            return MomentInput(question)
        case AnswerForm.JOINING:
            return JoiningInput()


def offer(answer: AnswerInput, words: Words) -> Offer | None:
    """Return what can be clicked to answer, None where the neck alone is clicked."""
    match answer:
        case FingerInput(given=given):
            return Offer(FINGERS, () if given is None else (str(given),))
        case FingersInput() | FingeringInput():
            return Offer(FINGERS)
        case MomentInput(given=given):
            return Offer(answer.choices, () if given is None else (str(given.number),))
        case JoiningInput(given=given):
            chosen = [choice for choice in answer.choices if given and choice[2:] == given.value]
            return Offer(answer.choices, chosen)
        case NoteInput(given=given):
            flat, sharp = ("b", "#") if words.ascii_only else ("♭", "♯")
            # The signs of the name itself, so that B and a flat are both bracketed for B flat.
            signs = set(words.note(given)) if isinstance(given, NoteName) else ()
            return Offer((*"ABCDEFG", flat, sharp), signs)
    return None


def standing(question: Question, answer: AnswerInput, words: Words) -> str:
    """Return what has been given so far, in a sentence; nothing before anything was."""
    if answer.marks:
        return f"{len(answer.marks)} marked; the same key again takes a mark away. "
    given: Given | None = Fingering(answer.coming) if answer.coming else answer.given
    return "" if given is None else f"Your answer: {words.given(question, given)}. "


def verdict_text(verdict: Verdict, words: Words, remarks: Sequence[str], most: int) -> Text:
    """Return a verdict with at most so many of its reasons, and what it means beyond itself."""
    text = Text()
    text.append(f" {words.verdict(verdict)} ", "bold" if verdict.right else "bold reverse")
    reasons = words.reasons(verdict)
    for reason in reasons[:most]:
        text.append(f"\n{reason}")
    if len(reasons) > most:
        text.append(f"\nAnd {len(reasons) - most} more, seen on the neck.")
    for remark in remarks:
        text.append(f"\n{remark}", "italic")
    return text
