"""What reading a file gives: a line, and what there is to say about it."""

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from fretdrill.theory.line import Line


class Sort(Enum):
    """What a notice tells."""

    CHOSEN = "chosen"  # which of several tunes or tracks was taken, and why
    CHANGED = "changed"  # read otherwise than it was written
    DROPPED = "dropped"  # left out


class Notice(NamedTuple):
    """One thing to say about a file that could be read.

    Attributes:
        sort: what it tells.
        where: the place in the source, such as ``"line 7, column 3"``; empty for all.
        message: one sentence without a full stop.
    """

    sort: Sort
    where: str
    message: str

    def __str__(self) -> str:
        return f"{self.where}: {self.message}" if self.where else self.message


@dataclass(frozen=True)
class Reading:
    """A line as it was read.

    Attributes:
        line: the line.
        notices: what was chosen, changed and dropped, in the order of the source.
    """

    line: Line
    notices: tuple[Notice, ...] = ()
