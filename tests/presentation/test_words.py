"""What is said is true: every sentence is read back and held against the neck."""

import re
from collections.abc import Iterator
from functools import cache
from itertools import combinations

import pytest

from fretdrill.engine import reasons as why
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import Part as Stage
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer, Given, Question, Verdict
from fretdrill.engine.registry import KINDS
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.session import Result, judge
from fretdrill.presentation.words import Words
from fretdrill.theory.pitch import NoteName, simple_name
from tests.engine.cases import stage

WORDS = Words()
NUMBERS = "zero one two three four five six seven eight nine ten eleven twelve".split()
ORDINALS = (
    "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth "
    "fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth"
).split()
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
SCOPE_V = Scope.parse("position 5")


def pitch_class(name: str) -> int:
    """Semitones above C of a name as it is shown."""
    signs = {"♭": -1, "b": -1, "♯": 1, "#": 1}
    return (SEMITONES[name[0]] + sum(signs[sign] for sign in name[1:])) % 12


def count(text: str) -> int:
    return int(text) if text.isdecimal() else NUMBERS.index(text)


def position_number(word: str) -> int:
    """Read "fifth" or "twenty-first"."""
    tens, _, ones = word.partition("-")
    if ones:
        return {"twenty": 20, "thirty": 30}[tens] + ORDINALS.index(ones) + 1
    return 30 if word == "thirtieth" else ORDINALS.index(word) + 1


def number_of(neck: Neck, name: str) -> int:
    """Read "A string" or "string 6 (E)" back into a string's number."""
    match = re.fullmatch(r"[Ss]tring (\d+) \((.+)\)", name)  # it may begin a sentence
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
        for focus in KINDS[kind].foci(player, Stage(scope, NoteSet.parse(notes))):
            yield KINDS[kind].ask(player, Stage(scope, NoteSet.parse(notes)), focus)


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
        why.NoteThere,
        why.WrongName,
        why.OtherFinger,
        why.UnfitFinger,
        why.OpenNeedsNoFinger,
        why.GaveUp,
        why.Slow,
    ],
)
def test_every_kind_of_reason_comes_up_here(kind: type) -> None:
    assert any(reasons(player, kind) for player in PLAYERS)


def test_a_known_way_is_worded_as_a_teacher_would() -> None:
    """The octave lies two strings higher, two frets up: common practice, no source."""
    question = KINDS["find"].ask(PLAYERS["four strings"], stage("frets 0-12", "D"), "D")
    found = frozenset({Place(3, 5)})  # D2 on the A string
    verdict = judge(question, Answer(found, 1.0), 10.0)
    # The other Ds up to fret 12: E string 10, D string open and 12, G string 7 (E1 is 28, D2 38).
    assert [reason.place for reason in verdict.reasons] == [
        Place(4, 10),
        Place(2, 0),
        Place(2, 12),
        Place(1, 7),
    ]
    said = WORDS.reasons(verdict)
    assert said[0] == "Missed: E string, fret 10, the same pitch as A string, fret 5."
    assert said[3] == (
        "Missed: G string, fret 7, an octave above A string, fret 5: two strings higher, "
        "two frets up."
    )


def test_a_note_that_was_not_known_is_counted_from_the_next_open_string() -> None:
    """F on the A string: fret 8, three frets above fret 5, which sounds as the D string does."""
    question = KINDS["name"].ask(
        PLAYERS["four strings"],
        stage("whole neck", "naturals"),
        "3/8 F",
    )
    assert WORDS.reasons(judge(question, Answer(NoteName.parse("G"), 1.0), 10.0)) == [
        "A string, fret 8 is F, three frets above fret 5, which is D.",
        "G is two frets up, fret 10.",
    ]


