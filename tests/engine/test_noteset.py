"""Sets of notes in plain words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.engine.noteset import NoteSet
from fretdrill.errors import InputError, UnknownName

from .cases import NOTE_SETS, pitch_class


@pytest.mark.parametrize(("text", "classes"), sorted(NOTE_SETS.items()))
def test_a_set_holds_its_pitch_classes_and_no_others(text, classes):
    notes = NoteSet.parse(text)
    assert {pitch_class(str(name)) for name in notes.names()} == classes
    for midi in range(128):
        spelled = notes.spell(midi)
        assert bool(spelled) == (midi % 12 in classes)
        assert all(pitch_class(str(name)) == midi % 12 for name in spelled)


# Scales and chord tones as any theory book has them (common practice, no source).
@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("naturals", "C D E F G A B"),
        ("key F major", "F G A Bb C D E"),
        ("key Bb", "Bb C D Eb F G A"),
        ("key E minor", "E F# G A B C D"),
        ("key D dorian", "D E F G A B C"),
        ("KEY Gb major", "Gb Ab Bb Cb Db Eb F"),
        ("chord Dm7", "D F A C"),
        ("chord C7", "C E G Bb"),
        ("chord B♭maj7", "Bb D F A"),
        ("D, G, Bb", "D G Bb"),
        ("d g bb", "D G Bb"),
        ("D D G", "D G"),
    ],
)
def test_names_are_spelled_and_ordered_as_a_teacher_would(text, names):
    assert " ".join(map(str, NoteSet.parse(text).names())) == names


@pytest.mark.parametrize(
    ("accidentals", "count", "some"),
    [("flats", 12, "Eb"), ("sharps", 12, "D#"), ("both", 17, "D#")],
)
def test_chromatic_follows_the_player(accidentals, count, some):
    names = [str(name) for name in NoteSet.parse("chromatic").names(accidentals)]
    assert len(names) == len(set(names)) == count
    assert some in names


@pytest.mark.parametrize("text", sorted(NOTE_SETS))
def test_a_set_reads_back_as_itself(text):
    notes = NoteSet.parse(text)
    assert NoteSet.parse(str(notes)) == notes


@pytest.mark.parametrize(
    ("text", "nearest"),
    [("natrals", "naturals"), ("cromatic", "chromatic"), ("chromatics", "chromatic")],
)
def test_a_misspelt_set_names_the_nearest(text, nearest):
    with pytest.raises(UnknownName, match=f"did you mean '{nearest}'"):
        NoteSet.parse(text)


@pytest.mark.parametrize(
    "text", ["", "  ", "H", "D H", "key", "key H major", "key F majr", "chord", "chord Xm", "Bbbbb"]
)
def test_what_is_no_set_is_refused_in_one_line(text):
    with pytest.raises(InputError) as caught:
        NoteSet.parse(text)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("text", ["chord", "naturals D", "chromatic D"])
def test_advice_never_offers_the_word_that_was_given(text):
    with pytest.raises(InputError) as caught:
        NoteSet.parse(text)
    assert f"did you mean '{text}'" not in str(caught.value)
    assert f"unknown note '{text.split()[0]}'" not in str(caught.value)


@given(st.text(max_size=20))
def test_any_text_is_a_set_or_a_worded_fault(text):
    try:
        NoteSet.parse(text)
    except InputError as fault:
        told = str(fault)
    else:
        told = "nothing to tell"
    assert told
