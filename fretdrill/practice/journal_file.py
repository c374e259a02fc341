"""The journal's file, looked at and set aside without SQLite touching it.

Opening a database may write to it: SQLite takes over what a crash left in the
write-ahead log. So what has to be known first is read from the bytes: offsets and
layouts are those of the SQLite file format, §1.3 (header) and §4 (WAL).
"""

import shutil
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Self

from fretdrill.errors import JournalTooNew, JournalUnusable

APPLICATION_ID = 0x66726474  # "frdt"

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100
_VERSION = slice(60, 64)
_APPLICATION = slice(68, 72)
_WAL_HEADER_BYTES, _FRAME_HEADER_BYTES = 32, 24
_WAL_MAGIC = (0x377F0682, 0x377F0683)
_BESIDE = ("-wal", "-shm")


@dataclass(frozen=True)
class FileHead:
    """What the first page says.

    Attributes:
        version: the schema's version, as its writer counts.
        application: whose file it is; 0 if nobody said.
    """

    version: int
    application: int

    @classmethod
    def of(cls, header: bytes) -> Self:
        """Read the first page's beginning."""
        return cls(
            int.from_bytes(header[_VERSION], "big"), int.from_bytes(header[_APPLICATION], "big")
        )


def refuse_others(path: Path, known_version: int) -> None:
    """Make sure that a file may be opened as a journal, without writing to it.

    A file that is not there, is empty, or is no database at all passes: the first
    two become journals, the last is met as damage.

    Raises:
        JournalTooNew: a newer fretdrill wrote it.
        JournalUnusable: another program did.
    """
    heads = [head for head in (_main_head(path), _wal_head(path)) if head is not None]
    for head in heads:
        if head.application == APPLICATION_ID and head.version > known_version:
            raise JournalTooNew(
                f"the journal {path} is from a newer fretdrill (version {head.version}); "
                "install that, or set FRETDRILL_HOME to another folder"
            )
    if heads and not any(head.application == APPLICATION_ID for head in heads):
        head = heads[-1]
        if head.application or head.version or _holds_something_else(path):
            raise JournalUnusable(f"{path} is another program's file, not a journal")


def keep_copy(path: Path, now: datetime) -> Path:
    """Copy a damaged journal, log and all, to a name that is free, and return that.

    Raises:
        JournalUnusable: it cannot be copied.
    """
    stem = f"{path.stem}.damaged-{now:%Y%m%d-%H%M%S}"
    kept, number = path.with_name(f"{stem}.db"), 1
    try:
        while kept.exists():
            number += 1
            kept = path.with_name(f"{stem}-{number}.db")
        shutil.copy2(path, kept)
        for ending in _BESIDE:
            beside = path.with_name(path.name + ending)
            if beside.exists():
                shutil.copy2(beside, kept.with_name(kept.name + ending))
    except OSError as fault:
        raise JournalUnusable(f"the damaged journal {path} cannot be kept: {fault}") from fault
    return kept


def remove(path: Path) -> None:
    """Remove a journal of which a copy has been kept.

    Raises:
        JournalUnusable: it cannot be removed.
    """
    try:
        for ending in _BESIDE:
            path.with_name(path.name + ending).unlink(missing_ok=True)
        path.unlink(missing_ok=True)
    except OSError as fault:
        raise JournalUnusable(f"the damaged journal {path} cannot be moved: {fault}") from fault


def _main_head(path: Path) -> FileHead | None:
    with suppress(OSError), path.open("rb") as file:
        header = file.read(_HEADER_BYTES)
        if header.startswith(_MAGIC) and len(header) == _HEADER_BYTES:
            return FileHead.of(header)
    return None


def _wal_head(path: Path) -> FileHead | None:
    """Return what the last first page in the log says, None if there is none."""
    head = None
    with suppress(OSError), path.with_name(path.name + "-wal").open("rb") as file:
        start = file.read(_WAL_HEADER_BYTES)
        page_bytes = int.from_bytes(start[8:12], "big")
        salts = start[16:24]
        if int.from_bytes(start[:4], "big") not in _WAL_MAGIC or not page_bytes:
            return None
        while len(frame := file.read(_FRAME_HEADER_BYTES)) == _FRAME_HEADER_BYTES:
            page = file.read(page_bytes)
            if frame[8:16] != salts or len(page) < page_bytes:
                break  # left over from before the log was last begun anew
            if int.from_bytes(frame[:4], "big") == 1 and page.startswith(_MAGIC):
                head = FileHead.of(page)
    return head


def _holds_something_else(path: Path) -> bool:
    """Whether a database that nobody put a name to holds anything.

    It is looked at once more for its name: another fretdrill may just have begun it.
    """
    import sqlite3
    from contextlib import closing

    uri = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(uri, uri=True)) as db:
            holds = db.execute("SELECT 1 FROM sqlite_master").fetchone() is not None
            (application,) = db.execute("PRAGMA application_id").fetchone()
            return holds and application != APPLICATION_ID
    except sqlite3.Error:
        return False  # damage, which is met when it is opened
