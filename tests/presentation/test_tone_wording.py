"""Every reason of chord, read and slur in words: short, whole sentences, in ASCII where wanted."""

import re
from collections.abc import Iterator
from itertools import product
from typing import Any, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.question import Answer, Joining, Judgement, Question
from fretdrill.engine.registry import KINDS
from fretdrill.engine.scoring import verdict as verdict_of
from fretdrill.engine.tone_reasons import (
    Bar,
    BeyondHand,
    Bound,
    Joined,
    NoteMissed,
    NotJoinedSo,
    NotOnStaff,
    OtherOctave,
    OtherTone,
    SignatureForgotten,
    SlideMoves,
    ToneMissed,
    ToneReason,
)
from fretdrill.errors import NothingToAsk
from fretdrill.neck.neck import Place
from fretdrill.presentation.staff_words import step_text
from fretdrill.presentation.words import Words
from fretdrill.theory.chord import QUALITIES
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import NoteName, Pitch
from fretdrill.theory.staff import staff_step
from tests.engine import tones
from tests.engine.cases import instrument, instruments

SHOWN, PLAIN = Words(), Words(ascii_only=True)
BASS = instrument().player
STOP = re.compile(r"[.?](?=\s|$)")
LONGEST = 220  # signs; two or three lines of a terminal of 80 columns

QUESTIONS: dict[str, tuple[str, dict[str, Any]]] = {
    "chord": ("3/3 C7 b7", {"scope": "frets 1-5", "chord": "7", "tones": "one"}),
    "read": ("F major: Bb1", {"scope": "position 5", "key": "F", "together": 1}),
    "slur": ("5:3/5>3/7", {"scope": "position 5"}),
}


def question(kind: str) -> Question:
    focus, written = QUESTIONS[kind]
    (stage,) = tones.stages(kind, **written)
    return KINDS[kind].ask(BASS, stage, focus)


def worded(kind: str, reason: Any, words: Words) -> str:
    """Return a reason as the player reads it."""
    judged = Judgement(0.0, (reason,))
    (text,) = words.reasons(verdict_of(question(kind), Answer(frozenset(), 1.0), judged, 10.0))
    return text


def check_text(text: str, words: Words) -> None:
    """A sentence or two, the last one closed, no hole in them, short."""
    assert 1 <= len(STOP.findall(text)) <= 2, text
    assert text[-1] in ".?", text
    assert text[0].isupper() or text[0].isdigit(), text
    assert len(text) <= LONGEST, text
    assert not re.search(r"\s\s|\s[.,;:?]|[,;:]\.|\.\.|None|Bound|Bar\b|[<>{}\[\]]", text), text
    assert text.isprintable()
    if words.ascii_only:
        assert text.isascii(), text


# Every reason there is, with what it may hold


PLACES = (Place(3, 0), Place(4, 12), Place(1, 24))
NAMES = tuple(map(NoteName.parse, ("B", "Bb", "F##", "Ebb")))
PITCHES = tuple(map(Pitch.parse, ("E1", "Bb1", "F#2", "Cb3", "G4")))
DEGREES = sorted({degree for written in QUALITIES.values() for degree in written.split()} - {"1"})


def chord_reasons() -> Iterator[ToneReason]:
    for place, degree, strings, frets in product(PLACES, DEGREES, (-3, 0, 1), (-5, -1, 0, 1)):
        yield ToneMissed(place, degree, NAMES[1], strings, frets)
    sounding, asked = (None, "1", *DEGREES), (None, "b7", "3")
    for place, name, heard, near in product(PLACES, NAMES, sounding, asked):
        yield OtherTone(place, name, heard, near, -2 if heard else 1)
    yield from (BeyondHand(place, position) for place, position in product(PLACES, (1, 9, 24)))


def read_reasons() -> Iterator[ToneReason]:
    for place, pitch, octaves in product(PLACES, PITCHES, (-4, -1, 1, 2)):
        yield OtherOctave(place, pitch, octaves)
    for place, name, pitch, key in product(PLACES, NAMES, PITCHES, (None, "Eb", "F# minor")):
        signature = None if key is None else Key.parse(key)
        yield SignatureForgotten(place, name, pitch, signature)
    for place, sounds, nearest in product(PLACES, PITCHES, PITCHES):
        yield NotOnStaff(place, sounds, nearest, staff_step(sounds) - staff_step(nearest))
    yield from (NoteMissed(p, PLACES[:n]) for p, n in product(PITCHES, (1, 2, 3)))


