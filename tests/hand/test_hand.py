"""The size of the hand."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.errors import InputError, UnknownName
from fretdrill.hand.hand import SIZES, SYSTEMS, Hand
from tests.strategies import hands

PAIRS = list(itertools.combinations((1, 2, 3, 4), 2))


@pytest.mark.parametrize("size", SIZES)
def test_named_sizes_are_read_and_named_back(size: str) -> None:
    assert Hand.parse(size).size == size
    assert Hand.parse(size, "1-2-4").system == "1-2-4"


@given(st.floats(60.0, 180.0))
def test_a_measured_span_is_the_comfortable_span_of_fingers_one_and_four(mm: float) -> None:
    hand = Hand.parse(f"{mm!r} mm")
    assert hand.span(1, 4).comfortable == pytest.approx(mm)


@pytest.mark.parametrize("text", ["105", "105 mm", "105mm", "105.0", " 105 mm"])
def test_a_span_is_read_with_or_without_its_unit(text: str) -> None:
    assert Hand.parse(text).span(1, 4).comfortable == pytest.approx(105)


@given(hands())
def test_a_printed_size_is_read_back(hand: Hand) -> None:
    again = Hand.parse(hand.size, hand.system)
    assert again.scale == pytest.approx(hand.scale, rel=1e-5)


@given(hands())
def test_spans_grow_from_relaxed_to_practical_and_with_the_fingers_between(hand: Hand) -> None:
    for pair in PAIRS:
        relaxed, comfortable, practical = hand.span(*pair)
        assert 0 < relaxed <= comfortable < practical
    for outer, inner in (((1, 4), (1, 3)), ((1, 3), (1, 2)), ((1, 4), (2, 4)), ((2, 4), (3, 4))):
        assert all(a > b for a, b in zip(hand.span(*outer), hand.span(*inner), strict=True))


@given(hands(), st.sampled_from(PAIRS))
def test_a_span_is_the_same_from_either_finger(hand: Hand, pair: tuple[int, int]) -> None:
    assert hand.span(*pair) == hand.span(*reversed(pair))


def test_a_larger_hand_spans_more() -> None:
    small, medium, large = (Hand.parse(size).span(1, 4) for size in ("small", "medium", "large"))
    for a, b, c in zip(small, medium, large, strict=True):
        assert a < b < c


@pytest.mark.parametrize(
    ("size", "nearest"), [("medum", "medium"), ("Large", "large"), ("smal", "small")]
)
def test_an_unknown_size_names_the_nearest(size: str, nearest: str) -> None:
    with pytest.raises(UnknownName) as refused:
        Hand.parse(size)
    assert (refused.value.what, refused.value.nearest) == ("hand size", nearest)


@pytest.mark.parametrize("size", ["59", "59.9 mm", "180.1", "0", "-105", "nan", "inf", "1e9"])
def test_a_span_no_hand_has_is_refused(size: str) -> None:
    with pytest.raises(InputError, match="60 to 180 mm"):
        Hand.parse(size)


@pytest.mark.parametrize(
    ("system", "nearest"), [("one-per-frets", "one-per-fret"), ("124", "1-2-4"), ("raech", "reach")]
)
def test_an_unknown_finger_system_names_the_nearest(system: str, nearest: str) -> None:
    with pytest.raises(UnknownName) as refused:
        Hand.parse("medium", system)
    assert (refused.value.what, refused.value.nearest) == ("finger system", nearest)


def test_there_are_three_finger_systems() -> None:
    assert set(SYSTEMS) == {"reach", "one-per-fret", "1-2-4"}


@given(st.text(alphabet="0123456789.-_e m", max_size=8) | st.text(max_size=8))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        hand = Hand.parse(text)
    except InputError:
        return
    assert 59.9 < hand.span(1, 4).comfortable < 180.1
