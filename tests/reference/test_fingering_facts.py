"""The planner against facts of the trade, with the weights that it comes with.

Unless a test says otherwise: a four-string bass of 34 inches, a medium hand, eighths at
100 beats a minute. Where no source is named the fact is common practice.
"""

import random
from collections.abc import Mapping
from itertools import pairwise

import pytest

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.planner import Planner
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import Solution
from fretdrill.hand.states import Pin, State
from fretdrill.neck.geometry import SCALES_MM
from fretdrill.neck.neck import Neck, Place
from fretdrill.theory.line import Line
from fretdrill.theory.pitch import Pitch
from tests.reference.lines import (
    explain,
    fingers,
    line,
    line_of,
    places,
    positions,
    scale,
    shifts,
)

NECK = Neck()
MEDIUM = Hand()
UPRIGHT = Hand(1.0, "1-2-4")
MODEL = CostModel(NECK, MEDIUM)
CLOSED = CostModel(NECK, MEDIUM, open_strings=False)


def plan(
    music: Line | str, pins: Mapping[int, Pin] | None = None, model: CostModel = MODEL
) -> tuple[Path, str]:
    """Return the best way to play and its costs in words."""
    written = line(music) if isinstance(music, str) else music
    solution = Planner(model).solve(written, pins)
    best = solution.best()
    return best, explain(solution, best)


def solved(music: Line, pins: Mapping[int, Pin] | None = None) -> Solution:
    return Planner(MODEL).solve(music, pins)


def midi(string: int, fret: int) -> int:
    return NECK.midi(Place(string, fret))


def scale_from(
    string: int, fret: int, name: str, finger: int | None = None, model: CostModel = MODEL
) -> tuple[Path, str]:
    """Plan one octave up from a root whose string and fret are settled."""
    pin = Pin(string=string, fret=fret, finger=finger)
    return plan(scale(midi(string, fret), name), {0: pin}, model)


def roots(first: int, last: int) -> list[tuple[int, int]]:
    return [(string, fret) for string in (4, 3) for fret in range(first, last + 1)]


def beyond_four_frets(state: State) -> bool:
    return state.fret > 0 and not 0 <= state.fret - state.anchor <= 3


# One octave in one position

MAJOR = "2-4/1-2-4/1-3-4"
MAJOR_ROOTS = [*((4, fret) for fret in range(5, 15)), *((3, fret) for fret in range(4, 15))]


# Bass lesson slides and thoughtco, "Bass Scales". All twelve keys: A to G flat on the
# lowest string, D flat to B on the next.
@pytest.mark.parametrize(("string", "fret"), MAJOR_ROOTS)
def test_major_from_a_root_with_any_finger(string: int, fret: int) -> None:
    best, why = scale_from(string, fret, "major")
    assert fingers(best) == MAJOR, why
    assert not shifts(best), why


# The same sources. F sharp and B lie in first position and touch no open string; G, A flat
# and C can use open ones, so they are asked for without. C is the key that is printed.
@pytest.mark.parametrize(
    ("string", "fret", "model"),
    [
        pytest.param(4, 2, MODEL, id="F sharp"),
        pytest.param(3, 2, MODEL, id="B"),
        pytest.param(4, 3, CLOSED, id="G, no open strings"),
        pytest.param(3, 3, CLOSED, id="C, no open strings"),
        pytest.param(4, 4, CLOSED, id="A flat, no open strings"),
    ],
)
def test_major_in_low_positions(string: int, fret: int, model: CostModel) -> None:
    best, why = scale_from(string, fret, "major", model=model)
    assert fingers(best) == MAJOR, why
    assert not shifts(best), why


MINORS = ("1-3-4/1-3-4/1-3", "1-3-4/1-3-4/1-4", "4/1-2-4/1-2-4/1")


# Computed: with finger 1 on the root the frets are p, p+2, p+3 twice, then p, p+2; with
# finger 4 there they are those of the hand three frets lower.
@pytest.mark.parametrize("finger", [1, None])
@pytest.mark.parametrize(("string", "fret"), roots(4, 14))
def test_natural_minor(string: int, fret: int, finger: int | None) -> None:
    best, why = scale_from(string, fret, "natural minor", finger, CLOSED)
    assert fingers(best) in (MINORS[:2] if finger == 1 else MINORS), why
    assert not shifts(best), why


