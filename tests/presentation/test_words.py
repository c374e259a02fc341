"""What is said is true: every sentence is read back and held against the neck."""

import re
from collections.abc import Iterator
from functools import cache
from itertools import combinations

import pytest

from fretdrill.engine import reasons as why
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.question import Answer, Given, Player, Question, Verdict
from fretdrill.engine.registry import KINDS
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.session import judge
from fretdrill.presentation.words import Words
from fretdrill.theory.pitch import NoteName, simple_name

WORDS = Words()
NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()
SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
NAMES = ("C", "D", "E", "F", "G", "A", "B", "Bb", "F#", "Eb", "C#", "Cb", "E#", "Ebb", "Fx")

PLAYERS = {
    "four strings": Player(Neck(), Hand()),
    "five strings, sharps": Player(Neck(Tuning.parse("5-string"), 21), Hand(), "sharps"),
    "six strings": Player(Neck(Tuning.parse("6-string"), 36), Hand.parse("large")),
    "drop D": Player(Neck(Tuning.parse("drop-d"), 12), Hand.parse("small")),
    "two strings alike": Player(Neck(Tuning.parse("guitar"), 22, 647.7), Hand(), "both"),
    "flat strings": Player(Neck(Tuning.parse("Bb0 Eb1 Ab1 Db2")), Hand(system="one-per-fret")),
}
SCOPES = (
    "position 5",
    "position 1, open strings",
    "half position",
    "frets 0-12",
    "frets 3-9, strings 2-3",
    "string 2",
    "whole neck",
)


def pitch_class(name: str) -> int:
    """Semitones above C of a name as it is shown."""
    signs = {"♭": -1, "b": -1, "♯": 1, "#": 1}
    return (SEMITONES[name[0]] + sum(signs[sign] for sign in name[1:])) % 12


def count(text: str) -> int:
    return int(text) if text.isdecimal() else NUMBERS.index(text)


def number_of(neck: Neck, name: str) -> int:
    """Read "A string" or "string 6 (E)" back into a string's number."""
    match = re.fullmatch(r"string (\d+) \((.+)\)", name)
    if match:
        return int(match[1])
    word = name.removesuffix(" string")
    opens = [Words().note(pitch.name) for pitch in neck.tuning.strings]
    assert opens.count(word) == 1, name
    return opens.index(word) + 1


def place_of(neck: Neck, text: str) -> Place:
    """Read "A string, fret 5" or "A string, open" back into a place."""
    string, _, fret = text.rpartition(", ")
    number = 0 if fret == "open" else int(fret.removeprefix("fret "))
    return Place(number_of(neck, string), number)


def midi(neck: Neck, place: Place) -> int:
    return neck.tuning.strings[place.string - 1].midi + place.fret


def questions(kind: str, player: Player, notes: str) -> Iterator[Question]:
    for text in SCOPES:
        scope = Scope.parse(text)
        for focus in KINDS[kind].foci(player, scope, NoteSet.parse(notes)):
            yield KINDS[kind].ask(player, scope, NoteSet.parse(notes), focus)


def answers(question: Question) -> Iterator[Given | None]:
    """Right, near and wild answers."""
    neck, right = question.player.neck, question.right
    yield None
    yield right
    if isinstance(right, frozenset):
        one = min(right)
        yield frozenset({one})
        yield frozenset(neck.places[::7])
        yield frozenset({Place(one.string, fret) for fret in (0, 1, neck.frets)})
        for mark in (Place(1, 0), Place(len(neck.tuning), neck.frets)):
            yield right ^ {mark}
    elif isinstance(right, NoteName):
        yield from map(NoteName.parse, NAMES)
    else:
        yield from range(5)


@cache
def verdicts(player: str) -> tuple[Verdict, ...]:
    found = []
    for kind, notes in (("find", "chromatic"), ("name", "key Eb major"), ("finger", "chromatic")):
        for number, question in enumerate(questions(kind, PLAYERS[player], notes)):
            if kind == "name" or number % 3 == 0:
                for index, given in enumerate(answers(question)):
                    answer = Answer(given, 40.0 if index % 2 else 2.0)
                    found.append(judge(question, answer, 12.34))
    return tuple(found)


