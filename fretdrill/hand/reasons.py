"""Why a note is taken as it is: reasons as data, for notes whose choice matters.

Idea: a choice matters where a player who sees no further than the note itself would take
another one and pay for it later, where the hand moves, where a slur hangs on it, and where the hand
stretches. Front ends make sentences of these.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from fretdrill.hand.joins import Technique
from fretdrill.hand.lookahead import next_state
from fretdrill.hand.plan import Plan, Shift, TakenFrom
from fretdrill.hand.shifts import shift_s
from fretdrill.hand.states import Choice, State
from fretdrill.hand.terms import OPEN_POSITIONS

NOTED_MM = 4.0  # past comfortable: less of a stretch is not worth a word [assumption]
MATTERS = 0.5  # regret from which a choice is worth a word [assumption]


class Move(NamedTuple):
    """A way of the hand along the neck.

    Attributes:
        frets: positive towards the bridge.
        mm: how far.
        needs_s, available_s: the seconds that it needs and that there are.
    """

    frets: int
    mm: float
    needs_s: float
    available_s: float


@dataclass(frozen=True, slots=True)
class FreesFinger:
    """Another finger on the same place would leave none where one is needed.

    Attributes:
        index: the note.
        chosen, instead: the choices compared.
        regret: what the other costs more.
        at: the later note that pays for it.
        finger: the finger that is over that note as planned.
        move: how the hand has to move for it with the other choice; None if it need not.
    """

    index: int
    chosen: Choice
    instead: Choice
    regret: float
    at: int
    finger: int
    move: Move | None


@dataclass(frozen=True, slots=True)
class AvoidsShift:
    """From another place the easiest way on moves the hand, where the plan does not."""

    index: int
    chosen: Choice
    instead: Choice
    regret: float
    at: int
    move: Move


@dataclass(frozen=True, slots=True)
class AvoidsOpen:
    """The open string would do, but with the hand up the neck it rings on.

    Attributes:
        index, chosen, instead, regret: see :class:`FreesFinger`.
        position: where the hand stands.
    """

    index: int
    chosen: Choice
    instead: Choice
    regret: float
    position: int


@dataclass(frozen=True, slots=True)
class WithinReach:
    """A later note lies in easy reach; the other choice would stretch for it.

    Attributes:
        index, chosen, instead, regret, at: see :class:`FreesFinger`.
        span_mm: the stretch of the other choice.
        comfortable_mm: how far those fingers part comfortably.
    """

    index: int
    chosen: Choice
    instead: Choice
    regret: float
    at: int
    span_mm: float
    comfortable_mm: float


@dataclass(frozen=True, slots=True)
class OutOfReach:
    """A note cannot be reached from where the hand was, so it moves.

    Attributes:
        index: the note.
        position: where the hand was.
        span_mm: from finger 1 there to the note.
        limit_mm: the most that fingers 1 and 4 part.
    """

    index: int
    position: int
    span_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True)
class SavesSlur:
    """With the other choice a later slur could not be kept."""

    index: int
    chosen: Choice
    instead: Choice
    regret: float
    at: int


@dataclass(frozen=True, slots=True)
class KeepsSlur:
    """The next note needs no pluck with this choice."""

    index: int
    chosen: Choice
    technique: Technique


@dataclass(frozen=True, slots=True)
class BreaksSlur:
    """No choice keeps a written slur or slide: the next note is plucked."""

    index: int


@dataclass(frozen=True, slots=True)
class CoversMove:
    """The hand moves after this note, because it gives the time for it."""

    index: int
    shift: Shift


@dataclass(frozen=True, slots=True)
class DeadEnd:
    """With the choice that looks easiest now, there is no way on at all."""

    index: int
    chosen: Choice
    instead: Choice


Reason = (
    FreesFinger
    | AvoidsShift
    | AvoidsOpen
    | WithinReach
    | OutOfReach
    | SavesSlur
    | KeepsSlur
    | BreaksSlur
    | CoversMove
    | DeadEnd
)


def reasons(plan: Plan) -> list[Reason]:
    """Return the reasons for a plan's notes, in the order of the line."""
    shifts = {shift.index: shift for shift in plan.shifts}
    found: list[Reason] = []
    for index in range(len(plan.states)):
        found.extend(_of_note(plan, index, shifts))
    return found


def _of_note(plan: Plan, index: int, shifts: dict[int, Shift]) -> Iterator[Reason]:
    instead = tempting(plan, index)
    if instead is not None:
        yield from against(plan, index, instead)
    if plan.line.notes[index].join is not None and index + 1 < len(plan.states):
        joined = plan.technique(index)
        if joined is None:
            yield BreaksSlur(index)
        elif joined is not Technique.HELD:
            yield KeepsSlur(index, plan.states[index].choice, joined)
    if index in shifts:
        shift = shifts[index]
        if shift.taken_from is not TakenFrom.NONE:
            yield CoversMove(index, shift)
        yield from _out_of_reach(plan, shift)


