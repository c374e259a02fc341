"""The drawn neck: signs at their places, whichever way it is drawn."""

import re
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.presentation.neck_drawing import Drawing, NeckView, Role, draw_neck
from fretdrill.presentation.neck_layout import lay_out

TUNINGS = ("4-string", "5-string", "6-string")
WIRES = "┼┿"
# Dots of a bass neck: common practice, no source.
SINGLE, DOUBLE = {3, 5, 7, 9, 15, 17, 19, 21}, {12, 24}


def drawn(
    tuning: str = "4-string",
    frets: int = 24,
    columns: int = 80,
    *,
    wanted: range | None = None,
    mirrored: bool = False,
    ascii_only: bool = False,
    spread: bool = False,
    **view: object,
) -> Drawing:
    neck = Neck(Tuning.parse(tuning), frets)
    wanted = range(frets + 1) if wanted is None else wanted
    layout = lay_out(neck, wanted, columns, mirrored=mirrored)
    shown = NeckView(neck, **view)  # type: ignore[arg-type]
    return draw_neck(shown, layout, ascii_only=ascii_only, spread=spread)


def text_rows(drawing: Drawing) -> list[str]:
    return ["".join(span.text for span in row) for row in drawing.rows]


def frets_shown(drawing: Drawing) -> range:
    return range(drawing.layout.first_fret, drawing.layout.last_fret + 1)


def on_screen(drawing: Drawing, fret: int) -> range:
    """Columns of the screen between a fret's wires, left to right."""
    layout = drawing.layout
    index = fret - layout.first_fret
    left = layout.wires[index - 1] + 1 if index else 6
    right = layout.wires[index]
    if layout.mirrored:
        return range(layout.width - right, layout.width - left)
    return range(left, right)


def cell(drawing: Drawing, row: int, fret: int) -> str:
    columns = on_screen(drawing, fret)
    return text_rows(drawing)[row][columns.start : columns.stop]


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("mirrored", [False, True])
def test_every_string_row_has_a_wire_for_each_fret(tuning: str, mirrored: bool) -> None:
    for frets in range(12, 37):
        for columns in (40, 60, 80, 120, 200):
            drawing = drawn(tuning, frets, columns, mirrored=mirrored)
            rows = text_rows(drawing)
            assert sorted(drawing.string_rows) == list(range(1, len(drawing.string_rows) + 1))
            for row in drawing.string_rows.values():
                assert sum(rows[row].count(sign) for sign in WIRES) == len(frets_shown(drawing))


@pytest.mark.parametrize("columns", range(40, 201, 7))
def test_all_rows_are_equally_wide_and_fit(columns: int) -> None:
    for tuning in TUNINGS:
        rows = text_rows(drawn(tuning, columns=columns))
        assert len({len(row) for row in rows}) == 1
        assert len(rows[0]) <= columns


@pytest.mark.parametrize(
    ("tuning", "names"),
    [("4-string", "GDAE"), ("5-string", "GDAEB"), ("6-string", "CGDAEB")],
)
@pytest.mark.parametrize("spread", [False, True])
def test_lowest_string_is_at_the_bottom(tuning: str, names: str, spread: bool) -> None:
    drawing = drawn(tuning, spread=spread)
    rows = text_rows(drawing)
    by_row = sorted((row, string) for string, row in drawing.string_rows.items())
    assert [string for _, string in by_row] == list(range(1, len(names) + 1))
    assert "".join(rows[row][0] for row, _ in by_row) == names


