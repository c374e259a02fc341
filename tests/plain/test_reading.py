"""Reading an answer from a line of text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import Part as Stage
from fretdrill.engine.player import Player
from fretdrill.engine.question import Question
from fretdrill.engine.registry import KINDS
from fretdrill.errors import InputError
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import Tuning
from fretdrill.plain.reading import read_answer

FOCI = {"find": "D", "name": "3/5 D", "finger": "5:3/5"}


def question(kind: str, tuning: str = "4-string") -> Question:
    player = Player(Neck(Tuning.parse(tuning)), Hand())
    scope = Scope.parse("position 5, open strings")
    return KINDS[kind].ask(player, Stage(scope, NoteSet.parse("naturals")), FOCI[kind])


@pytest.mark.parametrize(
    ("line", "places"),
    [
        ("3/5", {(3, 5)}),
        ("3/5 1/7", {(3, 5), (1, 7)}),
        ("3/5,1/7", {(3, 5), (1, 7)}),
        ("  3/5 ;  1/7 ", {(3, 5), (1, 7)}),
        ("3/5 3/5", {(3, 5)}),
        ("2/0", {(2, 0)}),
        # On E A D G the strings are 4 3 2 1 (string 1 highest: MusicXML 4.0).
        ("A5 G7", {(3, 5), (1, 7)}),
        ("a5 g7 d0 e24", {(3, 5), (1, 7), (2, 0), (4, 24)}),
        ("A5 1/7", {(3, 5), (1, 7)}),
    ],
)
def test_places(line, places):
    assert read_answer(question("find"), line) == places


@pytest.mark.parametrize(
    "line",
    [
        "",
        ",",
        "5",
        "5/",
        "/5",
        "3-5",
        "3/5/7",
        "-3/5",
        "3/-5",
        "0/5",
        "5/5",
        "3/25",
        "C5",
        "Eb5",
        "A25",
        "3/5 x",
        "3/5 1/99",
        "D",
        "²/5",
        pytest.param("3/" + "9" * 5000, id="five thousand digits"),
        "3/5\x1b[A",
    ],
)
def test_what_are_no_places_is_refused_with_advice(line):
    with pytest.raises(InputError) as caught:
        read_answer(question("find"), line)
    assert "\n" not in str(caught.value)


def test_a_string_name_that_two_strings_share_needs_its_number():
    with pytest.raises(InputError, match="more than one E string"):
        read_answer(question("find", "guitar"), "E5")
    assert read_answer(question("find", "guitar"), "G5") == {(3, 5)}


@pytest.mark.parametrize(
    ("line", "name"), [("D", "D"), ("eb", "Eb"), (" F# ", "F#"), ("B♭", "Bb"), ("b", "B")]
)
def test_notes(line, name):
    assert str(read_answer(question("name"), line)) == name


@pytest.mark.parametrize("line", ["", "H", "D major", "3/5", "Bbbbb", "5"])
def test_what_is_no_note_is_refused(line):
    with pytest.raises(InputError):
        read_answer(question("name"), line)


@pytest.mark.parametrize("finger", range(5))
def test_fingers(finger):
    assert read_answer(question("finger"), f" {finger} ") == finger


@pytest.mark.parametrize("line", ["", "5", "-1", "1 2", "one", "1.0", "D"])
def test_what_is_no_finger_is_refused(line):
    with pytest.raises(InputError, match="finger"):
        read_answer(question("finger"), line)


@given(st.sampled_from(sorted(FOCI)), st.text(max_size=12))
def test_any_line_is_an_answer_or_a_worded_fault(kind, line):
    asked = question(kind)
    try:
        answer = read_answer(asked, line)
    except InputError:
        return
    assert type(answer) is type(asked.right)
