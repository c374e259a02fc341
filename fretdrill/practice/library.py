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


def line_files(own: Path) -> dict[str, Path]:
    """Return line name → file; the player's own come before those that ship.

    Args:
        own: the folder of the player's own lines; it need not exist.
    """
    found: dict[str, Path] = {}
    for folder in (shipped_folder() / "lines", own):
        for path in sorted(_files(folder, LINE_ENDINGS)):
            found[path.stem] = path
    return found


def _files(folder: Path, endings: tuple[str, ...]) -> Iterator[Path]:
    if os.path.isdir(folder):  # unlike Path.is_dir, False where it may not be looked at
        yield from (path for path in folder.iterdir() if path.suffix.lower() in endings)


def load_pack(path: Path) -> "Pack":
    """Read a pack's file.

    Raises:
        InputError: it cannot be read; :class:`ManyFaults` lists what is wrong in it.
    """
    from fretdrill.engine.packs import read_pack  # planning a line needs no drills

    return read_pack(read_text(path), path.name)


def find_pack(name: str, own: Path) -> "Pack":
    """Read a pack by the name of one that is known, or by its path.

    Raises:
        UnknownName: there is no such pack or file.
        InputError: see :func:`load_pack`.
    """
    known = pack_files(own)
    if name in known:
        return load_pack(known[name])
    if name.endswith(".toml") or os.path.exists(name):  # False for names no file can have
        return load_pack(Path(name))
    raise UnknownName("pack", name, known)


def is_line_file(name: str) -> bool:
    """Whether a name is meant as the path of a line's file."""
    return name.lower().endswith(LINE_ENDINGS) or os.path.exists(name)


def find_line(
    name: str, own: Path, *, tune: int | None = None, track: str | None = None
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


def _line_content(name: str, own: Path) -> tuple[bytes, str]:
    known = line_files(own)
    if name in known:
        path = known[name]
    elif is_line_file(name):
        path = Path(name)
    else:
        raise UnknownName("line", name, known)
    return read_bytes(path, MOST_LINE_BYTES), path.name
