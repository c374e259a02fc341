"""The words of drills about chord tones, reading and slurs."""

from typing import TYPE_CHECKING

from fretdrill.engine.kinds.chord import ChordStage
from fretdrill.engine.kinds.read import ReadStage
from fretdrill.engine.kinds.slur import SlurStage
from fretdrill.engine.question import FindTones, JoinNotes, Question, ReadNotes
from fretdrill.engine.tone_reasons import (
    Bar,
    BeyondHand,
    Bound,
    Joined,
    NoteMissed,
    NotJoinedSo,
    NotOnStaff,
    OtherOctave,
    OtherTone,
    SignatureForgotten,
    SlideMoves,
    ToneMissed,
    ToneReason,
)
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.position import ordinal, roman
from fretdrill.presentation.names import Names, frets_away, small_number
from fretdrill.presentation.staff_words import step_text
from fretdrill.theory.chord import Chord
from fretdrill.theory.staff import staff_step

if TYPE_CHECKING:
    from fretdrill.presentation.words import Words

ToneTask = FindTones | ReadNotes | JoinNotes


def task_text(words: "Words", question: Question, task: ToneTask) -> str:
    """Return what is asked."""
    neck = question.player.neck
    match task:
        case FindTones(chord, degrees, place):
            symbol = chord.text(ascii_only=words.ascii_only)
            where = words.place(neck, place)
            position = question.position or 1
            asked = [_degree(words, degree) for degree in degrees]
            named = " and ".join(filter(None, (", ".join(asked[:-1]), asked[-1])))
            opened = ", open strings too" if question.scope.open_strings else ""
            return (
                f"{symbol}, root at {where}, the hand in {roman(position)}: mark every {named} "
                f"within reach{opened}."
            )
        case ReadNotes(pitches):
            note = "the note" if len(pitches) == 1 else f"the {small_number(len(pitches))} notes"
            return f"Mark {note} on the staff {words.scope(neck, question.scope)}."
        case JoinNotes(one, two, position):
            return (
                f"{ordinal(position).capitalize()} position ({roman(position)}): from "
                f"{words.place(neck, one)} to {words.place(neck, two)}. How can they be joined?"
            )


_PLAIN_DEGREES = {
    "2": "second",
    "3": "third",
    "4": "fourth",
    "5": "fifth",
    "6": "sixth",
    "7": "seventh",
    "9": "ninth",
}


def _degree(names: Names, degree: str) -> str:
    """Write a degree as it is spoken of: ``"third"``, but ``"♭3"``."""
    return _PLAIN_DEGREES.get(degree) or _signs(names, degree)


def _signs(names: Names, degree: str) -> str:
    """Write a degree with the player's signs."""
    return degree if names.ascii_only else degree.replace("b", "♭").replace("#", "♯")


def subject_text(words: "Words", question: Question, task: ToneTask) -> str:
    """Return what of a question is worth another look."""
    match task:
        case FindTones(chord, degrees):
            named = ", ".join(_degree(words, degree) for degree in degrees)
            return f"the {named} of {chord.text(ascii_only=words.ascii_only)}"
        case ReadNotes(pitches):
            return f"reading {', '.join(words.pitch(pitch) for pitch in pitches)}"
        case JoinNotes(one, two, position):
            return f"joining frets {one.fret} and {two.fret} in {ordinal(position)} position"


def stage_text(words: "Words", neck: Neck, stage: object) -> str | None:
    """Return what a drill is about at a stage, None if it is none of these."""
    match stage:
        case ChordStage(scope, _, chords, tones):
            which = "one tone at a time" if tones == "one" else "all tones at once"
            names = [_quality(words, item) for item in chords]
            return f"{', '.join(names)}, {which}, roots {words.scope(neck, scope)}"
        case ReadStage(scope, key, _, together):
            count = "one note" if together == 1 else f"{small_number(together)} notes"
            return f"{count}, {key.text(ascii_only=words.ascii_only)}, {words.scope(neck, scope)}"
        case SlurStage(scope, lines):
            return str(lines) if lines.written else words.scope(neck, scope)
    return None


def _quality(names: Names, item: Chord | str) -> str:
    if isinstance(item, Chord):
        return item.text(ascii_only=names.ascii_only)
    return _signs(names, item)


