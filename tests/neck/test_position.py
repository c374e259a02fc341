"""Positions in figures, Roman numerals and words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.neck.position import ordinal, parse_position, roman
from tests.strategies import POSITIONS

# Written out by decimal place, the way the numerals are taught.
ONES = ("", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX")
TENS = ("", "X", "XX", "XXX")
VALUES = {"I": 1, "V": 5, "X": 10}


def value_of(numeral: str) -> int:
    """Add the signs; a sign before a larger one counts negative."""
    total = 0
    for sign, following in zip(numeral, [*numeral[1:], None], strict=True):
        value = VALUES[sign]
        total += -value if following and VALUES[following] > value else value
    return total


@pytest.mark.parametrize("position", POSITIONS)
def test_roman_numerals_are_those_of_the_decimal_places(position: int) -> None:
    assert roman(position) == TENS[position // 10] + ONES[position % 10]
    assert value_of(roman(position)) == position


@pytest.mark.parametrize("position", POSITIONS)
def test_positions_are_read_in_figures_numerals_and_words(position: int) -> None:
    for written in (str(position), roman(position), ordinal(position)):
        for text in (written, written.lower(), written.upper(), f" {written} "):
            assert parse_position(text) == position


@pytest.mark.parametrize(
    ("word", "position"),
    [
        ("first", 1), ("second", 2), ("third", 3), ("fifth", 5), ("eighth", 8), ("ninth", 9),
        ("twelfth", 12), ("thirteenth", 13), ("twentieth", 20), ("twenty-second", 22),
        ("thirtieth", 30), ("thirty-sixth", 36),
    ],
)  # fmt: skip
def test_ordinals_are_plain_english(word: str, position: int) -> None:
    assert ordinal(position) == word


def test_every_position_has_its_own_names() -> None:
    assert len({roman(p) for p in POSITIONS}) == len({ordinal(p) for p in POSITIONS}) == 36


@pytest.mark.parametrize("text", ["", "0", "-1", "37", "IIX", "VV", "IIII", "zeroth", "5th", "²"])
def test_what_is_no_position_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="is not a position"):
        parse_position(text)


@given(st.text(alphabet="IVXivx0123456789²-fsth ", max_size=8) | st.text(max_size=8))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        position = parse_position(text)
    except InputError:
        return
    assert position in POSITIONS


def test_a_number_of_thousands_of_digits_is_refused_in_words() -> None:
    with pytest.raises(InputError):
        parse_position("9" * 5000)
