"""What is said about chord tones, reading and slurs."""

import re
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.question import Joining, JoinNotes, Question
from fretdrill.engine.registry import KINDS
from fretdrill.presentation.tone_words import subject_text
from fretdrill.presentation.words import Words
from tests.engine import tones
from tests.engine.cases import instrument, instruments

WORDS, PLAIN = Words(), Words(ascii_only=True)
BASS = instrument().player
SENTENCES = re.compile(r"[A-G♭♯b#A-Z].*[.?]")

SETTINGS = {
    "chord": {
        "scope": ["position 1, open strings", "frets 1-12"],
        "chord": ["Ebm7b5 maj", "9 aug"],
    },
    "read": {"scope": ["position 5", "whole neck"], "key": ["F", "Dm"], "together": [1, 3]},
    "slur": {"scope": ["position 5, open strings", "frets 1-12"]},
}


def ask(kind: str, focus: str, **written: object) -> Question:
    (stage,) = tones.stages(kind, **written)
    return KINDS[kind].ask(BASS, stage, focus)


def said(question: Question, given_answer: object) -> list[str]:
    return WORDS.reasons(tones.answered(question, given_answer))


@pytest.fixture
def seventh() -> Question:
    return ask("chord", "3/3 C7 b7", scope="frets 1-5", chord="7", tones="one")


# Chord tones: C on the A string, the hand in II.


def test_the_tone_the_root_and_the_hand_are_told(seventh):
    assert WORDS.task(seventh) == (
        "C7, root at A string, fret 3, the hand in II: mark every ♭7 within reach."
    )
    both = ask("chord", "3/0 Am7b5 b3,b5,b7", scope="frets 0-4", chord="m7b5", tones="all")
    assert PLAIN.task(both) == (
        "Am7b5, root at A string, open, the hand in I: mark every b3, b5 and b7 within reach, "
        "open strings too."
    )


def test_a_missed_tone_is_found_from_the_root_by_its_shape(seventh):
    assert said(seventh, frozenset()) == [
        "The ♭7, B♭, is G string, fret 3: from the root two strings higher, the same fret."
    ]
    third = ask("chord", "3/3 C 3", scope="frets 1-5", chord="maj", tones="one")
    assert said(third, frozenset()) == [
        "The third, E, is D string, fret 2: from the root one string higher, one fret back."
    ]


def test_a_wrong_mark_is_told_with_what_it_is_and_where_the_tone_lies(seventh):
    right = seventh.right
    assert isinstance(right, frozenset)
    assert said(seventh, right | tones.places("1/4")) == [
        "G string, fret 4 is B, not in C7; the ♭7 is one fret further back."
    ]
    assert said(seventh, right | tones.places("2/2")) == ["D string, fret 2 is E, the third."]
    assert said(seventh, right | tones.places("3/13")) == [
        "A string, fret 13 is one, but beyond the hand in II."
    ]
    assert said(seventh, right | tones.places("4/8")) == ["E string, fret 8 is C, the root."]


def test_open_strings_that_do_not_count_are_told():
    third = ask("chord", "3/3 C 3", scope="frets 1-5", chord="maj", tones="one")
    assert said(third, third.right | tones.places("4/0")) == [  # type: ignore[operator]
        "E string, open is one, but open strings do not count here."
    ]


def test_an_open_string_needs_no_way():
    third = ask("chord", "3/3 C 3", scope="frets 0-5", chord="maj", tones="one")
    assert said(third, frozenset())[0] == "The third, E, is E string, open."


# Reading


def test_what_to_read_and_where():
    one = ask("read", "F major: Bb1", scope="position 5", key="F", together=1)
    assert WORDS.task(one) == ("Mark the note on the staff in fifth position (V, frets 5 to 8).")
    three = ask("read", "F major: A1 Bb1 C2", scope="frets 1-12", key="F", together=3)
    assert WORDS.task(three) == ("Mark the three notes on the staff from fret 1 to 12.")


# Lines and spaces from the bottom line G up, written an octave above sound (common practice).
@pytest.mark.parametrize(
    ("key", "figure", "mark", "told"),
    [
        ("C", "A1", "2/7", "D string, fret 7 is A, an octave too high: the first space is A1."),
        ("F", "Bb1", "4/7", "E string, fret 7 is B; F major makes it B♭."),
        ("C", "A1", "4/7", "E string, fret 7 is B1; the first space is A1: a line for a space."),
        ("C", "A1", "4/8", "E string, fret 8 is C2; the first space is A1: one space too high."),
        ("C", "B1", "3/5", "A string, fret 5 is D2; the second line is B1: one line too high."),
        ("C", "A1", "3/0", "A string, open is the right note, but not in fifth position (V, "
                           "frets 5 to 8)."),
        ("C", "A2", "1/5", "G string, fret 5 is C3; the fifth line is A2: one line too high."),
    ],
)  # fmt: skip
def test_a_note_that_was_misread(key, figure, mark, told):
    question = ask("read", f"{key} major: {figure}", scope="position 5", key=key, together=1)
    assert said(question, tones.places(mark))[0] == told


