"""Reading the files that people give, and writing ours whole."""

import os
from pathlib import Path

from fretdrill.errors import InputError

MOST_BYTES = 1_000_000


def read_bytes(path: Path, most: int = MOST_BYTES) -> bytes:
    """Read a file whole.

    Raises:
        InputError: it is not there, not readable, or longer than ``most`` bytes.
    """
    try:
        if path.is_dir():
            raise InputError(f"{path} is a folder, not a file")
        with path.open("rb") as file:
            content = file.read(most + 1)
    except FileNotFoundError:
        raise InputError(f"there is no file {path}") from None
    except OSError as fault:
        raise InputError(f"{path} cannot be read: {fault.strerror}") from fault
    if len(content) > most:
        raise InputError(f"{path} is longer than {most:,} bytes; is it the right file?")
    return content


def read_text(path: Path) -> str:
    """Read a small text file that a person wrote.

    Raises:
        InputError: see :func:`read_bytes`, or it is not text.
    """
    try:
        return read_bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise InputError(f"{path} is not UTF-8 text (byte {fault.start})") from fault


def write_whole(path: Path, content: str) -> None:
    """Put content in a file's place at once; a link stays a link.

    Raises:
        OSError: it cannot be written; what was there is then still whole.
    """
    path = path.resolve()
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_name(path.name + ".new")
    try:
        with draft.open("w", encoding="utf-8", newline="") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(draft, path)
    except OSError:
        draft.unlink(missing_ok=True)
        raise


def set_aside(path: Path) -> Path:
    """Give a damaged file a name beside it that is free, and return that.

    Raises:
        OSError: it cannot be renamed.
    """
    number = 1
    kept = path.with_name(f"{path.stem}.damaged{path.suffix}")
    while kept.exists():
        number += 1
        kept = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
    path.rename(kept)
    return kept
