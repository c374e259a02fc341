"""Expected values are common practice, no source, unless a comment works them out.

At 120 quarters a minute and 480 steps a quarter a step lasts 1.04 ms.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.scores.midi_time import Span
from fretdrill.scores.midi_tracks import Sounded
from fretdrill.scores.quantise import Pulse, Quantised, quantise
from fretdrill.theory.metre import Metre

QUARTER = 480


def pulse(bpm: float = 120.0, *metres: Metre) -> Pulse:
    """Beats of the metres given, one bar each, the last one on and on."""
    metres = metres or (Metre(),)
    spans, onset = [], 0
    for i in range(60):
        metre = metres[min(i, len(metres) - 1)]
        spans.append(Span(onset, int(metre.bar * 4 * QUARTER), metre))
        onset = spans[-1].end
    return Pulse(QUARTER, spans, [(0, bpm)])


def onsets(result: Quantised) -> list[Fraction]:
    return [Fraction(note.onset, QUARTER) for note in result.notes]


def lengths(result: Quantised) -> list[float]:
    return [note.length / QUARTER for note in result.notes]


def played(*notes: tuple[float, float]) -> list[Sounded]:
    """Notes by onset and gate in quarters, each a semitone higher."""
    return [
        Sounded(round(onset * QUARTER), round((onset + gate) * QUARTER), 40 + i)
        for i, (onset, gate) in enumerate(notes)
    ]


def at(*steps: int) -> list[Sounded]:
    """Notes of a thirty-second that begin at these steps."""
    return [Sounded(step, step + 60, 40 + i) for i, step in enumerate(steps)]


# Onsets


def test_a_line_on_a_grid_is_not_moved() -> None:
    steps = (0, 160, 320, 480, 600, 720, 840, 960, 1020, 1200, 1280, 1470)
    result = quantise(at(*steps), pulse())
    assert [note.onset for note in result.notes] == list(steps)
    assert result.grids == set()
    assert (result.mean_s, result.most_s) == (0.0, 0.0)


def test_ticks_too_coarse_for_triplets_are_rounding_not_playing() -> None:
    # 100 ticks a quarter make 12 steps a tick at 1200 steps: a third is 33.3, written 33
    bars = [Span(0, 4800, Metre()), Span(4800, 4800, Metre())]
    notes = [Sounded(tick * 12, tick * 12 + 300, 40) for tick in (0, 33, 67, 100)]
    result = quantise(notes, Pulse(1200, bars, [(0, 120.0)]), slack=5)
    assert [note.onset for note in result.notes] == [0, 400, 800, 1200]
    assert result.grids == set()


@pytest.mark.parametrize(
    ("steps", "expected", "name"),
    [
        ((5, 470, 970, 1445), "0 1 2 3", "quarters"),
        ((5, 230, 490, 725), "0 1/2 1 3/2", "eighths"),
        ((4, 115, 245, 367, 488), "0 1/4 1/2 3/4 1", "sixteenths"),
        ((4, 155, 325, 488), "0 1/3 2/3 1", "eighth triplets"),
        ((2, 78, 165, 236, 325, 403, 482), "0 1/6 1/3 1/2 2/3 5/6 1", "sixteenth triplets"),
        ((2, 58, 122, 182, 238, 480), "0 1/8 1/4 3/8 1/2 1", "thirty-seconds"),
        (
            (3, 122, 245, 355, 483, 642, 795, 962),
            "0 1/4 1/2 3/4 1 4/3 5/3 2",
            "sixteenths and eighth triplets",
        ),
    ],
)
def test_the_coarsest_grid_that_stays_near(
    steps: tuple[int, ...], expected: str, name: str
) -> None:
    result = quantise(at(*steps), pulse())
    assert onsets(result) == [Fraction(place) for place in expected.split()]
    assert result.grid_name == name


def test_swung_eighths_are_triplets_and_lazy_ones_are_eighths() -> None:
    # 62 % of the beat is nearer to two thirds than to a half; 54 % is a late half
    swung = quantise(at(0, 298, 480, 778, 963), pulse())
    assert onsets(swung) == [0, Fraction(2, 3), 1, Fraction(5, 3), 2]
    lazy = quantise(at(0, 259, 480, 739, 963), pulse())
    assert onsets(lazy) == [0, Fraction(1, 2), 1, Fraction(3, 2), 2]


def test_how_far_notes_were_moved() -> None:
    # 0, 24 and 12 steps at 60 a minute, 480 steps a second: 0, 50 and 25 ms
    result = quantise(at(0, 504, 948), pulse(60.0))
    assert onsets(result) == [0, 1, 2]
    assert result.mean_s == pytest.approx(0.025)
    assert result.most_s == pytest.approx(0.050)


def test_beats_are_counted_from_the_bar() -> None:
    # After a bar of 7/8, 1680 steps, triplets start on the half of a quarter
    steps = [1680 + third for third in (0, 160, 320, 480)]
    result = quantise(at(3, *(step + 2 for step in steps)), pulse(120.0, Metre(7, 8), Metre()))
    assert [note.onset for note in result.notes] == [0, *steps]
    assert result.grid_name == "eighth triplets"


def test_notes_of_a_strummed_chord_are_one() -> None:
    # 10 steps are 10 ms
    notes = [Sounded(0, 470, 47), Sounded(5, 470, 40), Sounded(10, 470, 52), Sounded(485, 960, 45)]
    result = quantise(notes, pulse())
    assert [note.pitch for note in result.notes] == [40, 45]
    assert (result.chords, result.crowded) == (1, 0)


def test_a_doubled_note_is_no_chord() -> None:
    result = quantise([Sounded(0, 480, 40), Sounded(0, 240, 40)], pulse())
    assert (len(result.notes), result.chords) == (1, 0)
    assert result.notes[0].length == 480


def test_notes_without_a_place_of_their_own_are_counted() -> None:
    # 30 steps are 31 ms apart: no chord, and no room in thirty-seconds of 60 steps
    result = quantise(at(1, 31, 61, 91, 121, 480), pulse())
    assert len(result.notes) + result.crowded == 6
    assert result.crowded >= 1
    assert result.chords == 0


# Lengths


def test_where_every_end_is_on_the_grid_lengths_stand() -> None:
    notes = played((0, 0.5), (1, 0.75), (2, 0.25), (2.5, 1.5))
    result = quantise(notes, pulse())
    assert lengths(result) == [0.5, 0.75, 0.25, 1.5]
    assert not any(note.staccato for note in result.notes)


def test_a_tick_short_is_on_the_grid() -> None:
    result = quantise(played((0, 479 / 480), (1, 239 / 480), (2, 1919 / 480)), pulse())
    assert lengths(result) == [1.0, 0.5, 4.0]


@pytest.mark.parametrize("gate", [0.6, 0.7, 0.8, 0.9, 0.95])
def test_a_gap_before_the_next_note_is_how_it_is_played(gate: float) -> None:
    notes = played((0, gate), (1, gate), (2, 2 * gate), (4, gate / 2), (4.5, gate / 2), (5, gate))
    assert lengths(quantise(notes, pulse()))[:5] == [1, 1, 2, 0.5, 0.5]


@pytest.mark.parametrize(("gate", "staccato"), [(0.3, True), (0.55, True), (0.57, False)])
def test_a_note_that_sounds_half_its_time_is_staccato(gate: float, staccato: bool) -> None:
    notes = played((0, gate), (1, 0.8), (2, 0.8))
    first, second, _ = quantise(notes, pulse()).notes
    assert (first.length, first.staccato) == (QUARTER, staccato)
    assert not second.staccato


@pytest.mark.parametrize(
    ("onset", "gate", "length"),
    [
        (0, 0.8, 1.0),
        (0, 0.4, 0.5),
        (0, 0.2, 0.25),
        (0, 0.1, 0.125),
        (0, 1.2, 1.5),
        (0, 1.6, 2.0),
        (0, 3.8, 4.0),
        (0, 1.04, 1.0),  # a little long
        (0.25, 0.6, 0.75),  # three sixteenths up to the next beat
    ],
)
def test_before_a_long_rest_a_note_is_rounded_up(onset: float, gate: float, length: float) -> None:
    result = quantise(played((onset, gate), (8, 0.8)), pulse())
    assert lengths(result)[0] == length
    assert lengths(result)[1] == 1.0
    assert not result.notes[0].staccato


def test_in_triplets_it_is_rounded_up_to_thirds() -> None:
    third = 1 / 3
    result = quantise(played((0, 0.3), (third, 0.3), (2 * third, 0.27), (8, 0.8)), pulse())
    assert [note.length for note in result.notes][:3] == [160, 160, 160]


def test_a_long_note_is_cut_by_the_next_and_counted() -> None:
    result = quantise(played((0, 2), (1, 1.1), (2, 1)), pulse())
    assert lengths(result) == [1, 1, 1]
    assert result.cut == 1  # a tenth of a beat too long is only legato


def test_no_length_is_the_shortest_but_never_over_the_next() -> None:
    result = quantise([Sounded(0, 0, 40), Sounded(40, 40, 41), Sounded(480, 960, 42)], pulse())
    assert [note.length for note in result.notes] == [40, 60, 480]
    assert result.without_length == 2


@given(
    st.lists(
        st.tuples(st.integers(0, 20_000), st.integers(0, 2000), st.integers(0, 127)),
        min_size=1,
        max_size=60,
    ),
    st.floats(5.0, 1000.0),
)
def test_what_is_written_is_a_line(notes: list[tuple[int, int, int]], bpm: float) -> None:
    sounded = sorted(Sounded(onset, onset + gate, pitch) for onset, gate, pitch in notes)
    result = quantise(sounded, pulse(bpm))
    end = 0
    for note in result.notes:
        assert note.onset >= end
        assert note.length > 0
        end = note.onset + note.length
    assert result.mean_s <= result.most_s * 1.001
    assert bool(result.grids) == bool(result.grid_name)
