"""Every kind of drill by name: one line each."""

from typing import Any

from fretdrill.engine.kind import Kind
from fretdrill.engine.kinds.ahead import Ahead
from fretdrill.engine.kinds.chord import ChordTones
from fretdrill.engine.kinds.find import Find
from fretdrill.engine.kinds.finger import Finger
from fretdrill.engine.kinds.name import Name
from fretdrill.engine.kinds.read import Read
from fretdrill.engine.kinds.shift import ShiftKind
from fretdrill.engine.kinds.slur import Slur
from fretdrill.errors import UnknownName

KINDS: dict[str, Kind[Any]] = {
    kind.name: kind
    for kind in (
        Find(),
        Name(),
        Finger(),
        ChordTones(),
        Read(),
        Slur(),
        Ahead(),
        ShiftKind(),
    )
}


def kind_named(name: str) -> Kind[Any]:
    """Return a kind of drill.

    Raises:
        UnknownName: there is none of that name.
    """
    try:
        return KINDS[name]
    except KeyError:
        raise UnknownName("kind of drill", name, KINDS) from None
