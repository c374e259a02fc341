"""Tables of settings, read with all their faults at once."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine import table
from fretdrill.engine.packs import read_drill
from fretdrill.engine.table import Setting, read_table
from fretdrill.errors import InputError

SETTINGS = {
    "name": Setting(table.text, required=True),
    "count": Setting(table.whole_number(1, 9), 3),
    "size": Setting(table.number(0.5, 2.0), 1.0),
    "on": Setting(table.flag, True),
    "order": Setting(table.one_of("order", ("shuffled", "listed")), "shuffled"),
    "words": Setting(table.list_of(table.text), ("one",)),
}

JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.integers(10**300, 10**400)
    | st.floats()
    | st.text(max_size=8)
    | st.dates()
    | st.binary(max_size=4),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)


def faults_of(written: dict[str, object], path: str = "") -> list[str]:
    return [str(fault) for fault in read_table(written, SETTINGS, "a.toml", path)[1]]


def test_what_is_not_written_has_its_default():
    values, faults = read_table({"name": " Slow "}, SETTINGS, "a.toml")
    assert faults == []
    assert values == {
        "name": "Slow",
        "count": 3,
        "size": 1.0,
        "on": True,
        "order": "shuffled",
        "words": ("one",),
    }


def test_all_faults_come_at_once_with_file_and_key():
    written = {"count": 10, "size": "big", "on": 1, "order": "listd", "wrods": 1, "words": []}
    faults = faults_of(written, "drill[2]")
    assert len(faults) == 7
    for key in ("name", "count", "size", "on", "order", "wrods", "words"):
        assert sum(fault.startswith(f"a.toml: drill[2].{key}: ") for fault in faults) == 1
    assert any("did you mean 'listed'" in fault for fault in faults)
    assert any("did you mean 'words'" in fault for fault in faults)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("name", ""),
        ("name", "  "),
        ("name", 5),
        ("count", 0),
        ("count", 10),
        ("count", 2.0),
        ("count", True),
        ("count", "3"),
        ("size", 0.49),
        ("size", 2.01),
        ("size", float("nan")),
        ("size", float("inf")),
        ("size", False),
        ("on", 0),
        ("on", "true"),
        ("order", "random"),
        ("words", [""]),
        ("words", [["one"]]),
        pytest.param("size", 10**400, id="size of 400 digits"),
        pytest.param("count", 10**400, id="count of 400 digits"),
        pytest.param("count", 16**5000, id="count longer than Python prints"),
    ],
)
def test_a_value_of_the_wrong_sort_is_one_worded_fault(key, value):
    (fault,) = faults_of({"name": "x", key: value})
    assert fault.startswith(f"a.toml: {key}: ")
    assert "\n" not in fault


@pytest.mark.parametrize(
    ("key", "value", "read"),
    [
        ("count", 1, 1),
        ("count", 9, 9),
        ("size", 2, 2.0),
        ("words", "one", ("one",)),
        ("words", ["b", "a"], ("b", "a")),
    ],
)
def test_bounds_belong_to_the_range_and_one_stands_for_a_list_of_one(key, value, read):
    values, faults = read_table({"name": "x", key: value}, SETTINGS, "a.toml")
    assert (values[key], faults) == (read, [])


def test_every_fault_of_a_list_is_told():
    settings_of_words = {"order": Setting(table.list_of(table.one_of("order", ("a", "b"))))}
    _, faults = read_table({"order": ["x1", "a", "x2"]}, settings_of_words, "a.toml")
    told = "\n".join(map(str, faults))
    assert "x1" in told
    assert "x2" in told


@given(
    st.dictionaries(
        st.sampled_from((*SETTINGS, "kind", "scope", "notes", "nonsense")), JUNK, max_size=6
    )
)
@settings(max_examples=300)
def test_any_table_is_read_or_refused_in_words(written):
    for found in (faults_of(written), read_drill(written, "a.toml")[1]):
        assert all(str(fault).startswith("a.toml") for fault in found)


def test_parsed_passes_the_text_on():
    assert table.parsed(str.upper)(" ab ") == "AB"
    with pytest.raises(InputError, match="is not text"):
        table.parsed(str.upper)(3)
