"""The journal: every attempt a player made, in one SQLite file.

It is append-only; everything else is derived from it. One transaction an attempt,
in WAL mode with full syncing, so that a crash at any moment loses at most what was
not yet handed over. Versions are ordered migrations, each in one transaction and
with a copy of the file beside it first. A damaged file is set aside under another
name, never deleted; one from a newer fretdrill is refused and not touched.
"""

import sqlite3
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from fretdrill.errors import JournalDamaged, JournalUnusable
from fretdrill.practice.attempt import Attempt, PastAnswer, PastSitting, Sitting
from fretdrill.practice.journal_file import APPLICATION_ID, keep_copy, refuse_others, remove

BUSY_SECONDS = 5.0
WAL_ATTEMPTS = 100  # far more programs than will ever begin at once
CHECKED_BYTES = 2_000_000  # a check of so much takes some milliseconds
ANSWERS_REMEMBERED = 200  # of one drill; older ones say little of today [assumption]
PACES_REMEMBERED = 50  # right answers that make a player's pace [assumption]
THOUSANDTHS = 1000  # accuracies are stored in these, times in ms

Migration = Callable[[sqlite3.Connection], None]


def _first(db: sqlite3.Connection) -> None:
    for statement in (
        """CREATE TABLE sitting (
            id INTEGER PRIMARY KEY, started_ms INTEGER NOT NULL,
            title TEXT NOT NULL, seed INTEGER NOT NULL)""",
        """CREATE TABLE drill (
            id INTEGER PRIMARY KEY, kind TEXT NOT NULL, settings TEXT NOT NULL UNIQUE)""",
        "CREATE TABLE player (id INTEGER PRIMARY KEY, settings TEXT NOT NULL UNIQUE)",
        """CREATE TABLE attempt (
            id INTEGER PRIMARY KEY,
            sitting INTEGER NOT NULL REFERENCES sitting, number INTEGER NOT NULL,
            drill INTEGER NOT NULL REFERENCES drill, player INTEGER NOT NULL REFERENCES player,
            level INTEGER NOT NULL, focus TEXT NOT NULL, answer TEXT,
            accuracy INTEGER NOT NULL, points INTEGER NOT NULL,
            taken_ms INTEGER NOT NULL, target_ms INTEGER NOT NULL, units INTEGER NOT NULL,
            at_ms INTEGER NOT NULL)""",
        "CREATE INDEX attempt_by_drill ON attempt (drill)",
        "CREATE INDEX attempt_by_sitting ON attempt (sitting)",
    ):
        db.execute(statement)


MIGRATIONS: tuple[Migration, ...] = (_first,)
"""What leads from version n to n + 1; the file's ``user_version`` counts them."""


