"""``name``: name the note at a marked place, spelled for the key."""

from fretdrill.engine.part import Part, PartKind
from fretdrill.engine.player import Player
from fretdrill.engine.question import Given, Judgement, NamePlace, Question
from fretdrill.engine.reasons import NoteThere, OtherSpelling, Reason, WrongName, landmark
from fretdrill.neck.neck import Place
from fretdrill.theory.pitch import NoteName


class Name(PartKind):
    """Name the marked note."""

    name = "name"
    about = "name the note at a marked place"

    def foci(self, player: Player, stage: Part) -> tuple[str, ...]:
        """Return ``string/fret name`` for the places whose note belongs to the set.

        Open strings are left out: their note is the string's own name.
        """
        return tuple(
            f"{place} {name}"
            for place in stage.scope.places(player.neck)
            if place.fret
            for name in stage.notes.spell(player.neck.midi(place), player.accidentals)
        )

    def subject(self, focus: str) -> str:
        """Return the place, under whichever name."""
        return focus.split(" ")[0]

    def ask(self, player: Player, stage: Part, focus: str) -> Question:
        """Ask for the note at the place."""
        place_text, name_text = focus.split(" ")
        place = Place.parse(place_text)
        return Question(
            kind=self.name,
            player=player,
            scope=stage.scope,
            task=NamePlace(place, stage.notes.context),
            focus=focus,
            right=NoteName.parse(name_text),
            item_keys=(f"name {player.neck.tuning}: {place}",),
            position=stage.scope.position,
        )

    def judge(self, question: Question, given: Given) -> Judgement:
        """Accept every enharmonic name; say which one fits."""
        match question.task, question.right, given:
            case _, right, _ if given == right:
                return Judgement(1.0)
            case NamePlace(place, context), NoteName() as right, NoteName():
                if given.is_enharmonic(right):
                    return Judgement(1.0, (OtherSpelling(given, right, context),))
                where = question.player.neck.nearest_on_string(place, given)
                return Judgement(0.0, (*self.explain(question), WrongName(place, given, where)))
        raise TypeError("a name question is answered with a note name")

    def explain(self, question: Question) -> tuple[Reason, ...]:
        """Lead from an open string to the place."""
        match question.task, question.right:
            case NamePlace(place, _), NoteName() as right:
                way = landmark(question.player.neck, place, frozenset())
                return (NoteThere(place, right, way),)
        raise TypeError("a name question asks for the note at a place")
