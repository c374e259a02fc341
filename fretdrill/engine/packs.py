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
:mod:`fretdrill.engine.noteset`; which settings there are depends on the kind. A pack is
read whole: all its faults come at once.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.drill import ORDERS, Drill
from fretdrill.engine.kind import FindLine, no_lines
from fretdrill.engine.registry import KINDS
from fretdrill.engine.table import Setting
from fretdrill.errors import InputError, Located, ManyFaults

MOST_QUESTIONS = 500
MOST_RANK = 100

DRILL_SETTINGS = {
    "order": Setting(table.one_of("order", ORDERS), "shuffled"),
    "count": Setting(table.whole_number(1, MOST_QUESTIONS), 10),
}
"""The settings that drills of every kind have, beside their kind and its own ones."""


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


def read_kind(value: Any) -> str:
    """Read the name of a kind of drill."""
    return table.one_of("kind of drill", tuple(KINDS))(value)


def read_drill(
    settings: Mapping[str, Any], source: str, path: str = "", find_line: FindLine = no_lines
) -> tuple[Drill | None, list[Located]]:
    """Read one drill's settings; None and the faults if there are any.

    Args:
        settings: what was written.
        source: where it was written, for the faults.
        path: dotted path of the table inside the source.
        find_line: reads the lines that it names.
    """
    expected = {"kind": Setting(read_kind, required=True), **DRILL_SETTINGS}
    name = settings.get("kind")
    if isinstance(name, str) and name in KINDS:
        expected |= KINDS[name].settings(find_line)
    else:  # which settings it should have cannot be told; those of any kind are read
        for kind in reversed(KINDS.values()):
            expected |= kind.settings(find_line)
    values, faults = table.read_table(settings, expected, source, path)
    if faults:
        return None, faults
    kind = KINDS[values["kind"]]
    try:
        stages = kind.stages(values)
    except InputError as fault:
        return None, [Located(source, path, str(fault))]
    return Drill(kind.name, stages, values["order"], values["count"]), []


def read_pack(content: str, source: str, find_line: FindLine = no_lines) -> Pack:
    """Read a pack.

    Args:
        content: the TOML text.
        source: file name, for the faults.
        find_line: reads the lines that it names.

    Raises:
        ManyFaults: all that is wrong with it.
    """
    written = table.parse_toml(content, source)
    values, faults = table.read_table(written, PACK_SETTINGS, source)
    drills = []
    for number, settings in enumerate(values["drill"], start=1):
        drill, drill_faults = read_drill(settings, source, f"drill[{number}]", find_line)
        faults += drill_faults
        if drill is not None:
            drills.append(drill)
    if not values["drill"] and not any(fault.key == "drill" for fault in faults):
        faults.append(Located(source, "drill", "there are no drills"))
    if faults:
        raise ManyFaults(faults)
    return Pack(values["title"], values["about"], values["rank"], tuple(drills))
