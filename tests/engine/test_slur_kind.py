"""The kind slur: which pairs it asks about, how it judges, what it tells."""

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine import table
from fretdrill.engine.question import AnswerForm, Grade, Joining, JoinNotes, Question
from fretdrill.engine.registry import KINDS
from fretdrill.engine.tone_reasons import Bar, Bound, Joined, NotJoinedSo, SlideMoves
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.neck.neck import Place
from fretdrill.theory.line import Bar as LineBar
from fretdrill.theory.line import Line, Note
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch
from tests.engine import tones
from tests.engine.cases import (
    NOTE_SETS,
    OPEN_MIDI,
    Instrument,
    Part,
    instrument,
    instruments,
    note_texts,
    parts,
)

EXAMPLES = settings(max_examples=40, deadline=None)
BASS = instrument().player


@st.composite
def circumstances(draw: st.DrawFn) -> tuple[Instrument, Part, str, list[Question]]:
    bass = draw(instruments())
    part = draw(parts(len(bass.open_midi), bass.player.neck.frets))
    notes = draw(note_texts)
    (stage,) = tones.stages("slur", scope=part.text, notes=notes)
    return bass, part, notes, tones.questions("slur", bass.player, stage)


@EXAMPLES
@given(circumstances())
def test_pairs_are_two_places_of_the_set_on_the_strings_of_the_scope(case):
    bass, part, notes, questions = case
    for question in questions:
        task = question.task
        assert isinstance(task, JoinNotes)
        assert task.place != task.after
        assert question.form is AnswerForm.JOINING
        assert question.position == task.position
        assert question.right in Joining
        assert len(question.item_keys) == 1
        for place in (task.place, task.after):
            assert place in bass.player.neck
            assert place.string in part.strings
            assert bass.midi(*place) % 12 in NOTE_SETS[notes]
            assert place.fret or 0 in part.frets
            assert not place.fret or place in question.scope
        assert task.place.fret == 0 or task.place.fret in part.frets


@EXAMPLES
@given(circumstances())
def test_own_answer_scores_a_hundred_and_says_why(case):
    for question in case[3]:
        own = tones.answered(question, question.right)
        assert own.points == 100
        assert own.reasons == KINDS["slur"].explain(question)
        (why,) = own.reasons
        assert isinstance(why, Joined)
        neck = question.player.neck
        mm = neck.scale_mm * abs(2 ** (-why.place.fret / 12) - 2 ** (-why.after.fret / 12))
        assert why.span_mm == pytest.approx(mm)


@EXAMPLES
@given(circumstances())
def test_other_answers_score_less_and_only_a_slide_scores_beside_a_slur(case):
    for question in case[3]:
        assert isinstance(question.task, JoinNotes)
        stopped = question.task.place.fret and question.task.after.fret
        slurred = question.right in (Joining.HAMMER_ON, Joining.PULL_OFF)
        for other in set(Joining) - {question.right}:
            verdict = tones.answered(question, other)
            assert not verdict.right
            if other is Joining.SLIDE and slurred and stopped:
                assert 0 < verdict.points < 100
                assert verdict.grade is Grade.SHIFT
                assert isinstance(verdict.reasons[-1], SlideMoves)
            else:
                assert verdict.points == 0
            assert any(isinstance(reason, Joined) for reason in verdict.reasons)


def test_the_further_a_slide_takes_the_hand_the_less_it_is_worth():
    worth = []
    for fret in (6, 7, 8):
        question = pair(f"5:3/5>3/{fret}")
        assert question.right is Joining.HAMMER_ON
        worth.append(tones.answered(question, Joining.SLIDE).accuracy)
    assert worth == sorted(worth, reverse=True)
    assert len(set(worth)) == 3


@pytest.mark.parametrize("tuning", sorted(OPEN_MIDI))
@pytest.mark.parametrize("system", ["reach", "one-per-fret", "1-2-4"])
def test_the_four_answers_come_about_equally_often(tuning, system):
    player = instrument(tuning, system=system).player
    for stage in tones.stages("slur"):
        KINDS["slur"].check(player, stage)
        foci = KINDS["slur"].foci(player, stage)
        counts = Counter(KINDS["slur"].ask(player, stage, focus).right for focus in foci)
        assert set(counts) == set(Joining)
        assert max(counts.values()) <= 1.5 * min(counts.values())
        first = [KINDS["slur"].ask(player, stage, focus).right for focus in foci[:4]]
        assert set(first) == set(Joining)  # they take turns


def test_pairs_are_drawn_from_the_whole_scope():
    (stage,) = tones.stages("slur", scope="frets 1-12")
    positions = Counter(focus.split(":")[0] for focus in KINDS["slur"].foci(BASS, stage))
    assert {int(position) for position in positions} >= set(range(1, 10))
    assert max(positions.values()) < 4 * min(positions.values())


# What is told


def pair(focus: str, system: str = "reach") -> Question:
    player = instrument(system=system).player
    (stage,) = tones.stages("slur", scope="whole neck")
    return KINDS["slur"].ask(player, stage, focus)


def why(question: Question) -> Joined:
    (reason,) = KINDS["slur"].explain(question)
    assert isinstance(reason, Joined)
    return reason


