"""The journal: kept whole through crashes, damage, migrations and other programs."""

import os
import shutil
import sqlite3
import threading
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fretdrill.errors import JournalError, JournalTooNew, JournalUnusable
from fretdrill.practice.attempt import Sitting
from fretdrill.practice.journal import MIGRATIONS, Journal, open_journal

from .samples import SITTING, attempt

NOW = datetime(2026, 11, 25, 18, 30, 15, tzinfo=UTC)
DRILL = attempt().drill


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "journal.db"


def fill(path: Path, count: int = 3, sitting: Sitting = SITTING) -> None:
    with closing(Journal(path)) as journal:
        for number in range(1, count + 1):
            journal.record(sitting, attempt(number))


def rows(path: Path, query: str = "SELECT number FROM attempt ORDER BY id") -> list[tuple]:
    with closing(sqlite3.connect(path)) as db:
        return db.execute(query).fetchall()


def listing(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in folder.iterdir()}


# Round trips


def test_what_is_written_is_read_back(path):
    with closing(Journal(path)) as journal:
        journal.record(SITTING, attempt(1, focus="D"))
        journal.record(SITTING, attempt(2, focus="G", accuracy=0.5, points=40))
        journal.record(SITTING, attempt(3, focus="A", seconds=9.5))
        journal.record(SITTING, attempt(4, focus="E", answer=None, accuracy=0.0, points=0))
        answers = journal.answers(DRILL)
        (past,) = journal.sittings()
    assert [(a.focus, a.right, a.in_time) for a in answers] == [
        ("D", True, True),
        ("G", False, True),
        ("A", True, False),
        ("E", False, True),
    ]
    assert (past.title, past.questions, past.points) == ("Fifth position", 4, 60.0)
    assert past.started.timestamp() == SITTING.started_ms / 1000
    assert past.started.utcoffset() is not None


def test_nothing_is_lost_in_the_file(path):
    one = attempt(1, focus="3/6 E♭", answer="Eb", accuracy=2 / 3, level=4)
    with closing(Journal(path)) as journal:
        journal.record(SITTING, one)
    query = (
        "SELECT number, kind, drill.settings, player.settings, level, focus, answer, accuracy,"
        " points, taken_ms, target_ms, units, at_ms FROM attempt"
        " JOIN drill ON drill.id = drill JOIN player ON player.id = player"
    )
    assert rows(path, query) == [
        (1, "find", one.drill, one.player, 4, "3/6 E♭", "Eb", 667, 100, 4250, 9000, 2, one.at_ms)
    ]
    assert rows(path, "SELECT started_ms, title, seed FROM sitting") == [
        (SITTING.started_ms, SITTING.title, SITTING.seed)
    ]


@given(
    st.lists(
        st.tuples(st.text(max_size=8), st.none() | st.text(max_size=8), st.integers(0, 1000)),
        max_size=6,
    )
)
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_text_goes_in_and_out(tmp_path, items):
    file = tmp_path / f"{len(list(tmp_path.iterdir()))}.db"
    with closing(Journal(file)) as journal:
        for number, (focus, answer, thousandths) in enumerate(items, start=1):
            journal.record(
                SITTING, attempt(number, focus=focus, answer=answer, accuracy=thousandths / 1000)
            )
        answers = journal.answers(DRILL)
    assert [a.focus for a in answers] == [focus for focus, _, _ in items]
    assert [a.right for a in answers] == [n == 1000 for _, _, n in items]


def test_answers_belong_to_one_drill_and_are_the_last_ones_oldest_first(path):
    with closing(Journal(path)) as journal:
        for number in range(1, 11):
            journal.record(SITTING, attempt(number, focus=str(number)))
            journal.record(SITTING, attempt(number, drill="another", focus="x"))
        assert [a.focus for a in journal.answers(DRILL, 4)] == ["7", "8", "9", "10"]
        assert journal.answers("never met") == []


