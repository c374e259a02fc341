"""Notes on the bass staff, drawn in characters.

Idea: data in, rows of text out. Every step of the staff is a row, lines and spaces alike.
The small 8 under the clef is the octave clef's: what is written sounds an octave lower.
Where high notes would need more rows than there are, they stand an octave lower under
``8va`` (or two, under ``15ma``); low notes stay where they are.

Conventions: a head with a stem has a rhythm, its flags are not drawn; without one it is a
whole note if hollow, and of no told length if filled. Stems stand in the column of their
head and dots in its row. What carries meaning is a sign, never a colour.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from fretdrill.theory.key import Key
from fretdrill.theory.pitch import Pitch
from fretdrill.theory.staff import (
    BOTTOM_LINE,
    MIDDLE_LINE,
    TOP_LINE,
    ledger_steps,
    signature_steps,
    staff_step,
    write_notes,
    written_value,
)

CLEF_COLUMNS = 6
CLEF_8_STEP, CLEF_8_COLUMN = BOTTOM_LINE - 1, 2
STEM_ROWS = 4
HALF, WHOLE = Fraction(1, 2), Fraction(1)
OCTAVE_SIGNS = {1: "8va", 2: "15ma"}


class Signs(NamedTuple):
    """The characters of a drawing; the clef's are its rows from the top line down."""

    clef: tuple[str, ...]
    line: str
    stem: str
    stem_on_line: str
    bar: str
    bar_on_line: str
    bar_top: str
    bar_bottom: str
    filled: str
    hollow: str
    dot: str
    flat: str
    natural: str
    sharp: str
    double_sharp: str
    dash: str
    hook: str

    def accidental(self, alter: int | None) -> str:
        """Return the sign for a number of semitones, 0 being a natural; None has none."""
        if alter is None:
            return ""
        doubles, singles = divmod(max(alter, 0), 2)
        sharps = self.sharp * singles + self.double_sharp * doubles
        return sharps or self.flat * -alter or self.natural


UNICODE = Signs(("╭─╮───", "│ │ •", "•─│───", "  │ •", "─╱────", "╱"), *"─│┼│┼┬┴●○·♭♮♯x╌┐")
ASCII = Signs((".-.---", "| | .", "*-|---", "  | .", "-/----", "/"), *"-|||+++@O.bn#x.|")


@dataclass(frozen=True)
class StaffNote:
    """One note to be drawn.

    Attributes:
        pitch: its sounding pitch, spelled.
        bar: the number of its bar; a bar line stands where the number changes.
        label: a character or two under it, such as a finger.
        duration: its length in whole notes; None where the rhythm does not count.
        asked: whether it is the note asked for: its label stands in brackets, and without
            a label an arrow points at it.
    """

    pitch: Pitch
    bar: int = 1
    label: str = ""
    duration: Fraction | None = None
    asked: bool = False

    @property
    def caption(self) -> str:
        """What stands under it."""
        if self.asked:
            return f"[{self.label}]" if self.label else "^"
        return self.label


class _Mark(NamedTuple):
    """A note as it is drawn.

    Attributes:
        step: where its head is.
        octaves: by how many octaves that is too low, as its octave sign says.
        accidental: the sign before the head.
        head: the head and its dots.
        stemmed: whether it has a stem.
    """

    note: StaffNote
    step: int
    octaves: int
    accidental: str
    head: str
    stemmed: bool

    @property
    def left(self) -> int:
        """Columns before the head; a ledger line has a gap before it."""
        return max(1, len(self.accidental) + 2 * bool(ledger_steps(self.step)))

    @property
    def caption_start(self) -> int:
        """Column of the caption, counted from the head."""
        return -1 if self.note.caption.startswith("[") else 0

    @property
    def right(self) -> int:
        """Columns after the head."""
        caption = self.caption_start + len(self.note.caption) - 1
        return max(len(self.head), caption, len(OCTAVE_SIGNS.get(self.octaves, "")) - 1)


class _Columns(NamedTuple):
    """Columns of the heads and of the bar lines, and how many there are in all."""

    heads: tuple[int, ...]
    bars: tuple[int, ...]
    width: int


class _Sheet:
    """Characters by step and column; there is a spare row above the steps and one below."""

    def __init__(self, steps: Sequence[int], width: int) -> None:
        self.top = max([TOP_LINE, *steps])
        self.bottom = min([CLEF_8_STEP, *steps])
        self._cells = [[" "] * width for _ in range(self.top - self.bottom + 3)]

    def put(self, step: int, column: int, text: str) -> None:
        self._cells[self.top + 1 - step][column : column + len(text)] = text

    def put_stem(self, steps: range, column: int, signs: Signs) -> None:
        """Draw a stem so far as there are rows for it."""
        for step in steps:
            if self.bottom <= step <= self.top:
                on_line = self._cells[self.top + 1 - step][column] == signs.line
                self.put(step, column, signs.stem_on_line if on_line else signs.stem)

    def rows(self) -> tuple[str, ...]:
        """Return the rows, without trailing blanks and without spare rows left empty."""
        rows = ["".join(cells).rstrip() for cells in self._cells]
        return tuple(rows[not rows[0] : len(rows) - (not rows[-1])])


