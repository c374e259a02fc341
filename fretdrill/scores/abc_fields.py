"""What the fields of an ABC tune say: metre, unit length, tempo, key, clef.

Everything here follows the ABC standard 2.1, sections 3.1, 4.6, 7.1 and 10.1. Each
function reads one value and raises :class:`~fretdrill.errors.InputError`, worded
without a place, for what cannot be.
"""

import html
import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from fretdrill.errors import InputError, printable
from fretdrill.scores.abc_notices import shown
from fretdrill.theory.key import MODES, Key
from fretdrill.theory.line import MAX_BPM, MIN_BPM, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import LETTERS, NoteName

ALTERS = {"": None, "=": 0, "^": 1, "^^": 2, "_": -1, "__": -2}
"""Accidental as it is written → semitones (§4.2)."""

MODES_BY_START = {
    "": "major",
    "m": "minor",
    "maj": "major",
    "ion": "major",
    "min": "minor",
    "aeo": "minor",
    "mix": "mixolydian",
    "dor": "dorian",
    "phr": "phrygian",
    "lyd": "lydian",
    "loc": "locrian",
}
"""First three letters of a mode → its name (§3.1.14)."""

PIPES = {"HP": {}, "Hp": {"F": 1, "C": 1}}
"""The two keys of the Highland pipes → their signatures (§3.1.14)."""

FREE = ("", "none")
SHORTEST_UNIT = Fraction(1, 512)  # §3.1.7
MOST_SEMITONES = 60
MOST_OCTAVES = 5

_UNIT = re.compile(r"(\d{1,3})(?:/(\d{1,3}))?")
_QUOTED = re.compile(r'"[^"]*"')
_TEMPO = re.compile(r"(\d{1,3}/\d{1,3}(?:\s+\d{1,3}/\d{1,3}){0,7})\s*=\s*(\d{1,4}(?:\.\d{0,6})?)")
_TEMPO_OF_UNITS = re.compile(r"(?:C\s*(\d{0,2})\s*=\s*)?(\d{1,4}(?:\.\d{0,6})?)")
_BEAT = re.compile(r"(\d{1,3})/(\d{1,3})")
_WORD = re.compile(r'(?:[^\s="]+=)?"[^"]*"|\S+')
_TONIC = re.compile(r"([A-G])([#b♯♭]?)([A-Za-z]*)")
_SIGNS = re.compile(r"(\^\^?|__?|=)([A-Ga-g])")
_CLEF = re.compile(
    r"(treble|alto|tenor|bass|soprano|mezzosoprano|baritone|perc|none)\d?(?:([+-])(8|15))?"
)
_NUMBER = re.compile(r"[+-]?\d{1,3}")
_ESCAPE = re.compile(
    r"""\\(?:u([0-9A-Fa-f]{4})|(ss|AE|ae|oe)|([`'^~"cuvHAa/])([A-Za-z])|([\\%&]))"""
)
_MARKS = {
    "`": "\u0300",
    "'": "\u0301",
    "^": "\u0302",
    "~": "\u0303",
    '"': "\u0308",
    "c": "\u0327",
    "u": "\u0306",
    "v": "\u030c",
    "H": "\u030b",
    "A": "\u030a",
    "a": "\u030a",
}
_LIGATURES = {"ss": "ß", "AE": "Æ", "ae": "æ", "oe": "œ", "/O": "Ø", "/o": "ø"}


class Signature(NamedTuple):
    """A key signature.

    Attributes:
        key: the key that it is called by; None for none at all.
        alters: letter → semitones, only where not 0.
    """

    key: Key | None = None
    alters: Mapping[str, int] = {}


class Staff(NamedTuple):
    """What a K: or V: field says of clef and transposition; None where it says nothing.

    Attributes:
        clef: its name.
        clef_octaves: the octaves that a clef with an 8 or 15 moves the sound.
        octave: the octaves that ``octave=`` moves it.
        semitones: the semitones that ``transpose=`` moves it.
    """

    clef: str | None = None
    clef_octaves: int | None = None
    octave: int | None = None
    semitones: int | None = None

    def changed_by(self, other: "Staff") -> "Staff":
        """Return these settings with what the other field says in their place."""
        said = {name: value for name, value in other._asdict().items() if value is not None}
        return self._replace(**said)


