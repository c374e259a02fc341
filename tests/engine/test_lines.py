"""Which lines a drill is about: written ones, made ones by name, and both together."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine import table
from fretdrill.engine.figures import FIGURES, make_line
from fretdrill.engine.kinds.ahead import Ahead, AheadStage
from fretdrill.engine.kinds.shift import ShiftKind, ShiftStage
from fretdrill.engine.lines import (
    DEFAULT_KEYS,
    MADE_EACH,
    Lines,
    line_settings,
    lines_of,
    mixed,
)
from fretdrill.engine.packs import read_pack
from fretdrill.engine.piece import Piece
from fretdrill.engine.player import Player
from fretdrill.engine.question import Shown
from fretdrill.errors import InputError, ManyFaults, UnknownName
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.library import find_line
from fretdrill.practice.program import Program
from fretdrill.practice.session import Session
from fretdrill.theory.key import Key
from fretdrill.theory.line import Line
from tests.conftest import FakeClock
from tests.hand.lines import abc_line
from tests.strategies import keys

BASS = Player(Neck(), Hand())
OTHER = Player(Neck(Tuning.parse("5-string")), Hand())
EMPTY = Line("Empty", (), ())


def find(name: str) -> Line:
    return EMPTY if name == "empty" else find_line(name, None).line


def read(kind: str = "ahead", **written: Any) -> tuple[Any, ...]:
    """Return the stages of settings, read as a pack's are."""
    drill = {"ahead": Ahead(), "shift": ShiftKind()}[kind]
    values, faults = table.read_table(written, drill.settings(find), "test")
    assert not faults, faults
    return drill.stages(values)


def faults_in(**written: Any) -> list[str]:
    return [f.message for f in table.read_table(written, Ahead().settings(find), "test")[1]]


# Names


@settings(max_examples=25, deadline=None)
@given(st.sampled_from(FIGURES), keys(), st.integers(1, MADE_EACH))
def test_the_name_of_a_made_line_is_enough_to_make_it(figure: str, key: Key, number: int) -> None:
    lines = Lines((), (figure,), (key,))
    name = f"{figure} in {key} {number}"
    assert name in lines.made
    piece = lines.named(name, BASS)
    assert piece == Piece(name, make_line(figure, key, number, BASS.neck))
    assert piece.line.key == key
    assert piece == Lines().named(name, BASS)


@settings(max_examples=15, deadline=None)
@given(st.sets(st.sampled_from(FIGURES), min_size=1), st.sets(keys(), min_size=1, max_size=4))
def test_every_name_is_there_once(figures: set[str], some: set[Key]) -> None:
    made = Lines((), tuple(figures), tuple(some)).made
    assert len(set(made)) == len(made) == MADE_EACH * len(figures) * len(some)


def test_figures_and_keys_take_turns() -> None:
    """The first lines asked about are of every figure and key, not twenty of the first."""
    lines = Lines((), ("octave", "stepwise"), (Key.parse("G major"), Key.parse("E minor")))
    first = lines.made[:4]
    assert {name.split(" in ")[0] for name in first} == {"octave", "stepwise"}
    assert {name.split(" in ")[1] for name in first} == {"G major 1", "E minor 1"}


def test_a_written_line_is_found_by_its_name_before_one_is_made() -> None:
    own = Piece("octave in G major 1", abc_line("C,, D,, E,,"))
    lines = Lines((own,), ("octave",))
    assert lines.named("octave in G major 1", BASS) is own
    assert lines.named("octave in G major 2", BASS).line.title.startswith("Octaves")


def test_a_made_line_belongs_to_the_neck() -> None:
    lines = Lines((), ("stepwise",))
    name = lines.made[3]
    low = lines.named(name, OTHER)
    assert low == lines.named(name, OTHER)
    for player in (BASS, OTHER):
        notes = lines.named(name, player).line.notes
        assert all(player.neck.places_of(note.pitch.midi) for note in notes)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (Lines((Piece("low-f", find("low-f")),)), "low-f"),
        (Lines((), ("octave",), (Key.parse("Bb"),)), "octave in Bb major"),
        (
            Lines((Piece("low-f", find("low-f")),), ("octave", "stepwise"), DEFAULT_KEYS[:2]),
            "low-f, octave, stepwise in G major, F major",
        ),
    ],
)
def test_lines_in_words(lines: Lines, words: str) -> None:
    assert str(lines) == words


@settings(max_examples=30)
@given(st.lists(st.integers()), st.lists(st.integers()))
def test_made_lines_never_outweigh_written_ones(one: list[int], two: list[int]) -> None:
    written, made = [f"w{n}" for n in one], [f"m{n}" for n in two]
    foci = mixed(written, made)
    assert list(foci[: len(written)]) == written
    if written:
        assert list(foci[len(written) :]) == made[: len(written)]
    else:
        assert list(foci) == made


# Settings


def test_without_a_word_lines_are_made_in_five_keys() -> None:
    (stage, *_) = read()
    assert stage.lines == Lines((), FIGURES, DEFAULT_KEYS)


def test_a_line_alone_makes_nothing_up() -> None:
    (stage, *_) = read(line="low-f")
    assert [piece.name for piece in stage.lines.written] == ["low-f"]
    assert stage.lines.figures == ()
    assert stage.lines.made == ()


def test_a_line_and_a_figure_are_both_asked_about() -> None:
    (stage, *_) = read(line=["low-f", "walk-up"], figure="octave", key=["F", "Dm"])
    assert [piece.name for piece in stage.lines.written] == ["low-f", "walk-up"]
    assert stage.lines.figures == ("octave",)
    assert list(map(str, stage.lines.keys)) == ["F major", "D minor"]


