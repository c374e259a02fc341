"""Packs: read whole, refused whole, and those that ship can be asked everywhere."""

from functools import cache
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.drill import Standing
from fretdrill.engine.packs import Pack, read_pack
from fretdrill.engine.question import Answer
from fretdrill.engine.registry import KINDS
from fretdrill.errors import ManyFaults
from fretdrill.neck.scope import Scope
from fretdrill.practice.session import judge
from fretdrill.scores.reader import read_line
from fretdrill.theory.line import Line

from .cases import NOTE_SETS, OPEN_MIDI, instrument, pitch_class

DRILLS = Path(__file__).parents[2] / "drills"
SHIPPED = (
    "daily",
    "first-position",
    "fifth-position",
    "whole-neck",
    "look-ahead",
    "shifts",
    "chord-tones",
    "reading",
)

GOOD = """
title = "Fifths"
about = "A test."

[[drill]]
kind = "find"
scope = ["position 5, strings 3-4", "position 5"]
notes = ["D", "G"]
order = "listed"
count = 4

[[drill]]
kind = "name"
"""

BAD = """
tilte = "Fifths"
about = 3

[[drill]]
kind = "fnd"
scope = ["position 5", "positon 6"]
notes = "natrals"
order = "listd"
count = 0
cuont = 3

[[drill]]
scope = "frets 9-5"
"""


def shipped(name: str) -> Pack:
    content = (DRILLS / f"{name}.toml").read_text(encoding="utf-8")
    return read_pack(content, f"{name}.toml", line_that_ships)


@cache
def line_that_ships(name: str) -> Line:
    return read_line((DRILLS / "lines" / f"{name}.abc").read_bytes(), f"{name}.abc").line


def faults_of(content: str) -> list[str]:
    with pytest.raises(ManyFaults) as caught:
        read_pack(content, "lesson.toml")
    return [str(fault) for fault in caught.value.faults]


def test_a_pack_is_read_with_its_defaults():
    pack = read_pack(GOOD, "lesson.toml")
    assert (pack.title, pack.about) == ("Fifths", "A test.")
    first, second = pack.drills
    assert [str(part.scope) for part in first.stages] == ["position 5, strings 3-4", "position 5"]
    assert (first.kind, first.order, first.count) == ("find", "listed", 4)
    assert {str(part.notes) for part in first.stages} == {"D G"}
    assert (second.kind, second.order) == ("name", "shuffled")
    assert {str(part.notes) for part in second.stages} == {"naturals"}
    assert second.stages


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("tilte", "did you mean 'title'?"),
        ("title", "missing"),
        ("about", "not text"),
        ("drill[1].kind", "did you mean 'find'?"),
        ("drill[1].scope", "'positon 6'"),
        ("drill[1].notes", "did you mean 'naturals'?"),
        ("drill[1].order", "did you mean 'listed'?"),
        ("drill[1].count", "0"),
        ("drill[1].cuont", "did you mean 'count'?"),
        ("drill[2].kind", "missing"),
        ("drill[2].scope", "backwards"),
    ],
)
def test_every_fault_comes_at_once_with_file_key_and_nearest_name(key, words):
    found = faults_of(BAD)
    assert len(found) == 11
    (fault,) = [line for line in found if line.startswith(f"lesson.toml: {key}: ")]
    assert words in fault


def default_drill(kind: str):
    return read_pack(f'title = "A"\n[[drill]]\nkind = "{kind}"', "lesson.toml").drills[0]


# Frets by hand: a position is four frets, open strings are fret 0.
DEFAULT_FRETS = {
    "position 1, open strings": range(5),
    "position 5, open strings": (0, 5, 6, 7, 8),
    "frets 0-12": range(13),
    "whole neck": range(25),
}


@pytest.mark.parametrize("kind", ["find", "name", "finger"])
def test_a_drill_that_names_no_scope_grows_from_first_position_to_the_whole_neck(kind):
    assert [part.scope for part in default_drill(kind).stages] == [
        Scope.parse(text) for text in DEFAULT_FRETS
    ]


@pytest.mark.parametrize("tuning", sorted(OPEN_MIDI))
def test_default_scopes_can_ask_every_natural_note_on_every_preset(tuning):
    player, naturals = instrument(tuning).player, NOTE_SETS["naturals"]
    find = default_drill("find")
    asked = []
    for part, frets in zip(find.stages, DEFAULT_FRETS.values(), strict=True):
        foci = KINDS["find"].foci(player, part)
        sounding = {(midi + fret) % 12 for midi in OPEN_MIDI[tuning] for fret in frets}
        asked.append({pitch_class(focus) for focus in foci})
        assert asked[-1] == naturals & sounding
    # Frets 5 to 8 of D A D G hold no B (it lies at 9, 2, 9 and 4).
    fifth = naturals - {11} if tuning == "drop-d" else naturals
    assert asked == [naturals, fifth, naturals, naturals]


