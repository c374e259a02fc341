"""The bars of an ABC voice, numbered as they are written.

The standard does not say how bars are numbered; common practice is: from 1, a pickup
not counted, the two halves of a bar that a repeat sign cuts in two together.
"""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from fretdrill.scores.abc_fragment import Fragment
from fretdrill.scores.abc_notices import Notices
from fretdrill.scores.abc_repeats import Section
from fretdrill.scores.reading import Sort
from fretdrill.theory.metre import Metre


class Place(NamedTuple):
    """How a fragment stands in its bar: the bar's number and where it begins in it."""

    number: int
    start: Fraction = Fraction(0)


class BarNumbering:
    """Numbers the bars of a voice as they are written."""

    def __init__(self, fragments: Sequence[Fragment], sections: Sequence[Section]) -> None:
        self._fragments = fragments
        self._first_of: dict[int, int] = {}
        self._lasts_of: dict[int, list[int]] = {}
        for section in sections:
            stretches = [ending for _, ending in section.endings] or [section.body]
            first = (section.body or stretches[0]).start
            self._lasts_of[first] = [stretch.stop - 1 for stretch in stretches]
            for stretch in (section.body, *stretches):
                self._first_of.update(dict.fromkeys(stretch, first))
        self._joined: set[int] = set()
        self.places = self._number()

    def faults(self, notices: Notices) -> None:
        """Notice the bars that are too short or too long for no good reason."""
        wrong = [i for i in range(len(self._fragments)) if self._is_wrong(i)]
        if not wrong:
            return
        first = self._fragments[wrong[0]]
        metre = first.metre or Metre()
        others = len(wrong) - 1
        also = {0: "", 1: ", and 1 more bar is too short or too long"}.get(
            others, f", and {others:,} more bars are too short or too long"
        )
        held = mixed(first.length / metre.beat)
        number = self.places[wrong[0]].number
        notices.add(
            Sort.CHANGED, f"bar {number} holds {held} of {metre.beats} beats{also}", first.spot
        )

    def _number(self) -> list[Place]:
        places: list[Place] = []
        number = 0
        before_endings: int | None = None
        for index, fragment in enumerate(self._fragments):
            before: int | None = index - 1 if index else None
            if fragment.endings and 1 in fragment.endings:
                before_endings = before
            elif fragment.endings:
                before = before_endings
            if before is not None and self._completes(before, index):
                if places[before].number == 0:
                    places[before], number = Place(1), 1
                places.append(Place(places[before].number, self._fragments[before].length))
                self._joined |= {before, index}
            elif index == 0 and len(self._fragments) > 1 and self._missing(0) > 0:
                places.append(Place(0, self._missing(0)))
            else:
                number += 1
                start = self._missing(index) if self._is_later_pickup(index) else Fraction(0)
                places.append(Place(number, start))
        return places

    def _missing(self, index: int) -> Fraction:
        """Return what a fragment lacks to a full bar; 0 in free metre."""
        fragment = self._fragments[index]
        return Fraction(0) if fragment.metre is None else fragment.metre.bar - fragment.length

    def _cut_between(self, before: int, index: int) -> bool:
        """Whether what stands between two fragments may cut a bar in two."""
        first, second = self._fragments[before], self._fragments[index]
        signs = first.ends or first.double or second.begins or second.endings or second.unbarred
        return bool(signs)

    def _completes(self, before: int, index: int) -> bool:
        first, second = self._fragments[before], self._fragments[index]
        whole = first.metre == second.metre and self._missing(before) == second.length
        fresh = before not in self._joined or bool(second.endings)
        return whole and second.length > 0 and fresh and self._cut_between(before, index)

    def _is_later_pickup(self, index: int) -> bool:
        """Whether a repeated section begins with a pickup that its last bar makes up for."""
        length = self._fragments[index].length
        lasts = self._lasts_of.get(index, []) if index and self._missing(index) > 0 else []
        return any(last != index and self._missing(last) == length for last in lasts)

    def _ends_section(self, index: int) -> bool:
        last = index + 1 == len(self._fragments)
        return last or self._cut_between(index, index + 1)

    def _is_wrong(self, index: int) -> bool:
        missing = self._missing(index)
        if not missing or index in self._joined or self.places[index].number == 0:
            return False
        if self.places[index].start:
            return False
        pickups = {0, self._first_of[index]} - {index}
        made_up = any(
            self._fragments[pickup].length == missing and self._missing(pickup) > 0
            for pickup in pickups
        )
        return not (made_up and self._ends_section(index))


def mixed(number: Fraction) -> str:
    """Print a number as ``"3 1/2"``."""
    whole, rest = divmod(number, 1)
    return f"{whole} {rest}" if whole and rest else str(rest or whole)