def reasons(player: str, kind: type) -> list[tuple[Question, str, why.Reason]]:
    """Every (question, sentence, reason) of one kind of reason, each wording once."""
    seen = {}
    for verdict in verdicts(player):
        for reason, text in zip(verdict.reasons, WORDS.reasons(verdict), strict=True):
            if isinstance(reason, kind):
                seen[text, verdict.question.scope] = (verdict.question, text, reason)
    return list(seen.values())


players = pytest.mark.parametrize("player", PLAYERS)


@pytest.mark.parametrize(
    "kind",
    [
        why.Missed,
        why.WrongPlace,
        why.OutsideScope,
        why.OtherSpelling,
        why.WrongName,
        why.OtherFinger,
        why.OpenNeedsNoFinger,
        why.GaveUp,
        why.Slow,
    ],
)
def test_every_kind_of_reason_comes_up_here(kind: type) -> None:
    assert any(reasons(player, kind) for player in PLAYERS)


def test_a_known_way_is_worded_as_a_teacher_would() -> None:
    """The octave lies two strings higher, two frets up: common practice, no source."""
    question = KINDS["find"].ask(
        PLAYERS["four strings"], Scope.parse("frets 0-12"), NoteSet.parse("D"), "D"
    )
    found = frozenset({Place(3, 5)})  # D2 on the A string
    missed = judge(question, Answer(found, 1.0), 10.0).reasons[0]
    assert isinstance(missed, why.Missed)
    assert missed.place == Place(1, 7)
    assert WORDS.reasons(judge(question, Answer(found, 1.0), 10.0))[0] == (
        "Missed: G string, fret 7, an octave above A string, fret 5: two strings higher, "
        "two frets up."
    )


@players
def test_missed_leads_there(player: str) -> None:
    neck = PLAYERS[player].neck
    said = reasons(player, why.Missed)
    assert said
    for _, text, reason in said:
        assert isinstance(reason, why.Missed)
        body = text.removeprefix("Missed: ").removesuffix(".")
        if match := re.fullmatch(r"(.+), the same pitch as (.+)", body):
            place, start = place_of(neck, match[1]), place_of(neck, match[2])
            assert midi(neck, place) == midi(neck, start), text
        elif match := re.fullmatch(r"(.+), (\w+) frets? above the open string", body):
            place = place_of(neck, match[1])
            assert place.fret == count(match[2]), text
        else:
            match = re.fullmatch(
                r"(.+), (an octave|two octaves) (above|below) ([^:]+?)(?:: (.+))?", body
            )
            assert match, text
            place, start = place_of(neck, match[1]), place_of(neck, match[4])
            size = {"an octave": 12, "two octaves": 24}[match[2]]
            way = size if match[3] == "above" else -size
            assert midi(neck, place) - midi(neck, start) == way, text
            if match[5]:
                assert walked(start, match[5]) == place, text
        assert place == reason.place
        assert place in neck


def walked(start: Place, path: str) -> Place:
    """Follow "two strings higher, two frets up"; higher is toward string 1."""
    string, fret = start
    for part in path.split(", "):
        number, what, way = part.split()
        if what.startswith("string"):
            string += {"higher": -1, "lower": 1}[way] * count(number)
        else:
            fret += {"up": 1, "back": -1}[way] * count(number)
    return Place(string, fret)


@players
def test_a_wrong_place_is_told_its_note_and_the_nearest_right_one(player: str) -> None:
    neck = PLAYERS[player].neck
    said = reasons(player, why.WrongPlace)
    assert said
    for question, text, _ in said:
        match = re.fullmatch(
            r"(.+), (fret \d+|open) is (\S+?)(?:; (\S+) on that string is (fret \d+|open))?\.", text
        )
        assert match, text
        place = place_of(neck, f"{match[1]}, {match[2]}")
        assert midi(neck, place) % 12 == pitch_class(match[3]), text
        nearest = place_of(neck, f"{match[1]}, {match[5]}")
        wanted = [
            fret
            for fret in range(neck.frets + 1)
            if midi(neck, Place(place.string, fret)) % 12 == pitch_class(match[4])
        ]
        # One in the part of the neck that was asked about is worth more than a nearer one.
        here = [f for f in wanted if Place(place.string, f) in question.scope.places(neck)]
        wanted = here or wanted
        assert nearest.fret in wanted, text
        assert abs(nearest.fret - place.fret) == min(abs(f - place.fret) for f in wanted), text


