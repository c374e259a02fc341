"""Which column each fret gets.

Idea: frets are spaced as on the real neck, d = L·(1 - 2^(-n/12)), scaled to the
columns there are and rounded to whole ones: no wire is further than half a column
from its true place. A fret space is never drawn narrower than two columns (its wire
and one sign); where the true one is, it is given two, and the wider ones share what
is left in proportion: then a wire may be up to three columns from its true place.
Too many frets for the width are shown in pages.

Columns count from 0 at the string names. A mirrored layout, for left-handed
players, counts from the other end.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fretdrill.neck.neck import Neck

MARGIN = 6  # two columns for the name of the string, three for its open note, one for the nut
NAME_COLUMNS = range(2)
OPEN_COLUMNS = range(2, 5)
NUT_COLUMN = 5
LEAST_CELL = 2
LEAST_TRUE_CELL = 1.4  # columns; below this the picture would be too far from true
WORKING_FRETS = 12  # shown even when a drill needs fewer


@dataclass(frozen=True)
class NeckLayout:
    """Columns of one stretch of a neck.

    Attributes:
        first_fret, last_fret: the fret spaces shown, 1 or more.
        wires: column of the wire at the far end of each fret space.
        mirrored: whether column 0 is at the right.
    """

    first_fret: int
    last_fret: int
    wires: tuple[int, ...]
    mirrored: bool = False

    @property
    def width(self) -> int:
        """Columns in all."""
        return self.wires[-1] + 1

    def cell(self, fret: int) -> range:
        """Return the columns between a fret's wires, or of the open string."""
        if fret == 0:
            return OPEN_COLUMNS
        index = fret - self.first_fret
        start = self.wires[index - 1] if index else NUT_COLUMN
        return range(start + 1, self.wires[index])

    def center(self, fret: int) -> int:
        """Return the column of a fret's middle."""
        columns = self.cell(fret)
        return columns[len(columns) // 2]

    def shows(self, fret: int) -> bool:
        """Whether a fret (0 = open) is on this stretch."""
        return fret == 0 or self.first_fret <= fret <= self.last_fret

    def shown_column(self, column: int) -> int:
        """Return where a column is on screen, or which one is there."""
        return self.width - 1 - column if self.mirrored else column

    def fret_at(self, shown_column: int) -> int | None:
        """Return the fret under a column of the screen, 0 for the open string."""
        column = self.shown_column(shown_column)
        if not 0 <= column < self.width:
            return None
        if column <= NUT_COLUMN:
            return 0
        return next(
            self.first_fret + index for index, wire in enumerate(self.wires) if column <= wire
        )


def lay_out(
    neck: Neck,
    wanted: Sequence[int],
    columns: int,
    *,
    focus: int = 0,
    mirrored: bool = False,
) -> NeckLayout:
    """Lay a neck out.

    Args:
        neck: the neck.
        wanted: the frets that a drill is about.
        columns: columns there are.
        focus: a fret that has to be seen, where not all can be.
        mirrored: draw it for a left-handed player.
    """
    last = wanted[-1] if wanted else 0
    for last_fret in (min(max(last, WORKING_FRETS), neck.frets), max(last, 1)):
        if _fits(neck, 1, last_fret, columns):
            return _spread(neck, 1, last_fret, columns, mirrored)
    first_fret, last_fret = _page(neck, max(last, 1), columns, focus)
    return _spread(neck, first_fret, last_fret, columns, mirrored)


def _page(neck: Neck, last: int, columns: int, focus: int) -> tuple[int, int]:
    """Return the first page of frets, from the nut, that shows the focus."""
    first = 1
    while True:
        end = first
        while end < last and _fits(neck, first, end + 1, columns):
            end += 1
        if end >= last or focus <= end:
            break
        first = max(first + 1, end - 2)  # pages overlap by three frets, for orientation
    while first > 1 and _fits(neck, first - 1, end, columns):
        first -= 1
    return first, end


def _fits(neck: Neck, first: int, last: int, columns: int) -> bool:
    narrowest = neck.span_mm(last - 1, last)
    scale = (columns - MARGIN) / neck.span_mm(first - 1, last)
    return narrowest * scale >= LEAST_TRUE_CELL and columns - MARGIN >= LEAST_CELL * (
        last - first + 1
    )


def _spread(neck: Neck, first: int, last: int, columns: int, mirrored: bool) -> NeckLayout:
    frets = range(first, last + 1)
    spaces = {fret: neck.span_mm(fret - 1, fret) for fret in frets}
    room = max(columns - MARGIN, LEAST_CELL * len(frets))
    narrow: set[int] = set()
    while True:
        wide = [fret for fret in frets if fret not in narrow]
        left = room - LEAST_CELL * len(narrow)
        scale = left / sum(spaces[fret] for fret in wide) if wide else 0.0
        too_narrow = {fret for fret in wide if spaces[fret] * scale < LEAST_CELL}
        if not too_narrow:
            break
        narrow |= too_narrow
    wires = []
    reached = 0.0
    for fret in frets:
        reached += LEAST_CELL if fret in narrow else spaces[fret] * scale
        wires.append(NUT_COLUMN + round(reached))
    return NeckLayout(first, last, tuple(wires), mirrored)
