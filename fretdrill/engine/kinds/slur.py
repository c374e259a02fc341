"""``slur``: say how two notes can be joined in a position.

The rules are those of :mod:`fretdrill.engine.joining`. Of all pairs of notes about as many
are asked about for each of the ways, so that no answer is the likely one; which ones, chance
has decided once and for all.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, zip_longest
from random import Random
from typing import Any, NamedTuple

from fretdrill.engine.joining import joined
from fretdrill.engine.kind import FindLine
from fretdrill.engine.kinds.finger import positions_in
from fretdrill.engine.lines import Lines, line_settings, lines_of
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import SCOPE, read_notes
from fretdrill.engine.piece import plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import Given, Grade, Joining, JoinNotes, Judgement, Question
from fretdrill.engine.reasons import Reason
from fretdrill.engine.scoring import finger_accuracy
from fretdrill.engine.table import Setting
from fretdrill.engine.tone_reasons import Bar, NotJoinedSo, SlideMoves
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.hand.in_position import UNHURRIED_S, WEIGHTS
from fretdrill.hand.terms import move_cost
from fretdrill.neck.neck import Place
from fretdrill.neck.position import POSITION_FRETS
from fretdrill.neck.scope import Scope

SLIDES = (5, 7)  # frets: beyond every hand in most places
LEAST_EACH = 10  # pairs for each way, even where another way has fewer [assumption]
MOST_EACH = 100  # more than anybody goes through [assumption]
CHROMATIC = NoteSet.parse("chromatic")


@dataclass(frozen=True, slots=True)
class SlurStage:
    """One step of difficulty.

    Attributes:
        scope: the part of the neck that the pairs lie around.
        lines: lines whose neighbouring notes are asked about in place of it, if any.
        notes: what both notes of a pair belong to.
    """

    scope: Scope
    lines: Lines
    notes: NoteSet = CHROMATIC


class Slur:
    """Say how two notes can be joined here."""

    name = "slur"
    about = "say how two notes can be joined in a position"

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        return {
            "scope": SCOPE,
            "notes": Setting(read_notes, CHROMATIC),
            "line": line_settings(find_line)["line"],
        }

    def stages(self, values: Mapping[str, Any]) -> tuple[SlurStage, ...]:
        """Return the parts of the neck, or one stage for the lines that are named.

        Raises:
            InputError: a line is named, and another place or other notes too.
        """
        if values["line"]:
            if values["scope"] != SCOPE.default or values["notes"] != CHROMATIC:
                raise InputError(
                    "a line has its own notes and places; 'scope' and 'notes' do not go with 'line'"
                )
            lines = lines_of({"line": values["line"], "figure": (), "key": Lines().keys})
            return (SlurStage(Scope(), lines),)
        return tuple(SlurStage(scope, Lines(), values["notes"]) for scope in values["scope"])

    def wording(self, stages: tuple[SlurStage, ...]) -> str:
        """Return scopes and notes, or lines, as text."""
        if stages[0].lines.written:
            return str(stages[0].lines)
        return f"{' | '.join(str(stage.scope) for stage in stages)}; {stages[0].notes}"

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
            return _of_lines(player, stage.lines)
        return _of_scope(player, stage.scope, stage.notes)

    def subject(self, focus: str) -> str:
        """Return the two places."""
        return focus

    def ask(self, player: Player, stage: SlurStage, focus: str) -> Question:
        """Ask for the way to join two places."""
        position_text, places = focus.split(":")
        one, two = (Place.parse(text) for text in places.split(">"))
        position = int(position_text)
        way, why = joined(player, one, two, position)
        # What decides is learnt, wherever the two notes lie.
        shape = f"{two.string - one.string:+d} {two.fret - one.fret:+d}"
        frets = (position, one.fret, two.fret)
        return Question(
            kind=self.name,
            player=player,
            scope=Scope(max(1, min(frets)), max(frets)),
            task=JoinNotes(one, two, position),
            focus=focus,
            right=way,
            item_keys=(f"slur {why.bound.name.lower()}: {position} {shape}",),
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
            case JoinNotes() as task, Joining() as right, Joining():
                return Judgement(0.0, (*_against(task, right, given), *self.explain(question)))
        raise TypeError("a slur question is answered with a way of joining")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Say what makes it so."""
        if not isinstance(question.task, JoinNotes):
            raise TypeError("a slur question asks for two notes")
        task = question.task
        return (joined(question.player, task.place, task.after, task.position)[1],)


