"""The session: its states, its clock, its end, and that a seed decides its questions."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.question import Verdict
from fretdrill.errors import ManyFaults
from fretdrill.practice.journal import Journal, PastAnswer
from fretdrill.practice.program import Program
from fretdrill.practice.session import Session, State
from fretdrill.practice.settings import Settings
from fretdrill.practice.start import Practice

from ..conftest import FakeClock
from .samples import PLAYER, drill, program


class KnownPast:
    """A past made up for a test."""

    def __init__(self, answers: list[PastAnswer], paces: list[float]) -> None:
        self._answers, self._paces = answers, paces

    def answers(self, drill: str) -> list[PastAnswer]:
        return self._answers

    def paces(self, kind: str) -> list[float]:
        return self._paces


def begin(clock: FakeClock, *drills, seed: int = 1, **options) -> Session:
    past = options.pop("past", None)
    record = options.pop("record", lambda sitting, attempt: None)
    return Session(program(*drills, **options), PLAYER, seed, clock, past, record)


def answer_right(session: Session) -> Verdict:
    return session.answer(session.question.right)


def play(session: Session, pattern: list[tuple[bool, float]], clock: FakeClock) -> list[object]:
    """Answer by a pattern of (right, seconds) and return the questions."""
    asked = []
    for right, seconds in pattern:
        question = session.ask()
        if question is None:
            break
        asked.append(question)
        clock.advance(seconds)
        session.answer(question.right if right else None)
    return asked


# States


def test_a_session_goes_from_ready_by_asking_and_judged_to_over(clock):
    session = begin(clock, count=2)
    assert (session.state, session.number) == (State.READY, 0)
    for number in (1, 2):
        question = session.ask()
        assert question is session.question
        assert (session.state, session.number) == (State.ASKING, number)
        answer_right(session)
        assert (session.state, session.number) == (State.JUDGED, number)
    assert session.ask() is None
    assert session.state is State.OVER
    assert session.done_share == 1.0


def test_answering_twice_raises_and_counts_once(clock):
    kept = []
    session = begin(clock, record=lambda sitting, attempt: kept.append(attempt))
    session.ask()
    answer_right(session)
    with pytest.raises(RuntimeError, match="judged"):
        answer_right(session)
    with pytest.raises(RuntimeError):
        session.answer(None)
    assert len(session.verdicts) == len(kept) == 1


def test_asking_twice_raises_and_skips_nothing(clock):
    session = begin(clock, count=2)
    question = session.ask()
    with pytest.raises(RuntimeError, match="asking"):
        session.ask()
    assert session.question is question
    answer_right(session)
    assert session.ask() is not None
    assert session.number == 2


def test_nothing_can_be_answered_before_or_after(clock):
    session = begin(clock, count=1)
    with pytest.raises(RuntimeError, match="ready"):
        session.answer(None)
    session.ask()
    answer_right(session)
    session.ask()
    for call in (session.ask, lambda: session.answer(None)):
        with pytest.raises(RuntimeError, match="over"):
            call()


def test_a_program_that_cannot_be_asked_is_refused_at_once(clock):
    with pytest.raises(ManyFaults):
        begin(clock, drill("find", "string 5"))


# Time


def test_pause_stops_time(clock):
    session = begin(clock)
    session.ask()
    clock.advance(2)
    session.pause()
    clock.advance(3600)
    assert session.seconds == pytest.approx(2)
    session.pause()
    session.resume()
    session.resume()
    clock.advance(1)
    assert answer_right(session).answer.seconds == pytest.approx(3)
    assert session.seconds == pytest.approx(3)


def test_a_pause_does_not_reach_into_the_next_question(clock):
    session = begin(clock)
    session.ask()
    session.pause()
    answer_right(session)
    session.ask()
    clock.advance(2)
    assert answer_right(session).answer.seconds == pytest.approx(2)


def test_reading_the_verdict_costs_no_time(clock):
    session = begin(clock)
    session.ask()
    clock.advance(2)
    answer_right(session)
    clock.advance(600)
    assert session.seconds == pytest.approx(2)
    session.ask()
    assert session.seconds == pytest.approx(2)
    assert session.result.seconds == pytest.approx(2)


def test_minutes_end_a_session_after_the_answer_that_passes_them(clock):
    session = begin(clock, minutes=1)
    asked = play(session, [(True, 25.0)] * 10, clock)
    assert len(asked) == 3
    assert session.state is State.OVER


def test_a_count_ends_a_session_that_has_minutes_left(clock):
    session = begin(clock, minutes=10, count=3)
    assert len(play(session, [(True, 1.0)] * 10, clock)) == 3


def test_minutes_end_a_session_that_has_questions_left(clock):
    session = begin(clock, minutes=1, count=100)
    assert len(play(session, [(True, 31.0)] * 10, clock)) == 2
    assert session.state is State.OVER


def test_done_share_grows_from_nothing_to_all(clock):
    session = begin(clock, minutes=1)
    shares = [session.done_share]
    while session.ask() is not None:
        clock.advance(20)
        answer_right(session)
        shares.append(session.done_share)
    assert shares == pytest.approx([0, 1 / 3, 2 / 3, 1])


# What comes of it


def test_the_result_is_the_sum_the_mean_the_count_and_the_median(clock):
    session = begin(clock, count=3)
    play(session, [(True, 1.0), (False, 5.0), (True, 2.0)], clock)
    result = session.result
    assert (result.points, result.mean_points) == (200, pytest.approx(200 / 3))
    assert (result.right, result.median_s, result.seconds) == (2, 2.0, pytest.approx(8))


def test_an_empty_session_has_an_empty_result(clock):
    result = begin(clock).result
    assert (result.points, result.mean_points, result.right) == (0, 0, 0)
    assert (result.median_s, result.seconds) == (0, 0)


def test_every_answer_is_recorded_once_in_order_with_what_it_was_worth(clock):
    kept = []
    session = begin(clock, count=4, record=lambda sitting, attempt: kept.append((sitting, attempt)))
    play(session, [(True, 1.0), (False, 2.0), (True, 3.0), (True, 4.0)], clock)
    assert [attempt.number for _, attempt in kept] == [1, 2, 3, 4]
    assert len({sitting for sitting, _ in kept}) == 1
    for (_, attempt), verdict in zip(kept, session.verdicts, strict=True):
        assert attempt.points == verdict.points
        assert attempt.seconds == pytest.approx(verdict.answer.seconds)
        assert attempt.focus == verdict.question.focus
    assert kept[1][1].answer is None


def test_the_level_of_the_answer_is_the_level_it_was_asked_at(clock):
    kept = []
    session = begin(clock, count=4, record=lambda sitting, attempt: kept.append(attempt))
    play(session, [(True, 0.1)] * 4, clock)
    assert [attempt.level for attempt in kept] == [0, 0, 0, 1]


def test_three_right_in_time_open_more(clock):
    session = begin(clock, drill("find", "position 5", "whole neck"), count=7)
    moves = []
    for _ in range(6):
        session.ask()
        answer_right(session)
        moves.append(session.level_moved)
    assert moves == [0, 0, 1, 0, 0, 1]
    assert str(session.next_stage.scope) == "whole neck"
    assert str(session.ask().scope) == "whole neck"


def test_the_target_comes_from_the_players_own_pace(clock):
    quick = begin(clock, past=KnownPast([], [1.0] * 10))
    slow = begin(clock, past=KnownPast([], [6.0] * 10))
    assert quick.ask() == slow.ask()
    quick_target, slow_target = answer_right(quick).target_s, answer_right(slow).target_s
    assert slow_target == pytest.approx(6 * quick_target)


def test_a_session_goes_on_where_the_last_one_left_the_level(clock):
    past = KnownPast([PastAnswer("D", 0, right=True, in_time=True)] * 6, [])
    session = begin(clock, drill("find", "position 5", "whole neck"), past=past)
    assert str(session.ask().scope) == "whole neck"


# The seed


PATTERNS = st.lists(st.tuples(st.booleans(), st.sampled_from((0.5, 30.0))), max_size=15)


@given(st.integers(0, 2**31), PATTERNS)
@settings(max_examples=40, deadline=None)
def test_same_seed_and_same_past_ask_the_same(seed, pattern):
    drills = (drill("find"), drill("name", notes="chromatic"), drill("finger", notes="chromatic"))
    past = KnownPast([PastAnswer("D", 0, right=False, in_time=True)], [])
    runs = []
    for _ in range(2):
        clock = FakeClock()
        runs.append(play(begin(clock, *drills, seed=seed, past=past, count=15), pattern, clock))
    assert runs[0] == runs[1]


def test_other_seeds_ask_otherwise(clock):
    orders = {
        tuple(q.focus for q in play(begin(clock, seed=seed), [(True, 1.0)] * 8, clock))
        for seed in range(20)
    }
    assert len(orders) > 10


def test_the_wall_clock_does_not_choose_questions():
    early, late = FakeClock(), FakeClock()
    late.advance(123_456)
    runs = [play(begin(clock), [(True, 1.0)] * 8, clock) for clock in (early, late)]
    assert runs[0] == runs[1]


@given(st.integers(0, 2**31), st.sampled_from(("find", "name", "finger")))
@settings(max_examples=30, deadline=None)
def test_no_question_comes_twice_in_a_row(seed, kind):
    clock = FakeClock()
    session = begin(clock, drill(kind, notes="chromatic"), seed=seed, count=20)
    foci = [q.focus for q in play(session, [(False, 1.0)] * 20, clock)]
    assert all(one != other for one, other in pairwise(foci))


def test_a_journal_is_a_past(clock, home):
    journal = Journal(home.journal)
    first = begin(clock, count=7, past=journal, record=journal.record)
    play(first, [(True, 0.5)] * 7, clock)
    second = begin(clock, count=1, past=journal)
    assert str(second.ask().scope) == "whole neck"
    assert second.level == first.level == 2
    journal.close()


@pytest.mark.parametrize("late_by", [0.0, 0.0004, 0.0006, 1.0])
def test_what_the_journal_remembers_is_what_the_session_knew(clock, home, late_by):
    journal = Journal(home.journal)
    only_d = drill("find", "position 5", "whole neck", notes="D")
    session = begin(clock, only_d, count=3, past=journal, record=journal.record)
    target = session.ask() and session._target_s
    for _ in range(3):
        clock.advance(target + late_by)
        answer_right(session)
        session.ask()
    again = begin(clock, only_d, past=journal)
    again.ask()
    assert again.level == session.level == (0 if round(late_by, 3) else 1)  # judged in whole ms
    journal.close()


def test_a_level_that_was_reached_before_what_is_remembered_is_kept(clock):
    """Only the last answers are remembered; the level they were asked at holds the rest."""
    slow = KnownPast([PastAnswer("D", 2, right=True, in_time=False)] * 200, [])
    session = begin(clock, past=slow)
    session.ask()
    assert session.level == 2


def test_a_seed_that_is_asked_for_decides_alone(home, clock):
    """What was practised in between has no say in what a seed asks."""
    asked = []
    for _ in range(2):
        with Practice(home, Settings(), print, clock, at_once=True) as practice:
            session = practice.session(Program("Find", (drill("find"),), 5), seed=5)
            asked.append([q.focus for q in play(session, [(True, 0.5)] * 5, clock)])
            assert len(practice.sittings(9)) == len(asked)  # and it is remembered all the same
    assert asked[0] == asked[1]
