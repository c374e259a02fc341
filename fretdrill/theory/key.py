"""Keys: their signatures, scales, and how they spell any note.

Conventions: a key is a tonic and a mode; its signature counts sharps (positive)
or flats (negative), at most seven. Notes outside the scale are spelled as in the
harmonic chromatic scale, the twelve names from five fifths below the tonic to
six above it, so that F major has B♭ and never A♯ (common practice, no source).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Self

from fretdrill.errors import InputError, UnknownName
from fretdrill.theory.pitch import LETTERS, NoteName, Pitch

MODES = {
    "lydian": 1,
    "major": 0,
    "mixolydian": -1,
    "dorian": -2,
    "minor": -3,
    "phrygian": -4,
    "locrian": -5,
}
"""Mode → signature compared with the major key on the same tonic, in fifths."""

_OTHER_MODE_NAMES = {"ionian": "major", "aeolian": "minor", "maj": "major", "min": "minor"}


@dataclass(frozen=True, slots=True)
class Key:
    """A tonic and a mode.

    Attributes:
        tonic: the name of the tonic.
        mode: one of :data:`MODES`.
    """

    tonic: NoteName
    mode: str = "major"

    def __post_init__(self) -> None:
        if self.mode not in MODES:
            raise UnknownName("mode", self.mode, (*MODES, *_OTHER_MODE_NAMES))
        if not -7 <= self.signature <= 7:
            raise InputError(f"the key of {self} would need more than seven accidentals")

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read ``"F major"``, ``"Bb"``, ``"Em"`` or ``"D dorian"``.

        Raises:
            InputError: the text is not a key, or one with more than seven accidentals.
        """
        words = text.split()
        if not words or len(words) > 2:
            raise InputError(f"'{text}' is not a key such as F major or E minor")
        tonic, mode = words[0], words[1].casefold() if len(words) == 2 else "major"
        if len(words) == 1 and len(tonic) > 1 and tonic.endswith("m"):
            tonic, mode = tonic[:-1], "minor"
        return cls(NoteName.parse(tonic), _OTHER_MODE_NAMES.get(mode, mode))

    @property
    def signature(self) -> int:
        """Sharps in the signature, or flats as a negative number."""
        return self.tonic.fifths + MODES[self.mode]

    @property
    def scale(self) -> tuple[NoteName, ...]:
        """The seven names from the tonic upward."""
        lowest = self.signature - 1
        names = {n.letter: n for n in map(NoteName.from_fifths, range(lowest, lowest + 7))}
        start = LETTERS.index(self.tonic.letter)
        return tuple(names[LETTERS[(start + i) % 7]] for i in range(7))

    def spell(self, midi: int) -> Pitch:
        """Spell a MIDI number as this key would."""
        for fifths in self._chromatic_fifths():
            name = NoteName.from_fifths(fifths)
            if name.pitch_class == midi % 12:
                return Pitch(midi, name)
        raise AssertionError("twelve neighbouring fifths name every pitch class")

    def _chromatic_fifths(self) -> Iterator[int]:
        # Locrian's flat fifth lies one fifth further down than the chromatic scale's names.
        lowest = min(self.tonic.fifths - 5, self.signature - 1)
        return iter(range(lowest, lowest + 12))

    def text(self, *, ascii_only: bool = False) -> str:
        """Print as ``"B♭ major"``."""
        return f"{self.tonic.text(ascii_only=ascii_only)} {self.mode}"

    def __str__(self) -> str:
        return self.text(ascii_only=True)


MAJOR_KEYS = tuple(Key(NoteName.from_fifths(fifths)) for fifths in range(-7, 8))
MINOR_KEYS = tuple(Key(NoteName.from_fifths(fifths + 3), "minor") for fifths in range(-7, 8))
