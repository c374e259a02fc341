"""What is said about a plan, sentence by sentence."""

import random
import typing

import pytest

from fretdrill.hand import reasons as why
from fretdrill.hand.joins import Technique
from fretdrill.hand.plan import HardSpot, Shift, TakenFrom
from fretdrill.hand.states import Choice
from fretdrill.presentation.names import Names
from fretdrill.presentation.plan_words import PlanWords
from tests.hand.lines import planned, settled_plan

PLAIN = Names(ascii_only=True)
# G1, Bb1, D2, a rest, C2 tied over, G1: string, fret, finger, position.
MUSIC = "z G,,, _B,,,/D,,/ z|C,,3 G,,,"
HANDS = ((4, 3, 1, 3), (3, 1, 1, 1), (2, 0, 0, 1), (3, 3, 1, 3), (4, 3, 1, 3))
PLAN = settled_plan(MUSIC, *HANDS)
SAY, SAY_PLAIN = PlanWords(PLAN, Names()), PlanWords(PLAN, PLAIN)
HERE, SAME, ELSEWHERE, OPEN = Choice(3, 1, 2), Choice(3, 1, 4), Choice(4, 6, 4), Choice(3, 0, 0)
BACK = why.Move(-3, 122.4, 0.3, 0.25)
UP = why.Move(1, 40.0, 0.2, 0.5)
SHIFT = Shift(1, 1, 3, 93.4, 0.25, 0.3, TakenFrom.NOTE_LENGTH, 0.125, 0.5)

REASONS = [
    (
        why.FreesFinger(1, HERE, SAME, 2.0, 3, 1, BACK),
        "2 on B♭ (A string, fret 1): finger 1 is then over C (the next note but one); with 4 here "
        "the hand goes back three frets, 122 mm, in 0.25 s.",
    ),
    (
        why.FreesFinger(1, HERE, SAME, 2.0, 3, 1, None),
        "2 on B♭ (A string, fret 1): finger 1 is then over C (the next note but one); with 4 here "
        "no free finger lies over it.",
    ),
    (  # a finger that does not lie there at rest
        why.FreesFinger(1, HERE, SAME, 2.0, 2, 4, None),
        "2 on B♭ (A string, fret 1): finger 4 then reaches D (the next note); with 4 here no "
        "free finger lies over it.",
    ),
    (
        why.FreesFinger(1, HERE, ELSEWHERE, 2.0, 2, 0, UP),
        "2 on B♭ (A string, fret 1): the open string can then take D (the next note); with 4 on "
        "the E string, fret 6 the hand goes up one fret, 40 mm.",
    ),
    (
        why.AvoidsShift(0, Choice(4, 3, 1), OPEN, 1.0, 3, BACK),
        "1 on G (E string, fret 3): with the open A string the easiest way on "
        "takes the hand back three frets, 122 mm, in 0.25 s, for C (the next note but two).",
    ),
    (
        why.AvoidsShift(2, Choice(2, 0, 0), Choice(3, 5, 4), 1.0, 3, UP),
        "D open on the D string: with 4 on the A string, fret 5 the easiest way on "
        "takes the hand up one fret, 40 mm, for C (the next note).",
    ),
    (
        why.AvoidsOpen(2, Choice(3, 5, 4), Choice(2, 0, 0), 1.0, 5),
        "4 on D (A string, fret 5): the open D string is there too, but with the hand in V it "
        "rings on and has to be damped.",
    ),
    (
        why.WithinReach(0, Choice(4, 3, 1), ELSEWHERE, 1.0, 4, 150.2, 110.0),
        "1 on G (E string, fret 3): G (bar 2, beat 4) is then within reach; with 4 on the E "
        "string, fret 6 it is a stretch, 150 mm where 110 mm is comfortable.",
    ),
    (
        why.OutOfReach(1, 5, 213.0, 137.5),
        "B♭ lies 213 mm from finger 1 in V, the hand spans 138 mm at the most: it moves.",
    ),
    (
        why.SavesSlur(1, HERE, ELSEWHERE, 4.0, 2),
        "2 on B♭ (A string, fret 1): then the slur to D (the next note) can be kept; with 4 on "
        "the E string, fret 6 it would break.",
    ),
    (
        why.KeepsSlur(1, HERE, Technique.PULL_OFF),
        "B♭ to D on the A string: pull off.",
    ),
    (why.KeepsSlur(2, Choice(3, 5, 4), Technique.SLIDE), "D to C on the A string: slide."),
    (
        why.KeepsSlur(2, Choice(3, 5, 4), Technique.HAMMER_ON),
        "D to C on the A string: hammer 1 on.",
    ),
    (
        why.BreaksSlur(1),
        "B♭ to D cannot be joined here without more trouble than it is worth: pluck again.",
    ),
    (why.CoversMove(0, SHIFT), "The quarter G pays for the move up to III."),
    (why.CoversMove(1, SHIFT), "The eighth B♭ pays for the move up to III."),
    (
        why.DeadEnd(1, HERE, ELSEWHERE),
        "2 on B♭ (A string, fret 1): after 4 on the E string, fret 6 there is no finger left for "
        "what comes.",
    ),
]