# Computed: with finger 2 on the root they fit four frets.
@pytest.mark.parametrize(
    ("mode", "expected"), [("Lydian", "2-4/1-3-4/1-3-4"), ("Mixolydian", "2-4/1-2-4/1-2-4")]
)
@pytest.mark.parametrize(("string", "fret"), roots(4, 14))
def test_modes_that_fit_a_position(string: int, fret: int, mode: str, expected: str) -> None:
    best, why = scale_from(string, fret, mode, 2, CLOSED)
    assert fingers(best) == expected, why
    assert not shifts(best), why
    assert not any(map(beyond_four_frets, best.states)), why


# Computed: the major sixth above finger 1 lies a fret beyond the position or before it.
@pytest.mark.parametrize(("string", "fret"), roots(1, 14))
def test_dorian_from_finger_one_leaves_the_four_frets(string: int, fret: int) -> None:
    best, why = scale_from(string, fret, "Dorian", 1, CLOSED)
    assert shifts(best) or any(map(beyond_four_frets, best.states)), why


@pytest.mark.parametrize(("string", "fret"), roots(3, 12))
def test_dorian_from_finger_one_is_dearer_than_natural_minor(string: int, fret: int) -> None:
    dorian, why = scale_from(string, fret, "Dorian", 1, CLOSED)
    minor, _ = scale_from(string, fret, "natural minor", 1, CLOSED)
    assert dorian.cost > minor.cost, why


# A position covers 16 notes on four strings (About.com, "Bass Basics"); tuning in fourths
# leaves one semitone a pair of strings uncovered (computed).
@pytest.mark.parametrize("model", [MODEL, CLOSED], ids=["open strings", "no open strings"])
@pytest.mark.parametrize("position", range(1, 10))
def test_a_chromatic_run_over_four_strings_leaves_the_position(
    position: int, model: CostModel
) -> None:
    run = line_of(range(midi(4, position), midi(1, position + 3) + 1))
    best, why = plan(run, {0: Pin(string=4, position=position)}, model)
    opened = any(state.fret == 0 for state in best.states)
    assert shifts(best) or opened or any(map(beyond_four_frets, best.states)), why


# Arpeggios. Computed shapes; the same fret on the next string is a roll or another finger.


@pytest.mark.parametrize(("string", "fret"), roots(4, 14))
def test_major_triad_from_finger_two(string: int, fret: int) -> None:
    best, why = scale_from(string, fret, "major triad", 2)
    assert fingers(best) == "2/1-4/4", why


@pytest.mark.parametrize(("string", "fret"), roots(4, 14))
def test_minor_triad_from_finger_one(string: int, fret: int) -> None:
    best, why = scale_from(string, fret, "minor triad", 1)
    assert fingers(best) in ("1-4/3/3", "1-4/3/4"), why
    assert not shifts(best), why


# Computed and common practice: the finger nearer the thumb takes the lower string.
@pytest.mark.parametrize("fret", [5, 7, 9, 12])
def test_root_fifth_octave_higher_up(fret: int) -> None:
    best, why = scale_from(4, fret, "root-fifth-octave", 1)
    assert fingers(best) in ("1/3/3", "1/3/4", "1/4/4"), why


# Friedland, Bass Emporium newsletter, August 2008: one finger per fret is not best for
# root, fifth and octave; so in low positions without holding four frets open.
@pytest.mark.parametrize(("string", "fret"), roots(1, 3))
def test_root_fifth_octave_in_low_positions(string: int, fret: int) -> None:
    best, why = scale_from(string, fret, "root-fifth-octave", model=CLOSED)
    assert fingers(best) in ("1/4/4", "1/3/4", "1/3/3"), why
    assert positions(best) == [fret] * 3, why
    assert all(CLOSED.reach_cost(state) < 1.0 for state in best.states), why


# 1-2-4 and one finger per fret


def three_frets(position: int, neck: Neck = NECK, hand: Hand = MEDIUM) -> str:
    """Return the fingers of three frets in a row, the hand standing at the first."""
    frets = range(position, position + 3)
    run = line_of(neck.midi(Place(1, fret)) for fret in frets)
    pins = {index: Pin(string=1) for index in range(3)}
    pins[0] = Pin(string=1, finger=1, position=position)
    best, _ = plan(run, pins, CostModel(neck, hand))
    return fingers(best)


# First position where fingers 1 and 4 lie comfortably three frets apart, for a small, a
# medium and a large hand: computed from Parncutt et al., Music Perception 14(4), 1997,
# tables 1-2, at 13.75 mm a semitone.
ONE_PER_FRET_FROM = {"short": (4, 2, 1), "medium": (5, 3, 2), "long": (6, 4, 3)}


