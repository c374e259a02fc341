"""Lines: time, bars, rests, tempo."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.theory.key import Key
from fretdrill.theory.line import Bar, KeyChange, Line, Note, Rest, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch

E1 = Pitch.parse("E1")
QUARTER, EIGHTH, WHOLE = Fraction(1, 4), Fraction(1, 8), Fraction(1)
FOUR, SIX_EIGHT = Metre(4, 4), Metre(6, 8)


def note(onset: object, duration: object, pitch: Pitch = E1) -> Note:
    return Note(Fraction(str(onset)), Fraction(str(duration)), pitch)


def with_pickup() -> Line:
    """A pickup of a quarter, two bars of 4/4, one of 6/8."""
    bars = (
        Bar(0, Fraction(0), QUARTER, FOUR, Fraction(3, 4)),
        Bar(1, QUARTER, WHOLE, FOUR),
        Bar(2, QUARTER + 1, WHOLE, FOUR),
        Bar(3, QUARTER + 2, Fraction(3, 4), SIX_EIGHT),
    )
    notes = (note(0, "1/4"), note("1/2", "1/8"), note("9/4", "1/8"), note("19/8", "1/8"))
    return Line("Test", notes, bars)


def test_moments_have_a_bar_and_a_beat() -> None:
    line = with_pickup()
    told = [(line.bar_at(n.onset).number, line.beat_at(n.onset)) for n in line.notes]
    assert told == [(0, 4), (1, 2), (3, 1), (3, 2)]
    assert line.pickup == QUARTER
    assert line.metre == FOUR


def test_past_the_end_is_the_last_bar() -> None:
    assert with_pickup().bar_at(Fraction(100)).number == 3


def test_what_is_not_filled_is_rest() -> None:
    assert list(with_pickup().rests) == [
        Rest(QUARTER, QUARTER),
        Rest(Fraction(5, 8), Fraction(13, 8)),
        Rest(Fraction(5, 2), QUARTER + EIGHTH + EIGHTH),
    ]


def test_a_line_is_as_long_as_its_bars_or_notes() -> None:
    assert with_pickup().length == 3
    assert Line("Test", (note(0, 2),), ()).length == 2
    assert Line("Test", (), ()).length == 0


# SMF 1.1: 120 quarters a minute where nothing is said, so a whole note lasts 2 s.
def test_seconds_at_the_usual_tempo() -> None:
    line = with_pickup()
    assert line.seconds_at(Fraction(1)) == 2.0
    assert line.seconds_between(QUARTER, QUARTER + EIGHTH) == 0.25


def test_a_tempo_may_count_another_note_value() -> None:
    assert Tempo(bpm=60, beat=Fraction(3, 8)).whole_s == pytest.approx(8 / 3)


def test_seconds_run_through_changes_of_tempo() -> None:
    tempos = (Tempo(), Tempo(Fraction(1), 60), Tempo(Fraction(2), 240))
    line = Line("Test", (note(0, 3),), (), tempos)
    assert [line.seconds_at(Fraction(n)) for n in range(4)] == [0, 2, 6, 7]
    assert line.seconds_between(Fraction(1, 2), Fraction(5, 2)) == pytest.approx(1 + 4 + 0.5)


@given(st.integers(0, 50), st.integers(0, 50), st.fractions(0, 20, max_denominator=96))
def test_equal_lengths_in_one_tempo_give_equal_numbers(a: int, b: int, length: Fraction) -> None:
    line = Line("Test", (), (), (Tempo(bpm=97.3),))
    one = line.seconds_between(Fraction(a, 7), Fraction(a, 7) + length)
    assert one == line.seconds_between(Fraction(b, 3), Fraction(b, 3) + length)


@given(st.lists(st.fractions(0, 12, max_denominator=16), min_size=2, max_size=2))
def test_seconds_add_up(ends: list[Fraction]) -> None:
    early, late = sorted(ends)
    tempos = (Tempo(), Tempo(Fraction(3), 55.5), Tempo(Fraction(7, 2), 133, EIGHTH))
    line = Line("Test", (), (), tempos)
    expected = line.seconds_at(late) - line.seconds_at(early)
    assert line.seconds_between(early, late) == pytest.approx(expected, abs=1e-9)


def test_another_tempo_keeps_the_proportion_of_changes() -> None:
    line = Line("Test", (), (), (Tempo(bpm=100), Tempo(Fraction(1), 150))).at_tempo(50)
    assert [tempo.bpm for tempo in line.tempos] == [50, 75]


@pytest.mark.parametrize("bpm", [0, -1, 4.9, 1001, float("nan")])
def test_nothing_is_played_at_an_absurd_tempo(bpm: float) -> None:
    with pytest.raises(InputError):
        with_pickup().at_tempo(bpm)


def test_octaves_leave_out_written_places_and_keep_names() -> None:
    written = Note(Fraction(0), QUARTER, Pitch.parse("Eb2"), finger=2, string=3, fret=6)
    moved = Line("Test", (written,), ()).transposed_octaves(-1).notes[0]
    assert (str(moved.pitch), moved.finger, moved.string, moved.fret) == ("Eb1", 2, None, None)
    with pytest.raises(InputError):
        Line("Test", (written,), ()).transposed_octaves(-4)


def test_the_key_is_the_first() -> None:
    keys = (KeyChange(Fraction(0), Key.parse("F")), KeyChange(Fraction(1), Key.parse("C")))
    assert str(Line("Test", (), (), keys=keys).key) == "F major"
    assert Line("Test", (), ()).key is None


@pytest.mark.parametrize(
    "notes",
    [
        (note(0, 0),),
        (note(0, -1),),
        (note(-1, 1),),
        (note(0, "1/2"), note("1/4", "1/4")),
        (note("1/4", "1/4"), note(0, "1/4")),
    ],
)
def test_a_line_sounds_one_note_at_a_time(notes: tuple[Note, ...]) -> None:
    with pytest.raises(InputError):
        Line("Test", notes, ())


def test_a_line_has_a_tempo_from_its_beginning() -> None:
    for tempos in ((), (Tempo(Fraction(1)),)):
        with pytest.raises(InputError):
            Line("Test", (), (), tempos)


def test_a_line_without_bars_has_no_bar_to_tell() -> None:
    with pytest.raises(InputError):
        Line("Test", (note(0, 1),), ()).bar_at(Fraction(0))
