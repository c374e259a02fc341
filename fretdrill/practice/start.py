"""Starting to practise: the journal, and sessions that write to it."""

from collections.abc import Callable
from random import SystemRandom
from types import TracebackType
from typing import Self

from fretdrill.errors import JournalUnusable
from fretdrill.practice.clock import Clock, SystemClock
from fretdrill.practice.home import Home
from fretdrill.practice.journal import Journal, PastSitting, open_journal
from fretdrill.practice.library import find_pack
from fretdrill.practice.program import Program
from fretdrill.practice.recorder import Recorder
from fretdrill.practice.session import NoPast, Past, Session
from fretdrill.practice.settings import Settings

DAILY = "daily"
MOST_SEED = 2**31


class Practice:
    """A player at practice, with a journal where one can be had.

    Attributes:
        settings: the player's settings; may be replaced between sessions.
        first_time: whether nothing was ever practised here.

    """

    def __init__(
        self,
        home: Home,
        settings: Settings,
        tell: Callable[[str], None],
        clock: Clock | None = None,
    ) -> None:
        """Open the journal; say what is wrong with it and go on without if need be.

        Args:
            home: where the files are.
            settings: the player's.
            tell: called with what the player has to know, from any thread.
            clock: the machine's, if none is given.

        Raises:
            JournalTooNew: it was written by a newer fretdrill.

        """
        self.settings = settings
        self.home = home
        self.clock: Clock = clock or SystemClock()
        self._tell = tell
        self._journal: Journal | None = None
        self._recorder: Recorder | None = None
        try:
            self._journal, notice = open_journal(home.journal, self.clock.local())
            if notice:
                tell(notice)
            self._recorder = Recorder(self._journal, self._not_written)
        except JournalUnusable as fault:
            tell(f"{fault}. Practice goes on; it will not be remembered.")
        self.first_time = not self.sittings(1)

    def _not_written(self, trouble: str) -> None:
        self._tell(f"{trouble}. Practice goes on; it is tried again with every answer.")

    def sittings(self, most: int) -> list[PastSitting]:
        """Return the last sessions, newest first; none without a journal."""
        return self._journal.sittings(most) if self._journal is not None else []

    def daily(self) -> Program:
        """Return the program of an ordinary day."""
        return Program.of_pack(find_pack(DAILY, self.home.packs))

    def session(self, program: Program, seed: int | None = None) -> Session:
        """Begin a session.

        Args:
            program: what to ask.
            seed: asks the same again; None for any.

        """
        past: Past = self._journal or NoPast()
        if seed is None:
            seed = SystemRandom().randrange(MOST_SEED)
        record = self._recorder.record if self._recorder else lambda sitting, attempt: None
        return Session(program, self.settings.player, seed, self.clock, past, record)

    def close(self) -> None:
        """Write what is left and close the journal."""
        if self._recorder is not None:
            left = self._recorder.close()
            if left:
                self._tell(f"{left} answers could not be written: {self._recorder.trouble}.")
        if self._journal is not None:
            self._journal.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