def place_led_to(neck: Neck, text: str, known: set[Place]) -> Place:
    """Read "A string, fret 7, two frets above fret 5, which is D" and follow the way.

    The way has to begin at a known place, an open string, or a fret that sounds as the
    next open string.
    """
    opens = {Place(string, 0) for string in neck.strings}
    if re.fullmatch(r"[^,]+, (?:open|fret \d+)", text):
        place = place_of(neck, text)
        assert place.fret == 0, text  # only an open string is found without a way
        return place
    if match := re.fullmatch(r"(.+), the same pitch as (.+)", text):
        place, start = place_of(neck, match[1]), place_of(neck, match[2])
        assert place != start, text
        assert midi(neck, place) == midi(neck, start), text
    elif match := re.fullmatch(r"(.+), (\w+) frets? above the open string", text):
        place = place_of(neck, match[1])
        start = Place(place.string, 0)
        assert place.fret == count(match[2]) > 0, text
    elif match := re.fullmatch(r"(.+), (\w+) frets? above fret (\d+), which is (\S+)", text):
        place = place_of(neck, match[1])
        start = Place(place.string, int(match[3]))
        assert place.fret - start.fret == count(match[2]) > 0, text
        next_string = Place(place.string - 1, 0)
        assert next_string in neck, text
        assert midi(neck, start) == midi(neck, next_string), text
        assert midi(neck, start) % 12 == pitch_class(match[4]), text
        return place
    else:
        match = re.fullmatch(
            r"(.+), (an octave|two octaves) (above|below) ([^:]+?)(?:: (.+))?", text
        )
        assert match, text
        place, start = place_of(neck, match[1]), place_of(neck, match[4])
        size = {"an octave": 12, "two octaves": 24}[match[2]]
        way = size if match[3] == "above" else -size
        assert midi(neck, place) - midi(neck, start) == way, text
        if match[5]:
            assert walked(start, match[5]) == place, text
        else:  # an open string is known by itself
            assert start in opens, text
    assert start in known | opens, text
    return place


@players
def test_missed_leads_there(player: str) -> None:
    """From a place that was found, told before, or open; and every place is told."""
    neck = PLAYERS[player].neck
    judged = [v for v in verdicts(player) if v.question.kind == "find"]
    assert judged
    for verdict in judged:
        right, marked = verdict.question.right, verdict.answer.given or frozenset()
        assert isinstance(right, frozenset)
        assert isinstance(marked, frozenset)
        known = set(right & marked)
        said = [
            text
            for reason, text in zip(verdict.reasons, WORDS.reasons(verdict), strict=True)
            if isinstance(reason, why.Missed)
        ]
        # Who gave up has missed nothing: there the places are told as the answer.
        missed = "" if verdict.answer.given is None else "Missed: "
        for text in said:
            assert text.startswith("Missed: ") == bool(missed), text
            place = place_led_to(neck, text.removeprefix(missed).removesuffix("."), known)
            assert place not in known, text
            known.add(place)
        assert known == right
        assert len(said) == len(right - marked)


@players
def test_a_place_is_counted_along_its_string_only_where_no_note_of_its_name_helps(
    player: str,
) -> None:
    """No known place within five frets, on its string, or open, has the note's name."""
    neck = PLAYERS[player].neck
    opens = {Place(string, 0) for string in neck.strings}
    counted = 0
    for verdict in verdicts(player):
        if verdict.question.kind != "find":
            continue
        right, marked = verdict.question.right, verdict.answer.given or frozenset()
        known = set(right & marked)
        for reason, text in zip(verdict.reasons, WORDS.reasons(verdict), strict=True):
            if not isinstance(reason, why.Missed):
                continue
            place = reason.place
            if re.search(r"frets? above (fret|the open)", text):
                counted += 1
                near = {
                    one
                    for one in known
                    if one.string == place.string or abs(one.fret - place.fret) <= 5
                }
                helps = {
                    one
                    for one in near | opens
                    if abs(midi(neck, one) - midi(neck, place)) in (0, 12, 24) and one != place
                }
                assert not helps, text
                # Where the next open string sounds below the place, one begins there.
                if place.string > 1:
                    gap = midi(neck, Place(place.string - 1, 0)) - midi(
                        neck, Place(place.string, 0)
                    )
                    assert ("above fret" in text) == (0 < gap < place.fret), text
                else:
                    assert "above the open string" in text
            known.add(place)
    assert counted