@pytest.mark.parametrize(("reason", "said"), REASONS)
def test_reasons_read(reason, said):
    assert SAY.reason(reason) == said
    assert SAY_PLAIN.reason(reason) == said.replace("♭", "b")


def test_every_class_of_reasons_is_worded():
    assert {type(reason) for reason, _ in REASONS} == set(typing.get_args(why.Reason))


@pytest.mark.parametrize(
    ("taken_from", "said"),
    [
        (TakenFrom.REST, "The rest after D covers the move back to I."),
        (TakenFrom.OPEN_STRING, "The open D covers the move back to I."),
        (TakenFrom.NOTE_LENGTH, "The eighth D pays for the move back to I."),
    ],
)
def test_what_covers_a_move(taken_from, said):
    shift = Shift(2, 5, 1, 180.0, 0.3, 0.5, taken_from, 0.0, 0.0)
    assert SAY.reason(why.CoversMove(2, shift)) == said


# Shifts

START = "After B♭ (bar 1, beat 3) the hand goes up two frets, I to III: 93 mm in 0.25 s. "


@pytest.mark.parametrize(
    ("taken_from", "shortened", "share", "available", "said"),
    [
        (TakenFrom.REST, 0.0, 0.0, 0.75, "The rest gives the time."),
        (TakenFrom.OPEN_STRING, 0.0, 0.0, 0.5, "The open string sounds on meanwhile."),
        (TakenFrom.NONE, 0.0, 0.0, 0.5, "It is a slide: the move sounds."),
        (TakenFrom.NOTE_LENGTH, 0.125, 0.5, 0.3, "The eighth gives 125 ms, 50% of it."),
        (
            TakenFrom.NOTE_LENGTH,
            0.2,
            0.8,
            0.125,
            "That is tight: the eighth gives 200 ms, 80% of it; practise it slowly.",
        ),
    ],
)
def test_shifts_read(taken_from, shortened, share, available, said):
    shift = Shift(1, 1, 3, 93.4, 0.25, available, taken_from, shortened, share)
    assert SAY.shift(shift) == START + said
    assert SAY_PLAIN.shift(shift) == (START + said).replace("♭", "b")


def test_shift_over_an_open_string_without_time_is_tight():
    shift = Shift(1, 1, 3, 93.4, 0.25, 0.125, TakenFrom.OPEN_STRING, 0.0, 0.0)
    assert "tight" in SAY.shift(shift)


def test_a_move_that_comes_too_late_says_from_which_tempo_on_it_does_not():
    shift = Shift(1, 1, 3, 93.4, 0.25, 0.1, TakenFrom.NOTE_LENGTH, 0.2, 1.0, ioi_s=0.2)
    bpm = PLAN.line.tempos[0].bpm * 0.2 / 0.25
    assert SAY.shift(shift).endswith(
        f"There is no time for it at this tempo; below {bpm:.0f} bpm there is."
    )


def test_shift_back_by_one_fret():
    shift = Shift(0, 3, 2, 44.0, 0.171, 0.25, TakenFrom.REST, 0.0, 0.0)
    assert SAY.shift(shift) == (
        "After G (bar 1, beat 2) the hand goes back one fret, III to II: 44 mm in 0.17 s. "
        "The rest gives the time."
    )


# Moments and lengths


@pytest.mark.parametrize(
    ("music", "index", "said"),
    [
        ("A,,,|A,,,4", 0, "pickup, beat 4"),
        ("A,,,|A,,,4", 1, "bar 1, beat 1"),
        ("A,,,A,,,/A,,,/A,,,/4A,,,/4A,,,/4A,,,/4A,,,", 2, "bar 1, beat 2 &"),
        ("A,,,A,,,/A,,,/A,,,/4A,,,/4A,,,/4A,,,/4A,,,", 4, "bar 1, beat 3 e"),
        ("A,,,A,,,/A,,,/A,,,/4A,,,/4A,,,/4A,,,/4A,,,", 6, "bar 1, beat 3 a"),
        ("A,,,/8A,,,7/8A,,,3", 1, "bar 1, after beat 1"),
        ("(3A,,,/A,,,/A,,,/A,,,3", 2, "bar 1, beat 1 let"),
    ],
)
def test_moments(music, index, said):
    assert PlanWords(planned(music), Names()).moment(index) == said


