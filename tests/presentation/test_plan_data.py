"""The object that ``fretdrill plan --json`` prints, key by key: scripts use it."""

import json
from itertools import pairwise

import pytest

from fretdrill.hand.cost import CostModel
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan
from fretdrill.hand.planner import Planner
from fretdrill.hand.reasons import reasons
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.presentation.plan_data import path_data, plan_data
from tests.hand.lines import abc_line, planned, settled_plan

ALL = {"line", "neck", "hand", "cost", "notes", "shifts", "hard_spots", "reasons", "dropped"}
LINE = {"title", "tempo_bpm", "meter", "key", "notes"}
NECK = {"tuning", "frets", "scale_mm"}
HAND = {"size", "system", "pace_s_per_bit"}
NOTE = {
    "index", "bar", "beat", "onset_s", "duration_s", "midi", "name", "string", "fret",
    "finger", "position", "cost", "ready", "choices",
}  # fmt: skip
CHOICE = {"string", "fret", "finger", "regret"}
SHIFT = {
    "from_index", "to_index", "from_position", "to_position", "distance_mm", "needs_s",
    "available_s", "taken_from", "shortened_s",
}  # fmt: skip
HARD_SPOT = {"index", "bar", "beat", "cost", "terms"}
MOVE = {"frets", "mm", "needs_s", "available_s"}
COMPARED = {"kind", "text", "index", "chosen", "instead", "regret", "at"}
REASONS = {
    "frees finger": COMPARED | {"finger", "move"},
    "avoids shift": COMPARED | {"move"},
    "within reach": COMPARED | {"span_mm", "comfortable_mm"},
    "out of reach": {"kind", "text", "index", "position", "span_mm", "limit_mm"},
    "saves slur": COMPARED,
    "keeps slur": {"kind", "text", "index", "chosen", "technique"},
    "breaks slur": {"kind", "text", "index"},
    "covers move": {"kind", "text", "index", "shift"},
    "dead end": {"kind", "text", "index", "chosen", "instead"},
}
TAKEN_FROM = {"rest", "open string", "note length", "none"}
MUSIC = "G,,,C,,E,,(G,, | C,)D,E,G, | A,,zA,C | (3E,,,E,,E, z8 (G,,,C,,)(C,,D,,)|"


def data_of(plan, dropped=()):
    """Return the object as a script reads it."""
    text = json.dumps(plan_data(plan, reasons(plan), dropped), allow_nan=False)
    assert text.isascii()
    return json.loads(text)


@pytest.fixture(scope="module")
def data():
    return data_of(planned(MUSIC, metre="none", bpm=150))


def numbers(*values):
    """Whether all are numbers, and none a bool."""
    return all(isinstance(value, int | float) and not isinstance(value, bool) for value in values)


def whole(*values):
    return all(type(value) is int for value in values)


def test_keys_at_every_level(data):
    assert set(data) == ALL
    assert set(data["line"]) == LINE
    assert set(data["neck"]) == NECK
    assert set(data["hand"]) == HAND
    assert data["notes"]
    assert data["shifts"]
    assert data["hard_spots"]
    for note in data["notes"]:
        assert set(note) == NOTE
        assert note["choices"]
        assert all(set(choice) == CHOICE for choice in note["choices"])
    assert all(set(shift) == SHIFT for shift in data["shifts"])
    assert all(set(spot) == HARD_SPOT for spot in data["hard_spots"])
    for reason in data["reasons"]:
        assert set(reason) == REASONS[reason["kind"]]
        for name in {"chosen", "instead"} & set(reason):
            assert set(reason[name]) == CHOICE - {"regret"}
        if reason.get("move"):
            assert set(reason["move"]) == MOVE
        if "shift" in reason:
            assert set(reason["shift"]) == SHIFT
            assert reason["shift"] in data["shifts"]


