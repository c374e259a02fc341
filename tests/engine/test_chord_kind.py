"""The kind chord: what lies within reach, what it asks, how it judges."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.kinds.chord import TONES
from fretdrill.engine.packs import read_drill
from fretdrill.engine.question import AnswerForm, FindTones, Question
from fretdrill.engine.registry import KINDS
from fretdrill.engine.tone_reasons import BeyondHand, OtherTone, ToneMissed
from fretdrill.errors import NothingToAsk
from fretdrill.neck.neck import Place
from fretdrill.theory.chord import QUALITIES, Chord
from fretdrill.theory.pitch import NoteName
from tests.engine import tones
from tests.engine.cases import OPEN_MIDI, Instrument, instrument, instruments, parts, pitch_class

EXAMPLES = settings(max_examples=40, deadline=None)

# Semitones above the root by letter steps of the major scale (common practice, no source).
DEGREES = {
    "1": 0, "2": 2, "b3": 3, "3": 4, "4": 5, "b5": 6, "5": 7, "#5": 8, "6": 9, "bb7": 9,
    "b7": 10, "7": 11, "9": 14,
}  # fmt: skip

BASS = instrument().player
PRACTICAL_MM = tones.PRACTICAL_SEMITONES * tones.PIANO_SEMITONE_MM


@st.composite
def circumstances(draw: st.DrawFn) -> tuple[Instrument, list[Question]]:
    bass = draw(instruments())
    part = draw(parts(len(bass.open_midi), bass.player.neck.frets))
    (stage,) = tones.stages(
        "chord",
        scope=part.text,
        notes=draw(st.sampled_from(("naturals", "chromatic", "key Eb major", "F# C Bb"))),
        chord=" ".join(draw(st.lists(st.sampled_from([*QUALITIES, "Dm7"]), min_size=1))),
        tones=draw(st.sampled_from(TONES)),
    )
    return bass, tones.questions("chord", bass.player, stage)


def reach(bass: Instrument, question: Question) -> set[tuple[int, int]]:
    """Return the places in reach by counting: finger 1's fret and on, as far as 4 stretches."""
    neck, hand, position = bass.player.neck, bass.player.hand, question.position
    assert position is not None
    limit = PRACTICAL_MM * hand.scale
    fret_mm = [neck.scale_mm * (1 - 2 ** (-fret / 12)) for fret in range(neck.frets + 1)]
    # Finger 4 a fret beyond one finger per fret, or beyond 1-2-4 (common practice, no source).
    last = min(neck.frets, position + (3 if hand.system == "1-2-4" else 4))
    frets = {f for f in range(position, last + 1) if fret_mm[f] - fret_mm[position] <= limit}
    frets |= {0} if question.scope.open_strings else set()
    return {(string, fret) for string in range(1, len(bass.open_midi) + 1) for fret in frets}


@EXAMPLES
@given(circumstances())
def test_right_are_all_places_of_the_tones_that_the_hand_reaches(case):
    bass, questions = case
    for question in questions:
        task = question.task
        assert isinstance(task, FindTones)
        root = pitch_class(str(task.context.root))
        assert bass.midi(*task.place) % 12 == root
        near = reach(bass, question)
        assert tuple(task.place) in near
        classes = {(root + DEGREES[degree]) % 12 for degree in task.degrees}
        assert question.right == {p for p in near if bass.midi(*p) % 12 in classes}
        for degree in task.degrees:
            assert any((bass.midi(*p) - root - DEGREES[degree]) % 12 == 0 for p in question.right)
        assert question.form is AnswerForm.PLACES
        assert len(question.item_keys) == len(task.degrees)
        assert "1" not in task.degrees


@EXAMPLES
@given(circumstances())
def test_own_answer_scores_a_hundred_and_nothing_marked_nothing(case):
    _, questions = case
    for question in questions[:10]:
        assert isinstance(question.task, FindTones)
        own = tones.answered(question, question.right)
        assert (own.points, own.reasons) == (100, ())
        nothing = tones.answered(question, frozenset())
        assert nothing.points == 0
        assert {r.place for r in nothing.reasons if isinstance(r, ToneMissed)} == question.right
        assert nothing.reasons == KINDS["chord"].explain(question)
        for reason in nothing.reasons:  # the way leads from the root to the place
            assert isinstance(reason, ToneMissed)
            root = question.task.place
            led = (root.string - reason.strings, root.fret + reason.frets)
            assert led == tuple(reason.place)
            assert reason.degree in question.task.degrees


