"""Practice: the journal, and sessions that write to it.

What takes long to import or to open is left until it is first needed, so that a
screen can be painted before.
"""

from collections.abc import Callable
from functools import cached_property
from random import SystemRandom
from types import TracebackType
from typing import TYPE_CHECKING, Self

from fretdrill.errors import JournalUnusable
from fretdrill.practice.clock import Clock, SystemClock
from fretdrill.practice.home import Home
from fretdrill.practice.settings import Settings

if TYPE_CHECKING:
    from fretdrill.practice.journal import Journal, PastSitting
    from fretdrill.practice.program import Program
    from fretdrill.practice.recorder import Recorder
    from fretdrill.practice.session import Session

DAILY = "daily"
MOST_SEED = 2**31


class Practice:
    """A player at practice, with a journal where one can be had.

    The journal is opened when it is first needed. Whatever needs it raises
    :class:`fretdrill.errors.JournalTooNew` if a newer fretdrill wrote it.

    Attributes:
        home: where the files are.
        settings: the player's settings; may be replaced between sessions.
        clock: where time comes from.

    """

    def __init__(
        self,
        home: Home,
        settings: Settings,
        tell: Callable[[str], None],
        clock: Clock | None = None,
    ) -> None:
        """Prepare to practise.

        Args:
            home: where the files are.
            settings: the player's.
            tell: called with what the player has to know, from any thread.
            clock: the machine's, if none is given.

        """
        self.home = home
        self.settings = settings
        self.clock: Clock = clock or SystemClock()
        self._tell = tell

    @cached_property
    def _journal(self) -> "Journal | None":
        """The open journal; None, after saying why, if there can be none."""
        from fretdrill.practice.journal import open_journal

        try:
            journal, notice = open_journal(self.home.journal, self.clock.local())
        except JournalUnusable as fault:
            self._tell(f"{fault}. Practice goes on; it will not be remembered.")
            return None
        if notice:
            self._tell(notice)
        return journal

    @cached_property
    def _recorder(self) -> "Recorder | None":
        from fretdrill.practice.recorder import Recorder

        return Recorder(self._journal, self._not_written) if self._journal is not None else None

    def _not_written(self, trouble: str) -> None:
        self._tell(f"{trouble}. Practice goes on; it is tried again with every answer.")

    @cached_property
    def first_time(self) -> bool:
        """Whether nothing had been practised here when the program started."""
        return not self.sittings(1)

    def sittings(self, most: int) -> "list[PastSitting]":
        """Return the last sessions, newest first; none without a journal."""
        if self._journal is None:
            return []
        try:
            return self._journal.sittings(most)
        except JournalUnusable as fault:
            self._tell(f"{fault}.")
            return []

    def daily(self) -> "Program":
        """Return the program of an ordinary day."""
        from fretdrill.practice.library import find_pack
        from fretdrill.practice.program import Program

        return Program.of_pack(find_pack(DAILY, self.home.packs))

    def session(self, program: "Program", seed: int | None = None) -> "Session":
        """Begin a session.

        Args:
            program: what to ask.
            seed: asks the same again; None for any.

        Raises:
            ManyFaults: something in the program cannot be asked on this neck.
            JournalUnusable: the journal cannot be read.

        """
        from fretdrill.practice.session import NoPast, Session

        if seed is None:
            seed = SystemRandom().randrange(MOST_SEED)
        record = self._recorder.record if self._recorder else lambda sitting, attempt: None
        past = self._journal or NoPast()
        return Session(program, self.settings.player, seed, self.clock, past, record)

    def close(self) -> None:
        """Write what is left and close the journal."""
        opened = self.__dict__  # where cached properties are, once they were needed
        recorder, journal = opened.get("_recorder"), opened.get("_journal")
        if recorder is not None:
            left = recorder.close()
            if left:
                self._tell(f"{left} answers could not be written: {recorder.trouble}.")
        if journal is not None:
            journal.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
