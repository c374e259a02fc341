"""``slur``: say how two notes can be joined in a position.

Rules (several guitar and bass lessons, see :mod:`fretdrill.hand.joins`): a hammer-on goes up
on one string to a higher finger, a pull-off down to a lower finger that is already on its
fret, or to the open string; a slide keeps finger and string, and takes the hand along. What
lies on two strings is plucked. Where the hand can stay, the slide is the dearer way.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

from fretdrill.engine.kind import FindLine
from fretdrill.engine.kinds.finger import positions_in
from fretdrill.engine.lines import Lines, line_settings, lines_of
from fretdrill.engine.part import SCOPE
from fretdrill.engine.piece import plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import Given, Grade, Joining, JoinNotes, Judgement, Question
from fretdrill.engine.reasons import Reason
from fretdrill.engine.scoring import finger_accuracy
from fretdrill.engine.table import Setting
from fretdrill.engine.tone_reasons import Bound, Joined, SlideMoves
from fretdrill.errors import NothingToAsk
from fretdrill.hand.in_position import UNHURRIED_S, WEIGHTS
from fretdrill.hand.joins import Technique, technique
from fretdrill.hand.states import Pin, State, states_of
from fretdrill.hand.terms import move_cost
from fretdrill.neck.neck import Place
from fretdrill.neck.position import POSITION_FRETS
from fretdrill.neck.scope import Scope

SLIDES = (5, 7)  # frets: beyond every hand in most places
WAYS = {
    Technique.HAMMER_ON: Joining.HAMMER_ON,
    Technique.PULL_OFF: Joining.PULL_OFF,
    Technique.SLIDE: Joining.SLIDE,
}


@dataclass(frozen=True, slots=True)
class SlurStage:
    """One step of difficulty: a part of the neck, or the neighbours in some lines."""

    scope: Scope
    lines: Lines


class Slur:
    """Say how two notes can be joined here."""

    name = "slur"
    about = "say how two notes can be joined in a position"

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        return {"scope": SCOPE, "line": line_settings(find_line)["line"]}

    def stages(self, values: Mapping[str, Any]) -> tuple[SlurStage, ...]:
        """Return the parts of the neck, or one stage for the lines that are named."""
        if values["line"]:
            lines = lines_of({"line": values["line"], "figure": (), "key": Lines().keys})
            return (SlurStage(Scope(), lines),)
        return tuple(SlurStage(scope, Lines()) for scope in values["scope"])

    def wording(self, stages: tuple[SlurStage, ...]) -> str:
        """Return scopes or lines as text."""
        if stages[0].lines.written:
            return str(stages[0].lines)
        return " | ".join(str(stage.scope) for stage in stages)

    def check(self, player: Player, stage: SlurStage) -> None:
        """Make sure that there are two notes to join.

        Raises:
            InputError: the scope does not fit the neck.
            NothingToAsk: there are none.
        """
        stage.scope.check(player.neck)
        if not self.foci(player, stage):
            what = stage.lines if stage.lines.written else stage.scope
            raise NothingToAsk(f"there are no two notes to join in '{what}'")

    def foci(self, player: Player, stage: SlurStage) -> tuple[str, ...]:
        """Return ``position:place>place``, about as many for each way of joining."""
        if stage.lines.written:
            return tuple(dict.fromkeys(_of_lines(player, stage.lines)))
        return _of_scope(player, stage.scope)

    def subject(self, focus: str) -> str:
        """Return the two places."""
        return focus

    def ask(self, player: Player, stage: SlurStage, focus: str) -> Question:
        """Ask for the way to join two places."""
        position_text, places = focus.split(":")
        one, two = (Place.parse(text) for text in places.split(">"))
        position = int(position_text)
        way, joined = _joined(player, one, two, position)
        # What decides is learnt, wherever the two notes lie.
        shape = f"{two.string - one.string:+d} {two.fret - one.fret:+d}"
        return Question(
            kind=self.name,
            player=player,
            scope=Scope(max(1, min(position, one.fret, two.fret)), max(1, one.fret, two.fret)),
            task=JoinNotes(one, two, position),
            focus=focus,
            right=way,
            item_keys=(f"slur {joined.bound.name.lower()}: {position} {shape}",),
            position=position,
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Accept the way that keeps the hand where it is; a slide beside it costs its move."""
        match question.task, question.right, given:
            case JoinNotes(), Joining() as right, Joining() if given is right:
                return Judgement(1.0, self.explain(question))
            case JoinNotes() as task, Joining() as right, Joining.SLIDE if _slides(task):
                frets = task.after.fret - task.place.fret
                regret = move_cost(WEIGHTS, question.player.hand, frets, UNHURRIED_S)
                span = question.player.neck.span_mm(task.place.fret, task.after.fret)
                moves = SlideMoves(task.position, frets, span)
                reasons = (*self.explain(question), moves)
                return Judgement(finger_accuracy(regret), reasons, regret, Grade.SHIFT)
            case JoinNotes(), _, Joining():
                return Judgement(0.0, self.explain(question))
        raise TypeError("a slur question is answered with a way of joining")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Say what makes it so."""
        if not isinstance(question.task, JoinNotes):
            raise TypeError("a slur question asks for two notes")
        task = question.task
        return (_joined(question.player, task.place, task.after, task.position)[1],)


def _slides(task: JoinNotes) -> bool:
    return task.place.string == task.after.string and 0 not in (task.place.fret, task.after.fret)


@lru_cache(maxsize=64)
def _of_scope(player: Player, scope: Scope) -> tuple[str, ...]:
    found: dict[Joining, list[str]] = {}
    for position in positions_in(player, scope):
        for one, two in _pairs(player, scope, position):
            way = _joined(player, one, two, position)[0]
            found.setdefault(way, []).append(f"{position}:{one}>{two}")
    fewest = min(map(len, found.values()), default=0)
    return tuple(
        focus for foci in found.values() for focus in foci[:: len(foci) // fewest][:fewest]
    )


def _of_lines(player: Player, lines: Lines) -> Iterator[str]:
    """Yield the neighbouring notes of lines, as their plans take them."""
    for piece in lines.written:
        states = plan_of(piece, player).states
        for one, two in pairwise(states):
            if one.place != two.place:
                yield f"{one.anchor}:{one.place}>{two.place}"


def _pairs(player: Player, scope: Scope, position: int) -> Iterator[tuple[Place, Place]]:
    """Yield pairs of places around a position: on one string near and far, on two strings."""
    neck = player.neck
    last = min(position + POSITION_FRETS - 1, neck.frets)
    frets = [*([0] if scope.open_strings else []), *range(position, last + 1)]
    strings = sorted(scope.strings or neck.strings)
    for string in strings:
        for fret in frets:
            one = Place(string, fret)
            yield from ((one, Place(string, other)) for other in frets if other != fret)
            far = (fret + step * way for step in SLIDES for way in (1, -1))
            if fret:
                yield from ((one, Place(string, f)) for f in far if 1 <= f <= neck.frets)
            if string + 1 in strings:
                yield one, Place(string + 1, frets[-1 - frets.index(fret)])


def _joined(player: Player, one: Place, two: Place, position: int) -> tuple[Joining, Joined]:
    """Return how two places are joined with the hand in a position, and what makes it so."""
    neck, hand = player.neck, player.hand
    span = neck.span_mm(one.fret, two.fret)
    if one.string != two.string:
        return Joining.PLUCKED, Joined(one, two, Bound.STRINGS, None, span, 0.0)
    # From an open string the hand may come from anywhere; else it is where it is.
    firsts = _hands(player, one, position)
    seconds = _hands(player, two, position if one.fret else None)
    pairs = [(first, second) for first in firsts for second in seconds]
    ways = {pair: technique(neck, hand, *pair) for pair in pairs}
    kept = [pair for pair, way in ways.items() if way in (Technique.HAMMER_ON, Technique.PULL_OFF)]
    if kept:
        first, second = min(kept, key=lambda pair: abs(pair[0].finger - pair[1].finger))
        way = ways[first, second]
        fingers = first.finger, second.finger
        limit = 0.0 if 0 in fingers else hand.span(*fingers).practical
        bound = _slur_bound(one, two)
        if way is not None:
            return WAYS[way], Joined(one, two, bound, fingers, span, limit)
    limit = hand.span(1, 4).practical
    bound = Bound.TOO_FAR if span > limit else Bound.NO_PAIR
    return Joining.SLIDE, Joined(one, two, bound, None, span, limit)


def _slur_bound(one: Place, two: Place) -> Bound:
    if two.fret > one.fret:
        return Bound.UP if one.fret else Bound.UP_FROM_OPEN
    return Bound.DOWN if two.fret else Bound.DOWN_TO_OPEN


def _hands(player: Player, place: Place, position: int | None) -> list[State]:
    """Return how the hand can stand at a place, in a position or in any."""
    pin = Pin(string=place.string, fret=place.fret, position=position)
    return states_of(player.neck, player.hand, player.neck.midi(place), pin)
