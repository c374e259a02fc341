"""Metre: how long a bar is and how its places are counted.

Conventions: lengths and places are exact fractions of a whole note. A place in a
bar is counted as players do aloud (common practice, no source): quarters
``1 2 3 4``, halves of them ``&``, quarters of them ``e & a``, thirds ``trip let``.
Where the lower number is 8 the eighths are what is counted: ``1 2 3 4 5 6``.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from fretdrill.errors import InputError

MAX_BEATS = 64
UNITS = (1, 2, 4, 8, 16, 32, 64)

_METRE = re.compile(r"\(?(\d{1,2}(?:\+\d{1,2})*)\)?/(\d{1,2})")
_SYLLABLES = {
    Fraction(1, 4): "e",
    Fraction(1, 3): "trip",
    Fraction(1, 2): "&",
    Fraction(2, 3): "let",
    Fraction(3, 4): "a",
}
"""Fraction of a counted beat → what is said there."""


@dataclass(frozen=True, slots=True)
class Metre:
    """A time signature.

    Attributes:
        beats: the upper number.
        unit: the lower number: 4 for quarters, 8 for eighths.
    """

    beats: int = 4
    unit: int = 4

    def __post_init__(self) -> None:
        if not 1 <= self.beats <= MAX_BEATS or self.unit not in UNITS:
            raise InputError(f"there is no metre {self.beats}/{self.unit}")

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read ``"4/4"``, ``"C"``, ``"C|"`` or ``"(2+3)/8"``.

        Raises:
            InputError: the text is not a metre.
        """
        written = {"C": "4/4", "C|": "2/2"}.get(text.strip(), text.replace(" ", ""))
        match = _METRE.fullmatch(written)
        if match is None:
            raise InputError(f"'{text}' is not a metre such as 4/4 or 6/8")
        return cls(sum(map(int, match[1].split("+"))), int(match[2]))

    @property
    def beat(self) -> Fraction:
        """The counted beat: one over the lower number."""
        return Fraction(1, self.unit)

    @property
    def bar(self) -> Fraction:
        """The length of a full bar."""
        return Fraction(self.beats, self.unit)

    def count(self, place: Fraction) -> str:
        """Return what is said at a place in the bar, empty between the syllables."""
        beat, rest = divmod(place / self.beat, 1)
        return _SYLLABLES.get(rest, "") if rest else str(int(beat) + 1)

    def __str__(self) -> str:
        return f"{self.beats}/{self.unit}"
