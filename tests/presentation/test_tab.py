"""Tabs of small lines, drawn by hand."""

import random
import re

import pytest

from fretdrill.hand.cost import CostModel
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab import LEAST_WIDTH, draw_tab
from tests.hand.lines import HAND, planned, settled_plan

# String, fret, finger, position.
G = (4, 3, 1, 3)
C = (3, 3, 1, 3)
D = (3, 5, 4, 3)
OPEN_A = (3, 0, 0, 3)
C_HIGH = (4, 8, 1, 8)


def drawn(music, *hands, width=80, **header):
    return draw_tab(settled_plan(music, *hands, **header), Names(), width)


def systems(rows):
    """Split rows into systems: seven rows each, with a blank one between."""
    return [rows[i : i + 8][:8] for i in range(0, len(rows), 9)]


DRAWINGS = {
    "eighths": (
        ("G,,,C,,D,,C,,G,,,2C,,2", (G, C, D, C, G, C), {"unit": "1/8"}),
        """
              1
              1    &  2  &  3   4
          G |-----------------------|
          D |-----------------------|
          A |------3--5--3------3---|
          E |-3-------------3-------|
              1    1  4  1  1   1
              III
        """,
    ),
    "sixteenths, then a long note": (
        ("G,,,/C,,/D,,/C,,/ G,,,6", (G, C, D, C, G), {"unit": "1/8"}),
        """
              1
              1   e & a 2   (3)   (4)
          G |---------------------------|
          D |---------------------------|
          A |-----3-5-3-----------------|
          E |-3---------3---------------|
              1   1 4 1 1
              III
        """,
    ),
    "triplets": (
        ("(3G,,,C,,D,, G,,,6", (G, C, D, G), {"unit": "1/8"}),
        """
              1
              1   trip let 2   (3)   (4)
          G |------------------------------|
          D |------------------------------|
          A |-----3----5-------------------|
          E |-3------------3---------------|
              1   1    4   1
              III
        """,
    ),
    "six eight, a note tied over the bar": (
        ("G,,,C,,D,,G,,,3|G,,,6-|G,,,6", (G, C, D, G, G), {"unit": "1/8", "metre": "6/8"}),
        """
              1                         2
              1    2  3  4  (5)  (6)    1  (2)  (3)  (4)  (5)  (6)
          G |-------------------------|-----------------------------|
          D |-------------------------|-----------------------------|
          A |------3--5---------------|-----------------------------|
          E |-3----------3------------|-3---------------------------|
              1    1  4  1              1
              III

              3
              (1)  (2)  (3)  (4)  (5)  (6)
          G |-------------------------------|
          D |-------------------------------|
          A |-------------------------------|
          E |-------------------------------|


        """,
    ),
    "a pickup, rests": (
        ("D,,|G,,,2z2|z4|", (D, G), {}),
        """
              0       1                       2
              4       1   (2)   (3)   (4)     (1)   (2)   (3)   (4)
          G |-------|-----------------------|-------------------------|
          D |-------|-----------------------|-------------------------|
          A |-5-----|-----------------------|-------------------------|
          E |-------|-3---------------------|-------------------------|
              4       1
              III
        """,
    ),
    "hammer-on, pull-off, slides, moves up and back": (
        (
            "(C,,D,,C,,)A,,,|(G,,,C,,)(C,,G,,,)|",
            (C, D, C, OPEN_A, G, C_HIGH, C_HIGH, G),
            {},
        ),
        """
              1                    2
              1     2    3   4     1    2      3    4
          G |--------------------|------------------------|
          D |--------------------|------------------------|
          A |-3h----5p---3---0---|------------------------|
          E |--------------------|-3/---8------8\\---3-----|
              1     4    1   0     1    1      1    1
              III                  >    VIII   <    III
        """,
    ),
    "staccato, tenuto, accent": (
        (".G,,,!tenuto!C,,!>!D,,.!>!C,,", (G, C, D, C), {}),
        """
              1
              1     2    3    4
          G |-----------------------|
          D |-----------------------|
          A |-------3----5----3-----|
          E |-3---------------------|
              1.    1_   4^   1.^
              III
        """,
    ),
}


def undented(text):
    rows = [row[9:] for row in text.splitlines()[1:-1]]
    return [row.rstrip() for row in rows]


