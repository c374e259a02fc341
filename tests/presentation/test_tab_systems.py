"""Tab on a screen: every note stands in one system, and only what is looked at is laid out.

Held against the line itself and against the tab on paper, which is drawn by hand in another test.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.hand.cost import CostModel
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.neck.tuning import Tuning
from fretdrill.presentation.line_moments import Moments
from fretdrill.presentation.names import Names
from fretdrill.presentation.tab import LEAST_WIDTH, draw_tab
from fretdrill.presentation.tab_columns import Added, Column, Columns
from fretdrill.presentation.tab_systems import Key, System, TabSheet
from fretdrill.theory.line import Bar, Line, Note
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch, simple_name
from tests.hand.lines import HAND, NECK, planned

MODEL = CostModel(NECK, HAND)
METRES = [Metre(4, 4), Metre(3, 4), Metre(6, 8), Metre(7, 8), Metre(2, 2), Metre(12, 8)]
WIDTHS = (0, 24, 37, 58, 78, 118)
STRETCH = 24


@st.composite
def bars_of(draw: st.DrawFn, most: int = 60) -> tuple[Bar, ...]:
    """Bars of any metres, with a pickup or none, and numbers that come twice in a repeat."""
    bars: list[Bar] = []
    onset = Fraction(0)
    if draw(st.booleans()):
        bars.append(Bar(0, onset, Fraction(1, 4), Metre(), Fraction(3, 4)))
        onset = Fraction(1, 4)
    count = draw(st.integers(1, most))
    again = draw(st.integers(1, count))  # from here on the numbers come a second time
    metre = draw(st.sampled_from(METRES))
    for index in range(count):
        if draw(st.integers(0, 9)) == 0:
            metre = draw(st.sampled_from(METRES))
        number = index + 1 if index < again else index + 1 - again // 2
        bars.append(Bar(number, onset, metre.bar, metre))
        onset += metre.bar
    return tuple(bars)


@st.composite
def barred_lines(draw: st.DrawFn, most_bars: int = 60) -> Line:
    """Lines with long rests, notes tied over many bars, and bursts of short notes."""
    bars = draw(bars_of(most_bars))
    notes: list[Note] = []
    onset = draw(st.sampled_from((Fraction(0), Fraction(1, 8), Fraction(3))))
    lengths = st.sampled_from([Fraction(n, 96) for n in (3, 6, 8, 12, 24, 36, 96, 300)])
    while onset < bars[-1].end and len(notes) < 120:
        midi = draw(st.sampled_from((28, 31, 36, 38, 43, 51)))
        length = min(draw(lengths), bars[-1].end - onset)
        notes.append(Note(onset, length, Pitch(midi, simple_name(midi))))
        onset += length + draw(st.sampled_from([Fraction(n, 48) for n in (0, 0, 0, 6, 48)]))
    return Line("barred", tuple(notes), bars)


def plan_of(line: Line) -> Plan:
    solution = Planner(MODEL).solve(line)
    return Plan(line, solution, solution.best())


def on_screen(line: Line) -> Added:
    """Return what the line's screen adds to a tab."""
    marks = {note: "!*"[: 1 + note % 2] for note in range(0, len(line.notes), 5)}
    return Added(lengths=True, marks=marks, least=2)


def walk(sheet: TabSheet) -> Iterator[tuple[Key, System]]:
    key: Key | None = (0, 0)
    while key is not None:
        yield key, sheet.system(key)
        key = sheet.after(key)


cases = st.tuples(barred_lines(), st.sampled_from(WIDTHS))


@settings(deadline=None, max_examples=25)
@given(cases)
def test_every_note_stands_once_and_systems_follow_each_other(case):
    line, width = case
    sheet = TabSheet(Columns(plan_of(line), Names(), on_screen(line)), width)
    found = list(walk(sheet))
    notes = [note for _, system in found for note in sorted(system.spots)]
    assert notes == list(range(len(line.notes)))
    assert found[0][1].onset == 0
    assert found[-1][1].end == line.bars[-1].end
    for (key, system), (later, after) in pairwise(found):
        assert system.end == after.onset
        assert sheet.before(later) == key
    assert sheet.before((0, 0)) is None
    numbers = " ".join(system.rows[0].text for _, system in found).split()
    assert numbers == [str(bar.number) for bar in line.bars]
    assert sheet.page((0, 0), 3) == [key for key, _ in found[:3]]
    assert sheet.page(found[-1][0], 3) == [found[-1][0]]


