"""What the line screen says, sentence by sentence, and what it shows on the neck.

Wording has no outside source; the figures in it are held against the plan.
"""

from dataclasses import replace

import pytest

from fretdrill.hand.advice import MoreFrets, Octaves, OffNote, OtherTuning
from fretdrill.hand.cost import CostModel
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.problem import Path
from fretdrill.hand.solution import RatedChoice
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.presentation.line_view import line_view
from fretdrill.presentation.line_words import (
    ahead_text,
    choice_text,
    cost_text,
    hand_text,
    neck_name,
    off_text,
    position_text,
    spots_text,
    title,
    why_not,
)
from fretdrill.presentation.names import Names
from fretdrill.presentation.neck_drawing import Role
from tests.hand.lines import HAND, abc_line, planned, settled_plan

PLAIN = Names(ascii_only=True)
# G1 C2 D2 C2: string, fret, finger, position.
G, C, D = (4, 3, 1, 3), (3, 3, 1, 3), (3, 5, 4, 3)
MUSIC = "G,,,C,,D,,C,,"
PLAN = settled_plan(MUSIC, G, C, D, C)
FREE = planned(MUSIC)
BUSY = planned("E,,,G,,,B,,,D,,F,,A,,C,E,|G,B,DFB,E,G,,G|", unit="1/8", bpm=150)


# The heading


def test_a_title_says_metre_key_tempo_and_notes():
    line = abc_line(MUSIC, metre="3/4", bpm=92.5, key="Bb")
    assert title(line, Names()) == "Test   3/4, B♭ major, 92.5 bpm, 4 notes"
    assert title(line, PLAIN) == "Test   3/4, Bb major, 92.5 bpm, 4 notes"


def test_a_title_of_one_note_and_of_no_key():
    line = replace(abc_line("C,,"), keys=())
    assert title(line, Names()) == "Test   4/4, 120 bpm, 1 note"


@pytest.mark.parametrize(
    ("cost", "free", "pins", "waiting", "text"),
    [
        (None, None, 0, False, ""),
        (None, None, 0, True, "being worked out"),
        (None, None, 2, True, "being worked out"),
        (12.34, 12.34, 0, False, "cost 12.3"),
        (12.34, None, 0, True, "cost 12.3, being worked out anew"),
        (12.34, 10.0, 1, False, "cost 12.3, 1 pin +2.3"),
        (12.34, 10.0, 2, False, "cost 12.3, 2 pins +2.3"),
        (12.34, None, 2, False, "cost 12.3, 2 pins"),
        (10.0, 10.0, 1, True, "cost 10.0, 1 pin +0.0, being worked out anew"),
        (1234.5, 1000.0, 12, False, "cost 1234.5, 12 pins +234.5"),
    ],
)
def test_what_it_costs(cost, free, pins, waiting, text):
    assert cost_text(cost, free, pins, waiting) == text


def test_a_neck_by_its_usual_name():
    assert neck_name(Neck()) == "4-string"
    assert neck_name(Neck(Tuning.parse("B0 E1 A1 D2 G2"))) == "5-string"
    assert neck_name(Neck(Tuning.parse("C1 F1"))) == "C1 F1"


# Choices


def test_choices_say_finger_place_and_cost():
    easiest = RatedChoice(Choice(3, 3, 1), 0.0)
    dearer = RatedChoice(Choice(4, 8, 4), 3.21)
    opened = RatedChoice(Choice(3, 0, 0), 12.0)
    assert choice_text(PLAN, 1, easiest, PLAIN) == "1  A string, fret 3   easiest"
    assert choice_text(PLAN, 1, dearer, PLAIN) == "4  E string, fret 8   +3.2"
    assert choice_text(PLAN, 1, opened, PLAIN) == "0  A string, open     +12.0"


@pytest.mark.parametrize("plan", [FREE, BUSY])
@pytest.mark.parametrize("names", [Names(), PLAIN])
def test_every_choice_of_every_note_has_a_reason(plan, names):
    for index in range(len(plan.line.notes)):
        easiest = 0
        for rated in plan.choices(index):
            row, why = choice_text(plan, index, rated, names), why_not(plan, index, rated, names)
            assert why.endswith(".")
            assert why[0].isupper() or why[0].isdigit()
            assert "\n" not in why
            easiest += row.endswith("easiest")
            if names.ascii_only:
                assert (row + why).isascii()
        assert easiest == 1


def test_a_choice_as_good_and_one_a_little_dearer():
    plan = planned("C,,")
    others = [rated for rated in plan.choices(0) if rated.choice != plan.states[0].choice]
    told = [why_not(plan, 0, replace_regret(rated, 0.01), PLAIN) for rated in others]
    assert any(why.startswith("About as good: 0.0 more by the end.") for why in told)


def replace_regret(rated: RatedChoice, regret: float) -> RatedChoice:
    return rated._replace(regret=regret)


def test_of_the_plans_own_choice_it_says_how_the_hand_comes_and_goes():
    up = (4, 8, 1, 8)
    moved = settled_plan("G,,,C,,C,,", G, up, up)
    before = why_not(moved, 0, RatedChoice(Choice(4, 3, 1), 0.0), PLAIN)
    at = why_not(moved, 1, RatedChoice(Choice(4, 8, 1), 0.0), PLAIN)
    assert before == at  # the one shift is told on both its sides
    assert "VIII" in at or "five frets" in at
    assert why_not(moved, 2, RatedChoice(Choice(4, 8, 1), 0.0), PLAIN).endswith(
        "the easiest by the end."
    )


# Positions, hard spots, looking ahead


