"""Whole drawings, kept as text and looked at by eye, their proportions computed anew.

A drawing is changed on purpose by editing its file in ``drawings/`` by hand.
"""

from pathlib import Path

import pytest

from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.presentation.neck_drawing import NeckView, Role, draw_neck
from fretdrill.presentation.neck_layout import lay_out

FOLDER = Path(__file__).with_name("drawings")
FINGERS = {1: 5, 2: 6, 3: 7, 4: 8}
HAND = "V  one finger per fret, 103 mm"  # 863.6·(2^(-5/12) - 2^(-8/12)) = 103.0 mm


def fifth_position() -> tuple[str, ...]:
    """A verdict on "find every D", with a hint and the cursor for good measure."""
    view = NeckView(
        Neck(),
        marks={Place(3, 5): Role.RIGHT, Place(2, 7): Role.WRONG, Place(1, 7): Role.MISSED},
        labels={Place(3, 5): "D", Place(2, 7): "A", Place(1, 7): "D"},
        hints={Place(4, 5): "z"},
        cursor=Place(4, 8),
        fingers=FINGERS,
        hand_text=HAND,
    )
    return draw_neck(view, lay_out(view.neck, range(5, 9), 80)).lines


def five_strings_left_handed() -> tuple[str, ...]:
    view = NeckView(
        Neck(Tuning.parse("5-string")),
        marks={Place(3, 6): Role.RIGHT, Place(1, 8): Role.WRONG, Place(5, 0): Role.CHOSEN},
        labels={Place(3, 6): "E♭", Place(1, 8): "E♭"},
        hints={Place(5, 5): "Z"},
        cursor=Place(2, 12),
        fingers=FINGERS,
        hand_text=HAND,
    )
    return draw_neck(view, lay_out(view.neck, range(5, 9), 80, mirrored=True)).lines


def whole_neck_in_ascii() -> tuple[str, ...]:
    neck = Neck()
    asked = {Place(2, 14): Role.ASKED, Place(4, 24): Role.MISSED, Place(1, 0): Role.CHOSEN}
    view = NeckView(neck, marks=asked)
    return draw_neck(view, lay_out(neck, range(25), 120), ascii_only=True).lines


CASES = {
    "fifth-position-80": fifth_position,
    "five-strings-left-handed-80": five_strings_left_handed,
    "whole-neck-ascii-120": whole_neck_in_ascii,
}


@pytest.mark.parametrize("name", CASES)
def test_drawing_is_as_kept(name: str) -> None:
    kept = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    assert list(CASES[name]()) == kept


@pytest.mark.parametrize(
    ("name", "columns", "frets", "mirrored"),
    [
        ("fifth-position-80", 80, 12, False),
        ("five-strings-left-handed-80", 80, 12, True),
        ("whole-neck-ascii-120", 120, 24, False),
    ],
)
def test_kept_drawing_has_its_frets_in_true_proportion(
    name: str, columns: int, frets: int, mirrored: bool
) -> None:
    """D = L·(1 - 2^(-n/12)) (R. Leirer, American Lutherie 96, 2008), to half a column."""
    lines = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    a_string = next(line.ljust(columns) for line in lines if "D " in line[:4] or "  D" in line[-4:])
    if mirrored:
        a_string = a_string[::-1]
    nut = 5
    wires = [at for at, sign in enumerate(a_string) if sign in "┼┿|"]
    shares = [1 - 2 ** (-n / 12) for n in range(1, frets + 1)]
    scale = (columns - 1 - nut) / shares[-1]
    assert wires == [round(nut + scale * share) for share in shares]


def test_the_span_in_the_drawings_is_that_of_a_34_inch_scale() -> None:
    assert round(34 * 25.4 * (2 ** (-5 / 12) - 2 ** (-8 / 12))) == 103