@players
def test_the_note_at_a_place_is_told_with_a_way_there(player: str) -> None:
    neck = PLAYERS[player].neck
    said = reasons(player, why.NoteThere)
    assert said
    for question, text, _ in said:
        match = re.fullmatch(r"(.+?, (?:fret \d+|open)) is ([A-G][♭♯]*), (.+)\.", text)
        assert match, text
        place = place_led_to(neck, f"{match[1]}, {match[3]}", set())
        assert place == question.task.place, text
        assert midi(neck, place) % 12 == pitch_class(match[2]), text
        assert match[2] == WORDS.note(question.right), text


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
            r"(.+), (fret \d+|open) is (\S+?); "
            r"(?:(\S+) on that string is (fret \d+|open)|there is no (\S+) on that string here)\.",
            text,
        )
        assert match, text
        place = place_of(neck, f"{match[1]}, {match[2]}")
        assert midi(neck, place) % 12 == pitch_class(match[3]), text
        asked = match[4] or match[6]
        assert asked == WORDS.note(question.task.name), text
        wanted = [
            fret
            for string, fret in question.scope.places(neck)
            if string == place.string and midi(neck, Place(string, fret)) % 12 == pitch_class(asked)
        ]
        if match[6]:
            assert not wanted, text
            continue
        nearest = place_of(neck, f"{match[1]}, {match[5]}")
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
def test_a_wrong_name_is_told_where_it_lies(player: str) -> None:
    """Nearest on the string of the place asked about, the lower one of two as near."""
    neck = PLAYERS[player].neck
    judged = [v for v in verdicts(player) if v.question.kind == "name"]
    told = 0
    for verdict in judged:
        wrong = [
            text
            for reason, text in zip(verdict.reasons, WORDS.reasons(verdict), strict=True)
            if isinstance(reason, why.WrongName)
        ]
        place, given = verdict.question.task.place, verdict.answer.given
        assert isinstance(place, Place)
        assert place.fret > 0  # an open string's note is the string's name
        if given is None or pitch_class(WORDS.note(given)) == midi(neck, place) % 12:
            assert not wrong
            continue
        assert isinstance(verdict.reasons[0], why.NoteThere)
        (text,) = wrong
        told += 1
        match = re.fullmatch(
            r"(\S+) is (?:(the open string)|(\w+) frets? (up|back), fret (\d+))\.", text
        )
        assert match, text
        assert match[1] == WORDS.note(given), text
        wanted = [
            fret
            for fret in range(neck.frets + 1)
            if midi(neck, Place(place.string, fret)) % 12 == pitch_class(match[1])
        ]
        nearest = min(wanted, key=lambda fret: (abs(fret - place.fret), fret))
        fret = 0
        if not match[2]:
            fret = int(match[5])
            assert place.fret + count(match[3]) * {"up": 1, "back": -1}[match[4]] == fret, text
            assert fret > 0, text
        assert fret == nearest, text
    assert told


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
    r"In ([a-z-]+) position finger (\d) lies over fret (\d+); finger (\d) takes the hand "
    r"along, (\w+) frets? (up|back) to (\w+), (\d+) mm\."
)
REACH = (
    r"In ([a-z-]+) position finger (\d) lies over fret (\d+); finger (\d) reaches it, "
    r"(\d+) mm from finger 1 where (\d+) mm is comfortable\."
)
CLOSES = (
    r"In ([a-z-]+) position finger (\d) lies over fret (\d+); finger (\d) reaches it too, "
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
        r"In [a-z-]+ position finger \d lies over fret \d+; "
        r"finger \d reaches it too, but has to stretch\."
    )
    for _, text, _ in reasons(player, why.OtherFinger):
        assert any(re.fullmatch(form, text) for form in (MOVE, REACH, CLOSES, stretches)), text


@players
def test_a_finger_that_does_not_get_there_is_told_what_is_in_the_way(player: str) -> None:
    holder = PLAYERS[player]
    said = reasons(player, why.UnfitFinger)
    assert said
    lies = r"In ([a-z-]+) position finger \d lies over fret (\d+); finger (\d) "
    for _, text, _ in said:
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
            span = distance_mm(holder.neck, position_number(far[1]), int(far[2]))
            assert int(far[4]) == round(span), text
            assert int(far[4]) >= int(far[5]), text