def test_a_position_says_cost_shifts_open_strings_and_fingers():
    path = settled_plan("G,,,C,,A,,,C,,", G, (4, 8, 1, 8), (3, 0, 0, 8), C).path
    free = planned("G,,,C,,A,,,C,,")
    text = position_text(free, 3, path, range(4))
    more = path.cost - free.cost
    assert text.split() == [
        "III", f"+{more:.1f}", "2", "shifts", "1", "open", "this", "bar:", "1", "1", "0", "1",
    ]  # fmt: skip
    assert position_text(free, 3, path, range(2, 4)).endswith("this bar: 0 1")


def test_a_position_without_a_shift_and_with_one():
    path = PLAN.path
    assert "no shift" in position_text(PLAN, 3, path, range(4))
    one = settled_plan("G,,,C,,", G, (4, 8, 1, 8))
    assert "1 shift " in position_text(one, 3, one.path, range(2))


def test_hard_spots_come_the_hardest_first():
    rows = spots_text(BUSY, PLAIN)
    assert len(rows) == len(BUSY.hard_spots)
    assert rows
    assert all(row.isascii() for row in rows)
    assert spots_text(planned("C,,C,,C,,"), PLAIN) == []


def test_who_sees_less_pays_what_the_path_costs_more():
    paths = [look_ahead(BUSY.solution.problem, seen) for seen in range(4)]
    rows = ahead_text(BUSY, paths)
    assert [row[:2] for row in rows] == ["+0", "+1", "+2", "+3"]
    assert "the note itself" in rows[0]
    for row, path in zip(rows, paths, strict=True):
        other = [a.choice != b.choice for a, b in zip(path.states, BUSY.states, strict=True)]
        assert f"{sum(other)} notes otherwise" in row
        assert f"+{path.cost - BUSY.cost:.1f} by the end" in row


def test_who_gets_stuck():
    stuck = Path(PLAN.states, (1e9,) * 4)
    assert "gets stuck, 0 notes otherwise" in ahead_text(PLAN, [stuck])[0]


# Off the neck


LINE = abc_line("C,,,D,,,_E,,,E,,,c'")


@pytest.mark.parametrize(
    ("off", "ways", "text"),
    [
        (
            [OffNote(1, -2)],
            [Octaves(1), OtherTuning("5-string")],
            "Off the neck lies note 2 (D1, 2 semitones below); left out. "
            "An octave higher or a 5-string neck would bring all in.",
        ),
        (
            [OffNote(2, -1), OffNote(4, 5)],
            [],
            "Off the neck lie note 3 (Eb1, a semitone below), note 5 (C6, 5 semitones above); "
            "left out.",
        ),
        (
            [OffNote(4, 5)],
            [Octaves(-2), MoreFrets(29)],
            "Off the neck lies note 5 (C6, 5 semitones above); left out. "
            "2 octaves lower or 29 frets would bring all in.",
        ),
        (
            [OffNote(0, 0)],
            [],
            "Off the neck lies note 1 (C1, between two strings); left out.",
        ),
        (
            [OffNote(index, -1) for index in range(5)],
            [MoreFrets(25)],
            "Off the neck lie note 1 (C1, a semitone below), note 2 (D1, a semitone below), "
            "note 3 (Eb1, a semitone below) and 2 more; left out. 25 frets would bring all in.",
        ),
    ],
)
def test_notes_off_the_neck(off, ways, text):
    assert off_text(LINE, off, ways, PLAIN) == text


def test_notes_off_the_neck_are_spelled_as_written():
    assert "E♭1" in off_text(LINE, [OffNote(2, -1)], [], Names())


# On the neck


def test_the_hand_and_how_much_of_what_comes_lies_under_it():
    assert hand_text(PLAN, 0, PLAIN).startswith("III: 1 on G")
    assert hand_text(PLAN, 0, PLAIN).endswith("3 of the next 3 under the hand")
    assert hand_text(PLAN, 2, PLAIN).endswith("1 of the next 1 under the hand")
    assert hand_text(PLAN, 3, PLAIN) == "III: 1 on C"
    opened = settled_plan("A,,,", (3, 0, 0, 3))
    assert hand_text(opened, 0, PLAIN) == "III: A open"


def test_the_neck_has_the_note_and_the_next_three():
    plan = settled_plan("G,,,C,,D,,C,,G,,,", G, C, D, C, G)
    view = line_view(plan, 0, None, PLAIN)
    assert view.marks == {Place(4, 3): Role.CHOSEN}
    assert view.labels == {Place(4, 3): "1", Place(3, 3): "+1+3", Place(3, 5): "+2"}
    assert view.focus == 3
    assert view.hand_text == hand_text(plan, 0, PLAIN)


def test_another_choice_is_marked_with_its_finger():
    plan = PLAN
    other = RatedChoice(Choice(4, 8, 4), 2.0)
    view = line_view(plan, 1, other, PLAIN)
    assert view.marks[Place(4, 8)] is Role.ASKED
    assert view.labels[Place(4, 8)] == "4"
    assert view.marks[Place(3, 3)] is Role.CHOSEN


def test_another_finger_at_the_same_place_stands_after_a_stroke():
    view = line_view(PLAN, 1, RatedChoice(Choice(3, 3, 2), 2.0), PLAIN)
    assert view.labels[Place(3, 3)] == "1/2"
    assert view.marks[Place(3, 3)] is Role.CHOSEN


def test_the_plans_own_choice_adds_nothing():
    view = line_view(PLAN, 1, RatedChoice(Choice(3, 3, 1), 0.0), PLAIN)
    assert view == line_view(PLAN, 1, None, PLAIN)


def test_a_neck_of_two_strings_alike_tells_them_apart():
    model = CostModel(Neck(Tuning.parse("guitar")), HAND)
    plan = planned("E,G,", model=model)
    rows = [choice_text(plan, 0, rated, PLAIN) for rated in plan.choices(0)]
    assert any("string 6 (E)" in row for row in rows)
