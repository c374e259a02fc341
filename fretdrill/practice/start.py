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
    from fretdrill.practice.attempt import Attempt, PastAnswer, PastSitting, Sitting
    from fretdrill.practice.journal import Journal
    from fretdrill.practice.pins import PinKeeper
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
        settings: the settings of this run.
        clock: where time comes from.
    """

    def __init__(
        self,
        home: Home,
        settings: Settings,
        tell: Callable[[str], None],
        clock: Clock | None = None,
        *,
        adapt: Callable[[Settings], Settings] = lambda settings: settings,
        at_once: bool = False,
    ) -> None:
        """Prepare to practise.

        Args:
            home: where the files are.
            settings: the player's, as the file has them.
            tell: called with what the player has to know, from any thread.
            clock: the machine's, if none is given.
            adapt: turns them into the settings of this run.
            at_once: wait until each attempt is on disk before going on.
        """
        self.home = home
        self._adapt = adapt
        self.saved = settings
        self.clock: Clock = clock or SystemClock()
        self._tell = tell
        self._at_once = at_once
        self._opened = False
        self._journal: Journal | None = None
        self._recorder: Recorder | None = None
        self._pins: PinKeeper | None = None

    @property
    def pins(self) -> "PinKeeper":
        """What keeps the player's pins."""
        if self._pins is None:
            from fretdrill.practice.pins import PinKeeper

            self._pins = PinKeeper(self.home.pins, self._tell)
        return self._pins

    @property
    def saved(self) -> Settings:
        """The player's settings as the file has them; may be replaced between sessions."""
        return self._saved

    @saved.setter
    def saved(self, settings: Settings) -> None:
        self._saved = settings
        self.settings = self.adapted(settings)  # looked at with every key; worked out once

    def adapted(self, saved: Settings) -> Settings:
        """Return what settings would be in this run."""
        return self._adapt(saved)

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

    def _replace(self) -> None:
        """Set the journal aside, which turned out to be damaged, and start a new one.

        Raises:
            JournalUnusable: it cannot be replaced; there is none from now on.
        """
        from fretdrill.practice.journal import Journal, damage_notice
        from fretdrill.practice.journal_file import keep_copy, remove

        if self._recorder is None:
            return

        def make(damaged: Journal) -> Journal:
            self._journal = None
            kept = keep_copy(damaged.path, self.clock.local())
            damaged.close()
            remove(damaged.path)
            new = Journal(damaged.path)
            self._tell(damage_notice(kept))
            return new

        self._journal = self._recorder.replace(make)

    def _read(self, read: "Callable[[Journal], T]", nothing: T) -> T:
        """Read from the journal; nothing, after saying why, if that can't be."""
        try:
            journal = self._open()
            if journal is None:
                return nothing
            try:
                return read(journal)
            except JournalDamaged:
                self._replace()
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

        return Program.of_pack(find_pack(DAILY, self.home.packs, self.home.lines))

    def session(self, program: "Program", seed: int | None = None) -> "Session":
        """Begin a session.

        Args:
            program: what to ask.
            seed: asks the same again, from the first level; None goes on where the
                player stands.

        Raises:
            ManyFaults: something in the program cannot be asked on this neck.
        """
        from fretdrill.practice.session import Session

        self._open()
        # A seed that is asked for decides alone: what was practised before has no say.
        past = self if seed is None else None
        if seed is None:
            seed = SystemRandom().randrange(MOST_SEED)
        player = self.settings.player
        return Session(program, player, seed, self.clock, past, self._record)

    def _record(self, sitting: "Sitting", attempt: "Attempt") -> None:
        if self._recorder is not None:
            self._recorder.record(sitting, attempt)

    def close(self) -> None:
        """Write what is left and close the journal."""
        if self._pins is not None:
            self._pins.close()
        recorder = self._recorder
        if recorder is not None:
            recorder.finish()
            if isinstance(recorder.trouble, JournalDamaged):
                try:
                    self._replace()
                except JournalUnusable as fault:
                    self._tell(f"{fault}.")
            left = recorder.close()
            if left:
                answers = "1 answer" if left == 1 else f"{left} answers"
                self._tell(f"{answers} could not be written: {recorder.trouble}.")
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
