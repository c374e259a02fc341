"""The settings file: defaults, faults all at once, and what a person wrote stays."""

import dataclasses
import os
import tomllib

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError, ManyFaults
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.settings import (
    KEY_ROWS,
    Settings,
    load_settings,
    read_settings,
    save_settings,
)

WRITTEN = """\
# My five-string.
[neck]
tuning = "5-string"   # low B
frets = 21

[hand]
size = 105  # measured

[keys.commands]
quit = "ctrl+x"
"""


@pytest.fixture
def path(home):
    home.config.mkdir(parents=True)
    return home.settings


def faults_of(content: dict[str, object]) -> list[str]:
    with pytest.raises(ManyFaults) as caught:
        read_settings(content, "settings.toml")
    return [str(fault) for fault in caught.value.faults]


def test_no_file_means_a_four_string_bass_of_24_frets_and_34_inches(home):
    loaded = load_settings(home.settings)
    assert loaded == Settings()
    assert loaded.neck.tuning.preset == "4-string"
    assert loaded.neck.frets == 24
    assert loaded.neck.scale_mm == pytest.approx(34 * 25.4)
    assert (loaded.hand.size, loaded.hand.system) == ("medium", "reach")
    assert (loaded.accidentals, loaded.left_handed, loaded.ascii_only) == ("flats", False, False)
    assert not home.config.exists()


def test_an_empty_file_means_the_defaults_too(path):
    path.touch()
    assert load_settings(path) == Settings()


def test_what_is_written_is_read(path):
    path.write_text(WRITTEN, encoding="utf-8")
    loaded = load_settings(path)
    assert loaded.neck.tuning.preset == "5-string"
    assert loaded.neck.frets == 21
    assert loaded.hand.size == "105 mm"
    assert loaded.commands == {"quit": "ctrl+x"}
    assert loaded.accidentals == "flats"


@pytest.mark.parametrize("layout", sorted(KEY_ROWS))
def test_every_keyboard_layout_has_four_rows_of_ten_keys_of_their_own(layout):
    rows = KEY_ROWS[layout]
    assert [len(row) for row in rows] == [10] * 4
    assert len(set("".join(rows))) == 40
    assert read_settings({"keys": {"rows": layout}}, "s").key_layout == layout


def test_every_fault_comes_at_once_with_key_and_nearest_name():
    content = {
        "neck": {"tuning": "5-strng", "frets": 37, "scale_mm": 10, "fretz": 1},
        "hand": {"size": "medum", "system": "one-per-frett"},
        "notes": {"accidentals": "flat"},
        "screen": {"left_handed": 1, "theme": "drak"},
        "keys": {"rows": "qwert", "commands": 3},
        "nack": {},
    }
    found = faults_of(content)
    expected = {
        "neck.tuning": "'5-string'",
        "neck.frets": "37",
        "neck.scale_mm": "10",
        "neck.fretz": "'frets'",
        "hand.size": "'medium'",
        "hand.system": "'one-per-fret'",
        "notes.accidentals": "'flats'",
        "screen.left_handed": "true or false",
        "screen.theme": "'dark'",
        "keys.rows": "qwert",
        "keys.commands": "table",
        "nack": "'neck'",
    }
    assert len(found) == len(expected)
    for key, words in expected.items():
        (fault,) = [line for line in found if line.startswith(f"settings.toml: {key}: ")]
        assert words in fault


@pytest.mark.parametrize(
    ("content", "key"),
    [
        ({"neck": 3}, "neck"),
        ({"neck": []}, "neck"),
        ({"hand": {"size": True}}, "hand.size"),
        ({"hand": {"size": 59}}, "hand.size"),
        ({"hand": {"size": float("nan")}}, "hand.size"),
        pytest.param({"hand": {"size": 10**400}}, "hand.size", id="size of 400 digits"),
        pytest.param({"neck": {"scale_mm": 10**400}}, "neck.scale_mm", id="scale of 400 digits"),
        ({"keys": {"rows": ["abc", "def", "ghi"]}}, "keys.rows"),
        ({"keys": {"rows": ["abc", "def", "ghi", "jka"]}}, "keys.rows"),
        ({"keys": {"commands": {"quit": ""}}}, "keys.commands"),
        ({"neck": {"tuning": "C8 C9", "frets": 12}}, "neck"),
    ],
)
def test_one_fault_names_its_key(content, key):
    (fault,) = faults_of(content)
    assert fault.startswith(f"settings.toml: {key}: ")