def test_a_string_tuned_to_a_flat_keeps_its_whole_name() -> None:
    tuning = "Bb0 Eb1 Ab1 Db2"
    assert [line[:2] for line in drawn(tuning).lines[1:5]] == ["D♭", "A♭", "E♭", "B♭"]
    mirrored = drawn(tuning, mirrored=True)
    assert [line[-2:] for line in mirrored.lines[1:5]] == ["D♭", "A♭", "E♭", "B♭"]
    assert [line[:2] for line in drawn(tuning, ascii_only=True).lines[1:5]] == [
        "Db",
        "Ab",
        "Eb",
        "Bb",
    ]


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_long_string_name_leaves_the_open_note_its_column(mirrored: bool) -> None:
    drawing = drawn(
        "Bb0 Eb1 Ab1 Db2", mirrored=mirrored, marks=dict.fromkeys([Place(4, 0)], Role.CHOSEN)
    )
    row = text_rows(drawing)[drawing.string_rows[4]]
    assert (row[-6:] if mirrored else row[:6]) == ("║ ● B♭" if mirrored else "B♭ ● ║")


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("columns", [80, 120, 200])
def test_dots_lie_under_the_frets_of_a_real_neck(columns: int, mirrored: bool) -> None:
    drawing = drawn(columns=columns, mirrored=mirrored)
    row = max(drawing.string_rows.values()) + 1
    for fret in frets_shown(drawing):
        wide = len(on_screen(drawing, fret)) > 1
        wanted = 1 if fret in SINGLE else (1 + wide) * (fret in DOUBLE)
        space = cell(drawing, row, fret)
        assert space.count("•") == wanted, fret
        left, right = len(space) - len(space.lstrip()), len(space) - len(space.rstrip())
        assert not wanted or abs(left - right) <= 1, fret
    assert text_rows(drawing)[row].count("•") == sum(
        cell(drawing, row, fret).count("•") for fret in frets_shown(drawing)
    )


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("columns", [56, 80, 120, 200])
def test_a_fret_number_stands_in_its_own_fret(columns: int, mirrored: bool) -> None:
    drawing = drawn(columns=columns, mirrored=mirrored)
    numbers = text_rows(drawing)[0]
    written = [(match.span(), int(match[0])) for match in re.finditer(r"\d+", numbers)]
    assert [fret for _, fret in written] == sorted((f for _, f in written), reverse=mirrored)
    for (start, end), fret in written:
        columns_of_fret = on_screen(drawing, fret)
        wires_too = range(columns_of_fret.start - 1, columns_of_fret.stop + 1)
        assert start in wires_too, fret
        assert end - 1 in wires_too, fret


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_numbers_of_dotted_frets_are_never_left_out(mirrored: bool) -> None:
    for columns in (76, 80, 90, 120, 200):
        drawing = drawn(columns=columns, mirrored=mirrored)
        written = {int(number) for number in text_rows(drawing)[0].split()}
        assert (SINGLE | DOUBLE) & set(frets_shown(drawing)) <= written


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("columns", [60, 80, 120])
def test_fingers_rest_under_their_frets(columns: int, mirrored: bool) -> None:
    fingers = {1: 5, 2: 6, 3: 7, 4: 8}
    text = "V  one finger per fret, 103 mm"
    drawing = drawn(
        columns=columns, wanted=range(5, 9), mirrored=mirrored, fingers=fingers, hand_text=text
    )
    row = max(drawing.string_rows.values()) + 2
    for finger, fret in fingers.items():
        assert cell(drawing, row, fret).strip() == str(finger)
    assert sorted(text_rows(drawing)[row].split()) == ["1", "2", "3", "4"]
    assert drawing.lines[row + 1].strip() == text


def test_there_is_no_hand_row_without_a_hand() -> None:
    assert len(drawn().rows) == 1 + 4 + 1
    assert len(drawn(fingers={1: 5}, hand_text="V").rows) == 1 + 4 + 1 + 2


SIGNS = {
    False: {
        Role.CHOSEN: "●",
        Role.ASKED: "?",
        Role.RIGHT: "●",
        Role.WRONG: "✗",
        Role.MISSED: "○",
    },
    True: {
        Role.CHOSEN: "@",
        Role.ASKED: "?",
        Role.RIGHT: "@",
        Role.WRONG: "X",
        Role.MISSED: "o",
    },
}


