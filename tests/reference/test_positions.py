"""Positions: what they cover, which naturals lie in them, how wide they are."""

import pytest

from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.theory.pitch import simple_name

NATURALS_FROM_C = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
OPEN_STRINGS = {"E": 4, "A": 3, "D": 2, "G": 1}

# The naturals of each string to the fifteenth fret, as (fret, note), worked by hand:
# two frets from note to note, one from B to C and from E to F.
NATURALS = {
    "E": "1F 3G 5A 7B 8C 10D 12E 13F 15G",
    "A": "2B 3C 5D 7E 8F 10G 12A 14B 15C",
    "D": "2E 3F 5G 7A 9B 10C 12D 14E 15F",
    "G": "2A 4B 5C 7D 9E 10F 12G 14A",
}

# Natural notes under the hand in positions I to XII, E A D G strings, worked by hand
# from the rows above.
POSITION_NATURALS = {
    1: ("F G", "B C", "E F", "A B"),
    2: ("G A", "B C D", "E F G", "A B C"),
    3: ("G A", "C D", "F G", "B C"),
    4: ("A B", "D E", "G A", "B C D"),
    5: ("A B C", "D E F", "G A", "C D"),
    6: ("B C", "E F", "A B", "D E"),
    7: ("B C D", "E F G", "A B C", "D E F"),
    8: ("C D", "F G", "B C", "E F"),
    9: ("D E", "G A", "B C D", "E F G"),
    10: ("D E F", "G A", "C D", "F G"),
    11: ("E F", "A B", "D E", "G A"),
    12: ("E F G", "A B C", "D E F", "G A"),
}


def naturals_of_string(open_note: str, frets: int) -> dict[int, str]:
    """Semitone arithmetic of its own: fret → natural, from the open note up."""
    start = NATURALS_FROM_C[open_note]
    by_class = {semitones: name for name, semitones in NATURALS_FROM_C.items()}
    return {
        fret: by_class[(start + fret) % 12]
        for fret in range(frets + 1)
        if (start + fret) % 12 in by_class
    }


@pytest.mark.parametrize("open_note", OPEN_STRINGS)
def test_the_hand_worked_naturals_agree_with_the_arithmetic(open_note: str) -> None:
    by_hand = {int(entry[:-1]): entry[-1] for entry in NATURALS[open_note].split()}
    computed = naturals_of_string(open_note, 15)
    del computed[0]
    assert by_hand == computed


@pytest.mark.parametrize("position", POSITION_NATURALS)
def test_natural_notes_of_each_position(position: int) -> None:
    neck = Neck()
    scope = Scope.parse(f"position {position}")
    for (open_note, string), row in zip(
        OPEN_STRINGS.items(), POSITION_NATURALS[position], strict=True
    ):
        computed = naturals_of_string(open_note, 24)
        expected = [computed[f] for f in range(position, position + 4) if f in computed]
        assert expected == row.split(), "the table worked by hand"
        names = [
            simple_name(neck.midi(place)) for place in scope.places(neck) if place.string == string
        ]
        assert [str(name) for name in names if name.alter == 0] == expected


@pytest.mark.parametrize("position", range(1, 22))
def test_a_position_covers_sixteen_notes(position: int) -> None:
    """Four frets on four strings (About.com Bass Basics)."""
    neck = Neck()
    places = Scope.parse(f"position {position}").places(neck)
    sounding = {neck.midi(place) for place in places}
    assert len(places) == len(sounding) == 16
    # Tuned in fourths, one semitone is left out between each pair of strings (computed).
    assert set(range(min(sounding), max(sounding) + 1)) - sounding == {
        neck.midi(Place(string, position - 1)) for string in (1, 2, 3)
    }


# A position is the fret under finger 1; fingers 2, 3 and 4 take the next frets
# (Bandwagon Bass, Level 1).
@pytest.mark.parametrize(("position", "frets"), [(1, {1, 2, 3, 4}), (4, {4, 5, 6, 7})])
def test_a_position_is_named_by_the_fret_under_finger_one(position: int, frets: set[int]) -> None:
    places = Scope.parse(f"position {position}").places(Neck())
    assert {place.fret for place in places} == frets


# Width of a position on 34 in, mm from finger 1's fret to the last finger's: 1-2-4, one
# finger per fret, and an extension. Worked out from Leirer (American Lutherie 96, 2008).
SPAN_POSITIONS = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15)
SPANS_MM = {
    2: (88.9, 83.9, 79.2, 74.8, 70.6, 66.6, 62.9, 59.4, 56.0, 52.9, 47.1, 39.6),
    3: (129.7, 122.4, 115.5, 109.1, 102.9, 97.2, 91.7, 86.6, 81.7, 77.1, 68.7, 57.8),
    4: (168.2, 158.7, 149.8, 141.4, 133.5, 126.0, 118.9, 112.2, 105.9, 100.0, 89.1, 74.9),
}


@pytest.mark.parametrize("frets_apart", SPANS_MM)
def test_position_spans_on_a_long_scale(frets_apart: int) -> None:
    neck = Neck()
    for position, mm in zip(SPAN_POSITIONS, SPANS_MM[frets_apart], strict=True):
        assert neck.span_mm(position, position + frets_apart) == pytest.approx(mm, abs=0.051)


def test_a_printed_six_fret_reach_is_wider_than_any_static_hand() -> None:
    """Fret 3 to 8 (Bass Guitar magazine 112, 2015) is 182 mm on 34 in (computed)."""
    assert Neck().span_mm(3, 8) == pytest.approx(182, abs=0.5)