def test_shipped_packs_are_ranked_as_a_player_meets_them():
    ranked = sorted(SHIPPED, key=lambda name: shipped(name).rank)
    assert ranked == list(SHIPPED)
    assert len({shipped(name).rank for name in SHIPPED}) == len(SHIPPED)


def test_a_pack_without_a_rank_comes_after_those_that_ship():
    own = read_pack(GOOD, "lesson.toml")
    assert all(shipped(name).rank < own.rank for name in SHIPPED)


@pytest.mark.parametrize(("rank", "fits"), [(0, True), (100, True), (-1, False), (101, False)])
def test_a_rank_is_0_to_100(rank, fits):
    content = f"rank = {rank}\n{GOOD}"
    if fits:
        assert read_pack(content, "lesson.toml").rank == rank
    else:
        (fault,) = faults_of(content)
        assert fault.startswith("lesson.toml: rank: ")


def test_two_faults_in_one_list_are_both_told():
    found = "\n".join(faults_of('title = "A"\n[[drill]]\nkind = "find"\nscope = ["x1", "x2"]\n'))
    assert "x1" in found
    assert "x2" in found


@pytest.mark.parametrize(
    ("content", "key"),
    [
        ("", "title"),
        ('title = "A"', "drill"),
        ('title = "A"\ndrill = []', "drill"),
        ('title = "A"\ndrill = 3', "drill"),
        ('title = "A"\ndrill = ["find"]', "drill"),
        ('title = "A"\n[drill]\nkind = "find"', "drill"),
        ('title = ""\n[[drill]]\nkind = "find"', "title"),
    ],
)
def test_a_pack_without_title_or_drills_is_refused(content, key):
    found = faults_of(content)
    assert sum(line.startswith(f"lesson.toml: {key}: ") for line in found) == 1


@pytest.mark.parametrize(
    "content",
    ["title = ", "title = 'a'\ntitle = 'b'", "[[drill]", "\x00", "a = 1e", "a = " + "[" * 5000],
    ids=["no value", "twice", "bracket", "zero byte", "number", "nested too deep"],
)
def test_what_is_not_toml_is_one_fault_that_names_the_file(content):
    (fault,) = faults_of(content)
    assert fault.startswith("lesson.toml: ")
    assert "\n" not in fault


def test_a_number_with_thousands_of_digits_is_a_fault_like_any_other():
    content = 'title = "A"\n[[drill]]\nkind = "find"\ncount = ' + "9" * 5000
    assert all(fault.startswith("lesson.toml: ") for fault in faults_of(content))


@given(st.text(max_size=60), st.integers(0, len(GOOD)))
@settings(max_examples=200)
def test_any_scribble_in_a_pack_is_read_or_refused_in_words(scribble, where):
    faults: list[str] | None = None
    try:
        read_pack(GOOD[:where] + scribble + GOOD[where:], "lesson.toml")
    except ManyFaults as caught:
        faults = [str(fault) for fault in caught.faults]
    assert faults is None or faults
    assert all(fault.startswith("lesson.toml") for fault in faults or ())


def test_these_packs_ship():
    assert sorted(path.stem for path in DRILLS.glob("*.toml")) == sorted(SHIPPED)


@pytest.mark.parametrize("tuning", sorted(OPEN_MIDI))
@pytest.mark.parametrize("frets", [12, 24])
@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_packs_can_be_asked_on_every_preset(name, tuning, frets):
    player = instrument(tuning, frets).player
    for drill in shipped(name).drills:
        drill.check(player)
        for level in range(drill.top_level + 1):
            question = drill.ask(player, level, Random(level), Standing({}))
            assert judge(question, Answer(question.right, 0.0), 1.0).points == 100


@pytest.mark.parametrize("name", SHIPPED)
@pytest.mark.parametrize("system", ["reach", "one-per-fret", "1-2-4"])
@pytest.mark.parametrize("size", ["small", "large"])
def test_shipped_packs_can_be_asked_of_every_hand(name, system, size):
    player = instrument(size=size, system=system).player
    for drill in shipped(name).drills:
        drill.check(player)


@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_packs_say_what_they_are_for(name):
    pack = shipped(name)
    assert pack.title
    assert pack.about.endswith(".")


def test_daily_asks_ten_questions_of_every_kind():
    pack = shipped("daily")
    assert sum(drill.count for drill in pack.drills) == 10
    assert {drill.kind for drill in pack.drills} == {"find", "name", "finger"}
