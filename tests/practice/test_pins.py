"""Pins on disk: what is kept comes back, and what is wrong with a file harms nothing else.

No outside source: the file is our own. What is promised is in the module's docstring.
"""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fretdrill.hand.states import Pin
from fretdrill.neck.neck import MAX_FRETS
from fretdrill.neck.tuning import MAX_STRINGS
from fretdrill.practice import pins as module
from fretdrill.practice.pins import PinKeeper, fingerprint, load_pins, pins_file, save_pins
from fretdrill.theory.pitch import Pitch, simple_name
from tests.hand.lines import abc_line

LINE = abc_line("E,,,F,,,G,,,A,,,|C,,D,,E,,F,,|")
OTHER = abc_line("E,,,F,,,G,,,A,,,|C,,D,,E,,G,,|")
PINS = {4: Pin(2, 3, 5), 0: Pin(position=3), 6: Pin(0, 2, 0)}

one_pin = st.builds(
    Pin,
    st.none() | st.integers(0, 4),
    st.none() | st.integers(1, MAX_STRINGS),
    st.none() | st.integers(0, MAX_FRETS),
    st.none() | st.integers(1, MAX_FRETS),
)
all_pins = st.dictionaries(st.integers(0, len(LINE.notes) - 1), one_pin)
names = st.text(min_size=1, max_size=30).filter(lambda name: name.strip() and "\n" not in name)


def only_file(folder: Path) -> Path:
    (path,) = folder.iterdir()
    return path


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(all_pins, names)
def test_what_is_kept_comes_back(tmp_path, pins, name):
    save_pins(tmp_path, name, LINE, pins)
    found = load_pins(tmp_path, name, LINE)
    assert found.pins == pins
    assert found.notice == ""
    assert pins_file(tmp_path, name).exists() is bool(pins)


def test_a_name_may_have_a_line_break(tmp_path):
    save_pins(tmp_path, "a\nb.abc", LINE, PINS)
    assert load_pins(tmp_path, "a\nb.abc", LINE).pins == PINS


@given(names, names)
def test_names_that_differ_have_files_that_differ(one, other):
    files = {pins_file(Path("pins"), name).name for name in (one, other)}
    assert len(files) == len({one, other})
    for file in files:
        assert file.isascii()
        assert len(file) < 64
        assert not set(file) & set('/\\:*?"<>| ')


def test_names_alike_to_the_eye_and_to_the_disk_are_kept_apart(tmp_path):
    alike = ["walk-up", "Walk-Up", "walk up", "/a/walk-up.abc", "/b/walk-up.abc", "♭", "♯"]
    for fret, name in enumerate(alike):
        save_pins(tmp_path, name, LINE, {0: Pin(fret=fret)})
    for fret, name in enumerate(alike):
        assert load_pins(tmp_path, name, LINE).pins == {0: Pin(fret=fret)}


def test_a_file_says_what_it_is_of_and_counts_notes_from_1(tmp_path):
    save_pins(tmp_path, 'a "b"\\c', LINE, {4: Pin(2, 3, 5)})
    content = tomllib.loads(only_file(tmp_path).read_text(encoding="utf-8"))
    assert content == {
        "line": 'a "b"\\c',
        "notes": fingerprint(LINE),
        "pin": [{"note": 5, "finger": 2, "string": 3, "fret": 5}],
    }


def test_without_pins_there_is_no_file(tmp_path):
    save_pins(tmp_path, "a", LINE, {})
    assert not any(tmp_path.iterdir())
    save_pins(tmp_path, "a", LINE, PINS)
    save_pins(tmp_path, "a", LINE, {})
    assert not any(tmp_path.iterdir())


def test_nothing_is_found_where_nothing_is(tmp_path):
    found = load_pins(tmp_path / "nowhere", "a", LINE)
    assert (found.pins, found.notice) == ({}, "")


# Notes that have changed


def changed(**of_the_third: object):
    notes = [*LINE.notes]
    notes[2] = replace(notes[2], **of_the_third)
    return replace(LINE, notes=tuple(notes))