def test_a_missed_note_is_told_with_its_line_and_its_places():
    question = ask("read", "C major: D2", scope="frets 0-12", key="C", together=1)
    assert said(question, frozenset()) == [
        "D2, third line: E string, fret 10 or A string, fret 5 or D string, open."
    ]


# Slurs: 863.6 mm between nut and bridge, mm by the rule of the twelfth root of two.


@pytest.mark.parametrize(
    ("focus", "answer", "told"),
    [
        ("5:3/5>3/7", Joining.HAMMER_ON, [
            "Hammer-on: 1 holds fret 5, 3 comes down on fret 7 of the same string, 71 mm away."]),
        ("5:3/8>3/6", Joining.PLUCKED, [
            "It can be plucked again, but need not be.",
            "Pull-off: 2 is down on fret 6 already, 67 mm away, when 4 pulls off fret 8."]),
        ("5:3/0>3/7", Joining.SLIDE, [
            "A slide needs a finger on both notes, and one of them is open.",
            "Hammer-on: the open string rings and 3 comes down on fret 7."]),
        ("5:3/7>3/0", Joining.HAMMER_ON, [
            "A hammer-on goes up; the open string lies below fret 7.",
            "Pull-off: 3 pulls off fret 7, and the open string sounds on."]),
        ("5:3/5>3/7", Joining.PULL_OFF, [
            "A pull-off goes down; fret 7 lies above fret 5.",
            "Hammer-on: 1 holds fret 5, 3 comes down on fret 7 of the same string, 71 mm away."]),
        ("5:3/5>3/7", Joining.SLIDE, [
            "Hammer-on: 1 holds fret 5, 3 comes down on fret 7 of the same string, 71 mm away.",
            "A slide joins them too, but takes the hand up two frets out of V, 71 mm."]),
        ("5:3/5>3/12", Joining.HAMMER_ON, [
            "Slide: frets 5 and 12 are 215 mm apart, no two fingers of this hand part further than "
            "138 mm; one finger goes along the string."]),
        ("5:3/14>3/0", Joining.SLIDE, [
            "Plucked only: no finger lies over fret 14 in this position, and nothing slides to or "
            "from an open string."]),
        ("5:3/5>2/7", Joining.SLIDE, [
            "Plucked only: they lie on two strings, and a slur or a slide needs one."]),
    ],
)  # fmt: skip
def test_how_two_notes_are_joined_and_why(focus, answer, told):
    assert said(ask("slur", focus, scope="whole neck"), answer) == told


def test_what_is_asked_of_two_notes():
    assert WORDS.task(ask("slur", "5:3/5>3/7", scope="whole neck")) == (
        "Fifth position (V): from A string, fret 5 to A string, fret 7. How can they be joined?"
    )


# Stages and subjects


@pytest.mark.parametrize(
    ("kind", "written", "told"),
    [
        ("chord", {"scope": "position 5", "chord": "m7b5 Bb7", "tones": "one"},
         "m7♭5, B♭7, one tone at a time, roots in fifth position (V, frets 5 to 8)"),
        ("chord", {"scope": "frets 1-9", "chord": "6", "tones": "all"},
         "6, all tones at once, roots from fret 1 to 9"),
        ("read", {"scope": "frets 0-12", "key": "Bb", "together": 4},
         "four notes, B♭ major, from fret 1 to 12, open strings too"),
        ("slur", {"scope": "position 5"}, "in fifth position (V, frets 5 to 8)"),
    ],
)  # fmt: skip
def test_a_stage_in_words(kind, written, told):
    (stage,) = tones.stages(kind, **written)
    assert WORDS.stage(BASS.neck, stage) == told


# Everything


@settings(max_examples=25, deadline=None)
@given(instruments(), st.sampled_from(sorted(SETTINGS)), st.data())
def test_all_is_said_in_sentences_and_in_ascii_where_nothing_else_is_shown(bass, kind, data):
    for stage in tones.stages(kind, **SETTINGS[kind]):
        assert PLAIN.stage(bass.player.neck, stage).isascii()
        for question in islice(tones.questions(kind, bass.player, stage), 8):
            given_answer = data.draw(
                st.sampled_from(Joining)
                if isinstance(question.task, JoinNotes)
                else tones.marks(bass.player)
            )
            verdict = tones.answered(question, given_answer)
            for words in (WORDS, PLAIN):
                lines = [words.task(question), *words.reasons(verdict)]
                assert all(SENTENCES.fullmatch(line) for line in lines), lines
                assert all(line.count(". ") <= 1 for line in lines), lines
                assert words is WORDS or all(line.isascii() for line in lines)
                subject = subject_text(words, question, question.task)
                assert subject[:1].islower()
                assert words is WORDS or subject.isascii()
