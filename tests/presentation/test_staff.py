"""The staff as drawn: read back by a reader that knows only its signs, and looked at."""

from fractions import Fraction
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.presentation.staff import StaffNote, draw_staff, staff_legend
from fretdrill.theory.key import MAJOR_KEYS, Key
from fretdrill.theory.pitch import Pitch
from fretdrill.theory.staff import staff_step, written_value
from tests.strategies import keys, pitches

CLEF = 6  # columns
LETTERS_FROM_THE_BOTTOM_LINE = "GABCDEF"
ACCIDENTALS = {
    "♭": -1, "♮": 0, "♯": 1, "x": 2, "♭♭": -2, "♭♭♭": -3, "♯x": 3,
    "b": -1, "n": 0, "#": 1, "bb": -2, "bbb": -3, "#x": 3,
}  # fmt: skip
OCTAVE_SIGNS = {"8va": 1, "15ma": 2}
LENGTHS = [Fraction(n, 48) for n in (3, 6, 9, 12, 18, 21, 24, 36, 42, 48, 72, 8, 16)]


@st.composite
def figures(draw: st.DrawFn, lowest: int = 23, highest: int = 67) -> list[StaffNote]:
    """Figures as drills have them: up to eight notes in bars, with or without a rhythm."""
    found, bar, rhythm = [], 1, draw(st.booleans())
    for _ in range(draw(st.integers(1, 8))):
        bar += draw(st.sampled_from((0, 0, 0, 1)))
        near = pitches(lowest, min(highest, lowest + 6), max_alter=3)
        found.append(
            StaffNote(
                draw(near | pitches(lowest, highest)),
                bar,
                draw(st.sampled_from(("", "", "1", "4", "?", "12"))),
                draw(st.sampled_from(LENGTHS)) if rhythm else None,
                draw(st.integers(0, 5)) == 0,
            )
        )
    return found


def figure(text: str) -> list[StaffNote]:
    """Read ``"F#1 G1:1/4 | F1:1/2:2 E1::?!"``: pitch, length, label; ``!`` is asked for."""
    found, bar = [], 1
    for word in text.split():
        if word == "|":
            bar += 1
            continue
        name, length, label = [*word.rstrip("!").split(":"), "", ""][:3]
        duration = Fraction(length) if length else None
        found.append(StaffNote(Pitch.parse(name), bar, label, duration, word.endswith("!")))
    return found


class Read(NamedTuple):
    """A note as it was read off a drawing."""

    step: int
    octaves: int
    sign: int | None
    bar: int
    hollow: bool
    stemmed: bool
    dots: int
    caption: str
    ledgers: tuple[int, ...]


