"""An opened line: its plan, the player's pins, and what is worked out beside the screen.

It knows no screen. Planning is asked for as a job (:mod:`fretdrill.tui.line_jobs`), which may run
on any thread; :meth:`OpenLine.take` puts its result in place, unless a later one was asked for
meanwhile. Notes are counted from 0, in the whole line.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from fretdrill.hand.advice import OffNote, Way, playable, ways_in
from fretdrill.hand.plan import Plan
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import RatedChoice
from fretdrill.hand.states import Pin
from fretdrill.practice.settings import Settings
from fretdrill.presentation.line_moments import Moments
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab_columns import Added, Columns
from fretdrill.theory.line import Line
from fretdrill.tui.line_jobs import Beside, Compared, Done, Job, Pins

MOST_UNDONE = 100
PINNED_SIGN = "*"
LEAST_COLUMNS = 2  # of a note's texts: a change of finger then moves little

__all__ = ["PINNED_SIGN", "Beside", "Compared", "Done", "Job", "OpenLine", "Pins"]


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
        unusable: pins from the disk that this neck does not allow; they are kept there.
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
        self.unusable: dict[int, Pin] = {}
        self.waiting = False
        self._wanted = dict(self.pins)  # of the last job asked for
        self._asked = self._compared = 0
        self._job: Job | None = None
        self._freed: Mapping[int, Plan] = {}
        self._undone: list[dict[int, Pin]] = []

    @cached_property
    def _planned(self) -> dict[int, int]:
        return {note: index for index, note in enumerate(self.part.kept)}

    def planned(self, note: int) -> int | None:
        """Return which note of the plan a note is, None if it lies off the neck."""
        return self._planned.get(note)

    def planned_before(self, note: int) -> int:
        """Return the last note of the plan up to a note; its first one if there is none."""
        return max(0, bisect_right(self.part.kept, note) - 1)

    @cached_property
    def _off(self) -> dict[int, OffNote]:
        return {note.index: note for note in self.part.off}

    def off(self, note: int) -> OffNote | None:
        """Return how far a note lies off the neck, None if it does not."""
        return self._off.get(note)

    @cached_property
    def ways(self) -> Sequence[Way]:
        """What would bring every note onto the neck."""
        return ways_in(self.line, self.settings.neck) if self.part.off else ()

    # Planning

    def ask(self, pins: Pins | None = None) -> Job:
        """Ask for a plan with some pins, or with those there are."""
        self._asked += 1
        self.waiting = True
        self._wanted = dict(self.pins if pins is None else pins)
        return Job(
            self._asked,
            self.part,
            self.settings,
            dict(self._wanted),
            wants_free=self.free_cost is None,
            opening=self.plan is None,
        )

    @property
    def can_go_back(self) -> bool:
        """Whether there is a change of the pins to take back."""
        return bool(self._undone)

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
            self._wanted = dict(self.pins)
            return True
        self.fault = ""
        self.unusable |= {note: done.job.pins[note] for note in done.left_out}
        if done.job.undoing:
            self._undone.pop()
        elif done.job.pins != self.pins:
            self._undone = [*self._undone[-MOST_UNDONE:], self.pins]
        self.pins = done.pins
        self._wanted = dict(self.pins)
        self._job = done.job
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
        self._freed = {**self._freed, **compared.freed}
        self._compared = compared.job.number
        return True

    def ask_freed(self, note: int) -> Job | None:
        """Ask for the plan without one note's pin, None if it is there or nothing to wait for."""
        pinned = note in self.pins and self.planned(note) is not None
        there = self._job is not None and self._job.number == self._compared == self._asked
        return self._job if pinned and there and note not in self._freed else None

    # Pins

    @property
    def kept_pins(self) -> dict[int, Pin]:
        """The pins that are to be kept on disk, those that this neck does not allow included."""
        return {**self.unusable, **self.pins}

    def with_pin(self, note: int, pin: Pin) -> dict[int, Pin]:
        """Return the pins with one more; without it, if it is there already.

        Pins that were asked for and are still being worked out count.
        """
        if self._wanted.get(note) == pin:
            return self.without(note)
        return {**self._wanted, note: pin}

    def without(self, note: int) -> dict[int, Pin]:
        """Return the pins without those of a note."""
        return {at: pin for at, pin in self._wanted.items() if at != note}

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
