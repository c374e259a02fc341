"""Collecting what there is to say about a tune, briefly.

The same thing said of many places becomes one notice with their number, at the
first of them, so that a long tune does not give a long list.
"""

from fretdrill.errors import printable
from fretdrill.scores.reading import Notice, Sort

Spot = tuple[int, int]
"""Line and column in the source, from 1; 0 where there is none."""

NOWHERE: Spot = (0, 0)
MOST_SIGNS = 12
MOST_NOTICES = 60
_LONGEST = 40


def place_text(spot: Spot) -> str:
    """Print a place, such as ``"line 7, column 3"``; empty for nowhere."""
    line, column = spot
    if not line:
        return ""
    return f"line {line}, column {column}" if column else f"line {line}"


def shown(text: str) -> str:
    """Return text from a file so that it is short and safe to print."""
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
    return printable(short).replace("\n", " ")


class Notices:
    """What has been noticed so far."""

    def __init__(self) -> None:
        self._spots: dict[tuple[Sort, str, str], dict[Spot, None]] = {}
        self._signs: set[str] = set()

    def add(self, sort: Sort, one: str, spot: Spot = NOWHERE, many: str = "") -> None:
        """Notice one thing.

        Args:
            sort: what it tells.
            one: the sentence if it is met once.
            spot: where it is met.
            many: the sentence if it is met in several places, with ``{n}`` for their number.
        """
        self._spots.setdefault((sort, one, many), {})[spot] = None

    def stray(self, sign: str, spot: Spot) -> None:
        """Notice a sign that means nothing where it stands; each sign once."""
        if sign in self._signs:
            return
        self._signs.add(sign)
        if len(self._signs) <= MOST_SIGNS:
            self.add(Sort.DROPPED, f"'{shown(sign)}' means nothing here and is left out", spot)
        else:
            self.add(
                Sort.DROPPED,
                "one more sign means nothing and is left out",
                spot,
                "{n} more signs mean nothing and are left out",
            )

    def all(self) -> tuple[Notice, ...]:
        """Return the notices in the order of the source."""
        found = []
        for (sort, one, many), spots in self._spots.items():
            first = min(spots)
            count = len(spots)
            message = many.replace("{n}", f"{count:,}") if many and count > 1 else one
            found.append((first, Notice(sort, place_text(first), message)))
        notices = [notice for _, notice in sorted(found, key=lambda pair: pair[0])]
        if len(notices) > MOST_NOTICES:
            rest = len(notices) - MOST_NOTICES
            notices[MOST_NOTICES:] = [Notice(Sort.DROPPED, "", f"{rest:,} more notices like these")]
        return tuple(notices)
