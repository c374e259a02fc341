"""Every fault a user can meet, as one tree.

::

    FretdrillError
    ├── InputError          what was given cannot be used (also a ValueError)
    │   ├── UnknownName     a name that is not known, with the nearest that is
    │   ├── ManyFaults      all that is wrong with one file or table, at once
    │   └── NothingToAsk    the settings leave no question to ask
    └── JournalError        the practice journal cannot be used
        ├── JournalTooNew   written by a newer fretdrill; left untouched
        └── JournalUnusable cannot be opened, read or written
            └── JournalDamaged  its file is damaged

Messages are one sentence, without a full stop, and name the offending value.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple


class FretdrillError(Exception):
    """Root of all errors that are worded for the user."""


class InputError(FretdrillError, ValueError):
    """What was given cannot be used."""


class UnknownName(InputError):
    """A name is not one of the known ones.

    Attributes:
        what: the sort of thing asked for, such as ``"tuning"``.
        value: the name as it was given.
        nearest: the known name most like it, if any is.
    """

    def __init__(
        self, what: str, value: object, known: Iterable[str], *, all_told: bool = True
    ) -> None:
        """Word the fault.

        Args:
            what: the sort of thing asked for.
            value: the name as it was given.
            known: names that are known.
            all_told: whether there are no others.
        """
        names = list(known)
        self.what = what
        self.value = value
        self.nearest = nearest_name(str(value), names)
        if self.nearest is not None and self.nearest != value:
            advice = f"did you mean '{self.nearest}'?"
        elif not all_told:
            advice = "write for example " + ", ".join(names)
        elif len(names) <= 12:
            advice = "known: " + ", ".join(names)
        else:
            advice = f"known: {', '.join(names[:12])} …"
        super().__init__(f"unknown {what} '{value}'; {advice}")


class Located(NamedTuple):
    """One fault and where it stands.

    Attributes:
        source: file name, or a word for where the table came from; empty if the message says.
        key: dotted key inside it, such as ``drill[2].scope``; empty for the whole.
        message: what is wrong.
    """

    source: str
    key: str
    message: str

    def __str__(self) -> str:
        where = ": ".join(filter(None, (self.source, self.key)))
        return f"{where}: {self.message}" if where else self.message


class ManyFaults(InputError):
    """All that is wrong with one file or table."""

    def __init__(self, faults: Sequence[Located]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    @classmethod
    def of(cls, faults: "Sequence[InputError]") -> "InputError":
        """Return several faults that name their place as one."""
        if len(faults) == 1:
            return faults[0]
        return cls([Located("", "", str(fault)) for fault in faults])


class NothingToAsk(InputError):
    """The settings leave no question to ask."""


class JournalError(FretdrillError):
    """The practice journal cannot be used."""


class JournalTooNew(JournalError):
    """The journal was written by a newer fretdrill."""


class JournalUnusable(JournalError):
    """The journal cannot be opened, read or written."""


class JournalDamaged(JournalUnusable):
    """The journal's file is damaged."""


def printable(text: str) -> str:
    """Return text that is safe to print: control characters become ``?``."""
    return "".join(sign if sign.isprintable() or sign == "\n" else "?" for sign in text)


def nearest_name(value: str, known: Iterable[str]) -> str | None:
    """Return the known name most like ``value``, or None if none is close."""
    from difflib import get_close_matches  # only when something is wrong

    by_folded = {name.casefold(): name for name in known}
    close = get_close_matches(value.casefold(), by_folded, n=1, cutoff=0.6)
    return by_folded[close[0]] if close else None