@pytest.mark.parametrize("length", ONE_PER_FRET_FROM)
@pytest.mark.parametrize(("size", "scale_factor"), [(0, 0.9), (1, 1.0), (2, 1.1)])
def test_below_the_border_the_third_fret_is_for_finger_four(
    length: str, size: int, scale_factor: float
) -> None:
    neck = Neck(scale_mm=SCALES_MM[length])
    for position in range(1, ONE_PER_FRET_FROM[length][size]):
        assert three_frets(position, neck, Hand(scale_factor)) == "1-2-4"


@pytest.mark.parametrize("position", range(9, 15))
def test_high_up_the_third_fret_is_for_finger_three(position: int) -> None:
    assert three_frets(position) == "1-2-3"


def border(neck: Neck, hand: Hand) -> int:
    """Return the first position where three frets in a row are for fingers 1, 2 and 3."""
    return next(p for p in range(1, 20) if three_frets(p, neck, hand) == "1-2-3")


def test_the_border_comes_nearer_the_nut_with_the_hand_and_the_scale() -> None:
    rows = [
        [border(Neck(scale_mm=SCALES_MM[length]), Hand(size)) for size in (0.9, 1.0, 1.1)]
        for length in ("short", "medium", "long", "extra-long")
    ]
    for row in rows:
        assert row == sorted(row, reverse=True)
    for column in zip(*rows, strict=True):
        assert list(column) == sorted(column)
    assert rows[0][2] < rows[3][0]


# Sperger (1750-1812), from Dalla Torre, "Two, three or four fingers?": four fingers from
# the fourth above the open string on.
@pytest.mark.parametrize("string", [1, 2, 3, 4])
@pytest.mark.parametrize("position", [5, 7, 9, 12])
def test_from_the_fifth_fret_on_four_frets_are_for_four_fingers(string: int, position: int) -> None:
    run = line_of(midi(string, position + step) for step in range(4))
    best, why = plan(run, {i: Pin(string=string) for i in range(4)})
    assert fingers(best) == "1-2-3-4", why


# Common practice, no source.
def test_a_minor_third_is_hard_at_the_nut_and_easy_in_sixth_position() -> None:
    costs = [MODEL.reach_cost(State(4, p + 3, 4, p)) for p in range(1, 13)]
    assert costs == sorted(costs, reverse=True)
    assert costs[0] > 4 * costs[5]
    assert costs[5] < 0.5


# Slurs. Several guitar lessons agree: a hammer-on is another finger that strikes a higher
# fret of the string; a pull-off uncovers a lower finger that is down already, or the open
# string. A slide keeps the finger.


def joins_by_the_lessons(one: State, two: State) -> bool:
    if one.string != two.string:
        return False
    if one.fret != two.fret and 0 != one.finger == two.finger:
        return True
    if two.fret > one.fret:
        return two.finger > one.finger and (one.finger == 0 or one.anchor == two.anchor)
    return two.fret < one.fret and two.finger < one.finger and one.anchor == two.anchor


SLURRED = [
    "C2( D2", "C2( D2( C2", "D2( C2", "E2( D2", "G2( A2( G2", "Bb2( G2", "G2( A2( B2 C3",
    "F2( Gb2( F2", "F1( Gb1( F1", "Eb2( E2( F2( Gb2( F2( E2( Eb2", "C3( Bb2( A2( G2",
    "A2( C3( A2 E2( G2( E2", "A1( B1( C2 D2( E2( F2", "D3( C3 B2( A2 G2",
    "Eb3( F3( Gb3 F3( Eb3",
]  # fmt: skip


@pytest.mark.parametrize("bpm", [60, 100, 160])
@pytest.mark.parametrize("music", SLURRED)
def test_what_can_be_slurred_is_planned_so(music: str, bpm: int) -> None:
    written = line(music, bpm)
    best, why = plan(written)
    for note, (one, two) in zip(written.notes, pairwise(best.states), strict=False):
        assert note.join is None or joins_by_the_lessons(one, two), why


@pytest.mark.parametrize("music", ["F1( E2", "C2( C3", "F1( F3( F1", "E1( Bb2"])
def test_a_slur_that_no_hand_can_play_is_charged(music: str) -> None:
    written = line(music)
    solution = solved(written)
    best = solution.best()
    for index, (one, two) in enumerate(pairwise(best.states)):
        if not joins_by_the_lessons(one, two):
            cost = solution.problem.terms(best, index + 1)["slur"]
            assert cost >= MODEL.weights.broken_join


