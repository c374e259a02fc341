"""Every kind of drill by name: one line each."""

from fretdrill.engine.kind import Kind
from fretdrill.engine.kinds.find import Find
from fretdrill.engine.kinds.finger import Finger
from fretdrill.engine.kinds.name import Name
from fretdrill.errors import UnknownName

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Find(),
        Name(),
        Finger(),
    )
}


def kind_named(name: str) -> Kind:
    """Return a kind of drill.

    Raises:
        UnknownName: there is none of that name.
    """
    try:
        return KINDS[name]
    except KeyError:
        raise UnknownName("kind of drill", name, KINDS) from None
