"""What a fingering costs, each term by itself and all together."""

import math
from dataclasses import fields, replace
from fractions import Fraction
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import UnknownName
from fretdrill.hand import terms
from fretdrill.hand.cost import IMPOSSIBLE, UNIT, CostModel
from fretdrill.hand.gap import FAST_S, HELD_SHARE, NORMAL_SHARE, PLAIN_SHARE, Gap, gap_between
from fretdrill.hand.hand import PACES, Hand
from fretdrill.hand.joins import Technique, technique
from fretdrill.hand.planner import Planner
from fretdrill.hand.shifts import LEAST_AVAILABLE_S, amplitude_over_width, laplace_move, shift_s
from fretdrill.hand.states import Pin, State, is_bent
from fretdrill.hand.weights import ORIGINS, WEIGHT_SETS, Label, Weights, weights_named
from fretdrill.neck.neck import Neck
from fretdrill.theory.line import Articulation, Bar, Join, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch
from tests.hand.enumeration import Case, cases, models, parts
from tests.reference.lines import line

NECK = Neck()
HAND = Hand()
WEIGHTS = Weights(
    stretch=0.2, stretch_near_nut=0.1, stretch_together=1.0, crowded=1.0, bent=1.5, pivot=2.0,
    pivot_far=0.05, creep=2.5, shift=3.25, shift_time=2.0, shift_fret=0.1, no_time=4.0, guide=0.7,
    string=0.2, roll=0.4, hop=2.0, too_fast=5.0, swap=1.0, order=5.5, slant=0.3, finger_1=0.02,
    finger_2=0.05, finger_3=0.15, finger_4=0.30, place=0.5, open=0.1, open_high=0.3, open_leap=3.0,
    broken_join=4.0,
)  # fmt: skip
"""Weights of these tests, so that they can be worked by hand whatever the usual ones become."""
MODEL = CostModel(NECK, HAND, WEIGHTS)
PLAIN = Gap(0.6, 0.0)


def total(charged: dict[str, int]) -> float:
    return sum(charged.values()) / UNIT


def charged(costs: dict[str, int]) -> dict[str, float]:
    return {name: cost / UNIT for name, cost in costs.items() if cost}


def step(one: State, two: State, gap: Gap = PLAIN, model: CostModel = MODEL) -> dict[str, float]:
    return charged(model.step_terms(one, two, gap))


# Time for a shift: Fitts' law in Shannon's form (MacKenzie 1992), a = 0.05 s, the target half
# the space of the fret that is gone to. Computed from the formula, towards the bridge.
@pytest.mark.parametrize(
    ("pace", "seconds"),
    [
        (0.06, (0.145, 0.191, 0.223, 0.247, 0.267, 0.299, 0.357)),
        (0.095, (0.201, 0.274, 0.324, 0.362, 0.394, 0.444, 0.536)),
    ],
)
def test_shift_times_by_frets(pace: float, seconds: tuple[float, ...]) -> None:
    for frets, expected in zip((1, 2, 3, 4, 5, 7, 12), seconds, strict=True):
        assert shift_s(Hand(pace=pace), frets) == pytest.approx(expected, abs=0.0005), frets


@pytest.mark.parametrize("pace", PACES.values())
def test_a_shift_takes_longer_the_further_it_goes(pace: float) -> None:
    hand = Hand(pace=pace)
    assert shift_s(hand, 0) == 0
    for direction in (1, -1):
        times = [shift_s(hand, direction * frets) for frets in range(1, 25)]
        assert times == sorted(set(times))
        assert times[0] > 0.05
    # Down the neck the target is wider than on the way up.
    assert all(shift_s(hand, -frets) < shift_s(hand, frets) for frets in range(1, 25))


def test_a_slower_hand_takes_longer() -> None:
    times = [shift_s(Hand(pace=pace), 5) for pace in sorted(PACES.values())]
    assert times == sorted(set(times))