@players
def test_a_moved_hand_goes_as_many_frets_and_mm_as_is_said(player: str) -> None:
    neck = PLAYERS[player].neck
    said = other_fingers(player, MOVE)
    assert said
    wrong = []
    for _, text, match in said:
        start, end = position_number(match[1]), roman_number(match[7])
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
        span = distance_mm(neck, position_number(match[1]), int(match[3]))
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
        offset = int(match[3]) - position_number(match[1])
        if {"2": 1, "3": 2, "4": 3}[match[4]] <= offset:
            wrong.append(text)
    assert not wrong, wrong


@players
def test_open_and_stopped_notes_are_told_apart(player: str) -> None:
    neck = PLAYERS[player].neck
    for question, text, _ in reasons(player, why.OpenNeedsNoFinger):
        asked = question.task.place
        stopped = re.fullmatch(r"(.+) is pressed down, not open: finger ([1-4]) takes it\.", text)
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
    shown = [verdict for verdict in verdicts(player) if verdict.answer.given is None]
    assert {verdict.question.kind for verdict in shown} == {"find", "name", "finger"}
    for verdict in shown:
        question, said = verdict.question, WORDS.reasons(verdict)
        if question.kind == "find":
            told, name = set[Place](), question.task.name.pitch_class
            for text in said:
                told.add(place_led_to(neck, text.removesuffix("."), told))
            assert told == {
                place for place in question.scope.places(neck) if midi(neck, place) % 12 == name
            }
        elif question.kind == "name":
            (text,) = said
            place = WORDS.place(neck, question.task.place)
            match = re.match(f"(?i:{re.escape(place)}) is ([A-G][♭♯]*), ", text)
            assert match, text
            assert pitch_class(match[1]) == midi(neck, question.task.place) % 12, text
        else:
            best = f"Finger {question.right}." if question.right else "Open, no finger."
            assert said == [best]
            assert (question.right == 0) == (question.task.place.fret == 0)


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
            25,  # a wrong one takes half of what a right one brings: (1 - 0.5) / 2
            frozenset({Place(3, 5), Place(4, 6)}),
            "25 points: 1 of 2 found, 1 wrong, 2.0 s",
        ),
        (
            0,
            frozenset({Place(3, 5), Place(4, 6), Place(4, 7)}),
            "0 points: 1 of 2 found, 2 wrong, 2.0 s",
        ),
        (
            75,
            frozenset({Place(3, 5), Place(1, 7), Place(4, 6)}),
            "75 points: 2 of 2 found, 1 wrong, 2.0 s",
        ),
        (0, None, "0 points: given up, 2.0 s"),
    ],
)
def test_a_verdict_in_a_line(points: int, given: Given | None, said: str) -> None:
    """D in fifth position on E A D G lies on the A string, 5, and the G string, 7."""
    player = PLAYERS["four strings"]
    question = KINDS["find"].ask(player, stage("position 5", "D"), "D")
    verdict = judge(question, Answer(given, 2.0), 10.0)
    assert verdict.points == points
    assert WORDS.verdict(verdict) == said


def test_wrong_marks_are_spelled_by_the_key_whatever_the_player_likes() -> None:
    """E flat major: three flats, B, E and A (circle of fifths; from memory)."""
    player = PLAYERS["five strings, sharps"]
    spelled = {3: "E♭", 5: "F", 7: "G", 8: "A♭", 10: "B♭", 0: "C", 2: "D"}
    notes, scope = NoteSet.parse("key Eb major"), Scope.parse("frets 1-12")
    for focus in KINDS["find"].foci(player, Stage(scope, notes)):
        question = KINDS["find"].ask(player, Stage(scope, notes), focus)
        for place in scope.places(player.neck):
            name = spelled.get(midi(player.neck, place) % 12)
            if name is None:
                continue
            assert WORDS.label(question, place) == name
            if place not in question.right:
                (text, *_) = WORDS.reasons(judge(question, Answer(frozenset({place}), 1.0), 10.0))
                assert text.startswith(f"{WORDS.place(player.neck, place)} is {name}; "), text


