"""The player's left hand.

Finger pairs carry three spans, relaxed, comfortable and practical. They are the
piano spans of Parncutt, Sloboda, Clarke, Raekallio & Desain (Music Perception
14(4), 1997, tables 1-2), fingers 2-5 renamed 1-4, at 13.75 mm a semitone (6.5-in
octave; Boyle, Boyle & Booker 2015). An open hand on a flat keyboard is an upper
guide for curled fretting fingers [assumption], so a measured hand beats a preset.
No preset goes by sex: thumbless spans hardly differ (Wagner, Ergonomics 31, 1988).
"""

from dataclasses import dataclass
from typing import NamedTuple, Self

from fretdrill.errors import InputError, UnknownName


class Span(NamedTuple):
    """How far two fingers part, in mm."""

    relaxed: float
    comfortable: float
    practical: float


PIANO_SEMITONE_MM = 13.75

PAIR_SPANS_SEMITONES = {
    (1, 2): (2, 3, 5),
    (1, 3): (4, 5, 7),
    (1, 4): (6, 8, 10),
    (2, 3): (2, 2, 4),
    (2, 4): (4, 5, 7),
    (3, 4): (2, 3, 5),
}
"""Finger pair → relaxed, comfortable and practical span in piano semitones."""

SIZES = {"small": 0.9, "medium": 1.0, "large": 1.1}
"""Hand size → factor on every span [assumption from Boyle et al. 2015]."""

SYSTEMS = ("reach", "one-per-fret", "1-2-4")
"""Finger systems; ``reach`` takes one finger per fret where it is comfortable."""

MIN_SPAN_MM, MAX_SPAN_MM = 60.0, 180.0


@dataclass(frozen=True, slots=True)
class Hand:
    """A left hand.

    Attributes:
        scale: factor on every span of :data:`PAIR_SPANS_SEMITONES`, 1 = medium.
        system: one of :data:`SYSTEMS`.
    """

    scale: float = 1.0
    system: str = "reach"

    def __post_init__(self) -> None:
        if self.system not in SYSTEMS:
            raise UnknownName("finger system", self.system, SYSTEMS)

    @classmethod
    def parse(cls, size: str, system: str = "reach") -> Self:
        """Read a hand size: a preset's name, or finger 1 to 4 in mm.

        Raises:
            InputError: not a preset and not a span between 60 and 180 mm.
        """
        if size in SIZES:
            return cls(SIZES[size], system)
        number = size.removesuffix("mm").strip()
        try:
            span = float(number)
        except ValueError:
            raise UnknownName("hand size", size, SIZES) from None
        if not MIN_SPAN_MM <= span <= MAX_SPAN_MM:
            raise InputError(
                f"a comfortable span from finger 1 to finger 4 is {MIN_SPAN_MM:g} to "
                f"{MAX_SPAN_MM:g} mm, not {span:g}"
            )
        return cls(span / cls().span(1, 4).comfortable, system)

    @property
    def size(self) -> str:
        """The preset's name, or the comfortable 1-4 span as ``"105 mm"``."""
        for name, scale in SIZES.items():
            if scale == self.scale:
                return name
        return f"{self.span(1, 4).comfortable:g} mm"

    def span(self, finger: int, other: int) -> Span:
        """Return how far two different fingers part, in mm."""
        semitones = PAIR_SPANS_SEMITONES[min(finger, other), max(finger, other)]
        return Span(*(n * PIANO_SEMITONE_MM * self.scale for n in semitones))
