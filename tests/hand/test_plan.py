"""What is told of a fingering: shifts, their time, hard spots, what lies ready."""

import math
import random

import pytest

from fretdrill.hand.plan import HARD_COST, MOST_HARD_SPOTS, TakenFrom
from fretdrill.hand.ranking import Ranking
from tests.hand.lines import HAND, planned, settled_plan

RATIO = 2 ** (1 / 12)
UP_5 = 0.05 + HAND.pace * math.log2(2 * (RATIO**5 - 1) / (RATIO - 1) + 1)
BACK_5 = 0.05 + HAND.pace * math.log2(2 * (1 - RATIO**-5) / (RATIO - 1) + 1)
LOW, HIGH = (4, 3, 1, 3), (4, 8, 1, 8)
FRETS_3_TO_8_MM = 863.6 * (2 ** (-3 / 12) - 2 ** (-8 / 12))


def only_shift(music, *hands, **header):
    (shift,) = settled_plan(music, *hands, **header).shifts
    return shift


def test_shift_up():
    shift = only_shift("G,,,C,,z2", LOW, HIGH)
    assert (shift.index, shift.from_position, shift.to_position, shift.frets) == (0, 3, 8, 5)
    assert shift.distance_mm == pytest.approx(FRETS_3_TO_8_MM)
    assert shift.needs_s == pytest.approx(UP_5)


def test_shift_back():
    shift = only_shift("C,,G,,,z2", HIGH, LOW)
    assert (shift.from_position, shift.to_position, shift.frets) == (8, 3, -5)
    assert shift.distance_mm == pytest.approx(FRETS_3_TO_8_MM)
    assert shift.needs_s == pytest.approx(BACK_5)
    assert shift.needs_s < UP_5  # the frets that it goes to are wider


def test_note_gives_half_its_length_at_most():
    shift = only_shift("G,,,C,,z2", LOW, HIGH)  # a quarter at 120 lasts 0.5 s
    assert shift.taken_from is TakenFrom.NOTE_LENGTH
    assert shift.available_s == pytest.approx(0.25)
    assert shift.shortened_s == pytest.approx(UP_5)
    assert shift.share == pytest.approx(UP_5 / 0.5)


def test_tenuto_gives_nothing():
    shift = only_shift("!tenuto!G,,,C,,z2", LOW, HIGH)
    assert shift.available_s == pytest.approx(0.03)


def test_rest_gives_the_time():
    shift = only_shift("G,,,zC,,z", LOW, HIGH)
    assert (shift.taken_from, shift.shortened_s, shift.share) == (TakenFrom.REST, 0, 0)
    assert shift.available_s == pytest.approx(0.5 + 0.25)


def test_short_rest_gives_a_part():
    shift = only_shift("G,,,3/4z/4C,,z2", LOW, HIGH)
    assert shift.taken_from is TakenFrom.NOTE_LENGTH
    assert shift.shortened_s == pytest.approx(UP_5 - 0.125)
    assert shift.share == pytest.approx((UP_5 - 0.125) / 0.375)
    assert shift.available_s == pytest.approx(0.125 + 0.375 / 2)


def test_open_string_gives_its_whole_length():
    shift = only_shift("A,,,C,,z2", (3, 0, 0, 3), HIGH)
    assert (shift.taken_from, shift.shortened_s) == (TakenFrom.OPEN_STRING, 0)
    assert shift.available_s == pytest.approx(0.5)


def test_slide_takes_no_time():
    plan = settled_plan("(G,,,C,,)z2", LOW, HIGH)
    (shift,) = plan.shifts
    assert (shift.taken_from, shift.shortened_s) == (TakenFrom.NONE, 0)


def test_note_gives_no_more_than_it_lasts():
    shift = only_shift("G,,,C,,z2", LOW, HIGH, bpm=300)  # 0.2 s, and the shift needs 0.34 s
    assert shift.shortened_s <= 0.2 + 1e-9
    assert shift.share <= 1 + 1e-9