@pytest.mark.parametrize("scale", [647.7, 762.0, 863.6, 889.0])
@pytest.mark.parametrize("frets", [-12, -5, -2, -1, 1, 2, 3, 7, 12])
@pytest.mark.parametrize("start", [13, 15, 20])
def test_distance_over_width_is_that_of_the_neck_wherever_it_is_measured(
    scale: float, frets: int, start: int
) -> None:
    def x(fret: int) -> float:
        return scale * (1 - 2 ** (-fret / 12))

    target = start + frets
    distance = abs(x(target) - x(start))
    half_a_space = (x(target) - x(target - 1)) / 2
    assert amplitude_over_width(frets) == pytest.approx(distance / half_a_space)


# Hori & Sagayama, ISMIR 2016, second-hand: -ln of (1/2d)·exp(-|x|/d); computed.
@pytest.mark.parametrize(
    ("seconds", "costs"),
    [
        (0.25, (-0.693, 3.307, 7.307, 11.307, 19.307)),
        (0.5, (0, 2, 4, 6, 10)),
        (1.0, (0.693, 1.693, 2.693, 3.693, 5.693)),
    ],
)
def test_frets_a_second(seconds: float, costs: tuple[float, ...]) -> None:
    for frets, expected in zip((0, 1, 2, 3, 5), costs, strict=True):
        assert laplace_move(frets, seconds) == pytest.approx(expected, abs=0.0005)
        assert laplace_move(-frets, seconds) == laplace_move(frets, seconds)
        beyond = expected - costs[0]
        assert terms.frets_a_second_cost(frets, seconds) == pytest.approx(beyond, abs=0.0011)


def test_a_model_can_weigh_moves_in_frets_a_second() -> None:
    model = CostModel(NECK, HAND, WEIGHTS, frets_a_second=True)
    one = State(3, 5, 1, 5)
    for frets in (-3, 1, 2, 6):
        two = State(2, 5 + frets, 1, 5 + frets)
        expected = abs(frets) / 0.5  # half of a note of one second may be used
        assert model.step_terms(one, two, Gap(1.0, 0.0))["shift"] == expected * UNIT
    assert model.step_terms(one, State(2, 5, 1, 5), Gap(1.0, 0.0))["shift"] == 0
    assert MODEL.step_terms(one, State(2, 8, 1, 8), Gap(1.0, 0.0))["shift"] != 6 * UNIT


# Each term by hand


def test_place_grows_as_a_logarithm() -> None:
    for position in range(1, 25):
        cost = charged(MODEL.node_terms(State(4, position, 1, position)))["place"]
        assert cost == pytest.approx(0.5 * math.log(1 + position), abs=1e-4)


@pytest.mark.parametrize(("finger", "cost"), [(1, 0.02), (2, 0.05), (3, 0.15), (4, 0.30)])
def test_weaker_fingers_cost_more(finger: int, cost: float) -> None:
    state = State(4, 9 + finger, finger, 10)
    assert charged(MODEL.node_terms(state)).get("finger", 0.0) == cost


def span_mm(low: int, high: int, scale: float = 863.6) -> float:
    return scale * (2 ** (-low / 12) - 2 ** (-high / 12))


# Half a piano semitone (6.875 mm) past the relaxed span is a unit, and another past the
# comfortable one: finger 1 to 4 in semitones 6 and 8, 1 to 2 in 2 and 3.
@pytest.mark.parametrize(
    ("state", "expected"),
    [
        (State(4, 4, 4, 1), (span_mm(1, 4) - 82.5 + span_mm(1, 4) - 110) / 6.875 * 0.3),
        (State(4, 6, 4, 3), (span_mm(3, 6) - 82.5 + span_mm(3, 6) - 110) / 6.875 * 0.2),
        (State(4, 8, 4, 5), (span_mm(5, 8) - 82.5) / 6.875 * 0.2),
        (State(4, 13, 4, 10), 0.0),
        (State(4, 2, 2, 1), (span_mm(1, 2) - 27.5 + span_mm(1, 2) - 41.25) / 6.875 * 0.3),
        (State(4, 7, 1, 7), 0.0),
        # Finger 1 a fret back, finger 2 stays: two fret spaces between them.
        (State(4, 9, 1, 10), (span_mm(9, 11) - 27.5 + span_mm(9, 11) - 41.25) / 6.875 * 0.2),
    ],
)
def test_stretch_in_half_semitones_past_the_spans(state: State, expected: float) -> None:
    cost = charged(MODEL.node_terms(state)).get("stretch", 0.0)
    assert cost == pytest.approx(min(max(0.0, expected), 2.0), abs=1e-4)