@pytest.mark.parametrize(
    ("length", "said"),
    [
        ("4", "whole note"),
        ("3", "dotted half"),
        ("2", "half note"),
        ("3/2", "dotted quarter"),
        ("", "quarter"),
        ("3/4", "dotted eighth"),
        ("/", "eighth"),
        ("/4", "sixteenth"),
        ("5/4", "note"),
    ],
)
def test_lengths(length, said):
    words = PlanWords(planned(f"A,,,{length}", metre="none"), Names())
    assert words.length(0) == said


# Summary, hard spots, looking ahead, written fingers


def test_summaries():
    one = planned("A,,,4")
    assert PlanWords(one, Names()).summary() == (
        f"Position I, no shift; cost {one.cost:.1f}, {one.cost:.1f} a note."
    )
    each = f"{PLAN.cost / len(PLAN.states):.1f} a note"
    assert SAY.summary() == f"Positions III, I, two shifts; cost {PLAN.cost:.1f}, {each}."
    moved = settled_plan("G,,,C,,z2", (4, 3, 1, 3), (4, 8, 1, 8))
    assert PlanWords(moved, Names()).summary() == (
        f"Positions III, VIII, one shift; cost {moved.cost:.1f}, {moved.cost / 2:.1f} a note."
    )


def test_hard_spots_name_the_three_dearest_terms():
    spot = HardSpot(1, 9.0, {"place": 1.0, "shift": 4.5, "finger": 0.3, "stretch": 3.2})
    assert (
        SAY.hard_spot(spot) == "B♭ (bar 1, beat 3): shift 4.5, stretch 3.2, high on the neck 1.0."
    )
    small = HardSpot(0, 2.04, {"shift": 2.0, "string": 0.04})
    assert SAY.hard_spot(small) == "G (bar 1, beat 2): shift 2.0."


def test_looking_ahead():
    best = PLAN.solution.cost
    assert SAY.looking_ahead([best + 3.44, best + 1, best]) == (
        "Who looks only so many notes ahead pays so much more: 0: 3.4, 1: 1.0, 2: 0.0."
    )


@pytest.mark.parametrize(
    ("regret", "said"),
    [
        (None, "; 3 stands in no usual hand there."),
        (0.2, "; either works."),
        (1.84, "; 3 costs 1.8 more."),
    ],
)
def test_written_fingers(regret, said):
    plan = settled_plan("!3!_B,,,4", (3, 1, 1, 1))
    words = PlanWords(plan, Names())
    assert words.written_finger(0, regret) == "B♭ (bar 1, beat 1): 3 is written, 1 planned" + said


# All that is said of any line


@pytest.mark.parametrize("seed", range(15))
def test_whatever_is_said_is_whole_and_plain_where_asked(seed):
    rng = random.Random(seed)
    notes = ["_B,,,", "^G,,,", "A,,,", "_E,,", "^F,,", "_A,,", "_D,", "E,", "^G,", "C", "_E"]
    music = "".join(rng.choices([*notes, "z", "(A,,,_B,,,)", "(_E,,D,,)"], k=20))
    plan = planned(music, metre="none", unit="1/8", bpm=rng.choice((60, 120, 240)), key="Bb")
    words, plain = PlanWords(plan, Names()), PlanWords(plan, PLAIN)
    found = why.reasons(plan)
    assert found
    said = [words.summary(), *map(words.reason, found), *map(words.shift, plan.shifts)]
    said += map(words.hard_spot, plan.hard_spots)
    simple = [plain.summary(), *map(plain.reason, found), *map(plain.shift, plan.shifts)]
    simple += map(plain.hard_spot, plan.hard_spots)
    for sentence, ascii_sentence in zip(said, simple, strict=True):
        assert ascii_sentence.isascii()
        assert ascii_sentence == sentence.replace("♭", "b").replace("♯", "#")
        assert sentence.endswith(".")
        assert not {"None", "nan", "inf", "Choice", "Fraction"} & set(sentence.split())
        assert "  " not in sentence
