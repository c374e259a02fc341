"""``ahead``: pick fingers for the coming notes of a line.

Idea: the hand stands at a note as in the easiest plan of the line. What the player
gives for the next notes is weighed by what the rest of the line then costs beyond
what it would have cost; every fingering within :data:`TOLERANCE` of the best counts
as the best. The note that is told about is the first one whose choice made it dearer.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from operator import ne
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.kind import FindLine
from fretdrill.engine.line_reasons import (
    AsGood,
    Dearer,
    NoWayToTake,
    Planned,
    PlayedOn,
    TakesHandAlong,
)
from fretdrill.engine.lines import Lines, line_settings, lines_of, mixed
from fretdrill.engine.piece import Piece, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import (
    FingerAhead,
    Fingering,
    Given,
    Grade,
    Judgement,
    Question,
    Shown,
)
from fretdrill.engine.reasons import GaveUp, Reason
from fretdrill.engine.scoring import finger_accuracy
from fretdrill.engine.table import Setting
from fretdrill.errors import NothingToAsk
from fretdrill.hand.plan import Plan
from fretdrill.hand.problem import Path
from fretdrill.hand.reasons import MATTERS, against, tempting
from fretdrill.hand.states import Choice
from fretdrill.neck.scope import Scope

TOLERANCE = MATTERS  # regret below which a fingering is as good as the best [assumption]
FURTHER_MM = 25.0  # about a fret: from here on a longer way is a shift more [assumption]
MADE_ASKED = 4  # questions about one made line
MOST_AHEAD = 3
WAYS = tuple(shown.value for shown in Shown)


@dataclass(frozen=True, slots=True)
class AheadStage:
    """One step of difficulty.

    Attributes:
        lines: what is asked about.
        count: how many of the coming notes are asked for, 1 to 3.
        shown: how they are shown.
        within: first and last note that the hand may stand at, from 0; None for any.
    """

    lines: Lines
    count: int
    shown: Shown
    within: tuple[int, int] | None = None


class Ahead:
    """Pick a finger for each of the next notes of a line."""

    name = "ahead"
    about = "pick fingers for the coming notes of a line"

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        return {
            **line_settings(find_line),
            "next": Setting(table.list_of(table.whole_number(1, MOST_AHEAD)), (1, 2, 3)),
            "shown": Setting(table.list_of(table.one_of("way to show notes", WAYS)), WAYS),
        }

    def stages(self, values: Mapping[str, Any]) -> tuple[AheadStage, ...]:
        """Return more notes at a time, then the same shown in the next way."""
        lines, counts = lines_of(values), values["next"]
        return tuple(
            AheadStage(lines, count, Shown(way)) for way in values["shown"] for count in counts
        )

    def wording(self, stages: tuple[AheadStage, ...]) -> str:
        """Return lines and steps as text."""
        steps = " | ".join(f"{stage.count} as {stage.shown.value}" for stage in stages)
        return f"{stages[0].lines}; {steps}"

    def check(self, player: Player, stage: AheadStage) -> None:
        """Make sure that there are enough notes to ask for.

        Raises:
            NothingToAsk: there are not.
        """
        if not self.foci(player, stage):
            raise NothingToAsk(f"{stage.lines}: too few notes on this neck to look ahead")

    def foci(self, player: Player, stage: AheadStage) -> tuple[str, ...]:
        """Return ``line:note`` for the notes of written lines before a choice that matters.

        For made lines it is ``line:n``, the n-th of these notes, so that a line is made
        only when it is asked about.
        """
        written = [
            f"{piece}:{index + 1}"
            for piece in stage.lines.written
            for index in _standing_notes(piece, player, stage)
        ]
        made = [f"{name}:{n}" for n in range(1, MADE_ASKED + 1) for name in stage.lines.made]
        return mixed(written, made)

    def subject(self, focus: str) -> str:
        """Return the place in the line."""
        return focus

    def ask(self, player: Player, stage: AheadStage, focus: str) -> Question:
        """Ask for the notes after the one that the hand stands at."""
        name, number = focus.rsplit(":", 1)
        piece = stage.lines.named(name, player)
        index = int(number) - 1
        if piece not in stage.lines.written:
            notes = _standing_notes(piece, player, stage)
            index = notes[index % len(notes)]
        plan = plan_of(piece, player)
        count = _count(plan, stage)
        last = index + count
        states = plan.states[index : last + 1]
        notes_of = plan.line.notes
        frets = [state.fret for state in states] + [states[0].anchor]
        return Question(
            kind=self.name,
            player=player,
            scope=Scope(max(1, min(frets)), max(1, *frets)),
            task=FingerAhead(piece, index, count, stage.shown),
            focus=focus,
            right=Fingering(tuple(state.choice for state in states[1:])),
            item_keys=tuple(f"ahead {piece}: {at + 1}" for at in range(index + 1, last + 1)),
            position=states[0].anchor,
            least_s=plan.line.seconds_between(notes_of[index].onset, notes_of[last].onset),
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Weigh the fingering by what the rest of the line costs with it."""
        match question.task, given:
            case FingerAhead() as task, Fingering():
                return _judge(task, plan_of(task.piece, question.player), given)
        raise TypeError("an ahead question is answered with a fingering")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Play on as is easiest, and say why for the first choice that matters."""
        if not isinstance(question.task, FingerAhead):
            raise TypeError("an ahead question asks for coming notes")
        task, plan = question.task, plan_of(question.task.piece, question.player)
        played = PlayedOn(plan, plan, task.index, task.asked[-1])
        return (GaveUp(), *_whys(plan, task), played)


@lru_cache(maxsize=256)
def _standing_notes(piece: Piece, player: Player, stage: AheadStage) -> tuple[int, ...]:
    """Return the notes before a choice that matters; if none does, before a stopped note."""
    plan = plan_of(piece, player)
    first, last = stage.within or (0, len(plan.states) - 1)
    count = _count(plan, stage)
    if count < 1:
        return ()
    notes = range(max(0, first), min(last, len(plan.states) - 1 - count) + 1)
    seen = range(notes.start + 1, notes.stop + count) if notes else range(0)
    weighty = {at for at in seen if _matters(plan, at, stage.shown)}
    asked = [i for i in notes if any(at in weighty for at in range(i + 1, i + 1 + count))]
    if asked:
        return tuple(asked)
    stopped = [i for i in notes if any(s.fret for s in plan.states[i + 1 : i + 1 + count])]
    return tuple(stopped or notes)  # an open string alone asks for no finger


def _count(plan: Plan, stage: AheadStage) -> int:
    """Return how many coming notes are asked for: fewer where a line has not so many."""
    return min(stage.count, len(plan.states) - 1)


def _matters(plan: Plan, index: int, shown: Shown) -> bool:
    """Whether the hand moves to a note, or who sees no further would take it otherwise."""
    state = plan.states[index]
    if index and state.fret and state.anchor != plan.states[index - 1].anchor:
        return True
    instead = tempting(plan, index, place_given=shown is Shown.PLACES)
    return instead is not None and any(against(plan, index, instead))


def _whys(plan: Plan, task: FingerAhead) -> Iterator[Planned]:
    """Yield a reason for the first asked note whose tempting choice would cost."""
    for index in task.asked:
        instead = tempting(plan, index, place_given=task.shown is Shown.PLACES)
        for reason in against(plan, index, instead) if instead is not None else ():
            yield Planned(plan, reason)
            return


def _judge(task: FingerAhead, plan: Plan, given: Fingering) -> Judgement:
    first, before = task.index + 1, plan.states[task.index]
    layers = plan.solution.problem.layers
    for index, choice in zip(task.asked, given.choices, strict=True):
        if choice not in layers[index].choices:
            played = PlayedOn(plan, plan, task.index, task.asked[-1])
            told = (NoWayToTake(plan, index, *choice), GaveUp(), played)
            return Judgement(0.0, told, grade=Grade.NO_FINGER)
    easiest = _easiest(plan, task)
    least = plan.solution.continued(first, easiest, before)
    regret = plan.solution.continued(first, given.choices, before) - least
    yours, last = _played(plan, task.index, given)
    played = PlayedOn(plan, yours, task.index, last)
    if regret < TOLERANCE:
        other = [i for i, *two in zip(task.asked, given.choices, easiest, strict=True) if ne(*two)]
        why = (AsGood(plan, other[0], regret),) if other else tuple(_whys(plan, task))
        return Judgement(1.0, (*why, played), regret, Grade.EASIEST)
    reasons = (*_faults(plan, task, given, played), played)
    return Judgement(finger_accuracy(regret), reasons, regret, _grade(played))


def _easiest(plan: Plan, task: FingerAhead) -> tuple[Choice, ...]:
    return tuple(plan.states[index].choice for index in task.asked)


def _played(plan: Plan, index: int, given: Fingering) -> tuple[Plan, int]:
    """Return the line played on with a fingering, and the note where all is as planned again."""
    before = plan.states[index]
    least = index + len(given.choices)
    states, costs = list(plan.states[: index + 1]), list(plan.path.costs[: index + 1])
    at = index
    for step in plan.solution.onward(index + 1, given.choices, before):
        at += 1
        states.append(step.state)
        costs.append(step.cost)
        if at > least and step.state == plan.states[at]:
            break
    states += plan.states[at + 1 :]
    costs += plan.path.costs[at + 1 :]
    if at + 1 < len(plan.states) and at == least:
        at += 1
    return Plan(plan.line, plan.solution, Path(tuple(states), tuple(costs))), at


def _faults(plan: Plan, task: FingerAhead, given: Fingering, played: PlayedOn) -> Iterator[Reason]:
    """Yield what is wrong with the first choice that made the rest of the line dearer."""
    first, before = task.index + 1, plan.states[task.index]
    least = plan.solution.continued(first, _easiest(plan, task), before)
    for count in range(1, task.count + 1):
        total = plan.solution.continued(first, given.choices[:count], before)
        if total - least < TOLERANCE:
            continue
        index = task.index + count
        sound = Fingering(given.choices[: count - 1])
        way = _played(plan, task.index, sound)[0] if sound.choices else plan
        if played.yours.shift_after(index - 1) and not way.shift_after(index - 1):
            yield TakesHandAlong(way, played.yours, index)
            return
        whys = [*against(way, index, given.choices[count - 1], total - least)]
        yield from (Planned(way, reason) for reason in whys)
        if not whys:
            notes = range(played.first + 1, played.last + 1)
            yield Dearer.by(played.yours, played.best, notes)
        return


def _grade(played: PlayedOn) -> Grade:
    """Return a fingering's grade by the shifts that it leads to."""
    notes = range(played.first, played.last)
    best = [shift for i in notes if (shift := played.best.shift_after(i)) is not None]
    yours = [shift for i in notes if (shift := played.yours.shift_after(i)) is not None]
    if sum(shift.late for shift in yours) > sum(shift.late for shift in best):
        return Grade.NO_FINGER
    further = sum(s.distance_mm for s in yours) - sum(s.distance_mm for s in best)
    return Grade.SHIFT if len(yours) > len(best) or further >= FURTHER_MM else Grade.WORKS
