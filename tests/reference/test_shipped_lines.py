"""The lines that ship: the plan for each shows what the line is for.

A four-string bass of 34 inches with 24 frets and a medium hand, as in a new set-up.
"""

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.joins import Technique
from fretdrill.hand.lookahead import look_ahead
from fretdrill.hand.plan import Plan, TakenFrom
from fretdrill.hand.planner import Planner
from fretdrill.hand.reasons import CoversMove, FreesFinger, KeepsSlur, reasons
from fretdrill.hand.states import Pin
from fretdrill.neck.neck import Neck
from fretdrill.practice.library import find_line, line_files, shipped_folder
from fretdrill.scores.reader import read_line
from fretdrill.theory.line import Articulation, Line, Note

NECK = Neck()
MODEL = CostModel(NECK, Hand())
NOBODYS = Path("no such folder")
FOLDER = shipped_folder() / "lines"
NAMES = sorted(path.stem for path in FOLDER.glob("*.abc"))

LOW_F, LOWEST, HIGHEST = 29, 28, 60
QUARTER, HALF = Fraction(1, 4), Fraction(1, 2)


def shipped(name: str) -> Line:
    return find_line(name, NOBODYS).line


def planned(line: Line, pins: dict[int, Pin] | None = None) -> Plan:
    solution = Planner(MODEL).solve(line, pins)
    return Plan(line, solution, solution.best())


def plan(name: str) -> Plan:
    return planned(shipped(name))


def cost_seeing(made: Plan, depth: int) -> float:
    """Return what someone pays who sees only so many notes ahead."""
    return look_ahead(made.solution.problem, depth).cost


def slurs(line: Line) -> list[int]:
    return [index for index, note in enumerate(line.notes) if note.join is not None]


def bars(line: Line) -> list[list[Note]]:
    return [[note for note in line.notes if b.onset <= note.onset < b.end] for b in line.bars]


# All of them


def test_the_lines_are_these() -> None:
    known = (
        "closed-fifth full-and-clipped high-hammers lilt-in-flats long-note-shift long-tones "
        "low-f note-after-next open-shift walk-up"
    )
    assert known.split() == NAMES
    assert set(NAMES) <= set(line_files(NOBODYS))


@pytest.mark.parametrize("name", NAMES)
def test_reads_without_a_notice(name: str) -> None:
    path = FOLDER / f"{name}.abc"
    reading = read_line(path.read_bytes(), path.name)
    assert not reading.notices
    assert reading.line.title
    assert reading.line.key is not None


@pytest.mark.parametrize("name", NAMES)
def test_says_whose_it_is_and_what_it_teaches(name: str) -> None:
    rows = (FOLDER / f"{name}.abc").read_text(encoding="ascii").splitlines()
    assert [row[:2] for row in rows[:8]] == ["X:", "T:", "C:", "N:", "M:", "L:", "Q:", "K:"]
    assert rows[2] == "C:fretdrill (own composition)"
    assert rows[3].endswith(".")
    assert "clef=bass" in rows[7]


@pytest.mark.parametrize("name", NAMES)
def test_is_short_and_lies_on_the_bass(name: str) -> None:
    line = shipped(name)
    assert 4 <= len({bar.number for bar in line.bars} - {0}) <= 16
    for note in line.notes:
        assert LOWEST <= note.pitch.midi <= HIGHEST
        assert NECK.places_of(note.pitch.midi)


@pytest.mark.parametrize("name", NAMES)
def test_bars_are_full(name: str) -> None:
    line = shipped(name)
    whole = [bar for bar in line.bars if bar.number]
    for bar in whole[:-1]:
        assert bar.length == bar.metre.bar
    assert whole[-1].length + line.pickup == whole[-1].metre.bar


@pytest.mark.parametrize("name", NAMES)
def test_every_move_has_its_time(name: str) -> None:
    for shift in plan(name).shifts:
        assert shift.needs_s <= shift.available_s


# One by one


def test_closed_fifth_stays_in_fifth_without_open_strings() -> None:
    made = plan("closed-fifth")
    assert {state.anchor for state in made.states} == {5}
    assert all(state.fret for state in made.states)
    assert not made.shifts


def test_long_note_shift_lets_the_long_note_pay() -> None:
    made = plan("long-note-shift")
    assert len(made.shifts) >= 3
    for shift in made.shifts:
        assert made.line.notes[shift.index].duration == HALF
        assert shift.taken_from is TakenFrom.NOTE_LENGTH
        assert shift.share < 0.35
    covering = {r.index for r in reasons(made) if isinstance(r, CoversMove)}
    assert covering == {shift.index for shift in made.shifts}


def test_long_note_shift_has_to_move_wherever_it_begins() -> None:
    solution = plan("long-note-shift").solution
    for position in solution.by_position():
        anchors = {state.anchor for state in solution.from_position(position).states}
        assert len(anchors) > 1


def test_low_f_forces_first_position() -> None:
    made = plan("low-f")
    low = [i for i, note in enumerate(made.line.notes) if note.pitch.midi == LOW_F]
    assert low[0] == 0
    assert low[-1] == len(made.states) - 1
    for index in low:
        assert made.states[index] == (4, 1, 1, 1)
    back = made.shifts[-1]
    assert (back.from_position > 4, back.to_position) == (True, 1)
    assert made.line.notes[back.index].duration == HALF


