"""Note names and pitches: reading, printing, enharmonics."""

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError, UnknownName
from fretdrill.theory.pitch import FLAT_NAMES, SHARP_NAMES, NoteName, Pitch, simple_name
from tests.strategies import note_names, pitches

# Semitones above C, counted on a piano keyboard.
PIANO = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


@pytest.mark.parametrize(
    ("text", "letter", "alter"),
    [
        ("C", "C", 0),
        ("c", "C", 0),
        (" g ", "G", 0),
        ("Bb", "B", -1),
        ("bb", "B", -1),
        ("b", "B", 0),
        ("B♭", "B", -1),
        ("F#", "F", 1),
        ("f♯", "F", 1),
        ("Ebb", "E", -2),
        ("E♭♭", "E", -2),
        ("E𝄫", "E", -2),
        ("F##", "F", 2),
        ("Fx", "F", 2),
        ("F𝄪", "F", 2),
        ("D♮", "D", 0),
        ("Abbb", "A", -3),
    ],
)
def test_names_are_read_in_every_usual_way(text: str, letter: str, alter: int) -> None:
    assert NoteName.parse(text) == NoteName(letter, alter)


@pytest.mark.parametrize(
    ("name", "signs", "plain"),
    [("Bb", "B♭", "Bb"), ("F#", "F♯", "F#"), ("Ebb", "E♭♭", "Ebb"), ("Fx", "F♯♯", "F##")],
)
def test_names_are_printed_with_signs_or_in_ascii(name: str, signs: str, plain: str) -> None:
    note = NoteName.parse(name)
    assert note.text() == signs
    assert note.text(ascii_only=True) == str(note) == plain
    assert str(note).isascii()


@given(note_names())
def test_printed_names_are_read_back(name: NoteName) -> None:
    assert NoteName.parse(name.text()) == name
    assert NoteName.parse(str(name)) == name


@given(note_names())
def test_pitch_class_counts_semitones_from_the_letter(name: NoteName) -> None:
    assert name.pitch_class == (PIANO[name.letter] + name.alter) % 12


@given(note_names(2))
def test_the_line_of_fifths_is_walked_in_fifths(name: NoteName) -> None:
    assert NoteName.from_fifths(name.fifths) == name
    # Independent of the letter arithmetic: a fifth is seven semitones, C is 0.
    assert name.pitch_class == 7 * name.fifths % 12


@given(note_names(), note_names())
def test_names_are_enharmonic_when_one_piano_key_has_both(a: NoteName, b: NoteName) -> None:
    same_key = (PIANO[a.letter] + a.alter - PIANO[b.letter] - b.alter) % 12 == 0
    assert a.is_enharmonic(b) == b.is_enharmonic(a) == same_key


@given(pitches())
def test_printed_pitches_are_read_back(pitch: Pitch) -> None:
    assert Pitch.parse(pitch.text()) == pitch
    assert Pitch.parse(str(pitch)) == pitch


@given(pitches())
def test_the_octave_number_belongs_to_the_letter(pitch: Pitch) -> None:
    natural = 12 * (pitch.octave + 1) + PIANO[pitch.name.letter]
    assert natural + pitch.name.alter == pitch.midi


@pytest.mark.parametrize("text", ["H", "", " ", "do", "1", "C-", "Gis"])
def test_what_is_no_name_is_refused_by_value(text: str) -> None:
    with pytest.raises(UnknownName) as refused:
        NoteName.parse(text)
    assert refused.value.what == "note"
    assert f"'{text}'" in str(refused.value)


@pytest.mark.parametrize("text", ["Cbbbb", "C####", "Cxx", "C𝄫𝄫"])
def test_more_than_three_accidentals_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="more accidentals"):
        NoteName.parse(text)


@pytest.mark.parametrize(("letter", "alter"), [("H", 0), ("c", 0), ("", 0), ("C", 4), ("C", -4)])
def test_impossible_names_cannot_be_built(letter: str, alter: int) -> None:
    with pytest.raises(InputError):
        NoteName(letter, alter)


def test_a_pitch_without_its_octave_is_told_what_to_add() -> None:
    with pytest.raises(InputError, match="needs an octave, such as Bb1"):
        Pitch.parse("Bb")


@pytest.mark.parametrize("text", ["Cb-1", "C-2", "G#9", "A9", "E99", "E-99"])
def test_pitches_beyond_midi_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="MIDI range"):
        Pitch.parse(text)


@pytest.mark.parametrize(("text", "midi"), [("C-1", 0), ("G9", 127), ("B#-2", 0), ("Abb9", 127)])
def test_the_ends_of_the_midi_range_are_read(text: str, midi: int) -> None:
    assert Pitch.parse(text).midi == midi


def test_a_pitch_cannot_carry_the_name_of_another_key() -> None:
    with pytest.raises(InputError, match="cannot be spelled"):
        Pitch(28, NoteName("F"))


def test_simple_names_have_at_most_one_accidental_of_the_kind_asked_for() -> None:
    for midi in range(128):
        assert simple_name(midi).alter in (0, -1)
        assert simple_name(midi, sharps=True).alter in (0, 1)
        assert simple_name(midi).pitch_class == midi % 12
        assert simple_name(midi, sharps=True).pitch_class == midi % 12
    assert [n.pitch_class for n in FLAT_NAMES] == list(range(12))
    assert [n.pitch_class for n in SHARP_NAMES] == list(range(12))


@settings(max_examples=200)
@given(st.text(alphabet="ABCHcgb#♭♯𝄪𝄫x♮-0129 ²٣", max_size=8) | st.text(max_size=8))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    for parse in (NoteName.parse, Pitch.parse):
        with suppress(InputError):
            parse(text)


def test_a_number_of_thousands_of_digits_is_refused_in_words() -> None:
    with pytest.raises(InputError):
        Pitch.parse("E" + "1" * 5000)
