"""What is wrong with a pack or a line, in lines of text."""

from collections.abc import Iterator
from typing import TextIO

from fretdrill.errors import InputError, ManyFaults, UnknownName, printable
from fretdrill.neck.neck import Neck
from fretdrill.practice.home import Home
from fretdrill.practice.library import (
    find_lines,
    find_pack,
    is_line_file,
    line_files,
    pack_files,
)
from fretdrill.scores.reading import Reading, Sort
from fretdrill.theory.line import Line


def check(name: str, home: Home, neck: Neck, output: TextIO) -> bool:
    """Say all that is wrong with one pack or line; return whether nothing is."""
    try:
        found = _read(name, home, neck)
    except InputError as fault:
        print(printable(str(fault)), file=output)
        return False
    print(printable(f"{name}: {found}"), file=output)
    return True


def _read(name: str, home: Home, neck: Neck) -> str:
    packs, lines = pack_files(home.packs), line_files(home.lines)
    if name in packs or name.lower().endswith(".toml"):
        return _pack(name, home)
    if name in lines or is_line_file(name):
        return _lines(name, home, neck)
    raise UnknownName("pack or line", name, [*packs, *lines])


def _pack(name: str, home: Home) -> str:
    pack = find_pack(name, home.packs, home.lines)
    return f"{pack.title}: {_many(len(pack.drills), 'drill')}, nothing wrong"


def _lines(name: str, home: Home, neck: Neck) -> str:
    readings = find_lines(name, home.lines)
    faults = [fault for reading in readings for fault in _off_the_neck(reading.line, neck, name)]
    if faults:
        raise ManyFaults.of(faults)
    return "\n".join(map(_line, readings))


def _off_the_neck(line: Line, neck: Neck, name: str) -> Iterator[InputError]:
    off = [i for i, note in enumerate(line.notes, 1) if not neck.places_of(note.pitch.midi)]
    if off:
        first = line.notes[off[0] - 1].pitch.text(ascii_only=True)
        yield InputError(
            f"{name}: {line.title}: {_many(len(off), 'note')} off the neck in Set-up, the first "
            f"note {off[0]}, {first}; 'fretdrill plan' says what would help"
        )


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
