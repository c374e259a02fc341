"""``shift``: say after which note of a phrase the hand moves.

Idea: the phrase begins in one position and ends in another, as in the easiest plan of
its line. For every moment the phrase is planned anew with the hand in the first position
up to it and in the second one after it; what that costs beyond the cheapest moment is
its regret. Some moments are none: a note then lies beyond the hand.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from fretdrill.engine import table
from fretdrill.engine.kind import FindLine
from fretdrill.engine.line_reasons import Dearer, NoShiftThere, ShiftAfter
from fretdrill.engine.lines import Lines, line_settings, lines_of, mixed
from fretdrill.engine.piece import Piece, model_of, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import (
    AfterNote,
    ChooseShift,
    Given,
    Grade,
    Judgement,
    Question,
)
from fretdrill.engine.reasons import Reason
from fretdrill.engine.scoring import finger_accuracy
from fretdrill.engine.table import Setting
from fretdrill.errors import NothingToAsk
from fretdrill.hand.failure import NoFingering
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.reasons import MATTERS
from fretdrill.hand.states import Pin
from fretdrill.neck.scope import Scope

LEAST_FRETS = 2  # a shift of one fret can hide in any note
LEAST_NOTES = 4
MADE_ASKED = 2  # questions about one made line
MADE_TRIED = 60  # made lines looked through for one with a shift
NO_SHIFT = f"the hand need not move {LEAST_FRETS} frets on this neck"
REACHES = (2, 3, 4)
MOVING = ("chromatic", "octave", "syncopated")  # figures that seldom stay in one position


@dataclass(frozen=True, slots=True)
class ShiftStage:
    """One step of difficulty.

    Attributes:
        lines: what the phrases are taken from.
        reach: how many notes of a phrase lie on either side of the shift at the most.
    """

    lines: Lines
    reach: int


class Phrase(NamedTuple):
    """Notes of a line with one shift among them; first and last, from 0."""

    first: int
    last: int
    from_position: int
    to_position: int


class Moment(NamedTuple):
    """A moment for the shift.

    Attributes:
        plan: the phrase played so; None if that cannot be.
        regret: what it costs beyond the cheapest moment.
        unreached: the note, from 0, that cannot be taken, where one cannot.
    """

    plan: Plan | None
    regret: float
    unreached: int = 0


class ShiftKind:
    """Say after which note the hand moves."""

    name = "shift"
    about = "say after which note of a phrase the hand moves"

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        return {
            **line_settings(find_line),
            "reach": Setting(table.list_of(table.whole_number(2, 8)), REACHES),
        }

    def stages(self, values: Mapping[str, Any]) -> tuple[ShiftStage, ...]:
        """Return longer and longer phrases."""
        lines = lines_of(values, MOVING)
        return tuple(ShiftStage(lines, reach) for reach in values["reach"])

    def wording(self, stages: tuple[ShiftStage, ...]) -> str:
        """Return lines and steps as text."""
        return f"{stages[0].lines}; {' | '.join(str(stage.reach) for stage in stages)}"

    def check(self, player: Player, stage: ShiftStage) -> None:
        """Make sure that the hand has to move somewhere.

        Raises:
            NothingToAsk: it has not.
        """
        foci = self.foci(player, stage)
        if not foci:
            raise NothingToAsk(f"{stage.lines}: {NO_SHIFT}")
        _with_phrases(stage, foci[-1].rsplit(":", 1)[0], player)

    def foci(self, player: Player, stage: ShiftStage) -> tuple[str, ...]:
        """Return ``line:note`` for the notes after which the plan of a written line moves.

        For made lines it is ``line:n``, the n-th of these moments.
        """
        written = [
            f"{piece}:{number}"
            for piece in stage.lines.written
            for number in range(1, len(_phrases(piece, player, stage.reach)) + 1)
        ]
        made = [f"{name}:{n}" for n in range(1, MADE_ASKED + 1) for name in stage.lines.made]
        return mixed(written, made)

    def subject(self, focus: str) -> str:
        """Return the place in the line."""
        return focus

    def ask(self, player: Player, stage: ShiftStage, focus: str) -> Question:
        """Ask for the moment of a phrase."""
        name, number = focus.rsplit(":", 1)
        piece, phrases = _with_phrases(stage, name, player)
        phrase = phrases[(int(number) - 1) % len(phrases)]
        line = plan_of(piece, player).line.excerpt(phrase.first, phrase.last)
        taken = Piece(f"{piece} {phrase.first + 1}-{phrase.last + 1}", line)
        task = ChooseShift(taken, phrase.from_position, phrase.to_position)
        moments = moments_of(task, player)
        right = min(range(len(moments)), key=lambda i: moments[i].regret)
        last_fret = max(phrase.from_position, phrase.to_position) + 4
        return Question(
            kind=self.name,
            player=player,
            scope=Scope(min(phrase.from_position, phrase.to_position), last_fret),
            task=task,
            focus=focus,
            right=AfterNote(right + 1),
            item_keys=(f"shift {taken}",),
            position=phrase.from_position,
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Weigh the moment by what the phrase costs with it."""
        match question.task, question.right, given:
            case ChooseShift() as task, AfterNote(right), AfterNote(number):
                return _judge(moments_of(task, question.player), task, right, number)
        raise TypeError("a shift question is answered with a moment")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Say what the easiest moment takes."""
        match question.task, question.right:
            case ChooseShift() as task, AfterNote(right):
                return _told(moments_of(task, question.player)[right - 1], right, given=False)
        raise TypeError("a shift question asks for a moment")


def _judge(moments: tuple[Moment, ...], task: ChooseShift, right: int, number: int) -> Judgement:
    if not 1 <= number <= len(moments):
        raise TypeError("a moment of a phrase is after one of its notes but the last")
    best, moment = moments[right - 1], moments[number - 1]
    if moment.plan is None:
        position = task.to_position if moment.unreached >= number else task.from_position
        fault = (
            NoShiftThere(best.plan, number - 1, moment.unreached, position) if best.plan else None
        )
        reasons = (*((fault,) if fault else ()), *_told(best, right, given=False))
        return Judgement(0.0, reasons, grade=Grade.NO_FINGER)
    if moment.regret < MATTERS:
        told = _told(moment, number, given=False)
        return Judgement(1.0, told, moment.regret, Grade.EASIEST)
    shift = moment.plan.shift_after(number - 1)
    late = shift is not None and shift.late
    why: tuple[Reason, ...] = ()
    if not late and best.plan is not None:
        why = (Dearer.by(moment.plan, best.plan, range(len(moment.plan.states))),)
    told = (*_told(moment, number, given=True), *why, *_told(best, right, given=False))
    grade = Grade.NO_FINGER if late else Grade.WORKS
    return Judgement(finger_accuracy(moment.regret), told, moment.regret, grade)


def _told(moment: Moment, number: int, *, given: bool) -> tuple[Reason, ...]:
    return () if moment.plan is None else (ShiftAfter(moment.plan, number - 1, given),)


@lru_cache(maxsize=64)
def moments_of(task: ChooseShift, player: Player) -> tuple[Moment, ...]:
    """Return the moments of a phrase for its shift, after the first note and each later one."""
    line = task.piece.line
    planner = Planner(model_of(player.neck, player.hand))
    plans: list[Plan | int] = []
    for number in range(1, len(line.notes)):
        pins = {
            i: Pin(position=task.from_position if i < number else task.to_position)
            for i in range(len(line.notes))
        }
        try:
            solution = planner.solve(line, pins)
            plans.append(Plan(line, solution, solution.best()))
        except NoFingering as fault:
            plans.append(min(cause.index for cause in fault.causes) - 1)
    least = min((plan.cost for plan in plans if isinstance(plan, Plan)), default=0.0)
    return tuple(
        Moment(plan, plan.cost - least)
        if isinstance(plan, Plan)
        else Moment(None, float("inf"), plan)
        for plan in plans
    )


@lru_cache(maxsize=256)
def _phrases(piece: Piece, player: Player, reach: int) -> tuple[Phrase, ...]:
    """Return the phrases of a line with one shift that is worth asking about."""
    plan = plan_of(piece, player)
    found = []
    for shift in plan.shifts:
        first = last = shift.index
        while first > 0 and plan.states[first - 1].anchor == shift.from_position:
            first -= 1
        last = shift.index + 1
        while last + 1 < len(plan.states) and plan.states[last + 1].anchor == shift.to_position:
            last += 1
        first, last = max(first, shift.index - reach + 1), min(last, shift.index + reach)
        if abs(shift.frets) >= LEAST_FRETS and last - first + 1 >= LEAST_NOTES:
            found.append(Phrase(first, last, shift.from_position, shift.to_position))
    return tuple(found)


def _with_phrases(stage: ShiftStage, name: str, player: Player) -> tuple[Piece, tuple[Phrase, ...]]:
    """Return a line by its name and its phrases; for a made one without any, another that has.

    Raises:
        NothingToAsk: none of those looked through has one.
    """
    names = stage.lines.made
    start = names.index(name) if name in names else 0
    for looked_at in (name, *names[start + 1 :], *names[:start])[:MADE_TRIED]:
        piece = stage.lines.named(looked_at, player)
        phrases = _phrases(piece, player, stage.reach)
        if phrases:
            return piece, phrases
    return _any_with_phrases(stage, player)


@lru_cache(maxsize=64)
def _any_with_phrases(stage: ShiftStage, player: Player) -> tuple[Piece, tuple[Phrase, ...]]:
    """Return the first made line that has a shift, see :func:`_with_phrases`."""
    for name in stage.lines.made:
        piece = stage.lines.named(name, player)
        phrases = _phrases(piece, player, stage.reach)
        if phrases:
            return piece, phrases
    raise NothingToAsk(f"{stage.lines}: {NO_SHIFT}")