@players
def test_outside_the_scope_is_the_note_but_elsewhere(player: str) -> None:
    neck = PLAYERS[player].neck
    said = reasons(player, why.OutsideScope)
    assert said
    for question, text, _ in said:
        match = re.fullmatch(r"(.+, (?:fret \d+|open)) is the right note, but not (.+)\.", text)
        assert match, text
        place = place_of(neck, match[1])
        assert midi(neck, place) % 12 == pitch_class(WORDS.note(question.task.name)), text
        assert place not in question.scope.places(neck), text
        assert match[2] in WORDS.task(question)


@pytest.mark.parametrize("scope", ["whole neck, no open strings", "string 2, no open strings"])
def test_the_words_for_a_scope_tell_that_open_strings_do_not_count(scope: str) -> None:
    """Else "D string, open is the right note, but not on the whole neck" is untrue."""
    neck = Neck()
    with_open, without = Scope.parse(scope.split(",")[0]), Scope.parse(scope)
    assert Place(2, 0) in with_open.places(neck)
    assert Place(2, 0) not in without.places(neck)
    assert WORDS.scope(neck, with_open) != WORDS.scope(neck, without)


def test_the_words_for_all_frets_tell_that_open_strings_do_not_count() -> None:
    neck = Neck()
    assert WORDS.scope(neck, Scope.parse("frets 1-24")) != WORDS.scope(
        neck, Scope.parse("whole neck")
    )


@players
def test_a_wrong_name_is_told_the_right_one_and_where_the_named_note_lies(player: str) -> None:
    neck = PLAYERS[player].neck
    said = reasons(player, why.WrongName)
    assert said
    for question, text, _ in said:
        match = re.fullmatch(
            r"(.+, (?:fret \d+|open)) is (\S+?)(, the octave of the open string)?"
            r"; (\S+) is (?:the open string|(\w+) frets? (higher|lower), fret (\d+))\.",
            text,
        )
        assert match, text
        place = place_of(neck, match[1])
        assert midi(neck, place) % 12 == pitch_class(match[2]), text
        assert match[2] == WORDS.note(question.right), text
        assert bool(match[3]) == (place.fret == 12), text
        fret = 0
        if match[5]:
            fret = int(match[7])
            off = count(match[5]) * (1 if match[6] == "higher" else -1)
            assert place.fret + off == fret, text
        assert midi(neck, Place(place.string, fret)) % 12 == pitch_class(match[4]), text


OTHER_SPELLING = r"(\S+) and (\S+) are the same fret; (\S+ \w+) writes it (\S+)\."


@players
def test_other_spelling_names_two_names_of_one_fret(player: str) -> None:
    for question, text, _ in reasons(player, why.OtherSpelling):
        match = re.fullmatch(
            r"(\S+) and (\S+) are the same fret; (\S+ \w+) writes it (\S+)\.", text
        )
        assert match, text
        assert pitch_class(match[1]) == pitch_class(match[2]), text
        assert match[1] != match[2] == match[4] == WORDS.note(question.right), text
        # E flat major has three flats: B, E and A (circle of fifths; from memory).
        assert match[3] == "E♭ major"
        assert match[4] in {"E♭", "F", "G", "A♭", "B♭", "C", "D"}, text


def distance_mm(neck: Neck, fret: int, other: int) -> float:
    """Between two frets (R. Leirer, American Lutherie 96, 2008)."""
    return abs(neck.scale_mm * (2 ** (-fret / 12) - 2 ** (-other / 12)))


def roman_number(numeral: str) -> int:
    values = [{"I": 1, "V": 5, "X": 10}[sign] for sign in numeral]
    return sum(-v if v < max(values[i:]) else v for i, v in enumerate(values))


MOVE = (
    r"In (\w+) finger (\d) lies over fret (\d+); finger (\d) takes the hand "
    r"along, (\w+) frets? (up|back) to (\w+), (\d+) mm\."
)
REACH = (
    r"In (\w+) finger (\d) lies over fret (\d+); finger (\d) reaches it, (\d+) mm from "
    r"finger 1 where (\d+) mm is comfortable\."
)
CLOSES = (
    r"In (\w+) finger (\d) lies over fret (\d+); finger (\d) reaches it too, "
    r"but the hand closes up\."
)