def _slides(task: JoinNotes) -> bool:
    return task.place.string == task.after.string and 0 not in (task.place.fret, task.after.fret)


def _against(task: JoinNotes, right: Joining, given: Joining) -> Iterator[Reason]:
    """Yield what speaks against a way of joining, where what decides does not say it."""
    if right in (Joining.PLUCKED, Joining.SLIDE):
        return
    match given:
        case Joining.HAMMER_ON:
            yield NotJoinedSo(task.place, task.after, Bar.UP_ONLY)
        case Joining.PULL_OFF:
            yield NotJoinedSo(task.place, task.after, Bar.DOWN_ONLY)
        case Joining.SLIDE:
            yield NotJoinedSo(task.place, task.after, Bar.NO_FINGER)
        case Joining.PLUCKED:
            yield NotJoinedSo(task.place, task.after, Bar.NOT_NEEDED)


class _Pair(NamedTuple):
    """Two places and where the hand stands."""

    position: int
    one: Place
    two: Place

    def __str__(self) -> str:
        return f"{self.position}:{self.one}>{self.two}"


@lru_cache(maxsize=64)
def _of_scope(player: Player, scope: Scope, notes: NoteSet) -> tuple[str, ...]:
    """Return pairs around the positions of a scope."""
    classes = {name.pitch_class for name in notes.names(player.accidentals)}
    asked = {place for place in player.neck.places if player.neck.midi(place) % 12 in classes}
    found: dict[Joining, list[_Pair]] = {}
    for position in positions_in(player, scope):
        ways: dict[tuple[int, int, bool], Joining] = {}  # the same ones on every string
        for one, two in _pairs(player, scope, position):
            if one not in asked or two not in asked:
                continue
            shape = (one.fret, two.fret, one.string == two.string)
            if shape not in ways:
                ways[shape] = joined(player, one, two, position)[0]
            found.setdefault(ways[shape], []).append(_Pair(position, one, two))
    return _in_turn(found)


@lru_cache(maxsize=64)
def _of_lines(player: Player, lines: Lines) -> tuple[str, ...]:
    """Return the neighbouring notes of lines, as their plans take them."""
    found: dict[Joining, list[_Pair]] = {}
    plans = [plan_of(piece, player) for piece in lines.written]
    neighbours = (pair for plan in plans for pair in pairwise(plan.states))
    pairs = [_Pair(one.anchor, one.place, two.place) for one, two in neighbours]
    for pair in dict.fromkeys(pair for pair in pairs if pair.one != pair.two):
        way = joined(player, pair.one, pair.two, pair.position)[0]
        found.setdefault(way, []).append(pair)
    return _in_turn(found)


def _in_turn(found: Mapping[Joining, list[_Pair]]) -> tuple[str, ...]:
    """Return the foci of about as many pairs of each way, the ways taking turns."""
    fewest = min(map(len, found.values()), default=0)
    share = min(max(fewest, LEAST_EACH), MOST_EACH)
    drawn = []
    for way in Joining:
        pairs = found.get(way, [])
        indexes = Random(way.value).sample(range(len(pairs)), min(share, len(pairs)))
        drawn.append([pairs[index] for index in sorted(indexes)])
    return tuple(str(pair) for turn in zip_longest(*drawn) for pair in turn if pair is not None)


def _pairs(player: Player, scope: Scope, position: int) -> Iterator[tuple[Place, Place]]:
    """Yield pairs of places around a position: on one string near and far, on two strings."""
    last = min(position + POSITION_FRETS - 1, scope.last_fret, player.neck.frets)
    frets = [*([0] if scope.open_strings else []), *range(position, last + 1)]
    strings = sorted(scope.strings or player.neck.strings)
    for string in strings:
        for fret, mirrored in zip(frets, reversed(frets), strict=True):
            one, below = Place(string, fret), Place(string + 1, mirrored)
            others = [*(f for f in frets if f != fret), *_far(player, scope, fret)]
            yield from ((one, Place(string, other)) for other in others)
            if below.string in strings:
                yield one, below
                yield below, one


def _far(player: Player, scope: Scope, fret: int) -> list[int]:
    """Return frets that a finger slides to, in the scope unless it is too narrow for that."""
    first, last = scope.first_fret, min(scope.last_fret, player.neck.frets)
    if last - first < max(SLIDES):
        first, last = 1, player.neck.frets
    far = (fret + step for slide in SLIDES for step in (slide, -slide))
    return [other for other in far if fret and first <= other <= last]