# The upright system


# Fowler, Switching to the Double Bass, chapters 2 and 4.
@pytest.mark.parametrize(
    ("position", "string", "notes"),
    [
        pytest.param(1, 1, "Ab2 A2 Bb2", id="half position, G string"),
        pytest.param(2, 1, "A2 Bb2 B2", id="I, G string"),
        pytest.param(5, 1, "C3 C#3 D3", id="III, G string"),
        pytest.param(5, 2, "G2 G#2 A2", id="III, D string"),
        pytest.param(2, 3, "B1 C2 C#2", id="I, A string"),
    ],
)
def test_printed_notes_of_the_upright_are_for_one_two_and_four(
    position: int, string: int, notes: str
) -> None:
    model = CostModel(NECK, UPRIGHT)
    upward, why = plan(notes, {0: Pin(string=string, position=position)}, model)
    assert fingers(upward) == "1-2-4", why
    assert positions(upward) == [position] * 3
    reverse = " ".join(reversed(notes.split()))
    downward, why = plan(reverse, {0: Pin(string=string, position=position)}, model)
    assert fingers(downward) == "4-2-1", why


# Simandl (Sankey edition): fingers 1, 2 and 4 only.
@pytest.mark.parametrize("name", ["major", "natural minor", "Dorian"])
@pytest.mark.parametrize("fret", range(1, 10))
def test_the_upright_never_uses_finger_three(fret: int, name: str) -> None:
    best, _ = scale_from(4, fret, name, model=CostModel(NECK, UPRIGHT))
    assert all(state.finger != 3 for state in best.states)


# Common practice, no source: closed fingerings are the norm above second position, and an
# open string is there to cover a shift.


def idle_open_strings(path: Path) -> list[int]:
    """Return the open notes above second position that cover no shift."""
    found = []
    for index, state in enumerate(path.states):
        after = path.states[index + 1] if index + 1 < len(path.states) else state
        if state.fret == 0 and state.anchor > 2 and abs(after.anchor - state.anchor) <= 1:
            found.append(index)
    return found


@pytest.mark.parametrize("name", ["major", "natural minor", "Dorian", "Lydian", "Mixolydian"])
@pytest.mark.parametrize("finger", [1, 2])
@pytest.mark.parametrize("position", [5, 6, 7, 9])
def test_scales_above_second_position_stay_closed(position: int, finger: int, name: str) -> None:
    for string in (4, 3):
        root = scale(midi(string, position + finger - 1), name)
        pin = Pin(string=string, finger=finger, position=position)
        best, why = plan(root, {0: pin})
        assert not idle_open_strings(best), f"{places(best)}\n{why}"


@pytest.mark.parametrize(
    ("position", "music"),
    [
        (5, "D2 E2 F2 G2 A2"), (5, "A1 B1 C2 D2 E2 F2 G2 A2"), (5, "A1 C2 D2 E2 G2 A2"),
        (5, "E2 D2 C2 B1 A1"), (5, "D2 D2 E2 G2 A2 G2"), (5, "A1 A1 A1 D2 D2 G2 G2"),
        (5, "G2 D2 G2 D2"), (7, "C2 D2 E2 F2 G2 A2 B2 C3"), (7, "C2 G2 C3 G2 C2"),
        (7, "B1 D2 E2 F#2 A2 B2"), (7, "G2 A2 G2 F#2 D2"),
    ],
)  # fmt: skip
def test_phrases_above_second_position_stay_closed(position: int, music: str) -> None:
    best, why = plan(music, {0: Pin(position=position)})
    assert not idle_open_strings(best), f"{places(best)}\n{why}"


def test_c_minor_in_third_position_does_not_zigzag_over_open_strings() -> None:
    best, why = scale_from(3, 3, "natural minor", 1)
    assert fingers(best) in MINORS, why


@pytest.mark.parametrize("position", [5, 7, 9])
def test_a_chromatic_run_high_up_stays_closed(position: int) -> None:
    run = line_of(range(midi(4, position), midi(1, position + 3) + 1))
    best, why = plan(run, {0: Pin(string=4, position=position)})
    assert not idle_open_strings(best), why


# The low notes: common practice, no source.