NO_SIGNATURE = Signature()
PLAIN_STAFF = Staff()


class KeyField(NamedTuple):
    """What a K: field says.

    Attributes:
        signature: None where the field only says something of the staff.
        staff: what it says of clef and transposition.
        unknown: words that mean nothing.
    """

    signature: Signature | None
    staff: Staff
    unknown: tuple[str, ...] = ()


class VoiceField(NamedTuple):
    """What a V: field says."""

    voice: str
    names: tuple[str, ...]
    staff: Staff
    unknown: tuple[str, ...] = ()


def read_text(value: str) -> str:
    """Read a text string with its escapes for accented letters (§8.2)."""
    return printable(html.unescape(_ESCAPE.sub(_unescaped, value))).strip()


def _unescaped(match: re.Match[str]) -> str:
    code, ligature, mark, letter, sign = match.groups()
    if code:
        return chr(int(code, 16))
    if mark == "/":
        return _LIGATURES.get(mark + letter, letter)
    if mark:
        return unicodedata.normalize("NFC", letter + _MARKS[mark])
    return _LIGATURES[ligature] if ligature else str(sign)


def read_metre(value: str) -> Metre | None:
    """Read an M: field; None for free metre (§3.1.6)."""
    if value.casefold() in FREE:
        return None
    if len(value) > 40:
        raise InputError(f"'{shown(value)}' is not a metre such as 4/4 or 6/8")
    return Metre.parse(value)


def default_unit(metre: Metre | None) -> Fraction:
    """Return the unit note length where there is no L: field (§3.1.7)."""
    short = metre is not None and metre.bar < Fraction(3, 4)
    return Fraction(1, 16) if short else Fraction(1, 8)


def read_unit(value: str) -> Fraction:
    """Read an L: field (§3.1.7)."""
    match = _UNIT.fullmatch(value)
    if match is not None:
        upper, lower = int(match[1]), int(match[2] or 1)
        if lower and SHORTEST_UNIT <= Fraction(upper, lower) <= 1:
            return Fraction(upper, lower)
    raise InputError(f"'{shown(value)}' is not a unit length such as 1/8")


def read_tempo(value: str, unit: Fraction) -> Tempo | None:
    """Read a Q: field; None if it is only a text (§3.1.8, §10.1)."""
    said = _QUOTED.sub(" ", value).strip()
    if not said:
        return None
    match = _TEMPO.fullmatch(said)
    of_units = _TEMPO_OF_UNITS.fullmatch(said) if match is None else None
    if match is not None:
        pairs = [(int(upper), int(lower)) for upper, lower in _BEAT.findall(match[1])]
        beat = sum((Fraction(a, b) for a, b in pairs if b), Fraction(0))
        bpm = float(match[2])
    elif of_units is not None:
        beat, bpm = unit * int(of_units[1] or 1), float(of_units[2])
    else:
        raise InputError(f"'{shown(value)}' is not a tempo such as 1/4=120")
    if not beat or not MIN_BPM <= bpm <= MAX_BPM:
        raise InputError(f"nothing is played at the tempo '{shown(value)}'")
    return Tempo(Fraction(0), bpm, beat)


@lru_cache(maxsize=256)
def read_key(value: str) -> KeyField:
    """Read a K: field (§3.1.14, §4.6)."""
    words = [match[0] for match in _WORD.finditer(value)]
    staff, others = _read_staff(words, bare_none=False)
    signs = [word for word in others if _only_signs(word)]
    names = [word for word in others if not _only_signs(word)]
    if not names:
        only_staff = bool(words) and not signs
        return KeyField(None if only_staff else Signature(None, _signed({}, signs)), staff)
    if names[0] == "none":
        return KeyField(Signature(None, _signed({}, signs)), staff, tuple(names[1:]))
    if names[0] in PIPES:
        key = Key(NoteName("D")) if PIPES[names[0]] else None
        return KeyField(Signature(key, PIPES[names[0]]), staff, tuple(names[1:]))
    tonic, mode, attached, unknown = _read_tonic(names)
    signs = [*attached, *signs]
    if mode == "exp":
        alters = _signed({}, signs)
        return KeyField(Signature(_nearest(_keys_on(tonic), alters), alters), staff, unknown)
    named = Key(tonic, mode)
    alters = _signed(_alters(named), signs)
    key = _nearest([named, *_keys_on(tonic)], alters)
    return KeyField(Signature(key, alters), staff, unknown)


