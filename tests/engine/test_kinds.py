"""The kinds find, name and finger: what they ask and how they judge."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine import scoring
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import Part as Stage
from fretdrill.engine.question import Answer, AnswerForm, FindNote, FingerPlace, NamePlace, Question
from fretdrill.engine.reasons import (
    GaveUp,
    Landmark,
    Missed,
    NoteThere,
    OpenNeedsNoFinger,
    OtherFinger,
    OtherSpelling,
    OutsideScope,
    Relation,
    Unfit,
    UnfitFinger,
    WrongName,
    WrongPlace,
)
from fretdrill.engine.registry import KINDS, kind_named
from fretdrill.errors import UnknownName
from fretdrill.neck.neck import Place
from fretdrill.neck.scope import Scope
from fretdrill.practice.session import judge
from fretdrill.theory.pitch import NoteName

from .cases import (
    NOTE_SETS,
    OPEN_MIDI,
    Instrument,
    Part,
    instrument,
    instruments,
    note_texts,
    parts,
    pitch_class,
    stage,
)

PART_KINDS = ("find", "finger", "name")
EXAMPLES = settings(max_examples=60, deadline=None)


@st.composite
def circumstances(draw: st.DrawFn) -> tuple[Instrument, Part, str]:
    bass = draw(instruments())
    part = draw(parts(len(bass.open_midi), bass.player.neck.frets))
    return bass, part, draw(note_texts)


def questions(kind: str, bass: Instrument, part: Part, notes: str) -> list[Question]:
    drill, note_set = KINDS[kind], NoteSet.parse(notes)
    foci = drill.foci(bass.player, Stage(part.scope, note_set))
    assert len(set(foci)) == len(foci)
    return [drill.ask(bass.player, Stage(part.scope, note_set), focus) for focus in foci]


def sounding(bass: Instrument, part: Part, classes: set[int]) -> set[tuple[int, int]]:
    """Return the places of a part that sound one of some pitch classes, by counting."""
    places = part.places(bass.player.neck.frets)
    return {(s, f) for s, f in places if bass.midi(s, f) % 12 in classes}


def accuracy(question: Question, given_answer: object) -> float:
    return kind_named(question.kind).judge(question, given_answer).accuracy  # type: ignore[arg-type]


# What is asked


@EXAMPLES
@given(circumstances())
def test_right_places_of_find_are_all_places_of_that_note_in_the_scope(case):
    bass, part, notes = case
    asked = set()
    for question in questions("find", bass, part, notes):
        assert isinstance(question.task, FindNote)
        wanted = pitch_class(str(question.task.name))
        asked.add(wanted)
        assert question.right == sounding(bass, part, {wanted})
        assert question.right, "nothing to find"
        assert question.units == len(question.right) == len(question.item_keys)
    there = {bass.midi(s, f) % 12 for s, f in part.places(bass.player.neck.frets)}
    assert asked == NOTE_SETS[notes] & there


@EXAMPLES
@given(circumstances())
def test_name_asks_for_every_stopped_place_of_the_set_in_the_scope_and_nothing_else(case):
    bass, part, notes = case
    asked = set()
    for question in questions("name", bass, part, notes):
        assert isinstance(question.task, NamePlace)
        place = question.task.place
        asked.add(tuple(place))
        assert pitch_class(str(question.right)) == bass.midi(*place) % 12
    assert asked == {(s, f) for s, f in sounding(bass, part, NOTE_SETS[notes]) if f > 0}


@EXAMPLES
@given(circumstances())
def test_finger_asks_only_for_notes_of_the_set_in_the_scope_under_the_hand(case):
    bass, part, notes = case
    neck, hand = bass.player.neck, bass.player.hand
    allowed = sounding(bass, part, NOTE_SETS[notes])
    for question in questions("finger", bass, part, notes):
        assert isinstance(question.task, FingerPlace)
        place, position = question.task.place, question.task.position
        assert tuple(place) in allowed
        assert question.right in range(5)
        assert question.position == position
        if place.fret == 0:
            assert question.right == 0
            continue
        # One finger per fret is a minor third, 1-2-4 a whole tone (No Treble 2016);
        # frets in mm by Leirer 2008; ten piano semitones of 13.75 mm fingers 1 to 4
        # (Parncutt et al. 1997; Boyle, Boyle & Booker 2015): comfortable is 8 of them.
        third = neck.scale_mm * (2 ** (-position / 12) - 2 ** (-(position + 3) / 12))
        four = hand.system == "one-per-fret" or (
            hand.system == "reach" and third <= 8 * 13.75 * hand.scale
        )
        offset = place.fret - position
        assert question.right == ((1, 2, 3, 4) if four else (1, 2, 4))[offset]


@EXAMPLES
@given(circumstances(), st.sampled_from(PART_KINDS))
def test_own_answer_in_time_scores_a_hundred(case, kind):
    for question in questions(kind, *case):
        target = scoring.target_s(question, scoring.UNMEASURED_PACE_S, 1.0)
        verdict = judge(question, Answer(question.right, target), target)
        assert verdict.points == 100
        assert verdict.right
        assert verdict.in_time
        assert verdict.reasons == ()


@EXAMPLES
@given(circumstances(), st.sampled_from(PART_KINDS))
def test_giving_up_scores_nothing(case, kind):
    for question in questions(kind, *case)[:20]:
        verdict = judge(question, Answer(None, 0.1), 5.0)
        assert verdict.points == 0
        assert not verdict.right


@EXAMPLES
@given(circumstances(), st.sampled_from(PART_KINDS))
def test_the_focus_decides_all_of_a_question(case, kind):
    bass, part, notes = case
    again = questions(kind, bass, part, notes)
    assert again == questions(kind, bass, part, notes)


@pytest.mark.parametrize("kind", PART_KINDS)
def test_a_kind_says_what_it_is(kind):
    assert KINDS[kind].name == kind
    assert KINDS[kind].about
    assert not KINDS[kind].about.endswith(".")


def test_unknown_kind_names_the_nearest():
    with pytest.raises(UnknownName, match="did you mean 'finger'"):
        kind_named("fingers")


def test_every_d_in_fifth_position():
    # The seventh fret of the highest string is D and the fifth fret of the A string its
    # octave: common practice, no source.
    bass = instrument()
    question = KINDS["find"].ask(bass.player, stage("position 5", "naturals"), "D")
    assert question.right == {(1, 7), (3, 5)}
    assert question.form is AnswerForm.PLACES
    assert question.position == 5


# Open strings, chords, what counts as the same


@pytest.mark.parametrize("tuning", sorted(OPEN_MIDI))
@pytest.mark.parametrize("scope", ["whole neck", "position 1, open strings", "frets 0-12"])
def test_open_strings_are_never_asked_by_name(tuning, scope):
    player = instrument(tuning).player
    foci = KINDS["name"].foci(player, stage(scope, "chromatic"))
    assert foci
    assert not [focus for focus in foci if "/0 " in focus]


@pytest.mark.parametrize("kind", ["find", "name"])
def test_a_question_in_a_key_or_a_chord_knows_it(kind):
    for notes in ("chord Dm7", "key Em"):
        player, note_set = instrument().player, NoteSet.parse(notes)
        for focus in KINDS[kind].foci(player, Stage(Scope.parse("position 5"), note_set)):
            task = KINDS[kind].ask(player, Stage(Scope.parse("position 5"), note_set), focus).task
            assert not isinstance(task, FingerPlace)
            assert task.context == note_set.context
            assert task.context is not None


@EXAMPLES
@given(circumstances())
def test_the_same_finger_of_the_same_position_is_the_same_subject(case):
    same: dict[str, set[tuple[int, int]]] = {}
    for question in questions("finger", *case):
        assert isinstance(question.task, FingerPlace)
        subject = KINDS["finger"].subject(question.focus)
        where = (question.task.position, question.task.place.fret)
        same.setdefault(subject, set()).add(where)
    told = [where for found in same.values() for where in found]
    assert all(len(found) == 1 for found in same.values())
    assert len(told) == len(set(told))


def test_the_same_place_under_another_name_is_the_same_subject():
    foci = KINDS["name"].foci(
        instrument(accidentals="both").player, Stage(Scope(), NoteSet.parse("chromatic"))
    )
    both = [focus for focus in foci if focus.startswith("3/6 ")]
    assert sorted(both) == ["3/6 D#", "3/6 Eb"]
    assert len({KINDS["name"].subject(focus) for focus in both}) == 1
    assert KINDS["name"].subject("3/6 Eb") != KINDS["name"].subject("2/6 Ab")


# What is said to who gives up

SEMITONES = {Relation.UNISON: 0, Relation.OCTAVE: 12, Relation.TWO_OCTAVES: 24}


def check_way(bass: Instrument, place: Place, way: Landmark, told: set[Place]) -> None:
    """Check a landmark by counting: it starts where one knows, and leads to the place."""
    assert (way.start.string - way.strings, way.start.fret + way.frets) == tuple(place)
    if way.relation is not Relation.STEPS:
        assert way.start in told or way.start.fret == 0
        assert abs(bass.midi(*place) - bass.midi(*way.start)) == SEMITONES[way.relation]
        return
    assert way.strings == 0
    if place.string == 1 or way.start.fret == 0:
        assert way.start.fret == 0
    else:
        assert bass.midi(*way.start) == bass.midi(place.string - 1, 0)
        assert way.frets > 0


@EXAMPLES
@given(circumstances())
def test_find_explains_every_place_from_those_told_before(case):
    bass = case[0]
    for question in questions("find", *case)[:6]:
        told: set[Place] = set()
        for reason in KINDS["find"].explain(question):
            assert isinstance(reason, Missed)
            assert reason.place not in told
            check_way(bass, reason.place, reason.landmark, told)
            told.add(reason.place)
        assert told == question.right


def test_find_leads_from_place_to_place():
    # D in fifth position: A string fret 5 is the open D string; the D on the G string lies
    # an octave above it, two strings over and two frets up (common practice, no source).
    question = KINDS["find"].ask(instrument().player, stage("position 5", "D"), "D")
    first, second = KINDS["find"].explain(question)
    assert first == Missed(Place(3, 5), Landmark(Place(2, 0), Relation.UNISON, -1, 5))
    assert second == Missed(Place(1, 7), Landmark(Place(3, 5), Relation.OCTAVE, 2, 2))


@EXAMPLES
@given(circumstances())
def test_name_explains_the_note_at_the_place(case):
    bass = case[0]
    for question in questions("name", *case)[:20]:
        assert isinstance(question.task, NamePlace)
        (reason,) = KINDS["name"].explain(question)
        assert isinstance(reason, NoteThere)
        assert (reason.place, reason.name) == (question.task.place, question.right)
        check_way(bass, reason.place, reason.landmark, set())


def test_finger_explains_by_giving_the_finger():
    assert KINDS["finger"].explain(finger_question(5, "3/7")) == (GaveUp(),)


@EXAMPLES
@given(circumstances(), st.sampled_from(PART_KINDS))
def test_giving_up_tells_what_the_kind_explains(case, kind):
    for question in questions(kind, *case)[:10]:
        verdict = judge(question, Answer(None, 0.1), 5.0)
        assert verdict.reasons == KINDS[kind].explain(question) != ()


# How find is judged


def every_d() -> Question:
    return KINDS["find"].ask(instrument().player, stage("whole neck", "D"), "D")


def test_a_missed_place_costs_its_share_and_is_named():
    question = every_d()
    places = sorted(question.right)
    judgement = KINDS["find"].judge(question, frozenset(places[1:]))
    assert judgement.accuracy == pytest.approx(1 - 1 / len(places))
    assert [type(reason) for reason in judgement.reasons] == [Missed]
    assert judgement.reasons[0].place == places[0]


def test_a_wrong_mark_costs_half_of_what_a_missed_place_costs():
    question = every_d()
    lost = 1 - accuracy(question, question.right - {min(question.right)})
    assert lost > 0
    assert 1 - accuracy(question, question.right | {Place(1, 8)}) == pytest.approx(lost / 2)
    two_wrong = accuracy(question, question.right | {Place(1, 8), Place(1, 9)})
    assert 1 - two_wrong == pytest.approx(lost)


def test_two_wrong_marks_take_away_the_one_place_found():
    question = every_d()
    one = frozenset({min(question.right)})
    assert accuracy(question, one | {Place(1, 8)}) == pytest.approx(0.5 / len(question.right))
    assert accuracy(question, one | {Place(1, 8), Place(1, 9)}) == 0


def test_marking_everything_is_worth_nothing():
    question = every_d()
    assert accuracy(question, frozenset(question.player.neck.places)) == 0
    assert accuracy(question, frozenset()) == 0


def test_a_wrong_mark_is_told_with_what_it_sounds_and_where_the_note_is():
    question = every_d()
    judgement = KINDS["find"].judge(question, question.right | {Place(1, 8)})
    (reason,) = judgement.reasons
    assert isinstance(reason, WrongPlace)
    assert str(reason.sounds) == "Eb"
    assert reason.nearest == Place(1, 7)


def test_the_right_note_in_the_wrong_part_is_told_apart():
    question = KINDS["find"].ask(instrument().player, stage("position 5", "D"), "D")
    judgement = KINDS["find"].judge(question, question.right | {Place(2, 0)})
    assert judgement.reasons == (OutsideScope(Place(2, 0)),)


def test_the_nearest_place_of_a_wrong_mark_lies_in_the_scope():
    # Fifth position, frets 5 to 8: the D string has G Ab A Bb there, so no D; the G
    # string has its D at fret 7.
    question = KINDS["find"].ask(instrument().player, stage("position 5", "D"), "D")
    marks = question.right | {Place(2, 7), Place(1, 8)}
    near = {r.place: r.nearest for r in KINDS["find"].judge(question, marks).reasons}
    assert near == {Place(2, 7): None, Place(1, 8): Place(1, 7)}


@pytest.mark.parametrize(
    ("notes", "focus", "sounds"),
    [("key E major", "E", "D#"), ("key Bb major", "D", "Eb"), ("key Cb major", "Cb", "Eb")],
)
def test_a_wrong_mark_is_spelled_by_the_key(notes, focus, sounds):
    # G string, fret 8: the seventh of E major, the fourth of Bb major, the third of Cb major.
    question = KINDS["find"].ask(instrument().player, stage("whole neck", notes), focus)
    (reason,) = KINDS["find"].judge(question, question.right | {Place(1, 8)}).reasons
    assert isinstance(reason, WrongPlace)
    assert str(reason.sounds) == sounds


@EXAMPLES
@given(circumstances(), st.data())
def test_find_counts_found_less_half_of_wrong_over_all(case, data):
    asked = questions("find", *case)
    if not asked:
        return
    question = data.draw(st.sampled_from(asked))
    places = st.sampled_from(question.player.neck.places)
    marks = data.draw(st.frozensets(places | st.sampled_from(sorted(question.right)), max_size=12))
    found, wrong = len(marks & question.right), len(marks - question.right)
    judgement = KINDS["find"].judge(question, marks)
    assert judgement.accuracy == pytest.approx(max(0, found - wrong / 2) / len(question.right))
    assert len(judgement.reasons) == wrong + len(question.right) - found


# How name is judged


def place_question(notes: str, focus: str, **options: str) -> Question:
    player = instrument(**options).player
    return KINDS["name"].ask(player, stage("whole neck", notes), focus)


@pytest.mark.parametrize("given_name", ["Eb", "D#", "Fbb", "Ebb#", "eb"])
def test_every_enharmonic_name_is_right(given_name):
    question = place_question("key Bb major", "3/6 Eb")
    assert accuracy(question, NoteName.parse(given_name)) == 1.0


def test_another_spelling_is_explained_with_the_key():
    question = place_question("key Bb major", "3/6 Eb")
    judgement = KINDS["name"].judge(question, NoteName.parse("D#"))
    (reason,) = judgement.reasons
    assert isinstance(reason, OtherSpelling)
    assert (str(reason.given), str(reason.fitting), str(reason.context)) == ("D#", "Eb", "Bb major")


def test_f_major_asks_for_b_flat_and_never_a_sharp():
    foci = KINDS["name"].foci(
        instrument(accidentals="sharps").player, Stage(Scope.parse("whole neck"), NoteSet("", None))
    )
    assert any(focus.endswith(" A#") for focus in foci)
    foci = KINDS["name"].foci(
        instrument(accidentals="sharps").player,
        stage("whole neck", "key F major"),
    )
    assert any(focus.endswith(" Bb") for focus in foci)
    assert not any("#" in focus for focus in foci)


@given(
    st.sampled_from("CDEFGAB"),
    st.integers(-2, 2),
    st.integers(1, 4),
    st.integers(1, 24),
)
@settings(max_examples=150, deadline=None)
def test_a_name_is_right_exactly_when_it_sounds_the_place(letter, alter, string, fret):
    bass = instrument()
    midi = bass.midi(string, fret)
    focus = next(
        f
        for f in KINDS["name"].foci(bass.player, Stage(Scope(), NoteSet.parse("chromatic")))
        if f.startswith(f"{string}/{fret} ")
    )
    question = place_question("chromatic", focus)
    given_name = NoteName(letter, alter)
    right = (midi - pitch_class(letter) - alter) % 12 == 0
    judgement = KINDS["name"].judge(question, given_name)
    assert judgement.accuracy == (1.0 if right else 0.0)
    if not right:
        there, reason = judgement.reasons
        assert isinstance(there, NoteThere)
        assert there.place == (string, fret)
        assert (midi - pitch_class(str(there.name))) % 12 == 0
        assert isinstance(reason, WrongName)
        assert (reason.place, reason.given) == ((string, fret), given_name)
        assert reason.given_at is not None
        assert reason.given_at.string == string
        sounded = bass.midi(string, reason.given_at.fret)
        assert (sounded - pitch_class(letter) - alter) % 12 == 0
        others = [f for f in range(25) if (bass.midi(string, f) - sounded) % 12 == 0]
        assert abs(reason.given_at.fret - fret) == min(abs(f - fret) for f in others)


# How finger is judged


def finger_question(position: int, place: str, **options: str) -> Question:
    player = instrument(**options).player
    scope = Scope.at_position(position, open_strings=True)
    return KINDS["finger"].ask(
        player, Stage(scope, NoteSet.parse("chromatic")), f"{position}:{place}"
    )


# First position where one finger per fret is comfortable on 34 in for spans of
# 0.9, 1.0 and 1.1 (Parncutt et al. 1997, fret distances Leirer 2008; computed).
@pytest.mark.parametrize(("size", "first"), [("small", 6), ("medium", 4), ("large", 3)])
def test_one_finger_per_fret_begins_where_it_is_comfortable(size, first):
    assert finger_question(first, f"4/{first + 3}", size=size).right == 4
    assert finger_question(first, f"4/{first + 2}", size=size).right == 3
    assert finger_question(first - 1, f"4/{first + 1}", size=size).right == 4


# G string, fingers 1, 2, 4 of the upright player: half position G#/Ab A Bb,
# third position C C# D (Fowler, Switching to the Double Bass, ch. 2 and 4).
@pytest.mark.parametrize(("position", "frets"), [(1, (1, 2, 3)), (5, (5, 6, 7))])
def test_one_two_four_fingers_of_the_upright_player(position, frets):
    best = [finger_question(position, f"1/{fret}", system="1-2-4").right for fret in frets]
    assert best == [1, 2, 4]


def test_finger_one_on_the_seventh_fret_of_the_highest_string_brings_c_under_finger_four():
    # Common practice, no source: D with finger 1, then C on the next string with finger 4.
    question = finger_question(7, "2/10")
    assert question.right == 4
    assert question.player.neck.midi(Place(2, 10)) == 48


@EXAMPLES
@given(circumstances())
def test_a_finger_is_worth_less_the_more_it_costs(case):
    for question in questions("finger", *case)[:12]:
        judged = [(finger, KINDS["finger"].judge(question, finger)) for finger in range(5)]
        for finger, judgement in judged:
            assert 0 <= judgement.accuracy <= 1
            assert (judgement.accuracy == 1) == (finger == question.right)
            if finger != question.right:
                assert len(judgement.reasons) == 1
        weighed = sorted((j.regret, -j.accuracy) for _, j in judged if j.regret is not None)
        assert weighed == sorted(weighed, key=lambda pair: pair[1])
        for regret, negative in weighed:
            assert math.isfinite(regret)
            assert regret >= 0
            assert (regret == 0) == (negative == -1)


@pytest.mark.parametrize(
    ("place", "finger", "best"), [("3/0", 1, 0), ("3/0", 4, 0), ("3/5", 0, 1), ("3/8", 0, 4)]
)
def test_open_and_stopped_mistaken_for_each_other_are_worth_nothing(place, finger, best):
    question = finger_question(5, place)
    judgement = KINDS["finger"].judge(question, finger)
    assert judgement.accuracy == 0
    assert judgement.reasons == (OpenNeedsNoFinger(question.task.place, finger, best),)


def test_a_finger_that_stays_is_better_than_one_that_takes_the_hand_along():
    # VII on 34 in: fret 9 lies under 3; 4 and 2 reach it, 1 has to go there (two frets).
    question = finger_question(7, "3/9")
    worth = {finger: accuracy(question, finger) for finger in (1, 2, 3, 4)}
    assert worth[3] == 1
    assert worth[1] < min(worth[2], worth[4])
    reason = KINDS["finger"].judge(question, 1).reasons[0]
    assert isinstance(reason, OtherFinger)
    assert reason.moves == 2


def test_finger_three_is_worth_nothing_where_the_system_does_without_it():
    question = finger_question(3, "3/5", system="1-2-4")
    assert question.right == 4
    assert accuracy(question, 3) == 0
    (reason,) = KINDS["finger"].judge(question, 3).reasons
    assert isinstance(reason, UnfitFinger)
    assert reason.why is Unfit.SYSTEM


@pytest.mark.parametrize(
    ("kind", "focus", "wrong_form"),
    [("find", "D", 3), ("name", "3/5 D", frozenset()), ("finger", "5:3/5", NoteName("D"))],
)
def test_an_answer_of_another_form_is_a_programming_error(kind, focus, wrong_form):
    question = KINDS[kind].ask(instrument().player, stage("position 5", "naturals"), focus)
    with pytest.raises(TypeError):
        KINDS[kind].judge(question, wrong_form)
