"""A drill: a kind with its settings, and how it grows.

Idea: a drill lists its stages from easy to hard, such as parts of the neck from
narrow to wide. The player's level picks the stage and how much time full speed
allows: each stage is first taken at ease, then a little quicker, then the next one
opens; the last one is pressed on to below the player's own pace. Levels move only
by what the player gets right or wrong.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from random import Random
from typing import Any

from fretdrill.engine.player import Player
from fretdrill.engine.question import Question, Verdict
from fretdrill.engine.registry import kind_named

ORDERS = ("shuffled", "listed")
"""``listed`` brings new things in the order they are listed, known ones by weight."""

EASY, STEADY = 1.5, 1.2
"""Target time over own pace, for the first two levels of each stage [assumption]."""
QUICK = (1.0, 0.85, 0.7)
"""The same, for the levels after the last stage is held [assumption]."""

RIGHTS_TO_CLIMB = 3
WRONGS_TO_DROP = 2

WRONG_NEED, SLOW_NEED, UNMET_NEED, KNOWN_NEED = 4.0, 2.0, 2.0, 1.0
"""How much something needs asking, relative to the rest [assumption]."""

NEW_SHARE = 0.5
"""Share of questions about something new, while there is something new [assumption]."""


@dataclass(frozen=True)
class Drill:
    """A kind with its settings.

    Attributes:
        kind: name of the kind.
        stages: what it is about, easy to hard; at least one. Their type is the kind's own.
        order: one of :data:`ORDERS`.
        count: questions in a session, where nothing else decides.
    """

    kind: str
    stages: tuple[Any, ...]
    order: str = "shuffled"
    count: int = 10

    @property
    def top_level(self) -> int:
        """The highest level."""
        return 2 * len(self.stages) + len(QUICK) - 1

    def stage_at(self, level: int) -> Any:
        """Return what a level is about."""
        return self.stages[min(level // 2, len(self.stages) - 1)]

    def time_factor_at(self, level: int) -> float:
        """Return target time over own pace at a level."""
        if level < 2 * len(self.stages):
            return STEADY if level % 2 else EASY
        return QUICK[min(level - 2 * len(self.stages), len(QUICK) - 1)]

    @property
    def key(self) -> str:
        """The settings as text, the same for the same drill."""
        return f"{self.kind}; {kind_named(self.kind).wording(self.stages)}; {self.order}"

    def check(self, player: Player) -> None:
        """Make sure that there is something to ask at every level.

        Raises:
            InputError: a stage does not fit the neck, or leaves nothing to ask.
        """
        for stage in self.stages:
            kind_named(self.kind).check(player, stage)

    def ask(
        self, player: Player, level: int, rng: Random, standing: "Standing", focus: str = ""
    ) -> Question:
        """Make a question.

        Args:
            player: neck and hand.
            level: 0 to :attr:`top_level`.
            rng: the generator that decides; the same state asks the same.
            standing: what is known of the player's answers so far.
            focus: what to ask about, where it is decided already.
        """
        stage, kind = self.stage_at(level), kind_named(self.kind)
        foci = kind.foci(player, stage)
        chosen = focus or choose(foci, standing, self.order, rng, kind.subject)
        return kind.ask(player, stage, chosen)


@dataclass(frozen=True)
class Standing:
    """What is known of a player's answers to one drill.

    Attributes:
        weights: focus → how much it needs asking again; a focus that was never
            met is not in it.
        recent: the last foci asked, newest last.
    """

    weights: dict[str, float]
    recent: tuple[str, ...] = ()

    def was_wrong(self, focus: str) -> bool:
        """Whether the last answer about a focus was wrong."""
        return self.weights.get(focus) == WRONG_NEED

    def after(self, verdict: Verdict) -> "Standing":
        """Return the standing with one more answer."""
        focus = verdict.question.focus
        weight = need(right=verdict.right, in_time=verdict.in_time)
        return Standing({**self.weights, focus: weight}, (*self.recent, focus)[-2:])


def need(*, right: bool, in_time: bool) -> float:
    """Return how much something needs asking again, by how it went last time."""
    if not right:
        return WRONG_NEED
    return KNOWN_NEED if in_time else SLOW_NEED


def choose(
    foci: tuple[str, ...],
    standing: Standing,
    order: str,
    rng: Random,
    subject: Callable[[str], str] = str,
) -> str:
    """Choose what to ask about next.

    What was asked last is not asked again while there is something else; what
    went wrong comes back more often than what went well.

    Args:
        foci: all that can be asked about, in a teacher's order.
        standing: what is known of the player.
        order: one of :data:`ORDERS`.
        rng: decides.
        subject: what of a focus is not asked about twice in a row.
    """
    recent = [subject(focus) for focus in standing.recent]
    fresh = [focus for focus in foci if subject(focus) not in recent]
    candidates = fresh or [f for f in foci if subject(f) not in recent[-1:]] or list(foci)
    if order == "listed":
        unmet = [focus for focus in candidates if focus not in standing.weights]
        met = [focus for focus in candidates if focus in standing.weights]
        if unmet and (not met or rng.random() < NEW_SHARE):
            return unmet[0]
        candidates = met
    weights = [standing.weights.get(focus, UNMET_NEED) for focus in candidates]
    return rng.choices(candidates, weights)[0]


@dataclass(frozen=True, slots=True)
class Ladder:
    """A player's level in one drill, moved by answers alone.

    Attributes:
        level: 0 and up.
        climbing: right answers in time since the level last changed or an answer
            was wrong.
        slipping: wrong answers in a row.
    """

    level: int = 0
    climbing: int = 0
    slipping: int = 0

    def after(self, *, right: bool, in_time: bool, top: int) -> "Ladder":
        """Return the ladder with one more answer; right but slow only ends a slip."""
        if not right:
            if self.slipping + 1 < WRONGS_TO_DROP:
                return Ladder(self.level, 0, self.slipping + 1)
            return Ladder(max(0, self.level - 1))
        if not in_time:
            return Ladder(self.level, self.climbing, 0)
        if self.climbing + 1 < RIGHTS_TO_CLIMB:
            return Ladder(self.level, self.climbing + 1, 0)
        return Ladder(min(top, self.level + 1))

    @classmethod
    def replay(cls, answers: Iterable[tuple[bool, bool]], top: int, level: int = 0) -> "Ladder":
        """Return where a player stands after ``(right, in_time)`` answers from a level."""
        ladder = cls(level)
        for right, in_time in answers:
            ladder = ladder.after(right=right, in_time=in_time, top=top)
        return ladder
