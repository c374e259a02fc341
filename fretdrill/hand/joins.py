"""How two notes can be joined without a second pluck.

Rules (several guitar and bass lessons): a hammer-on goes up on one string to
a higher finger while the lower one holds; a pull-off goes down to a lower finger that is
already on its fret, or to the open string; a slide keeps finger and string.
"""

import math
from enum import Enum

from fretdrill.hand.hand import Hand
from fretdrill.hand.reach import pair_stretch
from fretdrill.hand.states import State
from fretdrill.neck.neck import Neck
from fretdrill.theory.line import Join


class Technique(Enum):
    """How one note leads into the next."""

    HAMMER_ON = "hammer-on"
    PULL_OFF = "pull-off"
    SLIDE = "slide"
    HELD = "held"  # the same place again: a slur over it asks nothing of the hand


def technique(
    neck: Neck, hand: Hand, one: State, two: State, join: Join = Join.SLUR
) -> Technique | None:
    """Return what joins two notes, or None if the second has to be plucked.

    A written slide wants a slide; a slur takes whatever joins.
    """
    if join is Join.SLIDE and not 0 != one.finger == two.finger:
        return None
    if one.string != two.string:
        return None
    if one.fret == two.fret:
        return Technique.HELD if one.finger == two.finger else None
    if 0 != one.finger == two.finger:
        return Technique.SLIDE
    if one.finger == 0 or two.finger == 0:
        # From an open string the hand may come from anywhere; to one it has to stay.
        up = two.fret > one.fret
        if up:
            return Technique.HAMMER_ON
        return Technique.PULL_OFF if one.anchor == two.anchor else None
    ordered = (two.fret - one.fret) * (two.finger - one.finger) > 0
    span = neck.span_mm(one.fret, two.fret)
    held = math.isfinite(pair_stretch(hand, one.finger, two.finger, span))
    if one.anchor != two.anchor or not ordered or not held:
        return None
    return Technique.HAMMER_ON if two.fret > one.fret else Technique.PULL_OFF
