"""Simple ways to finger a line, to measure the planner against. Each returns fingers."""

from collections.abc import Callable, Sequence

from fretdrill.neck.neck import Neck, Place

WINDOW = 4  # one finger per fret


def lowest_fret(neck: Neck, midis: Sequence[int]) -> list[int]:
    """Take the lowest fret, the hand in position I: finger = fret, 4 at most."""
    return [min(WINDOW, *(place.fret for place in neck.places_of(midi))) for midi in midis]


def nearest_place(neck: Neck, midis: Sequence[int]) -> list[int]:
    """Take the place nearest to the four frets under the hand and move it no further.

    The hand begins in position I; open strings are always near, ties go to the lower fret.
    """
    fingers, anchor = [], 1
    for midi in midis:
        places = neck.places_of(midi)
        place = min(places, key=lambda p: (_away(p.fret, anchor), p.fret))
        if place.fret:
            anchor = min(max(anchor, place.fret - WINDOW + 1), place.fret)
            fingers.append(place.fret - anchor + 1)
        else:
            fingers.append(0)
    return fingers


def _away(fret: int, anchor: int) -> int:
    return max(0, anchor - fret, fret - (anchor + WINDOW - 1)) if fret else 0


def fewest_shifts(neck: Neck, midis: Sequence[int]) -> list[int]:
    """Move the hand as seldom as one finger per fret allows, then stay as low as it allows."""
    anchors = range(1, neck.frets - WINDOW + 2)
    costs: dict[int, tuple[int, int]] = dict.fromkeys(anchors, (0, 0))
    came: list[dict[int, int]] = []
    for midi in midis:
        here: dict[int, tuple[int, int]] = {}
        back: dict[int, int] = {}
        moved = min(costs, key=lambda a: (costs[a], a))
        for anchor in anchors:
            if _covered(neck, midi, anchor) is None:
                continue
            ways = [((costs[moved][0] + 1, costs[moved][1]), moved)]
            if anchor in costs:
                ways.append((costs[anchor], anchor))
            (shifts, low), back[anchor] = min(ways)
            here[anchor] = (shifts, low + anchor)
        costs = here
        came.append(back)
    anchor = min(costs, key=lambda a: (costs[a], a))
    fingers = []
    for midi, back in zip(reversed(midis), reversed(came), strict=True):
        place = _covered(neck, midi, anchor)
        assert place is not None
        fingers.append(place.fret - anchor + 1 if place.fret else 0)
        anchor = back[anchor]
    return fingers[::-1]


def _covered(neck: Neck, midi: int, anchor: int) -> Place | None:
    """Return where a pitch lies open or under the hand; the lowest fret if twice."""
    places = [p for p in neck.places_of(midi) if _away(p.fret, anchor) == 0]
    return min(places, key=lambda p: p.fret, default=None)


BASELINES: dict[str, Callable[[Neck, Sequence[int]], list[int]]] = {
    "lowest fret, position I": lowest_fret,
    "nearest place": nearest_place,
    "fewest shifts": fewest_shifts,
}
"""Name → the way to finger."""