def test_past_what_the_hand_can_stretch_it_pivots_and_pays_by_the_mm() -> None:
    far = State(4, 5, 4, 1)  # practical are 137.5 mm
    past = span_mm(1, 5) - 137.5
    assert past > 30
    assert MODEL.reach_cost(far) == pytest.approx(2.0 + 0.05 * past)
    assert MODEL.pivots(far)
    near = State(4, 13, 4, 10)
    assert MODEL.reach_cost(near) == 0.0
    assert not MODEL.pivots(near)


def test_the_hand_pivots_where_that_is_easier_than_the_stretch() -> None:
    state = State(4, 4, 4, 1)  # 130 mm are practical
    assert MODEL.reach_cost(state) == 2.0
    assert MODEL.pivots(state)
    stiff = CostModel(NECK, HAND, replace(WEIGHTS, pivot=100.0))
    units = (span_mm(1, 4) - 82.5 + span_mm(1, 4) - 110) / 6.875
    assert stiff.reach_cost(state) == pytest.approx(units * 0.3)
    assert units * 0.3 > 2.0
    assert not stiff.pivots(state)


@pytest.mark.parametrize("state", [State(3, 0, 0, 5), State(3, 5, 1, 5)])
def test_a_hand_at_rest_does_not_pivot(state: State) -> None:
    assert not MODEL.pivots(state)
    assert MODEL.reach_cost(state) == 0.0


@pytest.mark.parametrize(
    ("state", "frets_off"),
    [
        (State(4, 7, 2, 7), 1),
        (State(4, 9, 2, 7), 1),
        (State(4, 8, 1, 7), 1),
        (State(4, 7, 4, 7), 3),
    ],
)
def test_a_bent_finger_costs_by_the_frets_that_it_is_off(state: State, frets_off: int) -> None:
    free = replace(WEIGHTS, bent=0.0)
    bent, straight = (CostModel(NECK, HAND, w).reach_cost(state) for w in (WEIGHTS, free))
    assert bent - straight == pytest.approx(1.5 * frets_off)


def test_fingers_are_crowded_where_fret_spaces_are_under_17_mm() -> None:
    for fret in range(13, 25):
        space = span_mm(fret - 1, fret)
        cost = charged(MODEL.node_terms(State(4, fret, 2, fret - 1))).get("crowding", 0.0)
        assert cost == (1.0 if space < 17 else 0.0)
        assert "crowding" not in charged(MODEL.node_terms(State(4, fret, 1, fret)))


@pytest.mark.parametrize(("position", "high"), [(1, 0.0), (2, 0.0), (3, 0.3), (7, 1.5)])
def test_open_strings_cost_more_from_higher_positions(position: int, high: float) -> None:
    state = State(3, 0, 0, position)
    assert charged(MODEL.node_terms(state))["open string"] == 0.1
    assert set(charged(MODEL.node_terms(state))) == {"open string", "place"}
    assert charged(MODEL.end_terms(state)).get("open string", 0.0) == pytest.approx(high)
    stays = step(state, State(3, position, 1, position))
    assert stays.get("open string", 0.0) == pytest.approx(high)
    # A longer move is what the open string is for.
    assert "open string" not in step(state, State(3, position + 2, 1, position + 2))


def test_a_stopped_note_costs_nothing_more_at_the_end() -> None:
    assert charged(MODEL.end_terms(State(3, 5, 1, 5))) == {}