@pytest.mark.parametrize(
    "other",
    [
        OTHER,
        changed(pitch=Pitch(32, simple_name(32))),
        changed(duration=LINE.notes[2].duration / 2),
        replace(LINE, notes=LINE.notes[:-1]),
    ],
)
def test_pins_of_other_notes_are_left_out_and_told(tmp_path, other):
    save_pins(tmp_path, "a", LINE, PINS)
    before = only_file(tmp_path).read_bytes()
    found = load_pins(tmp_path, "a", other)
    assert found.pins == {}
    assert "have changed" in found.notice
    assert only_file(tmp_path).read_bytes() == before  # until there are new ones
    assert load_pins(tmp_path, "a", LINE).pins == PINS


def test_new_pins_of_changed_notes_keep_the_old_ones_beside(tmp_path):
    save_pins(tmp_path, "a", LINE, PINS)
    before = only_file(tmp_path).read_bytes()
    save_pins(tmp_path, "a", OTHER, {1: Pin(4)})
    (old,) = tmp_path.glob("*.old.toml")
    assert old.read_bytes() == before
    assert load_pins(tmp_path, "a", OTHER).pins == {1: Pin(4)}


def test_a_title_and_marks_may_change(tmp_path):
    save_pins(tmp_path, "a", LINE, PINS)
    other = replace(changed(finger=3, where="elsewhere"), title="New")
    assert load_pins(tmp_path, "a", other).pins == PINS


# Files that are damaged


HEAD = f'line = "a"\nnotes = "{fingerprint(LINE)}"\n'
DAMAGED = {
    "not TOML": b"what is this",
    "not text": b"\xff\xfe\x00",
    "empty": b"",
    "cut off": HEAD.encode() + b"[[pin]]\nnote = 1\nfing",
    "no note": HEAD.encode() + b"[[pin]]\nfinger = 1\n",
    "a finger too many": HEAD.encode() + b"[[pin]]\nnote = 1\nfinger = 5\n",
    "note 0": HEAD.encode() + b"[[pin]]\nnote = 0\nfinger = 1\n",
    "string 0": HEAD.encode() + b"[[pin]]\nnote = 1\nstring = 0\n",
    "a text for a number": HEAD.encode() + b'[[pin]]\nnote = 1\nfret = "5"\n',
    "true for a number": HEAD.encode() + b"[[pin]]\nnote = 1\nfret = true\n",
    "an unknown key": HEAD.encode() + b"[[pin]]\nnote = 1\nfinegr = 1\n",
    "pins that are no list": HEAD.encode() + b"pin = 3\n",
    "pins that are no tables": HEAD.encode() + b"pin = [1, 2]\n",
    "no fingerprint": b'line = "a"\n',
    "an absurd number": HEAD.encode() + b"[[pin]]\nnote = " + b"9" * 6000 + b"\n",
}


@pytest.mark.parametrize("name", DAMAGED)
def test_a_damaged_file_is_set_aside_whole(tmp_path, name):
    path = pins_file(tmp_path, "a")
    path.write_bytes(DAMAGED[name])
    found = load_pins(tmp_path, "a", LINE)
    assert found.pins == {}
    assert "damaged" in found.notice
    assert "\n" not in found.notice
    assert len(found.notice) < 400
    kept = only_file(tmp_path)
    assert kept.name in found.notice
    assert kept.read_bytes() == DAMAGED[name]
    assert load_pins(tmp_path, "a", LINE).notice == ""  # told once


def test_each_damaged_file_is_kept(tmp_path):
    for name in DAMAGED:
        pins_file(tmp_path, "a").write_bytes(DAMAGED[name])
        load_pins(tmp_path, "a", LINE)
    assert {path.read_bytes() for path in tmp_path.iterdir()} == set(DAMAGED.values())