def other_fingers(player: str, pattern: str) -> list[tuple[Question, str, re.Match[str]]]:
    found = [
        (question, text, re.fullmatch(pattern, text))
        for question, text, _ in reasons(player, why.OtherFinger)
    ]
    return [(question, text, match) for question, text, match in found if match]


@players
def test_sentences_about_other_fingers_have_one_of_four_forms(player: str) -> None:
    stretches = (
        r"In \w+ finger \d lies over fret \d+; finger \d reaches it too, but has to stretch\."
    )
    for _, text, _ in reasons(player, why.OtherFinger):
        assert any(re.fullmatch(form, text) for form in (MOVE, REACH, CLOSES, stretches)), text


@players
def test_a_finger_that_does_not_get_there_is_told_what_is_in_the_way(player: str) -> None:
    holder = PLAYERS[player]
    lies = r"In (\w+) finger \d lies over fret (\d+); finger (\d) "
    for _, text, _ in reasons(player, why.UnfitFinger):
        behind = re.fullmatch(lies + r"would leave finger 1 behind the nut\.", text)
        system = re.fullmatch(lies + r"is not used in 1-2-4\.", text)
        far = re.fullmatch(
            lies + r"does not reach it: (\d+) mm from finger 1, (\d+) mm at the most\.", text
        )
        assert behind or system or far, text
        if behind:  # a fret a finger down from there ends below the first
            assert int(behind[2]) - int(behind[3]) + 1 < 1, text
        if system:
            assert (holder.hand.system, system[3]) == ("1-2-4", "3"), text
        if far:
            span = distance_mm(holder.neck, roman_number(far[1]), int(far[2]))
            assert int(far[4]) == round(span), text
            assert int(far[4]) >= int(far[5]), text


@players
def test_a_moved_hand_goes_as_many_frets_and_mm_as_is_said(player: str) -> None:
    neck = PLAYERS[player].neck
    said = other_fingers(player, MOVE)
    assert said
    wrong = []
    for _, text, match in said:
        start, end = roman_number(match[1]), roman_number(match[7])
        moved = count(match[5]) * (1 if match[6] == "up" else -1)
        true = start + moved == end and int(match[8]) == round(distance_mm(neck, start, end))
        if not true:
            wrong.append(text)
    assert not wrong, wrong


@players
def test_the_moved_hand_has_the_finger_on_the_fret(player: str) -> None:
    """Either system: one finger per fret, or 1-2-4 (no finger 3 there)."""
    offsets = {"1": {0}, "2": {1}, "3": {2}, "4": {2, 3}}
    wrong = [
        text
        for _, text, match in other_fingers(player, MOVE)
        if int(match[3]) - roman_number(match[7]) not in offsets[match[4]]
    ]
    assert not wrong, wrong


@players
def test_a_reached_fret_lies_as_far_as_is_said_and_can_be_reached(player: str) -> None:
    neck, hand = PLAYERS[player].neck, PLAYERS[player].hand
    wrong = []
    for _, text, match in other_fingers(player, REACH):
        span = distance_mm(neck, roman_number(match[1]), int(match[3]))
        assert int(match[5]) == round(span), text
        assert int(match[6]) == round(hand.span(1, int(match[4])).comfortable), text
        if span > hand.span(1, int(match[4])).practical:
            wrong.append(text)
    assert not wrong, wrong


@players
def test_a_hand_that_closes_up_has_its_finger_beyond_the_fret(player: str) -> None:
    """A finger that has to go out past its own fret opens the hand."""
    wrong = []
    for _, text, match in other_fingers(player, CLOSES):
        offset = int(match[3]) - roman_number(match[1])
        if {"2": 1, "3": 2, "4": 3}[match[4]] <= offset:
            wrong.append(text)
    assert not wrong, wrong


@players
def test_open_and_stopped_notes_are_told_apart(player: str) -> None:
    neck = PLAYERS[player].neck
    for question, text, _ in reasons(player, why.OpenNeedsNoFinger):
        asked = question.task.place
        stopped = re.fullmatch(r"(.+) is stopped: finger ([1-4]) takes it\.", text)
        opened = re.fullmatch(r"The open (.+) needs no finger: 0\.", text)
        if stopped:
            assert place_of(neck, stopped[1]) == asked
            assert asked.fret > 0
            assert int(stopped[2]) == question.right
        else:
            assert opened, text
            assert number_of(neck, opened[1]) == asked.string
            assert asked.fret == 0


