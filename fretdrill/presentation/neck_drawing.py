"""The neck drawn in characters.

Idea: data in, text out. :func:`draw_neck` turns a :class:`NeckView` into rows of
spans, a span being text and the role it plays; the front ends decide what a role
looks like. What carries meaning is a sign, never a colour.

The lowest string is at the bottom, as in written tab. Under the strings are the
dots of a real neck and the hand row: where the fingers rest.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from itertools import groupby
from typing import NamedTuple

from fretdrill.neck.neck import DOUBLE_DOTS, SINGLE_DOTS, Neck, Place
from fretdrill.presentation.neck_layout import NAME_COLUMNS, NUT_COLUMN, NeckLayout
from fretdrill.theory.pitch import Pitch


class Role(StrEnum):
    """What a span of the drawing is."""

    PLAIN = "plain"
    NAME = "name"
    NUT = "nut"
    STRING = "string"
    WIRE = "wire"
    NUMBER = "number"
    DOT = "dot"
    HAND = "hand"
    HINT = "hint"
    CURSOR = "cursor"
    CHOSEN = "chosen"
    ASKED = "asked"
    RIGHT = "right"
    WRONG = "wrong"
    MISSED = "missed"


class Signs(NamedTuple):
    """The characters of a drawing."""

    nut: str
    far_nut: str
    wire: str
    bare_wire: str
    heavy_wire: str
    string: str
    heavy_string: str
    dot: str
    key: str
    marks: Mapping[Role, str]


UNICODE = Signs(
    nut="║",
    far_nut="┊",
    wire="┼",
    bare_wire="│",
    heavy_wire="┿",
    string="─",
    heavy_string="━",
    dot="•",
    key="‹›",
    marks={
        Role.CHOSEN: "●",
        Role.ASKED: "?",
        Role.RIGHT: "●",
        Role.WRONG: "✗",
        Role.MISSED: "○",
    },
)
ASCII = Signs(
    nut="H",
    far_nut=":",
    wire="|",
    bare_wire="|",
    heavy_wire="|",
    string="-",
    heavy_string="=",
    dot="*",
    key="<>",
    marks={
        Role.CHOSEN: "@",
        Role.ASKED: "?",
        Role.RIGHT: "@",
        Role.WRONG: "X",
        Role.MISSED: "o",
    },
)

_TO_ASCII = str.maketrans(
    {UNICODE.marks[role]: ASCII.marks[role] for role in UNICODE.marks}
    | dict(zip(UNICODE.key, ASCII.key, strict=True))
)

KEY_CELL = 5  # a key in its brackets, and string on both sides

HEAVY_BELOW_MIDI = 36  # open strings below C2 are drawn heavy: the thick ones of a bass


@dataclass(frozen=True)
class NeckView:
    """What is to be seen on a neck.

    Attributes:
        neck: the neck.
        marks: place → its mark, one of the roles that :class:`Signs` has marks for.
        labels: place → a few characters beside its mark, such as a note's name.
        hints: place → the key that marks it, shown where nothing else is.
        cursor: the place under the cursor.
        focus: the fret to be seen, where not all can be.
        fingers: finger → fret where it rests.
        hand_text: what to say of the hand under the hand row.
        other_hand: another hand to be seen below, to compare.
    """

    neck: Neck
    marks: Mapping[Place, Role] = field(default_factory=dict)
    labels: Mapping[Place, str] = field(default_factory=dict)
    hints: Mapping[Place, str] = field(default_factory=dict)
    cursor: Place | None = None
    focus: int = 0
    fingers: Mapping[int, int] = field(default_factory=dict)
    hand_text: str = ""
    other_hand: "OtherHand | None" = None


class OtherHand(NamedTuple):
    """A hand to compare with.

    Attributes:
        fingers: finger → fret where it rests.
        text: what to say of it.
    """

    fingers: Mapping[int, int]
    text: str


class Span(NamedTuple):
    """A run of characters with one role."""

    text: str
    role: Role


@dataclass(frozen=True)
class Drawing:
    """A drawn neck.

    Attributes:
        rows: from the top; each row's spans in order.
        string_rows: string number → row.
        layout: the columns it was drawn by.
    """

    rows: tuple[tuple[Span, ...], ...]
    string_rows: Mapping[int, int]
    layout: NeckLayout

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The rows as text, without trailing blanks."""
        return tuple("".join(span.text for span in row).rstrip() for row in self.rows)

    def place_at(self, column: int, row: int) -> Place | None:
        """Return the place drawn at a point of the screen, if any."""
        fret = self.layout.fret_at(column)
        for string, string_row in self.string_rows.items():
            if row == string_row and fret is not None:
                return Place(string, fret)
        return None


