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
    assert way.start in known or way.start.fret == 0
    assert way.start.string - way.strings == wanted.string
    assert way.start.fret + way.frets == wanted.fret
    apart = abs(bass.midi(*wanted) - bass.midi(*way.start))
    if way.relation is Relation.STEPS:
        assert way.start.string == wanted.string
    else:
        assert apart == SEMITONES[way.relation]


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
