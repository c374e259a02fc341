"""Packs: a session's drills, written by a teacher as TOML.

::

    title = "Fifth position"
    about = "Naturals, then every note, where one finger per fret is comfortable."

    [[drill]]
    kind = "find"
    scope = ["position 5, strings 3-4", "position 5"]   # narrow to wide
    notes = "naturals"
    order = "listed"
    count = 4

``scope`` and ``notes`` are the words of :mod:`fretdrill.neck.scope` and
:mod:`fretdrill.engine.noteset`. A pack is read whole: all its faults come at once.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.drill import ORDERS, Drill
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.registry import KINDS
from fretdrill.engine.table import Setting
from fretdrill.errors import InputError, Located, ManyFaults
from fretdrill.neck.scope import Scope

MOST_QUESTIONS = 500
MOST_RANK = 100
DEFAULT_SCOPES = (
    "position 1, open strings",
    "position 5, open strings",
    "frets 0-12",
    "whole neck",
)
"""Scopes of a drill that names none, narrow to wide."""


def _notes(value: Any) -> NoteSet:
    return NoteSet.parse(" ".join(map(str, table.list_of(table.text)(value))))


DRILL_SETTINGS = {
    "kind": Setting(table.one_of("kind of drill", tuple(KINDS)), required=True),
    "scope": Setting(
        table.list_of(table.parsed(Scope.parse)), tuple(map(Scope.parse, DEFAULT_SCOPES))
    ),
    "notes": Setting(_notes, NoteSet.parse("naturals")),
    "order": Setting(table.one_of("order", ORDERS), "shuffled"),
    "count": Setting(table.whole_number(1, MOST_QUESTIONS), 10),
}
"""The settings of one drill, for packs and the command line alike."""


def _tables(value: Any) -> list[Mapping[str, Any]]:
    if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
        raise InputError("is not a list of tables; write [[drill]] above each drill")
    return value


PACK_SETTINGS = {
    "title": Setting(table.text, required=True),
    "about": Setting(table.text, ""),
    "rank": Setting(table.whole_number(0, MOST_RANK), MOST_RANK),
    "drill": Setting(_tables, [], required=True),
}


@dataclass(frozen=True)
class Pack:
    """A session's drills.

    Attributes:
        title: what the session is called.
        about: what it is for, in a sentence.
        rank: where it stands in a list of packs; low numbers come first.
        drills: in the order they are taken.
    """

    title: str
    about: str
    rank: int
    drills: tuple[Drill, ...]


def read_drill(
    settings: Mapping[str, Any], source: str, path: str = ""
) -> tuple[Drill | None, list[Located]]:
    """Read one drill's settings; None and the faults if there are any."""
    values, faults = table.read_table(settings, DRILL_SETTINGS, source, path)
    if faults:
        return None, faults
    drill = Drill(
        kind=values["kind"],
        scopes=values["scope"],
        notes=values["notes"],
        order=values["order"],
        count=values["count"],
    )
    return drill, []


def read_pack(content: str, source: str) -> Pack:
    """Read a pack.

    Args:
        content: the TOML text.
        source: file name, for the faults.

    Raises:
        ManyFaults: all that is wrong with it.
    """
    written = table.parse_toml(content, source)
    values, faults = table.read_table(written, PACK_SETTINGS, source)
    drills = []
    for number, settings in enumerate(values["drill"], start=1):
        drill, drill_faults = read_drill(settings, source, f"drill[{number}]")
        faults += drill_faults
        if drill is not None:
            drills.append(drill)
    if not values["drill"] and not any(fault.key == "drill" for fault in faults):
        faults.append(Located(source, "drill", "there are no drills"))
    if faults:
        raise ManyFaults(faults)
    return Pack(values["title"], values["about"], values["rank"], tuple(drills))