# One finger per fret from fifth position on, 1-2-4 in first (common practice, no source).
@pytest.mark.parametrize(
    ("focus", "bound", "fingers"),
    [
        ("5:3/5>3/6", Bound.UP, (1, 2)),
        ("5:3/5>3/7", Bound.UP, (1, 3)),
        ("5:3/6>3/8", Bound.UP, (2, 4)),
        ("5:3/8>3/6", Bound.DOWN, (4, 2)),
        ("5:3/0>3/7", Bound.UP_FROM_OPEN, (0, 3)),
        ("5:3/8>3/0", Bound.DOWN_TO_OPEN, (4, 0)),
        ("1:3/1>3/3", Bound.UP, (1, 4)),
        ("1:3/3>3/2", Bound.DOWN, (4, 2)),
    ],
)
def test_the_fingers_that_lie_there_are_told(focus, bound, fingers):
    told = why(pair(focus))
    assert (told.bound, told.fingers) == (bound, fingers)


def test_a_pair_too_far_apart_is_told_in_mm():
    # 863.6 mm · (2^(-5/12) - 2^(-12/12)), against ten piano semitones of 13.75 mm.
    told = why(pair("5:3/5>3/12"))
    assert told.bound is Bound.TOO_FAR
    assert told.span_mm == pytest.approx(863.6 * (2 ** (-5 / 12) - 0.5))
    assert told.limit_mm == pytest.approx(137.5)


def test_far_from_the_hand_nothing_slides_to_an_open_string():
    question = pair("5:3/14>3/0")
    assert question.right is Joining.PLUCKED
    assert why(question).bound is Bound.NO_FINGER
    assert tones.answered(question, Joining.SLIDE).points == 0


@pytest.mark.parametrize(
    ("focus", "answer", "bar"),
    [
        ("5:3/5>3/7", Joining.PULL_OFF, Bar.DOWN_ONLY),
        ("5:3/7>3/5", Joining.HAMMER_ON, Bar.UP_ONLY),
        ("5:3/0>3/5", Joining.SLIDE, Bar.NO_FINGER),
        ("5:3/5>3/0", Joining.SLIDE, Bar.NO_FINGER),
        ("5:3/5>3/7", Joining.PLUCKED, Bar.NOT_NEEDED),
    ],
)
def test_what_speaks_against_an_answer(focus, answer, bar):
    reasons = tones.answered(pair(focus), answer).reasons
    assert isinstance(reasons[0], NotJoinedSo)
    assert reasons[0].bar is bar


def test_a_slide_in_place_of_a_hammer_on_takes_the_hand_along():
    *_, moves = tones.answered(pair("5:3/5>3/7"), Joining.SLIDE).reasons
    assert moves == SlideMoves(5, 2, pytest.approx(863.6 * (2 ** (-5 / 12) - 2 ** (-7 / 12))))


# Settings, lines


def a_line(*pitches: str) -> Line:
    eighth = Fraction(1, 8)
    notes = [Note(n * eighth, eighth, Pitch.parse(p)) for n, p in enumerate(pitches)]
    bars = [LineBar(n + 1, Fraction(n), Fraction(1), Metre()) for n in range(1 + len(pitches) // 8)]
    return Line("test", tuple(notes), tuple(bars))


def line_foci(line: Line) -> list[tuple[str, Question]]:
    drill = KINDS["slur"]
    written, found = table.read_table({"line": "here"}, drill.settings(lambda name: line), "test")
    assert not found
    (stage,) = drill.stages(written)
    foci = drill.foci(BASS, stage)
    assert len(set(foci)) == len(foci)
    return [(focus, drill.ask(BASS, stage, focus)) for focus in foci]


def test_the_pairs_of_a_line_are_its_neighbours_in_the_positions_of_its_plan():
    line = a_line("C2", "D2", "E2", "F2", "G2", "A2", "B2", "C3")
    neighbours = list(zip(line.notes, line.notes[1:], strict=False))
    asked = []
    for _, question in line_foci(line):
        assert isinstance(question.task, JoinNotes)
        midi = BASS.neck.midi
        asked.append((midi(question.task.place), midi(question.task.after)))
    assert sorted(asked) == [(one.pitch.midi, two.pitch.midi) for one, two in neighbours]


def test_the_same_note_again_is_not_asked_about():
    drill, line = KINDS["slur"], a_line("C2", "C2")
    values, _ = table.read_table({"line": "here"}, drill.settings(lambda name: line), "test")
    (stage,) = drill.stages(values)
    with pytest.raises(NothingToAsk, match="no two notes to join in 'here'"):
        drill.check(BASS, stage)


def test_a_line_goes_without_other_notes_and_places():
    drill = KINDS["slur"]
    for more in ({"scope": "position 5"}, {"notes": "naturals"}):
        written = {"line": "here", **more}
        values, _ = table.read_table(written, drill.settings(lambda name: a_line("C2")), "test")
        with pytest.raises(InputError, match="do not go with 'line'"):
            drill.stages(values)


def test_nothing_to_ask_says_where():
    (stage,) = tones.stages("slur", scope="position 5, string 4", notes="B")
    with pytest.raises(NothingToAsk, match="no two notes to join in 'position 5, string 4'"):
        KINDS["slur"].check(BASS, stage)


def test_a_scope_without_a_position_brings_all_of_its_positions():
    (stage,) = tones.stages("slur", scope="frets 5-9")
    positions = {focus.split(":")[0] for focus in KINDS["slur"].foci(BASS, stage)}
    assert positions == {"5", "6"}


def test_an_answer_of_another_form_is_a_programming_error():
    with pytest.raises(TypeError):
        KINDS["slur"].judge(pair("5:3/5>3/7"), frozenset({Place(3, 5)}))
