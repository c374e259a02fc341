"""Packs on disk: those that ship, the player's own, and files that are no packs."""

import os
from pathlib import Path

import pytest

from fretdrill.errors import InputError, ManyFaults, UnknownName
from fretdrill.practice.library import find_pack, load_pack, pack_files, shipped_folder

PACK = 'title = "{}"\n[[drill]]\nkind = "find"\n'
SHIPPED = {
    "daily",
    "first-position",
    "fifth-position",
    "whole-neck",
    "look-ahead",
    "shifts",
    "chord-tones",
    "reading",
}


@pytest.fixture
def own(home):
    home.packs.mkdir(parents=True)
    return home.packs


def test_the_packs_that_ship_are_found_without_own_ones(home):
    assert set(pack_files(home.packs)) == SHIPPED
    for name in SHIPPED:
        assert find_pack(name, home.packs).drills


def test_the_shipped_folder_is_one_folder_of_packs():
    assert {path.stem for path in shipped_folder().glob("*.toml")} == SHIPPED


def test_own_packs_come_before_those_that_ship(own):
    (own / "daily.toml").write_text(PACK.format("Mine"), encoding="utf-8")
    (own / "lesson.toml").write_text(PACK.format("Lesson"), encoding="utf-8")
    assert find_pack("daily", own).title == "Mine"
    assert find_pack("lesson", own).title == "Lesson"
    assert set(pack_files(own)) == SHIPPED | {"lesson"}


def test_a_pack_is_found_by_its_path(own, tmp_path):
    path = tmp_path / "elsewhere.toml"
    path.write_text(PACK.format("Elsewhere"), encoding="utf-8")
    assert find_pack(str(path), own).title == "Elsewhere"
    bare = tmp_path / "no-ending"
    bare.write_text(PACK.format("Bare"), encoding="utf-8")
    assert find_pack(str(bare), own).title == "Bare"


def test_an_unknown_name_names_the_nearest(own):
    with pytest.raises(UnknownName, match="did you mean 'daily'"):
        find_pack("dayly", own)


def test_a_byte_order_mark_and_windows_lines_are_read(own):
    path = own / "windows.toml"
    path.write_bytes(b"\xef\xbb\xbf" + PACK.format("W").replace("\n", "\r\n").encode())
    assert find_pack("windows", own).title == "W"


def test_faults_name_the_file(own):
    (own / "bad.toml").write_text("titel = 1\n", encoding="utf-8")
    with pytest.raises(ManyFaults) as caught:
        find_pack("bad", own)
    assert {fault.source for fault in caught.value.faults} == {"bad.toml"}


def make_folder(path):
    path.mkdir()


def make_binary(path):
    path.write_bytes(bytes(range(256)))


def make_big(path):
    path.write_bytes(b"# a comment\n" * 200_000)


def make_utf16(path):
    path.write_text(PACK.format("A"), encoding="utf-16")


def make_nothing(path):
    pass


def make_dangling(path):
    path.symlink_to(path.with_name("nowhere"))


def make_loop(path):
    path.symlink_to(path)


@pytest.mark.parametrize(
    "make", [make_folder, make_binary, make_big, make_utf16, make_nothing, make_dangling, make_loop]
)
def test_what_is_no_pack_is_one_line_that_names_it(tmp_path, make):
    path = tmp_path / "lesson.toml"
    make(path)
    with pytest.raises(InputError) as caught:
        load_pack(path)
    assert "lesson.toml" in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.skipif(os.name != "posix", reason="a device file")
def test_an_endless_file_is_not_read_to_its_end():
    with pytest.raises(InputError, match="longer than"):
        load_pack(Path("/dev/zero"))


def test_a_folder_among_the_own_packs_does_not_hide_the_others(own):
    (own / "odd.toml").mkdir()
    assert SHIPPED.issubset(pack_files(own))
    with pytest.raises(InputError, match="folder"):
        find_pack("odd", own)


@pytest.mark.parametrize(
    "name",
    ["a" * 300, "b" * 5000, "daily/", ".", "", "drill\n"],
    ids=["300 letters", "5000 letters", "stroke", "dot", "empty", "line"],
)
def test_a_strange_name_is_refused_in_one_line(own, name):
    with pytest.raises(InputError) as caught:
        find_pack(name, own)
    assert str(caught.value)