def test_saving_over_a_damaged_file_keeps_it_too(tmp_path):
    pins_file(tmp_path, "a").write_bytes(b"what is this")
    save_pins(tmp_path, "a", LINE, PINS)
    assert load_pins(tmp_path, "a", LINE).pins == PINS
    assert b"what is this" in {path.read_bytes() for path in tmp_path.iterdir()}


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.binary(max_size=200))
def test_whatever_stands_in_a_file_there_is_something_to_go_on_with(tmp_path, content):
    pins_file(tmp_path, "a").write_bytes(content)
    found = load_pins(tmp_path, "a", LINE)
    assert found.pins == {}
    assert found.notice


def test_a_folder_in_the_files_place_is_told(tmp_path):
    pins_file(tmp_path, "a").mkdir()
    found = load_pins(tmp_path, "a", LINE)
    assert found.pins == {}
    assert "cannot be read" in found.notice


def test_pins_past_the_end_are_left_out(tmp_path):
    path = pins_file(tmp_path, "a")
    path.write_text(HEAD + "[[pin]]\nnote = 9\nfinger = 1\n[[pin]]\nnote = 8\nfinger = 2\n")
    assert load_pins(tmp_path, "a", LINE).pins == {7: Pin(2)}


# Keeping them in the background


def keeper(folder: Path) -> tuple[PinKeeper, list[str]]:
    told: list[str] = []
    return PinKeeper(folder, told.append), told


def test_the_last_of_many_saves_is_what_is_read(tmp_path):
    pins, told = keeper(tmp_path / "pins")
    for fret in range(30):
        pins.save("a", LINE, {0: Pin(fret=fret)})
    assert pins.load("a", LINE).pins == {0: Pin(fret=29)}
    pins.close()
    assert told == []
    assert load_pins(tmp_path / "pins", "a", LINE).pins == {0: Pin(fret=29)}


def test_closing_writes_what_is_left(tmp_path):
    pins, _ = keeper(tmp_path)
    for number in range(20):
        pins.save(str(number), LINE, PINS)
    pins.close()
    assert len(list(tmp_path.iterdir())) == 20


def test_pins_are_taken_as_they_were_when_saved(tmp_path):
    pins, _ = keeper(tmp_path)
    mine = dict(PINS)
    pins.save("a", LINE, mine)
    mine.clear()
    pins.close()
    assert load_pins(tmp_path, "a", LINE).pins == PINS


def test_a_folder_that_cannot_be_is_told_once(tmp_path):
    (tmp_path / "pins").write_text("a file where the folder should be")
    pins, told = keeper(tmp_path / "pins")
    assert pins.load("a", LINE).pins == {}
    for _ in range(3):
        pins.save("a", LINE, PINS)
    pins.close()
    assert len(told) == 1
    assert "cannot be kept" in told[0]


def test_trouble_that_comes_back_is_told_again(tmp_path):
    folder = tmp_path / "pins"
    folder.write_text("in the way")
    pins, told = keeper(folder)
    pins.save("a", LINE, PINS)
    pins.load("a", LINE)  # waits
    folder.unlink()
    pins.save("a", LINE, PINS)
    assert pins.load("a", LINE).pins == PINS
    folder.rename(tmp_path / "elsewhere")
    folder.write_text("in the way again")
    pins.save("a", LINE, PINS)
    pins.close()
    assert len(told) == 2


def test_an_error_nobody_foresaw_is_told_not_swallowed(tmp_path, monkeypatch):
    def fails(*_: object) -> None:
        raise ValueError("odd")

    monkeypatch.setattr(module, "write_whole", fails)
    pins, told = keeper(tmp_path)
    pins.save("a", LINE, PINS)
    pins.close()
    assert len(told) == 1
    assert "odd" in told[0]


def test_a_disk_that_fills_up_leaves_the_old_pins_whole(tmp_path, monkeypatch):
    save_pins(tmp_path, "a", LINE, PINS)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    with pytest.raises(OSError, match="No space"):
        save_pins(tmp_path, "a", LINE, {0: Pin(1)})
    assert load_pins(tmp_path, "a", LINE).pins == PINS
    assert len(list(tmp_path.iterdir())) == 1
