"""The words of drills about lines: what is asked, and why an answer is worth what it is."""

from collections.abc import Iterator

from fretdrill.engine.kinds.ahead import AheadStage
from fretdrill.engine.kinds.shift import ShiftStage, moments_of
from fretdrill.engine.line_reasons import (
    AsGood,
    Dearer,
    LineReason,
    NoShiftThere,
    NoWayToTake,
    Planned,
    PlayedOn,
    ShiftAfter,
    TakesHandAlong,
)
from fretdrill.engine.piece import plan_of
from fretdrill.engine.question import (
    AfterNote,
    ChooseShift,
    FingerAhead,
    Fingering,
    Question,
    Shown,
)
from fretdrill.hand.plan import Plan, Shift
from fretdrill.neck.neck import Place
from fretdrill.neck.position import roman
from fretdrill.presentation.names import Names, frets_away, small_number
from fretdrill.presentation.plan_words import PlanWords

LineTask = FingerAhead | ChooseShift
MOST_TERMS = 3


def task_text(names: Names, question: Question, task: LineTask) -> str:
    """Return what is asked."""
    match task:
        case FingerAhead():
            return _ahead_text(names, question, task)
        case ChooseShift(piece, start, end):
            return (
                f"{piece.line.title}: the hand begins in {roman(start)} and ends in {roman(end)}. "
                "After which note does it move?"
            )


def _ahead_text(names: Names, question: Question, task: FingerAhead) -> str:
    plan = plan_of(task.piece, question.player)
    words, state = PlanWords(plan, names), plan.states[task.index]
    reaching = "" if not state.finger or plan.at_rest(task.index) else ", reaching"
    finger = f"finger {state.finger}{reaching}" if state.finger else "the open string"
    start = (
        f"{plan.line.title}, {words.moment(task.index)}: you stand on {words.note(task.index)} "
        f"with {finger}, in {roman(state.anchor)}."
    )
    which = "finger takes" if task.count == 1 else "fingers take"
    if task.shown is not Shown.PLACES:
        which = f"places and {which}" if task.count > 1 else f"place and {which}"
    return f"{start} Which {which} {next_notes(task.count)}?"


def next_notes(count: int) -> str:
    """Return ``"the next note"`` or ``"the next two notes"``."""
    return "the next note" if count == 1 else f"the next {small_number(count)} notes"


def stage_text(stage: object) -> str | None:
    """Return what a drill is about at a stage, None if it is not about lines."""
    match stage:
        case AheadStage(count=count, shown=shown):
            ways = {
                Shown.PLACES: f"with {'its place' if count == 1 else 'their places'} given",
                Shown.NAMES: "by name",
                Shown.STAFF: "on the staff",
            }
            return f"{next_notes(count)}, {ways[shown]}"
        case ShiftStage(reach=reach):
            return f"phrases of up to {2 * reach} notes"
    return None


def subject_text(names: Names, question: Question, task: LineTask) -> str:
    """Return what of a question is worth another look."""
    title = task.piece.line.title
    if isinstance(task, FingerAhead):
        plan = plan_of(task.piece, question.player)
        return f"{title} from {PlanWords(plan, names).moment(task.index)}"
    bar = task.piece.line.bars[0].number
    return f"the shift from {roman(task.from_position)} in {title}, bar {bar}"


def given_text(names: Names, question: Question, given: Fingering | AfterNote) -> str:
    """Return an answer in words."""
    match given:
        case Fingering():
            return ", ".join(_taken(names, question, given))
        case AfterNote(number):
            if not isinstance(question.task, ChooseShift):
                raise TypeError("a moment answers a question about a shift")
            return f"after note {number}, {_note_of_phrase(names, question.task, number - 1)}"


def _taken(names: Names, question: Question, given: Fingering) -> Iterator[str]:
    """Yield each choice with its note: ``"2 on E (A string, fret 7)"``."""
    if not isinstance(question.task, FingerAhead):
        raise TypeError("a fingering answers a question about coming notes")
    words = PlanWords(plan_of(question.task.piece, question.player), names)
    for index, (string, fret, finger) in zip(question.task.asked, given.choices, strict=False):
        where = names.place(question.player.neck, Place(string, fret))
        taken = f"{finger} on {words.note(index)}" if finger else f"{words.note(index)} open"
        yield f"{taken} ({where})" if fret else taken


def _note_of_phrase(names: Names, task: ChooseShift, index: int) -> str:
    return names.note(task.piece.line.notes[index].pitch.name)


