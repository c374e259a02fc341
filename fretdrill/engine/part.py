"""A part of the neck and the notes there: what find, name and finger are about."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.kind import FindLine
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.player import Player
from fretdrill.engine.table import Setting
from fretdrill.errors import NothingToAsk
from fretdrill.neck.scope import Scope

DEFAULT_SCOPES = (
    "position 1, open strings",
    "position 5, open strings",
    "frets 0-12",
    "whole neck",
)
"""Scopes of a drill that names none, narrow to wide."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the neck and the notes there.

    Attributes:
        scope: the part of the neck.
        notes: the notes that count.
    """

    scope: Scope
    notes: NoteSet


def read_notes(value: Any) -> NoteSet:
    """Read a note set, as text or as a list of notes."""
    return NoteSet.parse(" ".join(map(str, table.list_of(table.text)(value))))


SCOPE = Setting(table.list_of(table.parsed(Scope.parse)), tuple(map(Scope.parse, DEFAULT_SCOPES)))
"""The setting of the parts of the neck, narrow to wide."""


class PartKind:
    """What kinds have in common that are about a part of the neck and its notes."""

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        return {"scope": SCOPE, "notes": Setting(read_notes, NoteSet.parse("naturals"))}

    def stages(self, values: Mapping[str, Any]) -> tuple[Part, ...]:
        """Return the same notes in every scope."""
        return tuple(Part(scope, values["notes"]) for scope in values["scope"])

    def wording(self, stages: tuple[Part, ...]) -> str:
        """Return scopes and notes as text."""
        return f"{' | '.join(str(part.scope) for part in stages)}; {stages[0].notes}"

    def check(self, player: Player, stage: Part) -> None:
        """Make sure that a part lies on the neck and has notes of the set.

        Raises:
            InputError: its scope does not fit the neck.
            NothingToAsk: no note of the set lies in it.
        """
        stage.scope.check(player.neck)
        if not self.foci(player, stage):
            raise NothingToAsk(f"no note of '{stage.notes}' can be asked in '{stage.scope}'")

    def foci(self, player: Player, stage: Part) -> tuple[str, ...]:
        """Return everything that can be asked about, in a teacher's order."""
        raise NotImplementedError
