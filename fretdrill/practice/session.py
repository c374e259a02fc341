"""A session: questions one after another, each answered once.

The session is a small machine of four states::

    ready ──ask──▶ asking ──answer──▶ judged ──ask──▶ asking …  ──ask──▶ over

Calls that do not fit the state raise :class:`RuntimeError`; front ends look at
:attr:`Session.state` first, which is how a key that repeats does nothing twice.
Time comes from a clock that is handed in, and stands still while paused.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from random import Random
from statistics import median
from typing import Any, Protocol

from fretdrill.engine import scoring
from fretdrill.engine.drill import Drill, Ladder, Standing, need
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer, Given, Judgement, Question, Verdict
from fretdrill.engine.registry import kind_named
from fretdrill.practice.attempt import Attempt, PastAnswer, Sitting
from fretdrill.practice.clock import Clock
from fretdrill.practice.program import Program

JOURNAL_DIGITS = 3  # the journal keeps milliseconds; judging by them, it can be replayed


class State(Enum):
    """Where a session stands."""

    READY = "ready"
    ASKING = "asking"
    JUDGED = "judged"
    OVER = "over"


class Past(Protocol):
    """What a session wants to know of earlier ones; the journal knows it."""

    def answers(self, drill: str) -> list[PastAnswer]:
        """Return the last answers to a drill, oldest first."""

    def paces(self, kind: str) -> list[float]:
        """Return seconds a thing of the last right answers to a kind."""


class NoPast:
    """A player without a journal."""

    def answers(self, drill: str) -> list[PastAnswer]:
        """Return nothing."""
        return []

    def paces(self, kind: str) -> list[float]:
        """Return nothing."""
        return []


@dataclass
class _Progress:
    """How a player stands in one drill."""

    drill: Drill
    ladder: Ladder
    standing: Standing

    @classmethod
    def from_past(cls, drill: Drill, past: Past) -> "_Progress":
        answers = past.answers(drill.key)
        level = answers[0].level if answers else 0  # what went before is in it
        outcomes = [(answer.right, answer.in_time) for answer in answers]
        ladder = Ladder.replay(outcomes, drill.top_level, level)
        weights = {a.focus: need(right=a.right, in_time=a.in_time) for a in answers}
        return cls(drill, ladder, Standing(weights))

    def take(self, verdict: Verdict) -> int:
        """Count a verdict and return how far the level moved."""
        before = self.ladder.level
        self.standing = self.standing.after(verdict)
        self.ladder = self.ladder.after(
            right=verdict.right, in_time=verdict.in_time, top=self.drill.top_level
        )
        return self.ladder.level - before


@dataclass(frozen=True)
class Result:
    """How a session went.

    Attributes:
        title: what it was called.
        verdicts: in order.
        seconds: from the first question to the last answer, pauses left out.
    """

    title: str
    verdicts: tuple[Verdict, ...]
    seconds: float

    @property
    def points(self) -> int:
        """Points in all."""
        return sum(verdict.points for verdict in self.verdicts)

    @property
    def mean_points(self) -> float:
        """Points a question, 0 for an empty session."""
        return self.points / len(self.verdicts) if self.verdicts else 0.0

    @property
    def right(self) -> int:
        """Answers without a fault."""
        return sum(verdict.right for verdict in self.verdicts)

    @property
    def median_s(self) -> float:
        """Median time of an answer, 0 for an empty session."""
        times = [verdict.answer.seconds for verdict in self.verdicts]
        return median(times) if times else 0.0


class Session:
    """A player working through a program.

    Attributes:
        verdicts: what was answered so far.
        question: the question that stands, or was judged last.
        stage: what its drill was about when it was asked.
        program: what is asked.
        player: whom.
        level_moved: how far the last answer moved the level of its drill.
        recovered: whether it was right where the one before about the same was wrong.
    """

    def __init__(
        self,
        program: Program,
        player: Player,
        seed: int,
        clock: Clock,
        past: Past | None = None,
        record: Callable[[Sitting, Attempt], None] = lambda sitting, attempt: None,
    ) -> None:
        """Prepare a session.

        Args:
            program: what to ask.
            player: neck and hand.
            seed: decides the questions, together with what is known of the player.
            clock: where time comes from.
            past: what is known of earlier answers.
            record: called with every attempt.

        Raises:
            ManyFaults: something in the program cannot be asked on this neck.
        """
        program.check(player)
        past = past or NoPast()
        self.program = program
        self.player = player
        self.verdicts: list[Verdict] = []
        self.question: Question | None = None
        self.stage: Any = None
        self.level_moved = 0
        self.recovered = False
        self._seed = seed
        self._clock = clock
        self._record = record
        self._order: Iterator[int] = program.order()
        self._progress = [_Progress.from_past(drill, past) for drill in program.drills]
        self._paces: Mapping[str, list[float]] = {
            kind: past.paces(kind) for kind in {drill.kind for drill in program.drills}
        }
        self._sitting = Sitting(clock.unix_ms(), program.title, seed)
        self._state = State.READY
        self._current = 0
        self._target_s = 0.0
        self._time = _Stopwatch(clock)
        self._total_s = 0.0

    @property
    def state(self) -> State:
        """Where the session stands."""
        return self._state

    @property
    def number(self) -> int:
        """The number of the question that stands or was judged last, from 1."""
        return len(self.verdicts) + (self._state is State.ASKING)

    @property
    def length(self) -> int | None:
        """Questions in all, or None where the minutes decide."""
        return self.program.length

    @property
    def seconds(self) -> float:
        """Seconds practised so far, pauses and reading of verdicts left out."""
        return self._total_s + (self._time.seconds if self._state is State.ASKING else 0.0)

    @property
    def done_share(self) -> float:
        """How much of the session is done, 0 to 1."""
        by_minutes = self.seconds / (60 * self.program.minutes) if self.program.minutes else 0.0
        by_count = len(self.verdicts) / self.length if self.length else 0.0
        return min(1.0, max(by_minutes, by_count))

    @property
    def level(self) -> int:
        """The player's level in the current drill, from 0."""
        return self._progress[self._current].ladder.level

    @property
    def next_stage(self) -> Any:
        """What the current drill is about from now on."""
        return self._progress[self._current].drill.stage_at(self.level)

    @property
    def result(self) -> Result:
        """How it went so far."""
        return Result(self.program.title, tuple(self.verdicts), self._total_s)

    def ask(self) -> Question | None:
        """Put the next question, or end the session and return None."""
        if self._state not in (State.READY, State.JUDGED):
            raise RuntimeError(f"a session that is {self._state.value} has no next question")
        minutes = self.program.minutes
        index = next(self._order, None)
        if index is None or (minutes is not None and self.seconds >= 60 * minutes):
            self._state = State.OVER
            return None
        progress = self._progress[index]
        rng = Random(f"{self._seed} {len(self.verdicts)}")
        question = progress.drill.ask(self.player, progress.ladder.level, rng, progress.standing)
        pace = scoring.own_pace(self._paces[question.kind])
        factor = progress.drill.time_factor_at(progress.ladder.level)
        self._current = index
        self._target_s = round(scoring.target_s(question, pace, factor), JOURNAL_DIGITS)
        self.question = question
        self.stage = progress.drill.stage_at(progress.ladder.level)
        self._state = State.ASKING
        self._time.restart()
        return question

    def answer(self, given: Given | None) -> Verdict:
        """Judge an answer to the standing question; None gives up."""
        if self._state is not State.ASKING or self.question is None:
            raise RuntimeError(f"a session that is {self._state.value} takes no answer")
        answer = Answer(given, round(self._time.seconds, JOURNAL_DIGITS))
        verdict = judge(self.question, answer, self._target_s)
        progress = self._progress[self._current]
        attempt = Attempt.of(
            verdict,
            progress.drill,
            progress.ladder.level,
            len(self.verdicts) + 1,
            self._clock.unix_ms(),
        )
        self._total_s += answer.seconds
        self._state = State.JUDGED
        self.verdicts.append(verdict)
        self.recovered = verdict.right and progress.standing.was_wrong(verdict.question.focus)
        self.level_moved = progress.take(verdict)
        self._record(self._sitting, attempt)
        return verdict

    def pause(self) -> None:
        """Let time stand still."""
        self._time.pause()

    def resume(self) -> None:
        """Let time run again."""
        self._time.resume()


def judge(question: Question, answer: Answer, target_s: float) -> Verdict:
    """Return what an answer is worth.

    Args:
        question: what was asked.
        answer: what was given, None for giving up.
        target_s: the time that full speed allows.
    """
    kind = kind_named(question.kind)
    if answer.given is None:
        judgement = Judgement(0.0, kind.explain(question))
    else:
        judgement = kind.judge(question, answer.given)
    return scoring.verdict(question, answer, judgement, target_s)


class _Stopwatch:
    """Measures time on a clock, leaving pauses out."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._running_since: float | None = None
        self._before = 0.0

    @property
    def seconds(self) -> float:
        if self._running_since is None:
            return self._before
        return self._before + self._clock.seconds() - self._running_since

    def restart(self) -> None:
        self._before, self._running_since = 0.0, self._clock.seconds()

    def pause(self) -> None:
        self._before, self._running_since = self.seconds, None

    def resume(self) -> None:
        if self._running_since is None:
            self._running_since = self._clock.seconds()
