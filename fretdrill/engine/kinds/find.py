"""``find``: mark every place of a note in a part of the neck."""

from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer, FindNote, Judgement, Question
from fretdrill.engine.reasons import Missed, OutsideScope, Reason, WrongPlace, landmark
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.theory.pitch import NoteName, simple_name


class Find:
    """Mark every D in fifth position, on a string, on the whole neck."""

    name = "find"
    about = "mark every place of a note"

    def foci(self, player: Player, scope: Scope, notes: NoteSet) -> tuple[str, ...]:
        """Return the names of the set that occur in the scope."""
        here = {player.neck.midi(place) % 12 for place in scope.places(player.neck)}
        names = notes.names(player.accidentals)
        return tuple(str(name) for name in names if name.pitch_class in here)

    def ask(self, player: Player, scope: Scope, notes: NoteSet, focus: str) -> Question:
        """Ask for every place of the note in the scope."""
        name = NoteName.parse(focus)
        neck = player.neck
        right = _places_of(neck, scope, name)
        return Question(
            kind=self.name,
            player=player,
            scope=scope,
            task=FindNote(name),
            focus=focus,
            right=right,
            item_keys=tuple(f"find {neck.tuning}: {place} {name}" for place in sorted(right)),
            position=scope.position,
        )

    def judge(self, question: Question, answer: Answer) -> Judgement:
        """Count places found, less those marked wrongly, over those there are."""
        if not isinstance(question.task, FindNote) or not isinstance(answer.given, frozenset):
            raise TypeError("a find question is answered with places")
        right, marked = question.right, answer.given
        if not isinstance(right, frozenset):
            raise TypeError("a find question has places for an answer")
        found = right & marked
        wrong, missed = marked - right, right - marked
        reasons: list[Reason] = [_wrong(question, place) for place in sorted(wrong)]
        reasons += [
            Missed(place, landmark(question.player.neck, place, found)) for place in sorted(missed)
        ]
        accuracy = max(0.0, (len(found) - len(wrong)) / len(right))
        return Judgement(accuracy, tuple(reasons))


def _places_of(neck: Neck, scope: Scope, name: NoteName) -> frozenset[Place]:
    return frozenset(
        place for place in scope.places(neck) if neck.midi(place) % 12 == name.pitch_class
    )


def _wrong(question: Question, place: Place) -> Reason:
    neck, task = question.player.neck, question.task
    if not isinstance(task, FindNote):
        raise TypeError("a find question asks for a note")
    midi = neck.midi(place)
    if midi % 12 == task.name.pitch_class:
        return OutsideScope(place)
    on_string = [p for p in neck.places if p.string == place.string]
    wanted = [p for p in on_string if neck.midi(p) % 12 == task.name.pitch_class]
    here = [p for p in wanted if p in question.scope] or wanted
    nearest = min(here, key=lambda p: (abs(p.fret - place.fret), p.fret), default=None)
    sharps = question.player.accidentals == "sharps"
    return WrongPlace(place, simple_name(midi, sharps=sharps), task.name, nearest)