class Journal:
    """An open journal.

    One thread may write while another reads: each has a connection of its own, so
    that reading never waits for the disk to take what was written.
    """

    def __init__(
        self,
        path: Path,
        migrations: Sequence[Migration] = MIGRATIONS,
        on_damage: Callable[[], None] = lambda: None,
    ) -> None:
        """Open a journal, making it or bringing it up to date as needed.

        Args:
            path: the file.
            migrations: what leads to the present version.
            on_damage: called before a damaged file is closed again, which may
                change it.

        Raises:
            JournalTooNew: it has a higher version; it was not touched.
            JournalDamaged: it is damaged.
            JournalUnusable: it cannot be opened, or is another program's.
        """
        self.path = path
        self._lock = threading.Lock()
        self._sittings: dict[Sitting, int] = {}
        refuse_others(path, len(migrations))
        self._db = self._reader = _connect(path)
        try:
            self._prepare(migrations)
            self._check()
            self._reader = _connect(path)
        except BaseException as fault:
            try:
                if not isinstance(fault, sqlite3.Error | OSError):
                    raise
                error = _worded(fault, f"the journal {path} cannot be used")
                if isinstance(error, JournalDamaged):
                    on_damage()
                raise error from fault
            finally:
                self._db.close()

    def _use_wal(self) -> None:
        """Switch to WAL mode; SQLite does not wait by itself where others begin as well."""
        for attempt in range(WAL_ATTEMPTS):
            try:
                self._db.execute("PRAGMA journal_mode = WAL")
            except sqlite3.OperationalError as fault:
                if fault.sqlite_errorcode != sqlite3.SQLITE_BUSY or attempt + 1 == WAL_ATTEMPTS:
                    raise
                with self._transaction():
                    pass  # this one does wait, until the others are done
            else:
                return

    def _prepare(self, migrations: Sequence[Migration]) -> None:
        self._use_wal()
        self._db.execute("PRAGMA synchronous = FULL")
        self._db.execute("PRAGMA foreign_keys = ON")
        version = self._version()
        for number in range(version, len(migrations)):
            if number:
                self._back_up(number)
            with self._transaction():
                if self._version() != number:
                    continue  # another program was quicker
                migrations[number](self._db)
                self._db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                self._db.execute(f"PRAGMA user_version = {number + 1}")
        if version < len(migrations):  # so that the file itself says its version
            self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def _check(self) -> None:
        """Look for damage: all through a small file, at the start of a large one."""
        if self.path.stat().st_size <= CHECKED_BYTES:
            problem = self._db.execute("PRAGMA quick_check(1)").fetchone()[0]
            if problem != "ok":
                raise _Damage(problem)
        self._db.execute("SELECT * FROM attempt ORDER BY id DESC LIMIT 1").fetchone()

    def _version(self) -> int:
        return int(self._db.execute("PRAGMA user_version").fetchone()[0])

    def _back_up(self, version: int) -> None:
        copy = self.path.with_name(f"{self.path.stem}.before-version-{version + 1}.db")
        with closing(sqlite3.connect(copy)) as target:
            self._db.backup(target)

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        self._db.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._db.execute("COMMIT")
        except BaseException:
            if self._db.in_transaction:  # SQLite may have undone it by itself
                self._db.execute("ROLLBACK")
            raise

    def record(self, sitting: Sitting, attempt: Attempt) -> None:
        """Write an attempt, and its session with the first of them.

        Raises:
            JournalUnusable: it could not be written; nothing of it was.
        """
        try:
            with self._lock, self._transaction():
                sitting_id = self._sittings.get(sitting) or self._insert_sitting(sitting)
                self._db.execute(
                    "INSERT INTO attempt (sitting, number, drill, player, level, focus, answer,"
                    " accuracy, points, taken_ms, target_ms, units, at_ms)"
                    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    (
                        sitting_id,
                        attempt.number,
                        self._intern("drill", attempt.drill, kind=attempt.kind),
                        self._intern("player", attempt.player),
                        attempt.level,
                        attempt.focus,
                        attempt.answer,
                        round(attempt.accuracy * THOUSANDTHS),
                        attempt.points,
                        round(attempt.seconds * 1000),
                        round(attempt.target_s * 1000),
                        attempt.units,
                        attempt.at_ms,
                    ),
                )
            self._sittings[sitting] = sitting_id
        except sqlite3.Error as fault:
            raise _worded(fault, "the journal cannot be written") from fault

    def _insert_sitting(self, sitting: Sitting) -> int:
        cursor = self._db.execute(
            "INSERT INTO sitting (started_ms, title, seed) VALUES (?, ?, ?)",
            (sitting.started_ms, sitting.title, sitting.seed),
        )
        return int(cursor.lastrowid or 0)

    def _intern(self, table: str, settings: str, **others: str) -> int:
        find = f"SELECT id FROM {table} WHERE settings = ?"  # noqa: S608 - our own two tables
        row = self._db.execute(find, (settings,)).fetchone()
        if row is None:
            columns = ", ".join(("settings", *others))
            marks = ", ".join("?" * (1 + len(others)))
            cursor = self._db.execute(
                f"INSERT INTO {table} ({columns}) VALUES ({marks})",  # noqa: S608 - as above
                (settings, *others.values()),
            )
            return int(cursor.lastrowid or 0)
        return int(row[0])

    def answers(self, drill: str, most: int = ANSWERS_REMEMBERED) -> list[PastAnswer]:
        """Return the last answers to a drill, oldest first."""
        rows = self._rows(
            "SELECT focus, level, accuracy, taken_ms <= target_ms FROM attempt"
            " WHERE drill = (SELECT id FROM drill WHERE settings = ?) ORDER BY id DESC LIMIT ?",
            (drill, most),
        )
        return [
            PastAnswer(focus, level, accuracy >= THOUSANDTHS, bool(in_time))
            for focus, level, accuracy, in_time in reversed(rows)
        ]

    def paces(self, kind: str, most: int = PACES_REMEMBERED) -> list[float]:
        """Return seconds a thing of the last right answers to a kind, newest first."""
        drills = self._rows("SELECT id FROM drill WHERE kind = ?", (kind,))
        rows: list[tuple[int, float]] = []
        for (drill,) in drills:
            rows += self._rows(
                "SELECT id, taken_ms / 1000.0 / units FROM attempt"
                " WHERE drill = ? AND accuracy >= ? ORDER BY id DESC LIMIT ?",
                (drill, THOUSANDTHS, most),
            )
        return [pace for _, pace in sorted(rows, reverse=True)[:most]]

    def sittings(self, most: int = 5) -> list[PastSitting]:
        """Return the last sessions, newest first."""
        rows = self._rows(
            "SELECT started_ms, title, COUNT(*), AVG(points)"
            " FROM (SELECT * FROM sitting ORDER BY id DESC LIMIT ?) AS last"
            " JOIN attempt ON attempt.sitting = last.id GROUP BY last.id ORDER BY last.id DESC",
            (most,),
        )
        return [
            PastSitting(
                datetime.fromtimestamp(started / 1000, UTC).astimezone(), title, count, points
            )
            for started, title, count, points in rows
        ]

    def _rows(self, query: str, values: tuple[object, ...]) -> list[tuple[Any, ...]]:
        try:
            return self._reader.execute(query, values).fetchall()
        except sqlite3.Error as fault:
            raise _worded(fault, "the journal cannot be read") from fault

    def close(self) -> None:
        """Close the file."""
        self._reader.close()
        with self._lock:
            self._db.close()


