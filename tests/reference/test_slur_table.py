"""What can be joined without a second pluck, held against the rules of the trade.

Source: several lessons, a slur guide for classical guitar among them: a hammer-on goes up on one
string, the lower note plucked and another finger striking the higher one; a pull-off goes down on
one string to a note whose finger is down already, or to the open string; a slide keeps one finger
on one string. MusicXML 4.0 (``hammer-on``, ``pull-off``, ``slide`` of ``technical`` and
``notations``) marks them between two notes of one string likewise. What lies on two strings is
plucked (common practice, no source).
"""

import pytest

from fretdrill.engine.kinds.slur import Slur, SlurStage
from fretdrill.engine.lines import Lines
from fretdrill.engine.player import Player
from fretdrill.engine.question import Joining
from fretdrill.engine.tone_reasons import Bound, Joined
from fretdrill.hand.hand import Hand
from fretdrill.neck.neck import Neck
from fretdrill.neck.scope import Scope

SLUR, PLAYER = Slur(), Player(Neck(), Hand())
FOCI = SlurStage(Scope.parse("position 5"), Lines())
HAMMER, PULL, SLIDE, PLUCKED = Joining

# Frets of a 34-in scale: 5 to 7 are 73 mm apart, 5 to 8 103 mm, 5 to 12 215 mm; fingers 1 and 4
# of a medium hand part 137 mm at the most (piano spans, see fretdrill.hand.hand).
TABLE = [
    ("5:2/5>2/7", HAMMER, Bound.UP),
    ("5:2/5>2/8", HAMMER, Bound.UP),
    ("5:2/6>2/7", HAMMER, Bound.UP),
    ("5:2/7>2/5", PULL, Bound.DOWN),
    ("5:2/8>2/6", PULL, Bound.DOWN),
    ("5:3/0>3/5", HAMMER, Bound.UP_FROM_OPEN),
    ("5:3/0>3/12", HAMMER, Bound.UP_FROM_OPEN),
    ("5:3/7>3/0", PULL, Bound.DOWN_TO_OPEN),
    ("5:2/5>2/12", SLIDE, Bound.TOO_FAR),
    ("5:2/12>2/5", SLIDE, Bound.TOO_FAR),
    ("5:1/8>1/3", SLIDE, Bound.TOO_FAR),
    ("5:2/5>1/5", PLUCKED, Bound.STRINGS),
    ("5:3/5>2/7", PLUCKED, Bound.STRINGS),
    ("1:4/0>3/0", PLUCKED, Bound.STRINGS),
    ("1:4/1>4/3", HAMMER, Bound.UP),
    ("1:4/3>4/1", PULL, Bound.DOWN),
]


@pytest.mark.parametrize(("focus", "way", "bound"), TABLE)
def test_the_way_and_what_makes_it_so(focus: str, way: Joining, bound: Bound) -> None:
    question = SLUR.ask(PLAYER, FOCI, focus)
    assert question.right is way
    (reason,) = SLUR.explain(question)
    assert isinstance(reason, Joined)
    assert reason.bound is bound
    assert SLUR.judge(question, way).accuracy == 1.0
    for other in set(Joining) - {way}:
        worth = SLUR.judge(question, other).accuracy
        stopped = "/0" not in focus
        also = other is SLIDE and stopped and way in (HAMMER, PULL)
        assert 0 < worth < 1 if also else worth == 0, other


def rule(one: tuple[int, int], two: tuple[int, int], reachable: bool) -> Joining:
    """Say the way by the rules alone, for two notes that the hand reaches or does not."""
    if one[0] != two[0]:
        return PLUCKED
    up = two[1] > one[1]
    if one[1] == 0:
        return HAMMER
    if two[1] == 0:
        return PULL
    if not reachable:
        return SLIDE
    return HAMMER if up else PULL


@pytest.mark.parametrize("position", [3, 5, 7, 9])
def test_every_question_keeps_the_rules(position: int) -> None:
    """In these positions the four fingers lie over four frets: any two of them are reached."""
    stage = SlurStage(Scope.parse(f"position {position}, open strings"), Lines())
    for focus in SLUR.foci(PLAYER, stage):
        one, two = (tuple(map(int, p.split("/"))) for p in focus.split(":")[1].split(">"))
        under = set(range(position, position + 4)) | {0}
        reachable = {one[1], two[1]} <= under
        question = SLUR.ask(PLAYER, stage, focus)
        asked = (one[0], one[1]), (two[0], two[1])
        if reachable or question.right is not SLIDE:
            assert question.right is rule(*asked, reachable) or not reachable, focus


def test_the_four_ways_are_asked_about_equally() -> None:
    stage = SlurStage(Scope.parse("position 5"), Lines())
    ways = [SLUR.ask(PLAYER, stage, focus).right for focus in SLUR.foci(PLAYER, stage)]
    counts = {way: ways.count(way) for way in Joining}
    assert len(set(counts.values())) == 1
    assert counts[HAMMER] >= 5