def slur_reasons() -> Iterator[ToneReason]:
    ends = {
        Bound.UP: (5, 7), Bound.UP_FROM_OPEN: (0, 7), Bound.DOWN: (7, 5),
        Bound.DOWN_TO_OPEN: (7, 0), Bound.TOO_FAR: (5, 17), Bound.NO_PAIR: (2, 3),
        Bound.STRINGS: (5, 7), Bound.NO_FINGER: (14, 0),
    }  # fmt: skip
    slurs = {Bound.UP: (1, 3), Bound.UP_FROM_OPEN: (0, 3), Bound.DOWN: (3, 1)}
    slurs[Bound.DOWN_TO_OPEN] = (3, 0)
    for bound in Bound:
        one, two = ends[bound]
        yield Joined(Place(3, one), Place(3, two), bound, slurs.get(bound), 70.6, 137.5)
    for bar, (one, two) in product(Bar, ((0, 5), (5, 0), (5, 7), (7, 5))):
        yield NotJoinedSo(Place(3, one), Place(3, two), bar)
    yield from (SlideMoves(5, frets, 36.4) for frets in (-12, -1, 1, 2))


REASONS = {
    "chord": list(chord_reasons()),
    "read": list(read_reasons()),
    "slur": list(slur_reasons()),
}


def test_no_kind_of_reason_is_left_out() -> None:
    made = {type(reason) for reasons in REASONS.values() for reason in reasons}
    assert made == set(get_args(ToneReason))


@pytest.mark.parametrize("words", [SHOWN, PLAIN], ids=["signs", "ascii"])
@pytest.mark.parametrize("kind", REASONS)
def test_every_reason_is_a_sentence_or_two(kind: str, words: Words) -> None:
    for reason in REASONS[kind]:
        check_text(worded(kind, reason, words), words)


@pytest.mark.parametrize("kind", REASONS)
def test_ascii_and_signs_say_the_same(kind: str) -> None:
    plain = str.maketrans({"♭": "b", "♯": "#", "𝄫": "bb", "𝄪": "##"})
    for reason in REASONS[kind]:
        shown, ascii_text = worded(kind, reason, SHOWN), worded(kind, reason, PLAIN)
        assert shown.translate(plain) == ascii_text


# What the words say is what the data say


@pytest.mark.parametrize(
    ("octaves", "said"),
    [(1, "an octave too high"), (2, "two octaves too high"), (-1, "an octave too low")],
)
def test_octaves_are_counted_and_told_by_their_direction(octaves: int, said: str) -> None:
    text = worded("read", OtherOctave(Place(3, 5), Pitch.parse("D2"), octaves), PLAIN)
    assert said in text


# Bass clef, written an octave above the sound, from the bottom line: G, then A in the space
# above it (common practice, no source).
@pytest.mark.parametrize(
    ("pitch", "said"),
    [
        ("B0", "below the second ledger line below"), ("E1", "first ledger line below"),
        ("F1", "space below the staff"), ("G1", "first line"), ("A1", "first space"),
        ("B1", "second line"), ("C2", "second space"), ("D2", "third line"),
        ("E2", "third space"), ("F2", "fourth line"), ("G2", "fourth space"),
        ("A2", "fifth line"), ("B2", "space above the staff"), ("C3", "first ledger line above"),
        ("D3", "above the first ledger line"), ("E3", "second ledger line above"),
    ],
)  # fmt: skip
def test_lines_and_spaces_of_the_bass_staff(pitch: str, said: str) -> None:
    shown = Pitch.parse(pitch)
    text = worded("read", NoteMissed(shown, (Place(3, 5),)), PLAIN)
    assert said in step_text(staff_step(shown))
    assert text.startswith(f"{pitch}, ")
    assert said in text


