"""Practice: a session with a journal where one can be had, and without where not."""

import os
import sqlite3
from contextlib import closing

import pytest

from fretdrill.errors import JournalTooNew, UnknownName
from fretdrill.practice.home import Home
from fretdrill.practice.journal import Journal
from fretdrill.practice.library import find_pack
from fretdrill.practice.settings import Settings
from fretdrill.practice.start import Practice

from .samples import SITTING, attempt, program


def answer_all(practice: Practice, clock, count: int = 3, seed: int = 4) -> list[str]:
    session = practice.session(program(count=count), seed)
    foci = []
    while (question := session.ask()) is not None:
        foci.append(question.focus)
        clock.advance(1)
        session.answer(question.right)
    return foci


@pytest.fixture
def told() -> list[str]:
    return []


def test_answers_are_there_the_next_time(home, clock, told):
    with Practice(home, Settings(), told.append, clock) as practice:
        assert practice.first_time
        assert practice.sittings(5) == []
        answer_all(practice, clock)
    with Practice(home, Settings(), told.append, clock) as practice:
        assert not practice.first_time
        (past,) = practice.sittings(5)
    assert (past.title, past.questions, past.points) == ("Test", 3, 100)
    assert told == []


def test_the_daily_program_is_the_daily_pack(home, clock, told):
    with Practice(home, Settings(), told.append, clock) as practice:
        assert practice.daily().title == find_pack("daily", home.packs).title
        assert practice.daily().length == 10


def test_a_daily_pack_of_ones_own_is_the_daily_program(home, clock, told):
    home.packs.mkdir(parents=True)
    (home.packs / "daily.toml").write_text(
        'title = "My day"\n[[drill]]\nkind = "name"\n', encoding="utf-8"
    )
    with Practice(home, Settings(), told.append, clock) as practice:
        assert practice.daily().title == "My day"


def test_without_a_seed_sessions_differ_and_with_one_they_do_not(home, clock, told):
    broken = Home(home.config, home.config / "file" / "data", home.logs)
    home.config.mkdir(parents=True)
    (home.config / "file").touch()
    with Practice(broken, Settings(), told.append, clock) as practice:
        assert answer_all(practice, clock, 8) == answer_all(practice, clock, 8)
        free = {
            tuple(answer_all(practice, clock, 8, seed=None))  # type: ignore[arg-type]
            for _ in range(6)
        }
    assert len(free) > 1


def test_practice_goes_on_where_no_journal_can_be(home, clock, told):
    home.data.mkdir(parents=True)
    home.journal.mkdir()
    with Practice(home, Settings(), told.append, clock) as practice:
        assert len(answer_all(practice, clock)) == 3
        assert practice.sittings(5) == []
    assert len(told) == 1
    assert "Practice goes on" in told[0]
    assert "\n" not in told[0]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write")
def test_practice_goes_on_in_a_read_only_folder(home, clock, told):
    home.data.mkdir(parents=True)
    home.data.chmod(0o500)
    try:
        with Practice(home, Settings(), told.append, clock) as practice:
            assert len(answer_all(practice, clock)) == 3
    finally:
        home.data.chmod(0o700)
    assert len(told) == 1


def test_practice_goes_on_with_a_journal_that_can_only_be_read(home, clock, told):
    """As on a full disk: reading works, writing does not."""
    with closing(Journal(home.journal)) as journal:
        journal.record(SITTING, attempt(1))
    with Practice(home, Settings(), told.append, clock) as practice:
        assert practice.sittings(1)
        assert practice._journal is not None
        practice._journal._db.execute("PRAGMA query_only = ON")
        assert len(answer_all(practice, clock)) == 3
    assert len(told) == 2
    assert "tried again" in told[0]
    assert told[1].startswith("3 answers could not be written")


def test_practice_goes_on_with_a_journal_damaged_where_only_a_session_reads(home, clock, told):
    with closing(Journal(home.journal)) as journal:
        for number in range(1, 401):
            journal.record(SITTING, attempt(number, drill=program().drills[0].key))
    with closing(sqlite3.connect(home.journal)) as db:
        ((root,),) = db.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = 'attempt_by_drill'"
        ).fetchall()
        ((size,),) = db.execute("PRAGMA page_size").fetchall()
    content = bytearray(home.journal.read_bytes())
    content[(root - 1) * size : root * size] = b"\xa5" * size
    home.journal.write_bytes(content)
    with Practice(home, Settings(), told.append, clock) as practice:
        assert len(answer_all(practice, clock)) == 3
    assert told


def test_a_damaged_journal_is_told_and_practice_is_remembered(home, clock, told):
    home.data.mkdir(parents=True)
    home.journal.write_bytes(b"nothing of a journal" * 100)
    with Practice(home, Settings(), told.append, clock) as practice:
        answer_all(practice, clock)
        assert "damaged" in told[0]
    with Practice(home, Settings(), told.append, clock) as practice:
        assert practice.sittings(5)[0].questions == 3
    assert len(told) == 1


def test_a_newer_journal_stops_practice(home, clock, told):
    Journal(home.journal).close()
    with closing(sqlite3.connect(home.journal)) as db:
        db.execute("PRAGMA user_version = 99")
    before = home.journal.read_bytes()
    practice = Practice(home, Settings(), told.append, clock)
    with pytest.raises(JournalTooNew):
        practice.session(program())
    practice.close()
    assert home.journal.read_bytes() == before


def test_a_pack_nobody_knows_is_refused(home):
    with pytest.raises(UnknownName):
        find_pack("nightly", home.packs)
