"""The part of the neck that a drill is about.

A scope is a run of frets on some of the strings, with or without the open
strings. It is written in plain words, so that packs, the command line and the
journal share one form::

    position 5                     frets 5 to 8 on every string
    half position                  frets 1 to 3, the upright player's lowest place
    frets 5-9, strings 3-4         a range of frets on two strings
    string 2                       one string from open to the last fret
    position 1, open strings       with the open strings
    whole neck

Open strings belong to ``string`` and ``whole neck`` scopes and to fret ranges
that begin at 0; elsewhere they are asked for, and ``no open strings`` leaves
them out.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Self

from fretdrill.errors import InputError, nearest_name
from fretdrill.neck.neck import MAX_FRETS, Neck, Place
from fretdrill.neck.position import POSITION_FRETS, UPRIGHT_FRETS, parse_position

_WORDS = ("position", "frets", "string", "strings", "whole neck", "half position", "open strings")
_RANGE = re.compile(r"(\d{1,2})(?:\s*(?:-|–|to)\s*(\d{1,2}))?")


@dataclass(frozen=True, slots=True)
class Scope:
    """Part of a neck.

    Attributes:
        first_fret, last_fret: stopped frets, 1 or more; ``last_fret`` is cut to
            the neck it is used on.
        strings: string numbers, or None for all.
        open_strings: whether fret 0 counts as well.
        position: the hand's position, where the scope is one.
    """

    first_fret: int = 1
    last_fret: int = MAX_FRETS
    strings: tuple[int, ...] | None = None
    open_strings: bool = True
    position: int | None = None

    @classmethod
    def at_position(cls, position: int, *, open_strings: bool = False) -> Self:
        """Return the four frets of a position."""
        last = position + POSITION_FRETS - 1
        return cls(position, last, open_strings=open_strings, position=position)

    @classmethod
    def parse(cls, text: str) -> "Scope":
        """Read a scope in words.

        Raises:
            InputError: a part of the text is not understood or contradicts another.
        """
        where: Scope | None = None
        strings: tuple[int, ...] | None = None
        open_strings: bool | None = None
        for part in text.split(","):
            words = " ".join(part.split()).casefold()
            if words.removesuffix("s") in ("open string", "no open string"):
                _refuse_second(open_strings, text, "says twice whether open strings count")
                open_strings = not words.startswith("no")
            elif words.startswith("string"):
                _refuse_second(strings, text, "names strings twice; write 'strings 1 2'")
                strings = _strings(words)
            else:
                _refuse_second(where, text, "names two parts of the neck; keep one of them")
                where = _frets(words, text)
        scope = where or cls()
        opened = scope.open_strings if open_strings is None else open_strings
        return replace(scope, strings=strings, open_strings=opened)

    def check(self, neck: Neck) -> None:
        """Make sure that the scope lies on a neck.

        Raises:
            InputError: it begins beyond the last fret or names a string too many.
        """
        if self.first_fret > neck.frets:
            raise InputError(f"{self} lies beyond the last fret, {neck.frets}")
        missing = [string for string in self.strings or () if string > len(neck.tuning)]
        if missing:
            raise InputError(f"there is no string {missing[0]}: the neck has {len(neck.tuning)}")

    def frets(self, neck: Neck) -> tuple[int, ...]:
        """Return the frets of the scope on a neck, 0 first if it counts."""
        stopped = range(self.first_fret, min(self.last_fret, neck.frets) + 1)
        return (0, *stopped) if self.open_strings else tuple(stopped)

    def places(self, neck: Neck) -> tuple[Place, ...]:
        """Return the places of the scope, from the lowest string up."""
        strings = neck.strings if self.strings is None else self.strings
        frets = self.frets(neck)
        return tuple(
            Place(string, fret) for string in sorted(strings, reverse=True) for fret in frets
        )

    def __contains__(self, place: Place) -> bool:
        on_string = self.strings is None or place.string in self.strings
        if place.fret == 0:
            return on_string and self.open_strings
        return on_string and self.first_fret <= place.fret <= self.last_fret

    def __str__(self) -> str:
        """Print in the form that :meth:`parse` reads."""
        return ", ".join(self._parts())

    def _parts(self) -> Iterator[str]:
        whole = self.first_fret == 1 and self.last_fret >= MAX_FRETS
        if self.position is not None and self.last_fret - self.first_fret == UPRIGHT_FRETS - 1:
            yield "half position"
        elif self.position is not None:
            yield f"position {self.position}"
        elif not whole:
            yield f"frets {self.first_fret}-{self.last_fret}"
        elif self.strings is None:
            yield "whole neck"
        if self.strings is not None:
            word = "string" if len(self.strings) == 1 else "strings"
            yield f"{word} {_runs(self.strings)}"
        if self.open_strings != whole:
            yield "open strings" if self.open_strings else "no open strings"


def _refuse_second(first: object, text: str, problem: str) -> None:
    if first is not None:
        raise InputError(f"'{text}' {problem}")


def _frets(words: str, text: str) -> Scope:
    if words == "whole neck":
        return Scope()
    if words == "half position":
        return Scope(1, UPRIGHT_FRETS, open_strings=False, position=1)
    match words.split(" ", 1):
        case ["position", number]:
            return Scope.at_position(parse_position(number))
        case [number, "position"]:
            return Scope.at_position(parse_position(number))
        case ["frets" | "fret", numbers]:
            first, last = _range(numbers, "fret")
            if last > MAX_FRETS:
                raise InputError(f"no neck has a fret {last}; the most is {MAX_FRETS}")
            if last == 0:
                raise InputError("for the open strings alone there is nothing to press; add frets")
            return Scope(max(first, 1), last, open_strings=first == 0)
    near = nearest_name(words, _WORDS) or nearest_name(words.split(" ")[0], _WORDS)
    hint = f"; did you mean '{near}'?" if near and near not in words.split(" ") else ""
    raise InputError(
        f"'{text}' is not a part of the neck such as 'position 5', 'frets 5-9', "
        f"'string 2' or 'whole neck'{hint}"
    )


def _strings(words: str) -> tuple[int, ...]:
    numbers: set[int] = set()
    listed = words.removeprefix("strings").removeprefix("string").replace(" to ", "-")
    for part in listed.replace("+", " ").split():
        first, last = _range(part, "string")
        if first == 0:
            raise InputError("strings are counted from 1, the highest")
        numbers.update(range(first, last + 1))
    if not numbers:
        raise InputError("which string? write for example 'string 2' or 'strings 3-4'")
    return tuple(sorted(numbers))


def _range(text: str, what: str) -> tuple[int, int]:
    match = _RANGE.fullmatch(text.strip())
    if match is None:
        raise InputError(f"'{text}' is not a {what} or a range of them such as 3-4")
    first = int(match[1])
    last = int(match[2]) if match[2] else first
    if first > last:
        raise InputError(f"'{text}' runs backwards")
    return first, last


def _runs(numbers: tuple[int, ...]) -> str:
    contiguous = numbers[-1] - numbers[0] == len(numbers) - 1
    if contiguous and len(numbers) > 1:
        return f"{numbers[0]}-{numbers[-1]}"
    return " ".join(map(str, numbers))