def test_inside_a_slur_that_breaks_the_note_is_heard_out():
    shift = only_shift("(G,,,C,,)z2", LOW, (3, 3, 1, 4))
    assert shift.taken_from is TakenFrom.NOTE_LENGTH
    assert shift.available_s == pytest.approx(0.2 * 0.5)


def test_no_shift_where_the_hand_stays():
    assert settled_plan("G,,,C,,z2", LOW, (3, 3, 1, 3)).shifts == ()
    assert planned("G,,,4").shifts == ()


def test_shifts_come_in_order_with_every_move():
    plan = settled_plan("G,,,C,,G,,,C,,", LOW, HIGH, LOW, HIGH)
    assert [(s.index, s.frets) for s in plan.shifts] == [(0, 5), (1, -5), (2, 5)]


# Ready


def test_ready_by_hand():
    plan = settled_plan(
        "A,,,E,,^F,,=F,,|D,,4",
        (4, 5, 1, 5),  # V: the fingers lie over 5 to 8, 102.9 mm
        (3, 7, 3, 5),
        (3, 9, 4, 6),  # VI: over 6 to 9
        (3, 8, 3, 6),
        (2, 0, 0, 6),
    )
    assert [plan.ready(i) for i in range(5)] == [2, 2, 2, 1, 0]


def test_ready_low_on_the_neck_is_what_fingers_1_2_4_cover():
    # In I frets 1 to 4 are 129.7 mm: more than is comfortable, so 1, 2 and 4 lie over 1 to 3.
    plan = settled_plan("F,,,G,,,^G,,,A,,,", (4, 1, 1, 1), (4, 3, 4, 1), (4, 4, 1, 4), (4, 5, 2, 4))
    assert [plan.ready(i) for i in range(4)] == [1, 0, 1, 0]


# Hard spots

RANDOM_NOTES = ["E,,,", "F,,,", "A,,,", "C,,", "D,,", "F,,", "^G,,", "B,,", "E,", "G,"]


@pytest.mark.parametrize("seed", range(10))
def test_hard_spots_are_the_dearest_notes_and_add_up(seed):
    music = "".join(random.Random(seed).choices(RANDOM_NOTES, k=16))
    plan = planned(music, unit="1/8", metre="none", bpm=200)
    costs = plan.path.costs
    dearest = sorted((c for c in costs if c >= HARD_COST), reverse=True)[:MOST_HARD_SPOTS]
    assert [spot.cost for spot in plan.hard_spots] == dearest
    for spot in plan.hard_spots:
        assert spot.cost == costs[spot.index]
        assert sum(spot.terms.values()) == pytest.approx(spot.cost, abs=1e-9)
        assert all(cost > 0 for cost in spot.terms.values())


def test_nothing_easy_is_hard():
    assert planned("A,,,4").hard_spots == ()


def test_cost_is_that_of_the_notes_and_the_chosen_choice_is_best():
    plan = planned("G,,,C,,E,,G,,|C,D,E,G,", bpm=180)
    assert plan.cost == pytest.approx(sum(plan.path.costs))
    for index, state in enumerate(plan.states):
        rated = plan.choices(index)
        assert next(r.regret for r in rated if r.choice == state.choice) == 0
        assert [r.regret for r in rated] == sorted(r.regret for r in rated)
        assert len({r.choice for r in rated}) == len(rated)


# Ways to play


def test_best_path_looks_at_no_other_beginning(monkeypatch):
    rng = random.Random(1)
    names, at, music = "E,, F,, G,, A,, B,, C, D, E, F, G, A, B, C".split(), 0, ""
    for _ in range(300):
        at = max(0, min(len(names) - 1, at + rng.choice((-3, -2, -1, 1, 2, 3))))
        music += names[at]
    solution = planned(music, unit="1/8", metre="none").solution
    looked_at = []
    continued = Ranking._continued
    monkeypatch.setattr(
        Ranking, "_continued", lambda self, b: looked_at.append(b) or continued(self, b)
    )
    assert solution.best_paths(1)[0].cost == solution.cost
    assert len(looked_at) < 300
