"""``find``: mark every place of a note in a part of the neck."""

from fretdrill.engine.part import Part, PartKind
from fretdrill.engine.player import Player
from fretdrill.engine.question import FindNote, Given, Judgement, Question
from fretdrill.engine.reasons import Missed, OutsideScope, Reason, WrongPlace, landmark
from fretdrill.neck.neck import Place, in_order
from fretdrill.theory.pitch import NoteName

WRONG_MARK_COST = 0.5  # of what a right mark brings [assumption]


class Find(PartKind):
    """Mark every D in fifth position, on a string, on the whole neck."""

    name = "find"
    about = "mark every place of a note"

    def foci(self, player: Player, stage: Part) -> tuple[str, ...]:
        """Return the names of the set that occur in the scope."""
        here = {player.neck.midi(place) % 12 for place in stage.scope.places(player.neck)}
        names = stage.notes.names(player.accidentals)
        return tuple(str(name) for name in names if name.pitch_class in here)

    def subject(self, focus: str) -> str:
        """Return the note."""
        return focus

    def ask(self, player: Player, stage: Part, focus: str) -> Question:
        """Ask for every place of the note in the scope."""
        name, neck = NoteName.parse(focus), player.neck
        right = [place for place in stage.scope.places(neck) if neck.sounds(place, name)]
        return Question(
            kind=self.name,
            player=player,
            scope=stage.scope,
            task=FindNote(name, stage.notes.context),
            focus=focus,
            right=frozenset(right),
            item_keys=tuple(f"find {neck.tuning}: {place} {name}" for place in right),
            position=stage.scope.position,
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Count places found, less half of those marked wrongly, over those there are."""
        match question.task, question.right, given:
            case FindNote(name), frozenset() as right, frozenset() as marked:
                found, wrong = right & marked, in_order(marked - right)
                reasons = [_wrong(question, name, place) for place in wrong]
                reasons += _missed(question, right - marked, found)
                worth = len(found) - WRONG_MARK_COST * len(wrong)
                return Judgement(max(0.0, worth / len(right)), tuple(reasons))
        raise TypeError("a find question is answered with places")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Lead from open strings to the first place, and on from place to place."""
        if not isinstance(question.right, frozenset):
            raise TypeError("a find question has places for an answer")
        return tuple(_missed(question, question.right, frozenset()))


def _missed(question: Question, places: frozenset[Place], found: frozenset[Place]) -> list[Reason]:
    """Lead to each place from those found and from those led to before."""
    known = set(found)
    reasons: list[Reason] = []
    for place in in_order(places):
        reasons.append(Missed(place, landmark(question.player.neck, place, frozenset(known))))
        known.add(place)
    return reasons


def _wrong(question: Question, name: NoteName, place: Place) -> Reason:
    neck = question.player.neck
    if neck.sounds(place, name):
        return OutsideScope(place)
    nearest = neck.nearest_on_string(place, name, question.scope.places(neck))
    return WrongPlace(place, question.name_at(place), name, nearest)
