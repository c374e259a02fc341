"""Points: accuracy × speed against the player's own pace.

Idea: time is compared with a target that comes from the player, never with other
people; no published norm exists for finding notes on a fretboard. Below the target
speed is full; beyond it a quarter is lost each time the time doubles, never more
than half, so that being right is always worth more than being quick.

All constants here are assumptions, set by sense.
"""

import math
from collections.abc import Sequence
from statistics import median

from fretdrill.engine.question import Answer, Judgement, Question, Verdict
from fretdrill.engine.reasons import Slow

UNMEASURED_PACE_S = 8.0  # seconds a thing, before the player's own pace is known: no hurry
FASTEST_PACE_S = 0.75  # a motor baseline of 0.25 s and half a second to know
SLOWEST_PACE_S = 12.0
PACE_SAMPLES = 5  # right answers needed before the pace counts as measured
LOSS_PER_DOUBLING = 0.25
LEAST_SPEED = 0.5
REGRET_SCALE = 3.0  # regret at which a finger choice is worth 1/e


def own_pace(seconds_per_unit: Sequence[float]) -> float:
    """Return a player's pace: the median of their right answers, in s a thing.

    Args:
        seconds_per_unit: times of recent right answers over the things asked for.
    """
    if len(seconds_per_unit) < PACE_SAMPLES:
        return UNMEASURED_PACE_S
    return min(max(median(seconds_per_unit), FASTEST_PACE_S), SLOWEST_PACE_S)


def target_s(question: Question, pace_s: float, time_factor: float) -> float:
    """Return the time that full speed allows for a question."""
    fastest = FASTEST_PACE_S * question.units if question.least_s is None else question.least_s
    return max(fastest, pace_s * time_factor * question.units)


def speed(seconds: float, target: float) -> float:
    """Return the speed factor, from 1 down to :data:`LEAST_SPEED`."""
    if seconds <= target:
        return 1.0
    return max(LEAST_SPEED, 1.0 - LOSS_PER_DOUBLING * math.log2(seconds / target))


def finger_accuracy(regret: float) -> float:
    """Return what a finger choice is worth, 1 for the best."""
    return math.exp(-regret / REGRET_SCALE)


def verdict(question: Question, answer: Answer, judgement: Judgement, target: float) -> Verdict:
    """Turn a judgement and the time taken into points."""
    factor = speed(answer.seconds, target)
    reasons = judgement.reasons
    if judgement.accuracy >= 1.0 and factor < 1.0:
        reasons = (*reasons, Slow(answer.seconds, target))
    return Verdict(
        question=question,
        answer=answer,
        points=round(100 * judgement.accuracy * factor),
        accuracy=judgement.accuracy,
        speed=factor,
        target_s=target,
        reasons=reasons,
        regret=judgement.regret,
        grade=judgement.grade,
    )
