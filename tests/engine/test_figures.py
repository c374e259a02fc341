"""Made-up practice lines: rules of the trade, music21 for scales and chords, the planner for use.

What a stepwise, arpeggio, octave, chromatic or syncopated line is: common practice, no source.
"""

import os
import random
import subprocess
import sys
from fractions import Fraction
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.figure_rhythms import make_rhythm, sounds_of
from fretdrill.engine.figure_room import room_on
from fretdrill.engine.figures import FIGURES, PROGRESSIONS, make_line
from fretdrill.errors import UnknownName
from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import PRESETS, Tuning
from fretdrill.theory.key import MAJOR_KEYS, MINOR_KEYS, MODES, Key
from fretdrill.theory.line import Line, Note
from fretdrill.theory.pitch import LETTERS, NoteName
from tests.reference.music21_names import from_music21, to_music21
from tests.strategies import all_keys, keys, necks

KEYS = (*MAJOR_KEYS, *MINOR_KEYS)
NUMBERS = range(1, 5)
NECK = Neck()
ODD_TUNINGS = ("E1", "C1 C1", "G1 E1 C2 A1", "E1 E5", "D1 F3", "F#0 B0 E1 A1 D2 G2 C3 F3")
IN_SCALE = tuple(figure for figure in FIGURES if figure != "chromatic")
BEAT = Fraction(1, 4)

# Note values that are written with one note, plain or dotted, and those of two tied ones.
PLAIN = {Fraction(n, 16) for n in (1, 2, 3, 4, 6, 8, 12, 16)}
TIED = {Fraction(5, 16), Fraction(10, 16)}


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


@cache
def lines_of(figure: str) -> list[Line]:
    """Lines in every major and minor key on the default neck."""
    return [make_line(figure, key, number, NECK) for key in KEYS for number in NUMBERS]


def key_of(line: Line) -> Key:
    assert line.key is not None
    return line.key


def scale_of(music21: Any, key: Key) -> list[NoteName]:
    """The seven names of a major or minor key as music21 spells them."""
    pitches = music21.key.Key(to_music21(key.tonic), key.mode).pitches
    return [from_music21(pitch) for pitch in pitches[:7]]


def moves(line: Line) -> list[int]:
    """The semitones from note to note."""
    return [two.pitch.midi - one.pitch.midi for one, two in pairwise(line.notes)]


def notes_of_bar(line: Line, index: int) -> list[Note]:
    bar = line.bars[index]
    return [note for note in line.notes if bar.onset <= note.onset < bar.end]


@pytest.mark.parametrize("figure", FIGURES)
def test_same_arguments_same_line(figure: str) -> None:
    line = make_line(figure, Key.parse("Ab major"), 7, Neck())
    assert make_line(figure, Key.parse("Ab major"), 7, Neck()) == line
    assert make_line(figure, Key.parse("Ab major"), 7, Neck(frets=20, scale_mm=762.0)) == line


def test_the_global_generator_has_no_part_in_it() -> None:
    random.seed(1)
    before = random.getstate()
    first = [make_line(figure, Key.parse("E minor"), 3, NECK) for figure in FIGURES]
    assert random.getstate() == before
    random.seed(2)
    assert [make_line(figure, Key.parse("E minor"), 3, NECK) for figure in FIGURES] == first