def test_a_file_that_is_not_toml_is_one_line(path):
    path.write_text("[neck\n", encoding="utf-8")
    with pytest.raises(ManyFaults, match="not TOML"):
        load_settings(path)


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"#" * 2_000_000], ids=["binary", "big"])
def test_a_file_that_is_no_text_is_one_line(path, content):
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        load_settings(path)
    assert "\n" not in str(caught.value)


@st.composite
def any_settings(draw: st.DrawFn) -> Settings:
    tuning = draw(
        st.sampled_from(("4-string", "6-string", "guitar", "A0 D1 G1", "Eb1 Ab1 Db2 Gb2"))
    )
    neck = Neck(
        Tuning.parse(tuning),
        draw(st.integers(12, 36)),
        draw(st.sampled_from((863.6, 762.0, 800.5))),
    )
    hand = Hand.parse(
        draw(st.sampled_from(("small", "medium", "large", "105 mm", "97.5"))),
        draw(st.sampled_from(("reach", "one-per-fret", "1-2-4"))),
    )
    return Settings(
        neck=neck,
        hand=hand,
        accidentals=draw(st.sampled_from(("flats", "sharps", "both"))),
        left_handed=draw(st.booleans()),
        ascii_only=draw(st.booleans()),
        theme=draw(st.sampled_from(("auto", "dark", "light"))),
        key_hints=draw(st.booleans()),
        key_rows=draw(
            st.sampled_from(
                (*KEY_ROWS.values(), ("123", "qwe", "asd", "yxc"), ("1", "2", "3", "4"))
            )
        ),
    )


@given(any_settings(), any_settings())
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_what_is_saved_is_loaded_again(tmp_path, first, then):
    file = tmp_path / "settings.toml"
    file.unlink(missing_ok=True)
    for chosen in (first, then):
        save_settings(file, chosen)
        assert load_settings(file) == chosen


def test_saving_keeps_comments_order_and_commands(path):
    path.write_text(WRITTEN, encoding="utf-8")
    loaded = load_settings(path)
    save_settings(path, dataclasses.replace(loaded, left_handed=True))
    after = path.read_text(encoding="utf-8")
    for kept in ("# My five-string.", "# low B", "# measured", 'quit = "ctrl+x"'):
        assert kept in after
    assert after.index("[neck]") < after.index("[hand]") < after.index("[keys.commands]")
    assert load_settings(path) == dataclasses.replace(loaded, left_handed=True)


def test_saving_twice_changes_nothing_more(path):
    path.write_text(WRITTEN, encoding="utf-8")
    save_settings(path, load_settings(path))
    once = path.read_bytes()
    save_settings(path, load_settings(path))
    assert path.read_bytes() == once
    assert tomllib.loads(once.decode())["neck"]["tuning"] == "5-string"


def test_saving_makes_the_folder(home):
    save_settings(home.settings, Settings())
    assert load_settings(home.settings) == Settings()


@pytest.mark.parametrize("broken", ["os.replace", "os.fsync"])
def test_the_old_file_is_whole_when_saving_fails(path, monkeypatch, broken):
    path.write_text(WRITTEN, encoding="utf-8")

    def fail(*_args: object, **_options: object) -> None:
        raise OSError("the disk is full")

    monkeypatch.setattr(broken, fail)
    with pytest.raises(OSError, match="full"):
        save_settings(path, Settings(left_handed=True))
    monkeypatch.undo()
    assert path.read_bytes() == WRITTEN.encode()
    assert load_settings(path).hand.size == "105 mm"


def test_a_draft_is_not_left_behind(path):
    save_settings(path, Settings())
    assert os.listdir(path.parent) == [path.name]


def test_a_linked_file_stays_a_link(path, tmp_path):
    real = tmp_path / "dotfiles.toml"
    real.write_text(WRITTEN, encoding="utf-8")
    path.unlink(missing_ok=True)
    path.symlink_to(real)
    save_settings(path, load_settings(path))
    assert path.is_symlink()
    assert load_settings(real) == load_settings(path)


def test_a_section_that_is_no_table_any_more_is_said(path):
    path.write_text("neck = 5\n", encoding="utf-8")
    with pytest.raises(InputError, match="neck is not a table any more"):
        save_settings(path, Settings())
    assert path.read_text(encoding="utf-8") == "neck = 5\n"


def test_a_row_of_too_many_keys_is_a_fault():
    with pytest.raises(ManyFaults, match="more than 10 keys"):
        read_settings({"keys": {"rows": ["1234567890-", "q", "a", "z"]}}, "s")