class Reader:
    """Reads a drawing without knowing what was drawn.

    The 8 under the clef tells which rows the lines are; what stands in a column above and
    below a head is its stem, three line signs around it a ledger line.
    """

    def __init__(self, rows: tuple[str, ...]) -> None:
        self.width = max(map(len, rows))
        self.rows = [row.ljust(self.width) for row in rows]
        self.eight = next(at for at, row in enumerate(rows) if row.startswith("  8"))
        self.ascii = "\n".join(rows).isascii()
        self.filled, self.hollow = "@O" if self.ascii else "●○"
        self.dot, self.line = ".-" if self.ascii else "·─"
        self.upright = "|" if self.ascii else "│┼"
        self.bar_top = "+" if self.ascii else "┬"

    def step(self, row: int) -> int:
        return self.eight - row - 1

    def cell(self, step: int, column: int) -> str:
        row = self.eight - 1 - step
        if 0 <= row < len(self.rows) and 0 <= column < self.width:
            return self.rows[row][column]
        return " "

    @property
    def heads(self) -> list[tuple[int, int]]:
        """Column and step of each head, from the left."""
        return sorted(
            (column, self.step(row))
            for row, text in enumerate(self.rows)
            for column, sign in enumerate(text)
            if column >= CLEF and sign in (self.filled, self.hollow)
        )

    @property
    def bars(self) -> list[int]:
        return [at for at in range(CLEF, self.width) if self.cell(8, at) == self.bar_top]

    @property
    def over(self) -> list[tuple[int, int, int]]:
        """First and last column of each octave sign, and its octaves."""
        found, start = [], 0
        while start < self.width:
            sign = next((s for s in OCTAVE_SIGNS if self.rows[0].startswith(s, start)), None)
            if sign is None:
                start += 1
                continue
            end = start + len(sign)
            while end < self.width and self.rows[0][end] in "╌┐.|":
                end += 1
            found.append((start, end - 1, OCTAVE_SIGNS[sign]))
            start = end
        return found

    def captions(self) -> dict[int, str]:
        """Return column → caption of the row below all steps, if it is a row of captions."""
        heads = self.heads
        lowest = min([-1, *(step for _, step in heads)])
        row = self.eight - 1 - lowest + 1
        text = self.rows[row] if row < len(self.rows) else ""
        return {at: text[at - 1 :] for at, _ in heads}

    def accidental(self, step: int, head: int) -> int | None:
        start = head - 2 if self.cell(step, head - 1) == self.line else head - 1
        if self.ledgers_at(step, head) and step % 2:
            start = head - 2  # the sign keeps clear of the ledger lines
        text = ""
        while self.cell(step, start) in "♭♮♯xbn#":
            text = self.cell(step, start) + text
            start -= 1
        return ACCIDENTALS[text] if text else None

    def ledgers_at(self, step: int, head: int) -> tuple[int, ...]:
        """Return the lines outside the staff that a head's column has, outward."""
        outside = range(10, 40, 2) if step > 8 else range(-2, -30, -2)
        line_or_dot = (self.line, self.dot)
        return tuple(
            at
            for at in outside
            if self.cell(at, head - 1) == self.line
            and self.cell(at, head + 1) in line_or_dot
            and self.cell(at, head) != " "
        )

    def signature(self) -> dict[int, int]:
        """Return step → accidental, up to the first head."""
        first = min([self.width, *(column for column, _ in self.heads)])
        found = {}
        for column in range(CLEF, first):
            signs = [(s, self.cell(s, column)) for s in range(-1, 9)]
            there = [(s, sign) for s, sign in signs if sign in "♭♯b#" and sign != " "]
            if not there:
                break
            found[there[0][0]] = ACCIDENTALS[there[0][1]]
        return found

    def notes(self) -> list[Read]:
        captions = self.captions()
        found = []
        for head, step in self.heads:
            octaves = next((o for first, last, o in self.over if first < head <= last), 0)
            dots = 0
            while self.cell(step, head + 1 + dots) == self.dot:
                dots += 1
            found.append(
                Read(
                    step,
                    octaves,
                    self.accidental(step, head),
                    1 + sum(at < head for at in self.bars),
                    self.cell(step, head) == self.hollow,
                    any(self.cell(step + up, head) in self.upright for up in (1, -1)),
                    dots,
                    captions[head],
                    self.ledgers_at(step, head),
                )
            )
        return found


def sounding(reader: Reader) -> list[tuple[int, str]]:
    """Return MIDI number and letter of each note, read by lines and spaces."""
    signature = {step % 7: alter for step, alter in reader.signature().items()}
    held: dict[tuple[int, int], int] = {}
    found = []
    for note in reader.notes():
        place = (note.bar, note.step)
        if note.sign is not None:
            held[place] = note.sign
        alter = held.get(place, signature.get(note.step % 7, 0))
        octave, above = divmod(note.step + 7 * note.octaves, 7)
        natural = 31 + 12 * octave + (0, 2, 4, 5, 7, 9, 10)[above]  # from G1, as it sounds
        found.append((natural + alter, LETTERS_FROM_THE_BOTTOM_LINE[above]))
    return found


def bar_numbers(notes: list[StaffNote]) -> list[int]:
    """Count bars as they are met, from 1."""
    met = sorted({note.bar for note in notes})
    return [met.index(note.bar) + 1 for note in notes]


@settings(max_examples=200)
@given(figures(), st.none() | keys(), st.integers(1, 30), st.booleans())
def test_a_drawing_is_read_back(
    notes: list[StaffNote], key: Key | None, most_rows: int, ascii_only: bool
) -> None:
    rows = draw_staff(notes, key, most_rows=most_rows, ascii_only=ascii_only)
    reader = Reader(rows)
    assert sounding(reader) == [(note.pitch.midi, note.pitch.name.letter) for note in notes]
    read = reader.notes()
    assert [note.bar for note in read] == bar_numbers(notes)
    for drawn, note in zip(read, notes, strict=True):
        assert drawn.step + 7 * drawn.octaves == staff_step(note.pitch)
        assert drawn.caption.strip(" ").startswith(note.caption)
        if note.duration is None:
            assert (drawn.hollow, drawn.stemmed, drawn.dots) == (False, False, 0)
        else:
            value, dots = written_value(note.duration)
            assert drawn.hollow == (value >= Fraction(1, 2))
            assert drawn.stemmed == (value < 1)
            assert drawn.dots == dots


