"""Where the files are."""

from pathlib import Path

import pytest

from fretdrill.errors import InputError
from fretdrill.practice.home import Home


def test_fretdrill_home_moves_everything(tmp_path):
    home = Home.find({"FRETDRILL_HOME": str(tmp_path / "bass")})
    folder = tmp_path / "bass"
    assert home.settings == folder / "settings.toml"
    assert home.journal == folder / "journal.db"
    assert home.packs == folder / "packs"
    assert home.log == folder / "fretdrill.log"


def test_a_tilde_is_the_users_folder(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert Home.find({"FRETDRILL_HOME": "~/bass"}).data == tmp_path / "bass"


def test_the_environment_is_read_when_asked(monkeypatch, tmp_path):
    monkeypatch.setenv("FRETDRILL_HOME", str(tmp_path / "later"))
    assert Home.find().data == tmp_path / "later"


def test_without_it_the_platforms_own_folders_are_used(monkeypatch):
    monkeypatch.delenv("FRETDRILL_HOME")
    for environment in ({}, {"FRETDRILL_HOME": ""}):
        home = Home.find(environment)
        for path in (home.settings, home.journal, home.packs, home.log):
            assert "fretdrill" in str(path.parent)
            assert path.is_absolute()


def test_looking_makes_no_folder(tmp_path):
    home = Home.find({"FRETDRILL_HOME": str(tmp_path / "none")})
    assert not Path(home.data).exists()


def test_a_home_of_nobody_is_a_fault_in_words():
    with pytest.raises(InputError, match="FRETDRILL_HOME is '~nosuchuser/x'"):
        Home.find({"FRETDRILL_HOME": "~nosuchuser/x"})
