"""What every bass player knows by heart."""

import pytest

from fretdrill.hand.hand import Hand
from fretdrill.hand.in_position import finger_choices
from fretdrill.hand.reach import resting_frets
from fretdrill.neck.neck import Neck, Place
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import Pitch

NECK = Neck()
ONE_PER_FRET = Hand(1.0, "one-per-fret")


def note_at(string: int, fret: int) -> str:
    return str(Key.parse("C major").spell(NECK.midi(Place(string, fret))).name)


# Common practice, no source.
def test_the_seventh_fret_of_the_highest_string_is_d() -> None:
    assert note_at(1, 7) == "D"


# Common practice, no source.
def test_with_finger_one_there_finger_four_reaches_c_on_the_next_string() -> None:
    resting = resting_frets(NECK, Hand(), 7)
    assert resting[1] == 7
    assert resting[4] == 10
    assert note_at(2, resting[4]) == "C"
    best = finger_choices(NECK, Hand(), 7, 10)[0]
    assert (best.finger, best.moves, best.regret) == (4, 0, 0)


# Common practice, no source.
def test_the_fifth_fret_sounds_the_next_open_string() -> None:
    for string in (2, 3, 4):
        assert NECK.midi(Place(string, 5)) == NECK.midi(Place(string - 1, 0))


# Common practice, no source.
def test_the_octave_lies_two_strings_and_two_frets_up() -> None:
    for string in (3, 4):
        for fret in range(23):
            octave = NECK.midi(Place(string - 2, fret + 2))
            assert octave == NECK.midi(Place(string, fret)) + 12


# Common practice, no source: the notes at the dots of the low string.
@pytest.mark.parametrize(
    ("fret", "name"), [(3, "G"), (5, "A"), (7, "B"), (8, "C"), (10, "D"), (12, "E")]
)
def test_landmarks_of_the_low_string(fret: int, name: str) -> None:
    assert note_at(4, fret) == name


# Common practice, no source.
def test_every_place_of_the_open_d() -> None:
    """D2 on a four-string bass: open D, fret 5 of A, fret 10 of E."""
    places = NECK.places_of(Pitch.parse("D2").midi)
    assert set(places) == {(2, 0), (3, 5), (4, 10)}


# Bass lesson slides and thoughtco, "Bass Scales": one octave of C major from finger 2,
# 2-4 / 1-2-4 / 1-3-4, frets A3 A5 · D2 D3 D5 · G2 G4 G5, no shift.
def test_one_octave_of_major_from_finger_two() -> None:
    places = [(3, 3), (3, 5), (2, 2), (2, 3), (2, 5), (1, 2), (1, 4), (1, 5)]
    names = [note_at(*place) for place in places]
    assert names == "C D E F G A B C".split()
    fingers = [finger_choices(NECK, ONE_PER_FRET, 2, fret)[0] for _, fret in places]
    assert [choice.finger for choice in fingers] == [2, 4, 1, 2, 4, 1, 3, 4]
    assert all(choice.moves == 0 for choice in fingers)


# Computed: natural minor from finger 1 is 1-3-4 / 1-3-4 / 1-3 with no shift.
def test_one_octave_of_natural_minor_from_finger_one() -> None:
    places = [(4, 5), (4, 7), (4, 8), (3, 5), (3, 7), (3, 8), (2, 5), (2, 7)]
    assert [note_at(*place) for place in places] == "A B C D E F G A".split()
    fingers = [finger_choices(NECK, ONE_PER_FRET, 5, fret)[0].finger for _, fret in places]
    assert fingers == [1, 3, 4, 1, 3, 4, 1, 3]


# Computed: the sixth of Dorian from finger 1 falls outside the four frets.
def test_one_octave_of_dorian_from_finger_one_leaves_the_position() -> None:
    sixth = Pitch.parse("F#2").midi  # A dorian from E string, fret 5
    assert all(not 5 <= place.fret <= 8 for place in NECK.places_of(sixth))
