"""Places on the bass staff and accidentals in a bar against music21."""

import random
from itertools import groupby, product
from typing import Any

import pytest

from fretdrill.theory.key import MAJOR_KEYS, Key
from fretdrill.theory.pitch import LETTERS, NoteName, Pitch
from fretdrill.theory.staff import accidentals_shown, signature_steps, staff_step
from tests.reference.music21_names import to_music21

LOWEST, HIGHEST = 28, 67  # E1 to G4, a four-string bass with 24 frets
OCTAVES = range(6)

Figure = list[tuple[Pitch, int]]


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


def spelled_notes() -> list[Pitch]:
    """Every note of a four-string bass, as each letter with ♭, ♮ and ♯ that names it."""
    names = [NoteName(letter, alter) for letter, alter in product(LETTERS, (-1, 0, 1))]
    found = [Pitch.parse(f"{name}{octave}") for name, octave in product(names, OCTAVES)]
    return [pitch for pitch in found if LOWEST <= pitch.midi <= HIGHEST]


def written(music21: Any, pitch: Pitch) -> Any:
    """Return the note as music21 has it an octave above its sound."""
    sounding = music21.note.Note(f"{to_music21(pitch.name)}{pitch.octave}")
    assert sounding.pitch.midi == pitch.midi
    return sounding.transpose("P8")


def test_every_spelled_note_of_the_bass(music21: Any) -> None:
    bottom_line = music21.clef.BassClef().lowestLine
    notes = spelled_notes()
    assert {pitch.midi for pitch in notes} == set(range(LOWEST, HIGHEST + 1))
    for pitch in notes:
        oracle = written(music21, pitch).pitch.diatonicNoteNum - bottom_line
        assert staff_step(pitch) == oracle, pitch


def test_a_double_bass_sounds_an_octave_below_its_staff(music21: Any) -> None:
    """A bass guitar is written like it (common practice, no source)."""
    assert music21.instrument.Contrabass().transposition.semitones == -12


@pytest.mark.parametrize("key", MAJOR_KEYS, ids=str)
def test_order_of_the_signature(music21: Any, key: Key) -> None:
    """Which line or space each stands on music21 does not say."""
    bottom_line = music21.clef.BassClef().lowestLine
    oracle = music21.key.KeySignature(key.signature).alteredPitches
    found = signature_steps(key)
    letters = [LETTERS[(bottom_line - 1 + sign.step) % 7] for sign in found]
    assert letters == [pitch.step for pitch in oracle]
    assert [sign.alter for sign in found] == [pitch.alter for pitch in oracle]


def random_figure(rng: random.Random) -> Figure:
    """Return up to eight notes of few or many letters, in bars."""
    letters = LETTERS[: rng.choice((2, 4, 7))]
    figure: Figure = []
    bar = 1
    for _ in range(rng.randint(1, 8)):
        bar += rng.random() < 0.25
        name = NoteName(rng.choice(letters), rng.choice((-2, -1, 0, 0, 1, 2)))
        figure.append((Pitch.parse(f"{name}{rng.choice((1, 2))}"), bar))
    return figure


def shown_by_music21(music21: Any, figure: Figure, key: Key) -> list[int | None]:
    """Return the accidentals shown, courtesy accidentals off.

    Each bar is given alone: after a bar line music21 adds courtesy naturals, which none
    of its switches turns off for notes that carry no accidental.
    """
    shown: list[int | None] = []
    for _, bar in groupby(figure, key=lambda note: note[1]):
        measure = music21.stream.Measure()
        measure.append(music21.key.KeySignature(key.signature))
        notes = [written(music21, pitch) for pitch, _ in bar]
        for note in notes:
            if note.pitch.accidental is not None:
                note.pitch.accidental.displayType = "if-absolutely-necessary"
            measure.append(note)
        measure.makeAccidentals(
            inPlace=True, cautionaryPitchClass=False, cautionaryNotImmediateRepeat=False
        )
        for note in notes:
            accidental = note.pitch.accidental
            visible = accidental is not None and accidental.displayStatus
            shown.append(int(note.pitch.alter) if visible else None)
    return shown


def met_in_another_octave(figure: Figure, index: int) -> bool:
    """Whether a note's letter stands earlier in its bar in another octave."""
    pitch, bar = figure[index]
    return any(
        before.name.letter == pitch.name.letter and before.octave != pitch.octave
        for before, its_bar in figure[:index]
        if its_bar == bar
    )


@pytest.mark.parametrize("seed", range(6))
def test_accidentals_of_random_figures(music21: Any, seed: int) -> None:
    """They agree on every note whose letter has kept to one octave in its bar.

    Where it has not, music21 repeats some signs as a courtesy and takes a natural of the
    other octave as holding; a reader in ``tests/theory/test_staff.py`` judges those.
    """
    rng = random.Random(seed)
    compared = 0
    for _ in range(100):
        key, figure = rng.choice(MAJOR_KEYS), random_figure(rng)
        ours = accidentals_shown(figure, key)
        oracle = shown_by_music21(music21, figure, key)
        for index, (pitch, _) in enumerate(figure):
            if not met_in_another_octave(figure, index):
                assert ours[index] == oracle[index], (str(key), figure, pitch)
                compared += 1
    assert compared > 300


# Common practice, no source: an accidental holds in its own octave only.
def test_octaves_are_apart_for_music21_too(music21: Any) -> None:
    figure = [(Pitch.parse(name), 1) for name in ("F#1", "F2", "F#2", "F1")]
    key = Key.parse("C")
    assert shown_by_music21(music21, figure, key) == [1, None, 1, 0]
    assert list(accidentals_shown(figure, key)) == [1, None, 1, 0]
