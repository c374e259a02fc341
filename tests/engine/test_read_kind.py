"""The kind read: what it shows, where that lies, how it judges."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.kinds.read import DEFAULT_KEYS, full_answer
from fretdrill.engine.question import AnswerForm, Question, ReadNotes
from fretdrill.engine.reasons import OutsideScope
from fretdrill.engine.registry import KINDS
from fretdrill.engine.tone_reasons import (
    NoteMissed,
    NotOnStaff,
    OtherOctave,
    SignatureForgotten,
)
from fretdrill.errors import NothingToAsk
from fretdrill.neck.neck import Place
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, Pitch
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
    pitch_class,
)

EXAMPLES = settings(max_examples=40, deadline=None)
BASS = instrument().player

# Names by the circle of fifths (common practice, no source).
SCALES = {
    "C major": "C D E F G A B",
    "F major": "F G A Bb C D E",
    "D major": "D E F# G A B C#",
    "Eb major": "Eb F G Ab Bb C D",
    "A minor": "A B C D E F G",
    "F# minor": "F# G# A B C# D E",
}


@st.composite
def circumstances(draw: st.DrawFn) -> tuple[Instrument, Part, str, list[Question]]:
    bass = draw(instruments())
    part = draw(parts(len(bass.open_midi), bass.player.neck.frets))
    key, notes = draw(st.sampled_from(sorted(SCALES))), draw(st.none() | note_texts)
    written = {"notes": notes} if notes else {}
    (stage,) = tones.stages(
        "read", scope=part.text, key=key, together=draw(st.integers(1, 4)), **written
    )
    return bass, part, notes or key, tones.questions("read", bass.player, stage)


def sounding(bass: Instrument, part: Part, pitch: Pitch) -> set[tuple[int, int]]:
    """Return the places of a part that sound a pitch, by counting."""
    there = part.places(bass.player.neck.frets)
    return {(s, f) for s, f in there if bass.midi(s, f) == pitch.midi}


@EXAMPLES
@given(circumstances())
def test_every_note_lies_in_the_scope_at_its_own_pitch(case):
    bass, part, notes, questions = case
    names = SCALES.get(notes, "").split()
    allowed = {pitch_class(name) for name in names} or NOTE_SETS[notes]
    for question in questions:
        assert isinstance(question.task, ReadNotes)
        pitches = question.task.pitches
        assert question.form is AnswerForm.PLACES
        assert len({pitch.midi for pitch in pitches}) == len(pitches) == len(question.right)
        assert sorted(bass.midi(*p) for p in question.right) == sorted(p.midi for p in pitches)
        assert question.right <= part.places(bass.player.neck.frets)
        for pitch in pitches:
            assert pitch.midi % 12 in allowed
            assert not names or str(pitch.name) in names


@EXAMPLES
@given(circumstances())
def test_notes_at_once_are_as_many_as_were_asked_for(case):
    for one, other in pairwise(case[3]):
        assert len(one.task.pitches) == len(other.task.pitches)  # type: ignore[union-attr]


@EXAMPLES
@given(circumstances())
def test_own_answer_scores_a_hundred_and_nothing_marked_nothing(case):
    bass, part, _, questions = case
    for question in questions[:10]:
        assert isinstance(question.task, ReadNotes)
        own = tones.answered(question, question.right)
        assert (own.points, own.reasons) == (100, ())
        nothing = tones.answered(question, frozenset())
        assert nothing.points == 0
        assert nothing.reasons == KINDS["read"].explain(question)
        told = {r.pitch: set(r.places) for r in nothing.reasons if isinstance(r, NoteMissed)}
        assert told == {p: sounding(bass, part, p) for p in question.task.pitches}


@EXAMPLES
@given(circumstances())
def test_wherever_a_pitch_lies_in_the_scope_it_is_right(case):
    bass, part, _, questions = case
    for question in questions[:10]:
        assert isinstance(question.task, ReadNotes)
        everywhere = frozenset(
            Place(*place) for p in question.task.pitches for place in sounding(bass, part, p)
        )
        highest = frozenset(
            Place(*max(sounding(bass, part, p), key=lambda place: place[1]))
            for p in question.task.pitches
        )
        for given_places in (everywhere, highest):
            assert tones.answered(question, given_places).points == 100
            assert full_answer(question, given_places) == given_places
        assert full_answer(question, frozenset()) == question.right


@EXAMPLES
@given(circumstances(), st.data())
def test_notes_found_less_half_of_wrong_marks_over_all(case, data):
    bass, part, _, questions = case
    for question in questions[:3]:
        assert isinstance(question.task, ReadNotes)
        marked = data.draw(tones.marks(bass.player))
        good = {p: sounding(bass, part, p) & marked for p in question.task.pitches}
        found = sum(bool(places) for places in good.values())
        wrong = len(marked) - sum(map(len, good.values()))
        worth = max(0.0, (found - wrong / 2) / len(good))
        assert tones.answered(question, marked).accuracy == pytest.approx(worth)


# Reasons. Fifth position of a four-string bass: frets 5 to 8.


def fifth_position(key: str, figure: str, scope: str = "position 5") -> Question:
    together = len(figure.split())
    return tones.one("read", BASS, f"{key}: {figure}", scope=scope, key=key, together=together)


def reasons(question: Question, marked: str) -> tuple[object, ...]:
    return tones.answered(question, tones.places(marked)).reasons


def test_the_right_name_in_another_octave():
    # A1 is fret 5 of the E string; fret 7 of the D string sounds the A above it.
    question = fifth_position("C major", "A1")
    assert reasons(question, "4/5 2/7") == (OtherOctave(Place(2, 7), Pitch.parse("A1"), 1),)


# E string: B♭ at 6, B at 7; A string: C at 3, C♯ at 4; D string: A♭ at 6, A at 7.
@pytest.mark.parametrize(
    ("key", "figure", "mark", "sounds"),
    [
        ("F major", "Bb1", "4/7", "B"),
        ("D major", "C#2", "3/3", "C"),
        ("Eb major", "Ab2", "2/7", "A"),
    ],
)
def test_a_signature_that_was_forgotten(key, figure, mark, sounds):
    question = fifth_position(key, figure, "frets 3-8")
    told = [r for r in reasons(question, mark) if not isinstance(r, NoteMissed)]
    place, name, pitch = Place.parse(mark), NoteName.parse(sounds), Pitch.parse(figure)
    assert told == [SignatureForgotten(place, name, pitch, Key.parse(key))]


@pytest.mark.parametrize(
    ("key", "figure", "mark", "sounds"),
    [
        ("F major", "B1", "4/6", "Bb"),  # a natural sign before B, the signature has B♭
        ("C major", "Bb1", "4/7", "B"),  # a flat before B
        ("D major", "C2", "3/4", "C#"),  # a natural sign before C, the signature has C♯
    ],
)
def test_an_accidental_that_was_forgotten(key, figure, mark, sounds):
    (stage,) = tones.stages("read", scope="frets 4-8", key=key, notes="chromatic", together=1)
    question = KINDS["read"].ask(BASS, stage, f"{key}: {figure}")
    told = [r for r in reasons(question, mark) if not isinstance(r, NoteMissed)]
    wanted = Pitch.parse(figure)
    assert told == [SignatureForgotten(Place.parse(mark), NoteName.parse(sounds), wanted, None)]


@pytest.mark.parametrize(("mark", "sounds", "steps"), [("4/7", "B1", 1), ("4/8", "C2", 2)])
def test_a_neighbour_on_the_staff(mark, sounds, steps):
    question = fifth_position("C major", "A1")
    told = NotOnStaff(Place.parse(mark), Pitch.parse(sounds), Pitch.parse("A1"), steps)
    assert told in reasons(question, mark)


def test_the_right_pitch_in_another_part_of_the_neck():
    # A1 is the open A string as well, which does not belong to fifth position.
    question = fifth_position("C major", "A1")
    verdict = tones.answered(question, tones.places("3/0"))
    assert verdict.points == 0
    assert verdict.reasons[0] == OutsideScope(Place(3, 0))
    opened = fifth_position("C major", "A1", "position 5, open strings")
    assert tones.answered(opened, tones.places("3/0")).points == 100
    assert full_answer(opened, tones.places("3/0 4/6")) == tones.places("3/0")


# Settings


@pytest.mark.parametrize("tuning", sorted(OPEN_MIDI))
def test_the_stages_that_nobody_has_set_have_something_to_ask(tuning):
    player = instrument(tuning).player
    for stage in tones.stages("read"):
        KINDS["read"].check(player, stage)


def test_keys_begin_with_few_accidentals():
    counts = [abs(Key.parse(key).signature) for key in DEFAULT_KEYS]
    assert counts[0] == 0
    assert max(counts) == 3


def test_lists_go_side_by_side_and_the_last_stays():
    found = tones.stages("read", scope=["position 5"], key=["C", "F", "Dm"], together=[1, 2])
    assert [(str(s.key), s.together) for s in found] == [
        ("C major", 1),
        ("F major", 2),
        ("D minor", 2),
    ]
    assert len({KINDS["read"].wording((stage,)) for stage in found}) == 3


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ({"key": ["C major", "H major"]}, "unknown note 'H'"),
        ({"key": "C majr"}, "'majr'; did you mean 'major'?"),
        ({"key": "G# major"}, "more than seven accidentals"),
        ({"key": []}, "is an empty list"),
        ({"together": 5}, "5 is not between 1 and 4"),
        ({"together": [1, "two"]}, "'two' is not a whole number"),
        ({"notes": "naturls"}, "did you mean 'naturals'?"),
    ],
)
def test_what_cannot_be_read_is_named(written, told):
    (fault,) = tones.faults("read", **written)
    assert told in fault


def test_nothing_to_ask_says_what_is_missing():
    (stage,) = tones.stages("read", scope="fret 1, string 4", key="C major", together=3)
    with pytest.raises(NothingToAsk, match="3 notes of C major do not lie in 'frets 1-1, string 4"):
        KINDS["read"].check(BASS, stage)


def test_an_answer_of_another_form_is_a_programming_error():
    with pytest.raises(TypeError):
        KINDS["read"].judge(fifth_position("C major", "A1"), 3)
