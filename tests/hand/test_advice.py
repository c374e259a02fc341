"""Notes off the neck: which, how far, and what would bring them in.

Everything is held against a neck that is looked over fret by fret here.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.advice import (
    MoreFrets,
    Octaves,
    OtherTuning,
    Way,
    playable,
    ways_in,
)
from fretdrill.neck.neck import MAX_FRETS, Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.theory.line import Bar, Join, Line, Note
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch, simple_name
from tests.strategies import necks

FOUR = Neck()  # E1 to G4: 28 to 67
# Open strings of basses, MIDI numbers; B0 is 23, C3 is 48 (general guides, as for the presets).
FIVE_STRINGS, SIX_STRINGS = (23, 28, 33, 38, 43), (23, 28, 33, 38, 43, 48)


def line_of(*midis: int, joins: tuple[Join | None, ...] = ()) -> Line:
    joins = joins or (None,) * len(midis)
    notes = tuple(
        Note(Fraction(at, 4), Fraction(1, 4), Pitch(midi, simple_name(midi)), join=join)
        for at, (midi, join) in enumerate(zip(midis, joins, strict=True))
    )
    bars = range(max(1, -(-len(midis) // 4)))
    return Line("off", notes, tuple(Bar(n + 1, Fraction(n), Fraction(1), Metre()) for n in bars))


def sounding(strings: tuple[int, ...], frets: int) -> set[int]:
    """Return every pitch on a neck, by looking at every fret of every string."""
    return {string + fret for string in strings for fret in range(frets + 1)}


def on(neck: Neck) -> set[int]:
    return sounding(tuple(pitch.midi for pitch in neck.tuning.strings), neck.frets)


midi_lines = st.lists(st.integers(0, 127), max_size=8).map(lambda midis: line_of(*midis))


# Which, and how far


def test_what_lies_on_the_neck_is_left_as_it_is():
    line = line_of(28, 43, 67)
    part = playable(line, FOUR)
    assert part.line is line
    assert part.kept == (0, 1, 2)
    assert part.off == ()


def test_a_note_below_one_above():
    part = playable(line_of(26, 40, 70), FOUR)
    assert part.kept == (1,)
    assert [(off.index, off.semitones) for off in part.off] == [(0, -2), (2, 3)]


def test_a_note_in_a_gap_between_two_strings():
    part = playable(line_of(20, 40, 60), Neck(Tuning.parse("C1 C4"), frets=12))
    assert [(off.index, off.semitones) for off in part.off] == [(0, -4), (1, 0)]


def test_nothing_is_left():
    part = playable(line_of(10, 12), FOUR)
    assert part.line.notes == ()
    assert part.kept == ()
    assert len(part.off) == 2


def test_an_empty_line():
    part = playable(line_of(), FOUR)
    assert (part.line.notes, part.kept, part.off) == ((), (), ())
    assert ways_in(line_of(), Neck(frets=MAX_FRETS))[:1] == [Octaves(1)]


@pytest.mark.parametrize("join", Join)
def test_a_join_into_a_note_that_is_left_out_goes_with_it(join):
    line = line_of(40, 20, 41, 43, joins=(join, join, join, None))
    kept = playable(line, FOUR).line.notes
    assert [note.pitch.midi for note in kept] == [40, 41, 43]
    assert [note.join for note in kept] == [None, join, None]


@settings(deadline=None)
@given(midi_lines, necks())
def test_the_split_against_every_fret_of_the_neck(line, neck):
    there = on(neck)
    part = playable(line, neck)
    off = [index for index, note in enumerate(line.notes) if note.pitch.midi not in there]
    assert [one.index for one in part.off] == off
    assert sorted([*part.kept, *off]) == list(range(len(line.notes)))
    assert len(part.line.notes) == len(part.kept)
    for note, index in zip(part.line.notes, part.kept, strict=True):
        assert replace(note, join=None) == replace(line.notes[index], join=None)
    for one in part.off:
        midi = line.notes[one.index].pitch.midi
        if one.semitones == 0:
            assert min(there) < midi < max(there)
        else:
            edge = max(there) if one.semitones > 0 else min(there)
            assert midi == edge + one.semitones


def test_the_rest_keeps_its_bars_tempos_and_places():
    line = line_of(20, 40, 41, 20)
    part = playable(line, FOUR)
    assert (part.line.bars, part.line.tempos, part.line.title) == (
        line.bars,
        line.tempos,
        line.title,
    )
    assert [note.onset for note in part.line.notes] == [Fraction(1, 4), Fraction(1, 2)]


# What would help


CASES = {
    "a low D": ((26, 40), [Octaves(1), OtherTuning("5-string")]),
    "a low C of a keyboard": ((16, 40), [Octaves(1)]),
    "a high A flat": ((40, 68), [Octaves(-1), OtherTuning("6-string"), MoreFrets(25)]),
    "a high A flat beside the open E": ((28, 68), [OtherTuning("6-string"), MoreFrets(25)]),
    "a low B beside a high A flat": ((23, 68), [OtherTuning("6-string")]),
    "two octaves too low": ((9, 20), [Octaves(2)]),
    "two octaves too high": ((90, 85), [Octaves(-2)]),
    "nothing helps": ((5, 120), []),
}


@pytest.mark.parametrize("name", CASES)
def test_ways_in_on_four_strings_and_24_frets(name):
    midis, expected = CASES[name]
    assert ways_in(line_of(*midis), FOUR) == expected


def test_a_fifth_string_is_not_advised_to_who_has_it():
    assert ways_in(line_of(20, 30), Neck(Tuning.parse("5-string"))) == [Octaves(1)]


def test_no_more_frets_than_a_neck_can_have():
    assert MoreFrets(MAX_FRETS) in ways_in(line_of(28, 43 + MAX_FRETS), FOUR)
    assert not any(isinstance(way, MoreFrets) for way in ways_in(line_of(28, 44 + MAX_FRETS), FOUR))


def brute(midis: set[int], neck: Neck) -> list[Way]:
    """Try everything, from the nearest octave and the narrowest neck on."""
    strings = tuple(pitch.midi for pitch in neck.tuning.strings)
    there = on(neck)
    found: list[Way] = [
        Octaves(by) for by in (1, -1, 2, -2) if {midi + 12 * by for midi in midis} <= there
    ][:1]
    wider = (("5-string", FIVE_STRINGS), ("6-string", SIX_STRINGS))
    found += [OtherTuning(name) for name, open_ in wider if midis <= sounding(open_, neck.frets)][
        :1
    ]
    highest = min(MAX_FRETS, 127 - max(strings))  # 127 is the highest pitch of MIDI
    more = range(neck.frets + 1, highest + 1)
    found += [MoreFrets(frets) for frets in more if midis <= sounding(strings, frets)][:1]
    return found


@st.composite
def lines_nearly_on(draw: st.DrawFn) -> tuple[Line, Neck]:
    """Lines of which some notes lie off the neck, most of them not far."""
    neck = draw(necks())
    there = on(neck)
    near = range(max(0, min(there) - 16), min(127, max(there) + 16) + 1)
    midis = draw(st.lists(st.sampled_from(near), min_size=1, max_size=5))
    return line_of(*midis), neck


@settings(deadline=None, max_examples=200)
@given(lines_nearly_on())
def test_ways_in_by_trying_everything(case):
    line, neck = case
    midis = {note.pitch.midi for note in line.notes}
    if midis <= on(neck):
        return
    assert ways_in(line, neck) == brute(midis, neck)
