"""What is worked out for an opened line, on whatever thread: plans, and what is beside them.

Nothing here changes once it is made, so that a job may run while the screen goes on. A job that
nobody waits for any more gives up between two stretches of notes. Notes are counted from 0.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from fretdrill.engine.piece import model_of
from fretdrill.hand.advice import Playable
from fretdrill.hand.failure import ImpossiblePin, NoFingering
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.problem import Path
from fretdrill.hand.states import Pin
from fretdrill.practice.settings import Settings
from fretdrill.presentation import line_words

SEEN_AHEAD = (0, 1, 2, 3)
MOST_POSITIONS = 8
MOST_FREED = 5_000  # notes to be planned again at once, to compare what pins cost

Pins = Mapping[int, Pin]
Stop = Callable[[], bool]
"""Whether nobody waits for a job any more."""


class Outdated(Exception):
    """Nobody waits for a job any more."""


class _Watch:
    """Ends the planning when it is told to stop."""

    def __init__(self, stop: Stop) -> None:
        self._stop = stop

    def planned(self, done: int, of: int) -> None:
        if self._stop():
            raise Outdated


def _never() -> bool:
    return False


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
        opening: whether pins that cannot be are left out: they come from another neck.
    """

    number: int
    part: Playable
    settings: Settings
    pins: Pins
    undoing: bool = False
    wants_free: bool = False
    opening: bool = False

    def work(self, stop: Stop = _never) -> "Done":
        """Plan; on whatever thread it is called.

        Raises:
            Outdated: it was told to stop.
        """
        try:
            plan = self._plan(self._pins, stop)
        except NoFingering as fault:
            return (
                self._without_impossible(fault, stop) if self.opening else Done(self, None, fault)
            )
        return Done(self, plan, None)

    def _without_impossible(self, fault: NoFingering, stop: Stop) -> "Done":
        """Plan without the pins that a fault names."""
        causes = [cause for cause in fault.causes if isinstance(cause, ImpossiblePin)]
        left_out = {self.part.kept[cause.index - 1] for cause in causes}
        pins = {note: pin for note, pin in self._pins_by_note.items() if note not in left_out}
        try:
            plan = self._plan(self._planned(pins), stop)
        except NoFingering as other:
            return Done(self, None, other)
        return Done(self, plan, fault, frozenset(left_out))

    def compare(self, done: "Done", stop: Stop = _never) -> "Compared":
        """Plan without pins, to show what they cost; after :meth:`work`, it can wait.

        Raises:
            Outdated: it was told to stop.
        """
        pins = self._planned(done.pins)
        if done.plan is None or not pins:
            return Compared(self, {}, None if done.plan is None else done.plan.cost)
        free_cost = self._plan({}, stop).cost if self.wants_free else None
        if len(pins) * len(self.part.kept) > MOST_FREED:
            return Compared(self, {}, free_cost)
        freed = {self.part.kept[index]: self._freed(pins, index, stop) for index in pins}
        return Compared(self, freed, free_cost)

    def free(self, note: int, pins: Pins, stop: Stop = _never) -> "Compared":
        """Plan without the pin of one note, to compare its choices in a long line.

        Raises:
            Outdated: it was told to stop.
        """
        planned = self._planned(pins)
        index = self.part.kept.index(note)
        return Compared(self, {note: self._freed(planned, index, stop)}, None)

    def _freed(self, pins: Pins, index: int, stop: Stop) -> Plan:
        return self._plan({at: pin for at, pin in pins.items() if at != index}, stop)

    @property
    def _pins_by_note(self) -> dict[int, Pin]:
        kept = set(self.part.kept)
        return {note: pin for note, pin in self.pins.items() if note in kept}

    @property
    def _pins(self) -> dict[int, Pin]:
        """Note of the plan → what is settled about it."""
        return self._planned(self.pins)

    def _planned(self, pins: Pins) -> dict[int, Pin]:
        planned = {note: index for index, note in enumerate(self.part.kept)}
        return {planned[note]: pin for note, pin in pins.items() if note in planned}

    def _plan(self, pins: Pins, stop: Stop) -> Plan:
        model = model_of(self.settings.neck, self.settings.hand)
        solution = Planner(model, _Watch(stop)).solve(self.part.line, pins)
        plan = Plan(self.part.line, solution, solution.best())
        _ = plan.shifts, plan.hard_spots  # worked out here, not when they are first looked at
        return plan


@dataclass(frozen=True)
class Done:
    """What came of a job: a plan, or why there is none.

    Attributes:
        job: the job.
        plan: the plan, None if there is none.
        fault: why there is none, or why some pins are left out of it.
        left_out: the notes whose pins are left out, because they cannot be.
    """

    job: Job
    plan: Plan | None
    fault: NoFingering | None
    left_out: frozenset[int] = field(default=frozenset())

    @property
    def pins(self) -> dict[int, Pin]:
        """The pins that the plan keeps to."""
        return {note: pin for note, pin in self.job.pins.items() if note not in self.left_out}


@dataclass(frozen=True)
class Compared:
    """What pins cost.

    Attributes:
        job: the job that they were planned in.
        freed: pinned note → the plan without that pin; none yet for long lines.
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
        position_rows: what is said of each position, the fingers left out.
        ahead_rows: what is said of each of who sees less.
    """

    plan: Plan
    positions: Sequence[tuple[int, Path]]
    ahead: Sequence[Path]
    position_rows: Sequence[str] = ()
    ahead_rows: Sequence[str] = ()

    @classmethod
    def of(cls, plan: Plan, stop: Stop = _never) -> "Beside":
        """Work it out; for long lines this takes seconds.

        Raises:
            Outdated: it was told to stop.
        """
        solution = plan.solution
        costs = solution.by_position()
        ranked = sorted(costs, key=lambda position: (costs[position], position))
        positions = []
        for position in ranked[:MOST_POSITIONS]:
            _stop_if(stop)
            positions.append((position, solution.from_position(position)))
        ahead = []
        for depth in SEEN_AHEAD:
            _stop_if(stop)
            ahead.append(look_ahead(solution.problem, depth))
        # Said here: it goes through all notes, and the cursor must not wait for that.
        told = [line_words.position_summary(plan, position, path) for position, path in positions]
        return cls(plan, positions, ahead, told, line_words.ahead_text(plan, ahead))


def _stop_if(stop: Stop) -> None:
    if stop():
        raise Outdated
