"""How two notes can be joined, against the rules of lessons and of MusicXML 4.0.

Lessons on the left hand (classical guitar: "Left hand slurs", classicalguitarcorner.com;
"The upward slur" and "The downward slur", player-guitar.blogspot.com, 2007; "How to master
slurs", tonebase.co) agree: an upward slur is a finger that comes down on a higher fret of the
same string, from an open string or from a lower finger that holds; a downward slur uncovers a
lower finger of the same string that was put down before, or the open string. MusicXML 4.0
(``hammer-on``, ``pull-off``) marks one pair of notes on a fretted instrument, and its
``slide`` is continuous from one pitch to the other, so that both are stopped by one finger.
"""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.joining import joined
from fretdrill.engine.player import Player
from fretdrill.engine.question import Joining
from fretdrill.hand.hand import Hand
from fretdrill.hand.joins import technique
from fretdrill.hand.states import Pin, states_of
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from tests.strategies import hands, necks_with_positions

H, P, S, X = Joining.HAMMER_ON, Joining.PULL_OFF, Joining.SLIDE, Joining.PLUCKED

BASS_MM, GUITAR_MM = 863.6, 647.7  # 34 in and 25.5 in


def player(tuning: str, scale_mm: float, size: str = "medium", system: str = "reach") -> Player:
    return Player(Neck(Tuning.parse(tuning), 24, scale_mm), Hand.parse(size, system))


def way(who: Player, one: str, two: str, position: int) -> Joining:
    return joined(who, Place.parse(one), Place.parse(two), position)[0]


# (position, first note, second note, how), string/fret, string 1 the highest.
GUITAR = [
    # "The upward slur": open top string, then one fret above; then fret 1 to the third finger.
    (1, "1/0", "1/1", H),
    (1, "1/1", "1/3", H),
    # "The downward slur": first finger on fret 1, third finger put down, then pulled away.
    (1, "1/3", "1/1", P),
    (1, "1/1", "1/0", P),
    # "Left hand slurs": third string, finger 1 on fret 5, a higher finger on fret 7.
    (5, "3/7", "3/5", P),
    (5, "3/5", "3/7", H),
    # MusicXML 4.0 slide: far beyond four fingers, one finger goes along.
    (5, "3/5", "3/14", S),
    (5, "3/14", "3/5", S),
]

BASS = [
    # Up on one string, a lower finger holding: frets under the hand.
    (5, "3/5", "3/6", H), (5, "3/5", "3/7", H), (5, "3/5", "3/8", H), (5, "3/6", "3/8", H),
    (5, "3/7", "3/8", H), (1, "4/1", "4/2", H), (1, "4/1", "4/3", H), (12, "1/12", "1/15", H),
    # Down on one string, the lower finger put down before.
    (5, "3/6", "3/5", P), (5, "3/7", "3/5", P), (5, "3/8", "3/5", P), (5, "3/8", "3/6", P),
    (5, "3/8", "3/7", P), (1, "4/2", "4/1", P), (1, "4/3", "4/1", P), (12, "1/15", "1/12", P),
    # From an open string and to one.
    (5, "3/0", "3/5", H), (5, "3/0", "3/8", H), (1, "4/0", "4/1", H), (1, "4/0", "4/12", H),
    (5, "3/5", "3/0", P), (5, "3/8", "3/0", P), (1, "4/1", "4/0", P),
    # Further apart than the hand spans: 168 mm from fret 1 to 5, 10 semitones are 137.5 mm.
    (1, "4/1", "4/5", S), (1, "4/5", "4/1", S), (5, "3/5", "3/10", S), (5, "3/5", "3/12", S),
    (5, "3/12", "3/5", S), (3, "2/3", "2/8", S), (9, "2/12", "2/5", S),
    # The same four frets higher up: 119 mm from fret 7 to 11, finger 4 stretches to it.
    (7, "4/7", "4/11", H), (7, "4/11", "4/7", P),
    # Two strings, whatever the frets; the same pitch again on another string.
    (5, "3/5", "2/5", X), (5, "3/5", "2/7", X), (5, "2/7", "3/5", X), (5, "3/5", "1/7", X),
    (5, "3/0", "2/0", X), (1, "4/0", "3/0", X), (5, "4/5", "3/0", X), (5, "3/5", "2/0", X),
    # The hand is elsewhere: there is no finger to pull off with, and none to slide with.
    (5, "3/14", "3/0", X), (12, "3/2", "3/0", X),
]  # fmt: skip