def test_the_same_line_in_another_process() -> None:
    program = (
        "from fretdrill.engine.figures import FIGURES, make_line\n"
        "from fretdrill.neck.neck import Neck\n"
        "from fretdrill.theory.key import Key\n"
        "print([make_line(f, Key.parse('F# minor'), 2, Neck()) for f in FIGURES])"
    )
    printed = [
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert printed[0] == printed[1]
    assert "in F# minor, no. 2" in printed[0]


def test_titles() -> None:
    bass = Neck()
    assert make_line("arpeggio", Key.parse("Bb"), 3, bass).title == "Arpeggios in Bb major, no. 3"
    titles = {make_line(figure, Key.parse("D dorian"), 1, bass).title for figure in FIGURES}
    assert len(titles) == len(FIGURES)
    assert all(title.endswith("in D dorian, no. 1") for title in titles)


def test_unknown_figure_names_the_nearest() -> None:
    with pytest.raises(UnknownName, match="octave"):
        make_line("octaves", Key.parse("C"), 1, NECK)


@pytest.mark.parametrize("figure", FIGURES)
def test_bars_are_full_and_in_order(figure: str) -> None:
    for line in lines_of(figure):
        assert len(line.bars) in (4, 8)
        assert [bar.number for bar in line.bars] == list(range(1, len(line.bars) + 1))
        assert [bar.onset for bar in line.bars] == list(range(len(line.bars)))
        assert all(bar.length == bar.metre.bar == 1 for bar in line.bars)
        filled = sum(note.duration for note in line.notes)
        assert filled + sum(rest.duration for rest in line.rests) == len(line.bars)
        assert line.notes[0].onset == 0
        assert line.notes[-1].duration + sum(rest.duration for rest in line.rests) >= 2 * BEAT
        assert 12 <= len(line.notes) <= 32
        assert 72 <= line.tempos[0].bpm <= 120


@pytest.mark.parametrize("figure", FIGURES)
def test_note_values_are_real_ones_and_some_give_time(figure: str) -> None:
    for line in lines_of(figure):
        values = {note.duration for note in line.notes}
        assert values <= PLAIN | (TIED if figure == "syncopated" else set())
        shortest = Fraction(1, 16) if figure == "syncopated" else Fraction(1, 8)
        assert min(values) >= shortest
        times_to_move = sum(note.duration >= BEAT for note in line.notes[:-1])
        assert times_to_move + len(list(line.rests)) >= 1


@pytest.mark.parametrize("figure", FIGURES)
def test_rhythms_repeat_within_a_line(figure: str) -> None:
    for number in range(50):
        bars = make_rhythm(figure, random.Random(number))
        assert all(len(bar) == 16 and set(bar) <= set("x-.") for bar in bars)
        assert ".-" not in "".join(bars)
        assert bars[0][0] == "x"
        assert len(set(bars)) < len(bars) or figure == "syncopated"


def test_sounds_of_a_rhythm_by_hand() -> None:
    eighth, quarter = Fraction(1, 8), Fraction(1, 4)
    sounds = sounds_of(["x---x-x-..x-..x-", "--x-x-----------"])
    assert [sound.onset for sound in sounds] == [Fraction(n, 16) for n in (0, 4, 6, 10, 14, 18, 20)]
    assert [sound.length for sound in sounds] == [
        *(quarter, eighth, eighth, eighth, quarter, eighth),
        Fraction(3, 4),
    ]
    assert [sound.bar for sound in sounds] == [
        0,
        0,
        0,
        0,
        1,
        1,
        1,
    ]  # the tied one is the next bar's


@pytest.mark.parametrize("figure", FIGURES)
@pytest.mark.parametrize("tuning", [*PRESETS, *ODD_TUNINGS])
def test_every_note_lies_low_on_the_neck(figure: str, tuning: str) -> None:
    neck = Neck(Tuning.parse(tuning), 20)
    highest = 12 if len(neck.tuning) > 2 else 17
    for key in all_keys()[:: 1 if tuning == "4-string" else 4]:
        for note in make_line(figure, key, 1, neck).notes:
            assert any(place.fret <= highest for place in neck.places_of(note.pitch.midi))


@settings(max_examples=60)
@given(st.sampled_from(FIGURES), keys(), st.integers(0, 10**6), necks())
def test_any_key_on_any_neck(figure: str, key: Key, number: int, neck: Neck) -> None:
    line = make_line(figure, key, number, neck)
    assert all(neck.places_of(note.pitch.midi) for note in line.notes)
    assert sum(note.duration for note in line.notes) <= line.length
    assert line.key == key


@pytest.mark.parametrize("figure", IN_SCALE)
def test_no_note_outside_the_scale(music21: Any, figure: str) -> None:
    scales = {key: set(scale_of(music21, key)) for key in KEYS}
    for line in lines_of(figure):
        assert {note.pitch.name for note in line.notes} <= scales[key_of(line)]


def test_stepwise_lines_go_by_step_between_tones_of_the_tonic(music21: Any) -> None:
    for line in lines_of("stepwise"):
        scale = scale_of(music21, key_of(line))
        assert line.notes[0].pitch.name == line.notes[-1].pitch.name == scale[0]
        steps = [
            (LETTERS.index(two.pitch.name.letter) - LETTERS.index(one.pitch.name.letter)) % 7
            for one, two in pairwise(line.notes)
        ]
        by_step = [
            step in (1, 6) and abs(move) <= 2 for step, move in zip(steps, moves(line), strict=True)
        ]
        assert sum(by_step) >= 0.75 * len(by_step)
        assert {1, -1} <= {(move > 0) - (move < 0) for move in moves(line)}  # it turns


def test_every_arpeggio_bar_spells_a_chord_of_the_key(music21: Any) -> None:
    sevenths = 0
    for line in lines_of("arpeggio"):
        scale = scale_of(music21, key_of(line))
        for index in range(len(line.bars)):
            names = {note.pitch.name for note in notes_of_bar(line, index)}
            chord = music21.chord.Chord(sorted(map(to_music21, names)))
            assert chord.isTriad() or chord.isSeventh()
            assert chord.root().name in map(to_music21, scale)
            sevenths += chord.isSeventh()
        last = {note.pitch.name for note in notes_of_bar(line, len(line.bars) - 1)}
        assert last == {scale[0], scale[2], scale[4]}
        assert line.notes[-1].pitch.name == scale[0]
    assert sevenths > 50


def test_arpeggios_are_joined_smoothly() -> None:
    for line in lines_of("arpeggio"):
        assert max(map(abs, moves(line))) <= 12


def test_octave_lines_have_an_octave_in_every_bar(music21: Any) -> None:
    for line in lines_of("octave"):
        scale = scale_of(music21, key_of(line))
        for index in range(len(line.bars)):
            notes = notes_of_bar(line, index)
            root = notes[0].pitch
            assert any(
                note.pitch.midi - root.midi == 12 and note.pitch.name == root.name for note in notes
            )
            fifth = scale[(scale.index(root.name) + 4) % 7]
            strangers = [note for note in notes if note.pitch.name not in (root.name, fifth)]
            assert strangers in ([], notes[-1:])  # a step into the next root
        assert len({notes_of_bar(line, index)[0].pitch.name for index in range(4)}) > 1


def test_chromatic_notes_go_on_by_half_step(music21: Any) -> None:
    for line in lines_of("chromatic"):
        scale = scale_of(music21, key_of(line))
        outside = [index for index, note in enumerate(line.notes) if note.pitch.name not in scale]
        assert len(outside) >= 3
        assert all(abs(moves(line)[index]) == 1 for index in outside)
        assert line.notes[0].pitch.name == line.notes[-1].pitch.name == scale[0]


def test_chromatic_notes_are_spelled_by_where_they_lead(music21: Any) -> None:
    for line in lines_of("chromatic"):
        scale = {name.letter: name for name in scale_of(music21, key_of(line))}
        for index, note in enumerate(line.notes[:-1]):
            name, move = note.pitch.name, moves(line)[index]
            if name in scale.values():
                continue
            behind = next(
                n for n in scale.values() if n.pitch_class == (note.pitch.midi - move) % 12
            )
            led = NoteName(behind.letter, behind.alter + move)
            assert name == led or (abs(led.alter) == 2 and abs(name.alter) < 2)


@pytest.mark.parametrize(
    ("key", "midi", "rising", "falling"),
    [
        ("C major", 42, "F#2", "Gb2"),
        ("Bb major", 47, "B2", "Cb3"),
        ("E minor", 34, "A#1", "Bb1"),
        ("E minor", 28, "E1", "E1"),
        ("C# major", 38, "D2", "D2"),  # C## would be no help
        ("G# minor", 31, "F##1", "G1"),  # the leading tone
    ],
)
def test_spelling_of_leading_notes(key: str, midi: int, rising: str, falling: str) -> None:
    """Common practice, no source."""
    room = room_on(NECK, Key.parse(key), random.Random(1))
    assert (str(room.risen(midi)), str(room.fallen(midi))) == (rising, falling)


def test_syncopated_lines_are_off_the_beat() -> None:
    for line in lines_of("syncopated"):
        for first in range(0, len(line.bars), 2):
            notes = notes_of_bar(line, first) + notes_of_bar(line, first + 1)
            assert sum(note.onset % BEAT != 0 for note in notes) >= 3
        held_over = [n for n in line.notes if n.onset % BEAT and n.onset // BEAT < n.end / BEAT - 1]
        assert held_over  # begins off a beat and sounds through the next one
        assert any(line.rests) or len(held_over) >= 3


def test_syncopated_lines_are_mostly_of_chord_tones(music21: Any) -> None:
    for line in lines_of("syncopated"):
        key = key_of(line)
        scale = scale_of(music21, key)
        roots = {tuple(map(int, roots.split())) for roots in PROGRESSIONS[key.mode]}
        in_chord = max(
            sum(
                note.pitch.name in {scale[(chords[bar] - 1 + third) % 7] for third in (0, 2, 4)}
                for note in line.notes
                for bar in [min(3, int(note.end - Fraction(1, 16)))]
            )
            for chords in roots
        )
        assert in_chord >= 0.7 * len(line.notes)


def test_every_mode_has_progressions_home() -> None:
    assert set(PROGRESSIONS) == set(MODES)
    for progressions in PROGRESSIONS.values():
        for degrees in map(str.split, progressions):
            assert len(degrees) == 4
            assert degrees[0] == degrees[-1] == "1"


@pytest.mark.parametrize("figure", FIGURES)
def test_other_numbers_give_other_lines(figure: str) -> None:
    for key in KEYS[::4]:
        lines = [make_line(figure, key, number, NECK) for number in range(1, 51)]
        assert len({line.notes for line in lines}) >= 45


@pytest.mark.parametrize("figure", FIGURES)
def test_lines_can_be_played_and_are_worth_asking_about(figure: str) -> None:
    """In most a shift is needed, or the easiest finger for each note alone costs more."""
    planner = Planner(CostModel(NECK, Hand()))
    worth = 0
    lines = [make_line(figure, key, 1, NECK) for key in all_keys()]
    for line in lines:
        solution = planner.solve(line)
        shifts = Plan(line, solution, solution.best()).shifts
        greedy = look_ahead(solution.problem, 0).cost - solution.cost
        worth += bool(shifts) or greedy >= 0.5
    assert worth >= 0.6 * len(lines)


@pytest.mark.parametrize("tuning", PRESETS)
def test_lines_can_be_played_on_every_tuning(tuning: str) -> None:
    neck = Neck(Tuning.parse(tuning))
    planner = Planner(CostModel(neck, Hand()))
    for figure in FIGURES:
        for key in KEYS[::6]:
            assert planner.solve(make_line(figure, key, 1, neck)).cost > 0