@pytest.mark.parametrize(("strings", "cost"), [(0, 0.0), (1, 0.2), (2, 0.4), (3, 0.6)])
def test_strings_crossed(strings: int, cost: float) -> None:
    one, two = State(4, 5, 1, 5), State(4 - strings, 7, 3, 5)
    expected = {"string": pytest.approx(cost)} if cost else {}
    assert step(one, two) == step(two, one) == expected


@pytest.mark.parametrize("frets", [2, -2, 5, 12])
def test_a_shift_costs_itself_and_its_share_of_the_time(frets: int) -> None:
    one, two = State(4, 13, 1, 13), State(3, 13 + frets, 1, 13 + frets)
    for seconds in (0.3, 0.8, 3.0):
        share = shift_s(HAND, frets) / (seconds / 2)  # half a plain note may be taken
        time = 2.0 * share * (4.0 if share > 1 else 1.0)
        assert step(one, two, Gap(seconds, 0.0))["shift"] == pytest.approx(
            3.25 + 0.1 * (abs(frets) - 2) + time, abs=1e-4
        )


def test_creeping_a_fret_has_a_price_of_its_own_while_there_is_time() -> None:
    one, two = State(4, 5, 1, 5), State(3, 6, 1, 6)
    assert step(one, two)["shift"] == 2.5
    share = shift_s(HAND, 1) / 0.1
    assert step(one, two, Gap(0.2, 0.0))["shift"] == pytest.approx(2.5 + 8 * share, abs=1e-4)


def test_a_guide_finger_makes_a_move_cheaper() -> None:
    one = State(3, 5, 1, 5)
    guided, free = State(3, 8, 1, 8), State(3, 9, 2, 8)
    assert step(one, guided)["shift"] == pytest.approx(0.7 * step(one, free)["shift"], abs=1e-4)


def test_more_than_five_frets_are_too_many_over_one_open_string() -> None:
    opened = State(3, 0, 0, 3)
    for frets in (5, 6, -2):
        share = shift_s(HAND, frets) / 0.6  # all of the note may be taken
        leap = 3.0 if frets > 5 else 0.0
        got = step(opened, State(2, 3 + frets, 1, 3 + frets))["shift"]
        further = 0.1 * (abs(frets) - 2)
        assert got == pytest.approx(3.25 + further + 2.0 * share + leap, abs=1e-4)


A, B = State(3, 5, 1, 5), State(3, 7, 3, 5)


# Notes in turn with the hand where it is: same place; same finger across, along, fast;
# fingers in order and crossed.
@pytest.mark.parametrize(
    ("one", "two", "gap", "cost"),
    [
        (A, A, PLAIN, 0.0),
        (A, B, PLAIN, 0.0),
        (B, A, PLAIN, 0.0),
        (State(3, 7, 3, 5), State(3, 7, 4, 5), PLAIN, 1.0),
        (A, State(2, 5, 1, 5), PLAIN, 0.4),
        (A, State(2, 5, 1, 5), Gap(0.14, 0.0), 5.4),
        (A, State(2, 5, 1, 5), Gap(0.6, 0.0, staccato=True), 5.4),
        (A, State(1, 5, 1, 5), PLAIN, 2.0),
        (A, State(1, 5, 1, 5), Gap(0.14, 0.0), 7.0),
        (A, State(3, 4, 1, 5), PLAIN, 2.0),
        (A, State(3, 4, 1, 5), Gap(0.6, 0.0, Join.SLIDE), 0.4),
        (B, State(2, 8, 2, 5), PLAIN, 5.5),
        (State(2, 8, 2, 5), B, PLAIN, 5.5),
        # On one fret the hand slants: the lower finger takes the lower string.
        (A, State(2, 5, 2, 5), PLAIN, 0.0),
        (State(2, 5, 2, 5), A, PLAIN, 0.0),
        (State(2, 5, 1, 5), State(3, 5, 2, 5), PLAIN, 0.3),
        (State(3, 5, 2, 5), State(2, 5, 1, 5), PLAIN, 0.3),
    ],
)
def test_fingers_of_one_hand_in_turn(one: State, two: State, gap: Gap, cost: float) -> None:
    assert step(one, two, gap).get("same hand", 0.0) == cost


