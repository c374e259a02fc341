"""The line screen and the list of lines, by keys and by mouse, at every size that is promised.

What has to be seen is worked out here from the line and from its plan; the rest is common
practice, no source.
"""

import asyncio
import random
import threading
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from itertools import pairwise
from pathlib import Path

import pytest
from textual import events
from textual.widgets import Input

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.home import Home
from fretdrill.practice.library import find_line
from fretdrill.practice.pins import load_pins, pins_file
from fretdrill.practice.settings import Settings
from fretdrill.theory.line import Line
from fretdrill.tui.line_jobs import Done, Job
from fretdrill.tui.line_work import OpenLine
from fretdrill.tui.screens.drill import DrillScreen
from fretdrill.tui.screens.line import LineScreen
from fretdrill.tui.screens.lines import LinesScreen
from fretdrill.tui.screens.today import TodayScreen
from fretdrill.tui.widgets.bar_prompt import BarPrompt
from fretdrill.tui.widgets.line_panel import LinePanel
from fretdrill.tui.widgets.neck import NeckWidget
from fretdrill.tui.widgets.pack_list import PackList
from fretdrill.tui.widgets.tab import TabWidget
from tests.conftest import FakeClock
from tests.tui.stage import CALM_S, Stage, on_stage, squeezed

PATIENCE_S = 4
SIZES = ((60, 18), (80, 24), (120, 40))
sizes = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
WALK_UP = find_line("walk-up", None).line


def best_plan(line: Line) -> Plan:
    solution = Planner(CostModel(Neck(), Hand())).solve(line)
    return Plan(line, solution, solution.best())


def tune(music: str, *, title: str = "Mine", unit: str = "1/4", bpm: int = 100) -> str:
    """Write a tune; in it ``E,,`` is the open E string of a bass, as basses are written."""
    return f"X:1\nT:{title}\nM:4/4\nL:{unit}\nQ:1/4={bpm}\nK:C bass octave=-1\n{music}\n"


def written(folder: Path, music: str, name: str = "mine.abc") -> str:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(tune(music), encoding="utf-8")
    return str(folder / name)


@asynccontextmanager
async def opened(
    home: Home,
    clock: FakeClock,
    name: str = "walk-up",
    *,
    size: tuple[int, int] = (80, 24),
    settings: Settings | None = None,
) -> AsyncIterator[Stage]:
    """Run the app and open a line in it, all of which is worked out."""
    async with on_stage(home, clock, size=size, settings=settings) as stage:
        stage.app.open_line(name)
        await settle(stage)
        yield stage


async def settle(stage: Stage) -> None:
    """Wait until all that was asked for has been worked out and shown."""
    for _ in range(3):  # what comes of a plan may ask for more
        await stage.pilot.pause(0)
        await asyncio.wait_for(stage.app.workers.wait_for_complete(), PATIENCE_S)
        await reached(stage.app.screen.call_after_refresh)
    await stage.pilot.pause(0)


async def reached(call: Callable[[Callable[[], None]], object]) -> None:
    """Wait until something that is called later has been called."""
    event = asyncio.Event()
    call(event.set)
    await asyncio.wait_for(event.wait(), PATIENCE_S)


async def tap(stage: Stage, *keys: str) -> None:
    """Press keys one after another, each when the one before it has been taken.

    The pilot's own way waits for an idle processor after each, which takes minutes here.
    """
    for key in keys:
        stage.clock.advance(CALM_S)
        sign = "-" if key == "minus" else key
        stage.app.post_message(events.Key(key, sign if len(sign) == 1 else None))
        await reached(stage.app.call_later)
        await stage.pilot.pause(0)
        await stage.pilot.pause(0)


async def press(stage: Stage, *keys: str) -> None:
    """Press keys, and wait after each for what comes of it."""
    for key in keys:
        await tap(stage, key)
        await settle(stage)


async def click(stage: Stage, selector: type[TabWidget] | str, offset: tuple[int, int]) -> None:
    await stage.pilot.click(selector, offset=offset)
    await settle(stage)


def line_of(stage: Stage) -> LineScreen:
    assert isinstance(stage.app.screen, LineScreen), stage.app.screen
    return stage.app.screen


def tab_rows(stage: Stage) -> list[str]:
    tab = stage.app.screen.query_one(TabWidget)
    return [tab.render_line(y).text.rstrip() for y in range(tab.size.height)]


