"""The lines that drills ask about: written ones, and ones made up as they are needed.

A made line is named by its figure, its key and a number, such as ``arpeggio in F major 3``;
the name alone decides its notes on a neck.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.figures import FIGURES, make_line
from fretdrill.engine.kind import FindLine
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.table import Setting
from fretdrill.errors import InputError
from fretdrill.neck.neck import Neck
from fretdrill.theory.key import Key

MADE_EACH = 20
"""Lines of one figure in one key."""

DEFAULT_KEYS = tuple(map(Key.parse, ("G major", "F major", "D minor", "Bb major", "E minor")))


@dataclass(frozen=True, slots=True)
class Lines:
    """Some lines.

    Attributes:
        written: lines that somebody wrote.
        figures: figures to make lines of.
        keys: the keys that these are made in.
    """

    written: tuple[Piece, ...] = ()
    figures: tuple[str, ...] = ()
    keys: tuple[Key, ...] = DEFAULT_KEYS

    @property
    def made(self) -> tuple[str, ...]:
        """The names of the lines that can be made."""
        return _names(self.figures, self.keys)

    def named(self, name: str, player: Player) -> Piece:
        """Return one of these lines by its name."""
        for piece in self.written:
            if piece.name == name:
                return piece
        return _made(name, player.neck)

    def __str__(self) -> str:
        """Print which lines these are."""
        parts = [piece.name for piece in self.written]
        if self.figures:
            parts.append(f"{', '.join(self.figures)} in {', '.join(map(str, self.keys))}")
        return ", ".join(parts)


@lru_cache(maxsize=64)
def _names(figures: tuple[str, ...], keys: tuple[Key, ...]) -> tuple[str, ...]:
    numbers = range(1, MADE_EACH + 1)
    return tuple(f"{f} in {key} {n}" for n in numbers for f in figures for key in keys)


@lru_cache(maxsize=256)
def _made(name: str, neck: Neck) -> Piece:
    figure, rest = name.split(" in ", 1)
    key, number = rest.rsplit(" ", 1)
    return Piece(name, make_line(figure, Key.parse(key), int(number), neck))


def mixed(written: Sequence[str], made: Sequence[str]) -> tuple[str, ...]:
    """Return foci of both sorts, no more of made lines than of written ones if there are any."""
    return (*written, *(made[: len(written)] if written else made))


def line_settings(find_line: FindLine) -> Mapping[str, Setting]:
    """Return the settings that say which lines a drill is about."""
    return {
        "line": Setting(table.list_of(lambda value: _piece(table.text(value), find_line)), ()),
        "figure": Setting(table.list_of(table.one_of("figure", FIGURES)), ()),
        "key": Setting(table.list_of(table.parsed(Key.parse)), DEFAULT_KEYS),
    }


def _piece(name: str, find_line: FindLine) -> Piece:
    line = find_line(name)
    if not line.notes:
        raise InputError(f"the line '{name}' has no notes")
    return Piece(name, line)


def lines_of(values: Mapping[str, Any], default: Sequence[str] = FIGURES) -> Lines:
    """Return the lines that settings name.

    Args:
        values: the settings.
        default: the figures of made lines, where the settings name no lines at all.

    Raises:
        InputError: keys are given, but no figures that could be made in them.
    """
    written: Sequence[Piece] = values["line"]
    figures = tuple(values["figure"])
    keys = tuple(values["key"])
    if written and not figures and keys != DEFAULT_KEYS:
        raise InputError("a written line has its own key; 'key' goes with 'figure'")
    return Lines(tuple(written), figures or (() if written else tuple(default)), keys)