def test_a_broken_join_is_charged_and_a_kept_one_is_not() -> None:
    slurred = Gap(0.6, 0.0, Join.SLUR)
    assert "slur" not in step(A, B, slurred)
    assert step(A, State(2, 7, 3, 5), slurred)["slur"] == 4.0
    assert step(State(3, 7, 4, 5), B, slurred)["slur"] == 4.0
    assert "slur" not in step(State(3, 5, 4, 2), State(3, 9, 1, 9))


def test_both_fingers_of_a_pull_off_are_down_and_stretch_between_them() -> None:
    slurred = Gap(0.6, 0.0, Join.SLUR)
    units = (span_mm(2, 4) - 55) / 6.875  # fingers 1 and 3 part 4 semitones relaxed
    units += max(0.0, span_mm(2, 4) - 68.75) / 6.875
    pulled = step(State(3, 4, 3, 2), State(3, 2, 1, 2), slurred)
    assert pulled["slur"] == pytest.approx(units, abs=1e-4)
    assert "slur" not in step(State(3, 2, 1, 2), State(3, 4, 3, 2), slurred)  # hammered
    assert "slur" not in step(State(3, 4, 3, 2), State(3, 0, 0, 2), slurred)


# Joins. The hand stands still unless it says otherwise.
@pytest.mark.parametrize(
    ("one", "two", "expected"),
    [
        (A, B, Technique.HAMMER_ON),
        (B, A, Technique.PULL_OFF),
        (State(3, 0, 0, 5), A, Technique.HAMMER_ON),
        (State(3, 0, 0, 2), A, Technique.HAMMER_ON),  # the hand is free meanwhile
        (A, State(3, 0, 0, 5), Technique.PULL_OFF),
        (A, State(3, 0, 0, 7), None),  # the hand goes away
        (A, State(3, 8, 1, 8), Technique.SLIDE),
        (State(3, 8, 1, 8), A, Technique.SLIDE),
        (A, State(3, 4, 1, 5), Technique.SLIDE),  # the same finger cannot hammer
        (A, A, Technique.HELD),
        (State(3, 0, 0, 1), State(3, 0, 0, 9), Technique.HELD),
        (State(3, 7, 3, 5), State(3, 7, 4, 5), None),  # another finger on the same place
        (State(3, 6, 3, 5), State(3, 8, 2, 5), None),  # up to a lower finger
        (State(3, 8, 2, 5), State(3, 6, 3, 5), None),  # down to a higher finger
        (A, State(3, 9, 3, 7), None),  # hammered while the hand moves
        (State(3, 9, 3, 7), A, None),  # pulled off while the hand moves
        (A, State(2, 7, 3, 5), None),  # across strings
        (A, State(2, 5, 1, 5), None),
        (State(3, 0, 0, 5), State(2, 5, 1, 5), None),
        (State(3, 5, 4, 1), State(3, 1, 1, 1), None),  # 168 mm: the lower one cannot be down
        (State(3, 1, 1, 1), State(3, 5, 4, 1), None),  # nor can it hold
        (State(3, 5, 1, 5), State(3, 9, 4, 5), Technique.HAMMER_ON),
    ],
)
def test_how_two_notes_can_be_joined(one: State, two: State, expected: Technique | None) -> None:
    assert technique(NECK, HAND, one, two) is expected


# The gap between two notes


def timed(
    bpm: float, rest: Fraction = Fraction(0), marks: str = "", join: Join | None = None
) -> Gap:
    """Return the gap after a quarter; marks are those of the first note."""
    first = frozenset(Articulation(mark) for mark in marks.split())
    notes = (
        Note(Fraction(1, 4), Fraction(1, 4), Pitch.parse("C2"), first, join),
        Note(Fraction(1, 2) + rest, Fraction(1, 4), Pitch.parse("D2")),
    )
    bars = (Bar(1, Fraction(0), Fraction(1), Metre()),)
    written = Line("test", notes, bars, (Tempo(bpm=bpm),))
    return gap_between(written, *notes)


