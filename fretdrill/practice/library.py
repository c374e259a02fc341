"""Packs and lines on disk: those that ship and the player's own."""

import os
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from fretdrill.errors import UnknownName
from fretdrill.practice.files import read_bytes, read_text
from fretdrill.scores.reader import read_all_lines, read_line
from fretdrill.scores.reading import Reading
from fretdrill.theory.line import Line

if TYPE_CHECKING:
    from fretdrill.engine.packs import Pack

LINE_ENDINGS = (".abc", ".mid", ".midi")
MOST_LINE_BYTES = 20_000_000


def shipped_folder() -> Path:
    """Return the folder of the packs that ship.

    In an installed wheel it lies inside the package; in a checkout or an editable
    install, where the build adds nothing to the package, beside it.
    """
    installed = Path(str(files("fretdrill"))) / "drills"
    if installed.is_dir():
        return installed
    return Path(__file__).resolve().parents[2] / "drills"


def pack_files(own: Path) -> dict[str, Path]:
    """Return pack name → file; the player's own come before those that ship.

    Args:
        own: the folder of the player's own packs; it need not exist.
    """
    found: dict[str, Path] = {}
    for folder in (shipped_folder(), own):
        for path in sorted(_files(folder, (".toml",))):
            found[path.stem] = path
    return found


def line_files(own: Path | None) -> dict[str, Path]:
    """Return line name → file; the player's own come before those that ship.

    Args:
        own: the folder of the player's own lines, which need not exist; None for none.
    """
    found: dict[str, Path] = {}
    for folder in filter(None, (shipped_folder() / "lines", own)):
        for path in sorted(_files(folder, LINE_ENDINGS)):
            found[path.stem] = path
    return found


def _files(folder: Path, endings: tuple[str, ...]) -> Iterator[Path]:
    if os.path.isdir(folder):  # unlike Path.is_dir, False where it may not be looked at
        yield from (path for path in folder.iterdir() if path.suffix.lower() in endings)


def load_pack(path: Path, own_lines: Path | None = None) -> "Pack":
    """Read a pack's file.

    Args:
        path: the file.
        own_lines: the folder of the player's own lines, None if only those that ship are
            known. A pack may also name a line's path, from its own folder on.

    Raises:
        InputError: it cannot be read; :class:`ManyFaults` lists what is wrong in it.
    """
    from fretdrill.engine.packs import read_pack  # planning a line needs no drills

    def find(name: str) -> Line:
        beside = path.parent / name
        return find_line(str(beside) if beside.is_file() else name, own_lines).line

    return read_pack(read_text(path), path.name, find)


def find_pack(name: str, own: Path, own_lines: Path | None = None) -> "Pack":
    """Read a pack by the name of one that is known, or by its path.

    Args:
        name: name or path.
        own: the folder of the player's own packs.
        own_lines: see :func:`load_pack`.

    Raises:
        UnknownName: there is no such pack or file.
        InputError: see :func:`load_pack`.
    """
    known = pack_files(own)
    if name in known:
        return load_pack(known[name], own_lines)
    if name.endswith(".toml") or os.path.exists(name):  # False for names no file can have
        return load_pack(Path(name), own_lines)
    raise UnknownName("pack", name, known)


def is_line_file(name: str) -> bool:
    """Whether a name is meant as the path of a line's file."""
    return name.lower().endswith(LINE_ENDINGS) or os.path.exists(name)


def load_line(path: Path) -> Reading:
    """Read a line's file.

    Raises:
        InputError: it cannot be read, and why.
    """
    return read_line(read_bytes(path, MOST_LINE_BYTES), path.name)


def find_line(
    name: str, own: Path | None, *, tune: int | None = None, track: str | None = None
) -> Reading:
    """Read a line by the name of one that is known, or by its path.

    Args:
        name: name or path.
        own: the folder of the player's own lines.
        tune: see :func:`fretdrill.scores.reader.read_line`.
        track: the same.

    Raises:
        UnknownName: there is no such line or file.
        InputError: it cannot be read, and why.
    """
    content, source = _line_content(name, own)
    return read_line(content, source, tune=tune, track=track)


def find_lines(name: str, own: Path) -> list[Reading]:
    """Read every line of a file, see :func:`find_line`.

    Raises:
        UnknownName: there is no such line or file.
        InputError: all that is wrong with any of them.
    """
    return read_all_lines(*_line_content(name, own))


def _line_content(name: str, own: Path | None) -> tuple[bytes, str]:
    known = line_files(own)
    if name in known:
        path = known[name]
    elif is_line_file(name):
        path = Path(name)
    else:
        raise UnknownName("line", name, known)
    return read_bytes(path, MOST_LINE_BYTES), path.name
