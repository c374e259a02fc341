"""Tunings: presets, custom strings, and what is refused."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError, UnknownName
from fretdrill.neck.tuning import PRESETS, Tuning
from tests.strategies import tunings


def midis(tuning: Tuning) -> list[int]:
    """Open strings as MIDI numbers, low to high as players say them."""
    return [pitch.midi for pitch in reversed(tuning.strings)]


@given(tunings())
def test_printed_tunings_are_read_back(tuning: Tuning) -> None:
    assert Tuning.parse(str(tuning)) == tuning
    assert Tuning.parse(str(tuning).split()) == tuning


@pytest.mark.parametrize("name", PRESETS)
def test_presets_are_read_in_any_case_and_know_their_name(name: str) -> None:
    assert Tuning.parse(name).preset == name
    assert Tuning.parse(f" {name.upper()} ") == Tuning.parse(name)


def test_a_custom_tuning_has_no_preset() -> None:
    assert Tuning.parse("C1 G1 D2 A2").preset is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("E1 A1 D2 G2", [28, 33, 38, 43]),
        ("E1, A1, D2, G2", [28, 33, 38, 43]),
        ("E A D G", [28, 33, 38, 43]),
        ("EADG", [28, 33, 38, 43]),
        ("eadg", [28, 33, 38, 43]),
        ("B E A D G", [23, 28, 33, 38, 43]),
        ("BEADGC", [23, 28, 33, 38, 43, 48]),
        ("D A D G", [26, 33, 38, 43]),
        ("C G D A", [24, 31, 38, 45]),  # in fifths
        ("A E A D", [33, 40, 45, 50]),  # the first between B0 and A#1, the rest above it
        ("Eb Ab Db Gb", [27, 32, 37, 42]),
        ("E♭ A♭ D♭ G♭", [27, 32, 37, 42]),
        ("E1", [28]),
        ("E2 A2 D3 G3 B3 E4", [40, 45, 50, 55, 59, 64]),
        ("G4 C4 E4 A4", [67, 60, 64, 69]),  # re-entrant
        ("G2 G2", [43, 43]),
    ],
)
def test_open_strings_are_read_low_to_high(text: str, expected: list[int]) -> None:
    assert midis(Tuning.parse(text)) == expected


@pytest.mark.parametrize(
    ("text", "expected"), [("EbAbDbGb", [27, 32, 37, 42]), ("DbAbDbGb", [25, 32, 37, 42])]
)
def test_flat_names_in_one_word_are_never_taken_for_other_strings(
    text: str, expected: list[int]
) -> None:
    """Half a step down, written as one word: four strings or a refusal, never eight strings."""
    try:
        tuning = Tuning.parse(text)
    except InputError:
        return
    assert midis(tuning) == expected


@given(st.lists(st.sampled_from("C C# Db D Eb E F F# G Ab A Bb B".split()), min_size=1, max_size=8))
def test_bare_notes_rise_by_less_than_an_octave_or_by_one(names: list[str]) -> None:
    found = midis(Tuning.parse(names))
    assert 23 <= found[0] <= 34
    assert all(1 <= high - low <= 12 for low, high in pairwise(found))


def test_a_tuning_may_be_written_with_a_blank_for_the_hyphen() -> None:
    assert Tuning.parse("drop d") == Tuning.parse("drop-d")
    assert Tuning.parse("4 String") == Tuning.parse("4-string")


@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("4-strings", "4-string"),
        ("5string", "5-string"),
        ("guitarr", "guitar"),
        ("drop-f", "drop-d"),
        ("dropd", "drop-d"),
        ("5 strings", "5-string"),
    ],
)
def test_an_unknown_tuning_names_the_nearest(text: str, nearest: str) -> None:
    with pytest.raises(UnknownName) as refused:
        Tuning.parse(text)
    assert refused.value.what == "tuning"
    assert refused.value.nearest == nearest


def test_a_tuning_like_no_other_lists_those_that_are_known() -> None:
    with pytest.raises(UnknownName) as refused:
        Tuning.parse("zzz")
    assert all(name in str(refused.value) for name in PRESETS)


@pytest.mark.parametrize("text", ["E1 A D2 G2", "E A1"])
def test_octaves_are_given_for_all_strings_or_none(text: str) -> None:
    with pytest.raises(InputError, match="octave for every string or for none"):
        Tuning.parse(text)


@pytest.mark.parametrize(
    "text", ["", "  ", ",", "E1 A1 D2 H2", "E A D X", "E99", "G9 G10", "E " * 11]
)
def test_impossible_tunings_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        Tuning.parse(text)


def test_a_wrong_string_is_named_in_the_refusal() -> None:
    with pytest.raises(InputError, match="H2"):
        Tuning.parse("E1 A1 D2 H2")


def test_a_tuning_needs_strings() -> None:
    with pytest.raises(InputError):
        Tuning(())


@settings(max_examples=200)
@given(st.text(alphabet="ABDEGH#b♭1290-, dropstring²", max_size=14) | st.text(max_size=8))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        tuning = Tuning.parse(text)
    except InputError:
        return
    assert 1 <= len(tuning) <= 10
    assert all(0 <= pitch.midi <= 127 for pitch in tuning.strings)
