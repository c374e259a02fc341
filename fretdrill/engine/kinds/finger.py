"""``finger``: give the finger that takes a note in a position."""

from fretdrill.engine.part import Part, PartKind
from fretdrill.engine.player import Player
from fretdrill.engine.question import FingerPlace, Given, Grade, Judgement, Question
from fretdrill.engine.reasons import (
    GaveUp,
    OpenNeedsNoFinger,
    OtherFinger,
    Reason,
    Unfit,
    UnfitFinger,
)
from fretdrill.engine.scoring import finger_accuracy
from fretdrill.hand.in_position import finger_choices
from fretdrill.hand.reach import resting_frets
from fretdrill.neck.neck import Place
from fretdrill.neck.scope import Scope

LEAST_FINGERS = 3  # a hand with fewer on the neck stands beyond its end


class Finger(PartKind):
    """Give the finger for the marked note."""

    name = "finger"
    about = "give the finger that takes a note in a position"

    def foci(self, player: Player, stage: Part) -> tuple[str, ...]:
        """Return ``position:string/fret`` for each note that a finger lies over.

        Outside a position scope, every position that keeps the hand within the
        scope is used; open strings are asked for in the lowest of them.
        """
        positions = positions_in(player, stage.scope)
        foci = []
        for position in positions:
            resting = set(resting_frets(player.neck, player.hand, position).values())
            for place in stage.scope.places(player.neck):
                asked = place.fret in resting or (place.fret == 0 and position == positions[0])
                if asked and stage.notes.spell(player.neck.midi(place), player.accidentals):
                    foci.append(f"{position}:{place}")
        return tuple(foci)

    def ask(self, player: Player, stage: Part, focus: str) -> Question:
        """Ask for the finger at the place."""
        position_text, place_text = focus.split(":")
        position, place = int(position_text), Place.parse(place_text)
        neck, hand = player.neck, player.hand
        best = 0
        if place.fret:
            best = finger_choices(neck, hand, position, place.fret)[0].finger
        # The same finger lies over a fret on every string: that is what is learnt.
        offset = place.fret - position if place.fret else "open"
        return Question(
            kind=self.name,
            player=player,
            scope=stage.scope,
            task=FingerPlace(place, position),
            focus=focus,
            right=best,
            item_keys=(f"finger {hand.system}: {position} {offset}",),
            position=position,
        )

    def subject(self, focus: str) -> str:
        """Return position and fret: on every string it is the same finger."""
        position, place = focus.split(":")
        return f"{position} {Place.parse(place).fret}"

    def judge(self, question: Question, given: Given) -> Judgement:
        """Weigh the finger by what it costs beyond the best one."""
        match question.task, question.right, given:
            case _, best, _ if given == best:
                return Judgement(1.0, regret=0.0, grade=Grade.EASIEST)
            case FingerPlace(place), int() as best, int() if 0 in (given, best):
                return Judgement(0.0, (OpenNeedsNoFinger(place, given, best),))
            case FingerPlace(place, position), int() as best, int():
                return _weigh(question.player, place, position, given, best)
        raise TypeError("a finger question is answered with a finger")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Say the finger."""
        return (GaveUp(),)


def _weigh(player: Player, place: Place, position: int, given: int, best: int) -> Judgement:
    choices = finger_choices(player.neck, player.hand, position, place.fret)
    choice = next((c for c in choices if c.finger == given), None)
    if choice is None:
        return Judgement(0.0, (_unfit(player, place, position, given, best),))
    reason = OtherFinger(
        place,
        position,
        given,
        best,
        choice.rests_on,
        choice.moves,
        choice.span_mm,
        choice.comfortable_mm,
    )
    grade = Grade.SHIFT if choice.moves else Grade.WORKS
    return Judgement(finger_accuracy(choice.regret), (reason,), choice.regret, grade)


def _unfit(player: Player, place: Place, position: int, given: int, best: int) -> UnfitFinger:
    span = player.neck.span_mm(position, place.fret)
    limit = 0.0 if given == 1 else player.hand.span(1, given).practical
    why = Unfit.BEHIND_NUT
    if player.hand.system == "1-2-4" and given == 3:
        why = Unfit.SYSTEM
    elif span > limit:
        why = Unfit.OUT_OF_REACH
    return UnfitFinger(place, position, given, best, why, span, limit)


def positions_in(player: Player, scope: Scope) -> tuple[int, ...]:
    """Return the position of a scope, or all that keep the hand within it."""
    if scope.position is not None:
        return (scope.position,)
    last = min(scope.last_fret, player.neck.frets)
    resting = {
        position: resting_frets(player.neck, player.hand, position)
        for position in range(scope.first_fret, last + 1)
    }
    whole = (p for p, fingers in resting.items() if len(fingers) >= LEAST_FINGERS)
    return tuple(p for p in whole if max(resting[p].values()) <= last) or (scope.first_fret,)