@pytest.mark.parametrize(
    "music",
    [
        "F1", "F1 F1 F1 F1", "F1 A1 C2 F2", "C2 F1 C2 F1", "F1 G1 A1 Bb1 C2 D2 E2 F2",
        "Bb1 F1 Bb1 F1", "C3 Bb2 F2 F1", "F2 C2 F1", "A2 F2 C2 F1", "F1 C2 F2 C2",
        "F1 Gb1 Ab1", "F1 Ab1 Bb1 Db2", "F1 G1 A1 D3 Eb3",
    ],
)  # fmt: skip
def test_low_f_is_played_in_first_position(music: str) -> None:
    best, why = plan(music)
    low = Pitch.parse("F1").midi
    stands = [
        s.anchor for s, n in zip(best.states, line(music).notes, strict=True) if n.pitch.midi == low
    ]
    assert set(stands) == {1}, why


@pytest.mark.parametrize("bpm", [60, 100, 160])
@pytest.mark.parametrize(
    ("music", "index", "string"),
    [
        ("G1 F1", 0, 4), ("G1 F1 G1 F1", 0, 4), ("C2 G1 F1", 1, 4), ("D2 C2 G1 F1*2", 2, 4),
        ("Bb1 G1 F1", 1, 4), ("Ab1 Gb1", 0, 4), ("A1 G1 F1", 1, 4), ("G1*2 F1*2", 0, 4),
        ("C2 Bb1", 0, 3), ("F2 C2 Bb1", 1, 3), ("Eb2 C2 Bb1*2", 1, 3),
    ],
)  # fmt: skip
def test_a_whole_tone_above_a_low_note_finger_two_is_better_than_one(
    music: str, index: int, string: int, bpm: int
) -> None:
    pins = {index: Pin(string=string), index + 1: Pin(string=string)}
    regrets = {
        rated.choice.finger: rated.regret for rated in solved(line(music, bpm), pins).regrets(index)
    }
    assert regrets[2] < regrets[1], regrets


# Where the hand moves. Common practice, no source: on a long note, a rest or an open
# string rather than between the short notes around it.

MOVING = [
    ("F1 Ab1 C2 Eb2 F2 Ab2 C3 Eb3", 1, 5),  # the C is 168 mm from the first fret
    ("F1 Bb1 Eb2 Ab2 Bb2 Eb3 F3", 1, 4),
    ("F1 Ab1 Bb1 Db2 Eb2 Gb2 Ab2 Bb2 Db3 Eb3 Gb3", 2, 7),
    ("Gb3 F3 Eb3 Bb2 Gb2 Eb2 Bb1 Gb1 F1", 2, 5),
]
"""Phrases that must move once, and between which notes the move may lie."""

SPOTS = [(music, spot) for music, first, last in MOVING for spot in range(first, last + 1)]


@pytest.mark.parametrize(("music", "spot"), SPOTS)
def test_the_hand_moves_on_the_quarter_among_eighths(music: str, spot: int) -> None:
    names = music.split()
    names[spot] += "*2"
    best, why = plan(" ".join(names))
    assert shifts(best) == [spot], why


@pytest.mark.parametrize(("music", "spot"), SPOTS)
def test_the_hand_moves_in_the_rest(music: str, spot: int) -> None:
    names = music.split()
    names[spot] += " z"
    best, why = plan(" ".join(names))
    assert shifts(best) == [spot], why


# Bass Guitar magazine 112, 2015: open strings cover shifts.
@pytest.mark.parametrize("bpm", [60, 100])
@pytest.mark.parametrize(
    ("music", "spot"),
    [
        ("F1 Ab1 D2 C3 Eb3", 2), ("F1 Ab1 G2 C3 Eb3", 2), ("F1 G1 A1 D3 Eb3", 2),
        ("F3 Eb3 D3 G2 F1 G1", 3), ("F1 Ab1 Gb1 D2 Db3 Eb3 E3", 3),
    ],
)  # fmt: skip
def test_the_hand_moves_under_the_open_string(music: str, spot: int, bpm: int) -> None:
    best, why = plan(line(music, bpm))
    assert best.states[spot].fret == 0, why
    assert shifts(best) == [spot], why