@EXAMPLES
@given(circumstances(), st.data())
def test_found_less_half_of_wrong_over_all_and_the_root_does_not_count(case, data):
    bass, questions = case
    for question in questions[:3]:
        assert isinstance(question.task, FindTones)
        marked = data.draw(tones.marks(bass.player))
        wrong = [p for p in marked if p not in question.right and p != question.task.place]
        worth = (len(marked & question.right) - len(wrong) / 2) / len(question.right)
        verdict = tones.answered(question, marked)
        assert verdict.accuracy == pytest.approx(max(0.0, worth))
        told = [r.place for r in verdict.reasons if isinstance(r, (OtherTone, BeyondHand))]
        assert sorted(told) == sorted(wrong)


# Major from finger 2, minor from finger 1 (common practice, no source).
@pytest.mark.parametrize(
    ("symbol", "position"),
    [("C", 2), ("C7", 2), ("Cmaj7", 2), ("C6", 2), ("Caug", 2), ("Csus4", 2),
     ("Cm", 3), ("Cm7", 3), ("Cdim", 3), ("Cm7b5", 3), ("Cdim7", 3)],
)  # fmt: skip
def test_the_hand_stands_by_the_third(symbol, position):
    (stage,) = tones.stages("chord", scope="frets 1-12", chord=symbol, tones="all")
    foci = KINDS["chord"].foci(BASS, stage)
    (focus,) = [focus for focus in foci if focus.startswith("3/3 ")]
    assert KINDS["chord"].ask(BASS, stage, focus).position == position


def test_a_position_that_is_given_stays():
    for question in tones.questions("chord", BASS, tones.stages("chord", scope="position 5")[0]):
        assert question.position == 5


def test_a_root_beyond_a_small_hand_is_not_asked_about():
    # 863.6 mm: fret 1 to 4 is 130 mm, and 0.9 · 10 semitones of 13.75 mm are 124 mm.
    (stage,) = tones.stages("chord", scope="position 1", notes="chromatic", chord="7", tones="one")
    frets = {}
    for size in ("small", "medium"):
        player = instrument(size=size).player
        foci = KINDS["chord"].foci(player, stage)
        frets[size] = {Place.parse(focus.split(" ")[0]).fret for focus in foci}
    assert frets == {"small": {1, 2, 3}, "medium": {1, 2, 3, 4}}


@pytest.mark.parametrize(
    ("focus", "right", "names"),
    [
        # C on the A string, fret 3, the hand in II (worked by hand on the neck).
        ("3/3 C7 b7", "1/3", "Bb"),
        ("3/3 C7 3", "2/2", "E"),
        ("3/3 C7 5", "2/5 4/3", "G"),
    ],
)
def test_the_seventh_of_c_is_b_flat_in_second_position(focus, right, names):
    question = tones.one("chord", BASS, focus, scope="frets 1-5", chord="7", tones="one")
    assert question.right == tones.places(right)
    assert {str(question.name_at(place)) for place in question.right} == {names}


def test_a_wrong_mark_is_told_with_its_degree_and_the_tone_beside_it():
    question = tones.one("chord", BASS, "3/3 C7 b7", scope="frets 1-5", chord="7", tones="one")
    # B on the G string, fret 4: a fret above B♭; G on the E string: the fifth.
    beside, fifth = Place(1, 4), Place(4, 3)
    reasons = tones.answered(question, question.right | {beside, fifth}).reasons
    b, g = NoteName("B"), NoteName("G")
    assert OtherTone(beside, b, None, "b7", -1) in reasons
    assert OtherTone(fifth, g, "5", None, 0) in reasons


def test_the_right_tone_beyond_the_hand_is_told_apart():
    question = tones.one("chord", BASS, "3/3 C7 b7", scope="frets 1-5", chord="7", tones="one")
    for place in (Place(3, 13), Place(1, 15)):
        assert BeyondHand(place, 2) in tones.answered(question, frozenset({place})).reasons


@pytest.mark.parametrize("tuning", sorted(OPEN_MIDI))
def test_the_stages_that_nobody_has_set_have_something_to_ask(tuning):
    player = instrument(tuning).player
    for stage in tones.stages("chord"):
        KINDS["chord"].check(player, stage)


