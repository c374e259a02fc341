"""Rhythms of made-up lines.

Idea: a phrase is a form over a few bars: moving ones come back, a breathing one has a
longer note that gives the hand time, a closing one comes to rest.

Conventions: four quarters a bar, written with a sign a sixteenth and a word a beat:
``x`` a note begins, ``-`` it goes on, ``.`` rest. A bar that begins with ``-`` goes on
with the note before it, tied over the bar line. Rhythms of common practice, no source.
"""

from fractions import Fraction
from random import Random
from typing import NamedTuple

SIXTEENTH = Fraction(1, 16)
SIGNS_A_BAR = 16


class Sound(NamedTuple):
    """When one note of a line sounds.

    Attributes:
        onset: in whole notes from the beginning of the line.
        length: in whole notes, tied notes added up.
    """

    onset: Fraction
    length: Fraction

    @property
    def end(self) -> Fraction:
        """Where it ends."""
        return self.onset + self.length

    @property
    def bar(self) -> int:
        """The bar whose chord it sounds, from 0: one tied over belongs to the next."""
        return int(self.end - SIXTEENTH)


class Material(NamedTuple):
    """The bars that phrases of one sort are made of.

    Attributes:
        forms: letters in order: ``m`` and ``n`` two moving bars, ``b`` breathing, ``c`` closing.
        moving: bars, or several with ``|`` between, and so are the others.
        breathing: with a longer note.
        closing: with a long last note.
    """

    forms: tuple[str, ...]
    moving: tuple[str, ...]
    breathing: tuple[str, ...]
    closing: tuple[str, ...]


FOUR_BARS = ("mbmc", "mmbc", "mnmc")
EIGHT_BARS = ("mnmbmnmc", "mmnbmmnc", "mbmbmnmc")

_EIGHTHS = Material(
    FOUR_BARS,
    moving=(
        "x-x- x-x- x-x- x-x-",
        "x-x- x-x- x--- x-x-",
        "x-x- x-x- x-x- x---",
        "x--- x-x- x-x- x-x-",
        "x--- --x- x-x- x-x-",
        "x-x- x-x- x--- x---",
        "x--- x-x- x--- x-x-",
        "x-x- x-x- x--- --x-",
    ),
    breathing=(
        "x-x- x-x- x--- ----",
        "x--- --x- x--- x---",
        "x--- x-x- x--- ----",
        "x-x- x--- x--- --x-",
    ),
    closing=(
        "x-x- x-x- x--- ----",
        "x--- x-x- x--- ----",
        "x-x- x--- x--- ----",
        "x--- --x- x--- ----",
    ),
)
_QUARTERS = Material(
    EIGHT_BARS,
    moving=("x--- x--- x--- x---", "x--- --x- x--- x---", "x--- x--- x--- --x-"),
    breathing=("x--- x--- x--- ----", "x--- --x- x--- ----"),
    closing=("x--- x--- x--- ----", "x--- --x- x--- ----"),
)
_OCTAVES = Material(
    FOUR_BARS,
    moving=(
        "x-x- x-x- x-x- x-x-",
        "x--- x-x- x--- x-x-",
        "x--- x-x- x-x- x-x-",
        "x-x- x-x- x--- x-x-",
        "x--- --x- x--- x-x-",
        "x-x- ..x- x-x- ..x-",
        "x--- ..x- x-x- x-x-",
    ),
    breathing=("x--- x-x- x--- x---", "x-x- x-x- x--- ..x-", "x--- --x- x--- x---"),
    closing=("x-x- x-x- x--- ----", "x--- x-x- x--- ----", "x-x- x--- x--- ----"),
)
_CHROMATICS = Material(
    FOUR_BARS,
    moving=(
        "x--- x-x- x--- x-x-",
        "x-x- x-x- x-x- x-x-",
        "x-x- x-x- x--- x-x-",
        "x--- x-x- x-x- x-x-",
        "x--- --x- x-x- x-x-",
        "x--- x--- x-x- x-x-",
    ),
    breathing=("x--- x-x- x--- --x-", "x-x- x-x- x--- x---", "x--- --x- x--- x-x-"),
    closing=("x-x- x-x- x--- ----", "x--- x-x- x--- ----"),
)
_OFF_BEATS = Material(
    ("mc",),
    moving=(
        "x--x --x- ..x- --x- | x--x --x- ..x- x-x-",
        "x--- x-x- --x- --x- | --x- x-x- --x- x---",
        "x-.x --x- x-.. x-x- | x-.x --x- --x- x-x-",
        "x--- --x- --x- x-x- | --x- ..x- x--- x-x-",
        "x-x- ..x- --x- --x- | --x- ..x- x-x- --x-",
        "x--x ..x- x--x --x- | x--x ..x- ..x- x---",
        "x-.. x-xx --x- ..x- | x-.. x-xx --x- x---",
    ),
    breathing=(),
    closing=(
        "x--- x-x- --x- x-x- | x--- --x- x--- ----",
        "x--x --x- ..x- --x- | --x- ..x- x--- ----",
        "x-.x --x- x-x- --x- | ---- x-x- x--- ....",
        "x-x- ..x- --x- x--- | x--x --x- x--- ----",
        "x-.. x-xx --x- --x- | --x- --x- x--- ....",
    ),
)
_RHYTHMS = {
    "stepwise": (_EIGHTHS, _EIGHTHS, _QUARTERS),
    "arpeggio": (_EIGHTHS, _EIGHTHS, _QUARTERS),
    "octave": (_OCTAVES,),
    "chromatic": (_CHROMATICS,),
    "syncopated": (_OFF_BEATS,),
}
"""Figure → its materials, one of which is drawn."""


def make_rhythm(figure: str, rng: Random) -> list[str]:
    """Return a phrase's bars in the signs of this module, words joined."""
    material = rng.choice(_RHYTHMS[figure])
    m = rng.choice(material.moving)
    drawn = {
        "m": m,
        "n": rng.choice([bar for bar in material.moving if bar != m]),
        "b": rng.choice(material.breathing or material.moving),
        "c": rng.choice(material.closing),
    }
    written = " | ".join(drawn[letter] for letter in rng.choice(material.forms))
    return written.replace(" ", "").split("|")


def sounds_of(bars: list[str]) -> list[Sound]:
    """Return when the notes of a rhythm sound, in order."""
    signs = "".join(bars)
    sounds = []
    for start, sign in enumerate(signs):
        if sign == "x":
            held = len(signs[start + 1 :]) - len(signs[start + 1 :].lstrip("-"))
            sounds.append(Sound(start * SIXTEENTH, (1 + held) * SIXTEENTH))
    return sounds
