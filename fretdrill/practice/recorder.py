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
        trouble: why attempts could not be written, empty while all is well.

    """

    def __init__(self, journal: Journal, tell: Callable[[str], None]) -> None:
        """Prepare to write.

        Args:
            journal: where to.
            tell: called once, from the writing thread, if writing fails.

        """
        self.trouble = ""
        self._journal = journal
        self._tell = tell
        self._waiting: deque[tuple[Sitting, Attempt]] = deque()
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="journal")

    def record(self, sitting: Sitting, attempt: Attempt) -> None:
        """Hand over an attempt; returns at once."""
        self._waiting.append((sitting, attempt))
        self._writer.submit(self._write)

    @property
    def unwritten(self) -> int:
        """How many attempts are not in the journal yet."""
        return len(self._waiting)

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
                if not self.trouble:
                    self._tell(str(fault))
                self.trouble = str(fault)
                return
            self._waiting.popleft()
            self.trouble = ""