def reason_text(words: "Words", question: Question, reason: ToneReason) -> str:
    """Return a reason in a sentence or two."""
    neck = question.player.neck
    match reason:
        case ToneMissed(place, degree, name, strings, frets):
            way = _way(strings, frets) if place.fret else ""  # an open string needs no way
            return (
                f"The {_degree(words, degree)}, {words.note(name)}, is {words.place(neck, place)}"
                f"{f': from the root {way}' if way else ''}."
            )
        case OtherTone():
            return _other_tone(words, neck, question, reason)
        case BeyondHand(place) if place.fret == 0:
            return f"{words.place(neck, place)} is one, but open strings do not count here."
        case BeyondHand(place, position):
            return f"{words.place(neck, place)} is one, but beyond the hand in {roman(position)}."
        case OtherOctave(place, pitch, octaves):
            count = "an octave" if abs(octaves) == 1 else f"{small_number(abs(octaves))} octaves"
            way = "high" if octaves > 0 else "low"
            shown = step_text(staff_step(pitch))
            return (
                f"{words.place(neck, place)} is {words.note(pitch.name)}, {count} too {way}: "
                f"the {shown} is {words.pitch(pitch)}."
            )
        case SignatureForgotten(place, sounds, pitch, key):
            meant = words.note(pitch.name)
            by = "the sign before it" if key is None else key.text(ascii_only=words.ascii_only)
            return f"{words.place(neck, place)} is {words.note(sounds)}; {by} makes it {meant}."
        case NotOnStaff():
            return _not_on_staff(words, neck, reason)
        case NoteMissed(pitch, places):
            shown = step_text(staff_step(pitch))
            where = " or ".join(words.place(neck, place) for place in places)
            return f"{words.pitch(pitch)}, {shown}: {where}."
        case Joined():
            return _joined(words, reason)
        case NotJoinedSo(place, after, bar):
            return _not_joined_so(place, after, bar)
        case SlideMoves(position, frets, span_mm):
            way = "up" if frets > 0 else "back"
            return (
                f"A slide joins them too, but takes the hand {way} {frets_away(frets)} out of "
                f"{roman(position)}, {span_mm:.0f} mm."
            )


def _way(strings: int, frets: int) -> str:
    parts = []
    if strings:
        count = "one string" if abs(strings) == 1 else f"{small_number(abs(strings))} strings"
        parts.append(f"{count} {'higher' if strings > 0 else 'lower'}")
    if frets:
        parts.append(f"{frets_away(frets)} {'up' if frets > 0 else 'back'}")
    elif strings:
        parts.append("the same fret")
    return ", ".join(parts)


def _other_tone(words: "Words", neck: Neck, question: Question, reason: OtherTone) -> str:
    task = question.task
    symbol = task.context.text(ascii_only=words.ascii_only) if isinstance(task, FindTones) else ""
    which = f", the {_degree(words, reason.degree)}" if reason.degree else f", not in {symbol}"
    if reason.degree == "1":
        which = ", the root"
    text = f"{words.place(neck, reason.place)} is {words.note(reason.sounds)}{which}"
    if reason.asked is None:
        return f"{text}."
    way = "further up" if reason.frets > 0 else "further back"
    return f"{text}; the {_degree(words, reason.asked)} is {frets_away(reason.frets)} {way}."


def _not_on_staff(words: "Words", neck: Neck, reason: NotOnStaff) -> str:
    there, shown = words.pitch(reason.sounds), words.pitch(reason.nearest)
    step = step_text(staff_step(reason.nearest))
    text = f"{words.place(neck, reason.place)} is {there}; the {step} is {shown}"
    on_space = staff_step(reason.nearest) % 2 == 1
    if abs(reason.steps) == 1:
        return f"{text}: {'a line for a space' if on_space else 'a space for a line'}."
    if abs(reason.steps) == 2:
        way = "high" if reason.steps > 0 else "low"
        return f"{text}: one {'space' if on_space else 'line'} too {way}."
    return f"{text}."


def _joined(words: "Words", reason: Joined) -> str:
    one, two = reason.place.fret, reason.after.fret
    span, limit = f"{reason.span_mm:.0f} mm", f"{reason.limit_mm:.0f} mm"
    first, second = reason.fingers or (0, 0)
    match reason.bound:
        case Bound.UP:
            return (
                f"Hammer-on: {first} holds fret {one}, {second} comes down on fret {two} of the "
                f"same string, {span} away."
            )
        case Bound.UP_FROM_OPEN:
            return f"Hammer-on: the open string rings and {second} comes down on fret {two}."
        case Bound.DOWN:
            return (
                f"Pull-off: {second} is down on fret {two} already, {span} away, when {first} "
                f"pulls off fret {one}."
            )
        case Bound.DOWN_TO_OPEN:
            return f"Pull-off: {first} pulls off fret {one}, and the open string sounds on."
        case Bound.TOO_FAR:
            return (
                f"Slide: frets {one} and {two} are {span} apart, no two fingers of this hand part "
                f"further than {limit}; one finger goes along the string."
            )
        case Bound.NO_PAIR:
            return (
                f"Slide: in this position no two fingers lie over frets {one} and {two} of one "
                f"string, {span} apart; one finger goes along it."
            )
        case Bound.NO_FINGER:
            return (
                f"Plucked only: no finger lies over fret {one or two} in this position, and "
                "nothing slides to or from an open string."
            )
        case Bound.STRINGS:
            return "Plucked only: they lie on two strings, and a slur or a slide needs one."


def _not_joined_so(place: Place, after: Place, bar: Bar) -> str:
    there = f"fret {after.fret}" if after.fret else "the open string"
    start = f"fret {place.fret}" if place.fret else "the open string"
    match bar:
        case Bar.UP_ONLY:
            return f"A hammer-on goes up; {there} lies below {start}."
        case Bar.DOWN_ONLY:
            return f"A pull-off goes down; {there} lies above {start}."
        case Bar.NO_FINGER:
            return "A slide needs a finger on both notes, and one of them is open."
        case Bar.NOT_NEEDED:
            return "It can be plucked again, but need not be."
