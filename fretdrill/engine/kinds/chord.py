"""``chord``: mark the tones of a chord within reach of the hand.

Idea: the root is shown, and the hand stands as it usually does for that chord: in the position
that is given, else with finger 2 on the root, or with finger 1 where the third is minor (common
practice, no source). What can be marked lies between finger 1 and what finger 4 reaches, in
mm and in the frets that its finger system gives it; open strings where the scope has them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fretdrill.engine import table
from fretdrill.engine.kind import FindLine
from fretdrill.engine.kinds.find import WRONG_MARK_COST
from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.part import SCOPE, read_notes
from fretdrill.engine.player import Player
from fretdrill.engine.question import FindTones, Given, Judgement, Question
from fretdrill.engine.reasons import Reason
from fretdrill.engine.table import Setting
from fretdrill.engine.tone_reasons import BeyondHand, OtherTone, ToneMissed
from fretdrill.errors import InputError, NothingToAsk
from fretdrill.hand.states import FRAMES
from fretdrill.neck.neck import Neck, Place, in_order
from fretdrill.neck.scope import Scope
from fretdrill.theory.chord import QUALITIES, Chord
from fretdrill.theory.pitch import LETTERS, MAX_ALTER, NoteName

TONES = ("one", "all")
DEFAULT_CHORDS = ("maj min", "7 m7 maj7", "m7b5 dim aug sus4", "6 m6 add9 9")
NEAR_FRETS = 2  # a wrong mark this near to a tone is told how far it is


@dataclass(frozen=True, slots=True)
class ChordStage:
    """One step of difficulty.

    Attributes:
        scope: the part of the neck that the root lies in.
        roots: the roots.
        chords: qualities such as ``m7``, or whole chords such as ``Dm7`` with their own root.
        tones: one of :data:`TONES`: a degree at a time, or all but the root.
    """

    scope: Scope
    roots: NoteSet
    chords: tuple[Chord | str, ...]
    tones: str


class ChordTones:
    """Mark the third, fifth, seventh … of a chord near the hand."""

    name = "chord"
    about = "mark the tones of a chord within reach of the hand"

    def settings(self, find_line: FindLine) -> Mapping[str, Setting]:
        """Return the settings of a drill of this kind."""
        return {
            "scope": SCOPE,
            "notes": Setting(read_notes, NoteSet.parse("naturals")),
            "chord": Setting(table.list_of(_chords), tuple(map(_chords, DEFAULT_CHORDS))),
            "tones": Setting(table.list_of(table.one_of("choice of tones", TONES)), TONES),
        }

    def stages(self, values: Mapping[str, Any]) -> tuple[ChordStage, ...]:
        """Return as many stages as the longest list has; the others stay at their last."""
        lists = (values["scope"], values["chord"], values["tones"])
        return tuple(
            ChordStage(scope, values["notes"], chords, tones)
            for scope, chords, tones in table.side_by_side(*lists)
        )

    def wording(self, stages: tuple[ChordStage, ...]) -> str:
        """Return the stages as text."""
        steps = (f"{s.scope}; {_written(s.chords)}; {s.tones}" for s in stages)
        return f"{' | '.join(steps)}; {stages[0].roots}"

    def check(self, player: Player, stage: ChordStage) -> None:
        """Make sure that some chord has its root in the scope and tones in reach.

        Raises:
            InputError: the scope does not fit the neck.
            NothingToAsk: there is none.
        """
        stage.scope.check(player.neck)
        if not self.foci(player, stage):
            raise NothingToAsk(
                f"no root of '{stage.roots}' for {_written(stage.chords)} lies in '{stage.scope}' "
                "with other tones in reach"
            )

    def foci(self, player: Player, stage: ChordStage) -> tuple[str, ...]:
        """Return ``string/fret chord degrees`` for every root, chord and choice of tones."""
        return _foci(player, stage)

    def subject(self, focus: str) -> str:
        """Return the root's place and the chord."""
        return focus.rsplit(" ", 1)[0]

    def ask(self, player: Player, stage: ChordStage, focus: str) -> Question:
        """Ask for tones of the chord on the root's place."""
        place_text, symbol, degrees_text = focus.split(" ")
        place, chord, degrees = (
            Place.parse(place_text),
            Chord.parse(symbol),
            degrees_text.split(","),
        )
        near = _reach(player, stage.scope, chord, place)
        return Question(
            kind=self.name,
            player=player,
            scope=near,
            task=FindTones(chord, tuple(degrees), place),
            focus=focus,
            right=frozenset(_tones(player.neck, near, chord, degrees)),
            item_keys=tuple(f"chord {chord.quality}: {degree}" for degree in degrees),
            position=near.position,
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Count places found, less half of those marked wrongly, over those there are."""
        match question.task, question.right, given:
            case FindTones() as task, frozenset() as right, frozenset() as marked:
                wrong = in_order(marked - right - {task.place})
                reasons = [_wrong(question, task, place) for place in wrong]
                reasons += _missed(question, task, right - marked)
                worth = len(right & marked) - WRONG_MARK_COST * len(wrong)
                return Judgement(max(0.0, worth / len(right)), tuple(reasons))
        raise TypeError("a chord question is answered with places")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Lead from the root to every tone."""
        match question.task, question.right:
            case FindTones() as task, frozenset() as right:
                return tuple(_missed(question, task, right))
        raise TypeError("a chord question asks for tones")


@lru_cache(maxsize=64)
def _foci(player: Player, stage: ChordStage) -> tuple[str, ...]:
    """Return the foci, root by root as they are listed, the lowest place first."""
    names = stage.roots.names(player.accidentals)
    reached: dict[Scope, set[int]] = {}
    found: list[tuple[int, str]] = []
    for place in stage.scope.places(player.neck):
        for chord in _chords_on(player, stage, place):
            near = _reach(player, stage.scope, chord, place)
            if place not in near:  # a small hand does not reach all of a low position
                continue
            if near not in reached:
                reached[near] = {player.neck.midi(p) % 12 for p in near.places(player.neck)}
            tones = list(zip(chord.degrees, chord.tones, strict=True))[1:]
            there = [degree for degree, name in tones if name.pitch_class in reached[near]]
            groups = there if stage.tones == "one" else filter(None, [",".join(there)])
            rank = names.index(chord.root) if chord.root in names else len(names)
            found += ((rank, f"{place} {chord} {degrees}") for degrees in groups)
    in_order_listed = sorted(dict.fromkeys(found), key=lambda ranked: ranked[0])
    return tuple(focus for _, focus in in_order_listed)


def _chords(value: Any) -> tuple[Chord | str, ...]:
    """Read qualities or chords with blanks or commas between them."""
    words = table.text(value).replace(",", " ").split()
    read: list[Chord | str] = []
    problems = []
    for number, word in enumerate(words, start=1):
        try:
            read.append(_chord(word))
        except InputError as fault:
            where = f"number {number} of '{value}': " if len(words) > 1 else ""
            problems.append(f"{where}{fault}")
    if problems or not read:
        raise InputError("; ".join(problems) or f"'{value}' names no chord")
    return tuple(read)


def _chord(word: str) -> Chord | str:
    """Read a quality, or a whole chord."""
    try:
        return Chord.of_quality(NoteName("C"), word).quality
    except InputError as no_quality:
        meant = word.casefold() in QUALITIES or word[:1] not in LETTERS
        try:
            chord = Chord.parse(word)
        except InputError:
            if meant:  # "dim77" is no chord on D
                raise no_quality from None
            raise
    if not _is_written(chord):
        raise InputError(f"{chord} would need more than two accidentals on a note")
    return chord


def _chords_on(player: Player, stage: ChordStage, place: Place) -> Iterator[Chord]:
    """Yield the chords of a stage whose root a place sounds."""
    midi = player.neck.midi(place)
    roots = stage.roots.spell(midi, player.accidentals)
    for item in stage.chords:
        if isinstance(item, str):
            chords = [Chord(root, item) for root in roots]
            yield from (chord for chord in chords if _is_written(chord))
        elif item.root.pitch_class == midi % 12:
            yield item


def _written(chords: tuple[Chord | str, ...]) -> str:
    return " ".join(map(str, chords))


def _is_written(chord: Chord) -> bool:
    """Whether nobody would have to read more accidentals than two."""
    try:
        return all(abs(tone.alter) < MAX_ALTER for tone in chord.tones)
    except InputError:  # more accidentals than a note can carry
        return False


def _reach(player: Player, scope: Scope, chord: Chord, root: Place) -> Scope:
    """Return the part of the neck that the hand reaches, standing as the chord wants it."""
    neck, hand = player.neck, player.hand
    position = scope.position
    if position is None:
        below = 0 if "b3" in chord.degrees else 1
        position = min(max(1, root.fret - below), neck.frets)
    limit = hand.span(1, 4).practical
    furthest = min(position + max(FRAMES[hand.system][4]), neck.frets)
    last = position
    while last < furthest and neck.span_mm(position, last + 1) <= limit:
        last += 1
    return Scope(position, last, None, scope.open_strings, position)


def _tones(neck: Neck, near: Scope, chord: Chord, degrees: list[str]) -> list[Place]:
    names = [chord.tones[chord.degrees.index(degree)] for degree in degrees]
    return [p for p in near.places(neck) if any(neck.sounds(p, name) for name in names)]


def _degree_at(neck: Neck, chord: Chord, place: Place) -> str | None:
    tones = zip(chord.degrees, chord.tones, strict=True)
    return next((degree for degree, name in tones if neck.sounds(place, name)), None)


def _missed(question: Question, task: FindTones, places: frozenset[Place]) -> list[Reason]:
    neck, root = question.player.neck, task.place
    reasons: list[Reason] = []
    for place in in_order(places):
        degree = _degree_at(neck, task.context, place) or task.degrees[0]
        name = task.context.tones[task.context.degrees.index(degree)]
        strings, frets = root.string - place.string, place.fret - root.fret
        reasons.append(ToneMissed(place, degree, name, strings, frets))
    return reasons


def _wrong(question: Question, task: FindTones, place: Place) -> Reason:
    neck, chord = question.player.neck, task.context
    degree = _degree_at(neck, chord, place)
    if degree in task.degrees and question.position is not None:
        return BeyondHand(place, question.position)
    on_string = [p for p in question.scope.places(neck) if p.string == place.string]
    asked = {p: _degree_at(neck, chord, p) for p in on_string}
    near = [p for p in on_string if asked[p] in task.degrees]
    nearest = min(near, key=lambda p: abs(p.fret - place.fret), default=None)
    frets = 0 if nearest is None else nearest.fret - place.fret
    shown = nearest is not None and abs(frets) <= NEAR_FRETS
    wanted = asked[nearest] if nearest is not None and shown else None
    return OtherTone(place, question.name_at(place), degree, wanted, frets)
