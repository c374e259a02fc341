"""Positions and what they are called.

Conventions: on bass guitar the position is the fret under finger 1 and is
written in Roman numerals (Bandwagon Bass, Level 1). The upright method of
F. Simandl (Sankey edition, contents page) names hand places after the degrees of
natural minor above the open string, and counts semitones for finger 1 as below;
its half position is the bass guitar's position I.
"""

from fretdrill.errors import InputError, nearest_name

POSITION_FRETS = 4  # one finger per fret: p, p+1, p+2, p+3
UPRIGHT_FRETS = 3  # 1-2-4: a whole tone between fingers 1 and 4

SIMANDL = {
    "half": 1,
    "I": 2,
    "II": 3,
    "II-III": 4,
    "III": 5,
    "III-IV": 6,
    "IV": 7,
    "V": 8,
    "V-VI": 9,
    "VI": 10,
    "VI-VII": 11,
    "VII": 12,
}
"""Upright position name → semitones of finger 1 above the open string."""

_ROMAN = ((10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I"))
_ORDINALS = (
    "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth "
    "thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth "
    "twenty-first twenty-second twenty-third twenty-fourth twenty-fifth twenty-sixth "
    "twenty-seventh twenty-eighth twenty-ninth thirtieth thirty-first thirty-second "
    "thirty-third thirty-fourth thirty-fifth thirty-sixth"
).split()


def roman(position: int) -> str:
    """Write a position in Roman numerals."""
    rest, numeral = position, ""
    for value, sign in _ROMAN:
        count, rest = divmod(rest, value)
        numeral += sign * count
    return numeral


def ordinal(position: int) -> str:
    """Write a position as a word: 5 is ``"fifth"``."""
    return _ORDINALS[position - 1]


def parse_position(text: str) -> int:
    """Read ``"5"``, ``"V"``, ``"fifth"``, or ``"half"`` for the first.

    Raises:
        InputError: the text is none of these.
    """
    word = text.strip().casefold()
    if word == "half":
        return SIMANDL["half"]
    if word.isdecimal() and len(word) < 3 and 1 <= int(word) <= len(_ORDINALS):
        return int(word)
    if word in _ORDINALS:
        return _ORDINALS.index(word) + 1
    for position in range(1, len(_ORDINALS) + 1):
        if roman(position).casefold() == word:
            return position
    near = nearest_name(word, _ORDINALS)
    hint = f"; did you mean '{near}'?" if near else ""
    raise InputError(f"'{text}' is not a position such as 5, V or fifth{hint}")