@pytest.mark.parametrize(("position", "one", "two", "expected"), GUITAR)
def test_pairs_of_lessons_on_a_guitar(position, one, two, expected):
    assert way(player("guitar", GUITAR_MM), one, two, position) is expected


@pytest.mark.parametrize(("position", "one", "two", "expected"), BASS)
def test_pairs_on_a_bass(position, one, two, expected):
    assert way(player("4-string", BASS_MM), one, two, position) is expected


# Brute force by the rules above. Where fingers lie and stretch to, in frets above finger 1's
# place: one finger per fret, or 1-2-4 (No Treble 2016); 4 a fret further, 1 a fret back
# (common practice, no source). How far pairs of fingers part: Parncutt et al. 1997, table 1,
# at 13.75 mm a semitone (Boyle, Boyle & Booker 2015).
FRETS_ABOVE = {
    "one-per-fret": {1: (-1, 0), 2: (1,), 3: (2,), 4: (3, 4)},
    "1-2-4": {1: (-1, 0), 2: (1,), 4: (2, 3)},
    "reach": {1: (-1, 0), 2: (1,), 3: (2,), 4: (2, 3, 4)},
}
PRACTICAL = {(1, 2): 5, (1, 3): 7, (1, 4): 10, (2, 3): 4, (2, 4): 7, (3, 4): 5}
SIZES = {"small": 0.9, "medium": 1.0, "large": 1.1}


def by_the_rules(
    scale_mm: float, size: str, system: str, position: int, one: int, two: int
) -> Joining:
    """Return how two frets of one string are joined, trying every pair of fingers."""
    fingers = FRETS_ABOVE[system]

    def on(fret: int) -> list[int]:
        return [f for f, above in fingers.items() if fret - position in above]

    if one == 0:
        return H
    if two == 0:
        return P if on(one) else X
    mm = scale_mm * abs(2 ** (-one / 12) - 2 ** (-two / 12))
    for first, second in product(on(one), on(two)):
        in_order = (second - first) * (two - one) > 0
        pair = (min(first, second), max(first, second))
        if in_order and mm <= PRACTICAL[pair] * 13.75 * SIZES[size]:
            return H if two > one else P
    return S


@pytest.mark.parametrize("scale_mm", [647.7, 762.0, 863.6, 889.0])
@pytest.mark.parametrize("system", sorted(FRETS_ABOVE))
def test_every_pair_of_frets_against_every_pair_of_fingers(system, scale_mm):
    for size, position in product(sorted(SIZES), (1, 2, 5, 8, 12)):
        who = player("4-string", scale_mm, size, system)
        for one, two in product(range(17), repeat=2):
            if one != two:
                expected = by_the_rules(scale_mm, size, system, position, one, two)
                got = joined(who, Place(2, one), Place(2, two), position)[0]
                assert got is expected, (size, position, one, two)


@settings(max_examples=150, deadline=None)
@given(necks_with_positions(), hands(), st.data())
def test_what_a_hand_in_the_position_can_slur_is_never_only_plucked(neck_and_position, hand, data):
    neck, position = neck_and_position
    one, two = (data.draw(st.sampled_from(neck.places)) for _ in range(2))
    got, why = joined(Player(neck, hand), one, two, position)
    firsts, seconds = (
        states_of(neck, hand, neck.midi(p), Pin(string=p.string, fret=p.fret, position=position))
        for p in (one, two)
    )
    ways = {technique(neck, hand, first, second) for first in firsts for second in seconds}
    found = {found.value for found in ways if found is not None} & {"hammer-on", "pull-off"}
    if found:
        assert {got.value} == found
        assert why.fingers is not None
    if got is Joining.PLUCKED:
        assert one.string != two.string or 0 in (one.fret, two.fret)
        assert not found
    if why.fingers is not None and why.limit_mm:
        assert why.span_mm <= why.limit_mm