def test_a_chord_is_named_with_the_degree_that_is_asked_for() -> None:
    """D minor seventh: D F A C, the third and seventh flat (common practice)."""
    player, scope, notes = PLAYERS["four strings"], SCOPE_V, NoteSet.parse("chord Dm7")
    degrees = {"D": "1", "F": "♭3", "A": "5", "C": "♭7"}
    asked = KINDS["find"].foci(player, Stage(scope, notes))
    assert set(asked) == set(degrees)
    for focus in asked:
        task = WORDS.task(KINDS["find"].ask(player, Stage(scope, notes), focus))
        assert task.startswith(f"Find every {focus} ({degrees[focus]} of Dm7) in fifth position")
    for focus in KINDS["name"].foci(player, Stage(scope, notes)):
        question = KINDS["name"].ask(player, Stage(scope, notes), focus)
        where = WORDS.place(player.neck, question.task.place)
        assert WORDS.task(question) == f"Name the note, in Dm7: {where}."


def test_a_finger_question_says_how_the_fingers_lie() -> None:
    """103 mm for three frets in fifth position is comfortable, 130 mm in first is not."""
    player, notes = PLAYERS["four strings"], NoteSet.parse("chromatic")
    tasks = {
        position: WORDS.task(
            KINDS["finger"].ask(
                player,
                Stage(Scope.parse(f"position {position}"), notes),
                f"{position}:3/{position}",
            )
        )
        for position in (1, 5)
    }
    assert tasks == {
        1: "First position (I), 1-2-4: which finger takes A string, fret 1?",
        5: "Fifth position (V), one finger per fret: which finger takes A string, fret 5?",
    }


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("frets 3-9, strings 3-4", "from fret 3 to 9, on the E and A strings"),
        ("frets 3-9, strings 2-4", "from fret 3 to 9, on the E, A and D strings"),
        ("string 2", "on the D string"),
        ("whole neck", "on the whole neck"),
        ("whole neck, no open strings", "on the whole neck, without open strings"),
        ("position 5", "in fifth position (V, frets 5 to 8)"),
        ("position 1, open strings", "in first position (I, frets 1 to 4), open strings too"),
    ],
)
def test_a_part_of_the_neck_in_words(text: str, said: str) -> None:
    assert WORDS.scope(Neck(), Scope.parse(text)) == said


def judged(kind: str, notes: str, given: Given | None, count: int) -> tuple[Verdict, ...]:
    player, scope, notes_asked = PLAYERS["four strings"], SCOPE_V, NoteSet.parse(notes)
    foci = KINDS[kind].foci(player, Stage(scope, notes_asked))[:count]
    asked = [KINDS[kind].ask(player, Stage(scope, notes_asked), focus) for focus in foci]
    assert len(asked) == count
    return tuple(judge(q, Answer(given or q.right, 2.0), 10.0) for q in asked)


NOWHERE = frozenset({Place(4, 24)})


@pytest.mark.parametrize("wrong", range(7))
def test_at_most_three_things_are_worth_another_look(wrong: int) -> None:
    right = judged("find", "naturals", None, 2)
    missed = judged("find", "naturals", NOWHERE, wrong)
    said = WORDS.to_practise(Result("", (*right, *missed, *missed), 20.0))
    if not wrong:
        assert said == ""
        return
    match = re.fullmatch(r"Worth another look: (.+)\.", said)
    assert match
    named = match[1].split("; ")
    assert named == [f"where {name} lies" for name in "CDEFGAB"[:wrong]][:3]


def test_places_and_fingers_are_worth_another_look_too() -> None:
    name = judged("name", "naturals", NoteName.parse("Cb"), 1)  # E string 5: A
    finger = judged("finger", "naturals", 4, 1)
    assert WORDS.to_practise(Result("", (*name, *finger), 4.0)) == (
        "Worth another look: E string, fret 5; the finger for fret 5 in fifth position."
    )


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


def test_no_kind_hides_the_others_in_what_is_worth_another_look() -> None:
    """Three missed finds and one missed finger: the finger is among the three that are told."""
    finds = judged("find", "naturals", NOWHERE, 3)
    finger = judged("finger", "naturals", 4, 1)
    assert WORDS.to_practise(Result("", (*finds, *finger), 1.0)) == (
        "Worth another look: where C lies; the finger for fret 5 in fifth position; where D lies."
    )
