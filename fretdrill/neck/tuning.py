"""Tunings, string 1 the highest.

Conventions: strings are numbered as in MusicXML 4.0 (``string`` 1 = highest) and
written low to high in text, the way players say them (E A D G). Four-string
bass E1 A1 D2 G2; a fifth string adds B0, a sixth also C3 (music21's
instrument table for four strings; general guides for five and six).
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

from fretdrill.errors import InputError, UnknownName, nearest_name
from fretdrill.theory.pitch import NoteName, Pitch

PRESETS = {
    "4-string": "E1 A1 D2 G2",
    "5-string": "B0 E1 A1 D2 G2",
    "6-string": "B0 E1 A1 D2 G2 C3",
    "drop-d": "D1 A1 D2 G2",
    "bead": "B0 E1 A1 D2",
    "guitar": "E2 A2 D3 G3 B3 E4",
}
"""Preset name → open strings, low to high."""

_NAME = re.compile(r"[A-G][b♭#♯]*")
_NAMES = re.compile(rf"(?:{_NAME.pattern})+")

MIN_STRINGS, MAX_STRINGS = 1, 10
LOWEST_BARE_NOTE = 23  # B0: a bare first note is put in the octave from here up


@dataclass(frozen=True, slots=True)
class Tuning:
    """The open strings.

    Attributes:
        strings: pitches, string 1 (usually the highest) first.
    """

    strings: tuple[Pitch, ...]

    def __post_init__(self) -> None:
        if not MIN_STRINGS <= len(self.strings) <= MAX_STRINGS:
            raise InputError(
                f"a tuning has {MIN_STRINGS} to {MAX_STRINGS} strings, not {len(self.strings)}"
            )

    @classmethod
    def parse(cls, text: str | Sequence[str]) -> Self:
        """Read a preset's name or the open strings, low to high.

        Notes may carry an octave (``"E1 A1 D2 G2"``) or leave it out
        (``"E A D G"``): then the first lies between B0 and A♯1 and each next one
        is the nearest above it.

        Raises:
            UnknownName: neither a preset nor notes.
            InputError: an octave is given for some strings only, or out of range.
        """
        written = text if isinstance(text, str) else " ".join(text)
        name = "-".join(written.casefold().split())
        words = PRESETS.get(name, written).replace(",", " ").split()
        if len(words) == 1:
            words = _names_in(words[0]) or words  # "EADG"
        try:
            low_to_high = _pitches(words)
        except InputError as fault:
            if len(words) == 1 or nearest_name(name, PRESETS):
                raise UnknownName("tuning", written, PRESETS) from fault
            raise InputError(f"tuning '{written}': {fault}") from fault
        return cls(tuple(reversed(low_to_high)))

    @property
    def preset(self) -> str | None:
        """The name of the preset with these strings, if there is one."""
        written = str(self)
        return next((name for name, strings in PRESETS.items() if strings == written), None)

    def __len__(self) -> int:
        return len(self.strings)

    def __str__(self) -> str:
        """Print low to high, readable by :meth:`parse`."""
        return " ".join(str(pitch) for pitch in reversed(self.strings))


def _names_in(word: str) -> list[str]:
    """Return the note names written together in a word; none if it is not all names."""
    spelled = word.upper() if word.islower() else word  # in "eadgb" the b is a string
    return _NAME.findall(spelled) if _NAMES.fullmatch(spelled) else []


def _pitches(words: Sequence[str]) -> list[Pitch]:
    if not words:
        raise InputError("a tuning needs at least one string, such as E1")
    with_octave = [any(sign.isdigit() for sign in word) for word in words]
    if all(with_octave):
        return [Pitch.parse(word) for word in words]
    if any(with_octave):
        bare = words[with_octave.index(False)]
        raise InputError(f"give an octave for every string or for none: '{bare}' has none")
    pitches: list[Pitch] = []
    for name in map(NoteName.parse, words):
        floor = pitches[-1].midi + 1 if pitches else LOWEST_BARE_NOTE
        midi = floor + (name.pitch_class - floor) % 12
        if midi > 127:
            raise InputError(f"the string {name} would lie above every playable pitch")
        pitches.append(Pitch(midi, name))
    return pitches
