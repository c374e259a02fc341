"""The header of an ABC tune: what holds before its first note.

Everything here follows the ABC standard 2.1, section 3.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import TypeVar

from fretdrill.errors import InputError, ManyFaults
from fretdrill.scores.abc_fields import (
    NO_SIGNATURE,
    PLAIN_STAFF,
    KeyField,
    Signature,
    Staff,
    default_unit,
    read_key,
    read_metre,
    read_tempo,
    read_text,
    read_unit,
    read_voice,
)
from fretdrill.scores.abc_file import Field, Tune
from fretdrill.scores.abc_notices import Notices, Spot, shown
from fretdrill.scores.abc_tokens import Voice
from fretdrill.scores.reading import Sort
from fretdrill.theory.line import Tempo
from fretdrill.theory.metre import Metre

T = TypeVar("T")

PROPAGATIONS = ("not", "octave", "pitch")
SYMBOLS = {
    "~": "roll",
    ".": "staccato",
    "H": "fermata",
    "L": "accent",
    "M": "lowermordent",
    "O": "coda",
    "P": "uppermordent",
    "S": "segno",
    "T": "trill",
    "u": "upbow",
    "v": "downbow",
}
"""Shorthand → decoration, unless a U: field says otherwise (§4.14, §4.16)."""

_SYMBOL = re.compile(r"([H-Wh-w~])\s*=\s*(\S.*)")
_PART_ORDER = re.compile(r"[\s.]")


@dataclass
class Header:
    """What holds at the beginning of a tune.

    Attributes:
        title: the first title, empty if there is none.
        metre: None for free metre.
        unit: the unit note length.
        tempo: None where nothing is said.
        signature: the key signature.
        staff: clef and transposition, for all voices.
        symbols: shorthand → decoration.
        plus: whether decorations are written between plus signs.
        propagation: how far an accidental reaches, one of :data:`PROPAGATIONS`.
        voices: the voices that are named.
    """

    title: str = ""
    metre: Metre | None = None
    unit: Fraction = Fraction(1, 8)
    tempo: Tempo | None = None
    signature: Signature = NO_SIGNATURE
    staff: Staff = PLAIN_STAFF
    symbols: dict[str, str] = field(default_factory=lambda: dict(SYMBOLS))
    plus: bool = False
    propagation: str = "pitch"  # §11.3: the default
    voices: dict[str, Voice] = field(default_factory=dict)


class FieldReader:
    """Reads single fields and says where they stand when they cannot be read."""

    def __init__(self, source: str, notices: Notices) -> None:
        self.notices = notices
        self._source = source

    def fault(self, message: str, line: int = 0) -> InputError:
        """Word a fault with its place."""
        return InputError(f"{self._source}{f', line {line}' if line else ''}: {message}")

    def must(self, read: Callable[[str], T], value: str, spot: Spot) -> T:
        """Read a value that the notes depend on.

        Raises:
            InputError: it cannot be read.
        """
        try:
            return read(value)
        except InputError as fault:
            raise self.fault(str(fault), spot[0]) from fault

    def key(self, value: str, spot: Spot) -> KeyField:
        """Read a K: field."""
        said = self.must(read_key, value, spot)
        self.unknown("K", said.unknown, spot)
        if said.signature is not None and value.split()[:1] == ["HP"]:
            self.notices.add(
                Sort.CHANGED, "K:HP is read as no signature; F and C are not raised", spot
            )
        return said

    def unknown(self, letter: str, words: tuple[str, ...], spot: Spot) -> None:
        """Notice words of a field that mean nothing."""
        for word in words:
            self.notices.add(
                Sort.DROPPED, f"'{shown(word)}' in a {letter}: field means nothing here", spot
            )

    def tempo(self, value: str, unit: Fraction, spot: Spot) -> Tempo | None:
        """Read a Q: field; one that cannot be read is noticed and passed over."""
        try:
            return read_tempo(value, unit)
        except InputError as fault:
            self.notices.add(Sort.CHANGED, f"{fault}; the tempo stays as it was", spot)
            return None

    def symbol(self, value: str, symbols: dict[str, str], spot: Spot) -> None:
        """Read a U: field into the symbols (§4.16)."""
        match = _SYMBOL.fullmatch(value)
        if match is None:
            self.notices.add(Sort.DROPPED, f"U:{shown(value)} means nothing here", spot)
            return
        name = match[2].strip()
        named = len(name) > 2 and name[0] == name[-1] and name[0] in "!+"
        symbols[match[1]] = name[1:-1] if named else "none"

    def instruction(self, value: str, current: str) -> str:
        """Read what an I: field says of accidentals; all else is passed over (§11.3)."""
        words = value.casefold().split()
        if len(words) >= 2 and words[0] == "propagate-accidentals" and words[1] in PROPAGATIONS:
            return words[1]
        return current


def read_header(tune: Tune, reader: FieldReader) -> Header:
    """Read the header of a tune.

    Raises:
        InputError: a field that the notes depend on cannot be read.
    """
    header = Header()
    unit, tempo = None, None
    faults: list[InputError] = []
    for part in tune.header:
        if part.letter == "L":
            unit = part
        elif part.letter == "Q":
            tempo = part
        else:
            _try(partial(_read_field, header, part, reader), faults)
    if unit is not None:
        read = partial(reader.must, read_unit, unit.value, (unit.line, 0))
        header.unit = _try(read, faults) or header.unit
    else:
        header.unit = default_unit(header.metre)
    if faults:
        raise ManyFaults.of(faults)
    if tempo is not None:
        header.tempo = reader.tempo(tempo.value, header.unit, (tempo.line, 0))
    return header


def _try(read: Callable[[], T], faults: list[InputError]) -> T | None:
    """Read something; a fault joins the others, so that all are told."""
    try:
        return read()
    except InputError as fault:
        faults.append(fault)
        return None


def _read_field(header: Header, part: Field, reader: FieldReader) -> None:
    spot = (part.line, 0)
    if part.letter == "M":
        header.metre = reader.must(read_metre, part.value, spot)
    elif part.letter == "K":
        said = reader.key(part.value, spot)
        header.signature = said.signature or header.signature
        header.staff = header.staff.changed_by(said.staff)
    elif part.letter == "V":
        _add_voice(header, part, reader)
    else:
        _read_other(header, part, reader)


def _add_voice(header: Header, part: Field, reader: FieldReader) -> None:
    said = read_voice(part.value)
    reader.unknown("V", said.unknown, (part.line, 0))
    voice = header.voices.setdefault(said.voice, Voice(said.voice))
    voice.take(said)
    voice.staff = voice.staff.changed_by(said.staff)


def _read_other(header: Header, part: Field, reader: FieldReader) -> None:
    spot = (part.line, 0)
    if part.letter == "T" and not header.title:
        header.title = read_text(part.value)
    elif part.letter == "U":
        reader.symbol(part.value, header.symbols, spot)
    elif part.letter == "P" and len(_PART_ORDER.sub("", part.value)) > 1:
        reader.notices.add(
            Sort.CHANGED,
            f"the order of parts P:{shown(part.value)} is not played out; "
            "the parts are read as they are written",
            spot,
        )
    elif part.letter == "m":
        reader.notices.add(
            Sort.DROPPED,
            "a macro (m:) is not played out",
            spot,
            "{n} macros (m:) are not played out",
        )
    elif part.letter == "I":
        header.propagation = reader.instruction(part.value, header.propagation)
        header.plus = _is_plus(part.value, header.plus)


def _is_plus(value: str, current: bool) -> bool:
    """§12.1.1 and §12.1.2: ``!`` as a line break brings ``+`` for decorations."""
    words = value.casefold().split()
    if words[:1] == ["linebreak"] and "!" in words[1:]:
        return True
    if words[:1] == ["decoration"] and len(words) > 1:
        return words[1] == "+"
    return current
