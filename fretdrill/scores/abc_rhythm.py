"""How long the notes of an ABC voice are.

Everything here follows the ABC standard 2.1, sections 4.3, 4.4 and 4.13.
"""

from fractions import Fraction
from functools import lru_cache

from fretdrill.theory.metre import Metre

LARGEST_LENGTH = 9_999
SMALLEST_PART = 256  # §4.3 asks for 128th notes; L:1/512 makes far smaller ones still

TUPLET_TIMES = {2: 3, 3: 2, 4: 3, 6: 2, 8: 3}
"""Notes in a tuplet → in the time of how many; 5, 7 and 9 go by the metre (§4.13)."""


@lru_cache(maxsize=1024)
def multiplier(text: str) -> Fraction | None:
    """Read a length such as ``3/2`` or ``//`` (§4.3); None for one that cannot be."""
    slashes = text.count("/")
    upper, _, rest = text.partition("/")
    lower = rest.lstrip("/")
    if len(upper) > 4 or len(lower) > 4 or slashes > 8:
        return None
    below = int(lower) * 2 ** (slashes - 1) if lower else 2**slashes
    above = int(upper) if upper else 1
    if not 0 < above <= LARGEST_LENGTH or not 0 < below <= SMALLEST_PART:
        return None
    return Fraction(above, below)


class Rhythm:
    """Tuplet and broken rhythm at one place of a voice.

    Attributes:
        unit: the unit note length.
    """

    def __init__(self, unit: Fraction) -> None:
        self.unit = unit
        self._factor = Fraction(1)
        self._left = 0
        self._broken: Fraction | None = None

    def length(self, times: Fraction) -> Fraction:
        """Return how long the next note is that is written with this multiplier."""
        length = self.unit if times == 1 else self.unit * times
        if self._left:
            length *= self._factor
            self._left -= 1
        if self._broken is not None:
            length *= self._broken
            self._broken = None
        return length

    def begin_tuplet(self, numbers: tuple[str | None, ...], metre: Metre | None) -> bool:
        """Begin a tuplet ``(p:q:r``; False if it means nothing."""
        if any(len(number or "") > 2 for number in numbers):
            return False
        count, times, notes = (int(number or 0) for number in numbers)
        if not times and 2 <= count <= 9:
            times = TUPLET_TIMES.get(count) or (3 if _is_compound(metre) else 2)
        if not count or not times:
            return False
        self._factor, self._left = Fraction(times, count), notes or count
        return True

    def break_after(self, sign: str) -> Fraction | None:
        """Break the rhythm; return the factor of the note before, None if it is broken already."""
        if self._broken is not None:
            return None
        short = Fraction(1, 2 ** len(sign))
        factors = (2 - short, short) if sign[0] == ">" else (short, 2 - short)
        before, self._broken = factors
        return before


def _is_compound(metre: Metre | None) -> bool:
    return metre is not None and metre.beats > 3 and metre.beats % 3 == 0
