"""An opened line: its plan, the player's pins, and what is worked out beside the screen.

It knows no screen. Planning is asked for as a :class:`Job`, which may run on any thread and
touches nothing that changes; :meth:`OpenLine.take` puts its result in place, unless a later
job was asked for meanwhile. Notes are counted from 0, in the whole line.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from fretdrill.engine.piece import model_of
from fretdrill.hand.advice import Playable, playable
from fretdrill.hand.failure import NoFingering
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import RatedChoice
from fretdrill.hand.states import Pin
from fretdrill.practice.settings import Settings
from fretdrill.presentation.line_moments import Moments
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab_columns import Added, Columns
from fretdrill.theory.line import Line

SEEN_AHEAD = (0, 1, 2, 3)
MOST_POSITIONS = 8
MOST_UNDONE = 100
PINNED_SIGN = "*"
LEAST_COLUMNS = 2  # of a note's texts: a change of finger then moves little
MOST_FREED = 5_000  # notes to be planned again, to show what a pin costs beside other choices

Pins = Mapping[int, Pin]


@dataclass(frozen=True)
class Job:
    """A plan that is asked for.

    Attributes:
        number: which request it is.
        part: the notes that lie on the neck.
        settings: neck and hand.
        pins: note of the whole line → what is settled about it.
        undoing: whether it takes the last change of the pins back.
        wants_free: whether the cost without pins is to be worked out too.
    """

    number: int
    part: Playable
    settings: Settings
    pins: Pins
    undoing: bool = False
    wants_free: bool = False

    def work(self) -> "Done":
        """Plan; on whatever thread it is called."""
        try:
            plan = self._plan(self._pins)
        except NoFingering as fault:
            return Done(self, None, fault)
        _ = plan.shifts, plan.hard_spots  # worked out here, not when they are first looked at
        return Done(self, plan, None)

    def compare(self, done: "Done") -> "Compared":
        """Plan without pins, to show what they cost; after :meth:`work`, it can wait."""
        pins = self._pins
        if done.plan is None or not pins:
            return Compared(self, {}, None if done.plan is None else done.plan.cost)
        free_cost = self._plan({}).cost if self.wants_free else None
        if len(pins) * len(self.part.kept) > MOST_FREED:
            return Compared(self, {}, free_cost)
        freed = {}
        for index in pins:
            others = {at: pin for at, pin in pins.items() if at != index}
            freed[self.part.kept[index]] = self._plan(others)
        return Compared(self, freed, free_cost)

    @property
    def _pins(self) -> dict[int, Pin]:
        """Note of the plan → what is settled about it."""
        planned = {note: index for index, note in enumerate(self.part.kept)}
        return {planned[note]: pin for note, pin in self.pins.items() if note in planned}

    def _plan(self, pins: Mapping[int, Pin]) -> Plan:
        model = model_of(self.settings.neck, self.settings.hand)
        solution = Planner(model).solve(self.part.line, pins)
        return Plan(self.part.line, solution, solution.best())


@dataclass(frozen=True)
class Done:
    """What came of a job: a plan, or why there is none."""

    job: Job
    plan: Plan | None
    fault: NoFingering | None


@dataclass(frozen=True)
class Compared:
    """What pins cost.

    Attributes:
        job: the job that they were planned in.
        freed: pinned note → the plan without that pin; none for long lines.
        free_cost: what the line costs without pins, if that was to be worked out.
    """

    job: Job
    freed: Mapping[int, Plan]
    free_cost: float | None


@dataclass(frozen=True)
class Beside:
    """What is worked out beside a plan, when it is first looked at.

    Attributes:
        plan: the plan.
        positions: position at the first note → the best line from there, cheapest first.
        ahead: the line as played by who sees 0, 1, 2 and 3 notes ahead.
    """

    plan: Plan
    positions: Sequence[tuple[int, Path]]
    ahead: Sequence[Path]

    @classmethod
    def of(cls, plan: Plan) -> "Beside":
        """Work it out; for long lines this takes seconds."""
        costs = plan.solution.by_position()
        ranked = sorted(costs, key=lambda position: (costs[position], position))
        return cls(
            plan,
            [
                (position, plan.solution.from_position(position))
                for position in ranked[:MOST_POSITIONS]
            ],
            [look_ahead(plan.solution.problem, depth) for depth in SEEN_AHEAD],
        )


class OpenLine:
    """A line on the screen.

    Attributes:
        name: what it is found by.
        line: the whole line.
        settings: neck and hand.
        part: the notes that lie on the neck.
        moments: its bars and notes.
        pins: note → what is settled about it.
        plan: the easiest way to play it with these pins; None until the first is worked out.
        beside: what was worked out beside that plan, None until it has been.
        free_cost: what it costs without pins; None until that is known.
        fault: why the pins last asked for cannot be; empty if they can.
        waiting: whether a plan was asked for that has not come.
    """

    def __init__(self, name: str, line: Line, settings: Settings, pins: Pins) -> None:
        self.name = name
        self.line = line
        self.settings = settings
        self.part = playable(line, settings.neck)
        self.moments = Moments(line)
        self.pins: dict[int, Pin] = dict(pins)
        self.plan: Plan | None = None
        self.beside: Beside | None = None
        self.free_cost: float | None = None
        self.fault = ""
        self.waiting = False
        self._asked = 0
        self._freed: Mapping[int, Plan] = {}
        self._undone: list[dict[int, Pin]] = []

    @cached_property
    def _planned(self) -> dict[int, int]:
        return {note: index for index, note in enumerate(self.part.kept)}

    def planned(self, note: int) -> int | None:
        """Return which note of the plan a note is, None if it lies off the neck."""
        return self._planned.get(note)

    # Planning

    def ask(self, pins: Pins | None = None) -> Job:
        """Ask for a plan with some pins, or with those there are."""
        self._asked += 1
        self.waiting = True
        wanted = self.pins if pins is None else pins
        wants_free = self.free_cost is None
        return Job(self._asked, self.part, self.settings, dict(wanted), wants_free=wants_free)

    def ask_back(self) -> Job | None:
        """Ask for the plan before the last change of the pins, None if there was none."""
        return replace(self.ask(self._undone[-1]), undoing=True) if self._undone else None

    def take(self, done: Done) -> bool:
        """Put a job's result in place; False if it is out of date."""
        if done.job.number != self._asked:
            return False
        self.waiting = False
        if done.plan is None:
            self.fault = str(done.fault)
            return True
        self.fault = ""
        if done.job.undoing:
            self._undone.pop()
        elif done.job.pins != self.pins:
            self._undone = [*self._undone[-MOST_UNDONE:], self.pins]
        self.pins = dict(done.job.pins)
        self.plan = done.plan
        self._freed = {}
        self.beside = None
        return True

    def take_beside(self, beside: Beside) -> bool:
        """Put in place what was worked out beside a plan; False if it is another one's."""
        if beside.plan is not self.plan:
            return False
        self.beside = beside
        return True

    def take_compared(self, compared: Compared) -> bool:
        """Put in place what pins cost; False if it is out of date."""
        if compared.free_cost is not None:
            self.free_cost = compared.free_cost
        if compared.job.number != self._asked or self.fault:
            return False
        self._freed = compared.freed
        return True

    # Pins

    def with_pin(self, note: int, pin: Pin) -> dict[int, Pin]:
        """Return the pins with one more; without it, if it is there already."""
        if self.pins.get(note) == pin:
            return self.without(note)
        return {**self.pins, note: pin}

    def without(self, note: int) -> dict[int, Pin]:
        """Return the pins without those of a note."""
        return {at: pin for at, pin in self.pins.items() if at != note}

    # What is there to choose from

    def compared(self, note: int) -> Plan | None:
        """Return the plan that a note's choices are compared in: without the note's own pin."""
        return self._freed.get(note, self.plan)

    def choices(self, note: int) -> Sequence[RatedChoice]:
        """Return every choice for a note, best first; none off the neck or without a plan."""
        index, plan = self.planned(note), self.compared(note)
        return () if index is None or plan is None else plan.choices(index)

    def columns(
        self, plan: Plan, names: Names, marks: Mapping[int, str], paths: Sequence[Path]
    ) -> Columns:
        """Return the tab of a plan.

        Args:
            plan: the plan that is shown.
            names: how notes are written.
            marks: note → a sign under it; pins get theirs beside.
            paths: other ways to play the line, each with a row of fingers.
        """
        pinned = {note: f"{marks.get(note, '')}{PINNED_SIGN}" for note in self.pins}
        added = Added(
            whole=self.line if self.part.off else None,
            kept=self.part.kept,
            lengths=True,
            marks={**marks, **pinned},
            ahead=paths,
            least=LEAST_COLUMNS,
        )
        return Columns(plan, names, added, self.moments)

    def is_pinned(self, note: int, rated: RatedChoice) -> bool:
        """Whether a choice is what the player settled."""
        string, fret, finger = rated.choice
        return self.pins.get(note) == Pin(finger, string, fret)