def draw_staff(
    notes: Sequence[StaffNote], key: Key | None = None, *, most_rows: int, ascii_only: bool = False
) -> tuple[str, ...]:
    """Return the rows of a figure, from the top and without trailing blanks.

    The clef takes seven columns, each accidental of the signature one, a bar line one or
    two, and a note three to nine if its label has two characters at most.

    Args:
        notes: the notes in order.
        key: the key whose signature is drawn; None for none.
        most_rows: rows there are. The staff, the 8 and the labels take eleven; notes below
            the staff are drawn even if they need more.
        ascii_only: use ASCII signs alone; labels are printed as they are.
    """
    signs = ASCII if ascii_only else UNICODE
    marks = _marks(notes, key, most_rows, signs)
    columns = _columns(marks, key)
    sheet = _Sheet([mark.step for mark in marks], columns.width)
    _draw_lines(sheet, columns, signs)
    for column, sign in enumerate(signature_steps(key), CLEF_COLUMNS):
        sheet.put(sign.step, column, signs.accidental(sign.alter))
    for mark, head in zip(marks, columns.heads, strict=True):
        _draw_note(sheet, mark, head, signs)
        sheet.put(sheet.bottom - 1, head + mark.caption_start, mark.note.caption)
    _draw_octave_signs(sheet, marks, columns.heads, signs)
    return sheet.rows()


def staff_legend(
    notes: Sequence[StaffNote], key: Key | None = None, *, most_rows: int, ascii_only: bool = False
) -> str:
    """Return what the signs of a drawing mean, as one sentence; the arguments are the same."""
    marks = _marks(notes, key, most_rows, ASCII if ascii_only else UNICODE)
    accidentals = {mark.accidental for mark in marks}
    octaves = {mark.octaves for mark in marks}
    asked = "".join(mark.note.caption for mark in marks if mark.note.asked)
    signs = (
        ("n natural", ASCII.natural in accidentals),
        ("x double sharp", any(ASCII.double_sharp in sign for sign in accidentals)),
        ("8va an octave higher", 1 in octaves),
        ("15ma two octaves higher", 2 in octaves),
        ("[ ] the note asked for", "[" in asked),
        ("^ the note asked for", "^" in asked),
    )
    told = ["8 sounds an octave lower", *(text for text, there in signs if there)]
    return f"Signs: {', '.join(told)}."


def _marks(
    notes: Sequence[StaffNote], key: Key | None, most_rows: int, signs: Signs
) -> tuple[_Mark, ...]:
    figure = [(note.pitch, note.bar) for note in notes]
    written = write_notes(figure, key, _highest_step(notes, most_rows))
    return tuple(
        _Mark(note, step, octaves, signs.accidental(alter), *_head(note, signs))
        for note, (step, octaves, alter) in zip(notes, written, strict=True)
    )


def _highest_step(notes: Sequence[StaffNote], most_rows: int) -> int | None:
    """Return the highest step that there is room for, None if all notes have room."""
    steps = [staff_step(note.pitch) for note in notes]
    bottom = min([CLEF_8_STEP, *steps])
    rows = most_rows - any(note.caption for note in notes)
    if max([TOP_LINE, *steps]) - bottom < rows:
        return None
    return bottom + rows - 2  # one row is for the octave sign


def _head(note: StaffNote, signs: Signs) -> tuple[str, bool]:
    """Return a head with its dots, and whether it has a stem."""
    if note.duration is None:
        return signs.filled, False
    value, dots = written_value(note.duration)
    return (signs.hollow if value >= HALF else signs.filled) + signs.dot * dots, value < WHOLE


def _columns(marks: Sequence[_Mark], key: Key | None) -> _Columns:
    heads, bars = list[int](), list[int]()
    column = CLEF_COLUMNS + len(signature_steps(key)) + 1
    for index, mark in enumerate(marks):
        if index and marks[index - 1].note.bar != mark.note.bar:
            bars.append(column)
            column += 2 if mark.accidental else 1
        heads.append(column + mark.left)
        column = heads[-1] + 1 + mark.right
    return _Columns(tuple(heads), tuple(bars), column)


def _draw_lines(sheet: _Sheet, columns: _Columns, signs: Signs) -> None:
    for step in range(BOTTOM_LINE, TOP_LINE + 1):
        on_line = step % 2 == 0
        if on_line:
            sheet.put(step, 0, signs.line * columns.width)
        bar = {TOP_LINE: signs.bar_top, BOTTOM_LINE: signs.bar_bottom}.get(
            step, signs.bar_on_line if on_line else signs.bar
        )
        for column in columns.bars:
            sheet.put(step, column, bar)
    for row, text in enumerate(signs.clef):
        sheet.put(TOP_LINE - row, 0, text)
    sheet.put(CLEF_8_STEP, CLEF_8_COLUMN, "8")


def _draw_note(sheet: _Sheet, mark: _Mark, head: int, signs: Signs) -> None:
    ledgers = ledger_steps(mark.step)
    for step in ledgers:
        sheet.put(step, head - 1, signs.line * 3)
    if mark.stemmed:
        sheet.put_stem(_stem(mark.step), head, signs)
    sheet.put(mark.step, head, mark.head)
    before = len(mark.accidental) + bool(ledgers)
    sheet.put(mark.step, head - before, mark.accidental)


def _stem(step: int) -> range:
    """Return the steps of a stem: upward in the lower half, to the middle line at least."""
    if step < MIDDLE_LINE:
        return range(step + 1, max(step + STEM_ROWS, MIDDLE_LINE) + 1)
    return range(min(step - STEM_ROWS, MIDDLE_LINE), step)


def _draw_octave_signs(
    sheet: _Sheet, marks: Sequence[_Mark], heads: Sequence[int], signs: Signs
) -> None:
    pairs = zip(marks, heads, strict=True)
    for octaves, group in groupby(pairs, key=lambda pair: pair[0].octaves):
        under = [head for _, head in group]
        if octaves:
            text = OCTAVE_SIGNS[octaves]
            if len(under) > 1:
                text = text.ljust(under[-1] - under[0] + 2, signs.dash) + signs.hook
            sheet.put(sheet.top + 1, under[0] - 1, text)
