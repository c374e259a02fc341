"""Packs and lines read for what is wrong with them."""

import io
import os
from pathlib import Path

import pytest

from fretdrill.neck.neck import Neck
from fretdrill.plain.check import check
from fretdrill.practice.home import Home
from fretdrill.practice.library import line_files, pack_files
from tests.hand.lines import abc_text
from tests.scores.midi_files import written

PACK = 'title = "Mine"\n[[drill]]\nkind = "find"\n'


@pytest.fixture
def said(home: Home, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Check a file by its name: whether it is sound, and the rows printed."""
    monkeypatch.chdir(tmp_path)

    def call(name: str, content: str | bytes | None = None) -> tuple[bool, list[str]]:
        if content is not None:
            Path(name).write_bytes(content.encode() if isinstance(content, str) else content)
        output = io.StringIO()
        sound = check(name, home, Neck(), output)
        return sound, output.getvalue().splitlines()

    return call


def test_all_that_ships_is_sound(said, home):
    for name in (*pack_files(home.packs), *line_files(home.lines)):
        sound, rows = said(name)
        assert sound, rows
        assert len(rows) == 1
        assert rows[0].startswith(f"{name}: ")
        assert rows[0].endswith(", nothing wrong")


def test_sound_pack(said):
    assert said("a.toml", PACK) == (True, ["a.toml: Mine: 1 drill, nothing wrong"])
    two = PACK + '[[drill]]\nkind = "name"\n'
    assert said("b.toml", two) == (True, ["b.toml: Mine: 2 drills, nothing wrong"])


def test_faulty_pack_lists_every_fault(said):
    sound, rows = said("bad.toml", 'tilte = "x"\n[[drill]]\nkind = "fnd"\ncount = 0\n')
    assert not sound
    assert [row.split(": ")[:2] for row in rows] == [
        ["bad.toml", key] for key in ("tilte", "title", "drill[1].kind", "drill[1].count")
    ]


def test_sound_line(said):
    assert said("a.abc", abc_text("E,,,A,,,D,,G,,|C,4")) == (
        True,
        ["a.abc: Test: 5 notes, 2 bars, E1 to C3, nothing wrong"],
    )
    assert said("one.abc", abc_text("^C,,4", unit="1/4")) == (
        True,
        ["one.abc: Test: 1 note, 1 bar, C#2 to C#2, nothing wrong"],
    )


def test_midi_line(said):
    content = written([(0, 480, 28), (480, 1920, 43)], name="Bass")
    sound, rows = said("a.mid", content)
    assert sound
    assert rows[0].startswith("a.mid: Bass: 2 notes, 1 bar, E1 to G2")


def test_what_is_left_out_of_a_line_is_told(said):
    sound, rows = said("chord.abc", abc_text("[E,,,B,,,]2 {C,,}D,,2"))
    assert sound
    assert rows[0] == "chord.abc: Test: 2 notes, 1 bar, E1 to D2"
    assert len(rows) >= 3
    assert all(row.startswith("  ") for row in rows[1:])


@pytest.mark.parametrize(
    ("name", "content", "word"),
    [
        ("empty.abc", "", "no ABC tune"),
        ("rests.abc", abc_text("z4|"), "no notes"),
        ("metre.abc", abc_text("C,4", metre="4/5"), "4/5"),
        ("nul.abc", b"\x00\x01\x02", "neither ABC"),
        ("xml.abc", "<score/>", "MusicXML"),
        ("cut.mid", b"MThd\0\0\0\6\0", "cut off"),
        ("no.toml", "[[drill", "no.toml"),
        ("latin.toml", b"title = '\xff'", "latin.toml"),
        ("gone.abc", None, "no file gone.abc"),
        ("gone.mid", None, "no file gone.mid"),
        ("gone.toml", None, "no file gone.toml"),
        ("", None, "unknown pack or line ''"),
        (".", None, "folder"),
        ("first-positon", None, "did you mean 'first-position'?"),
    ],
)
def test_faults(said, name, content, word):
    sound, rows = said(name, content)
    assert not sound
    assert len(rows) == 1
    assert word in rows[0]


def test_every_tune_of_a_file_is_read(said):
    faulty = abc_text("C,4", metre="4/5").replace("X:1", "X:2")
    sound, _ = said("two.abc", f"{abc_text('C,4')}\n{faulty}")
    assert not sound


def test_every_fault_of_a_line_is_told(said):
    _, rows = said("two.abc", abc_text("C,4", metre="4/5", unit="1/0"))
    assert len(rows) == 2


def test_folder_with_an_ending(said, tmp_path):
    for name in ("d.abc", "d.toml"):
        (tmp_path / name).mkdir()
        sound, rows = said(name)
        assert (sound, len(rows)) == (False, 1)
        assert "folder" in rows[0]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root reads all")
def test_file_that_may_not_be_read(said, tmp_path):
    (tmp_path / "shut.abc").touch(mode=0)
    assert said("shut.abc")[0] is False


def test_own_pack_and_line_by_name(said, home):
    home.packs.mkdir(parents=True)
    home.lines.mkdir(parents=True, exist_ok=True)
    (home.packs / "mine.toml").write_text(PACK)
    (home.lines / "tune.abc").write_text(abc_text("C,4"))
    assert said("mine") == (True, ["mine: Mine: 1 drill, nothing wrong"])
    assert said("tune") == (True, ["tune: Test: 1 note, 1 bar, C3 to C3, nothing wrong"])
    _, rows = said("tun")
    assert rows == ["unknown pack or line 'tun'; did you mean 'tune'?"]


def test_nothing_that_steers_a_terminal_is_printed(said):
    content = written([(0, 1920, 28)], name="\x1b[31mred\x07")
    sound, rows = said("a\x1b.mid", content)
    assert sound
    assert all(row.isprintable() for row in rows)


def test_notes_off_the_neck_are_a_fault(said):
    sound, rows = said("high.abc", abc_text("c,'4"))
    assert not sound
    assert "1 note off the neck in Set-up, the first note 1, C" in rows[0]