@settings(deadline=None, max_examples=25)
@given(cases)
def test_a_note_is_looked_for_in_the_system_it_stands_in(case):
    line, width = case
    sheet = TabSheet(Columns(plan_of(line), Names(), on_screen(line)), width)
    found = list(walk(sheet))
    # A bar broken at a counted beat has a fault of its own, see the next test.
    broken = {after.onset for (_, one), (_, after) in pairwise(found) if one.onset == after.onset}
    for key, system in found:
        if system.onset not in broken:
            for note in system.spots:
                assert sheet.key_of(note) == key


def test_a_note_is_found_in_a_bar_that_is_broken_at_a_counted_beat():
    plan = planned("G,,,4|")  # one whole note: 1 (2) (3) / (4)
    sheet = TabSheet(Columns(plan, Names()), 24)
    assert 0 in sheet.system((0, 0)).spots
    assert sheet.key_of(0) == (0, 0)


@settings(deadline=None, max_examples=25)
@given(cases)
def test_rows_fit_and_each_note_stands_where_its_spot_says(case):
    line, width = case
    plan = plan_of(line)
    added = on_screen(line)
    for _, system in walk(TabSheet(Columns(plan, Names(True), added), width)):
        kinds = [row.kind for row in system.rows]
        assert kinds == ["number", "count", "1", "2", "3", "4", "finger", "hand", "length", "mark"]
        rows = {row.kind: row.text for row in system.rows}
        assert max(map(len, rows.values())) <= max(width, LEAST_WIDTH)
        assert all(text.isascii() and text == text.rstrip() for text in rows.values())
        (end,) = {len(rows[kind]) for kind in "1234"}
        marked = rows["mark"].ljust(end)
        for note, spot in system.spots.items():
            state = plan.states[note]
            assert spot.string == state.string
            cell = slice(spot.column, spot.column + spot.width)
            assert rows[str(state.string)][cell].strip("-") == str(state.fret)
            assert rows["finger"][cell].strip()[0] == str(state.finger)
            assert marked[cell].strip() == (added.marks or {}).get(note, "")
            for column in range(spot.column, spot.column + spot.width):
                assert system.note_at(column) == note


@settings(deadline=None, max_examples=25)
@given(st.tuples(barred_lines(STRETCH), st.sampled_from(WIDTHS)))
def test_with_nothing_added_it_is_the_tab_on_paper(case):
    line, width = case
    plan = plan_of(line)
    rows: list[str] = []
    for _, system in walk(TabSheet(Columns(plan, Names()), width)):
        rows += [*(row.text for row in system.rows), ""]
    assert rows[:-1] == draw_tab(plan, Names(), width)