def test_note_after_next_settles_the_finger() -> None:
    made = plan("note-after-next")
    assert cost_seeing(made, 0) > made.cost
    assert cost_seeing(made, 1) > made.cost
    assert cost_seeing(made, 2) == made.cost
    first = reasons(made)[0]
    assert isinstance(first, FreesFinger)
    assert (first.index, first.chosen.finger, first.instead.finger) == (0, 2, 1)
    assert (first.at, first.finger) == (2, 1)
    greedy = look_ahead(made.solution.problem, 0)
    assert greedy.choices[0] != made.path.choices[0]


def test_high_hammers_are_all_kept_high_on_the_neck() -> None:
    made = plan("high-hammers")
    kept = [made.technique(index) for index in slurs(made.line)]
    assert set(kept) == {Technique.HAMMER_ON, Technique.PULL_OFF}
    for index in slurs(made.line):
        one, two = made.states[index : index + 2]
        assert one.anchor == two.anchor >= 8
        assert {one.finger, two.finger} == {1, 4}
        assert abs(one.fret - two.fret) == 4
    found = reasons(made)
    assert {r.index for r in found if isinstance(r, KeepsSlur)} == set(slurs(made.line))


def test_high_hammers_break_an_octave_lower() -> None:
    made = planned(shipped("high-hammers").transposed_octaves(-1))
    notes = made.line.notes
    pull_offs = [i for i in slurs(made.line) if notes[i + 1].pitch.midi < notes[i].pitch.midi]
    assert len(pull_offs) == 3
    assert {made.technique(index) for index in pull_offs} == {None}


def test_high_hammers_stretch_at_the_lowest_frets() -> None:
    made = plan("high-hammers")
    comfortable = made.solution.problem.model.hand.span(1, 4).comfortable
    pins = {}
    for index in slurs(made.line):
        one, two = made.states[index : index + 2]
        assert NECK.span_mm(one.fret, two.fret) < comfortable
        for at in (index, index + 1):
            places = NECK.places_of(made.line.notes[at].pitch.midi)
            low = min(places, key=lambda place: place.fret)
            pins[at] = Pin(string=low.string, fret=low.fret)
    assert NECK.span_mm(5, 9) > comfortable  # C3 and E3, where they lie lowest on one string
    assert (pins[0].fret, pins[1].fret) == (5, 9)
    assert planned(made.line, pins).cost > made.cost + 1.0


def test_open_shift_moves_while_open_strings_sound() -> None:
    made = plan("open-shift")
    assert len(made.shifts) >= 4
    for shift in made.shifts:
        assert shift.taken_from is TakenFrom.OPEN_STRING
        assert made.states[shift.index].fret == 0
        assert shift.shortened_s == 0.0
        assert abs(shift.frets) >= 4
    closed = CostModel(NECK, Hand(), open_strings=False)
    assert Planner(closed).solve(made.line).cost > made.cost


def test_long_tones_are_held_and_give_the_time() -> None:
    made = plan("long-tones")
    lengths = {note.duration for note in made.line.notes}
    assert {Fraction(1), Fraction(3, 4)} <= lengths
    onsets = {bar.onset for bar in made.line.bars}
    tied = [n for n in made.line.notes if any(n.onset < onset < n.end for onset in onsets)]
    assert tied
    assert made.shifts
    for shift in made.shifts:
        assert made.line.notes[shift.index].duration >= HALF
        assert shift.share < 0.2


def test_full_and_clipped_is_one_rhythm() -> None:
    made = plan("full-and-clipped")
    played = [
        [(note.duration, Articulation.STACCATO in note.articulations) for note in bar]
        for bar in bars(made.line)
    ]
    assert all(bar == played[0] for bar in played)
    assert {clipped for _, clipped in played[0]} == {True, False}
    assert min(length for length, _ in played[0]) == Fraction(1, 16)
    assert all(shift.taken_from is TakenFrom.OPEN_STRING for shift in made.shifts)
    for one, two in pairwise(made.states):  # nothing hops on a clipped note
        assert one.finger != two.finger or one.place == two.place or not one.finger


def test_walk_up_walks_twelve_bars_of_quarters() -> None:
    made = plan("walk-up")
    assert len(made.line.bars) == 12
    assert {note.duration for note in made.line.notes} == {QUARTER}
    assert len(made.line.notes) == 48
    assert not list(made.line.rests)
    assert all(shift.share <= 0.5 for shift in made.shifts)
    assert cost_seeing(made, 0) > made.cost


def test_lilt_in_flats_has_a_pickup_and_one_position() -> None:
    made = plan("lilt-in-flats")
    assert made.line.pickup == Fraction(1, 8)
    assert str(made.line.metre) == "6/8"
    assert made.line.key is not None
    assert made.line.key.signature < 0
    assert not made.shifts
    assert all(state.fret for state in made.states)
    keynotes = [s for s, n in zip(made.states, made.line.notes, strict=True) if n.pitch.midi == 39]
    assert {state.finger for state in keynotes} == {2}
