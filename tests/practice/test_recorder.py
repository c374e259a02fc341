"""Writing to the journal in the background."""

import threading

from fretdrill.errors import JournalUnusable
from fretdrill.practice.attempt import Attempt, Sitting
from fretdrill.practice.journal import Journal
from fretdrill.practice.recorder import Recorder

from .samples import SITTING, attempt


class FlakyJournal:
    """Fails while it is told to; can be held up."""

    def __init__(self, *, failing: bool = False) -> None:
        self.failing = failing
        self.kept: list[int] = []
        self.tries = 0
        self.go = threading.Event()
        self.go.set()

    def record(self, sitting: Sitting, attempt: Attempt) -> None:
        self.go.wait()
        self.tries += 1
        if self.failing:
            raise JournalUnusable("the disk is full")
        self.kept.append(attempt.number)


def recorder(journal: FlakyJournal) -> tuple[Recorder, list[str]]:
    told: list[str] = []
    return Recorder(journal, told.append), told  # type: ignore[arg-type]


def test_order_is_kept():
    journal = FlakyJournal()
    writer, told = recorder(journal)
    for number in range(1, 201):
        writer.record(SITTING, attempt(number))
    assert writer.close() == 0
    assert journal.kept == list(range(1, 201))
    assert told == []
    assert writer.trouble is None


def test_handing_over_never_waits_and_closing_writes_the_rest():
    journal = FlakyJournal()
    journal.go.clear()
    writer, _ = recorder(journal)
    for number in range(1, 6):
        writer.record(SITTING, attempt(number))
    assert writer.unwritten == 5
    journal.go.set()
    assert writer.close() == 0
    assert journal.kept == [1, 2, 3, 4, 5]


def test_trouble_is_told_once():
    journal = FlakyJournal(failing=True)
    writer, told = recorder(journal)
    for number in range(1, 8):
        writer.record(SITTING, attempt(number))
    assert writer.close() == 7
    assert told == ["the disk is full"]
    assert str(writer.trouble) == "the disk is full"
    assert journal.tries > 1


def test_what_could_not_be_written_is_written_later_in_order():
    journal = FlakyJournal(failing=True)
    writer, told = recorder(journal)
    for number in (1, 2, 3):
        writer.record(SITTING, attempt(number))
    writer._writer.submit(lambda: setattr(journal, "failing", False)).result()
    writer.record(SITTING, attempt(4))
    assert writer.close() == 0
    assert journal.kept == [1, 2, 3, 4]
    assert len(told) == 1
    assert writer.trouble is None


def test_closing_tries_once_more():
    journal = FlakyJournal(failing=True)
    writer, _ = recorder(journal)
    writer.record(SITTING, attempt(1))
    writer._writer.submit(lambda: setattr(journal, "failing", False)).result()
    assert writer.close() == 0
    assert journal.kept == [1]


def test_into_a_real_journal(home):
    journal = Journal(home.journal)
    writer = Recorder(journal, lambda trouble: None)
    for number in range(1, 21):
        writer.record(SITTING, attempt(number))
    assert writer.close() == 0
    (past,) = journal.sittings()
    assert past.questions == 20
    journal.close()


def test_an_error_that_nobody_foresaw_is_told_too():
    journal = FlakyJournal()
    journal.record = lambda sitting, attempt: 1 / 0  # type: ignore[method-assign]
    writer, told = recorder(journal)
    writer.record(SITTING, attempt(1))
    assert writer.close() == 1
    assert len(told) == 1
    assert "ZeroDivisionError" in told[0]


def test_nothing_is_lost_when_the_journal_is_replaced_while_it_is_written():
    old, new = FlakyJournal(), FlakyJournal()
    writer, _ = recorder(old)
    for number in range(1, 50):
        writer.record(SITTING, attempt(number))
        if number == 25:
            assert writer.replace(lambda journal: new) is new
    assert writer.close() == 0
    assert old.kept + new.kept == list(range(1, 50))
