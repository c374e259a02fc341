"""Landmarks: the way to a missed place really leads there."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.reasons import Relation, landmark
from fretdrill.neck.neck import Place

from .cases import instrument, instruments

SEMITONES = {Relation.UNISON: 0, Relation.OCTAVE: 12, Relation.TWO_OCTAVES: 24}


@given(instruments(), st.data())
@settings(max_examples=150, deadline=None)
def test_a_landmark_leads_to_the_place(bass, data):
    neck = bass.player.neck
    places = st.sampled_from(neck.places)
    wanted = data.draw(places)
    known = data.draw(st.frozensets(places, max_size=6)) - {wanted}
    way = landmark(neck, wanted, known)
    assert way.start in known or way.start.fret == 0 or way.relation is Relation.STEPS
    assert way.start.string - way.strings == wanted.string
    assert way.start.fret + way.frets == wanted.fret
    apart = abs(bass.midi(*wanted) - bass.midi(*way.start))
    if way.relation is Relation.STEPS:
        # From where the next open string sounds, if that lies below the place; else from the nut.
        string, fret = wanted
        same = bass.midi(string - 1, 0) - bass.midi(string, 0) if string > 1 else 0
        assert way.start == (string, same if 0 < same < fret else 0)
    else:
        assert apart == SEMITONES[way.relation]


def test_the_steps_to_an_open_string_are_none():
    for string in (1, 2, 3, 4):  # E A D G: no two open strings share a name
        way = landmark(instrument().player.neck, Place(string, 0), frozenset())
        assert (way.start, way.relation, way.frets) == (Place(string, 0), Relation.STEPS, 0)


def test_steps_go_on_from_the_fret_of_the_next_open_string():
    # Fret 5 of the A string is D, the next open string; E lies two frets above it.
    assert landmark(instrument().player.neck, Place(3, 6), frozenset()).start == Place(3, 5)
    assert landmark(instrument().player.neck, Place(3, 4), frozenset()).start == Place(3, 0)


def test_the_octave_two_strings_over_is_preferred_to_the_far_one():
    # Two strings over and two frets up is an octave on fourths (common practice, no source).
    neck = instrument().player.neck
    way = landmark(neck, Place(1, 7), frozenset({Place(3, 5), Place(4, 10)}))
    assert (way.start, way.relation, way.strings, way.frets) == (
        Place(3, 5),
        Relation.OCTAVE,
        2,
        2,
    )