def tempting(plan: Plan, index: int, *, place_given: bool = False) -> Choice | None:
    """Return the choice of a player who sees no further than the note, if it is another.

    Args:
        plan: the plan.
        index: the note, from 0.
        place_given: such a player takes the note where the plan does.
    """
    problem = plan.solution.problem
    before = None
    if index:
        before = problem.layers[index - 1].states.index(plan.states[index - 1])
    states, planned = problem.layers[index].states, plan.states[index]
    there = [i for i, state in enumerate(states) if state.place == planned.place]
    state = states[next_state(problem, index, before, 0, there if place_given else None)]
    return None if state.choice == plan.states[index].choice else state.choice


def against(
    plan: Plan, index: int, instead: Choice, regret: float | None = None
) -> Iterator[Reason]:
    """Say what is wrong with another choice for a note; nothing if it is about as good.

    Args:
        plan: the plan.
        index: the note, from 0.
        instead: the other choice.
        regret: what it costs more in the end, where that is known otherwise than from the
            plan: after other notes than the plan's before it.
    """
    chosen = plan.states[index].choice
    if regret is None:
        regret = next((c.regret for c in plan.choices(index) if c.choice == instead), None)
    if regret is None:
        yield DeadEnd(index, chosen, instead)
        return
    if regret < MATTERS:
        return
    position = plan.states[index].anchor
    if instead.finger == 0 and position > OPEN_POSITIONS:
        yield AvoidsOpen(index, chosen, instead, regret, position)
        return
    before = plan.states[index - 1] if index else None
    states = [] if before is None else [before]
    for at, step in enumerate(plan.solution.onward(index, (instead,), before), start=index):
        states = [*states[-1:], step.state]
        if at == index:
            continue
        if step.cost - plan.path.costs[at] >= MATTERS:
            reason = _payment(plan, index, instead, regret, at, states)
            if reason is not None:
                yield reason
                return
        if step.state == plan.states[at]:  # from here on it is the same line
            return


def _payment(
    plan: Plan, index: int, instead: Choice, regret: float, at: int, states: list[State]
) -> Reason | None:
    """Say how the other way pays at a note, None if by nothing that is worth a word.

    Args:
        plan: the plan.
        index: the note whose choice is in question.
        instead: the other choice.
        regret: what it costs more in the end.
        at: the later note that pays.
        states: the hand just before that note and at it, on the other way.
    """
    chosen, finger = plan.states[index].choice, plan.states[at].finger
    before, after = states
    match _dearest_term(plan, at, before, after):
        case "shift" if plan.states[at - 1].anchor == plan.states[at].anchor:
            move = _move(plan, at - 1, before, after)
            stays = all(
                state.anchor == plan.states[index].anchor for state in plan.states[index : at + 1]
            )
            if chosen[:2] == instead[:2] and stays:
                return FreesFinger(index, chosen, instead, regret, at, finger, move)
            return AvoidsShift(index, chosen, instead, regret, at, move)
        case "same hand" if chosen[:2] == instead[:2]:
            return FreesFinger(index, chosen, instead, regret, at, finger, None)
        case "stretch" if after.finger > 1:
            model = plan.solution.problem.model
            span = model.neck.span_mm(after.anchor, after.fret)
            comfortable = model.hand.span(1, after.finger).comfortable
            ours = model.neck.span_mm(plan.states[at].anchor, plan.states[at].fret)
            if span < comfortable + NOTED_MM or ours > comfortable:
                return None
            return WithinReach(index, chosen, instead, regret, at, span, comfortable)
        case "slur" if plan.technique(at - 1) is not None:
            return SavesSlur(index, chosen, instead, regret, at)
    return None


def _dearest_term(plan: Plan, at: int, before: State, after: State) -> str:
    """Return the term by which the other way costs most more at a note."""
    ours, theirs = plan.terms(at), plan.solution.problem.note_terms(at, before, after)
    return max(theirs, key=lambda name: theirs[name] - ours.get(name, 0.0))


def _move(plan: Plan, index: int, one: State, two: State) -> Move:
    problem = plan.solution.problem
    model = problem.model
    frets = two.anchor - one.anchor
    return Move(
        frets,
        model.neck.span_mm(one.anchor, two.anchor),
        shift_s(model.hand, frets),
        model.available_s(one, two, problem.gaps[index]),
    )


def _out_of_reach(plan: Plan, shift: Shift) -> Iterator[Reason]:
    model = plan.solution.problem.model
    fret = plan.states[shift.index + 1].fret
    span = model.neck.span_mm(shift.from_position, fret)
    limit = model.hand.span(1, 4).practical
    if fret > shift.from_position and span > limit:
        yield OutOfReach(shift.index + 1, shift.from_position, span, limit)
