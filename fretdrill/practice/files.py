"""Reading the small text files that people write."""

from pathlib import Path

from fretdrill.errors import InputError

MOST_BYTES = 1_000_000


def read_text(path: Path) -> str:
    """Read a small text file that a person wrote.

    Raises:
        InputError: it is not there, not readable, not text, or far too long.
    """
    try:
        if path.is_dir():
            raise InputError(f"{path} is a folder, not a file")
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise InputError(f"there is no file {path}") from None
    except OSError as fault:
        raise InputError(f"{path} cannot be read: {fault.strerror}") from fault
    if len(content) > MOST_BYTES:
        raise InputError(f"{path} is longer than {MOST_BYTES:,} bytes; is it the right file?")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise InputError(f"{path} is not UTF-8 text (byte {fault.start})") from fault
