"""Keys: signatures, scales, and how they spell any note."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError, UnknownName
from fretdrill.theory.key import MAJOR_KEYS, MINOR_KEYS, MODES, Key
from fretdrill.theory.pitch import NoteName
from tests.strategies import all_keys, keys

# Semitones from degree to degree, counted on the white keys of a piano from the
# tonic that gives the mode with no accidental (F lydian … B locrian).
WHITE_KEYS = "C D E F G A B".split()
PIANO = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
MODE_TONICS = {
    "major": "C",
    "dorian": "D",
    "phrygian": "E",
    "lydian": "F",
    "mixolydian": "G",
    "minor": "A",
    "locrian": "B",
}


def degrees_of(mode: str) -> list[int]:
    """Semitones of each degree above the tonic."""
    start = WHITE_KEYS.index(MODE_TONICS[mode])
    tonic = PIANO[MODE_TONICS[mode]]
    return [(PIANO[WHITE_KEYS[(start + i) % 7]] - tonic) % 12 for i in range(7)]


@pytest.mark.parametrize("mode", MODES)
def test_the_white_keys_give_each_mode(mode: str) -> None:
    key = Key.parse(f"{MODE_TONICS[mode]} {mode}")
    assert key.signature == 0
    assert sorted(map(str, key.scale)) == sorted(WHITE_KEYS)


@given(keys())
def test_a_scale_has_each_letter_once_and_the_steps_of_its_mode(key: Key) -> None:
    assert len({name.letter for name in key.scale}) == 7
    assert key.scale[0] == key.tonic
    above = [(name.pitch_class - key.tonic.pitch_class) % 12 for name in key.scale]
    assert above == degrees_of(key.mode)


@given(keys())
def test_the_signature_counts_the_accidentals_of_the_scale(key: Key) -> None:
    assert sum(name.alter for name in key.scale) == key.signature


@given(keys())
def test_printed_keys_are_read_back(key: Key) -> None:
    assert Key.parse(str(key)) == key
    assert Key.parse(key.text()) == key


@pytest.mark.parametrize(
    ("text", "tonic", "mode"),
    [
        ("C", "C", "major"),
        ("Bb", "Bb", "major"),
        ("Em", "E", "minor"),
        ("bbm", "Bb", "minor"),
        ("F# minor", "F#", "minor"),
        ("D dorian", "D", "dorian"),
        ("D  Dorian ", "D", "dorian"),
        ("C ionian", "C", "major"),
        ("A aeolian", "A", "minor"),
        ("A min", "A", "minor"),
        ("E♭ maj", "Eb", "major"),
    ],
)
def test_keys_are_read_as_players_write_them(text: str, tonic: str, mode: str) -> None:
    assert Key.parse(text) == Key(NoteName.parse(tonic), mode)


def test_there_are_fifteen_major_and_fifteen_minor_keys() -> None:
    assert [key.signature for key in MAJOR_KEYS] == list(range(-7, 8))
    assert [key.signature for key in MINOR_KEYS] == list(range(-7, 8))
    assert {key.mode for key in MAJOR_KEYS} == {"major"}
    assert {key.mode for key in MINOR_KEYS} == {"minor"}


@pytest.mark.parametrize("key", all_keys(), ids=str)
def test_a_key_spells_the_notes_of_its_scale_as_the_scale_does(key: Key) -> None:
    for name in key.scale:
        assert key.spell(48 + name.pitch_class).name == name


@given(keys(), st.integers(0, 127))
def test_a_key_spells_every_note_with_its_own_sound(key: Key, midi: int) -> None:
    pitch = key.spell(midi)
    assert pitch.midi == midi
    assert pitch.name.pitch_class == midi % 12


# The harmonic chromatic scale: lowered 2 3 6 7, raised 4, common practice, no source.
@pytest.mark.parametrize(
    ("key", "names"),
    [
        ("C major", "C Db D Eb E F F# G Ab A Bb B"),
        ("F major", "F Gb G Ab A Bb B C Db D Eb E"),
        ("G major", "G Ab A Bb B C C# D Eb E F F#"),
        ("A minor", "A Bb B C C# D D# E F F# G G#"),
        ("E minor", "E F F# G G# A A# B C C# D D#"),
    ],
)
def test_chromatic_notes_follow_the_harmonic_chromatic_scale(key: str, names: str) -> None:
    tonic = NoteName.parse(names.split()[0]).pitch_class
    spelled = [str(Key.parse(key).spell(48 + tonic + i).name) for i in range(12)]
    assert spelled == names.split()


def test_f_major_has_no_a_sharp() -> None:
    assert str(Key.parse("F major").spell(34).name) == "Bb"


@pytest.mark.parametrize("text", ["Fb major", "G# major", "Cb minor", "Fb locrian", "E# lydian"])
def test_keys_of_eight_accidentals_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="more than seven accidentals"):
        Key.parse(text)


@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("C dorain", "dorian"),
        ("C mayor", "major"),
        ("C minro", "minor"),
        ("C mixolidian", "mixolydian"),
        ("A aeolain", "aeolian"),
        ("C ionain", "ionian"),
    ],
)
def test_an_unknown_mode_names_the_nearest(text: str, nearest: str) -> None:
    with pytest.raises(UnknownName) as refused:
        Key.parse(text)
    assert refused.value.what == "mode"
    assert refused.value.nearest == nearest


@pytest.mark.parametrize("text", ["", "  ", "C harmonic minor", "H", "Hm", "m", "7 major"])
def test_what_is_no_key_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        Key.parse(text)


@settings(max_examples=200)
@given(st.text(alphabet="ABCFmajorindl#b♭ ", max_size=10) | st.text(max_size=10))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        key = Key.parse(text)
    except InputError:
        return
    assert abs(key.signature) <= 7