@pytest.mark.parametrize("role", list(SIGNS[False]))
@pytest.mark.parametrize("ascii_only", [False, True])
@pytest.mark.parametrize("mirrored", [False, True])
def test_a_mark_stands_at_its_place_and_nowhere_else(
    role: Role, ascii_only: bool, mirrored: bool
) -> None:
    sign = SIGNS[ascii_only][role]
    bare = text_rows(drawn(ascii_only=ascii_only, mirrored=mirrored))
    for place in Neck().places:
        drawing = drawn(ascii_only=ascii_only, mirrored=mirrored, marks={place: role})
        rows = text_rows(drawing)
        changed = [
            (row, column)
            for row, (old, new) in enumerate(zip(bare, rows, strict=True))
            for column, (a, b) in enumerate(zip(old, new, strict=True))
            if a != b
        ]
        assert len(changed) == 1
        (row, column), *_ = changed
        assert rows[row][column] == sign
        assert drawing.place_at(column, row) == place
        spans = [span for line in drawing.rows for span in line if span.role is role]
        assert [span.text for span in spans] == [sign]


def test_signs_alone_tell_right_wrong_and_missed_apart() -> None:
    for signs in SIGNS.values():
        assert len({signs[Role.RIGHT], signs[Role.WRONG], signs[Role.MISSED]}) == 3


@pytest.mark.parametrize("mirrored", [False, True])
def test_labels_hints_and_cursor_read_forward_in_their_own_fret(mirrored: bool) -> None:
    drawing = drawn(
        columns=100,
        wanted=range(1, 13),
        mirrored=mirrored,
        marks={Place(3, 6): Role.RIGHT, Place(2, 3): Role.WRONG},
        labels={Place(3, 6): "E♭"},
        hints={Place(4, 5): "z", Place(2, 3): "q"},
        cursor=Place(1, 8),
    )
    rows = drawing.string_rows
    assert cell(drawing, rows[3], 6).strip("━") == "●E♭"
    assert cell(drawing, rows[4], 5).strip("━") == "‹z›"
    assert cell(drawing, rows[2], 3).strip("─") == "✗"  # a mark covers a hint
    assert cell(drawing, rows[1], 8).strip("─") == "[ ]"


@pytest.mark.parametrize("ascii_only", [False, True])
@pytest.mark.parametrize("mirrored", [False, True])
def test_a_hint_has_brackets_where_five_columns_leave_room(
    mirrored: bool, ascii_only: bool
) -> None:
    key, line = ("<z>", "=") if ascii_only else ("‹z›", "━")
    widths = set()
    for fret in range(1, 25):
        for columns in (80, 120, 160):
            drawing = drawn(
                columns=columns,
                mirrored=mirrored,
                ascii_only=ascii_only,
                hints={Place(4, fret): "z"},
            )
            width = len(on_screen(drawing, fret))
            widths.add(width)
            drawn_key = cell(drawing, drawing.string_rows[4], fret).strip(line)
            assert drawn_key == (key if width >= 5 else "z"), (fret, columns)
    assert widths >= {3, 4, 5, 6}


def test_a_label_gives_way_where_there_is_no_room() -> None:
    drawing = drawn(marks={Place(4, 24): Role.RIGHT}, labels={Place(4, 24): "E"})
    assert len(on_screen(drawing, 24)) == 1
    assert cell(drawing, drawing.string_rows[4], 24) == "●"


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_cursor_shows_without_colour_at_every_place(mirrored: bool) -> None:
    """A cell of one column has no room for brackets: there the line is broken."""
    bare = text_rows(drawn(mirrored=mirrored))
    for place in Neck().places:
        if place.fret == 0:
            continue  # there is no line at an open string's column
        drawing = drawn(mirrored=mirrored, cursor=place)
        row = drawing.string_rows[place.string]
        assert text_rows(drawing)[row] != bare[row]
        others = [r for r in drawing.string_rows.values() if r != row]
        assert all(text_rows(drawing)[r] == bare[r] for r in others)