def test_types(data):
    line, neck, hand = data["line"], data["neck"], data["hand"]
    assert isinstance(line["title"], str)
    assert isinstance(line["meter"], str)
    assert isinstance(line["key"], str)
    assert whole(line["notes"], neck["frets"])
    assert numbers(line["tempo_bpm"], neck["scale_mm"], hand["pace_s_per_bit"], data["cost"])
    assert all(isinstance(name, str) for name in neck["tuning"])
    for note in data["notes"]:
        whole_numbers = ("index", "bar", "midi", "string", "fret", "finger", "position", "ready")
        assert whole(*(note[name] for name in whole_numbers))
        assert numbers(note["beat"], note["onset_s"], note["duration_s"], note["cost"])
        assert isinstance(note["name"], str)
        for choice in note["choices"]:
            assert whole(choice["string"], choice["fret"], choice["finger"])
            assert numbers(choice["regret"])
    for shift in data["shifts"]:
        assert whole(
            *(shift[f"{way}_{what}"] for way in ("from", "to") for what in ("index", "position"))
        )
        assert numbers(*(value for name, value in shift.items() if name.endswith(("_s", "_mm"))))
        assert shift["taken_from"] in TAKEN_FROM
    for spot in data["hard_spots"]:
        assert numbers(spot["cost"], *spot["terms"].values())
        assert sum(spot["terms"].values()) == pytest.approx(spot["cost"])
    for reason in data["reasons"]:
        assert isinstance(reason["text"], str)
        assert reason["text"].endswith(".")


def test_notes_are_counted_from_1(data):
    count = data["line"]["notes"]
    assert [note["index"] for note in data["notes"]] == list(range(1, count + 1))
    for shift in data["shifts"]:
        one, two = data["notes"][shift["from_index"] - 1 : shift["to_index"]]
        assert one["position"] == shift["from_position"]
        assert two["position"] == shift["to_position"]
    positions = [note["position"] for note in data["notes"]]
    moved = [i for i, (a, b) in enumerate(pairwise(positions), 1) if a != b]
    assert [shift["from_index"] for shift in data["shifts"]] == moved
    for spot in data["hard_spots"]:
        note = data["notes"][spot["index"] - 1]
        assert {name: note[name] for name in ("bar", "beat", "cost")} == {
            name: spot[name] for name in ("bar", "beat", "cost")
        }
    for reason in data["reasons"]:
        note = data["notes"][reason["index"] - 1]
        if "chosen" in reason:
            assert reason["chosen"] == {name: note[name] for name in ("string", "fret", "finger")}
        if "at" in reason:
            assert reason["index"] < reason["at"] <= count


def test_cost_is_the_sum_of_the_notes(data):
    assert sum(note["cost"] for note in data["notes"]) == pytest.approx(data["cost"])


def test_choices_are_sorted_and_the_chosen_one_costs_nothing_more(data):
    for note in data["notes"]:
        regrets = [choice["regret"] for choice in note["choices"]]
        assert regrets == sorted(regrets)
        assert regrets[0] == 0
        chosen = {**{name: note[name] for name in ("string", "fret", "finger")}, "regret": 0}
        assert chosen in note["choices"]


def test_open_strings_are_finger_0():
    data = data_of(planned("A,,,4"))
    (note,) = data["notes"]
    assert (note["string"], note["fret"], note["finger"]) == (3, 0, 0)
    for choice in note["choices"]:
        assert (choice["fret"] == 0) == (choice["finger"] == 0)