def test_a_gap_in_seconds() -> None:
    assert timed(100.0) == Gap(pytest.approx(0.6), 0.0)
    assert timed(60.0, Fraction(1, 8)) == Gap(pytest.approx(1.5), pytest.approx(0.5))
    assert timed(60.0, Fraction(1, 8)).sounding_s == pytest.approx(1.0)
    assert timed(100.0, marks="tenuto").held
    assert timed(100.0, marks="staccato").staccato
    assert timed(100.0, join=Join.SLIDE).join is Join.SLIDE
    assert not timed(100.0, marks="accent").held


@settings(deadline=None)
@given(cases(min_notes=2))
def test_gaps_are_what_the_tempos_say(case: Case) -> None:
    """Seconds added up tempo by tempo, by hand."""
    tempos = case.line.tempos

    def seconds(start: Fraction, end: Fraction) -> float:
        passed = 0.0
        for index, tempo in enumerate(tempos):
            until = tempos[index + 1].onset if index + 1 < len(tempos) else end
            length = min(end, max(until, start)) - max(start, min(tempo.onset, end))
            passed += max(0.0, float(length)) * 60 / tempo.bpm / float(tempo.beat)
        return passed

    for note, after in pairwise(case.line.notes):
        gap = gap_between(case.line, note, after)
        assert gap.ioi_s == pytest.approx(seconds(note.onset, after.onset))
        rest = seconds(note.onset + note.duration, after.onset)
        assert gap.rest_s == pytest.approx(rest, abs=1e-9)
        marks = (note.articulations, after.articulations)
        assert gap.staccato == any(Articulation.STACCATO in m for m in marks)
        assert gap.held == (Articulation.TENUTO in note.articulations)


def test_how_much_of_a_note_may_be_taken_for_a_move() -> None:
    assert (PLAIN_SHARE, NORMAL_SHARE, HELD_SHARE) == (0.5, 0.8, 1.0)
    one, two, guided = State(3, 5, 1, 5), State(2, 9, 2, 8), State(3, 8, 1, 8)
    rested = Gap(1.0, 0.4)
    assert MODEL.available_s(one, two, rested) == pytest.approx(0.4 + 0.3)
    assert MODEL.available_s(one, two, rested._replace(held=True)) == pytest.approx(0.4)
    assert MODEL.available_s(one, two, rested._replace(join=Join.SLUR)) == pytest.approx(0.52)
    assert MODEL.available_s(one, guided, rested._replace(join=Join.SLIDE)) == pytest.approx(0.7)
    assert MODEL.available_s(State(3, 0, 0, 5), two, rested) == pytest.approx(1.0)
    held = Gap(1.0, 0.0, held=True)
    assert MODEL.available_s(one, two, held) == LEAST_AVAILABLE_S


# More of the same


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 20), st.integers(1, 20), st.floats(0.05, 4.0))
def test_a_longer_way_costs_more(start: int, frets: int, seconds: float) -> None:
    """Heijink & Meulenbroek 2002: travel, place on the neck and spread each raise the cost."""
    model = CostModel(Neck(frets=36), HAND, WEIGHTS)
    for a, b in ((start, start + frets), (start + frets, start)):
        near = b + (1 if b < a else -1)  # a fret less far
        gap = Gap(seconds, 0.0)
        shorter = step(State(4, a, 1, a), State(3, near, 1, near), gap, model).get("shift", 0.0)
        longer = step(State(4, a, 1, a), State(3, b, 1, b), gap, model)["shift"]
        assert longer > shorter


@given(st.integers(1, 23))
def test_a_higher_place_costs_more(position: int) -> None:
    lower, higher = (total(MODEL.node_terms(State(4, p, 1, p))) for p in (position, position + 1))
    assert higher > lower


@settings(max_examples=60)
@given(models(), st.integers(1, 8), st.sampled_from([2, 3, 4]))
def test_a_wider_spread_never_costs_less(model: CostModel, anchor: int, finger: int) -> None:
    offsets = {2: (1, 2), 3: (2, 3), 4: (2, 3, 4)}[finger]
    bent_away = CostModel(model.neck, model.hand, replace(model.weights, bent=0.0))
    costs = [bent_away.reach_cost(State(4, anchor + o, finger, anchor)) for o in offsets]
    assert costs == sorted(costs)


