"""Practice: the journal, and sessions that write to it.

What takes long to import or to open is left until it is first needed, so that a
screen can be painted before.
"""

from collections.abc import Callable
from random import SystemRandom
from types import TracebackType
from typing import TYPE_CHECKING, Self, TypeVar

from fretdrill.errors import JournalDamaged, JournalUnusable
from fretdrill.practice.clock import Clock, SystemClock
from fretdrill.practice.home import Home
from fretdrill.practice.settings import Settings

if TYPE_CHECKING:
    from fretdrill.practice.attempt import Attempt, Sitting
    from fretdrill.practice.journal import Journal, PastAnswer, PastSitting
    from fretdrill.practice.program import Program
    from fretdrill.practice.recorder import Recorder
    from fretdrill.practice.session import Session

T = TypeVar("T")

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
        *,
        at_once: bool = False,
    ) -> None:
        """Prepare to practise.

        Args:
            home: where the files are.
            settings: the player's.
            tell: called with what the player has to know, from any thread.
            clock: the machine's, if none is given.
            at_once: wait until each attempt is on disk before going on.

        """
        self.home = home
        self.settings = settings
        self.clock: Clock = clock or SystemClock()
        self._tell = tell
        self._at_once = at_once
        self._opened = False
        self._journal: Journal | None = None
        self._recorder: Recorder | None = None

    def _open(self) -> "Journal | None":
        """Return the open journal; None, after saying why, if there can be none."""
        if self._opened:
            return self._journal
        from fretdrill.practice.journal import open_journal
        from fretdrill.practice.recorder import Recorder

        try:
            self._journal, notice = open_journal(self.home.journal, self.clock.local())
        except JournalUnusable as fault:
            self._tell(f"{fault}. Practice goes on; it will not be remembered.")
        else:
            if notice:
                self._tell(notice)
            self._recorder = Recorder(self._journal, self._not_written, at_once=self._at_once)
        self._opened = True
        return self._journal

    def _not_written(self, trouble: str) -> None:
        self._tell(f"{trouble}. Practice goes on; it is tried again with every answer.")

    def _replace(self, damaged: "Journal") -> None:
        """Set a journal aside that turned out to be damaged, and start a new one."""
        from fretdrill.practice.journal import Journal, damage_notice
        from fretdrill.practice.journal_file import keep_copy, remove

        kept = keep_copy(damaged.path, self.clock.local())
        damaged.close()
        remove(damaged.path)
        self._journal = Journal(damaged.path)
        if self._recorder is not None:
            self._recorder.move_to(self._journal)
        self._tell(damage_notice(kept))

    def _read(self, read: "Callable[[Journal], T]", nothing: T) -> T:
        """Read from the journal; nothing, after saying why, if that can't be."""
        try:
            journal = self._open()
            if journal is None:
                return nothing
            try:
                return read(journal)
            except JournalDamaged:
                self._replace(journal)
                return nothing
        except JournalUnusable as fault:
            self._tell(f"{fault}. Practice goes on.")
            return nothing

    @property
    def first_time(self) -> bool:
        """Whether nothing has been practised here yet."""
        return not self.sittings(1)

    def sittings(self, most: int) -> "list[PastSitting]":
        """Return the last sessions, newest first; none without a journal."""
        return self._read(lambda journal: journal.sittings(most), [])

    def answers(self, drill: str) -> "list[PastAnswer]":
        """Return the last answers to a drill, oldest first."""
        return self._read(lambda journal: journal.answers(drill), [])

    def paces(self, kind: str) -> list[float]:
        """Return seconds a thing of the last right answers to a kind."""
        return self._read(lambda journal: journal.paces(kind), [])

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

        """
        from fretdrill.practice.session import Session

        if seed is None:
            seed = SystemRandom().randrange(MOST_SEED)
        player = self.settings.player
        return Session(program, player, seed, self.clock, self, self._record)

    def _record(self, sitting: "Sitting", attempt: "Attempt") -> None:
        if self._recorder is not None:
            self._recorder.record(sitting, attempt)

    def close(self) -> None:
        """Write what is left and close the journal."""
        recorder, journal = self._recorder, self._journal
        if recorder is not None and journal is not None:
            if isinstance(recorder.trouble, JournalDamaged):
                self._read(_raise_damage, None)
            left = recorder.close()
            if left:
                self._tell(f"{left} answers could not be written: {recorder.trouble}.")
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


def _raise_damage(journal: "Journal") -> None:
    raise JournalDamaged(f"the journal {journal.path} is damaged")