def window(stage: Stage) -> list[str]:
    """Return all that is seen, row by row."""
    strips = stage.app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip) for strip in strips]


def noted(stage: Stage) -> str:
    """Return all notices that are seen."""
    return " ".join(notice.message for notice in stage.app._notifications)


def bar_of(line: Line, note: int) -> int:
    """Return the index of a note's bar, by looking through all bars."""
    onset = line.notes[note].onset
    return max(i for i, bar in enumerate(line.bars) if bar.onset <= onset)


def cursor_stands_at(stage: Stage) -> None:
    """The cursor's sign stands under the fret that the plan takes, in the tab that is seen."""
    screen = line_of(stage)
    note, rows = screen.note, tab_rows(stage)
    marks = [y for y, row in enumerate(rows) if "^" in row and not row.strip("^!* ")]
    assert len(marks) == 1, rows
    column = rows[marks[0]].index("^")
    index = screen.opened.planned(note)
    assert index is not None
    state = screen.opened.plan.states[index]
    top = f" {stage.app.settings.neck.tuning.strings[0].name} |"
    first = max(y for y in range(marks[0]) if rows[y].startswith(top))
    on_string = rows[first + state.string - 1]
    assert on_string[column:].startswith(str(state.fret)), (note, on_string, column)


# Moving


async def test_the_cursor_goes_where_the_bars_are(home, clock):
    async with opened(home, clock) as stage:
        screen, at = line_of(stage), 0
        bars = [bar_of(WALK_UP, note) for note in range(len(WALK_UP.notes))]
        last = len(bars) - 1
        keys = "right right right ctrl+right right ctrl+left ctrl+left left ctrl+right ctrl+right "
        for key in (keys + "ctrl+left end right ctrl+right left ctrl+left home left").split():
            if key in ("left", "right"):
                at = min(max(0, at + (1 if key == "right" else -1)), last)
            elif key == "ctrl+right":
                at = next((note for note in range(at, last) if bars[note] > bars[at]), last)
            elif key == "ctrl+left":
                first = bars.index(bars[at])
                at = first if first < at or not at else bars.index(bars[at - 1])
            else:
                at = 0 if key == "home" else last
            await tap(stage, key)
            assert screen.note == at, key
            cursor_stands_at(stage)


@sizes
async def test_paging_goes_through_all_of_the_line_and_the_cursor_stays_in_sight(home, clock, size):
    async with opened(home, clock, size=size) as stage:
        screen, seen = line_of(stage), [0]
        for _ in range(60):
            await tap(stage, "pagedown")
            cursor_stands_at(stage)
            if screen.note == seen[-1]:
                break
            seen.append(screen.note)
        tab = screen.query_one(TabWidget)
        assert tab.notes_in_sight()[1] == len(WALK_UP.notes) - 1
        for note in reversed(seen[:-1]):
            await tap(stage, "pageup")
            assert screen.note == note
            cursor_stands_at(stage)
        await tap(stage, "pageup")
        assert screen.note == 0


async def test_the_cursor_is_seen_in_a_bar_that_is_wider_than_the_window(home, clock, tmp_path):
    path = tmp_path / "wide.abc"
    path.write_text(tune("E,,F,,G,,A,,B,,C,D,E,F,G,z6|C,16|", unit="1/16"), encoding="utf-8")
    async with opened(home, clock, str(path), size=(60, 18)) as stage:
        for _ in line_of(stage).opened.line.notes:
            cursor_stands_at(stage)
            await tap(stage, "right")


TYPED = {"7": 7, "1": 1, "12": 12, "0": None, "99": None, "": None, "-3": None, "9" * 30: None}


async def test_a_bar_is_asked_for_by_its_number(home, clock):
    assert [bar.number for bar in WALK_UP.bars] == list(range(1, 13))
    firsts = {bar_of(WALK_UP, note) + 1: note for note in reversed(range(len(WALK_UP.notes)))}
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        for typed, bar in TYPED.items():
            await tap(stage, "home", "right", "g")
            assert isinstance(stage.app.focused, BarPrompt)
            await tap(stage, *("minus" if sign == "-" else sign for sign in typed), "enter")
            assert stage.app.focused is None
            assert stage.app.screen is screen
            assert screen.note == (1 if bar is None else firsts[bar]), typed
            if typed in ("0", "99"):
                assert f"There is no bar {typed}: they are 1 to 12." in stage.text("#why")
            note = screen.note
            await tap(stage, "left")
            assert screen.note == max(0, note - 1)


