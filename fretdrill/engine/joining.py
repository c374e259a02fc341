"""How two places can be joined with the hand in a position, and what makes it so.

Rules (several guitar and bass lessons, see :mod:`fretdrill.hand.joins`): a hammer-on goes up
on one string to a higher finger, a pull-off down to a lower finger that is already on its
fret, or to the open string; a slide keeps finger and string, and takes the hand along. What
lies on two strings is plucked. Where the hand can stay, the slide is the dearer way.
"""

from typing import NamedTuple

from fretdrill.engine.player import Player
from fretdrill.engine.question import Joining
from fretdrill.engine.tone_reasons import Bound, Joined
from fretdrill.hand.joins import Technique, technique
from fretdrill.hand.reach import finger_offsets, pair_stretch
from fretdrill.hand.states import Pin, State, states_of
from fretdrill.neck.neck import Place

SLURS = {Technique.HAMMER_ON: Joining.HAMMER_ON, Technique.PULL_OFF: Joining.PULL_OFF}


class Slurred(NamedTuple):
    """A slur and the hand at its two notes."""

    way: Joining
    first: State
    second: State


def joined(player: Player, one: Place, two: Place, position: int) -> tuple[Joining, Joined]:
    """Return the way that joins two places best, and what decides it."""
    hand, span = player.hand, player.neck.span_mm(one.fret, two.fret)
    if one.string != two.string:
        return Joining.PLUCKED, Joined(one, two, Bound.STRINGS, None, span, 0.0)
    slurred = _slurred(player, one, two, position)
    if slurred:
        best = min(slurred, key=lambda slur: _trouble(player, slur))
        fingers = best.first.finger, best.second.finger
        limit = 0.0 if 0 in fingers else hand.span(*fingers).practical
        return best.way, Joined(one, two, _slur_bound(one, two), fingers, span, limit)
    limit = hand.span(1, 4).practical
    if 0 in (one.fret, two.fret):
        return Joining.PLUCKED, Joined(one, two, Bound.NO_FINGER, None, span, limit)
    bound = Bound.TOO_FAR if span > limit else Bound.NO_PAIR
    return Joining.SLIDE, Joined(one, two, bound, None, span, limit)


def _slurred(player: Player, one: Place, two: Place, position: int) -> list[Slurred]:
    """Return every hand that slurs two notes of one string."""
    firsts = _hands(player, one, position)
    seconds = _hands(player, two, position)
    if not seconds and one.fret == 0:  # while it rings the hand may come from anywhere
        seconds = _hands(player, two, None)
    pairs = [(first, second) for first in firsts for second in seconds]
    ways = [technique(player.neck, player.hand, *pair) for pair in pairs]
    return [
        Slurred(SLURS[way], *pair)
        for pair, way in zip(pairs, ways, strict=True)
        if way in (Technique.HAMMER_ON, Technique.PULL_OFF)
    ]


def _hands(player: Player, place: Place, position: int | None) -> list[State]:
    """Return how the hand can stand at a place, in a position or in any."""
    pin = Pin(string=place.string, fret=place.fret, position=position)
    return states_of(player.neck, player.hand, player.neck.midi(place), pin)


def _trouble(player: Player, slur: Slurred) -> tuple[int, int, float, int]:
    """Rank hands: one that stays, then fingers that lie there at rest, then a small stretch."""
    _, first, second = slur
    offsets = finger_offsets(player.neck, player.hand, second.anchor)
    pressed = [state for state in (first, second) if state.finger]
    away = [state for state in pressed if offsets.get(state.finger) != state.fret - state.anchor]
    strain = 0.0
    if len(pressed) > 1:
        span = player.neck.span_mm(first.fret, second.fret)
        strain = pair_stretch(player.hand, first.finger, second.finger, span)
    return abs(second.anchor - first.anchor), len(away), strain, first.finger + second.finger


def _slur_bound(one: Place, two: Place) -> Bound:
    if two.fret > one.fret:
        return Bound.UP if one.fret else Bound.UP_FROM_OPEN
    return Bound.DOWN if two.fret else Bound.DOWN_TO_OPEN
