"""Scopes in words, and the places that they hold."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from tests.strategies import necks_with_scopes, scopes


def frets_on(text: str, string: int = 1) -> list[int]:
    """Frets of a scope on one string of a 24-fret four-string bass."""
    return [place.fret for place in Scope.parse(text).places(Neck()) if place.string == string]


@given(scopes())
def test_printed_scopes_are_read_back(scope: Scope) -> None:
    assert Scope.parse(str(scope)) == scope


@given(necks_with_scopes())
def test_membership_is_being_listed(neck_and_scope: tuple[Neck, Scope]) -> None:
    neck, scope = neck_and_scope
    scope.check(neck)
    listed = scope.places(neck)
    assert len(listed) == len(set(listed))
    assert set(listed) == {place for place in neck.places if place in scope}


@given(necks_with_scopes())
def test_places_are_what_the_fields_say(neck_and_scope: tuple[Neck, Scope]) -> None:
    """Brute force over every string and fret, from the lowest string and the nut."""
    neck, scope = neck_and_scope
    expected = []
    for string in range(len(neck.tuning), 0, -1):
        if scope.strings is not None and string not in scope.strings:
            continue
        for fret in range(neck.frets + 1):
            stopped = fret > 0 and scope.first_fret <= fret <= scope.last_fret
            if stopped or (fret == 0 and scope.open_strings):
                expected.append(Place(string, fret))
    assert list(scope.places(neck)) == expected


@pytest.mark.parametrize(
    ("text", "frets"),
    [
        ("position 5", [5, 6, 7, 8]),
        ("position V", [5, 6, 7, 8]),
        ("V position", [5, 6, 7, 8]),
        ("fifth position", [5, 6, 7, 8]),
        ("Position  5", [5, 6, 7, 8]),
        ("half position", [1, 2, 3]),
        ("position 1, open strings", [0, 1, 2, 3, 4]),
        ("open strings, position 1", [0, 1, 2, 3, 4]),
        ("position 23", [23, 24]),
        ("frets 5-9", [5, 6, 7, 8, 9]),
        ("frets 5 to 9", [5, 6, 7, 8, 9]),
        ("frets 0-3", [0, 1, 2, 3]),
        ("frets 0-3, no open strings", [1, 2, 3]),
        ("fret 12", [12]),
        ("string 1", list(range(25))),
        ("whole neck", list(range(25))),
        ("whole neck, no open strings", list(range(1, 25))),
        ("frets 20-36", [20, 21, 22, 23, 24]),
        ("position 5, string 1", [5, 6, 7, 8]),
        ("string 1, position 5", [5, 6, 7, 8]),
        ("string 1, no open strings", list(range(1, 25))),
    ],
)
def test_scopes_mean_what_they_say(text: str, frets: list[int]) -> None:
    assert frets_on(text) == frets


@pytest.mark.parametrize(
    ("text", "strings"),
    [
        ("string 2", {2}),
        ("strings 3-4", {3, 4}),
        ("strings 3 to 4", {3, 4}),
        ("strings 1 3", {1, 3}),
        ("strings 1+3", {1, 3}),
        ("frets 5-9, strings 3-4", {3, 4}),
        ("position 5", {1, 2, 3, 4}),
    ],
)
def test_strings_are_counted_from_the_highest(text: str, strings: set[int]) -> None:
    assert {place.string for place in Scope.parse(text).places(Neck())} == strings


@pytest.mark.parametrize(
    "text",
    [
        "", ",", "fifth", "position", "position 0", "position 37", "position H", "frets", "frets x",
        "frets 9-5", "frets 40", "frets 0", "frets 5-", "frets -3", "string", "strings", "string 0",
        "string x", "strings 4-2", "somewhere", "position 5, frets 5-9", "position 5, position 6",
        "whole neck, position 5",
    ],
)  # fmt: skip
def test_what_is_no_scope_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        Scope.parse(text)


@pytest.mark.parametrize("text", ["open strings, no open strings", "strings 1, strings 2"])
def test_parts_that_contradict_each_other_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        Scope.parse(text)


def test_one_open_string_is_as_good_as_many() -> None:
    assert Scope.parse("position 5, open string") == Scope.parse("position 5, open strings")


@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("positoin 5", "position"),
        ("postion 5", "position"),
        ("fretts 5-9", "frets"),
        ("stirng 2", "string"),
        ("whole nek", "whole neck"),
        ("half postion", "half position"),
        ("open strigns", "open strings"),
    ],
)
def test_a_misspelled_scope_names_the_nearest(text: str, nearest: str) -> None:
    with pytest.raises(InputError, match=f"did you mean '{nearest}"):
        Scope.parse(text)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("position 25", "last fret"),
        ("frets 25-30", "last fret"),
        ("string 5", "no string 5"),
        ("strings 4-6", "no string 5"),
    ],
)
def test_a_scope_off_the_neck_is_refused(text: str, fault: str) -> None:
    with pytest.raises(InputError, match=fault):
        Scope.parse(text).check(Neck(frets=24))


@settings(max_examples=200)
@given(st.text(alphabet="position fretshalfwck nV0123459-,", max_size=20) | st.text(max_size=10))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        scope = Scope.parse(text)
    except InputError:
        return
    assert Scope.parse(str(scope)) == scope


@pytest.mark.parametrize("text", ["position ", "frets ", "string "])
def test_a_number_of_thousands_of_digits_is_refused_in_words(text: str) -> None:
    with pytest.raises(InputError):
        Scope.parse(text + "9" * 5000)