def reason_text(names: Names, question: Question, reason: LineReason) -> str:
    """Return a reason in a sentence or two."""
    match reason:
        case Planned(plan, why):
            return PlanWords(plan, names).reason(why)
        case NoWayToTake():
            return _no_way(names, question, reason)
        case AsGood(plan, index, regret):
            return f"{PlanWords(plan, names).taken(index)} costs {regret:.1f} less: either is good."
        case TakesHandAlong():
            return _takes_along(names, reason)
        case Dearer(plan, terms):
            more = ", ".join(PlanWords(plan, names).term(*term) for term in terms[:MOST_TERMS])
            return f"Costs more by the end: {more or 'a little of everything'}."
        case PlayedOn():
            return _played_on(names, reason)
        case ShiftAfter(plan, index, given):
            shift = plan.shift_after(index)
            told = PlanWords(plan, names).shift(shift) if shift is not None else "The hand stays."
            return f"Yours: {told[0].lower()}{told[1:]}" if given else told
        case NoShiftThere(plan, index, unreached, position):
            words = PlanWords(plan, names)
            when = "late" if unreached <= index else "early"
            return (
                f"After {words.note(index)} is too {when}: {words.note(unreached)} "
                f"({words.moment(unreached)}) lies beyond the hand in {roman(position)}."
            )


def _no_way(names: Names, question: Question, reason: NoWayToTake) -> str:
    words, neck = PlanWords(reason.plan, names), question.player.neck
    place = Place(reason.string, reason.fret)
    where, note = names.place(neck, place), words.note(reason.index)
    if neck.midi(place) != reason.plan.line.notes[reason.index].pitch.midi:
        return f"{where} is not the {note} that is asked for."
    if place.fret == 0:
        return f"The open {names.string(neck, place.string)} needs no finger: 0."
    if reason.finger == 0:
        return f"{where} is pressed down, not open: it needs a finger."
    if reason.finger == 3 and question.player.hand.system == "1-2-4":
        return "Finger 3 is not used in 1-2-4."
    return (
        f"{where}: with finger {reason.finger} there the hand would stand behind the nut; a lower "
        "finger takes it."
    )


def _takes_along(names: Names, reason: TakesHandAlong) -> str:
    yours, best = reason.yours.states[reason.index], reason.best.states[reason.index]
    shift = reason.yours.shift_after(reason.index - 1)
    note = PlanWords(reason.yours, names).note(reason.index)
    finger = f"{yours.finger} on {note}" if yours.finger else f"The open {note}"
    lies = "lies over it" if reason.best.at_rest(reason.index) else "reaches it"
    lies = f"in {roman(best.anchor)} finger {best.finger} {lies}"
    if yours.place != best.place:
        where = names.place(reason.best.solution.problem.model.neck, best.place)
        lies = f"in {roman(best.anchor)} it is under the hand, {where}"
    return f"{finger} takes the hand {way_text(shift)}; {lies}."


def _played_on(names: Names, reason: PlayedOn) -> str:
    best, yours = moves_between(reason.best, reason), moves_between(reason.yours, reason)
    words, last = PlanWords(reason.best, names), reason.last
    until = f"{words.note(last)} ({words.moment(last)})"
    if reason.best.states[: last + 1] == reason.yours.states[: last + 1]:
        return f"Until {until} the hand {_moves(best)}."
    if not best and not yours:
        return f"Until {until} the hand stays both ways."
    return f"Until {until} yours {_moves(yours)}; the easiest {_moves(best)}."


def moves_between(plan: Plan, reason: PlayedOn) -> list[Shift]:
    """Return the shifts of one of the two ways, where they are compared."""
    notes = range(reason.first, reason.last)
    return [shift for index in notes if (shift := plan.shift_after(index)) is not None]


def _moves(shifts: list[Shift]) -> str:
    """Return what a hand does, after its name: ``"moves twice, 86 mm"``."""
    if not shifts:
        return "stays"
    total = sum(shift.distance_mm for shift in shifts)
    times = {1: "once", 2: "twice"}.get(len(shifts), f"{small_number(len(shifts))} times")
    late = sum(shift.late for shift in shifts)
    hurry = f", {small_number(late)} of them without the time for it" if late else ""
    if late == len(shifts):
        hurry = ", without the time for it"
    return f"moves {times}, {total:.0f} mm{hurry}"


def phrase_lengths(question: Question, task: ChooseShift) -> list[float | None]:
    """Return by how much each note of a phrase is shortened if the hand moves after it, in s.

    None where it cannot move.
    """
    shortened: list[float | None] = []
    for index, moment in enumerate(moments_of(task, question.player)):
        shift = moment.plan.shift_after(index) if moment.plan is not None else None
        shortened.append(None if shift is None else shift.shortened_s)
    return shortened


def way_text(shift: Shift | None) -> str:
    """Return how the hand comes to a note: ``"up three frets, 122 mm, 0.25 s"``."""
    if shift is None:
        return "stays"
    way = "up" if shift.frets > 0 else "back"
    text = f"{way} {frets_away(shift.frets)}, {shift.distance_mm:.0f} mm in {shift.needs_s:.2f} s"
    return f"{text}: no time" if shift.late else text
