"""Rows of the line screen, shared out; and the keys that its bottom line tells.

That every row of tab and neck is seen is counted here from the strings: a tab has six rows
beside them, a neck four, see :mod:`fretdrill.presentation.tab_systems` and the neck's drawing.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.tui.commands import Command
from fretdrill.tui.line_keys import keys_that_fit
from fretdrill.tui.line_layout import arrange

LEAST = (56, 16)

windows = st.tuples(st.integers(LEAST[0], 200), st.integers(LEAST[1], 80))
kinds = st.sampled_from([(False, False), (True, False), (True, True)])


@given(windows, st.integers(1, 10), kinds, st.booleans())
def test_what_is_seen_fits_the_window(window, strings, kind, turned):
    columns, rows = window
    wide, ahead = kind
    seen = arrange(columns, rows, strings, wide=wide, ahead=ahead, turned=turned)
    assert seen.neck or seen.panel
    assert 4 <= seen.panel_rows <= 9
    if seen.neck and seen.panel:  # all of the tab but one row, which can be left out
        tab = strings + 5 + 4 * ahead
        assert 2 + tab + strings + 4 + seen.panel_rows <= rows


@given(windows, st.integers(1, 10), kinds)
def test_the_neck_can_be_had_and_given_away_everywhere(window, strings, kind):
    wide, ahead = kind
    both = {
        arrange(*window, strings, wide=wide, ahead=ahead, turned=turned).neck
        for turned in (False, True)
    }
    assert both == {False, True}


@pytest.mark.parametrize(
    ("window", "strings", "neck"),
    [((80, 24), 4, True), ((80, 24), 6, False), ((60, 18), 4, False), ((120, 40), 6, True)],
)
def test_choices_have_the_neck_beside_them_where_there_is_room(window, strings, neck):
    assert arrange(*window, strings, wide=False, ahead=False, turned=False).neck is neck


def key(name: str, label: str) -> tuple[str, Command]:
    return name[0], Command(name, name[0], label, "Does it.", name)


KEYS = [key("one", "First"), key("two", "Second"), key("three", "Third")]


@pytest.mark.parametrize(
    ("columns", "left"),
    [
        (26, ["one", "two", "three"]),  # "o First  t Second  t Third" has 26 signs
        (25, ["one", "three"]),
        (16, ["one", "three"]),
        (15, ["three"]),
        (1, ["three"]),  # what is not to spare is told in any case
    ],
)
def test_keys_are_left_out_one_by_one_until_the_rest_fits(columns, left):
    shown = keys_that_fit(KEYS, columns, ("two", "one"))
    assert [command.id for _, command in shown] == left
