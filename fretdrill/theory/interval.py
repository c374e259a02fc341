"""Intervals, as a number of letter steps and a number of semitones.

Conventions: names are quality + number, ``P1 m2 M2 m3 M3 P4 A4 d5 P5 …``
(d = diminished, A = augmented; doubled as ``dd`` and ``AA``); compound
intervals such as ``M9`` are allowed. Degrees are the chord player's way of
writing the same thing against the major scale: ``♭7`` is m7, ``♯11`` is A11.
"""

import re
from dataclasses import dataclass
from typing import Self

from fretdrill.errors import InputError
from fretdrill.theory.pitch import LETTERS, SEMITONES, NoteName, Pitch

_MAJOR_STEPS = tuple(SEMITONES[letter] for letter in LETTERS)
_PERFECT = {0, 3, 4}
_NAME = re.compile(r"(P|M|m|d{1,2}|A{1,2})([1-9]\d?)")
_DEGREE = re.compile(r"([b♭#♯]*)([1-9]\d?)")


@dataclass(frozen=True, slots=True)
class Interval:
    """A distance upward.

    Attributes:
        steps: letters climbed, 0 for a unison, 7 for an octave.
        semitones: semitones climbed.
    """

    steps: int
    semitones: int

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read an interval's name, such as ``"m3"``, ``"P5"`` or ``"A11"``.

        Raises:
            InputError: there is no such interval.
        """
        match = _NAME.fullmatch(text)
        if match is None:
            raise InputError(f"'{text}' is not an interval such as m3 or P5")
        steps = int(match[2]) - 1
        quality = match[1]
        perfect = steps % 7 in _PERFECT
        if (quality == "P") != perfect and quality in "PMm":
            raise InputError(f"'{text}' is not an interval: {steps + 1} cannot be {quality}")
        size = {"P": 0, "M": 0, "m": -1}.get(quality)
        if size is None:
            count = len(quality)
            size = count if quality[0] == "A" else -count - (not perfect)
        return cls(steps, _major_semitones(steps) + size)

    @classmethod
    def degree(cls, text: str) -> Self:
        """Read a degree against the major scale, such as ``"♭7"``.

        Raises:
            InputError: there is no such degree.
        """
        match = _DEGREE.fullmatch(text)
        if match is None:
            raise InputError(f"'{text}' is not a degree such as 5 or b7")
        steps = int(match[2]) - 1
        alter = sum(-1 if sign in "b♭" else 1 for sign in match[1])
        return cls(steps, _major_semitones(steps) + alter)

    @property
    def name(self) -> str:
        """The name, such as ``"m3"``."""
        size = self.semitones - _major_semitones(self.steps)
        if self.steps % 7 in _PERFECT:
            quality = "P" if size == 0 else "A" * size if size > 0 else "d" * -size
        elif size in (0, -1):
            quality = "M" if size == 0 else "m"
        else:
            quality = "A" * size if size > 0 else "d" * (-size - 1)
        return f"{quality}{self.steps + 1}"

    def above(self, name: NoteName) -> NoteName:
        """Return the name this far above ``name``, spelled by letter steps."""
        index = LETTERS.index(name.letter) + self.steps
        octaves, letter_index = divmod(index, 7)
        letter = LETTERS[letter_index]
        climbed = SEMITONES[letter] + 12 * octaves - SEMITONES[name.letter]
        return NoteName(letter, name.alter + self.semitones - climbed)

    def above_pitch(self, pitch: Pitch) -> Pitch:
        """Return the pitch this far above ``pitch``."""
        return Pitch(pitch.midi + self.semitones, self.above(pitch.name))


def _major_semitones(steps: int) -> int:
    octaves, degree = divmod(steps, 7)
    return 12 * octaves + _MAJOR_STEPS[degree]
