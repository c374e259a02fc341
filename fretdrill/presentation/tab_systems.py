"""Bars of tab beside each other: what fits a width is one system.

Idea: rows of text, with where each note stands in them, so that a screen can put a cursor there.
:class:`TabSheet` lays out a screen's tab a few bars at a time: the line is cut every 24 bars,
which two, three, four, six or eight bars a row all divide, and only the stretches that are looked
at are ever laid out.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from fretdrill.neck.neck import Neck
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab_columns import Column, Columns

LEAST_WIDTH = 24
BARS_LAID_OUT = 24
BAR_LINE = 2  # columns before a bar's first one


class Block(NamedTuple):
    """A bar, or a part of one that is wider than the tab.

    Attributes:
        number: the bar's number; empty for a later part.
        columns: what stands in it.
        onset, end: where it begins and ends, in whole notes from the beginning of the line.
    """

    number: str
    columns: list[Column]
    onset: Fraction
    end: Fraction

    @property
    def width(self) -> int:
        """How wide it is, with the bar line before it."""
        return sum(column.width for column in self.columns) + BAR_LINE


class Row(NamedTuple):
    """A row of a system: what it is for, and its text."""

    kind: str
    text: str


class Spot(NamedTuple):
    """Where a note stands in a system.

    Attributes:
        column: the column its texts begin at.
        width: how many columns it has.
        string: the string it is played on; None if it is off the neck.
    """

    column: int
    width: int
    string: int | None


@dataclass(frozen=True)
class System:
    """Some bars beside each other, drawn.

    Attributes:
        rows: from the top: ``number``, ``count``, the strings by their numbers, ``finger``,
            ``hand``, and of ``length``, ``mark`` and ``ahead`` those asked for.
        spots: note of the line → where it stands.
        onset, end: where it begins and ends, in whole notes from the beginning of the line.
    """

    rows: tuple[Row, ...]
    spots: Mapping[int, Spot]
    onset: Fraction
    end: Fraction

    def note_at(self, column: int) -> int | None:
        """Return the note that stands at a column or is the last one before it, if any."""
        before = [(spot.column, note) for note, spot in self.spots.items() if spot.column <= column]
        return max(before)[1] if before else None


class Margin:
    """What stands before the first bar: the strings' names.

    Attributes:
        labels: string → its name.
        width: columns it takes.
    """

    def __init__(self, neck: Neck, names: Names) -> None:
        self.labels = {s: names.note(neck.tuning.strings[s - 1].name) for s in neck.strings}
        self.width = max(map(len, self.labels.values())) + 2

    def text(self, label: str) -> str:
        """Return the margin of a row."""
        return f" {label}".ljust(self.width)


def blocks_of(columns: Columns, bars: Iterable[int], room: int) -> Iterator[Block]:
    """Yield bars, by their indexes, each cut where it is wider than the room there is."""
    for index in bars:
        bar = columns.line.bars[index]
        number, part, used, onset = str(bar.number), list[Column](), 0, bar.onset
        for column in columns.of_bar(index):
            if part and used + column.width + BAR_LINE > room:
                yield Block(number, part, onset, column.onset)
                number, part, used, onset = "", [], 0, column.onset
            part.append(column)
            used += column.width
        yield Block(number, part, onset, bar.end)


def systems_of(blocks: Iterable[Block], room: int) -> Iterator[list[Block]]:
    """Yield the blocks that stand beside each other."""
    system: list[Block] = []
    used = 0
    for block in blocks:
        if system and used + block.width > room:
            yield system
            system, used = [], 0
        system.append(block)
        used += block.width
    if system:
        yield system


def draw_system(blocks: list[Block], columns: Columns, margin: Margin) -> System:
    """Draw some bars beside each other."""
    added = columns.added
    numbers = "".join(block.number.ljust(block.width) for block in blocks)
    rows = [Row("number", " " * (margin.width + BAR_LINE) + numbers)]
    rows.append(_text_row(blocks, margin, "count"))
    for string, label in margin.labels.items():
        rows.append(Row(str(string), _string_row(blocks, margin.text(label), string)))
    rows += [_text_row(blocks, margin, "finger"), _text_row(blocks, margin, "hand")]
    if added.lengths:
        rows.append(_text_row(blocks, margin, "length", "%"))
    if added.marks is not None:
        rows.append(_text_row(blocks, margin, "mark"))
    rows += [_ahead_row(blocks, margin, seen) for seen in range(len(added.ahead))]
    trimmed = tuple(Row(row.kind, row.text.rstrip()) for row in rows)
    return System(trimmed, _spots(blocks, margin.width), blocks[0].onset, blocks[-1].end)


def _spots(blocks: list[Block], margin: int) -> dict[int, Spot]:
    spots = {}
    at = margin
    for block in blocks:
        at += BAR_LINE
        for column in block.columns:
            if column.note is not None:
                spots[column.note] = Spot(at, column.width - 1, next(iter(column.cells), None))
            at += column.width
    return spots


def _text_row(blocks: list[Block], margin: Margin, kind: str, label: str = "") -> Row:
    text = margin.text(label)
    for block in blocks:
        cells = (getattr(column, kind).ljust(column.width) for column in block.columns)
        text += " " * BAR_LINE + "".join(cells)
    return Row(kind, text)


def _ahead_row(blocks: list[Block], margin: Margin, seen: int) -> Row:
    text = margin.text(f"+{seen}")
    for block in blocks:
        cells = (column.ahead[seen] if column.ahead else "" for column in block.columns)
        widths = (column.width for column in block.columns)
        text += " " * BAR_LINE
        text += "".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return Row("ahead", text)


def _string_row(blocks: list[Block], text: str, string: int) -> str:
    for block in blocks:
        cells = (column.cells.get(string, "").ljust(column.width, "-") for column in block.columns)
        text += "|-" + "".join(cells)
    return text + "|"


Key = tuple[int, int]
"""Which stretch of bars a system is in, and which one in it."""


class TabSheet:
    """The systems of a tab at one width, laid out where they are looked at.

    Attributes:
        columns: what stands in them.
    """

    def __init__(self, columns: Columns, width: int) -> None:
        self.columns = columns
        neck = columns.plan.solution.problem.model.neck
        self._margin = Margin(neck, columns.names)
        self._room = max(LEAST_WIDTH, width) - self._margin.width - 1
        self._stretches: dict[int, list[list[Block]]] = {}
        self._drawn: dict[Key, System] = {}
        self._first_bars = BARS_LAID_OUT + bool(columns.line.pickup)

    def system(self, key: Key) -> System:
        """Return a system, drawn."""
        if key not in self._drawn:
            blocks = self._stretch(key[0])[key[1]]
            self._drawn[key] = draw_system(blocks, self.columns, self._margin)
        return self._drawn[key]

    def key_of(self, note: int) -> Key:
        """Return the system that a note stands in."""
        onset = self.columns.line.notes[note].onset
        stretch = self._stretch_of(self.columns.moments.bar_of(note))
        blocks = self._stretch(stretch)
        return stretch, max((i for i, s in enumerate(blocks) if s[0].onset <= onset), default=0)

    def page(self, top: Key, count: int) -> list[Key]:
        """Return up to so many systems from one on."""
        keys: list[Key] = []
        key: Key | None = top
        while key is not None and len(keys) < count:
            keys.append(key)
            key = self.after(key)
        return keys

    def after(self, key: Key) -> Key | None:
        """Return the system after one, None after the last."""
        stretch, index = key
        if index + 1 < len(self._stretch(stretch)):
            return stretch, index + 1
        return (stretch + 1, 0) if self._bars(stretch + 1) else None

    def before(self, key: Key) -> Key | None:
        """Return the system before one, None before the first."""
        stretch, index = key
        if index:
            return stretch, index - 1
        return (stretch - 1, len(self._stretch(stretch - 1)) - 1) if stretch else None

    def _stretch(self, stretch: int) -> list[list[Block]]:
        if stretch not in self._stretches:
            blocks = blocks_of(self.columns, self._bars(stretch), self._room)
            self._stretches[stretch] = list(systems_of(blocks, self._room))
        return self._stretches[stretch]

    def _bars(self, stretch: int) -> range:
        """Return the indexes of a stretch's bars; empty past the end."""
        ends = self._first_bars + BARS_LAID_OUT * stretch
        start = ends - BARS_LAID_OUT if stretch else 0
        return range(start, min(ends, len(self.columns.line.bars)))

    def _stretch_of(self, bar: int) -> int:
        return max(0, (bar - self._first_bars) // BARS_LAID_OUT + 1)