def in_ascii(text: str) -> str:
    """Write a text about the drawing's signs with the ASCII ones."""
    return text.translate(_TO_ASCII)


class _Grid:
    """Characters with roles, addressed by column before mirroring."""

    def __init__(self, width: int) -> None:
        self._width = width
        self._rows: list[list[tuple[str, Role]]] = []

    def new_row(self) -> int:
        self._rows.append([(" ", Role.PLAIN)] * self._width)
        return len(self._rows) - 1

    def put(self, row: int, column: int, text: str, role: Role, layout: NeckLayout) -> None:
        """Write text that reads forward from a column, mirrored or not."""
        shown = layout.shown_column(column)
        self.put_shown(row, shown - len(text) + 1 if layout.mirrored else shown, text, role)

    def put_shown(self, row: int, start: int, text: str, role: Role) -> None:
        """Write text from a column of the screen on."""
        for offset, sign in enumerate(text):
            if 0 <= start + offset < self._width:
                self._rows[row][start + offset] = (sign, role)

    def spans(self) -> tuple[tuple[Span, ...], ...]:
        return tuple(
            tuple(
                Span("".join(sign for sign, _ in run), role)
                for role, run in groupby(row, key=lambda cell: cell[1])
            )
            for row in self._rows
        )


def draw_neck(
    view: NeckView, layout: NeckLayout, *, ascii_only: bool = False, spread: bool = False
) -> Drawing:
    """Draw a neck.

    Args:
        view: what is to be seen.
        layout: which columns the frets get.
        ascii_only: use ASCII signs alone.
        spread: leave a row between strings, where there is height.
    """
    signs = ASCII if ascii_only else UNICODE
    grid = _Grid(layout.width)
    _draw_numbers(grid, view, layout)
    string_rows = {}
    for string in view.neck.strings:
        if spread and string > 1:
            _draw_gap(grid, layout, signs)
        string_rows[string] = _draw_string(grid, view, string, layout, signs, ascii_only)
    _draw_dots(grid, view.neck, layout, signs)
    if view.fingers:
        _draw_hand(grid, view.fingers, view.hand_text, layout)
    if view.other_hand is not None:
        _draw_hand(grid, *view.other_hand, layout)
    return Drawing(grid.spans(), string_rows, layout)


def _draw_numbers(grid: _Grid, view: NeckView, layout: NeckLayout) -> None:
    row = grid.new_row()
    for fret in range(layout.first_fret, layout.last_fret + 1):
        number = str(fret)
        pointed_at = view.cursor is not None and view.cursor.fret == fret
        wide_enough = len(layout.cell(fret)) > len(number)
        if wide_enough or fret in SINGLE_DOTS | DOUBLE_DOTS:
            role = Role.CURSOR if pointed_at else Role.NUMBER
            grid.put(row, _centered(layout, fret, number), number, role, layout)


def _draw_gap(grid: _Grid, layout: NeckLayout, signs: Signs) -> None:
    row = grid.new_row()
    grid.put(row, NUT_COLUMN, _nut(layout, signs), Role.NUT, layout)
    for wire in layout.wires:
        grid.put(row, wire, signs.bare_wire, Role.WIRE, layout)


