"""``name``: name the note at a marked place, spelled for the key."""

from fretdrill.engine.noteset import NoteSet
from fretdrill.engine.player import Player
from fretdrill.engine.question import Answer, Judgement, NamePlace, Question
from fretdrill.engine.reasons import OtherSpelling, WrongName
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.theory.pitch import NoteName


class Name:
    """Name the marked note."""

    name = "name"
    about = "name the note at a marked place"

    def foci(self, player: Player, scope: Scope, notes: NoteSet) -> tuple[str, ...]:
        """Return ``string/fret name`` for the places whose note belongs to the set."""
        return tuple(
            f"{place} {name}"
            for place in scope.places(player.neck)
            for name in notes.spell(player.neck.midi(place), player.accidentals)
        )

    def ask(self, player: Player, scope: Scope, notes: NoteSet, focus: str) -> Question:
        """Ask for the note at the place."""
        place_text, name_text = focus.split(" ")
        place = Place.parse(place_text)
        neck = player.neck
        return Question(
            kind=self.name,
            player=player,
            scope=scope,
            task=NamePlace(place, notes.key),
            focus=focus,
            right=NoteName.parse(name_text),
            item_keys=(f"name {neck.tuning}: {place}",),
            position=scope.position,
        )

    def judge(self, question: Question, answer: Answer) -> Judgement:
        """Accept every enharmonic name; say which one fits."""
        task, right, given = question.task, question.right, answer.given
        if not isinstance(task, NamePlace) or not isinstance(right, NoteName):
            raise TypeError("a name question asks for the note at a place")
        if not isinstance(given, NoteName):
            raise TypeError("a name question is answered with a note name")
        if given == right:
            return Judgement(1.0)
        if given.is_enharmonic(right):
            return Judgement(1.0, (OtherSpelling(given, right, task.key),))
        neck = question.player.neck
        open_name = neck.tuning.strings[task.place.string - 1].name
        where = _nearest_on_string(neck, task.place, given)
        return Judgement(0.0, (WrongName(task.place, right, given, where, open_name),))


def _nearest_on_string(neck: Neck, place: Place, name: NoteName) -> Place | None:
    candidates = [
        Place(place.string, fret)
        for fret in range(neck.frets + 1)
        if neck.midi(Place(place.string, fret)) % 12 == name.pitch_class
    ]
    return min(candidates, key=lambda p: (abs(p.fret - place.fret), p.fret), default=None)
