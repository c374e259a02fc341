"""Frequencies: A4 = 440 Hz in equal temperament (ISO 16:1975)."""

import pytest

from fretdrill.neck.neck import Neck, Place
from fretdrill.theory.pitch import Pitch

# ISO 16:1975 fixes A4; the rest follow by f = 440·2^((m - 69)/12), to 0.001 Hz.
FREQUENCIES_HZ = {
    "B0": 30.868,
    "E1": 41.203,
    "A1": 55.000,
    "D2": 73.416,
    "G2": 97.999,
    "C3": 130.813,
    "A4": 440.000,
    # Middle C, from memory: 261.626 Hz.
    "C4": 261.626,
}


@pytest.mark.parametrize(("name", "hertz"), FREQUENCIES_HZ.items())
def test_open_strings_and_landmarks(name: str, hertz: float) -> None:
    assert Pitch.parse(name).frequency_hz == pytest.approx(hertz, abs=0.0006)


def test_a4_is_exactly_440_hertz() -> None:
    assert Pitch.parse("A4").frequency_hz == 440.0


def test_the_twelfth_fret_doubles_the_open_string() -> None:
    for open_string in Neck().tuning.strings:
        octave = Pitch(open_string.midi + 12, open_string.name)
        assert octave.frequency_hz == pytest.approx(2 * open_string.frequency_hz)


def test_enharmonic_spellings_sound_the_same() -> None:
    assert Pitch.parse("C#2").frequency_hz == Pitch.parse("Db2").frequency_hz


def test_a_stopped_string_sounds_as_much_higher_as_it_is_shorter() -> None:
    """Mersenne: frequency goes as one over the sounding length (common knowledge, no source)."""
    neck = Neck()
    for fret in range(1, 25):
        midi = neck.midi(Place(3, fret))
        sounding = neck.scale_mm - neck.span_mm(0, fret)
        ratio = 440 * 2 ** ((midi - 69) / 12) / 55.0
        assert ratio == pytest.approx(neck.scale_mm / sounding)
