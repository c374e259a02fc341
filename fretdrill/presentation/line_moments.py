"""Which note and bar comes when in a line, and where a cursor goes from a note.

Idea: two sorted lists of onsets, so that nothing looks through a whole line.

Notes and bars are counted from 0; a bar's written number is another thing, and may come twice
where a repeat is played out.
"""

from bisect import bisect_left, bisect_right
from fractions import Fraction

from fretdrill.theory.line import Line


class Moments:
    """The moments of a line.

    Attributes:
        line: the line.
    """

    def __init__(self, line: Line) -> None:
        self.line = line
        self._notes = [note.onset for note in line.notes]
        self._bars = [bar.onset for bar in line.bars]
        self._numbered: dict[int, list[int]] = {}
        for index, bar in enumerate(line.bars):
            self._numbered.setdefault(bar.number, []).append(index)

    def onset(self, note: int) -> Fraction:
        """Return when a note begins."""
        return self._notes[note]

    def bar_of(self, note: int) -> int:
        """Return the bar that a note begins in."""
        return max(0, bisect_right(self._bars, self._notes[note]) - 1)

    def first_from(self, onset: Fraction) -> int:
        """Return the first note that begins at a moment or later; their number if none does."""
        return bisect_left(self._notes, onset)

    def notes_of(self, bar: int) -> range:
        """Return the notes that begin in a bar; the last bar has what comes after it too."""
        last = bar + 1 == len(self._bars)
        end = len(self._notes) if last else self.first_from(self._bars[bar + 1])
        return range(self.first_from(self._bars[bar]), end)

    def next_bar(self, note: int) -> int:
        """Return the first note of a later bar; the last note if there is none."""
        bar = self.bar_of(note)
        later = self.notes_of(bar).stop
        return min(later, len(self._notes) - 1)

    def bar_before(self, note: int) -> int:
        """Return the first note of the note's bar, or of an earlier one if it is that."""
        first = self.notes_of(self.bar_of(note)).start
        return first if first < note or not note else self.notes_of(self.bar_of(note - 1)).start

    def numbered(self, number: int, after: int) -> int | None:
        """Return the first note from a bar on, by its written number.

        Args:
            number: the number; where a repeat has it twice, the next one is meant.
            after: the note from which to look.

        Returns:
            The note, None if no bar has that number.
        """
        bars = self._numbered.get(number)
        if bars is None or not self._notes:
            return None
        here = self.bar_of(after)
        bar = next((bar for bar in bars if bar > here), bars[0])
        return min(self.notes_of(bar).start, len(self._notes) - 1)

    @property
    def numbers(self) -> tuple[int, int]:
        """The lowest and the highest number of a bar; 0 and 0 without bars."""
        return min(self._numbered, default=0), max(self._numbered, default=0)
