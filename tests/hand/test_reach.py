"""What each finger costs in a position."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.hand import Hand
from fretdrill.hand.in_position import FingerChoice, finger_choices
from fretdrill.hand.reach import finger_offsets, one_per_fret_is_comfortable, resting_frets, stretch
from fretdrill.neck.neck import Neck
from tests.strategies import hands, necks_with_positions

ONE_PER_FRET = {1: 0, 2: 1, 3: 2, 4: 3}
ONE_TWO_FOUR = {1: 0, 2: 1, 4: 2}
LONG_SCALE = Neck()


def choices_by_finger(hand: Hand, position: int, fret: int) -> dict[int, FingerChoice]:
    """Every finger's choice on a 34-in bass."""
    return {c.finger: c for c in finger_choices(LONG_SCALE, hand, position, fret)}


@given(necks_with_positions(), hands())
def test_resting_fingers_lie_on_the_neck_in_order_from_finger_one(
    neck_and_position: tuple[Neck, int], hand: Hand
) -> None:
    neck, position = neck_and_position
    resting = resting_frets(neck, hand, position)
    assert resting[1] == position
    assert all(1 <= fret <= neck.frets for fret in resting.values())
    by_finger = [resting[finger] for finger in sorted(resting)]
    assert by_finger == sorted(set(by_finger))


@given(necks_with_positions(), hands())
def test_the_system_says_where_fingers_rest(
    neck_and_position: tuple[Neck, int], hand: Hand
) -> None:
    neck, position = neck_and_position
    x = [neck.scale_mm * (1 - 2 ** (-fret / 12)) for fret in (position, position + 3)]
    comfortable = x[1] - x[0] <= 110.0 * hand.scale  # 8 piano semitones of 13.75 mm
    one_per_fret = hand.system == "one-per-fret" or (hand.system == "reach" and comfortable)
    expected = ONE_PER_FRET if one_per_fret else ONE_TWO_FOUR
    assert dict(finger_offsets(neck, hand, position)) == expected
    assert resting_frets(neck, hand, position) == {
        finger: position + offset
        for finger, offset in expected.items()
        if position + offset <= neck.frets
    }


@given(necks_with_positions(), hands())
def test_once_one_finger_per_fret_is_comfortable_it_stays_so_up_the_neck(
    neck_and_position: tuple[Neck, int], hand: Hand
) -> None:
    neck, position = neck_and_position
    if one_per_fret_is_comfortable(neck, hand, position):
        assert one_per_fret_is_comfortable(neck, hand, position + 1)


@settings(max_examples=200)
@given(necks_with_positions(), hands(), st.data())
def test_one_choice_is_the_best_and_the_rest_cost_more(
    neck_and_position: tuple[Neck, int], hand: Hand, data: st.DataObject
) -> None:
    neck, position = neck_and_position
    fret = data.draw(st.integers(1, neck.frets))
    choices = finger_choices(neck, hand, position, fret)
    regrets = [choice.regret for choice in choices]
    assert regrets[0] == 0
    assert all(regret > 0 and math.isfinite(regret) for regret in regrets[1:])
    keys = [(choice.regret, choice.finger) for choice in choices]
    assert keys == sorted(keys), "best first, ties to the lower finger"


@given(necks_with_positions(), hands(), st.data())
def test_each_finger_of_the_system_is_weighed_once(
    neck_and_position: tuple[Neck, int], hand: Hand, data: st.DataObject
) -> None:
    neck, position = neck_and_position
    fret = data.draw(st.integers(1, neck.frets))
    choices = finger_choices(neck, hand, position, fret)
    fingers = [choice.finger for choice in choices]
    assert len(set(fingers)) == len(fingers)
    usable = {1, 2, 4} if hand.system == "1-2-4" else {1, 2, 3, 4}
    # Left out are only fingers that would put finger 1 behind the nut, counted back a fret a
    # finger, and those that would have to span more than they can.
    assert set(fingers) <= usable
    for finger in usable - set(fingers):
        behind_nut = fret - finger + 1 < 1
        too_far = neck.span_mm(position, fret) > hand.span(1, finger).practical
        assert behind_nut or too_far


@given(necks_with_positions(), hands())
def test_the_finger_that_lies_over_a_fret_takes_it(
    neck_and_position: tuple[Neck, int], hand: Hand
) -> None:
    neck, position = neck_and_position
    for finger, fret in resting_frets(neck, hand, position).items():
        choices = finger_choices(neck, hand, position, fret)
        assert choices[0].finger == finger
        assert [c.finger for c in choices if c.rests_on == fret] == [finger]
        assert choices[0].moves == 0


@given(necks_with_positions(), hands(), st.data())
def test_where_no_finger_rests_one_that_lets_the_hand_stay_is_best(
    neck_and_position: tuple[Neck, int], hand: Hand, data: st.DataObject
) -> None:
    neck, position = neck_and_position
    fret = data.draw(st.integers(1, neck.frets))
    choices = finger_choices(neck, hand, position, fret)
    if fret not in resting_frets(neck, hand, position).values():
        assert not any(c.rests_on == fret for c in choices)
        if any(c.moves == 0 for c in choices):
            assert choices[0].moves == 0


@given(necks_with_positions(), hands(), st.data())
def test_a_finger_that_cannot_reach_takes_the_hand_along(
    neck_and_position: tuple[Neck, int], hand: Hand, data: st.DataObject
) -> None:
    neck, position = neck_and_position
    fret = data.draw(st.integers(1, neck.frets))
    for choice in finger_choices(neck, hand, position, fret):
        if fret < position:
            assert choice.moves < 0
        if choice.finger == 1:
            assert choice.moves == fret - position
        if choice.finger > 1 and choice.rests_on != fret:
            too_far = choice.span_mm > hand.span(1, choice.finger).practical
            assert choice.moves != 0 or not too_far