def test_a_wider_spread_costs_more_near_the_nut() -> None:
    costs = [MODEL.reach_cost(State(4, 3 + o, 4, 3)) for o in (2, 3, 4)]
    assert costs == sorted(set(costs))


def test_a_larger_hand_pays_less_for_the_same_spread() -> None:
    state = State(4, 7, 4, 4)
    costs = [CostModel(NECK, Hand(s)).reach_cost(state) for s in (0.9, 1.0, 1.1)]
    assert costs == sorted(set(costs), reverse=True)


@st.composite
def pairs(draw: st.DrawFn) -> tuple[CostModel, State, State]:
    model = draw(models())
    lowest = min(pitch.midi for pitch in model.neck.tuning.strings)
    states = [
        draw(st.sampled_from(model.layer(lowest + draw(st.integers(1, 27))).states))
        for _ in range(2)
    ]
    return model, states[0], states[1]


@settings(max_examples=200, deadline=None)
@given(
    pairs(),
    st.floats(0.02, 2.0),
    st.sampled_from((0.0, 0.1, 1.0)),
    st.floats(1.0, 4.0),
    st.sampled_from((None, *Join)),
    st.tuples(st.booleans(), st.booleans()),
)
def test_more_time_never_makes_a_step_dearer(
    pair: tuple[CostModel, State, State],
    sounding: float,
    rest: float,
    slower: float,
    join: Join | None,
    marks: tuple[bool, bool],
) -> None:
    model, one, two = pair
    gap = Gap(sounding + rest, rest, join, *marks)
    more = {
        "a slower tempo": Gap(gap.ioi_s * slower, rest * slower, join, *marks),
        "a longer note": Gap(gap.ioi_s + slower, rest, join, *marks),
        "a longer rest": Gap(gap.ioi_s + slower, rest + slower, join, *marks),
    }
    before = total(model.step_terms(one, two, gap))
    for what, longer in more.items():
        assert total(model.step_terms(one, two, longer)) <= before, what


@given(cases(min_notes=1), st.floats(1.0, 4.0))
@settings(max_examples=40, deadline=None)
def test_a_slower_line_is_never_dearer(case: Case, slower: float) -> None:
    tempos = tuple(t._replace(bpm=t.bpm / slower) for t in case.line.tempos)
    slow = Planner(case.model).solve(replace(case.line, tempos=tempos), case.pins)
    assert slow.cost <= Planner(case.model).solve(case.line, case.pins).cost


@pytest.mark.parametrize("frets", [2, 3, 4, 5, -2, -4])
def test_rests_open_strings_and_longer_notes_make_a_shift_cheaper(frets: int) -> None:
    one, two = State(3, 7, 1, 7), State(2, 8 + frets, 2, 7 + frets)
    plain = step(one, two)["shift"]
    assert step(one, two, Gap(0.6, 0.2))["shift"] < plain
    assert step(one, two, Gap(0.9, 0.0))["shift"] < plain
    assert step(State(3, 0, 0, 7), two)["shift"] < plain
    assert step(one, two, Gap(0.6, 0.0, held=True))["shift"] > plain


def test_only_a_strict_model_has_moves_that_cannot_be() -> None:
    strict = CostModel(NECK, HAND, WEIGHTS, strict=True)
    one, two = State(4, 1, 1, 1), State(1, 12, 1, 12)
    quick = Gap(0.1, 0.0)
    assert strict.step_terms(one, two, quick)["shift"] == IMPOSSIBLE
    assert MODEL.step_terms(one, two, quick)["shift"] < IMPOSSIBLE
    slow = Gap(2.0, 0.0)
    assert strict.step_terms(one, two, slow) == MODEL.step_terms(one, two, slow)
    assert math.isinf(strict.move_cost(11, 0.05))