@given(figures(), st.none() | keys(), st.integers(1, 30), st.booleans())
def test_ledger_lines_are_drawn_as_far_as_the_note_and_no_further(
    notes: list[StaffNote], key: Key | None, most_rows: int, ascii_only: bool
) -> None:
    reader = Reader(draw_staff(notes, key, most_rows=most_rows, ascii_only=ascii_only))
    for note in reader.notes():
        above = [step for step in range(10, 30, 2) if step <= note.step]
        below = [step for step in range(-2, -20, -2) if step >= note.step]
        assert list(note.ledgers) == above + below
    near = {
        (at, head + aside)
        for head, step in reader.heads
        for at in reader.ledgers_at(step, head)
        for aside in (-1, 0, 1)
    }
    for row, text in enumerate(reader.rows):
        lines = {(reader.step(row), at) for at, sign in enumerate(text) if sign == reader.line}
        if not 0 <= reader.step(row) <= 8:
            assert lines <= near  # none that belongs to no note


@given(figures(), st.none() | keys(), st.integers(1, 30), st.booleans())
def test_the_five_lines_go_through(
    notes: list[StaffNote], key: Key | None, most_rows: int, ascii_only: bool
) -> None:
    rows = draw_staff(notes, key, most_rows=most_rows, ascii_only=ascii_only)
    reader = Reader(rows)
    for step in range(9):
        full = " " not in reader.rows[reader.eight - 1 - step][CLEF:]
        assert full == (step % 2 == 0)


@given(figures(), st.none() | keys(), st.integers(1, 30))
def test_ascii_is_ascii_and_the_same_shape(
    notes: list[StaffNote], key: Key | None, most_rows: int
) -> None:
    plain = draw_staff(notes, key, most_rows=most_rows, ascii_only=True)
    fancy = draw_staff(notes, key, most_rows=most_rows)
    assert "\n".join(plain).isascii()
    assert list(map(len, plain)) == list(map(len, fancy))
    assert Reader(plain).notes() == Reader(fancy).notes()
    assert staff_legend(notes, key, most_rows=most_rows, ascii_only=True).isascii()


@given(figures(), st.none() | keys(), st.integers(1, 30))
def test_rows_are_no_more_than_there_are_where_octave_signs_can_help(
    notes: list[StaffNote], key: Key | None, most_rows: int
) -> None:
    rows = draw_staff(notes, key, most_rows=most_rows)
    steps = [staff_step(note.pitch) for note in notes]
    captions = any(note.caption for note in notes)
    lowest = min([-1, *steps])
    as_written = max([8, *steps]) - lowest + 1 + captions
    smallest = 8 - lowest + 1 + captions + (max(steps) > 8)
    assert len(rows) <= max(most_rows, smallest)
    if as_written <= most_rows:
        assert len(rows) == as_written
        assert not any(note.octaves for note in Reader(rows).notes())


@pytest.mark.parametrize("most_rows", range(10, 20))
def test_two_high_notes_apart_never_need_a_row_too_many(most_rows: int) -> None:
    highs = [f"{letter}{octave}" for octave in (2, 3) for letter in "ABDFG"] + ["C4", "E4", "G4"]
    for one in highs:
        for other in highs:
            notes = figure(f"{one} G1 {other}")
            high = max(staff_step(note.pitch) for note in notes) > 8
            assert len(draw_staff(notes, most_rows=most_rows)) <= max(most_rows, 10 + high)


@pytest.mark.parametrize(("most_rows", "octaves"), [(23, 0), (22, 1), (17, 1), (16, 2), (11, 2)])
def test_high_notes_are_lowered_no_further_than_they_must(most_rows: int, octaves: int) -> None:
    """G4 is on step 21, 14 under 8va; from the 8 up that is 23 rows, or 16 and one for 8va."""
    rows = draw_staff(figure("G4"), most_rows=most_rows)
    assert [note.octaves for note in Reader(rows).notes()] == [octaves]


