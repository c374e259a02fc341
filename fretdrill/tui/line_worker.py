"""Has a line's plans worked out on another thread, and hands them to the screen."""

from collections.abc import Callable
from functools import partial
from typing import TypeVar

from textual.screen import Screen
from textual.worker import get_current_worker

from fretdrill.hand.plan import Plan
from fretdrill.tui.line_jobs import Beside, Compared, Done, Job, Outdated, Pins, Stop

T = TypeVar("T")


class LineWorker:
    """Works plans out for one screen; nothing comes to a screen that was left."""

    def __init__(
        self,
        screen: Screen[None],
        planned: Callable[[Done], None],
        compared: Callable[[Compared], None],
        looked_beside: Callable[[Beside], None],
    ) -> None:
        """Prepare.

        Args:
            screen: whose workers they are.
            planned: called on the screen's thread with what came of a job.
            compared: the same with what its pins cost.
            looked_beside: the same with what was worked out beside a plan.
        """
        self._screen = screen
        self._planned = planned
        self._compared = compared
        self._looked_beside = looked_beside

    def plan(self, job: Job) -> None:
        """Have a job done; what the pins of an earlier one cost is not waited for any more."""
        self._screen.workers.cancel_group(self._screen, "compare")
        self._run(partial(self._plan, job), "plan")

    def compare(self, done: Done) -> None:
        """Have worked out what a job's pins cost."""
        self._run(partial(self._compare, done), "compare")

    def look_beside(self, plan: Plan) -> None:
        """Have worked out what is shown beside a plan."""
        self._run(partial(self._beside, plan), "beside")

    def free(self, job: Job, note: int, pins: Pins) -> None:
        """Have a plan worked out without one note's pin."""
        self._run(partial(self._free, job, note, pins), "free")

    def _run(self, work: Callable[[Stop], None], name: str) -> None:
        watched = partial(_unless_outdated, work)
        self._screen.run_worker(watched, name=name, group=name, exclusive=True, thread=True)

    def _plan(self, job: Job, stop: Stop) -> None:
        self._hand_over(self._planned, job.work(stop))

    def _compare(self, done: Done, stop: Stop) -> None:
        self._hand_over(self._compared, done.job.compare(done, stop))

    def _beside(self, plan: Plan, stop: Stop) -> None:
        self._hand_over(self._looked_beside, Beside.of(plan, stop))

    def _free(self, job: Job, note: int, pins: Pins, stop: Stop) -> None:
        self._hand_over(self._compared, job.free(note, pins, stop))

    def _hand_over(self, take: Callable[[T], None], result: T) -> None:
        if self._screen.is_attached:
            self._screen.app.call_from_thread(take, result)


def _unless_outdated(work: Callable[[Stop], None]) -> None:
    """Work until it is done, or a later worker has taken this one's place."""
    worker = get_current_worker()
    try:
        work(lambda: worker.is_cancelled)
    except Outdated:
        return