@players
def test_giving_up_tells_the_whole_answer(player: str) -> None:
    neck = PLAYERS[player].neck
    for question, text, _ in reasons(player, why.GaveUp):
        answer = text.removeprefix("The answer: ").removesuffix(".")
        if isinstance(question.right, frozenset):
            told = {place_of(neck, part) for part in answer.split("; ")}
            name = question.task.name.pitch_class
            assert told == {
                place for place in question.scope.places(neck) if midi(neck, place) % 12 == name
            }
        elif isinstance(question.right, NoteName):
            assert pitch_class(answer) == midi(neck, question.task.place) % 12
        else:
            expected = f"finger {question.right}" if question.right else "the open string"
            assert answer.startswith(expected)


@players
def test_the_target_is_told_to_a_tenth_of_a_second(player: str) -> None:
    for _, text, _ in reasons(player, why.Slow):
        assert text == "Full points up to 12.3 s."


@players
@pytest.mark.parametrize("ascii_only", [False, True])
def test_sentences_are_whole_and_clean(player: str, ascii_only: bool) -> None:
    words = Words(ascii_only)
    said = set()
    for verdict in verdicts(player):
        said |= {*words.reasons(verdict), words.task(verdict.question)}
        line = words.verdict(verdict)
        assert line.isascii() or not ascii_only
    for text in said:
        assert "  " not in text, text
        assert ".." not in text, text
        assert " ," not in text, text
        assert text.endswith((".", "?")), text
        assert text.isascii() or not ascii_only, text


@players
def test_the_task_names_a_scope_that_can_be_read(player: str) -> None:
    neck = PLAYERS[player].neck
    for text in SCOPES:
        said = WORDS.scope(neck, Scope.parse(text))
        assert said == said.strip(" ,")
        assert said.startswith(("in ", "on ", "from "))


@players
def test_labels_name_the_note_at_the_place(player: str) -> None:
    seen = set()
    for verdict in verdicts(player)[::25]:
        question = verdict.question
        if question.focus in seen:
            continue
        seen.add(question.focus)
        for place in question.player.neck.places[::3]:
            label = WORDS.label(question, place)
            assert pitch_class(label) == midi(question.player.neck, place) % 12


@pytest.mark.parametrize(
    ("points", "given", "said"),
    [
        (100, frozenset({Place(3, 5), Place(1, 7)}), "100 points: right, 2.0 s"),
        (50, frozenset({Place(3, 5)}), "50 points: 1 of 2 found, 2.0 s"),
        (
            0,
            frozenset({Place(3, 5), Place(4, 6)}),
            "0 points: 1 of 2 found, 1 wrong, 2.0 s",
        ),
        (0, None, "0 points: shown, 2.0 s"),
    ],
)
def test_a_verdict_in_a_line(points: int, given: Given | None, said: str) -> None:
    """D in fifth position on E A D G lies on the A string, 5, and the G string, 7."""
    player = PLAYERS["four strings"]
    question = KINDS["find"].ask(player, Scope.parse("position 5"), NoteSet.parse("D"), "D")
    verdict = judge(question, Answer(given, 2.0), 10.0)
    assert verdict.points == points
    assert WORDS.verdict(verdict) == said


def test_hand_row_says_how_the_fingers_lie() -> None:
    """One finger per fret is a minor third, 1-2-4 a whole tone (No Treble, 2016)."""
    neck = Neck()
    for hand, position in ((Hand(), p) for p in range(1, 21)):
        text = WORDS.hand_row(neck, hand, position)
        match = re.fullmatch(r"(\w+)  (one finger per fret|1-2-4), (\d+) mm", text)
        assert match, text
        frets = 3 if match[2] == "one finger per fret" else 2
        assert roman_number(match[1]) == position
        assert int(match[3]) == round(distance_mm(neck, position, position + frets))


def test_strings_of_one_name_are_told_apart() -> None:
    neck = PLAYERS["two strings alike"].neck
    told = [WORDS.string(neck, string) for string in neck.strings]
    assert all(a != b for a, b in combinations(told, 2))
    assert told[0] == "string 1 (E)"
    assert told[5] == "string 6 (E)"


def test_simple_names_for_every_pitch_class_agree_with_the_letters() -> None:
    for number in range(128):
        for sharps in (False, True):
            assert pitch_class(str(simple_name(number, sharps=sharps))) == number % 12