# Sor, Method for the Guitar, General Maxims: shift sparingly, find the notes within reach.
@pytest.mark.parametrize(
    ("music", "bpm"),
    [
        ("F1 G1 A1 Bb1 C2*2 Eb3 D3 C3*2", 60),
        ("F3 E3 D3 C3*2 C2 Bb1 F1 Bb1*2", 100),
        ("C2*2 C3*2 C2*2", 100),
        ("G1 G2 G1 G2", 60),
    ],
)
def test_the_hand_does_not_leap_an_octave_along_a_string(music: str, bpm: int) -> None:
    best, why = plan(line(music, bpm))
    for one, two in pairwise(best.states):
        assert one.string != two.string or abs(two.fret - one.fret) < 12, why


# The same: some notes low, some high are one move, not one a note; settling a fret
# further up before it is none.
@pytest.mark.parametrize("bpm", [40, 60, 80, 100])
@pytest.mark.parametrize("music", ["F1 Ab1 Eb3 F3", "F1 Ab1 Gb1 Db3 Eb3 E3"])
def test_a_leap_is_one_move(music: str, bpm: int) -> None:
    best, why = plan(line(music, bpm))
    frets = [abs(two.anchor - one.anchor) for one, two in pairwise(best.states)]
    assert sum(fret > 1 for fret in frets) == 1, why


# Pivoting, No Treble 2013 and Rabbath in The Strad, October 2015: the thumb stays and the
# hand turns to a third note instead of shifting, A to C on the G string.
def test_a_pivot_costs_more_than_staying_and_less_than_a_shift() -> None:
    upright = CostModel(NECK, UPRIGHT)
    staying = upright.reach_cost(State(1, 4, 4, 2))
    pivot = upright.reach_cost(State(1, 5, 4, 2))
    assert staying < pivot < upright.move_cost(1, 10.0) < upright.move_cost(2, 10.0)


@pytest.mark.parametrize("music", ["A2 B2 C3 A2", "A2 C3 A2 C3", "A2 Bb2 C3 Bb2 A2"])
def test_a_to_c_on_the_g_string_is_a_pivot(music: str) -> None:
    upright = CostModel(NECK, UPRIGHT)
    pins = {index: Pin(string=1) for index in range(len(music.split()))}
    pins[0] = Pin(string=1, position=2)
    best, why = plan(music, pins, upright)
    assert not shifts(best), why


# Tempo and hand

PHRASES = [
    "F1 G1 A1 Bb1 C2 D2 E2 F2", "F1 Ab1 Gb1 Db3 Eb3 E3", "F1 Ab1 C2 Eb2 F2 Ab2 C3 Eb3",
    "C2 G2 C3 E3 D3 C3 G2 C2", "F1 G1*2 C3 D3 Eb3 C3*2", "Gb3 F3 Eb3 Bb2 Gb2 Eb2 Bb1 Gb1 F1",
    "F1 Gb1 Ab1 Db2 Eb2 F2 Ab2 Bb2 Db3 Eb3 F3", "D2 C2 C3 B2 B3",
]  # fmt: skip


# A CRF by level of skill (Springer 2015, doi 10.1007/978-3-319-20916-6_45): in short notes
# ease decides.
@pytest.mark.parametrize("music", PHRASES)
def test_a_faster_tempo_brings_no_more_shifts(music: str) -> None:
    rows = [(bpm, *plan(line(music, bpm))) for bpm in (40, 60, 80, 100, 140, 200)]
    counts = [len(shifts(best)) for _, best, _ in rows]
    told = "\n".join(f"at {bpm}: {positions(best)} {why}" for bpm, best, why in rows)
    assert counts == sorted(counts, reverse=True), told


# Time pressure grows as notes get shorter (the same).
@pytest.mark.parametrize("music", PHRASES)
def test_a_faster_tempo_is_never_easier(music: str) -> None:
    costs = [plan(line(music, bpm))[0].cost for bpm in (40, 60, 80, 100, 140, 200)]
    assert costs == sorted(costs)


# Spans grow with the hand (factor assumed from Boyle, Boyle and Booker 2015).
@pytest.mark.parametrize("system", ["reach", "one-per-fret", "1-2-4"])
@pytest.mark.parametrize("seed", range(8))
def test_a_larger_hand_never_costs_more(seed: int, system: str) -> None:
    generator = random.Random(seed)
    run = line_of(generator.choices(range(28, 60), k=12), generator.choice((60, 100, 160)))
    costs = [
        plan(run, model=CostModel(NECK, Hand(size, system)))[0].cost
        for size in (0.8, 0.9, 1.0, 1.1, 1.25)
    ]
    assert costs == sorted(costs, reverse=True)
