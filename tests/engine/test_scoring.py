"""Points: accuracy times speed against the player's own pace."""

import math
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.engine import scoring
from fretdrill.engine.question import Answer, Judgement
from fretdrill.engine.reasons import GaveUp, Slow
from fretdrill.engine.registry import KINDS

from .cases import instrument, stage

TIMES = st.floats(0, 1e6)
TARGETS = st.floats(0.01, 1e4)
QUESTION = KINDS["find"].ask(instrument().player, stage("whole neck", "D"), "D")


def verdict(accuracy: float, seconds: float, target: float = 4.0):
    return scoring.verdict(QUESTION, Answer(frozenset(), seconds), Judgement(accuracy), target)


@given(TIMES, TARGETS)
def test_speed_is_full_up_to_the_target_and_never_below_half(seconds, target):
    factor = scoring.speed(seconds, target)
    assert 0.5 <= factor <= 1
    assert (factor == 1) == (seconds <= target) or seconds / target < 1 + 1e-9


@given(TIMES, TIMES, TARGETS)
def test_speed_never_grows_with_time(one, other, target):
    quick, slow = sorted((one, other))
    assert scoring.speed(slow, target) <= scoring.speed(quick, target)


@pytest.mark.parametrize(
    ("times_the_target", "factor"), [(0.1, 1), (1, 1), (2, 0.75), (4, 0.5), (8, 0.5), (1e9, 0.5)]
)
def test_a_quarter_is_lost_each_time_the_time_doubles(times_the_target, factor):
    assert scoring.speed(3.0 * times_the_target, 3.0) == pytest.approx(factor)


@given(st.floats(0, 1), TIMES, TARGETS)
def test_points_lie_between_nothing_and_a_hundred(accuracy, seconds, target):
    points = verdict(accuracy, seconds, target).points
    assert isinstance(points, int)
    assert 0 <= points <= 100
    if accuracy == 0:
        assert points == 0


def test_slow_but_right_is_worth_more_than_quick_and_half_right():
    assert verdict(1.0, 1e9).points >= verdict(0.5, 0.0).points


def test_only_what_is_right_is_told_that_it_was_slow():
    assert [type(r) for r in verdict(1.0, 9.0).reasons] == [Slow]
    assert verdict(1.0, 4.0).reasons == ()
    assert verdict(0.9, 9.0).reasons == ()
    gave_up = scoring.verdict(QUESTION, Answer(None, 9.0), Judgement(0.0, (GaveUp(),)), 4.0)
    assert gave_up.reasons == (GaveUp(),)


@given(st.lists(st.floats(0.001, 1000), max_size=60))
def test_own_pace_is_the_median_within_bounds_once_measured(paces):
    pace = scoring.own_pace(paces)
    if len(paces) < scoring.PACE_SAMPLES:
        assert pace == scoring.UNMEASURED_PACE_S
        return
    assert scoring.FASTEST_PACE_S <= pace <= scoring.SLOWEST_PACE_S
    if scoring.FASTEST_PACE_S <= median(paces) <= scoring.SLOWEST_PACE_S:
        assert pace == median(paces)


@given(st.floats(0.1, 20), st.floats(0.1, 2), st.floats(0.1, 2))
def test_target_grows_with_the_pace_and_with_the_number_of_things(pace, factor, other):
    low, high = sorted((factor, other))
    target = scoring.target_s(QUESTION, pace, low)
    assert target <= scoring.target_s(QUESTION, pace, high)
    assert target >= scoring.FASTEST_PACE_S * QUESTION.units
    single = KINDS["find"].ask(instrument().player, stage("string 1, frets 1-12", "D"), "D")
    assert single.units == 1
    assert target == pytest.approx(QUESTION.units * scoring.target_s(single, pace, low))


@given(st.floats(0, 30))
def test_finger_points_fall_off_exponentially_with_regret(regret):
    # 100·exp(-regret/scale): e-fold for each scale of regret, so equal steps cost equal shares.
    worth = scoring.finger_accuracy(regret)
    assert 0 < worth <= 1
    assert worth * worth == pytest.approx(scoring.finger_accuracy(2 * regret))
    assert scoring.finger_accuracy(0) == 1
    assert scoring.finger_accuracy(scoring.REGRET_SCALE) == pytest.approx(1 / math.e)