def test_fast_is_under_what_one_finger_can_tap() -> None:
    one, two = State(3, 5, 1, 5), State(2, 5, 1, 5)
    assert FAST_S == 0.15
    assert step(one, two, Gap(0.15, 0.0))["same hand"] == 0.4
    assert step(one, two, Gap(0.1499, 0.0))["same hand"] == 5.4


# Along and across, and the sum


def test_along_and_across_the_neck_are_terms_apart() -> None:
    one = State(3, 5, 1, 5)
    for strings, frets in product((0, 1, -2), (0, 3, 7)):
        two = State(3 + strings if strings < 1 else 2, 6 + frets, 2, 5 + frets)
        got = step(one, two)
        across = step(one, State(two.string, 6, 2, 5))
        along = step(one, State(3, 6 + frets, 2, 5 + frets))
        assert got.get("string") == across.get("string")
        assert got.get("shift") == along.get("shift")


@settings(max_examples=60, deadline=None)
@given(cases(min_notes=1), st.data())
def test_terms_sum_to_what_paths_cost(case: Case, data: st.DataObject) -> None:
    solution = Planner(case.model).solve(case.line, case.pins)
    index = data.draw(st.integers(0, len(case.line.notes) - 1))
    choice = data.draw(st.sampled_from(solution.regrets(index))).choice
    for path in (solution.best(), solution.through(index, choice), solution.easiest_hardest()):
        for at, cost in enumerate(path.costs):
            by_term = solution.problem.terms(path, at)
            assert sum(map(parts, by_term.values())) == parts(cost)
        assert sum(map(parts, path.costs)) == parts(path.cost)


KNOWN_TERMS = {
    "place", "open string", "finger", "stretch", "crowding", "string", "same hand", "slur", "shift",
}  # fmt: skip


@given(cases(min_notes=1))
@settings(max_examples=40, deadline=None)
def test_no_term_is_without_a_name_that_is_known(case: Case) -> None:
    solution = Planner(case.model).solve(case.line, case.pins)
    best = solution.best()
    for at in range(len(best.states)):
        assert set(solution.problem.terms(best, at)) <= KNOWN_TERMS


def test_a_settled_finger_may_bend_the_hand_and_an_open_choice_never_does() -> None:
    free = Planner(MODEL).solve(line("C2")).problem.layers[0].states
    pinned = MODEL.layer(36, Pin(finger=2, string=3)).states
    assert {state.anchor for state in pinned} == {2}
    bent = MODEL.layer(36, Pin(finger=2, string=3, position=3)).states
    assert [is_bent(HAND, state) for state in bent] == [True]
    assert {s.anchor for s in free if s.finger == 2 and s.string == 3} == {2}


# Weights


@pytest.mark.parametrize("name", [field.name for field in fields(Weights)])
def test_every_weight_says_what_it_is_and_how_sure(name: str) -> None:
    origin = ORIGINS[name]
    assert origin.unit
    assert origin.source
    assert isinstance(origin.label, Label)
    assert all(getattr(weights, name) >= 0 for weights in WEIGHT_SETS.values())


def test_no_origin_is_of_a_weight_that_there_is_not() -> None:
    assert set(ORIGINS) == {field.name for field in fields(Weights)}


def test_weights_by_name() -> None:
    assert {name: weights_named(name) for name in WEIGHT_SETS} == WEIGHT_SETS
    with pytest.raises(UnknownName, match="bass"):
        weights_named("bas")


# ABC 2.1 §4.14 and MusicXML 4.0 ("slide"): a slide keeps string and finger.
def test_a_written_slide_is_kept_by_a_slide_alone() -> None:
    one, hammered, slid = State(3, 5, 1, 5), State(3, 7, 3, 5), State(3, 7, 1, 7)
    assert technique(NECK, HAND, one, hammered, Join.SLUR) is Technique.HAMMER_ON
    assert technique(NECK, HAND, one, hammered, Join.SLIDE) is None
    for join in Join:
        assert technique(NECK, HAND, one, slid, join) is Technique.SLIDE