@given(necks_with_positions(), hands(), st.data())
def test_the_hand_never_moves_off_the_neck(
    neck_and_position: tuple[Neck, int], hand: Hand, data: st.DataObject
) -> None:
    """Finger 1 lies on a fret wherever a choice takes the hand: there is no position 0."""
    neck, position = neck_and_position
    fret = data.draw(st.integers(1, neck.frets))
    for choice in finger_choices(neck, hand, position, fret):
        assert 1 <= position + choice.moves <= neck.frets


@given(necks_with_positions(), hands(), st.data())
def test_choices_tell_their_millimetres(
    neck_and_position: tuple[Neck, int], hand: Hand, data: st.DataObject
) -> None:
    neck, position = neck_and_position
    fret = data.draw(st.integers(1, neck.frets))
    expected = abs(neck.scale_mm * (2 ** (-position / 12) - 2 ** (-fret / 12)))
    for choice in finger_choices(neck, hand, position, fret):
        assert choice.span_mm == pytest.approx(expected, abs=1e-6)
        if choice.finger == 1:
            assert choice.comfortable_mm == 0
        else:
            assert choice.comfortable_mm == hand.span(1, choice.finger).comfortable


# Parncutt et al. 1997, tables 1-2, a unit being half a piano semitone of 13.75 mm
# (Boyle et al. 2015): nothing up to the relaxed span, one unit a half semitone past
# it, two past the comfortable one, none past the practical. Worked by hand.
@pytest.mark.parametrize(
    ("finger", "semitones", "units"),
    [
        (4, 6, 0), (4, 7, 2), (4, 8, 4), (4, 9, 8), (4, 10, 12),
        (3, 4, 0), (3, 5, 2), (3, 6, 6), (3, 7, 10),
        (2, 2, 0), (2, 3, 2), (2, 4, 6), (2, 5, 10),
        (2, 0, 0), (4, 3, 0),
    ],
)  # fmt: skip
@pytest.mark.parametrize("scale", [0.9, 1.0, 1.1])
def test_stretch_is_the_large_span_side_of_the_published_tables(
    finger: int, semitones: int, units: float, scale: float
) -> None:
    """A larger hand's spans grow with it; beyond them it pays the same per mm."""
    span_mm = semitones * 13.75 * scale
    assert stretch(Hand(scale), finger, span_mm - 1e-9) == pytest.approx(units * scale, abs=1e-6)


@pytest.mark.parametrize(("finger", "practical"), [(2, 68.75), (3, 96.25), (4, 137.5)])
def test_past_the_practical_span_there_is_no_stretch(finger: int, practical: float) -> None:
    assert math.isfinite(stretch(Hand(), finger, practical))
    assert stretch(Hand(), finger, practical + 0.1) == math.inf


def test_finger_one_does_not_stretch_from_itself() -> None:
    assert stretch(Hand(), 1, 0) == 0
    assert stretch(Hand(), 1, 40) == math.inf


@given(hands(), st.integers(2, 4), st.floats(0, 200), st.floats(0, 200))
def test_a_longer_stretch_never_costs_less(hand: Hand, finger: int, a: float, b: float) -> None:
    assert stretch(hand, finger, min(a, b)) <= stretch(hand, finger, max(a, b))


def test_a_larger_hand_stretches_less() -> None:
    spans = [stretch(Hand.parse(size), 4, 115.5) for size in ("small", "medium", "large")]
    assert spans == sorted(spans, reverse=True)
    assert spans[0] > spans[2]


# Common practice, no source.
@pytest.mark.parametrize(
    ("system", "position", "fret", "finger"),
    [
        ("one-per-fret", 5, 5, 1), ("one-per-fret", 5, 6, 2), ("one-per-fret", 5, 7, 3),
        ("one-per-fret", 5, 8, 4), ("1-2-4", 1, 1, 1), ("1-2-4", 1, 2, 2), ("1-2-4", 1, 3, 4),
        ("reach", 1, 3, 4), ("reach", 7, 8, 2), ("reach", 7, 10, 4),
    ],
)  # fmt: skip
def test_the_finger_a_teacher_would_give(
    system: str, position: int, fret: int, finger: int
) -> None:
    best = finger_choices(LONG_SCALE, Hand(1.0, system), position, fret)[0]
    assert (best.finger, best.moves) == (finger, 0)


# A fifth fret in one hand: practical from position V, not before (34 in, medium hand;
# spans computed from Leirer 2008 and the practical 137.5 mm of Parncutt et al. 1997).
@pytest.mark.parametrize(("position", "reached"), [(3, False), (4, False), (5, True), (9, True)])
def test_finger_four_reaches_a_fifth_fret_only_where_the_neck_allows(
    position: int, reached: bool
) -> None:
    choice = choices_by_finger(Hand(), position, position + 4)[4]
    assert (choice.moves == 0) == reached


def test_the_fret_behind_the_hand_is_taken_by_moving_finger_one_back() -> None:
    best = finger_choices(LONG_SCALE, Hand(), 5, 4)[0]
    assert (best.finger, best.moves) == (1, -1)


def test_a_finger_that_crosses_another_moves_the_hand() -> None:
    assert choices_by_finger(Hand(), 7, 7)[4].moves == -3
    assert choices_by_finger(Hand(), 7, 10)[1].moves == 3
