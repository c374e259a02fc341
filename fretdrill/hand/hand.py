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

PACES = {"fluent": 0.06, "steady": 0.08, "careful": 0.095, "novice": 0.12}
"""Pace → seconds a bit that a shift takes: the slope of :func:`fretdrill.hand.cost.shift_s`.

No published bass shift times were found and pacing is individual (Visentin et al., PeerJ
3:e1299, 2015), so these are assumptions to calibrate; 0.095 is the slope of stylus
tapping in Fitts 1954 as reanalysed by MacKenzie (from memory)."""

MIN_PACE, MAX_PACE = 0.01, 0.5


@dataclass(frozen=True, slots=True)
class Hand:
    """A left hand.

    Attributes:
        scale: factor on every span of :data:`PAIR_SPANS_SEMITONES`, 1 = medium.
        system: one of :data:`SYSTEMS`.
        pace: seconds a bit that a shift takes, see :data:`PACES`.
    """

    scale: float = 1.0
    system: str = "reach"
    pace: float = PACES["steady"]

    def __post_init__(self) -> None:
        if self.system not in SYSTEMS:
            raise UnknownName("finger system", self.system, SYSTEMS)

    @classmethod
    def parse(cls, size: str, system: str = "reach", pace: str = "steady") -> Self:
        """Read a hand: its size is a preset's name, or finger 1 to 4 in mm.

        Raises:
            InputError: not a preset and not a span between 60 and 180 mm.
        """
        pace_s = _pace(pace)
        if size in SIZES:
            return cls(SIZES[size], system, pace_s)
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
        return cls(span / cls().span(1, 4).comfortable, system, pace_s)

    @property
    def size(self) -> str:
        """The preset's name, or the comfortable 1-4 span as ``"105 mm"``."""
        for name, scale in SIZES.items():
            if scale == self.scale:
                return name
        return f"{self.span(1, 4).comfortable:g} mm"

    @property
    def pace_name(self) -> str:
        """The preset's name, or seconds a bit as ``"0.07"``."""
        return next((name for name, pace in PACES.items() if pace == self.pace), f"{self.pace:g}")

    def span(self, finger: int, other: int) -> Span:
        """Return how far two different fingers part, in mm."""
        semitones = PAIR_SPANS_SEMITONES[min(finger, other), max(finger, other)]
        return Span(*(n * PIANO_SEMITONE_MM * self.scale for n in semitones))


def _pace(text: str) -> float:
    if text in PACES:
        return PACES[text]
    try:
        pace = float(text)
    except ValueError:
        raise UnknownName("pace of shifts", text, PACES) from None
    if not MIN_PACE <= pace <= MAX_PACE:
        raise InputError(f"a pace is {MIN_PACE:g} to {MAX_PACE:g} seconds a bit, not {pace:g}")
    return pace
