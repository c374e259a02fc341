"""How two notes are joined, against a table worked by hand and against every pair of fingers.

Rules, as lessons on guitar and bass give them: a hammer-on goes up on one string, a higher
finger strikes while the lower one holds, or the open string rings; a pull-off goes down on one
string, to a lower finger that is down already, or to the open string; a slide keeps the finger
on the string, so both notes are stopped. Notes on two strings are plucked. MusicXML 4.0 defines
``hammer-on`` and ``pull-off`` as going from one note to the next on a fretted instrument.
"""

from itertools import product
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.joining import joined
from fretdrill.engine.player import Player
from fretdrill.engine.question import Joining
from fretdrill.engine.tone_reasons import Bound, Joined
from fretdrill.neck.neck import Place
from tests.engine.cases import Instrument, instrument, instruments

UP, DOWN, SLIDE, PLUCKED = (
    Joining.HAMMER_ON,
    Joining.PULL_OFF,
    Joining.SLIDE,
    Joining.PLUCKED,
)


def way(who: Player, pair: str) -> tuple[Joining, Joined]:
    """Return how ``"5: 3/5 3/7"`` is joined: position, then string/fret twice."""
    position, places = pair.split(": ")
    one, two = map(Place.parse, places.split(" "))
    return joined(who, one, two, int(position))


# A hand in fifth position, 34 in: fingers 1, 2, 3, 4 on frets 5, 6, 7, 8. By hand from the rules.
FIFTH = {
    # from an open string, any finger strikes
    "3/0 3/5": UP, "3/0 3/6": UP, "3/0 3/7": UP, "3/0 3/8": UP,
    # a lower finger holds, a higher one strikes
    "3/5 3/6": UP, "3/5 3/7": UP, "3/5 3/8": UP, "3/6 3/7": UP, "3/6 3/8": UP, "3/7 3/8": UP,
    # to the open string, any finger pulls off
    "3/5 3/0": DOWN, "3/6 3/0": DOWN, "3/7 3/0": DOWN, "3/8 3/0": DOWN,
    # to a lower finger
    "3/8 3/7": DOWN, "3/8 3/6": DOWN, "3/8 3/5": DOWN, "3/7 3/6": DOWN, "3/7 3/5": DOWN,
    "3/6 3/5": DOWN,
    # an octave away and a fifth away, one finger goes along
    "3/5 3/17": SLIDE, "3/17 3/5": SLIDE, "3/5 3/12": SLIDE, "3/12 3/5": SLIDE,
    # neither note lies under the hand
    "3/12 3/14": SLIDE, "3/14 3/12": SLIDE,
    # two strings, near and far, open and stopped, and the same pitch
    "3/5 2/5": PLUCKED, "2/5 3/5": PLUCKED, "3/5 2/7": PLUCKED, "3/8 2/5": PLUCKED,
    "3/0 2/0": PLUCKED, "4/5 3/0": PLUCKED, "3/0 4/5": PLUCKED, "3/5 2/0": PLUCKED,
    "4/5 1/7": PLUCKED, "4/12 1/5": PLUCKED,
    # no finger is there to pull off to the open string
    "3/12 3/0": PLUCKED, "3/15 3/0": PLUCKED,
}  # fmt: skip


@pytest.mark.parametrize("down", [0, 1])
@pytest.mark.parametrize(("pair", "expected"), FIFTH.items(), ids=list(FIFTH))
def test_fifth_position_by_hand(pair: str, expected: Joining, down: int) -> None:
    """The same one string further down: no rule speaks of which string it is."""
    moved = " ".join(f"{int(place[0]) + down}{place[1:]}" for place in pair.split(" "))
    assert way(instrument("5-string").player, f"5: {moved}")[0] is expected


# First position, 1-2-4: fingers on frets 1, 2, 3 (Fowler, Switching to the Double Bass, ch. 2).
HALF = {
    "1/0 1/1": UP, "1/0 1/3": UP, "1/1 1/2": UP, "1/1 1/3": UP, "1/2 1/3": UP,
    "1/3 1/2": DOWN, "1/3 1/1": DOWN, "1/2 1/1": DOWN, "1/2 1/0": DOWN,
    "1/1 1/8": SLIDE, "1/3 2/3": PLUCKED,
}  # fmt: skip


@pytest.mark.parametrize(("pair", "expected"), HALF.items(), ids=list(HALF))
def test_half_position_of_an_upright_player(pair: str, expected: Joining) -> None:
    assert way(instrument(system="1-2-4").player, f"1: {pair}")[0] is expected


# Brute force. Where a finger lies above finger 1, in frets: at rest, 4 stretched one further,
# 1 drawn one back (common practice, no source).
ABOVE = {
    "one-per-fret": {1: {-1, 0}, 2: {1}, 3: {2}, 4: {3, 4}},
    "1-2-4": {1: {-1, 0}, 2: {1}, 4: {2, 3}},
}
# "reach" is the one or the other, whichever the neck asks for.
ABOVE["reach"] = {1: {-1, 0}, 2: {1}, 3: {2}, 4: {2, 3, 4}}

# How far pairs part at the most, in piano semitones (Parncutt et al. 1997, table 1) of
# 13.75 mm (6.5-in octave; Boyle, Boyle & Booker 2015).
PART = {"12": 5, "13": 7, "14": 10, "23": 4, "24": 7, "34": 5}


