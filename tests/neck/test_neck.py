"""Places on the neck and the pitches that they sound."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.neck.neck import DOUBLE_DOTS, SINGLE_DOTS, Neck, Place
from fretdrill.neck.tuning import Tuning
from tests.strategies import necks, places_on


@given(necks(), st.data())
def test_a_place_is_among_the_places_of_its_pitch(neck: Neck, data: st.DataObject) -> None:
    place = data.draw(places_on(neck))
    assert place in neck.places_of(neck.midi(place))


@given(necks(), st.integers(0, 140))
def test_the_places_of_a_pitch_are_all_that_sound_it(neck: Neck, midi: int) -> None:
    """Brute force: walk every string fret by fret from the open pitch."""
    expected = []
    for string in range(len(neck.tuning.strings), 0, -1):
        sounding = neck.tuning.strings[string - 1].midi
        for fret in range(neck.frets + 1):
            if sounding == midi:
                expected.append((string, fret))
            sounding += 1
    assert list(neck.places_of(midi)) == expected
    assert all(neck.midi(place) == midi for place in neck.places_of(midi))


@given(necks())
def test_every_place_is_listed_once_from_the_lowest_string_and_the_nut(neck: Neck) -> None:
    assert len(neck.places) == len(set(neck.places)) == len(neck.tuning) * (neck.frets + 1)
    assert list(neck.places) == sorted(neck.places, key=lambda place: (-place.string, place.fret))
    assert all(place in neck for place in neck.places)


@given(necks())
def test_the_places_of_all_pitches_together_are_the_whole_neck(neck: Neck) -> None:
    found = [place for midi in range(128) for place in neck.places_of(midi)]
    assert sorted(found) == sorted(neck.places)


@given(necks())
def test_what_lies_off_the_neck_is_not_on_it(neck: Neck) -> None:
    strings, frets = len(neck.tuning), neck.frets
    for place in ((0, 1), (strings + 1, 1), (1, -1), (1, frets + 1)):
        assert Place(*place) not in neck


@given(st.integers(0, 20), st.integers(0, 40))
def test_printed_places_are_read_back(string: int, fret: int) -> None:
    assert Place.parse(str(Place(string, fret))) == (string, fret)


@pytest.mark.parametrize("text", ["", "3", "3/", "/5", "a/b", "3/5/1", "-1/2", "3 5", "1/²"])
def test_what_is_no_place_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="is not a place"):
        Place.parse(text)


@pytest.mark.parametrize("frets", [-1, 0, 11, 37, 1000])
def test_a_neck_has_twelve_to_thirty_six_frets(frets: int) -> None:
    with pytest.raises(InputError, match=str(frets)):
        Neck(frets=frets)


@pytest.mark.parametrize("frets", [12, 20, 36])
def test_every_number_of_frets_in_the_range_is_taken(frets: int) -> None:
    assert Neck(frets=frets).frets == frets


@pytest.mark.parametrize("scale", [0, -863.6, 299.9, 1200.1, float("inf"), float("nan")])
def test_a_scale_length_out_of_range_is_refused(scale: float) -> None:
    with pytest.raises(InputError, match="scale"):
        Neck(scale_mm=scale)


def test_a_neck_that_would_sound_above_midi_is_refused() -> None:
    with pytest.raises(InputError, match="MIDI"):
        Neck(Tuning.parse("C8"), frets=24)


# Fret markers of real basses: issue's own list, to fret 24.
def test_dots_lie_where_real_necks_have_them() -> None:
    assert {fret for fret in SINGLE_DOTS | DOUBLE_DOTS if fret <= 24} == {
        3, 5, 7, 9, 12, 15, 17, 19, 21, 24,
    }  # fmt: skip
    assert {fret for fret in DOUBLE_DOTS if fret <= 24} == {12, 24}
