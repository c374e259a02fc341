"""How the line screen shares its rows out between tab, neck and panel."""

from typing import NamedTuple

TAB_ROWS, NECK_ROWS = 6, 4  # beside the strings
AHEAD_ROWS = 4  # of fingers, under the tab
OTHER_ROWS = 2  # the heading and the keys
TAB_TO_SPARE = 1  # rows that the tab leaves out where there is little room
LEAST_PANEL, MOST_PANEL = 4, 9
NARROW_COLUMNS = 76  # below this a reason stands under the choices, not beside them
NARROW_REASON_ROWS = 3
TALL_ROWS = 30  # from here up a wide panel leaves room for the neck


class Arrangement(NamedTuple):
    """What is seen, and how many rows the panel has.

    Attributes:
        neck: whether the neck is seen.
        panel: whether the panel is.
        panel_rows: its rows.
        narrow: whether the panel's two parts stand one under the other.
    """

    neck: bool
    panel: bool
    panel_rows: int
    narrow: bool


def arrange(
    columns: int, rows: int, strings: int, *, wide: bool, ahead: bool, turned: bool
) -> Arrangement:
    """Share the rows of a window out; the tab has what is left.

    Args:
        columns: the window's.
        rows: the window's.
        strings: of the instrument.
        wide: whether the panel takes the whole width, and would rather have the neck's room.
        ahead: whether the tab has the rows of who sees only so far.
        turned: whether the player wants the neck where there is none, or none where there is.
    """
    narrow = columns < NARROW_COLUMNS
    least = LEAST_PANEL + (narrow and not wide)
    free = rows - OTHER_ROWS - strings - TAB_ROWS - AHEAD_ROWS * ahead
    neck_rows = strings + NECK_ROWS
    both = free + TAB_TO_SPARE - neck_rows >= least and not (wide and rows < TALL_ROWS)
    neck = both != turned
    left = free - neck_rows if neck else free
    return Arrangement(neck, both or not neck, min(MOST_PANEL, max(least, left)), narrow)
