"""The notes that a drill is about.

Written in plain words, one form for packs, the command line and the journal::

    naturals           C D E F G A B
    chromatic          all twelve, spelled as the player likes accidentals
    key F major        the notes of a key
    chord Dm7          the tones of a chord
    D G Bb             a list
"""

from dataclasses import dataclass
from typing import Self

from fretdrill.errors import InputError, UnknownName, nearest_name
from fretdrill.theory.chord import Chord
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import FLAT_NAMES, LETTERS, SHARP_NAMES, NoteName

_WORDS = ("naturals", "chromatic", "key", "chord")


@dataclass(frozen=True, slots=True)
class NoteSet:
    """A set of notes in a teacher's order.

    Attributes:
        text: the canonical wording, read by :meth:`parse`.
        listed: the names, or None for ``chromatic``, whose names are the player's.
        context: the key or the chord, where the set is one.
    """

    text: str
    listed: tuple[NoteName, ...] | None
    context: Key | Chord | None = None

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a note set in words.

        Raises:
            InputError: a note, key or chord in it is not one.
        """
        words = text.replace(",", " ").split()
        if not words:
            raise InputError("no notes given; write for example 'naturals' or 'D G Bb'")
        match [words[0].casefold(), *words[1:]]:
            case ["naturals"]:
                return cls("naturals", tuple(map(NoteName, LETTERS)))
            case ["chromatic"]:
                return cls("chromatic", None)
            case ["key", *rest]:
                key = Key.parse(" ".join(rest))
                return cls(f"key {key}", key.scale, key)
            case ["chord", symbol]:
                chord = Chord.parse(symbol)
                return cls(f"chord {chord}", chord.tones, chord)
            case ["chord", *_]:
                raise InputError("give one chord, such as 'chord Dm7'")
            case [("naturals" | "chromatic") as word, *_]:
                raise InputError(f"'{word}' stands alone, without other notes")
        if len(words[0]) > 3 and nearest_name(words[0], _WORDS):
            raise UnknownName("note set", text, _WORDS)
        names = dict.fromkeys(_names(words))
        return cls(" ".join(map(str, names)), tuple(names))

    def names(self, accidentals: str = "flats") -> tuple[NoteName, ...]:
        """Return the names, each note once unless ``accidentals`` is ``"both"``."""
        if self.listed is not None:
            return self.listed
        if accidentals == "both":
            return tuple(dict.fromkeys((*FLAT_NAMES, *SHARP_NAMES)))
        return SHARP_NAMES if accidentals == "sharps" else FLAT_NAMES

    def spell(self, midi: int, accidentals: str = "flats") -> tuple[NoteName, ...]:
        """Return the names of this set that a pitch can carry; none if outside."""
        return tuple(name for name in self.names(accidentals) if name.pitch_class == midi % 12)

    def __str__(self) -> str:
        return self.text


def _names(words: list[str]) -> list[NoteName]:
    """Read note names; all that are none come in one fault."""
    names, problems = [], []
    for word in words:
        try:
            names.append(NoteName.parse(word))
        except InputError as fault:
            problems.append(str(fault))
    if problems:
        raise InputError("; ".join(problems))
    return names