async def test_while_a_bar_is_asked_for_keys_are_no_commands(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        await press(stage, "down", "enter")
        pins = dict(screen.opened.pins)
        await press(stage, "g", *"zcvhdpn", "left", "right", "up", "down")
        assert stage.app.screen is screen
        assert screen.opened.pins == pins
        assert screen.note == 0
        assert screen.query_one(BarPrompt).value == ""
        await press(stage, "3", "escape")
        assert stage.app.screen is screen
        assert stage.app.focused is None
        assert screen.note == 0
        await press(stage, "g")
        assert screen.query_one(BarPrompt).value == ""


# Choices and pins


async def test_going_through_the_choices(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        await press(stage, "right")
        choices = screen.opened.plan.choices(1)
        reasons = set()
        for row in range(len(choices)):
            shown = stage.text("#choices").splitlines()
            (here,) = [one for one in shown[1:] if one.startswith(">")]
            string, fret, finger = choices[row].choice
            name = "GDAE"[string - 1]
            where = f"{name} string, fret {fret}" if fret else f"{name} string, open"
            assert f" {finger}  {where}" in here
            assert ("easiest" in here) is (row == 0)
            assert row == 0 or here.endswith(f"+{choices[row].regret:.1f}")
            assert shown[0].split() == ["Choices", str(row + 1), "of", str(len(choices))]
            reasons.add(stage.text("#why"))
            await press(stage, "down")
        assert len(reasons) > 1
        await press(stage, "down")
        assert f"{len(choices)} of {len(choices)}" in stage.text("#choices")
        await press(stage, *["up"] * (len(choices) + 2))
        assert "1 of" in stage.text("#choices")
        await press(stage, "down", "right")
        assert "> " in stage.text("#choices").splitlines()[1]  # another note, from its first on


async def test_pinning_undoing_clearing(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        free = best_plan(WALK_UP)
        assert f"cost {free.cost:.1f}" in stage.text("#heading")
        assert "pin" not in stage.text("#heading")
        rated = free.choices(2)[1]
        await press(stage, "right", "right", "down", "p")
        assert f"cost {free.cost + rated.regret:.1f}, 1 pin" in stage.text("#heading")
        assert f"1 pin +{rated.regret:.1f}" in stage.text("#heading")
        assert "*" in stage.text("#choices")
        assert screen.opened.plan.states[2].choice == rated.choice
        cursor_stands_at(stage)
        one = dict(screen.opened.pins)
        await press(stage, "right", "down", "enter")
        two = dict(screen.opened.pins)
        assert len(two) == 2
        assert "2 pins +" in stage.text("#heading")
        for keys, pins in (("z", one), ("z", {}), ("z", {})):
            await press(stage, keys)
            assert screen.opened.pins == pins
        assert "pin" not in stage.text("#heading")
        await press(stage, "down", "enter", "right", "down", "enter", "c")
        assert screen.opened.pins == {}
        assert f"cost {free.cost:.1f}" in stage.text("#heading")
        await press(stage, "z")
        assert len(screen.opened.pins) == 2


async def test_pinning_the_same_again_takes_the_pin_away(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        await press(stage, "down", "enter")
        (pinned,) = [row for row in stage.text("#choices").splitlines()[1:] if "*" in row]
        assert pinned.startswith(">")
        await press(stage, "enter")
        assert screen.opened.pins == {}
        await press(stage, "home", "enter")  # the plan's own choice can be settled too
        assert len(screen.opened.pins) == 1
        assert "1 pin +0.0" in stage.text("#heading")


async def test_pins_hold_over_two_runs_and_are_kept_apart(home, clock, tmp_path):
    path = written(tmp_path, "C,D,E,F,|")
    async with opened(home, clock) as stage:
        await press(stage, "down", "enter", "right", "down", "down", "enter")
        pins = dict(line_of(stage).opened.pins)
    async with opened(home, clock, path) as stage:
        assert line_of(stage).opened.pins == {}
        await press(stage, "down", "enter")
        mine = dict(line_of(stage).opened.pins)
        assert len(mine) == 1
    async with opened(home, clock) as stage:
        assert line_of(stage).opened.pins == pins
        assert "2 pins +" in stage.text("#heading")
        await press(stage, "escape")
        stage.app.open_line(path)
        await settle(stage)
        assert line_of(stage).opened.pins == mine


async def test_pins_of_notes_that_have_changed_are_left_out_and_told(home, clock, tmp_path):
    path = written(tmp_path, "C,D,E,F,|")
    async with opened(home, clock, path) as stage:
        await press(stage, "down", "enter")
    written(tmp_path, "C,D,E,G,|")
    async with opened(home, clock, path) as stage:
        assert line_of(stage).opened.pins == {}
        assert "have changed" in noted(stage)


async def test_damaged_pins_are_told_and_set_aside(home, clock):
    home.pins.mkdir(parents=True)
    pins_file(home.pins, "walk-up").write_text("what is this")
    async with opened(home, clock) as stage:
        assert line_of(stage).opened.pins == {}
        assert "damaged" in noted(stage)
    assert [path.read_text() for path in home.pins.iterdir()] == ["what is this"]


async def test_pins_that_cannot_be_kept_are_told_once_and_hold(home, clock):
    home.data.mkdir(parents=True, exist_ok=True)
    home.pins.write_text("a file where the folder should be")
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        for _ in range(3):
            await press(stage, "right", "down", "enter")
        stage.app.practice.pins.load("walk-up", WALK_UP)  # waits for the writing
        await settle(stage)
        assert len(screen.opened.pins) == 3
        assert noted(stage).count("cannot be kept") == 1


# Views


async def test_the_views_go_round(home, clock):
    async with opened(home, clock) as stage:
        names = []
        for _ in range(5):
            names.append(stage.text("#choices").split("\n")[0].split("  ")[0].strip())
            await press(stage, "v")
        assert names == ["Choices", "Positions", "Hardest", "Look-ahead", "Choices"]


async def test_positions_are_previewed_and_taken_over(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        costs = best_plan(WALK_UP).solution.by_position()
        ranked = sorted(costs, key=lambda position: (costs[position], position))
        of_the_plan = tab_rows(stage)
        await press(stage, "v", "down")
        previewed = tab_rows(stage)
        assert previewed != of_the_plan
        assert screen.opened.pins == {}
        await press(stage, "v", "v", "v")
        assert tab_rows(stage) == of_the_plan
        await press(stage, "v", "down", "enter")
        assert screen.opened.plan.states[0].anchor == ranked[1]
        assert screen.opened.plan.cost == pytest.approx(costs[ranked[1]])
        await press(stage, "z")
        assert screen.opened.pins == {}


async def test_the_hardest_are_gone_to(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        spots = [spot.index for spot in best_plan(WALK_UP).hard_spots]
        await press(stage, "end", "v", "v")
        for row, spot in enumerate(spots):
            assert screen.panel.cursor == row
            await press(stage, "enter")
            assert screen.note == spot
            await press(stage, "down")


async def test_h_goes_round_the_hard_spots_in_order(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        spots = sorted(spot.index for spot in best_plan(WALK_UP).hard_spots)
        assert spots
        going = []
        for _ in range(len(spots) + 1):
            await press(stage, "h")
            going.append(screen.note)
            marks = [row for row in tab_rows(stage) if "^" in row and not row.strip("^!* ")]
            assert "^!" in marks[0]
        assert going == [*[s for s in spots if s > 0], *spots][: len(going)]


@sizes
async def test_who_sees_less_far_has_rows_under_the_tab(home, clock, size):
    async with opened(home, clock, size=size) as stage:
        await press(stage, "v", "v", "v")
        rows = tab_rows(stage)
        for seen in range(4):
            assert any(row.startswith(f" +{seen}") for row in rows), rows
        cursor_stands_at(stage)
        await press(stage, "v")
        assert not any(row.startswith(" +0") for row in tab_rows(stage))


async def test_d_drills_the_notes_around_the_cursor_and_comes_back(home, clock):
    async with opened(home, clock) as stage:
        screen = line_of(stage)
        await press(stage, "right", "right", "right", "right", "right", "d")
        assert isinstance(stage.app.screen, DrillScreen)
        assert stage.question.kind == "ahead"
        assert "note 6" in stage.app.screen.session.program.title
        await press(stage, "escape")
        while not isinstance(stage.app.screen, LineScreen):
            await press(stage, "escape")
        assert line_of(stage) is screen
        assert screen.note == 5
        cursor_stands_at(stage)


# By mouse


@sizes
async def test_a_click_on_any_row_of_a_note_goes_to_it(home, clock, size):
    async with opened(home, clock, size=size) as stage:
        screen = line_of(stage)
        tab = screen.query_one(TabWidget)
        system = tab.sheet.system(tab.sheet.key_of(0))
        for row, (note, spot) in enumerate(sorted(system.spots.items())[:6]):
            await click(stage, TabWidget, (spot.column, row % 6))
            assert screen.note == note
            cursor_stands_at(stage)
        await click(stage, TabWidget, (0, 2))  # the strings' names
        assert screen.note == note


@pytest.mark.parametrize("left_handed", [False, True])
async def test_a_click_on_the_neck_goes_to_the_choice_there(home, clock, left_handed):
    settings = Settings(left_handed=left_handed)
    async with opened(home, clock, size=(120, 40), settings=settings) as stage:
        screen = line_of(stage)
        await press(stage, "end")
        note = screen.note
        frets = screen.neck.drawing.layout
        there = [
            (row, Place(*rated.choice[:2]))
            for row, rated in enumerate(screen.opened.choices(note))
            if frets.first_fret <= rated.choice.fret < frets.first_fret + len(frets.wires) - 1
        ]
        for place in {place for _, place in there}:
            await click(stage, "#neck", stage.offset(place))
            rated = screen.opened.choices(note)[screen.panel.cursor]
            assert rated.choice[:2] == tuple(place)
            assert screen.panel.cursor == min(row for row, other in there if other == place)


async def test_a_click_on_the_neck_leaves_the_preview_of_a_position(home, clock):
    async with opened(home, clock, size=(120, 40)) as stage:
        screen = line_of(stage)
        of_the_plan = tab_rows(stage)
        await press(stage, "v", "down")
        assert tab_rows(stage) != of_the_plan
        place = screen.opened.plan.states[0].place
        await click(stage, "#neck", stage.offset(place))
        assert stage.text("#choices").startswith("Choices")
        assert tab_rows(stage) == of_the_plan


# While it is being worked out


@pytest.fixture
def gate(monkeypatch):
    """Hold up every plan until the gate is opened."""
    event, work = threading.Event(), Job.work

    def held(self: Job, *args: object) -> Done:
        assert event.wait(5)
        return work(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(Job, "work", held)
    yield event
    event.set()


async def test_keys_work_while_the_plan_is_worked_out(home, clock, gate):
    async with on_stage(home, clock) as stage:
        stage.app.open_line("walk-up")
        while not isinstance(stage.app.screen, LineScreen):
            await stage.pilot.pause(0.01)
        while "being worked out" not in stage.text("#heading"):  # if it takes a while
            await stage.pilot.pause(0.01)
        keys = "right enter p z c v v v v h pagedown ctrl+right up down 2 g 3 enter n n end home"
        await tap(stage, *keys.split(), "right")
        assert line_of(stage).note == 1
        gate.set()
        await settle(stage)
        assert line_of(stage).opened.plan is not None
        assert "being worked out" not in stage.text("#heading")
        cursor_stands_at(stage)


async def test_a_line_can_be_left_while_its_plan_is_worked_out(home, clock, gate):
    async with on_stage(home, clock) as stage:
        stage.app.open_line("walk-up")
        while not isinstance(stage.app.screen, LineScreen):
            await stage.pilot.pause(0.01)
        await tap(stage, "escape")
        assert isinstance(stage.app.screen, TodayScreen)
        gate.set()
        await settle(stage)
        assert isinstance(stage.app.screen, TodayScreen)
        stage.app.open_line("walk-up")
        await settle(stage)
        assert line_of(stage).opened.plan is not None


# Lines that are out of the ordinary


async def test_notes_off_the_neck_are_told_and_the_rest_can_be_pinned(home, clock, tmp_path):
    path = written(tmp_path, "C,,F,,G,,C,|E,F,G,^c|")
    async with opened(home, clock, path) as stage:
        screen = line_of(stage)
        said = squeezed(stage.text("#why"))
        assert "Off the neck lies note 1 (C1, 4 semitones below)" in said
        assert "5-string" in said  # B0 lies below it
        off = [note.index for note in screen.opened.part.off]
        assert off == [0]
        assert any("x" in row for row in tab_rows(stage))
        await press(stage, "right", "right", "down", "enter")
        assert set(screen.opened.pins) == {2}
        await press(stage, "left", "left")
        assert "C1" in stage.text("#why")
        await press(stage, "enter", "h", "d")
        assert set(screen.opened.pins) == {2}


async def test_a_line_wholly_off_the_neck_says_so_and_does_no_harm(home, clock, tmp_path):
    path = written(tmp_path, "C,,,,D,,,,E,,,,|")
    async with opened(home, clock, path) as stage:
        screen = line_of(stage)
        assert "Off the neck lie note 1" in stage.text("#why")
        await press(stage, *"right enter z c v v v v h pagedown end down g 1 enter n d".split())
        assert stage.app.screen is screen
        assert screen.opened.pins == {}
        assert noted(stage)  # that there is nothing to drill
        assert not stage.app.crashed


async def test_views_of_a_line_wholly_off_the_neck_do_not_wait_for_ever(home, clock, tmp_path):
    path = written(tmp_path, "C,,,,D,,,,E,,,,|")
    async with opened(home, clock, path) as stage:
        for _ in range(4):
            assert "Being worked out" not in stage.text("#choices")
            await press(stage, "v")


async def test_an_empty_line_is_one_sentence(home, clock):
    async with on_stage(home, clock) as stage:
        empty = OpenLine("empty", Line("Empty", (), WALK_UP.bars), Settings(), {})
        stage.app.push_screen(LineScreen(empty))
        await settle(stage)
        assert "This line has no notes." in stage.text("#choices")
        assert "0 notes" in stage.text("#heading")
        keys = "right left up down enter z c v v v v h pagedown end home g 1 enter n 1 d"
        await press(stage, *keys.split())
        assert not stage.app.crashed
        assert "This line has no notes." in stage.text("#choices")
        assert noted(stage)  # that there is nothing to drill
        await press(stage, "escape")
        assert isinstance(stage.app.screen, TodayScreen)


async def test_one_note_and_open_strings_alone(home, clock, tmp_path):
    path = written(tmp_path, "E,,4|")
    async with opened(home, clock, path) as stage:
        await press(stage, *"right enter v v v v h pagedown pageup end home d".split())
        assert "1 note" in stage.text("#heading")
        assert not stage.app.crashed


async def test_a_pin_made_on_five_strings_does_no_harm_on_four(home, clock, tmp_path):
    path = written(tmp_path, "D,,E,,G,,C,|")
    five = Settings(neck=Neck(Tuning.parse("5-string")))
    async with opened(home, clock, path, settings=five) as stage:
        assert not line_of(stage).opened.part.off
        await press(stage, "down", "enter", "right", "down", "enter")
        pins = dict(line_of(stage).opened.pins)
        assert set(pins) == {0, 1}
    async with opened(home, clock, path) as stage:
        screen = line_of(stage)
        assert [note.index for note in screen.opened.part.off] == [0]
        assert screen.opened.plan is not None
        await press(stage, "right", "left", "right", "right", "down", "enter")
        assert not stage.app.crashed
        assert stage.app.screen is screen
        mine = dict(screen.opened.pins)[2]
    async with opened(home, clock, path, settings=five) as stage:
        assert line_of(stage).opened.pins == {**pins, 2: mine}


async def test_pins_that_this_neck_does_not_allow_are_told_and_kept(home, clock, tmp_path):
    path = written(tmp_path, "E,,G,,A,,C,|")
    five = Settings(neck=Neck(Tuning.parse("5-string")))
    async with opened(home, clock, path, settings=five) as stage:
        screen = line_of(stage)
        row = next(
            row for row, rated in enumerate(screen.opened.choices(1)) if rated.choice.string == 5
        )
        await press(stage, "right", *["down"] * row, "enter")
        pins = dict(screen.opened.pins)
        assert pins[1].string == 5
    async with opened(home, clock, path) as stage:
        screen = line_of(stage)
        assert "left out" in stage.text("#why")
        assert screen.opened.plan is not None
        assert screen.opened.pins == {}
        await press(stage, "right", "right", "down", "enter")
    async with opened(home, clock, path, settings=five) as stage:
        assert line_of(stage).opened.pins[1] == pins[1]
        assert set(line_of(stage).opened.pins) == {1, 2}


# Sizes and signs


@pytest.mark.parametrize("tuning", ["4-string", "5-string", "6-string"])
async def test_what_matters_is_inside_the_window(home, clock, tuning):
    settings = Settings(neck=Neck(Tuning.parse(tuning)))
    names = [str(pitch.name) for pitch in settings.neck.tuning.strings]
    async with opened(home, clock, settings=settings) as stage:
        for size in SIZES:
            await stage.pilot.resize_terminal(*size)
            for _ in range(4):
                await press(stage, "v")
                rows = [row[1] for row in tab_rows(stage) if row[2:4] == " |"]
                assert rows[: len(names)] == names
                cursor_stands_at(stage)
                parts_follow_each_other(stage)


def parts_follow_each_other(stage: Stage) -> None:
    """Heading, tab, neck and panel stand one under the other, above the keys."""
    screen = line_of(stage)
    parts = [part for part in screen.query("#heading, #tab, #neck, #panel") if part.display]
    for above, below in pairwise(parts):
        assert above.region.bottom <= below.region.y
    panel = screen.query_one(LinePanel)
    assert panel.display
    assert panel.region.bottom < screen.size.height
    list_rows = screen.query_one("#choices").region.height
    assert any(row.startswith(">") for row in stage.text("#choices").splitlines()[:list_rows])


@pytest.mark.parametrize("tuning", ["4-string", "5-string"])
async def test_in_ascii_all_of_the_window_is_ascii(home, clock, tuning):
    settings = Settings(
        neck=Neck(Tuning.parse(tuning)), ascii_only=True, left_handed=tuning == "5-string"
    )
    async with opened(home, clock, "lilt-in-flats", settings=settings) as stage:
        for size in SIZES:
            await stage.pilot.resize_terminal(*size)
            for keys in ("right", "down enter", "v", "down", "v", "v", "v", "g", "9 9 enter"):
                await press(stage, *keys.split())
                seen = "".join(window(stage))
                assert seen.isascii(), {sign for sign in seen if not sign.isascii()}


async def test_in_ascii_the_list_of_lines_is_ascii_from_the_first(home, clock, monkeypatch):
    monkeypatch.setattr(LinesScreen, "_read", lambda *_: None)  # nothing has been read yet
    async with on_stage(home, clock, settings=Settings(ascii_only=True)) as stage:
        await press(stage, "l")
        seen = "".join(window(stage))
        assert "walk-up" in seen
        assert seen.isascii(), {sign for sign in seen if not sign.isascii()}


async def test_without_colour_every_sign_is_there(home, clock, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(home, clock) as stage:
        await press(stage, "h", "down", "enter")
        marks = [row for row in tab_rows(stage) if row.strip() and not row.strip("^!* ")]
        assert any("^" in row for row in marks)
        assert any("!" in row for row in marks)
        assert any(">" in row for row in stage.text("#choices").splitlines())
        assert "*" in stage.text("#choices")
        await press(stage, "right")
        assert any("*" in row for row in tab_rows(stage) if not row.strip("^!* "))


async def test_a_pin_on_a_hard_spot_is_seen_under_the_cursor_too(home, clock):
    async with opened(home, clock) as stage:
        await press(stage, "h", "enter")
        (marks,) = [row for row in tab_rows(stage) if "^" in row and not row.strip("^!* ")]
        assert "^!*" in marks


async def test_left_handed_mirrors_the_neck_and_not_the_tab(home, clock):
    async with opened(home, clock, size=(120, 40)) as stage:
        right_handed, tab = line_of(stage).neck.drawing.layout, tab_rows(stage)
        assert not right_handed.mirrored
    async with opened(home, clock, size=(120, 40), settings=Settings(left_handed=True)) as stage:
        assert line_of(stage).neck.drawing.layout.mirrored
        assert tab_rows(stage) == tab


async def test_n_shows_the_neck_and_gives_its_room_away(home, clock):
    for size in SIZES:
        async with opened(home, clock, size=size) as stage:
            neck = stage.app.screen.query_one(NeckWidget)
            before = neck.display
            await press(stage, "n")
            assert neck.display is not before
            cursor_stands_at(stage)
            await press(stage, "n")
            assert neck.display is before


async def test_a_window_that_changes_keeps_the_cursor_in_sight(home, clock):
    async with opened(home, clock) as stage:
        await press(stage, "end")
        for size in ((60, 18), (120, 40), (57, 17), (200, 60), (80, 24)):
            await stage.pilot.resize_terminal(*size)
            await settle(stage)
            cursor_stands_at(stage)


# The list of lines


async def test_lines_are_listed_with_what_is_in_them_the_players_own_first(home, clock):
    written(home.lines, "C,D,E,F,|G,4|", "zebra.abc")
    (home.lines / "broken.abc").write_text("X:1\nK:C\n")
    async with on_stage(home, clock) as stage:
        await press(stage, "l")
        assert isinstance(stage.app.screen, LinesScreen)
        listed = stage.app.screen.query_one("#lines", PackList)
        names = [option.id for option in listed.options]
        assert names[:2] == ["broken", "zebra"]
        assert names[2:] == sorted(names[2:])
        assert "walk-up" in names
        prompts = {option.id: str(option.prompt) for option in listed.options}
        assert "5 notes" in prompts["zebra"]
        assert "2 bars" in prompts["zebra"]
        assert "48 notes" in prompts["walk-up"]
        assert listed.get_option("broken").disabled
        assert "broken.abc" in prompts["broken"]
        assert listed.highlighted == names.index("zebra")  # what can be opened
        await press(stage, "enter")
        assert line_of(stage).opened.name == "zebra"
        await press(stage, "escape", "escape")
        assert isinstance(stage.app.screen, TodayScreen)


async def test_a_path_that_is_none_is_told(home, clock):
    async with on_stage(home, clock) as stage:
        await press(stage, "l", "o")
        screen = stage.app.screen
        for typed in ("  ", "nothing.abc", "nothing", ".", "♭/♯.mid", "~/nothing.mid"):
            screen.query_one("#path", Input).value = typed
            await press(stage, "enter")
            assert stage.app.screen is screen
            assert bool(stage.text("#fault")) is bool(typed.strip()), typed
            assert not noted(stage)
        await press(stage, "escape")
        assert stage.app.screen is screen  # first to the list
        await press(stage, "escape")
        assert isinstance(stage.app.screen, TodayScreen)


async def test_a_path_of_nobodys_home_is_told(home, clock):
    async with on_stage(home, clock) as stage:
        await press(stage, "l", "o")
        stage.app.screen.query_one("#path", Input).value = "~nobody-at-all/a.abc"
        await press(stage, "enter")
        assert not stage.app.crashed
        assert stage.text("#fault")


async def test_a_path_is_typed_from_the_home_folder(home, clock, tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    written(tmp_path, "C,D,|", "mine.abc")
    async with on_stage(home, clock) as stage:
        await press(stage, "l", "o")
        stage.app.screen.query_one("#path", Input).value = "~/mine.abc"
        await press(stage, "enter")
        assert len(line_of(stage).opened.line.notes) == 2


async def test_what_a_reader_left_out_is_told(home, clock, tmp_path):
    path = written(tmp_path, "C,D,[E,G,]F,|")
    async with opened(home, clock, path) as stage:
        reading = find_line(path, None)
        for notice in reading.notices:
            assert str(notice) in noted(stage)


# Whatever is pressed


KEYS = (
    "right right right left ctrl+right ctrl+left home end pageup pagedown up down down enter p z c "
    "v v h n g 3 enter 0 1 2 3 4"
).split()


@pytest.mark.parametrize("seed", range(3))
async def test_whatever_is_pressed_plan_pins_and_cursor_agree(home, clock, seed):
    rng = random.Random(seed)
    size = SIZES[seed]
    async with opened(home, clock, size=size) as stage:
        screen = line_of(stage)
        for number in range(75):
            await tap(stage, rng.choice(KEYS))
            if number % 15 == 14:
                await settle(stage)
                if isinstance(stage.app.focused, BarPrompt):
                    await press(stage, "escape")
                while screen.panel.name != "Choices":
                    await press(stage, "v")
                opened_line = screen.opened
                assert stage.app.screen is screen
                assert not opened_line.waiting
                for note, pin in opened_line.pins.items():
                    assert pin.allows(opened_line.plan.states[note])
                cursor_stands_at(stage)
        pins = dict(screen.opened.pins)
    assert load_pins(home.pins, "walk-up", WALK_UP).pins == pins
