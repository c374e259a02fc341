"""What is seen on the neck of a question about a line, and how it is played on afterwards."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fretdrill.engine.line_reasons import PlayedOn, ShiftAfter
from fretdrill.engine.piece import plan_of
from fretdrill.engine.question import ChooseShift, FingerAhead, Question, Shown, Verdict
from fretdrill.hand.plan import READY_NOTES, Plan
from fretdrill.hand.reach import resting_frets
from fretdrill.hand.solution import RatedChoice
from fretdrill.hand.states import Choice, State, states_of
from fretdrill.neck.neck import Place
from fretdrill.neck.position import roman
from fretdrill.presentation.line_task_words import way_text
from fretdrill.presentation.line_words import hand_text
from fretdrill.presentation.names import Names
from fretdrill.presentation.neck_drawing import NeckView, OtherHand, Role
from fretdrill.presentation.plan_words import PlanWords

SLOWED = 2.0  # a play-through is for looking at
LEAST_FRAME_S, MOST_FRAME_S = 0.5, 2.0
MOST_FRAMES = 12


@dataclass(frozen=True, slots=True)
class Frame:
    """One note of a play-through.

    Attributes:
        view: what is seen on the neck.
        seconds: how long it is to be seen.
    """

    view: NeckView
    seconds: float


def ahead_view(question: Question, task: FingerAhead, chosen: Sequence[Choice]) -> NeckView:
    """Return the hand as it stands, and the coming notes as far as they are told or chosen."""
    plan = plan_of(task.piece, question.player)
    here = plan.states[task.index]
    marks, labels = {here.place: Role.CHOSEN}, {here.place: str(here.finger)}
    for number, index in enumerate(task.asked, start=1):
        place, role = plan.states[index].place, Role.ASKED
        label = f"+{number}" if task.count > 1 else ""  # how many notes ahead: no finger
        if number <= len(chosen):
            choice = chosen[number - 1]
            place, role, label = Place(*choice[:2]), Role.CHOSEN, str(choice.finger)
        elif task.shown is not Shown.PLACES:
            continue
        if place != here.place:
            labels[place] = ",".join(filter(None, (labels.get(place), label)))
            marks.setdefault(place, role)
    text = f"{roman(here.anchor)}: the hand as it is"
    if here.finger and not plan.at_rest(task.index):
        text += f", {here.finger} reaching to fret {here.fret}"
    return _with_hand(question, marks, labels, here, text)


def shift_view(question: Question, task: ChooseShift, names: Names) -> NeckView:
    """Return the notes of a phrase where the hand has them at its beginning and at its end."""
    neck, hand = question.player.neck, question.player.hand
    marks: dict[Place, Role] = {}
    labels: dict[Place, str] = {}
    for note in task.piece.line.notes:
        for state in states_of(neck, hand, note.pitch.midi):
            if state.anchor in (task.from_position, task.to_position):
                marks[state.place] = Role.CHOSEN
                labels[state.place] = names.pitch(note.pitch)
    fingers = resting_frets(neck, hand, task.from_position)
    later = resting_frets(neck, hand, task.to_position)
    return NeckView(
        neck,
        marks=marks,
        labels=labels,
        focus=task.from_position,
        fingers=fingers,
        hand_text=f"from {roman(task.from_position)}",
        other_hand=OtherHand(later, f"to {roman(task.to_position)}"),
    )


def line_view(plan: Plan, index: int, other: RatedChoice | None, names: Names) -> NeckView:
    """Return a note of a plan, the next three, and another choice for it, if that is looked at."""
    model, state = plan.solution.problem.model, plan.states[index]
    marks, labels = {state.place: Role.CHOSEN}, {state.place: str(state.finger)}
    for ahead, coming in enumerate(plan.states[index + 1 : index + 1 + READY_NOTES], start=1):
        if coming.place not in marks:
            labels[coming.place] = f"{labels.get(coming.place, '')}+{ahead}"
    if other is not None and other.choice != state.choice:
        place = Place(*other.choice[:2])
        marks.setdefault(place, Role.ASKED)
        labels[place] = (
            str(other.choice.finger)
            if place != state.place
            else (f"{state.finger}/{other.choice.finger}")
        )
    return NeckView(
        model.neck,
        marks=marks,
        labels=labels,
        focus=state.fret or state.anchor,
        fingers=resting_frets(model.neck, model.hand, state.anchor),
        hand_text=hand_text(plan, index, names),
    )


def play_through(question: Question, verdict: Verdict, names: Names) -> list[Frame]:
    """Return the notes after the one that the hand stood at, as both hands play them.

    None where the verdict has nothing to play.
    """
    for reason in verdict.reasons:
        if isinstance(reason, PlayedOn):
            last = min(reason.last, reason.first + MOST_FRAMES)
            return [_frame(question, reason, at, names) for at in range(reason.first, last + 1)]
        if isinstance(reason, ShiftAfter):
            notes = range(len(reason.plan.states))
            played = PlayedOn(reason.plan, reason.plan, 0, notes[-1])
            return [_frame(question, played, at, names) for at in notes]
    return []


def _frame(question: Question, played: PlayedOn, index: int, names: Names) -> Frame:
    best, yours = played.best.states[index], played.yours.states[index]
    text = _hand_text(played.best, index, names, first=index == played.first)
    line = played.best.line
    seconds = LEAST_FRAME_S
    if index + 1 < len(line.notes):
        onsets = line.notes[index].onset, line.notes[index + 1].onset
        seconds = SLOWED * line.seconds_between(*onsets)
    seconds = min(max(seconds, LEAST_FRAME_S), MOST_FRAME_S)
    if (
        played.best.states[played.first : played.last + 1]
        == (played.yours.states[played.first : played.last + 1])
    ):
        marks, labels = {best.place: Role.RIGHT}, {best.place: str(best.finger)}
        return Frame(_with_hand(question, marks, labels, best, text), seconds)
    own = _hand_text(played.yours, index, names, first=index == played.first)
    view = _with_hand(question, *_both_marks(best, yours), yours, f"yours: {own}")
    fingers = resting_frets(question.player.neck, question.player.hand, best.anchor)
    return Frame(replace(view, other_hand=OtherHand(fingers, f"best:  {text}")), seconds)


def _both_marks(best: State, yours: State) -> tuple[dict[Place, Role], dict[Place, str]]:
    """Return the marks of two hands at one note: the same place is labelled yours/best."""
    if yours.choice == best.choice:
        return {best.place: Role.RIGHT}, {best.place: str(best.finger)}
    marks = {best.place: Role.MISSED, yours.place: Role.WRONG}
    labels = {best.place: str(best.finger), yours.place: str(yours.finger)}
    if yours.place == best.place:
        labels = {best.place: f"{yours.finger}/{best.finger}"}
    return marks, labels


def _hand_text(plan: Plan, index: int, names: Names, *, first: bool) -> str:
    """Return how the hand comes to a note and what it does there."""
    state = plan.states[index]
    note = PlanWords(plan, names).note(index)
    taken = f"{state.finger} on {note}" if state.finger else f"{note} open"
    if first:
        return f"{roman(state.anchor)}, {taken}"
    return f"{roman(state.anchor)}, {taken}, {way_text(plan.shift_after(index - 1))}"


def _with_hand(
    question: Question,
    marks: dict[Place, Role],
    labels: dict[Place, str],
    state: State,
    text: str,
) -> NeckView:
    neck, hand = question.player.neck, question.player.hand
    return NeckView(
        neck,
        marks=marks,
        labels=labels,
        focus=state.fret or state.anchor,
        fingers=resting_frets(neck, hand, state.anchor),
        hand_text=text,
    )
