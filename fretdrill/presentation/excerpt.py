"""A few notes of a line as tab, some of them asked for.

The rows are the bars, the counts, the strings (the lowest at the bottom), the names and
the fingers, of two hands if need be. The finger that the hand stands with is in brackets;
``?`` is asked for.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fretdrill.neck.neck import Neck, Place
from fretdrill.presentation.names import Names
from fretdrill.theory.line import Line


@dataclass(frozen=True, slots=True)
class Cell:
    """One note of an excerpt.

    Attributes:
        note: which note of the line, from 0.
        place: where it is taken, None where that is not told.
        finger: what stands in the row of fingers.
        other: what stands in a second row of fingers.
        named: whether its name is told.
    """

    note: int
    place: Place | None
    finger: str
    other: str = ""
    named: bool = True


def draw_excerpt(
    line: Line, neck: Neck, cells: Sequence[Cell], names: Names, hands: Sequence[str] = ("",)
) -> list[str]:
    """Return the rows of an excerpt.

    Args:
        line: the line that the notes are from.
        neck: the neck.
        cells: the notes.
        names: how notes are written.
        hands: whose fingers the rows of fingers are; one or two.
    """
    labels = {string: names.note(neck.tuning.strings[string - 1].name) for string in neck.strings}
    margin = max(map(len, (*labels.values(), "bar", *hands))) + 3
    bars, counts, named = (text.ljust(margin) for text in (" bar", "", ""))
    fingers, others = (f" {hand}".ljust(margin) for hand in (*hands, "")[:2])
    strings = {string: f" {label}".ljust(margin - 1) + "|" for string, label in labels.items()}
    shown_bar = None
    for cell in cells:
        onset = line.notes[cell.note].onset
        bar = line.bar_at(onset)
        count = bar.metre.count(onset - bar.onset + bar.start)
        name = names.note(line.notes[cell.note].pitch.name) if cell.named else ""
        fret = "" if cell.place is None else str(cell.place.fret)
        width = max(map(len, (count, name, fret, cell.finger, cell.other))) + 2
        number = "" if bar.number == shown_bar else str(bar.number)
        shown_bar = bar.number
        bars += number.ljust(width)
        counts += count.ljust(width)
        fingers += cell.finger.ljust(width)
        others += cell.other.ljust(width)
        named += name.ljust(width)
        for string in strings:
            here = cell.place is not None and cell.place.string == string
            strings[string] += (fret if here else "").ljust(width, "-")
    rows = (bars, counts, *strings.values(), named, fingers, others)
    return [row.rstrip() for row in rows if row.strip()]
