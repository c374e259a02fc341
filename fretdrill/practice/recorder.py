"""Writing to the journal without making the player wait.

One background thread writes attempts in the order they were made. If writing
fails, practice goes on: what could not be written is kept and tried again with the
next attempt and at the end, and the player is told once.
"""

from collections import deque
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from fretdrill.errors import JournalUnusable
from fretdrill.practice.attempt import Attempt, Sitting
from fretdrill.practice.journal import Journal


class Recorder:
    """Hands attempts to a journal.

    Attributes:
        trouble: why attempts could not be written, None while all is well.

    """

    def __init__(
        self, journal: Journal, tell: Callable[[str], None], *, at_once: bool = False
    ) -> None:
        """Prepare to write.

        Args:
            journal: where to.
            tell: called once, from the writing thread, if writing fails.
            at_once: wait until each attempt is written, where nobody has to be
                spared the wait.

        """
        self.trouble: JournalUnusable | None = None
        self._journal = journal
        self._tell = tell
        self._at_once = at_once
        self._waiting: deque[tuple[Sitting, Attempt]] = deque()
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="journal")

    def record(self, sitting: Sitting, attempt: Attempt) -> None:
        """Hand over an attempt."""
        self._waiting.append((sitting, attempt))
        writing = self._writer.submit(self._write)
        if self._at_once:
            writing.result()

    @property
    def unwritten(self) -> int:
        """How many attempts are not in the journal yet."""
        return len(self._waiting)

    def move_to(self, journal: Journal) -> None:
        """Write to another journal from now on, what is still waiting included."""
        self._journal = journal
        self._writer.submit(self._write)

    def close(self) -> int:
        """Write what is left and return how many attempts could not be written."""
        self._writer.submit(self._write)
        self._writer.shutdown(wait=True)
        return self.unwritten

    def _write(self) -> None:
        while self._waiting:
            try:
                self._journal.record(*self._waiting[0])
            except JournalUnusable as fault:
                if self.trouble is None:
                    self._tell(str(fault))
                self.trouble = fault
                return
            self._waiting.popleft()
            self.trouble = None