@pytest.mark.parametrize(
    ("strings", "frets", "said"),
    [
        (1, -1, "one string higher, one fret back"),
        (-1, 2, "one string lower, two frets up"),
        (2, 0, "two strings higher, the same fret"),
        (0, 4, "from the root four frets up"),
    ],
)
def test_the_way_from_the_root_is_told_by_its_directions(
    strings: int, frets: int, said: str
) -> None:
    text = worded("chord", ToneMissed(Place(2, 5), "5", NoteName("G"), strings, frets), PLAIN)
    assert said in text


def test_numbers_of_a_slur_are_those_of_the_neck() -> None:
    far = Joined(Place(3, 5), Place(3, 12), Bound.TOO_FAR, None, 215.2, 137.5)
    text = worded("slur", far, PLAIN)
    assert all(number in text for number in ("5 and 12", "215 mm", "138 mm"))
    near = Joined(Place(3, 5), Place(3, 7), Bound.UP, (1, 3), 70.6, 96.25)
    text = worded("slur", near, PLAIN)
    assert all(number in text for number in ("1 holds fret 5", "3 comes down on fret 7", "71 mm"))


def test_each_answer_is_named_in_the_words_of_the_trade() -> None:
    """Trade terms (common practice, no source)."""
    named = {SHOWN.given(question("slur"), way) for way in Joining}
    assert named == {"hammer-on", "pull-off", "slide", "plucked only"}


# Whatever is asked and answered

WRITTEN: dict[str, dict[str, Any]] = {
    "chord": {
        "scope": ["position 3, open strings", "frets 0-12", "whole neck"],
        "chord": ["Gbdim7 Bb m7b5", "9 add9 aug", " ".join(QUALITIES)],
        "tones": ["one", "all"],
        "notes": "key Db major",
    },
    "read": {
        "scope": ["half position, open strings", "frets 5-9, string 1", "whole neck"],
        "key": ["Cb", "C# major", "Gm"],
        "notes": "chromatic",
        "together": [1, 4],
    },
    "slur": {"scope": ["position 9", "frets 0-7, string 1", "whole neck"], "notes": "chromatic"},
}


@pytest.mark.parametrize("kind", WRITTEN)
@settings(max_examples=12, deadline=None)
@given(bass=instruments(), data=st.data())
def test_question_answer_and_verdict_are_worded(kind: str, bass: Any, data: st.DataObject) -> None:
    player = bass.player
    for stage in tones.stages(kind, **WRITTEN[kind]):
        for asked in tones.questions(kind, player, stage, most=6):
            answer = data.draw(st.sampled_from(Joining) if kind == "slur" else tones.marks(player))
            for words in (SHOWN, PLAIN):
                check_texts(words, asked, answer)
                assert not words.ascii_only or words.stage(player.neck, stage).isascii()


def check_texts(words: Words, asked: Question, answer: Any) -> None:
    """Check what is told of a question when it is answered, and when it is given up."""
    for given_answer in (answer, asked.right, None):
        verdict = tones.answered(asked, given_answer)
        for text in (words.task(asked), *words.reasons(verdict)):
            check_live(text, words)
        short = [words.verdict(verdict), words.hint(asked), words.given(asked, asked.right)]
        assert all(text.isprintable() for text in short)
        assert not words.ascii_only or all(text.isascii() for text in short)


def check_live(text: str, words: Words) -> None:
    """As :func:`check_text`, however many places a pitch has on ten strings."""
    assert 1 <= len(STOP.findall(text)) <= 2, text
    assert text[-1] in ".?", text
    assert text.isprintable()
    assert not re.search(r"\s\s|\s[.,;?]|None|Bound|[<>{}\[\]]", text), text
    assert not words.ascii_only or text.isascii(), text


# What cannot be asked


@pytest.mark.parametrize("kind", WRITTEN)
def test_nothing_to_ask_is_one_plain_line(kind: str) -> None:
    written = {"notes": "D"} if kind != "read" else {"key": "C", "together": 4}
    if kind == "chord":
        written |= {"chord": "m7"}
    (stage,) = tones.stages(kind, scope="frets 1-2, string 4", **written)[:1]
    with pytest.raises(NothingToAsk) as told:
        KINDS[kind].check(BASS, stage)
    text = str(told.value)
    assert text.isascii()
    assert text.isprintable()
    assert "'frets 1-2, string 4'" in text
    assert len(text) <= LONGEST
