"""Has a line's plans worked out on another thread, and hands them to the screen."""

from collections.abc import Callable
from functools import partial
from typing import TypeVar

from textual.screen import Screen

from fretdrill.hand.plan import Plan
from fretdrill.tui.line_work import Beside, Compared, Done, Job

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
            compared: the same a little later with what its pins cost.
            looked_beside: the same with what was worked out beside a plan.
        """
        self._screen = screen
        self._planned = planned
        self._compared = compared
        self._looked_beside = looked_beside

    def plan(self, job: Job) -> None:
        """Have a job done."""
        self._run(partial(self._plan, job), "plan")

    def look_beside(self, plan: Plan) -> None:
        """Have worked out what is shown beside a plan."""
        self._run(partial(self._beside, plan), "beside")

    def _run(self, work: Callable[[], None], name: str) -> None:
        self._screen.run_worker(work, name=name, group=name, exclusive=True, thread=True)

    def _plan(self, job: Job) -> None:
        done = job.work()
        self._hand_over(self._planned, done)
        self._hand_over(self._compared, job.compare(done))

    def _beside(self, plan: Plan) -> None:
        self._hand_over(self._looked_beside, Beside.of(plan))

    def _hand_over(self, take: Callable[[T], None], result: T) -> None:
        if self._screen.is_attached:
            self._screen.app.call_from_thread(take, result)
