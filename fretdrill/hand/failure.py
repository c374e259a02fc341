"""Why there is no fingering: causes as data."""

from collections.abc import Sequence
from dataclasses import dataclass

from fretdrill.errors import InputError
from fretdrill.hand.states import Pin


@dataclass(frozen=True, slots=True)
class OutOfRange:
    """A note lies outside the neck.

    Attributes:
        index: which note, from 1.
        note: its name with its octave.
        lowest, highest: names of the outermost notes of the neck.
    """

    index: int
    note: str
    lowest: str
    highest: str

    def __str__(self) -> str:
        return f"note {self.index} is {self.note}; the neck has {self.lowest} to {self.highest}"


@dataclass(frozen=True, slots=True)
class NoOpenString:
    """A note lies on an open string alone, and none may be used."""

    index: int
    note: str

    def __str__(self) -> str:
        return f"note {self.index}, {self.note}, lies on an open string alone"


@dataclass(frozen=True, slots=True)
class ImpossiblePin:
    """What was settled about a note cannot be.

    Attributes:
        index: which note, from 1.
        note: its name with its octave.
        pin: what was asked for.
        limit: which limit it breaks, in words.
    """

    index: int
    note: str
    pin: Pin
    limit: str

    def __str__(self) -> str:
        return f"note {self.index}, {self.note}: {self.limit}"


@dataclass(frozen=True, slots=True)
class NoTime:
    """However two notes are taken, the hand has no time to get from one to the other."""

    index: int
    available_s: float

    def __str__(self) -> str:
        return (
            f"no hand gets from note {self.index} to note {self.index + 1} "
            f"in {self.available_s:.2f} s"
        )


Cause = OutOfRange | NoOpenString | ImpossiblePin | NoTime
MOST_TOLD = 5


class NoFingering(InputError):
    """A line cannot be fingered as asked.

    Attributes:
        causes: all that stands in the way, in the order of the line.
    """

    def __init__(self, causes: Sequence[Cause], advice: str = "") -> None:
        self.causes = tuple(causes)
        off = [cause for cause in self.causes if isinstance(cause, OutOfRange)]
        others = [cause for cause in self.causes if not isinstance(cause, OutOfRange)]
        told = [_off_the_neck(off)] if off else []
        told += map(str, others[:MOST_TOLD])
        if len(others) > MOST_TOLD:
            told.append(f"and {len(others) - MOST_TOLD} more")
        super().__init__("; ".join([*told, advice] if advice else told))


def _off_the_neck(causes: Sequence[OutOfRange]) -> str:
    if len(causes) == 1:
        return str(causes[0])
    named = ", ".join(f"{cause.index} ({cause.note})" for cause in causes[:MOST_TOLD])
    rest = f" and {len(causes) - MOST_TOLD} more" if len(causes) > MOST_TOLD else ""
    return (
        f"notes {named}{rest} lie off the neck, which has {causes[0].lowest} to {causes[0].highest}"
    )
