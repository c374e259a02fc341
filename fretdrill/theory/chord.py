"""Chords as a root and spelled degrees.

Conventions: a symbol is a root and a quality; each quality lists its degrees
against the major scale of the root, and the tones are spelled by them: the ♭7 of
C is B♭, never A♯. Both ``m`` and ``min`` mean minor; ``sus`` means the fourth.
"""

import re
from dataclasses import dataclass
from typing import Self

from fretdrill.errors import UnknownName
from fretdrill.theory.interval import Interval
from fretdrill.theory.pitch import NoteName

QUALITIES = {
    "maj": "1 3 5",
    "min": "1 b3 5",
    "7": "1 3 5 b7",
    "maj7": "1 3 5 7",
    "m7": "1 b3 5 b7",
    "m7b5": "1 b3 b5 b7",
    "dim": "1 b3 b5",
    "dim7": "1 b3 b5 bb7",
    "aug": "1 3 #5",
    "sus2": "1 2 5",
    "sus4": "1 4 5",
    "6": "1 3 5 6",
    "m6": "1 b3 5 6",
    "add9": "1 3 5 9",
    "9": "1 3 5 b7 9",
}
_OTHER_QUALITY_NAMES = {
    "": "maj",
    "m": "min",
    "-": "min",
    "M7": "maj7",
    "Δ": "maj7",
    "Δ7": "maj7",
    "-7": "m7",
    "-7b5": "m7b5",
    "ø": "m7b5",
    "ø7": "m7b5",
    "°": "dim",
    "°7": "dim7",
    "+": "aug",
    "sus": "sus4",
}
"""What else stands on lead sheets (common practice, no source)."""

_SYMBOL = re.compile(r"([A-Ga-g][b♭#♯]{0,2})(.*)")


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord symbol.

    Attributes:
        root: the name of the root.
        quality: one of :data:`QUALITIES`.
    """

    root: NoteName
    quality: str = "maj"

    def __post_init__(self) -> None:
        if self.quality not in QUALITIES:
            raise UnknownName("chord quality", self.quality, QUALITIES)

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a symbol such as ``"Dm7"``, ``"B♭"`` or ``"F#m7♭5"``.

        Raises:
            UnknownName: the root is not a note or the quality is not known.
        """
        match = _SYMBOL.fullmatch(text.strip())
        if match is None:
            raise UnknownName("chord", text, ("C", "Dm7", "G7", "Bbmaj7", "F#m7b5"))
        return cls.of_quality(NoteName.parse(match[1]), match[2])

    @classmethod
    def of_quality(cls, root: NoteName, text: str) -> Self:
        """Return a chord on a root from what follows the root in a symbol, such as ``"m7"``.

        Raises:
            UnknownName: the quality is not known.
        """
        quality = text.replace("♭", "b").replace("♯", "#")
        if quality.startswith("min") and quality != "min":
            quality = quality.replace("min", "m", 1)
        return cls(root, _OTHER_QUALITY_NAMES.get(quality, quality))

    @property
    def degrees(self) -> tuple[str, ...]:
        """The degrees, such as ``("1", "b3", "5", "b7")``."""
        return tuple(QUALITIES[self.quality].split())

    @property
    def tones(self) -> tuple[NoteName, ...]:
        """The spelled tones, in the order of :attr:`degrees`."""
        return tuple(Interval.degree(degree).above(self.root) for degree in self.degrees)

    def text(self, *, ascii_only: bool = False) -> str:
        """Print the symbol as it is usually written."""
        shown = {"maj": "", "min": "m"}.get(self.quality, self.quality)
        if not ascii_only:
            shown = shown.replace("b5", "♭5")
        return self.root.text(ascii_only=ascii_only) + shown

    def __str__(self) -> str:
        return self.text(ascii_only=True)