@pytest.mark.parametrize("name", DRAWINGS)
def test_drawn_by_hand(name):
    (music, hands, header), expected = DRAWINGS[name]
    assert drawn(music, *hands, **header) == undented(expected)


def test_bars_that_do_not_fit_go_to_the_next_row():
    music, hands = "G,,,C,,D,,C,,|C,,2C,,2|G,,,4", (G, C, D, C, C, C, G)
    wide = [row.split() for row in drawn(music, *hands, width=80)]
    assert wide[0] == ["1", "2", "3"]
    one, two, three = systems(drawn(music, *hands, width=36))
    assert [rows[0].strip() for rows in (one, two, three)] == ["1", "2", "3"]
    assert one[4] == " A |-------3---5---3---|"
    assert two[1].split() == ["1", "(2)", "3", "(4)"]
    assert two[6].split() == ["1", "1"]
    assert two[7] == ""  # the hand stays where it was


def test_a_bar_wider_than_the_window_is_broken():
    rows = drawn("G,,,C,,D,,C,,C,,D,,G,,,C,,", G, C, D, C, C, D, G, C, unit="1/8", width=20)
    one, two = systems(rows)
    assert one[0].strip() == "1"
    assert two[0] == ""
    assert one[1].split() + two[1].split() == "1 & 2 & 3 & 4 &".split()
    assert one[4] == " A |------3--5--3--3--|"
    assert two[4:6] == [" A |-5-----3--|", " E |----3-----|"]
    assert max(map(len, rows)) <= LEAST_WIDTH


PITCHES = ["E,,,", "G,,,", "A,,,", "^C,,", "D,,", "F,,", "^G,,", "_B,,", "E,", "G,", "C", "F"]
METRES = {"4/4": 8, "3/4": 6, "6/8": 6, "12/8": 12, "7/8": 7, "2/2": 8}


@pytest.mark.parametrize("metre", METRES)
@pytest.mark.parametrize("seed", range(4))
def test_rows_of_any_line_fit_and_stand_below_each_other(metre, seed):
    rng = random.Random(seed)
    bars = []
    for _ in range(6):
        left, bar = 2 * METRES[metre], ""
        while left:
            length = min(left, rng.choice((1, 1, 2, 2, 3, 4, 8)))
            bar += f"{rng.choice([*PITCHES, 'z'])}{length}"
            left -= length
        bars.append(bar)
    plan = planned(
        "E,,,2" + "|".join(["", *bars]), metre=metre, unit="1/16", bpm=rng.choice((60, 200))
    )
    for width in (0, 24, 37, 60, 80, 200):
        rows = draw_tab(plan, Names(ascii_only=True), width)
        assert "\n".join(rows).isascii()
        assert max(map(len, rows)) <= max(width, LEAST_WIDTH)
        found = systems(rows)
        for system in found:
            strings = system[2:6]
            assert [row[:4] for row in strings] == [" G |", " D |", " A |", " E |"]
            assert len(set(map(len, strings))) == 1
            bar_lines = [[m.start() for m in re.finditer(r"\|", row)] for row in strings]
            assert all(lines == bar_lines[0] for lines in bar_lines)
            assert all(len(row) <= len(strings[0]) for row in system)
        frets = [f for s in found for row in s[2:6] for f in re.findall(r"\d+", row)]
        assert sorted(frets) == sorted(str(state.fret) for state in plan.states)
        fingers = [f.rstrip("+-") for system in found for f in system[6].split()]
        assert fingers == [str(state.finger) for state in plan.states]


def test_strings_are_named_and_flats_are_plain_where_asked():
    neck = Neck(Tuning.parse("Eb1 Ab1 Db2 Gb2"))
    plan = planned("A,,,4", model=CostModel(neck, HAND))
    fancy = draw_tab(plan, Names(), 80)
    plain = draw_tab(plan, Names(ascii_only=True), 80)
    assert [row[:4] for row in fancy[2:6]] == [" G♭ ", " D♭ ", " A♭ ", " E♭ "]
    assert [row[:5] for row in plain[2:6]] == [" Gb |", " Db |", " Ab |", " Eb |"]
    assert "\n".join(plain).isascii()


def test_six_strings_are_six_rows():
    plan = planned("A,,,4", model=CostModel(Neck(Tuning.parse("6-string")), HAND))
    assert [row[1] for row in draw_tab(plan, Names(), 80)[2:8]] == list("CGDAEB")