def _draw_string(
    grid: _Grid, view: NeckView, string: int, layout: NeckLayout, signs: Signs, ascii_only: bool
) -> int:
    row = grid.new_row()
    pitch = view.neck.tuning.strings[string - 1]
    heavy = pitch.midi < HEAVY_BELOW_MIDI
    line = signs.heavy_string if heavy else signs.string
    _draw_name(grid, row, pitch, view, string, layout, ascii_only)
    grid.put(row, NUT_COLUMN, _nut(layout, signs), Role.NUT, layout)
    for fret in range(layout.first_fret, layout.last_fret + 1):
        for column in layout.cell(fret):
            grid.put(row, column, line, Role.STRING, layout)
    for wire in layout.wires:
        grid.put(row, wire, signs.heavy_wire if heavy else signs.wire, Role.WIRE, layout)
    for fret in (0, *range(layout.first_fret, layout.last_fret + 1)):
        _draw_place(grid, row, Place(string, fret), view, layout, signs)
    return row


def _draw_name(
    grid: _Grid,
    row: int,
    pitch: Pitch,
    view: NeckView,
    string: int,
    layout: NeckLayout,
    ascii_only: bool,
) -> None:
    name = pitch.name.text(ascii_only=ascii_only)[: len(NAME_COLUMNS)]
    pointed_at = view.cursor is not None and view.cursor.string == string
    grid.put(row, NAME_COLUMNS[0], name, Role.CURSOR if pointed_at else Role.NAME, layout)


def _draw_place(
    grid: _Grid, row: int, place: Place, view: NeckView, layout: NeckLayout, signs: Signs
) -> None:
    mark = view.marks.get(place)
    text = signs.marks[mark] if mark is not None else view.hints.get(place, "")
    role = mark if mark is not None else Role.HINT
    room = len(layout.cell(place.fret))
    if role is Role.HINT and text and (room >= KEY_CELL or place.fret == 0):
        text = f"{signs.key[0]}{text}{signs.key[1]}"
    label = view.labels.get(place, "")
    if label and len(text) + len(label) <= room:
        text += label
    if place == view.cursor:
        role = Role.CURSOR
        text = text or " "
        if room >= len(text) + 2:
            text = f"[{text}]"
    if text:
        grid.put(row, _centered(layout, place.fret, text), text, role, layout)


def _draw_dots(grid: _Grid, neck: Neck, layout: NeckLayout, signs: Signs) -> None:
    row = grid.new_row()
    for fret in range(layout.first_fret, layout.last_fret + 1):
        if fret in SINGLE_DOTS:
            grid.put(row, layout.center(fret), signs.dot, Role.DOT, layout)
        elif fret in DOUBLE_DOTS:
            text = signs.dot * 2 if len(layout.cell(fret)) > 1 else signs.dot
            grid.put(row, _centered(layout, fret, text), text, Role.DOT, layout)


def _draw_hand(grid: _Grid, fingers: Mapping[int, int], text: str, layout: NeckLayout) -> None:
    row = grid.new_row()
    for finger, fret in fingers.items():
        if layout.shows(fret):
            grid.put(row, layout.center(fret), str(finger), Role.HAND, layout)
    row = grid.new_row()
    shown = [
        layout.shown_column(column)
        for fret in fingers.values()
        if layout.shows(fret)
        for column in layout.cell(fret)
    ]
    if shown:
        start = max(0, min(min(shown), layout.width - len(text)))
        grid.put_shown(row, start, text, Role.HAND)


def _centered(layout: NeckLayout, fret: int, text: str) -> int:
    """Return the column at which text starts so that it lies amid a fret's cell."""
    cell = layout.cell(fret)
    spare = max(0, len(cell) - len(text))
    return cell[0] + (spare + 1) // 2


def _nut(layout: NeckLayout, signs: Signs) -> str:
    return signs.nut if layout.first_fret == 1 else signs.far_nut