def open_journal(path: Path, now: datetime) -> tuple[Journal, str]:
    """Open the journal, setting a damaged one aside.

    Args:
        path: where it is or shall be.
        now: local time, for the name of a file set aside.

    Returns:
        The journal, and what to tell the player (usually nothing).

    Raises:
        JournalTooNew: it was written by a newer fretdrill.
        JournalUnusable: it can be neither opened nor replaced.
    """
    kept: list[Path] = []
    try:
        return Journal(path, on_damage=lambda: kept.append(keep_copy(path, now))), ""
    except JournalDamaged:
        remove(path)
        return Journal(path), damage_notice(kept[0])


def damage_notice(kept: Path) -> str:
    """Return what to tell the player of a damaged journal that was set aside."""
    return f"The journal was damaged. It was kept as {kept.name}; a new one has been started."


class _Damage(sqlite3.DatabaseError):
    """What a check of the whole file found."""


def _connect(path: Path) -> sqlite3.Connection:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        return sqlite3.connect(
            path, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
        )
    except (OSError, sqlite3.Error) as fault:
        raise JournalUnusable(f"the journal {path} cannot be opened: {fault}") from fault


def _worded(fault: sqlite3.Error | OSError, problem: str) -> JournalUnusable:
    code = getattr(fault, "sqlite_errorcode", None)
    damaged = isinstance(fault, _Damage) or code in (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT)
    return (JournalDamaged if damaged else JournalUnusable)(f"{problem}: {fault}")
