"""What of a question, and later of its verdict, is seen on the neck."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from fretdrill.engine.kinds.read import full_answer
from fretdrill.engine.question import (
    ChooseShift,
    FindTones,
    FingerAhead,
    FingerPlace,
    JoinNotes,
    Question,
    ReadNotes,
    Verdict,
)
from fretdrill.hand.reach import resting_frets
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Place
from fretdrill.neck.position import POSITION_FRETS, roman
from fretdrill.presentation.line_view import ahead_view, shift_view
from fretdrill.presentation.neck_drawing import NeckView, Role
from fretdrill.presentation.words import Words


def question_view(
    question: Question,
    words: Words,
    *,
    chosen: frozenset[Place] = frozenset(),
    verdict: Verdict | None = None,
    cursor: Place | None = None,
    coming: Sequence[Choice] = (),
    hints: Mapping[Place, str] | None = None,
) -> NeckView:
    """Return what is to be seen of a question.

    Args:
        question: the question.
        words: spells the notes.
        chosen: places that the player has marked so far.
        verdict: shows what was right, wrong and missed in place of ``chosen``.
        cursor: the place under the cursor; after the verdict, where it was.
        coming: the choices given so far for the coming notes of a line.
        hints: a sign for places that have nothing else to show.
    """
    match question.task:
        case FingerAhead() as task:
            view = ahead_view(question, task, coming)
            return view if verdict else replace(view, cursor=cursor, hints=hints or {})
        case ChooseShift() as task:
            return shift_view(question, task, words)
    neck, hand = question.player.neck, question.player.hand
    position = question.position
    asked = question.task.place
    looked_at = cursor or asked
    wanted = looked_at.fret if looked_at else question.scope.first_fret
    if position is None:  # the hand is free: it goes where the eye is
        position = min(max(1, wanted), neck.frets - POSITION_FRETS + 1)
    marks = dict.fromkeys(chosen, Role.CHOSEN) if verdict is None else _judged(verdict)
    labels = {}
    if asked is not None:
        answered = verdict is not None and (Role.RIGHT if verdict.right else Role.MISSED)
        shown = Role.CHOSEN if isinstance(question.task, FindTones) else answered or Role.ASKED
        marks[asked] = shown
    if isinstance(question.task, JoinNotes):
        marks[question.task.place] = marks[question.task.after] = Role.CHOSEN
        labels = {place: words.label(question, place) for place in marks}
    elif verdict is not None:
        labels = {place: words.label(question, place) for place in marks}
    elif isinstance(question.task, FindTones):
        labels = {question.task.place: words.label(question, question.task.place)}
    fingers = resting_frets(neck, hand, position)
    hand_text = words.hand_row(neck, hand, position)
    if isinstance(question.task, FingerPlace) and verdict is None:
        # Where the other fingers lie is what is asked; finger 1 says where the hand is.
        fingers, hand_text = {1: position}, f"{roman(position)}: finger 1 lies here"
    return NeckView(
        neck,
        marks=marks,
        labels=labels,
        hints=hints or {},
        cursor=cursor if verdict is None else None,
        focus=wanted,
        fingers=fingers,
        hand_text=hand_text,
    )


def _judged(verdict: Verdict) -> dict[Place, Role]:
    right, given = verdict.question.right, verdict.answer.given
    if not isinstance(right, frozenset):
        return {}
    marked = given if isinstance(given, frozenset) else frozenset()
    if isinstance(verdict.question.task, ReadNotes):  # either of two places is right
        right = full_answer(verdict.question, marked)
    return {
        **dict.fromkeys(right & marked, Role.RIGHT),
        **dict.fromkeys(marked - right, Role.WRONG),
        **dict.fromkeys(right - marked, Role.MISSED),
    }
