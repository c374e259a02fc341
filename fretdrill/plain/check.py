"""What is wrong with a pack or a line, in lines of text."""

from typing import TextIO

from fretdrill.errors import InputError, UnknownName, printable
from fretdrill.practice.home import Home
from fretdrill.practice.library import (
    find_lines,
    find_pack,
    is_line_file,
    line_files,
    pack_files,
)
from fretdrill.scores.reading import Reading, Sort


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
        return _lines(name, home)
    raise UnknownName("pack or line", name, [*packs, *lines])


def _pack(name: str, home: Home) -> str:
    pack = find_pack(name, home.packs)
    return f"{pack.title}: {_many(len(pack.drills), 'drill')}, nothing wrong"


def _lines(name: str, home: Home) -> str:
    return "\n".join(map(_line, find_lines(name, home.lines)))


def _line(reading: Reading) -> str:
    line = reading.line
    pitches = sorted((note.pitch for note in line.notes), key=lambda pitch: pitch.midi)
    ends = f"{pitches[0].text(ascii_only=True)} to {pitches[-1].text(ascii_only=True)}"
    bars = len({bar.number for bar in line.bars} - {0})  # as a musician counts, without a pickup
    told = [f"{line.title}: {_many(len(pitches), 'note')}, {_many(bars, 'bar')}, {ends}"]
    told += [str(notice) for notice in reading.notices if notice.sort is not Sort.CHOSEN]
    if len(told) == 1:
        told[0] += ", nothing wrong"
    return "\n  ".join(told)


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"