def test_a_small_line_by_hand():
    plan = settled_plan("z G,,,2 C,,-|C,,z D,,2", (4, 3, 1, 3), (3, 3, 1, 3), (3, 5, 4, 3), key="F")
    data = data_of(plan, ["line 3: gone"])
    assert data["line"] == {
        "title": "Test", "tempo_bpm": 120, "meter": "4/4", "key": "F major", "notes": 3,
    }  # fmt: skip
    assert data["neck"] == {"tuning": ["E1", "A1", "D2", "G2"], "frets": 24, "scale_mm": 863.6}
    assert data["hand"] == {"size": "medium", "system": "reach", "pace_s_per_bit": 0.08}
    assert data["dropped"] == ["line 3: gone"]
    names = [name for name in NOTE if name not in ("cost", "choices", "ready")]
    expected = [
        (1, 1, 2, 0.5, 1.0, 31, "G1", 4, 3, 1, 3),
        (2, 1, 4, 1.5, 1.0, 36, "C2", 3, 3, 1, 3),  # tied notes are one
        (3, 2, 3, 3.0, 1.0, 38, "D2", 3, 5, 4, 3),
    ]
    order = (
        "index", "bar", "beat", "onset_s", "duration_s", "midi", "name", "string", "fret",
        "finger", "position",
    )  # fmt: skip
    assert sorted(order) == sorted(names)
    assert [tuple(note[name] for name in order) for note in data["notes"]] == expected
    assert [note["ready"] for note in data["notes"]] == [2, 1, 0]
    assert data["shifts"] == []


def test_ready_by_hand():
    # In V fingers lie over 5 to 8, in VI over 6 to 9; an open string is always ready.
    plan = settled_plan(
        "A,,,E,,^F,,=F,,|D,,4",
        (4, 5, 1, 5), (3, 7, 3, 5), (3, 9, 4, 6), (3, 8, 3, 6), (2, 0, 0, 6),
    )  # fmt: skip
    assert [note["ready"] for note in data_of(plan)["notes"]] == [2, 2, 2, 1, 0]


LOW, HIGH = (4, 3, 1, 3), (4, 8, 1, 8)


@pytest.mark.parametrize(
    ("music", "hands", "taken_from"),
    [
        ("G,,,C,,z2", (LOW, HIGH), "note length"),
        ("G,,,zC,,z", (LOW, HIGH), "rest"),
        ("A,,,C,,z2", ((3, 0, 0, 3), HIGH), "open string"),
        ("(G,,,C,,)z2", (LOW, HIGH), "none"),
    ],
)
def test_where_a_shift_takes_its_time_from(music, hands, taken_from):
    (shift,) = data_of(settled_plan(music, *hands))["shifts"]
    assert shift["taken_from"] == taken_from
    assert (shift["shortened_s"] > 0) == (taken_from == "note length")
    assert (shift["from_index"], shift["to_index"]) == (1, 2)
    assert (shift["from_position"], shift["to_position"]) == (3, 8)
    assert shift["distance_mm"] == pytest.approx(182.17, abs=0.01)


def test_pickup_and_no_key():
    line = abc_line("G,,,|C,,4", metre="3/4", key="none")
    solution = Planner(CostModel(Neck(), Hand())).solve(line)
    data = data_of(Plan(line, solution, solution.best()))
    assert [(note["bar"], note["beat"]) for note in data["notes"]] == [(0, 3), (1, 1)]
    assert data["line"]["meter"] == "3/4"


def test_it_is_the_neck_and_hand_planned_for():
    model = CostModel(Neck(Tuning.parse("Eb1 Ab1 Db2 Gb2"), 20, 762.0), Hand.parse("105", "1-2-4"))
    data = data_of(planned("A,,,4", model=model))
    assert data["neck"] == {"tuning": ["Eb1", "Ab1", "Db2", "Gb2"], "frets": 20, "scale_mm": 762}
    assert data["hand"] == {"size": "105 mm", "system": "1-2-4", "pace_s_per_bit": 0.08}


def test_ways_to_play():
    plan = planned("G,,,C,,D,,C,,")
    ways = [path_data(path) for path in plan.solution.best_paths(4)]
    assert [way["cost"] for way in ways] == sorted(way["cost"] for way in ways)
    assert ways[0]["cost"] == plan.cost
    assert all(set(way) == {"cost", "notes"} for way in ways)
    assert all(
        set(note) == {"string", "fret", "finger", "position"}
        for way in ways
        for note in way["notes"]
    )
    seen = {tuple((n["string"], n["fret"], n["finger"]) for n in way["notes"]) for way in ways}
    assert len(seen) == 4
