"""Spans of the fingers and where one finger per fret becomes comfortable."""

import math

import pytest

from fretdrill.hand.hand import PIANO_SEMITONE_MM, Hand
from fretdrill.hand.in_position import finger_choices
from fretdrill.hand.reach import finger_offsets, one_per_fret_is_comfortable, stretch
from fretdrill.neck.neck import Neck

# Parncutt, Sloboda, Clarke, Raekallio & Desain, Music Perception 14(4), 1997, tables 1-2
# (seen second-hand), in mm at 13.75 mm a semitone: standard keyboard octave 6.5 in
# (Boyle et al. 2015). Piano fingers 2-5 are the bass player's 1-4. Relaxed,
# comfortable, practical.
SPANS_MM = {
    (1, 2): (27.5, 41.25, 68.75),
    (1, 3): (55.0, 68.75, 96.25),
    (1, 4): (82.5, 110.0, 137.5),
    (2, 3): (27.5, 27.5, 55.0),
    (2, 4): (55.0, 68.75, 96.25),
    (3, 4): (27.5, 41.25, 68.75),
}

# First position where fingers 1 and 4 lie comfortably (≤ 110 mm × hand) three frets
# apart: scale in inches → small, medium, large hand. Computed from the spans above and
# Leirer (American Lutherie 96, 2008).
FIRST_COMFORTABLE = {30: (4, 2, 1), 32: (5, 3, 2), 34: (6, 4, 3), 35: (7, 5, 3)}


@pytest.mark.parametrize("pair", SPANS_MM)
def test_finger_pairs_part_as_far_as_published(pair: tuple[int, int]) -> None:
    assert tuple(Hand().span(*pair)) == pytest.approx(SPANS_MM[pair], abs=0.01)


def test_a_piano_semitone_in_mm() -> None:
    """An octave is 6.5 in on a standard keyboard (Boyle et al. 2015)."""
    assert pytest.approx(6.5 * 25.4 / 12, abs=0.01) == PIANO_SEMITONE_MM


# Boyle, Boyle & Booker 2015: about an inch between the means of 7.9 in and above; the
# factors are an assumption drawn from it.
@pytest.mark.parametrize(("size", "factor"), [("small", 0.9), ("medium", 1.0), ("large", 1.1)])
def test_named_hands_scale_every_span(size: str, factor: float) -> None:
    for pair, spans in SPANS_MM.items():
        expected = [mm * factor for mm in spans]
        assert list(Hand.parse(size).span(*pair)) == pytest.approx(expected, abs=0.01)


def test_the_widest_reach_agrees_with_anatomy() -> None:
    """122-143 mm between straight tips of index and little finger, computed from the
    lengths and angles of Chatzioglou, Pinar & Govsa, Anat. Cell Biol. 57(2), 2024.
    """
    assert 122 <= Hand().span(1, 4).practical <= 143


@pytest.mark.parametrize("inches", FIRST_COMFORTABLE)
def test_first_position_where_one_finger_per_fret_is_comfortable(inches: int) -> None:
    neck = Neck(scale_mm=inches * 25.4)
    sizes = ("small", "medium", "large")
    for size, expected in zip(sizes, FIRST_COMFORTABLE[inches], strict=True):
        hand = Hand.parse(size)
        comfortable = [p for p in range(1, 22) if one_per_fret_is_comfortable(neck, hand, p)]
        assert comfortable == list(range(expected, 22)), size
        four = [p for p in range(1, 22) if finger_offsets(neck, hand, p)[4] == 3]
        assert four == comfortable, size


def test_the_old_bass_school_changes_to_four_fingers_close_by() -> None:
    """Sperger (1750-1812): 1-2-3-4 from the fourth above the open string, fret 5
    (Dalla Torre, "Two, three or four fingers?"); the mm model says 4 on 34 in.
    """
    neck = Neck()
    first = next(p for p in range(1, 22) if one_per_fret_is_comfortable(neck, Hand(), p))
    assert abs(first - 5) <= 1


# One finger per fret is a minor third between fingers 1 and 4 (No Treble, 2016), 1-2-4 a
# whole tone (ASODB on Simandl).
@pytest.mark.parametrize(("system", "semitones"), [("one-per-fret", 3), ("1-2-4", 2)])
def test_the_interval_between_the_outer_fingers(system: str, semitones: int) -> None:
    offsets = finger_offsets(Neck(), Hand(1.0, system), 5)
    assert offsets[4] - offsets[1] == semitones


def test_one_two_four_does_without_finger_three() -> None:
    """Simandl (Sankey edition): fingers 1, 2 and 4 only."""
    assert set(finger_offsets(Neck(), Hand(1.0, "1-2-4"), 5)) == {1, 2, 4}


def test_a_five_fret_reach_is_practical_from_position_v_and_comfortable_from_ix() -> None:
    """On 34 in, medium hand; computed from the spans above."""
    neck, hand = Neck(), Hand()
    practical = [p for p in range(1, 21) if math.isfinite(stretch(hand, 4, neck.span_mm(p, p + 4)))]
    comfortable = [p for p in range(1, 21) if neck.span_mm(p, p + 4) <= hand.span(1, 4).comfortable]
    assert practical[0] == 5
    assert comfortable[0] == 9


def test_weak_fingers_cost_more() -> None:
    """Ring and little finger tap slower than index and middle (Aoki, Furuya & Kinoshita,
    Motor Control 9(1), 2005); the ring finger is the least efficient of the chord
    fingers (Sung, Chang, Freivalds & Kong, HFES 2013). A fret that fingers 1 and 4
    would both have to shift three frets for goes to the strong one.
    """
    by_finger = {c.finger: c for c in finger_choices(Neck(), Hand(1.0, "one-per-fret"), 9, 5)}
    assert by_finger[1].regret < by_finger[4].regret
