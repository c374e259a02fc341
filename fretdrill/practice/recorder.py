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
from fretdrill.practice.log import log_unexpected


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

    def replace(self, make: Callable[[Journal], Journal]) -> Journal:
        """Write to another journal from now on, what is still waiting included.

        Args:
            make: makes the new one from the old one, while nothing is written.

        Raises:
            JournalUnusable: it could not be made.
        """

        def move() -> Journal:
            self._journal = make(self._journal)
            return self._journal

        journal = self._writer.submit(move).result()
        self._writer.submit(self._write)
        return journal

    def finish(self) -> None:
        """Wait until all that can be written is."""
        self._writer.submit(self._write).result()

    def close(self) -> int:
        """Write what is left and return how many attempts could not be written."""
        self.finish()
        self._writer.shutdown(wait=True)
        return self.unwritten

    def _write(self) -> None:
        while self._waiting:
            try:
                self._journal.record(*self._waiting[0])
            except JournalUnusable as fault:
                self._note(fault)
                return
            except Exception as fault:  # on a thread of its own, nobody else would hear of it
                log_unexpected()
                self._note(JournalUnusable(f"the journal cannot be written: {fault!r}"))
                return
            self._waiting.popleft()
            self.trouble = None

    def _note(self, fault: JournalUnusable) -> None:
        if self.trouble is None:
            self._tell(str(fault))
        self.trouble = fault
