"""What is wrong with a pack or a line, in lines of text."""

from typing import TextIO

from fretdrill.errors import InputError, UnknownName, printable
from fretdrill.practice.home import Home
from fretdrill.practice.library import (
    find_line,
    find_pack,
    is_line_file,
    line_files,
    pack_files,
)


def check(name: str, home: Home, output: TextIO) -> bool:
    """Say all that is wrong with one pack or line; return whether nothing is."""
    try:
        found = _read(name, home)
    except InputError as fault:
        print(printable(str(fault)), file=output)
        return False
    print(printable(f"{name}: {found}"), file=output)
    return True


def _read(name: str, home: Home) -> str:
    packs, lines = pack_files(home.packs), line_files(home.lines)
    if name in packs or name.lower().endswith(".toml"):
        return _pack(name, home)
    if name in lines or is_line_file(name):
        return _line(name, home)
    raise UnknownName("pack or line", name, [*packs, *lines])


def _pack(name: str, home: Home) -> str:
    pack = find_pack(name, home.packs)
    drills = "1 drill" if len(pack.drills) == 1 else f"{len(pack.drills)} drills"
    return f"{pack.title}: {drills}, nothing wrong"


def _line(name: str, home: Home) -> str:
    reading = find_line(name, home.lines)
    line = reading.line
    midis = sorted((note.pitch for note in line.notes), key=lambda pitch: pitch.midi)
    notes = "1 note" if len(midis) == 1 else f"{len(midis)} notes"
    ends = f"{midis[0].text(ascii_only=True)} to {midis[-1].text(ascii_only=True)}"
    bars = "1 bar" if len(line.bars) == 1 else f"{len(line.bars)} bars"
    told = [f"{line.title}: {notes}, {bars}, {ends}", *map(str, reading.notices)]
    if not reading.notices:
        told[0] += ", nothing wrong"
    return "\n  ".join(told)
