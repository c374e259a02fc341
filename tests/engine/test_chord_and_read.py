"""The kinds chord and read: what they ask, where it lies, how they judge."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.kinds.chord import ChordTones
from fretdrill.engine.kinds.read import Read
from fretdrill.engine.packs import read_drill
from fretdrill.engine.question import Answer, FindTones, Question, ReadNotes
from fretdrill.engine.registry import KINDS
from fretdrill.engine.tone_reasons import (
    BeyondHand,
    NotOnStaff,
    OtherOctave,
    OtherTone,
    SignatureForgotten,
    ToneMissed,
)
from fretdrill.errors import NothingToAsk
from fretdrill.neck.neck import Place
from fretdrill.practice.session import judge
from fretdrill.presentation.words import Words
from fretdrill.theory.pitch import NoteName

from .cases import Instrument, instrument, instruments, pitch_class

CHORD, READ = ChordTones(), Read()
EXAMPLES = settings(max_examples=25, deadline=None)
DEGREE_SEMITONES = {
    "b3": 3, "3": 4, "2": 2, "4": 5, "b5": 6, "5": 7, "#5": 8, "6": 9, "bb7": 9, "b7": 10, "7": 11,
    "9": 14,
}  # fmt: skip
"""Degree → semitones above the root (common practice; checked with music21 elsewhere)."""


def stages(kind: str, **values: object):
    drill, faults = read_drill({"kind": kind, **values}, "test")
    assert drill is not None, faults
    return drill.stages


def chord_questions(bass: Instrument, **values: object) -> list[Question]:
    (stage,) = stages("chord", **values)
    return [CHORD.ask(bass.player, stage, focus) for focus in CHORD.foci(bass.player, stage)]


# chord


@EXAMPLES
@given(instruments(), st.sampled_from(["maj min", "7 m7", "maj7 m7b5 dim7", "sus4 6 add9 9"]))
def test_every_tone_within_reach_is_right_and_nothing_else(bass, chord):
    values = {"scope": "frets 1-7, open strings", "chord": chord, "tones": "one"}
    neck, hand = bass.player.neck, bass.player.hand
    for question in chord_questions(bass, **values)[::7]:
        assert isinstance(question.task, FindTones)
        root = bass.midi(*question.task.place)
        assert root % 12 == pitch_class(str(question.task.context.root))
        (degree,) = question.task.degrees
        wanted = (root + DEGREE_SEMITONES[degree]) % 12
        position = question.position
        assert position is not None
        frets = [0] + [
            fret
            for fret in range(position, neck.frets + 1)
            if neck.scale_mm * (2 ** (-position / 12) - 2 ** (-fret / 12))
            <= hand.span(1, 4).practical
        ]
        expected = {
            (string, fret)
            for string in range(1, len(bass.open_midi) + 1)
            for fret in frets
            if bass.midi(string, fret) % 12 == wanted
        }
        assert question.right == expected


@pytest.mark.parametrize(
    ("chord", "degree", "name"),
    [("C7", "b7", "Bb"), ("Fm7", "b3", "Ab"), ("Bm7b5", "b5", "F"), ("Eaug", "#5", "B#")],
)
def test_tones_are_spelled_by_their_degree(chord, degree, name):
    """The flat seventh of C is B flat (common practice; CHORD tones against music21 elsewhere)."""
    (stage,) = stages("chord", scope="frets 1-9", chord=chord, tones="one")
    player = instrument().player
    for focus in CHORD.foci(player, stage):
        question = CHORD.ask(player, stage, focus)
        if question.task.degrees == (degree,):
            names = {question.name_at(place) for place in question.right}
            assert names == {NoteName.parse(name)}


def test_a_wrong_mark_is_told_by_its_place_in_the_chord():
    """A string, fret 3 is C; the E a fourth lower on the D string lies at fret 2, D at the open."""
    (stage,) = stages("chord", scope="position 2", chord="C", tones="one")
    player = instrument().player
    question = CHORD.ask(player, stage, "3/3 C 3")
    assert question.right == {Place(2, 2)}
    verdict = CHORD.judge(question, frozenset({Place(2, 5), Place(1, 4)}))
    fifth, seventh, missed = verdict.reasons
    assert fifth == OtherTone(Place(2, 5), NoteName("G"), "5", None, -3)
    assert seventh == OtherTone(Place(1, 4), NoteName("B"), None, None, 0)
    assert missed == ToneMissed(Place(2, 2), "3", NoteName("E"), 1, -1)
    assert verdict.accuracy == 0.0
    beyond = CHORD.judge(question, frozenset({Place(2, 2), Place(1, 9)}))
    assert beyond.reasons == (BeyondHand(Place(1, 9), 2),)
    assert beyond.accuracy == 0.5


def test_marking_the_root_itself_costs_nothing():
    (stage,) = stages("chord", scope="position 2", chord="C", tones="one")
    question = CHORD.ask(instrument().player, stage, "3/3 C 3")
    assert CHORD.judge(question, frozenset({Place(2, 2), Place(3, 3)})).accuracy == 1.0


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"chord": "maj Hm7"}, "number 2 of 'maj Hm7'"),
        ({"chord": ["7", "m77"]}, "did you mean 'm7'?"),
        ({"chord": "C13"}, "unknown chord quality '13'"),
        ({"chord": []}, "is an empty list"),
        ({"tones": "some"}, "unknown choice of tones 'some'"),
        ({"notes": "X"}, "unknown note 'X'"),
    ],
)
def test_what_is_no_chord_is_named_with_its_place(values, told):
    drill, (fault,) = read_drill({"kind": "chord", **values}, "test")
    assert drill is None
    assert told in str(fault)


def test_a_scope_without_a_root_has_nothing_to_ask():
    (stage,) = stages("chord", scope="frets 1-2, string 1", notes="C", chord="maj", tones="one")
    with pytest.raises(NothingToAsk, match="no root of 'C' for maj"):
        CHORD.check(instrument().player, stage)


def test_lists_go_side_by_side_and_the_last_one_stays():
    got = stages(
        "chord", scope=["position 5", "whole neck"], chord=["maj", "7", "dim"], tones="one"
    )
    assert [(str(s.scope), s.chords) for s in got] == [
        ("position 5", ("maj",)),
        ("whole neck", ("7",)),
        ("whole neck", ("dim",)),
    ]


# read


@EXAMPLES
@given(
    instruments(),
    st.sampled_from(["position 1, open strings", "position 5", "frets 0-12"]),
    st.sampled_from(["C major", "F major", "E major", "C minor"]),
    st.integers(1, 4),
)
def test_right_places_sound_what_the_staff_shows(bass, scope, key, together):
    (stage,) = stages("read", scope=scope, key=key, together=together)
    foci = READ.foci(bass.player, stage)
    assert len(set(foci)) == len(foci)
    for focus in foci[::5]:
        question = READ.ask(bass.player, stage, focus)
        assert isinstance(question.task, ReadNotes)
        asked = [pitch.midi for pitch in question.task.pitches]
        assert len(asked) == len(set(asked)) == together
        assert sorted(bass.midi(*place) for place in question.right) == sorted(asked)
        assert all(place in stage.scope for place in question.right)
        assert READ.judge(question, question.right).accuracy == 1.0
        assert READ.judge(question, frozenset()).accuracy == 0.0
        assert len(READ.explain(question)) == together


def test_either_of_two_places_is_right_and_both_are_too():
    """A on the E string, fret 5, is the open A string (tuning in fourths)."""
    (stage,) = stages("read", scope="frets 0-5", key="C major", together=1)
    question = READ.ask(instrument().player, stage, "C major: A1")
    for marked in ({Place(4, 5)}, {Place(3, 0)}, {Place(4, 5), Place(3, 0)}):
        assert READ.judge(question, frozenset(marked)).accuracy == 1.0


def test_wrong_marks_are_told_apart():
    (stage,) = stages("read", scope="frets 0-12", key="F major", together=1)
    question = READ.ask(instrument().player, stage, "F major: Bb1")
    told = {
        Place(1, 3): OtherOctave,  # B flat an octave above
        Place(3, 2): SignatureForgotten,  # B natural
        Place(3, 3): NotOnStaff,  # C, a step above
    }
    for place, kind in told.items():
        (reason, _) = READ.judge(question, frozenset({place})).reasons
        assert isinstance(reason, kind)
    octave = READ.judge(question, frozenset({Place(1, 3)})).reasons[0]
    assert octave.octaves == 1
    step = READ.judge(question, frozenset({Place(3, 3)})).reasons[0]
    assert step.steps == 1


def test_a_key_that_is_none_is_named():
    drill, (fault,) = read_drill({"kind": "read", "key": ["C major", "H minor"]}, "test")
    assert drill is None
    assert "'H'" in str(fault)


# both


@pytest.mark.parametrize("kind", ["chord", "read", "slur"])
@pytest.mark.parametrize("tuning", ["4-string", "5-string", "guitar"])
@pytest.mark.parametrize("ascii_only", [False, True])
def test_every_reason_is_worded(kind, tuning, ascii_only):
    player, words = instrument(tuning).player, Words(ascii_only)
    for stage in stages(kind):
        for focus in KINDS[kind].foci(player, stage)[::11]:
            question = KINDS[kind].ask(player, stage, focus)
            assert question == KINDS[kind].ask(player, stage, focus)
            answers = [None, question.right]
            if isinstance(question.right, frozenset):
                answers.append(frozenset(player.neck.places[5:40:9]))
            for given_answer in answers:
                verdict = judge(question, Answer(given_answer, 1.0), 9.0)
                told = [words.task(question), words.verdict(verdict), *words.reasons(verdict)]
                for reason in words.reasons(verdict):
                    assert reason.endswith(".")
                    assert reason[0].isupper() or reason[0].isdigit()
                if ascii_only:
                    assert all(text.isascii() for text in told)
            assert judge(question, Answer(question.right, 1.0), 9.0).points == 100
        assert words.stage(player.neck, stage)