def test_paces_are_of_right_answers_of_one_kind_a_thing_newest_first(path):
    with closing(Journal(path)) as journal:
        journal.record(SITTING, attempt(1, seconds=4.0, units=2))
        journal.record(SITTING, attempt(2, seconds=9.0, units=2, accuracy=0.9))
        journal.record(SITTING, attempt(3, kind="name", drill="name; x", seconds=1.0, units=1))
        journal.record(SITTING, attempt(4, drill="find; elsewhere", seconds=9.0, units=3))
        assert journal.paces("find") == pytest.approx([3.0, 2.0])
        assert journal.paces("find", 1) == pytest.approx([3.0])
        assert journal.paces("read") == []


def test_sittings_come_newest_first_and_only_as_many_as_asked(path):
    with closing(Journal(path)) as journal:
        for day in range(4):
            sitting = Sitting(SITTING.started_ms + day * 86_400_000, f"Day {day}", day)
            journal.record(sitting, attempt(1, points=10 * day))
        assert [past.title for past in journal.sittings(2)] == ["Day 3", "Day 2"]
        assert [past.points for past in journal.sittings(9)] == [30, 20, 10, 0]


def test_a_sitting_is_written_with_its_first_attempt_and_once(path):
    with closing(Journal(path)):
        assert rows(path, "SELECT * FROM sitting") == []
    fill(path, 3)
    assert len(rows(path, "SELECT * FROM sitting")) == 1


def test_it_is_a_journal_in_wal_mode_with_foreign_keys_kept(path):
    fill(path)
    assert rows(path, "PRAGMA journal_mode") == [("wal",)]
    assert rows(path, "PRAGMA user_version") == [(len(MIGRATIONS),)]
    assert rows(path, "PRAGMA foreign_key_check") == []
    assert rows(path, "PRAGMA integrity_check") == [("ok",)]


# One transaction an attempt


def test_another_reader_sees_every_attempt_as_soon_as_it_is_recorded(path):
    with closing(Journal(path)) as journal:
        for number in range(1, 6):
            journal.record(SITTING, attempt(number))
            assert len(rows(path)) == number


def test_an_attempt_that_cannot_be_written_leaves_nothing_of_itself(path):
    with closing(Journal(path)) as journal:
        broken = attempt(1, focus=None, drill="new drill", player="new player")
        with pytest.raises(JournalUnusable):
            journal.record(SITTING, broken)
        for table in ("sitting", "drill", "player", "attempt"):
            assert rows(path, f"SELECT * FROM {table}") == []
        journal.record(SITTING, attempt(1))
    assert rows(path) == [(1,)]


def test_what_was_recorded_survives_without_closing(path, tmp_path):
    """A copy of the files while the journal is open is what a crash leaves behind."""
    with closing(Journal(path)) as journal:
        for number in range(1, 6):
            journal.record(SITTING, attempt(number))
        shutil.copytree(path.parent, tmp_path / "crash")
    after = tmp_path / "crash" / path.name
    with closing(Journal(after)) as journal:
        assert journal.sittings()[0].questions == 5
    assert rows(after, "PRAGMA integrity_check") == [("ok",)]


def test_a_full_disk_is_worded_and_writing_goes_on_when_there_is_room_again(path):
    resource = pytest.importorskip("resource")
    with closing(Journal(path)) as journal:
        journal.record(SITTING, attempt(1))
        soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
        wal = path.with_name(path.name + "-wal")
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (wal.stat().st_size, hard))
            for _ in range(2):
                with pytest.raises(JournalUnusable, match="cannot be written"):
                    journal.record(SITTING, attempt(2))
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        journal.record(SITTING, attempt(2))
        journal.record(SITTING, attempt(3))
    assert rows(path) == [(1,), (2,), (3,)]


def test_a_locked_file_is_worded_and_nothing_is_lost(path, monkeypatch):
    monkeypatch.setattr("fretdrill.practice.journal.BUSY_SECONDS", 0.01)
    with closing(Journal(path)) as journal, closing(sqlite3.connect(path)) as other:
        other.isolation_level = None
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(JournalUnusable, match="locked"):
            journal.record(SITTING, attempt(1))
        other.execute("ROLLBACK")
        journal.record(SITTING, attempt(1))
    assert rows(path) == [(1,)]