@pytest.mark.parametrize("per_row", [1, 2, 3, 4, 6, 8])
def test_no_row_is_cut_short_where_the_line_is_cut(per_row):
    columns = Columns(planned("C,,4|" * 72), Names())
    bar = 2 + sum(column.width for column in columns.of_bar(0))
    sheet = TabSheet(columns, max(LEAST_WIDTH, 5 + per_row * bar))
    counts = [len(system.rows[0].text.split()) for _, system in walk(sheet)]
    assert counts == [per_row] * (72 // per_row)


def test_before_the_first_note_of_a_system_there_is_none():
    plan = planned("z2 C,,D,,|")
    system = TabSheet(Columns(plan, Names()), 80).system((0, 0))
    first = system.spots[0].column
    assert [system.note_at(column) for column in (0, first - 1)] == [None, None]
    assert system.note_at(first) == 0
    assert system.note_at(500) == 1


class Counted(Columns):
    """Columns that remember which bars were asked for."""

    def __init__(self, *args: object) -> None:
        super().__init__(*args)  # type: ignore[arg-type]
        self.touched: set[int] = set()

    def of_bar(self, index: int) -> list[Column]:
        self.touched.add(index)
        return super().of_bar(index)


@pytest.fixture(scope="module")
def long_plan() -> Plan:
    return planned("|".join(["C,,/" * 16] * 625) + "|")


@pytest.mark.parametrize("note", [0, 400, 5000, 9999])
def test_a_long_line_is_laid_out_only_where_it_is_looked_at(long_plan, note):
    columns = Counted(long_plan, Names())
    sheet = TabSheet(columns, 80)
    assert not columns.touched
    key = sheet.key_of(note)
    assert note in sheet.system(key).spots
    assert len(columns.touched) <= STRETCH + 1
    sheet.page(key, 3)
    sheet.before(key)
    assert len(columns.touched) <= 2 * (STRETCH + 1)
    assert all(abs(bar - note // 16) <= 2 * STRETCH for bar in columns.touched)


def test_a_system_is_drawn_once(long_plan):
    sheet = TabSheet(Columns(long_plan, Names()), 80)
    assert sheet.system((0, 0)) is sheet.system((0, 0))


def test_a_line_of_rests_has_its_bars():
    bars = tuple(Bar(n + 1, Fraction(n), Fraction(1), Metre()) for n in range(30))
    plan = plan_of(Line("rests", (), bars))
    found = [system for _, system in walk(TabSheet(Columns(plan, Names()), 80))]
    assert sum(len(system.rows[0].text.split()) for system in found) == 30
    assert not any(system.spots for system in found)


# Notes off the neck, lengths, other ways


def test_a_note_off_the_neck_stands_with_its_pitch_and_a_sign():
    whole = planned("C,,D,,E,,F,,|").line
    part = planned("C,,zE,,F,,|")
    columns = Columns(part, Names(), Added(whole=whole, kept=(0, 2, 3)))
    assert [columns.planned(note) for note in range(4)] == [0, None, 1, 2]
    cells = columns.of_bar(0)
    assert (cells[1].finger, cells[1].hand, cells[1].cells) == ("x", "D2", {})
    system = TabSheet(columns, 80).system((0, 0))
    assert system.spots[1].string is None
    assert sorted(system.spots) == [0, 1, 2, 3]


def test_lengths_are_per_cent_and_a_sign_for_all():
    columns = Columns(planned("C,,.D,,E,,F,,|"), Names(), Added(lengths=True))
    told = [column.length for column in columns.of_bar(0)]
    assert told[1] == "50"
    assert told[3] == "="


def test_other_ways_show_the_finger_and_the_string_where_it_differs():
    plan = planned("C,,|", {0: (3, 3, 1, 3)})
    ways = [(3, 3, 1, 3), (3, 3, 2, 2), (4, 8, 4, 5)]
    paths = [planned("C,,|", {0: way}).path for way in ways]
    (first, *_) = Columns(plan, Names(), Added(ahead=paths)).of_bar(0)
    assert first.ahead == (".", "2", "4E")


def test_five_strings_have_five_rows():
    model = CostModel(type(NECK)(Tuning.parse("5-string")), HAND)
    plan = planned("C,,D,,|", model=model)
    system = TabSheet(Columns(plan, Names()), 80).system((0, 0))
    assert [row.text[1] for row in system.rows if row.kind.isdigit()] == list("GDAEB")


# Moments


@settings(deadline=None, max_examples=25)
@given(barred_lines(30))
def test_moments_by_looking_through_the_whole_line(line):
    moments = Moments(line)
    notes, bars = line.notes, line.bars
    assert moments.numbers == (min(b.number for b in bars), max(b.number for b in bars))

    def bar_of(note: int) -> int:
        return max(i for i, bar in enumerate(bars) if bar.onset <= notes[note].onset)

    for index in range(len(bars)):
        inside = [note for note in range(len(notes)) if bar_of(note) == index]
        assert list(moments.notes_of(index)) == inside
    for note in range(len(notes)):
        assert moments.onset(note) == notes[note].onset
        assert moments.bar_of(note) == bar_of(note)
        assert moments.first_from(notes[note].onset) == note
        here = [other for other in range(len(notes)) if bar_of(other) == bar_of(note)]
        later = [other for other in range(len(notes)) if bar_of(other) > bar_of(note)]
        assert moments.next_bar(note) == (later[0] if later else len(notes) - 1)
        earlier = [other for other in range(here[0]) if bar_of(other) == bar_of(here[0] - 1)]
        expected = here[0] if note > here[0] or not earlier else earlier[0]
        assert moments.bar_before(note) == expected


@settings(deadline=None, max_examples=25)
@given(barred_lines(30), st.data())
def test_a_numbered_bar_by_looking_through_the_whole_line(line, data):
    moments = Moments(line)
    if not line.notes:
        assert moments.numbered(line.bars[0].number, 0) is None
        return
    note = data.draw(st.integers(0, len(line.notes) - 1))
    here = moments.bar_of(note)
    for number in {bar.number for bar in line.bars}:
        bars = [index for index, bar in enumerate(line.bars) if bar.number == number]
        target = min((bar for bar in bars if bar > here), default=bars[0])
        after = [i for i, n in enumerate(line.notes) if n.onset >= line.bars[target].onset]
        assert moments.numbered(number, note) == (after[0] if after else len(line.notes) - 1)
    assert moments.numbered(999, note) is None
    assert moments.numbered(-1, note) is None


def test_a_line_without_bars_has_no_numbers():
    assert Moments(Line("none", (), ())).numbers == (0, 0)
