"""Note names and pitches.

Idea: a :class:`NoteName` is a letter and its accidentals, a :class:`Pitch` is a
sounding MIDI number together with such a spelling. The two are kept apart so
that E♭ and D♯ can be the same fret and still be two different answers.

Conventions: octave numbers change at C and middle C is C4 = MIDI 60 (MusicXML
4.0, ``octave`` type); A4 = 440 Hz in equal temperament (ISO 16:1975). Names lie
on the line of fifths: F = -1, C = 0, G = 1 … and a sharp adds seven.
"""

import re
from dataclasses import dataclass
from typing import Self

from fretdrill.errors import InputError, UnknownName

LETTERS = "CDEFGAB"
EXAMPLES = ("C", "D", "E", "F", "G", "A", "B", "Bb", "F#")
SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
LETTERS_BY_FIFTHS = "FCGDAEB"
MAX_ALTER = 3

_ACCIDENTALS = {"b": -1, "♭": -1, "𝄫": -2, "#": 1, "♯": 1, "𝄪": 2, "x": 2, "♮": 0}
_NAME = re.compile(r"([A-Ga-g])([b♭𝄫#♯𝄪x♮]*)")
_PITCH = re.compile(_NAME.pattern + r"(-?\d{1,3})")


def _alter_of(signs: str, text: str) -> int:
    alter = sum(_ACCIDENTALS[sign] for sign in signs)
    if abs(alter) > MAX_ALTER:
        raise InputError(f"'{text}' has more accidentals than a note can carry")
    return alter


@dataclass(frozen=True, slots=True)
class NoteName:
    """A letter with its accidentals, in no particular octave.

    Attributes:
        letter: one of C D E F G A B.
        alter: semitones up (sharps) or down (flats), -3 to 3.
    """

    letter: str
    alter: int = 0

    def __post_init__(self) -> None:
        if self.letter not in SEMITONES or not -MAX_ALTER <= self.alter <= MAX_ALTER:
            raise InputError(f"no such note: {self.letter!r} altered by {self.alter}")

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read ``"Bb"``, ``"f#"``, ``"E♭♭"`` or ``"Cx"``.

        Raises:
            UnknownName: the text is not a note name.
        """
        match = _NAME.fullmatch(text.strip())
        if match is None:
            raise UnknownName("note", text, EXAMPLES, all_told=False)
        return cls(match[1].upper(), _alter_of(match[2], text))

    @classmethod
    def from_fifths(cls, fifths: int) -> Self:
        """Return the name ``fifths`` steps from C on the line of fifths."""
        return cls(LETTERS_BY_FIFTHS[(fifths + 1) % 7], (fifths + 1) // 7)

    @property
    def fifths(self) -> int:
        """Steps from C on the line of fifths (G = 1, F = -1, B♭ = -2)."""
        return LETTERS_BY_FIFTHS.index(self.letter) - 1 + 7 * self.alter

    @property
    def pitch_class(self) -> int:
        """Semitones above C, 0 to 11."""
        return (SEMITONES[self.letter] + self.alter) % 12

    def is_enharmonic(self, other: "NoteName") -> bool:
        """Whether both names are the same key on a keyboard."""
        return self.pitch_class == other.pitch_class

    def text(self, *, ascii_only: bool = False) -> str:
        """Print with ♭ and ♯, or with b and #."""
        flat, sharp = ("b", "#") if ascii_only else ("♭", "♯")
        return self.letter + (sharp * self.alter if self.alter > 0 else flat * -self.alter)

    def __str__(self) -> str:
        return self.text(ascii_only=True)


@dataclass(frozen=True, slots=True)
class Pitch:
    """A sounding pitch with its spelling.

    Attributes:
        midi: MIDI note number, E1 = 28, middle C = 60.
        name: the spelling; it must be a name of that key.
    """

    midi: int
    name: NoteName

    def __post_init__(self) -> None:
        if self.midi % 12 != self.name.pitch_class:
            raise InputError(f"MIDI number {self.midi} cannot be spelled {self.name}")

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a name with its octave, such as ``"E1"`` or ``"B♭0"``.

        Raises:
            InputError: there is no octave, or the note lies outside MIDI's 0 to 127.
            UnknownName: the text is not a note at all.
        """
        match = _PITCH.fullmatch(text.strip())
        if match is None:
            name = NoteName.parse(text)
            raise InputError(f"'{text}' needs an octave, such as {name}1")
        name = NoteName(match[1].upper(), _alter_of(match[2], text))
        midi = 12 * (int(match[3]) + 1) + SEMITONES[name.letter] + name.alter
        if not 0 <= midi <= 127:
            raise InputError(f"'{text}' lies outside the MIDI range C-1 to G9")
        return cls(midi, name)

    @property
    def octave(self) -> int:
        """Octave number; the octave of B♯3 is 3 though it sounds as C4."""
        return (self.midi - SEMITONES[self.name.letter] - self.name.alter) // 12 - 1

    @property
    def frequency_hz(self) -> float:
        """Frequency in equal temperament, A4 = 440 Hz (ISO 16:1975)."""
        return float(440.0 * 2.0 ** ((self.midi - 69) / 12))

    def text(self, *, ascii_only: bool = False) -> str:
        """Print the name with its octave."""
        return f"{self.name.text(ascii_only=ascii_only)}{self.octave}"

    def __str__(self) -> str:
        return self.text(ascii_only=True)


ACCIDENTALS = ("flats", "sharps", "both")
"""How notes outside any key may be spelled."""

FLAT_NAMES = tuple(NoteName.parse(n) for n in "C Db D Eb E F Gb G Ab A Bb B".split())
SHARP_NAMES = tuple(NoteName.parse(n) for n in "C C# D D# E F F# G G# A A# B".split())


def simple_name(midi: int, *, sharps: bool = False) -> NoteName:
    """Spell a pitch with at most one accidental, where no key says how."""
    return (SHARP_NAMES if sharps else FLAT_NAMES)[midi % 12]