def test_two_journals_on_one_file_both_write(path):
    with closing(Journal(path)) as one, closing(Journal(path)) as two:
        for number in range(1, 11):
            one.record(SITTING, attempt(number))
            two.record(Sitting(1, "Other", 2), attempt(number))
        assert one.sittings() == two.sittings()
        assert [past.questions for past in one.sittings()] == [10, 10]


def test_two_threads_with_their_own_journals_lose_nothing(path):
    def write(seed: int) -> None:
        with closing(Journal(path)) as journal:
            for number in range(1, 21):
                journal.record(Sitting(seed, "T", seed), attempt(number))

    threads = [threading.Thread(target=write, args=(seed,)) for seed in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    counts = rows(path, "SELECT COUNT(*) FROM attempt GROUP BY sitting")
    assert counts == [(20,)] * 4


def test_a_closed_journal_says_so_in_words(path):
    journal = Journal(path)
    journal.close()
    with pytest.raises(JournalUnusable):
        journal.record(SITTING, attempt(1))
    with pytest.raises(JournalUnusable):
        journal.sittings()
    journal.close()


# Migrations


def add_column(db: sqlite3.Connection) -> None:
    db.execute("ALTER TABLE attempt ADD COLUMN mood TEXT NOT NULL DEFAULT 'fine'")


def add_table(db: sqlite3.Connection) -> None:
    db.execute("CREATE TABLE mood AS SELECT DISTINCT mood FROM attempt")


def test_migrations_run_in_order_and_keep_what_was_there(path):
    fill(path)
    Journal(path, (*MIGRATIONS, add_column, add_table)).close()
    assert rows(path) == [(1,), (2,), (3,)]
    assert rows(path, "SELECT * FROM mood") == [("fine",)]
    assert rows(path, "PRAGMA user_version") == [(len(MIGRATIONS) + 2,)]


def test_each_migration_has_a_copy_of_what_was_before_it(path):
    fill(path)
    Journal(path, (*MIGRATIONS, add_column, add_table)).close()
    copies = {}
    for copy in path.parent.iterdir():
        if copy != path and copy.suffix == ".db":
            ((version,),) = rows(copy, "PRAGMA user_version")
            copies[version] = copy
            assert rows(copy) == [(1,), (2,), (3,)]
            assert rows(copy, "PRAGMA integrity_check") == [("ok",)]
    base = len(MIGRATIONS)
    assert sorted(copies) == [base, base + 1]
    assert rows(copies[base], "SELECT name FROM pragma_table_info('attempt')").count(("mood",)) == 0
    assert rows(copies[base + 1], "SELECT mood FROM attempt LIMIT 1") == [("fine",)]


def test_the_copy_before_a_migration_exists_when_it_begins(path):
    fill(path)
    seen = []
    Journal(path, (*MIGRATIONS, lambda db: seen.extend(listing(path.parent)))).close()
    assert any(name.endswith(".db") and name != path.name for name in seen)


def test_a_fresh_journal_needs_no_copy(path):
    Journal(path).close()
    assert [name for name in listing(path.parent) if name.endswith(".db")] == [path.name]


def test_an_up_to_date_journal_is_not_copied_or_migrated_again(path):
    fill(path)
    before = set(listing(path.parent))
    Journal(path).close()
    assert set(listing(path.parent)) == before


@pytest.mark.parametrize("error", [sqlite3.OperationalError("no"), ValueError("no")])
def test_a_failing_migration_is_undone_and_can_be_run_again(path, error):
    fill(path)

    def half(db: sqlite3.Connection) -> None:
        add_column(db)
        db.execute("DELETE FROM attempt")
        raise error

    for _ in range(2):
        with pytest.raises((JournalUnusable, ValueError)):
            Journal(path, (*MIGRATIONS, half))
        assert rows(path) == [(1,), (2,), (3,)]
        assert rows(path, "PRAGMA user_version") == [(len(MIGRATIONS),)]
        assert ("mood",) not in rows(path, "SELECT name FROM pragma_table_info('attempt')")
    Journal(path, (*MIGRATIONS, add_column)).close()
    assert rows(path, "SELECT DISTINCT mood FROM attempt") == [("fine",)]


def test_the_second_of_two_migrations_fails_and_the_first_stays(path):
    fill(path)

    def fails(db: sqlite3.Connection) -> None:
        raise sqlite3.OperationalError("no")

    with pytest.raises(JournalUnusable):
        Journal(path, (*MIGRATIONS, add_column, fails))
    assert rows(path, "PRAGMA user_version") == [(len(MIGRATIONS) + 1,)]
    Journal(path, (*MIGRATIONS, add_column, add_table)).close()
    assert rows(path, "PRAGMA user_version") == [(len(MIGRATIONS) + 2,)]


# Damage


def damage_all(content: bytes) -> bytes:
    return b"\xa5" * len(content)


def damage_pages(content: bytes) -> bytes:
    return content[:4096] + b"\xa5" * (len(content) - 4096)


def damage_header(content: bytes) -> bytes:
    return b"not a database!\n" + content[16:]


def cut_to_half(content: bytes) -> bytes:
    return content[: len(content) // 2]


def cut_to_a_page(content: bytes) -> bytes:
    return content[:4096]


def cut_in_the_header(content: bytes) -> bytes:
    return content[:50]


def words(content: bytes) -> bytes:
    return b"Dear diary, today I practised.\n"


@pytest.mark.parametrize(
    "damage",
    [
        damage_all,
        damage_pages,
        damage_header,
        cut_to_half,
        cut_to_a_page,
        cut_in_the_header,
        words,
    ],
)
def test_a_damaged_journal_is_set_aside_whole_and_a_fresh_one_started(path, damage):
    fill(path, 200)
    damaged = damage(path.read_bytes())
    path.write_bytes(damaged)
    journal, notice = open_journal(path, NOW)
    with closing(journal):
        (kept,) = [f for f in path.parent.glob("*damaged*") if f.suffix == ".db"]
        assert kept.read_bytes() == damaged
        assert "20261125" in kept.name
        assert kept.name in notice
        assert "\n" not in notice
        assert journal.sittings() == []
        journal.record(SITTING, attempt(1))
        assert rows(path) == [(1,)]
    again, silent = open_journal(path, NOW)
    again.close()
    assert silent == ""


def test_two_damaged_journals_in_one_second_are_both_kept(path):
    path.parent.mkdir()
    for content in (b"first " * 200, b"second " * 200, b"third " * 200):
        path.write_bytes(content)
        for beside in path.parent.glob("journal.db-*"):
            beside.unlink()
        open_journal(path, NOW)[0].close()
    kept = {file.read_bytes()[:5] for file in path.parent.glob("*damaged*.db")}
    assert kept == {b"first", b"secon", b"third"}


@pytest.mark.parametrize("damage", [damage_header, damage_all, damage_pages])
def test_the_log_of_a_damaged_journal_is_kept_with_it(path, tmp_path, damage):
    """Beside a crashed journal lies its write-ahead log: it goes where the file goes."""
    fill(path, 200)
    with closing(Journal(path)) as journal:
        journal.record(Sitting(1, "Another", 1), attempt(1))
        shutil.copytree(path.parent, tmp_path / "crash")
    crashed = tmp_path / "crash" / path.name
    log_bytes = crashed.with_name(crashed.name + "-wal").read_bytes()
    damaged = damage(crashed.read_bytes())
    crashed.write_bytes(damaged)
    open_journal(crashed, NOW)[0].close()
    (kept,) = crashed.parent.glob("*damaged*.db")
    assert kept.read_bytes() == damaged
    assert kept.with_name(kept.name + "-wal").read_bytes() == log_bytes


def test_an_empty_file_becomes_a_journal(path):
    path.parent.mkdir()
    path.touch()
    journal, notice = open_journal(path, NOW)
    with closing(journal):
        assert notice == ""
        journal.record(SITTING, attempt(1))
    assert rows(path) == [(1,)]


@pytest.mark.parametrize("page", range(1, 12))
def test_damage_in_any_page_is_met_when_the_journal_is_opened(path, page):
    """What opens without a word must also be usable: practice reads it next."""
    fill(path, 200)
    content = path.read_bytes()
    size = int.from_bytes(content[16:18], "big")
    assert len(content) >= 12 * size
    path.write_bytes(content[: page * size] + b"\xa5" * size + content[(page + 1) * size :])
    journal, _ = open_journal(path, NOW)
    with closing(journal):
        journal.answers(DRILL)
        journal.paces("find")
        journal.sittings()
        journal.record(SITTING, attempt(1))


# Files that are not to be touched


def newer(path: Path, version: int) -> None:
    fill(path)
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE later (x)")
        db.execute(f"PRAGMA user_version = {version}")


@pytest.mark.parametrize("version", [len(MIGRATIONS) + 1, 99, 2**31 - 1])
def test_a_newer_journal_is_refused_untouched(path, version):
    newer(path, version)
    before = listing(path.parent)
    for opening in (Journal, lambda file: open_journal(file, NOW)):
        with pytest.raises(JournalTooNew, match=f"version {version}") as caught:
            opening(path)
        assert str(path) in str(caught.value)
        assert "\n" not in str(caught.value)
        assert listing(path.parent) == before


def test_a_newer_journal_that_crashed_is_refused_untouched(path, tmp_path):
    """Its version may still stand in the write-ahead log alone."""
    fill(path)
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA wal_autocheckpoint = 0")
        db.execute("CREATE TABLE later (x)")
        db.execute("PRAGMA user_version = 99")
        shutil.copytree(path.parent, tmp_path / "crash")
    crashed = tmp_path / "crash" / path.name
    before = listing(crashed.parent)
    assert before[f"{path.name}-wal"]
    with pytest.raises(JournalTooNew):
        open_journal(crashed, NOW)
    assert listing(crashed.parent) == before


@pytest.mark.parametrize("version", [0, len(MIGRATIONS), 7])
@pytest.mark.parametrize("mode", ["delete", "wal"])
def test_another_programs_file_is_refused_untouched(path, version, mode):
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"PRAGMA journal_mode = {mode}")
        db.execute("CREATE TABLE recipe (name TEXT)")
        db.execute("INSERT INTO recipe VALUES ('soup')")
        db.commit()
        db.execute(f"PRAGMA user_version = {version}")
    before = listing(path.parent)
    with pytest.raises(JournalError):
        open_journal(path, NOW)
    assert listing(path.parent) == before
    assert rows(path, "SELECT name FROM recipe") == [("soup",)]


@pytest.mark.parametrize("version", [0, len(MIGRATIONS), 7])
def test_another_programs_file_is_called_just_that(path, version):
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE recipe (name TEXT)")
        db.execute(f"PRAGMA user_version = {version}")
    with pytest.raises(JournalError, match="another program's file"):
        open_journal(path, NOW)


# Places where no file can be


def test_a_file_where_the_folder_should_be_is_worded(tmp_path):
    (tmp_path / "data").write_text("in the way", encoding="utf-8")
    with pytest.raises(JournalUnusable, match="cannot be opened"):
        open_journal(tmp_path / "data" / "journal.db", NOW)


def test_a_folder_where_the_file_should_be_is_worded(path):
    path.mkdir(parents=True)
    with pytest.raises(JournalUnusable, match="cannot be opened"):
        open_journal(path, NOW)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write")
def test_a_read_only_folder_is_worded(path):
    path.parent.mkdir()
    path.parent.chmod(0o500)
    try:
        with pytest.raises(JournalUnusable):
            open_journal(path, NOW)
    finally:
        path.parent.chmod(0o700)


def test_many_that_begin_at_once_all_get_the_journal(tmp_path):
    """A fresh file is made, switched to WAL and migrated while others do the same."""
    for number in range(20):
        path, problems = tmp_path / str(number) / "journal.db", []

        def begin(path=path, problems=problems) -> None:
            try:
                Journal(path).close()
            except JournalUnusable as fault:
                problems.append(fault)

        threads = [threading.Thread(target=begin) for _ in range(6)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert problems == []
