"""Fret geometry as laws; printed tables are held against it in tests/reference."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.neck.geometry import SCALES_MM, fret_mm, fret_space_mm, span_mm

scales = st.floats(300.0, 1200.0)
frets = st.integers(1, 36)


@given(scales)
def test_the_nut_is_the_origin_and_the_octave_is_the_middle(scale: float) -> None:
    assert fret_mm(scale, 0) == 0
    assert fret_mm(scale, 12) == pytest.approx(scale / 2)
    assert fret_mm(scale, 24) == pytest.approx(scale * 3 / 4)


@given(scales, frets)
def test_twelve_frets_on_halve_what_is_left_of_the_string(scale: float, fret: int) -> None:
    left = scale - fret_mm(scale, fret)
    assert scale - fret_mm(scale, fret + 12) == pytest.approx(left / 2)


@given(scales, frets)
def test_each_fret_space_is_a_twelfth_root_of_two_smaller(scale: float, fret: int) -> None:
    ratio = fret_space_mm(scale, fret) / fret_space_mm(scale, fret + 1)
    assert ratio**12 == pytest.approx(2, rel=1e-6)


@given(scales, frets)
def test_fret_spaces_add_up_to_the_distance_from_the_nut(scale: float, fret: int) -> None:
    total = sum(fret_space_mm(scale, n) for n in range(1, fret + 1))
    assert total == pytest.approx(fret_mm(scale, fret))


@given(scales, frets, frets)
def test_a_span_is_the_same_both_ways_and_never_negative(scale: float, a: int, b: int) -> None:
    assert span_mm(scale, a, b) == span_mm(scale, b, a) >= 0
    assert (span_mm(scale, a, b) == 0) == (a == b)


@given(scales, frets, frets, frets)
def test_spans_add_along_the_neck(scale: float, a: int, b: int, c: int) -> None:
    low, middle, high = sorted((a, b, c))
    parts = span_mm(scale, low, middle) + span_mm(scale, middle, high)
    assert parts == pytest.approx(span_mm(scale, low, high))


def test_named_scales_are_inches_in_millimetres() -> None:
    for name, inches in {"short": 30, "medium": 32, "long": 34, "extra-long": 35}.items():
        assert SCALES_MM[name] == pytest.approx(inches * 25.4)