@given(figures(), st.none() | keys(), st.integers(1, 30))
def test_no_row_is_wider_than_stated_or_ends_in_blanks(
    notes: list[StaffNote], key: Key | None, most_rows: int
) -> None:
    rows = draw_staff(notes, key, most_rows=most_rows)
    signature = abs(key.signature) if key is not None else 0
    bars = max(bar_numbers(notes)) - 1
    width = max(map(len, rows))
    fixed = 7 + signature
    assert fixed + 3 * len(notes) + bars <= width <= fixed + 9 * len(notes) + 2 * bars
    assert all(row == row.rstrip() for row in rows)
    lines = [row for row in rows if len(row) == width]
    assert len(lines) >= 5


@pytest.mark.parametrize("key", MAJOR_KEYS, ids=str)
def test_eight_notes_fit_in_fourteen_rows_and_forty_columns(key: Key) -> None:
    """A scale and back from the lowest note a four-string bass has, two bars."""
    scale = [key.spell(midi).name for midi in range(28, 40)]
    diatonic = [Pitch(28 + at, name) for at, name in enumerate(scale) if name in key.scale][:8]
    notes = [StaffNote(pitch, 1 + at // 4, "1") for at, pitch in enumerate(diatonic)]
    rows = draw_staff(notes, key, most_rows=14)
    assert len(rows) <= 14
    assert max(map(len, rows)) <= 40


@pytest.mark.parametrize("key", MAJOR_KEYS, ids=str)
def test_signatures_are_drawn(key: Key) -> None:
    """Letters in the order of fifths, from memory; their steps are tested with the theory."""
    order = "FCGDAEB" if key.signature > 0 else "BEADGCF"
    signature = Reader(draw_staff([], key, most_rows=14)).signature()
    letters = [LETTERS_FROM_THE_BOTTOM_LINE[step % 7] for step in signature]
    assert "".join(letters) == order[: abs(key.signature)]
    assert set(signature.values()) <= {1 if key.signature > 0 else -1}


def test_the_dots_of_the_clef_stand_around_the_line_of_f() -> None:
    for ascii_only, dot in ((True, "."), (False, "•")):
        reader = Reader(draw_staff([], most_rows=14, ascii_only=ascii_only))
        assert [step for step in range(9) if reader.cell(step, 4) == dot] == [5, 7]
        assert staff_step(Pitch.parse("F2")) == 6


def test_low_notes_are_never_moved() -> None:
    rows = draw_staff(figure("B0 E1"), most_rows=5)
    assert [note.step for note in Reader(rows).notes()] == [-5, -2]
    assert len(rows) == 14


# Looked at and found readable; the properties above hold them against what was asked.
DRAWINGS = {
    "one note to find": (
        ("F#2::?!", "D", 14),
        """
        ╭─╮─────────
        │ │ •
        •─│───♯───●─
          │ •
        ─╱──────────
        ╱      ♯
        ────────────

        ────────────
          8
                 [?]
        """,
        """
        .-.---------
        | | .
        *-|---#---@-
          | .
        -/----------
        /      #
        ------------

        ------------
          8
                 [?]
        """,
    ),
    "fingers, accidentals, a bar line": (
        ("Eb2::4 E2::1 F2::2 F#2::3! | F2 Db2 A1 Bb1", "Eb", 14),
        """
        ╭─╮───────────────────┬────────────
        │ │ •                 │
        •─│──────────────●─♯●─┼─●──────────
          │ •  ♭   ● ♮●       │
        ─╱────────────────────┼───♭●───────
        ╱                     │
        ──────♭───────────────┼──────────●─
                ♭             │      ♮●
        ──────────────────────┴────────────
          8
                   4  1  2 [3]
        """,
        """
        .-.-------------------+------------
        | | .                 |
        *-|--------------@-#@-+-@----------
          | .  b   @ n@       |
        -/--------------------+---b@-------
        /                     |
        ------b---------------+----------@-
                b             |      n@
        ----------------------+------------
          8
                   4  1  2 [3]
        """,
    ),
    "a rhythm": (
        ("E1:1/4 A1:3/8 Bb1:1/8 B1:1/4 | C2:3/4 D2:1/4 | F2:1", "F", 14),
        """
        ╭─╮───────────────────┬───────┬───
        │ │ •                 │ │     │
        •─│──────────────┼──┼─┼─┼─────┼─○─
          │ •        │   │  │ │ │     │
        ─╱────────┼──┼───┼──┼─┼─┼───●─┼───
        ╱         │  │   │  │ │ ○·  │ │
        ──────♭───┼──┼───●─♮●─┼─────┼─┼───
                  │  ●·       │     │ │
        ──────────┼───────────┴─────┼─┴───
          8       │
                 ─●─
        """,
        """
        .-.-------------------+-------+---
        | | .                 | |     |
        *-|--------------|--|-+-|-----+-O-
          | .        |   |  | | |     |
        -/--------|--|---|--|-+-|---@-+---
        /         |  |   |  | | O.  | |
        ------b---|--|---@-n@-+-----|-+---
                  |  @.       |     | |
        ----------|-----------+-----|-+---
          8       |
                 -@-
        """,
    ),
    "high notes and a low one": (
        ("G2 B2 D3 G3! F#3 D3 G2 E1", "G", 13),
        """
                   8va╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌┐
        ╭─╮───────────────────────────────────
        │ │ •    ●          ●           ●
        •─│───♯─────────────────●─────────────
          │ •
        ─╱──────────────●───────────●─────────
        ╱
        ────────────●─────────────────────────

        ──────────────────────────────────────
          8
                                           ─●─
                            ^
        """,
        """
                   8va...............|
        .-.-----------------------------------
        | | .    @          @           @
        *-|---#-----------------@-------------
          | .
        -/--------------@-----------@---------
        /
        ------------@-------------------------

        --------------------------------------
          8
                                           -@-
                            ^
        """,
    ),
    "five strings, whole notes": (
        ("B0:1 | C1:1 | C3:1 | D#3:1/2", "", 20),
        """
                                ♯ ○
                          ─○─    ─┼─
                                  │
        ╭─╮────────┬────┬────┬────┼─
        │ │ •      │    │    │    │
        •─│────────┼────┼────┼────┼─
          │ •      │    │    │    │
        ─╱─────────┼────┼────┼────┼─
        ╱          │    │    │
        ───────────┼────┼────┼──────
                   │    │    │
        ───────────┴────┴────┴──────
          8
                ───  ───

                ───  ─○─
                 ○
        """,
        """
                                # O
                          -O-    -|-
                                  |
        .-.--------+----+----+----|-
        | | .      |    |    |    |
        *-|--------+----+----+----|-
          | .      |    |    |    |
        -/---------+----+----+----|-
        /          |    |    |
        -----------+----+----+------
                   |    |    |
        -----------+----+----+------
          8
                ---  ---

                ---  -O-
                 O
        """,
    ),
}


def undented(text: str) -> list[str]:
    return [row[8:].rstrip() for row in text.splitlines()[1:-1]]


@pytest.mark.parametrize("name", DRAWINGS)
def test_drawings_are_as_they_were_looked_at(name: str) -> None:
    (text, key_text, most_rows), fancy, plain = DRAWINGS[name]
    notes, key = figure(text), Key.parse(key_text) if key_text else None
    assert list(draw_staff(notes, key, most_rows=most_rows)) == undented(fancy)
    assert list(draw_staff(notes, key, most_rows=most_rows, ascii_only=True)) == undented(plain)


@pytest.mark.parametrize(
    ("text", "most_rows", "told"),
    [
        ("E1", 14, "Signs: 8 sounds an octave lower."),
        ("F#1 F1", 14, "Signs: 8 sounds an octave lower, n natural."),
        ("Fx1", 14, "Signs: 8 sounds an octave lower, x double sharp."),
        ("D3 G1", 11, "Signs: 8 sounds an octave lower, 8va an octave higher."),
        ("G4", 11, "Signs: 8 sounds an octave lower, 15ma two octaves higher."),
        ("E1!", 14, "Signs: 8 sounds an octave lower, ^ the note asked for."),
        ("E1::2!", 14, "Signs: 8 sounds an octave lower, [ ] the note asked for."),
    ],
)
def test_the_legend_tells_of_the_signs_there_are(text: str, most_rows: int, told: str) -> None:
    assert staff_legend(figure(text), most_rows=most_rows, ascii_only=True) == told