# Settings


def test_lists_go_side_by_side_and_the_last_stays():
    found = tones.stages(
        "chord",
        scope=["position 1", "position 5", "frets 1-9"],
        chord=["maj min", "7"],
        tones="one",
    )
    assert [str(stage.scope) for stage in found] == ["position 1", "position 5", "frets 1-9"]
    assert [stage.chords for stage in found] == [("maj", "min"), ("7",), ("7",)]
    assert {stage.tones for stage in found} == {"one"}
    assert len({KINDS["chord"].wording((stage,)) for stage in found}) == 3


def test_a_whole_chord_brings_its_own_root():
    (stage,) = tones.stages("chord", scope="frets 1-9", chord="Ebm7 maj", notes="C", tones="all")
    asked = {q.task.context for q in tones.questions("chord", BASS, stage, most=1000)}  # type: ignore[union-attr]
    assert asked == {Chord.parse("Ebm7"), Chord.parse("C")}


def test_chords_that_are_named_twice_are_asked_once():
    (stage,) = tones.stages("chord", scope="frets 1-9", chord="m7 Dm7 min7, m7", tones="one")
    assert tones.questions("chord", BASS, stage, most=1000)


def test_roots_come_in_the_order_that_they_are_listed_in():
    (stage,) = tones.stages("chord", scope="frets 1-9", chord="maj", notes="G C F", tones="one")
    roots = [focus.split(" ")[1] for focus in KINDS["chord"].foci(BASS, stage)]
    assert list(dict.fromkeys(roots)) == ["G", "C", "F"]


@pytest.mark.parametrize(
    ("chord", "told"),
    [
        ("mjn", "'mjn'; did you mean 'min'?"),
        ("maj mjn 7", "number 2 of 'maj mjn 7': unknown chord quality 'mjn'"),
        ("dim77", "'dim77'; did you mean 'dim7'?"),
        ("Hm7", "'Hm7'; did you mean 'm7'?"),
        ("Dmi7", "'mi7'; did you mean 'm7'?"),
        ("add", "'add'; did you mean 'add9'?"),
        ("", "is empty"),
        (",", "names no chord"),
        ([], "is an empty list"),
        (7, "not text"),
    ],
)
def test_what_is_no_chord_is_named_with_its_place_and_what_is_near(chord, told):
    (fault,) = tones.faults("chord", chord=chord)
    assert told in fault


# Signs of lead sheets (common practice, no source).
@pytest.mark.parametrize(
    ("sign", "plain"),
    [("C-7", "Cm7"), ("CM7", "Cmaj7"), ("CΔ", "Cmaj7"), ("C+", "Caug"), ("C°7", "Cdim7"),
     ("C°", "Cdim"), ("Cø", "Cm7b5"), ("Cø7", "Cm7b5"), ("C-", "Cm"), ("C-7♭5", "Cm7b5")],
)  # fmt: skip
def test_signs_of_lead_sheets_are_read(sign, plain):
    assert Chord.parse(sign) == Chord.parse(plain)


def test_nothing_to_ask_says_what_is_missing():
    (stage,) = tones.stages("chord", scope="frets 1-2, string 4", notes="D", chord="7", tones="one")
    with pytest.raises(NothingToAsk, match="no root of 'D' for 7 lies in 'frets 1-2, string 4'"):
        KINDS["chord"].check(BASS, stage)


def test_an_answer_of_another_form_is_a_programming_error():
    question = tones.one("chord", BASS, "3/3 C7 b7", scope="frets 1-5", chord="7", tones="one")
    with pytest.raises(TypeError):
        KINDS["chord"].judge(question, 3)


def test_chords_that_nobody_would_write_are_left_out_or_refused():
    """The seventh of C double flat would be a B with four flats (by letter steps)."""
    player = instrument().player
    (stage,) = tones.stages("chord", scope="frets 1-12", notes="Cbb C", chord="7 dim7", tones="all")
    roots = {focus.split(" ")[1] for focus in KINDS["chord"].foci(player, stage)}
    assert roots == {"C7", "Cdim7"}
    for word in ("Fbbdim7", "Fbdim7"):
        drill, (fault,) = read_drill({"kind": "chord", "chord": word}, "test")
        assert drill is None
        assert "more than two accidentals" in str(fault)