@settings(max_examples=60)
@given(
    tuning=st.sampled_from(TUNINGS),
    frets=st.integers(12, 36),
    columns=st.integers(40, 200),
    mirrored=st.booleans(),
    spread=st.booleans(),
)
def test_place_at_inverts_for_every_place(
    tuning: str, frets: int, columns: int, mirrored: bool, spread: bool
) -> None:
    drawing = drawn(tuning, frets, columns, mirrored=mirrored, spread=spread)
    width = drawing.layout.width
    for string, row in drawing.string_rows.items():
        for fret in frets_shown(drawing):
            for column in on_screen(drawing, fret):
                assert drawing.place_at(column, row) == Place(string, fret)
        nut_side = range(width - 4, width) if mirrored else range(4)
        assert {drawing.place_at(column, row) for column in nut_side} == {Place(string, 0)}
    for row in set(range(len(drawing.rows))) - set(drawing.string_rows.values()):
        assert {drawing.place_at(column, row) for column in range(width)} == {None}


@pytest.mark.parametrize("tuning", [*TUNINGS, "Bb0 Eb1 Ab1 Db2", "drop-d", "guitar"])
@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("spread", [False, True])
def test_ascii_drawing_is_pure_ascii(tuning: str, mirrored: bool, spread: bool) -> None:
    roles = [role for role in SIGNS[True] for _ in range(3)]
    neck = Neck(Tuning.parse(tuning))
    marks = dict(zip(neck.places[3:], roles, strict=False))
    for columns in (40, 80, 160):
        drawing = drawn(
            tuning,
            columns=columns,
            ascii_only=True,
            mirrored=mirrored,
            spread=spread,
            marks=marks,
            labels=dict.fromkeys(marks, "Eb"),
            fingers={1: 1, 2: 2, 4: 3},
            hand_text="I  1-2-4, 93 mm",
            cursor=Place(1, 1),
        )
        assert all(row.isascii() for row in text_rows(drawing))


def tokens(drawing: Drawing, row: int) -> list[str]:
    return text_rows(drawing)[row].split()


@pytest.mark.parametrize("columns", [60, 80, 120, 200])
def test_mirrored_drawing_is_the_mirror_in_place_order(columns: int) -> None:
    marks = {Place(3, 5): Role.RIGHT, Place(1, 7): Role.MISSED, Place(4, 3): Role.WRONG}
    view = {"marks": marks, "fingers": {1: 5, 2: 6, 3: 7, 4: 8}, "hand_text": "V  three, four"}
    plain = drawn(columns=columns, wanted=range(1, 13), **view)
    mirror = drawn(columns=columns, wanted=range(1, 13), mirrored=True, **view)
    assert plain.string_rows == mirror.string_rows
    width = plain.layout.width
    for row in plain.string_rows.values():
        here = [plain.place_at(column, row) for column in range(width)]
        there = [mirror.place_at(column, row) for column in range(width)]
        assert there == here[::-1]
        assert text_rows(mirror)[row][:-4] == text_rows(plain)[row][4:][::-1]
    hand = max(plain.string_rows.values()) + 2
    assert tokens(mirror, 0) == tokens(plain, 0)[::-1]
    assert tokens(mirror, hand) == tokens(plain, hand)[::-1]
    assert mirror.lines[hand + 1].strip() == plain.lines[hand + 1].strip() == "V  three, four"


def test_far_pages_are_bounded_by_a_dotted_line_instead_of_the_nut() -> None:
    neck = Neck(frets=36)
    layout = lay_out(neck, range(37), 60, focus=36)
    assert layout.first_fret > 1
    rows = text_rows(draw_neck(NeckView(neck), layout))
    assert all(row[5] == "┊" for row in rows[1:5])


def test_spread_strings_have_a_row_between_them() -> None:
    drawing = drawn(spread=True)
    rows = sorted(drawing.string_rows.values())
    assert [b - a for a, b in pairwise(rows)] == [2, 2, 2]
    for row in (rows[0] + 1, rows[1] + 1, rows[2] + 1):
        assert text_rows(drawing)[row].count("│") == len(frets_shown(drawing))