def read_voice(value: str) -> VoiceField:
    """Read a V: field (§7, §7.1)."""
    words = [match[0] for match in _WORD.finditer(value)]
    names = tuple(
        text.strip('"')
        for name, sep, text in (word.partition("=") for word in words[1:])
        if sep and name in ("name", "nm", "subname", "snm", "sname")
    )
    staff, others = _read_staff(words[1:], bare_none=True)
    return VoiceField(words[0][:20] if words else "1", names, staff, tuple(others))


def _only_signs(word: str) -> bool:
    return not _SIGNS.sub("", word)


def _read_tonic(names: list[str]) -> tuple[NoteName, str, list[str], tuple[str, ...]]:
    """Read tonic and mode; the rest are accidentals written onto them, and unknown words."""
    match = _TONIC.match(names[0])
    rest = names[0][match.end() :] if match is not None else ""
    if match is None or not _only_signs(rest):
        raise InputError(f"'{shown(' '.join(names))}' is not a key such as G, Dm or AMix")
    tonic = NoteName.parse(match[1] + match[2])
    mode, unknown = match[3], names[1:]
    if not mode and unknown and _mode_named(unknown[0]) is not None:
        mode, unknown = unknown[0], unknown[1:]
    name = _mode_named(mode)
    if name is None:
        raise InputError(f"'{shown(mode)}' is not a mode such as minor, Mix or Dor")
    return tonic, name, [rest], tuple(unknown)


def _mode_named(word: str) -> str | None:
    start = word.casefold()[:3]
    if start == "exp":
        return start
    # Only the first three letters count, but a single m stands for itself.
    return MODES_BY_START.get(start) if word.isalpha() or not word else None


def _alters(key: Key) -> dict[str, int]:
    return {name.letter: name.alter for name in key.scale if name.alter}


def _signed(base: Mapping[str, int], words: list[str]) -> dict[str, int]:
    """Write accidentals onto a signature."""
    alters = dict(base)
    for sign, letter in (pair for word in words for pair in _SIGNS.findall(word)):
        alters[letter.upper()] = ALTERS[sign] or 0
    return {letter: alter for letter, alter in alters.items() if alter}


def _nearest(keys: list[Key], alters: Mapping[str, int]) -> Key:
    """Return the first of the keys whose signature is most like the one written."""
    return min(keys, key=lambda key: _distance(key, alters))


def _keys_on(tonic: NoteName) -> list[Key]:
    fitting = [mode for mode, fifths in MODES.items() if abs(tonic.fifths + fifths) <= 7]
    return [Key(tonic, mode) for mode in fitting]


def _distance(key: Key, alters: Mapping[str, int]) -> int:
    own = _alters(key)
    return sum(own.get(letter, 0) != alters.get(letter, 0) for letter in LETTERS)


def _read_staff(words: list[str], *, bare_none: bool) -> tuple[Staff, list[str]]:
    """Read clef and transposition; the words that are not about the staff come back."""
    staff, others = Staff(), []
    for word in words:
        name, sep, value = word.partition("=")
        if name and sep and name[0].islower():
            found = _staff_setting(name, value.strip('"'))
            if found is None:
                others.append(word)
            else:
                staff = staff.changed_by(found)
        elif (clef := _clef(word)) is not None and (word != "none" or bare_none):
            staff = staff.changed_by(clef)
        else:
            others.append(word)
    return staff, others


def _staff_setting(name: str, value: str) -> Staff | None:
    """Read one ``name=value``; None if its value cannot be used."""
    if name == "clef":
        return _clef(value)
    if name not in ("octave", "transpose", "t"):
        return Staff()  # §7.1: what is not understood is to be passed over
    number = int(value) if _NUMBER.fullmatch(value) else None
    if number is None or abs(number) > (MOST_OCTAVES if name == "octave" else MOST_SEMITONES):
        return None
    return Staff(octave=number) if name == "octave" else Staff(semitones=number)


def _clef(word: str) -> Staff | None:
    match = _CLEF.fullmatch(word)
    if match is None:
        return None
    octaves = {"8": 1, "15": 2, None: 0}[match[3]]
    return Staff(match[1], -octaves if match[2] == "-" else octaves)