class Fingers(NamedTuple):
    """A finger on each of two frets of one string, 0 for none."""

    first: int
    second: int


def apart_mm(scale_mm: float, fret: int, other: int) -> float:
    return scale_mm * abs(2 ** (-fret / 12) - 2 ** (-other / 12))


def slurs(bass: Instrument, position: int, one: int, two: int) -> dict[Fingers, Joining]:
    """Return every pair of fingers that slurs two frets of one string, and how."""
    neck, hand = bass.player.neck, bass.player.hand
    lies = ABOVE[hand.system]
    found = {}
    for first, second in product(range(5), repeat=2):
        if (first == 0) != (one == 0) or (second == 0) != (two == 0):
            continue  # an open string has no finger, a stopped one has one
        if first and one - position not in lies.get(first, ()):
            continue
        # While the open string rings, the hand goes where it likes.
        if second and one and two - position not in lies.get(second, ()):
            continue
        if first and second:
            most = PART.get(f"{min(first, second)}{max(first, second)}", 0) * 13.75 * hand.scale
            if apart_mm(neck.scale_mm, one, two) > most:
                continue
            if (two > one) != (second > first):
                continue
        found[Fingers(first, second)] = UP if two > one else DOWN
    return found


def expected_way(bass: Instrument, position: int, one: int, two: int) -> Joining:
    """Return the way by the rules: a slur if any fingers can, else a slide of one that can."""
    ways = set(slurs(bass, position, one, two).values())
    if ways:
        (only,) = ways
        return only
    return SLIDE if one and two else PLUCKED


@settings(max_examples=60, deadline=None)
@given(instruments(), st.data())
def test_every_pair_of_fingers_on_one_string(bass: Instrument, data: st.DataObject) -> None:
    neck = bass.player.neck
    position = data.draw(st.integers(1, neck.frets))
    string = data.draw(st.integers(1, len(bass.open_midi)))
    near = range(max(0, position - 2), min(neck.frets, position + 6) + 1)
    frets = sorted({0, *near, neck.frets})
    for one, two in product(frets, repeat=2):
        if one == two:
            continue
        got, why = joined(bass.player, Place(string, one), Place(string, two), position)
        assert got is expected_way(bass, position, one, two), (position, one, two)
        check_why(bass, position, got, why)


def check_why(bass: Instrument, position: int, got: Joining, why: Joined) -> None:
    """Check what is told of a pair: its fingers slur it, its distances are those of the neck."""
    one, two = why.place.fret, why.after.fret
    possible = slurs(bass, position, one, two)
    scale_mm, hand = bass.player.neck.scale_mm, bass.player.hand
    assert why.span_mm == pytest.approx(apart_mm(scale_mm, one, two))
    if got in (UP, DOWN):
        assert why.fingers is not None
        assert possible[Fingers(*why.fingers)] is got
        if 0 not in why.fingers:
            assert why.span_mm <= why.limit_mm
        bounds = {(UP, True): Bound.UP, (UP, False): Bound.UP_FROM_OPEN}
        bounds |= {(DOWN, True): Bound.DOWN, (DOWN, False): Bound.DOWN_TO_OPEN}
        assert why.bound is bounds[got, 0 not in (one, two)]
        return
    assert why.fingers is None
    assert not possible
    furthest = 10 * 13.75 * hand.scale
    assert why.limit_mm == pytest.approx(furthest)
    if got is SLIDE:
        assert why.bound is (Bound.TOO_FAR if why.span_mm > furthest else Bound.NO_PAIR)
    else:
        assert why.bound is Bound.NO_FINGER


@settings(max_examples=60, deadline=None)
@given(instruments().filter(lambda bass: len(bass.open_midi) > 1), st.data())
def test_two_strings_are_plucked_wherever_they_are(bass: Instrument, data: st.DataObject) -> None:
    strings, frets = st.integers(1, len(bass.open_midi)), st.integers(0, bass.player.neck.frets)
    lower, higher = data.draw(st.lists(strings, min_size=2, max_size=2, unique=True))
    one, two = Place(lower, data.draw(frets)), Place(higher, data.draw(frets))
    position = data.draw(st.integers(1, bass.player.neck.frets))
    got, why = joined(bass.player, one, two, position)
    assert (got, why.bound, why.fingers) == (PLUCKED, Bound.STRINGS, None)


@settings(max_examples=60, deadline=None)
@given(instruments(), st.data())
def test_up_and_down_are_mirrored_between_stopped_notes(
    bass: Instrument, data: st.DataObject
) -> None:
    """The fingers that hammer on from one fret to another pull off from it again."""
    frets = st.integers(1, bass.player.neck.frets)
    one, two = data.draw(st.lists(frets, min_size=2, max_size=2, unique=True))
    position = data.draw(frets)
    there, back = (
        joined(bass.player, Place(1, a), Place(1, b), position) for a, b in ((one, two), (two, one))
    )
    mirror = {UP: DOWN, DOWN: UP, SLIDE: SLIDE}
    assert back[0] is mirror[there[0]]
    assert there[1].fingers is None or back[1].fingers == there[1].fingers[::-1]