def test_a_key_without_a_figure_does_not_go_with_a_line() -> None:
    values: dict[str, Any] = {"line": (Piece("low-f", find("low-f")),), "figure": (),
                              "key": (Key.parse("F"),)}  # fmt: skip
    with pytest.raises(InputError, match="its own key"):
        lines_of(values)
    assert lines_of(values | {"figure": ("octave",)}).keys == (Key.parse("F"),)


def test_shifts_are_sought_in_the_figures_that_move() -> None:
    (stage, *_) = read("shift")
    assert isinstance(stage, ShiftStage)
    assert set(stage.lines.figures) < set(FIGURES)


@pytest.mark.parametrize(
    ("written", "word"),
    [
        ({"line": "wlak-up"}, "walk-up"),
        ({"line": ""}, "empty"),
        ({"line": "empty"}, "no notes"),
        ({"line": []}, ""),
        ({"figure": "octaves"}, "octave"),
        ({"figure": ["stepwise", "slow"]}, "slow"),
        ({"key": "H"}, "H"),
        ({"next": 4}, "4"),
        ({"next": 0}, "0"),
        ({"next": "two"}, "number"),
        ({"next": True}, "number"),
        ({"next": [1, 9]}, "9"),
        ({"shown": "stave"}, "staff"),
        ({"lines": "low-f"}, "line"),
    ],
)
def test_what_is_wrong_is_told_in_a_line(written: dict[str, Any], word: str) -> None:
    told = faults_in(**written)
    assert len(told) == 1, told
    assert word in told[0]
    assert "\n" not in told[0]


def test_the_stages_go_from_one_note_to_three_and_then_to_names() -> None:
    stages = read(line="low-f")
    assert all(isinstance(stage, AheadStage) for stage in stages)
    assert [(stage.count, stage.shown) for stage in stages] == [
        (count, shown) for shown in (Shown.PLACES, Shown.NAMES, Shown.STAFF) for count in (1, 2, 3)
    ]
    steps = read(line="low-f", next=[2], shown=["staff", "places"])
    assert [(stage.count, stage.shown) for stage in steps] == [
        (2, Shown.STAFF),
        (2, Shown.PLACES),
    ]


@pytest.mark.parametrize("kind", ["ahead", "shift"])
def test_the_same_settings_are_worded_the_same_and_others_not(kind: str) -> None:
    drill = {"ahead": Ahead(), "shift": ShiftKind()}[kind]
    all_settings: list[dict[str, Any]] = [
        {"line": "low-f"}, {"line": "walk-up"}, {"line": ["low-f", "walk-up"]},
        {"figure": "octave"}, {"figure": "octave", "key": "F"}, {"figure": "stepwise"}, {},
        {"line": "low-f", "next": 2} if kind == "ahead" else {"line": "low-f", "reach": 5},
        {"line": "low-f", "figure": "octave"},
    ]  # fmt: skip
    words = [drill.wording(read(kind, **written)) for written in all_settings]
    assert words == [drill.wording(read(kind, **written)) for written in all_settings]
    assert len(set(words)) == len(words)


def test_an_unknown_figure_is_refused_by_name() -> None:
    with pytest.raises(UnknownName, match="octave"):
        make_line("octav", Key.parse("F"), 1, Neck())


def test_line_settings_read_lines_where_they_are_told() -> None:
    asked = []

    def remember(name: str) -> Line:
        asked.append(name)
        return find("low-f")

    pieces = line_settings(remember)["line"].read(["one", "two.abc"])
    assert asked == ["one", "two.abc"]
    assert [piece.name for piece in pieces] == ["one", "two.abc"]


# The same (kind, settings, seed) asks the same

PACK = """
title = "Lines"
[[drill]]
kind = "ahead"
line = ["walk-up", "low-f"]
figure = "octave"
count = 6
[[drill]]
kind = "shift"
line = "long-note-shift"
count = 3
"""


def asked_in(seed: int, pattern: str) -> list[tuple[str, object]]:
    """Return what a session asks, answered rightly or not by a pattern of ``+`` and ``-``."""
    session = Session(Program.of_pack(read_pack(PACK, "p", find)), BASS, seed, FakeClock())
    asked: list[tuple[str, object]] = []
    for sign in pattern:
        question = session.ask()
        if question is None:
            break
        asked.append((question.focus, question.task))
        session.answer(question.right if sign == "+" else None)
    return asked


@pytest.mark.parametrize("pattern", ["+" * 9, "-" * 9, "+-+-+--++"])
def test_a_seed_and_the_answers_decide_the_questions(pattern: str) -> None:
    assert len(asked_in(5, pattern)) == 9
    assert asked_in(5, pattern) == asked_in(5, pattern)
    foci = {tuple(focus for focus, _ in asked_in(seed, pattern)) for seed in range(6)}
    assert len(foci) > 3


def test_nothing_is_asked_twice_in_a_row() -> None:
    for seed in range(8):
        tasks = [task for _, task in asked_in(seed, "-" * 9)]
        assert all(one != two for one, two in pairwise(tasks))


def test_a_pack_tells_all_that_is_wrong_with_its_lines_at_once() -> None:
    text = PACK.replace("walk-up", "wlak-up").replace("long-note-shift", "empty")
    with pytest.raises(ManyFaults) as caught:
        read_pack(text, "bad.toml", find)
    told = str(caught.value).splitlines()
    assert len(told) == 2
    assert "bad.toml: drill[1].line" in told[0]
    assert "walk-up" in told[0]
    assert "bad.toml: drill[2].line" in told[1]
