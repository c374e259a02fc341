"""Reading an answer from a line of text.

Places are ``string/fret`` (``3/5``), or the string's name and the fret (``A5``);
notes are ``Eb`` or ``D#``; fingers are ``1`` to ``4``, ``0`` for an open string. A
fingering is a finger for each note (``2 1 4``), or a finger and a place (``2@3/5 1@2/4``).
"""

import re

from fretdrill.engine.question import (
    AfterNote,
    AnswerForm,
    ChooseShift,
    Fingering,
    Given,
    Joining,
    Question,
)
from fretdrill.errors import InputError, UnknownName
from fretdrill.hand.states import Choice
from fretdrill.neck.neck import Neck, Place
from fretdrill.theory.pitch import NoteName

_NAMED = re.compile(r"([A-Ga-g][b♭#♯]*)(\d{1,2})")


def read_answer(question: Question, line: str) -> Given:
    """Read an answer of the form that a question takes.

    Raises:
        InputError: the line is not such an answer; the message says what is.
    """
    match question.form:
        case AnswerForm.PLACES:
            return _places(question.player.neck, line)
        case AnswerForm.NOTE:
            spoken = line.casefold().replace(" flat", "b").replace(" sharp", "#")
            return NoteName.parse(spoken)
        case AnswerForm.FINGER:
            return _finger(line.strip())
        case AnswerForm.FINGERS:
            return _fingers(question, line)
        case AnswerForm.FINGERING:
            return _fingering(question, line)
        case AnswerForm.MOMENT:
            return _moment(question, line)
        case AnswerForm.JOINING:
            return _joining(line)


def _finger(word: str) -> int:
    if word in ("0", "1", "2", "3", "4"):
        return int(word)
    raise InputError(f"'{word}' is not a finger: 1 to 4, or 0 for an open string")


def _words(line: str, count: int, what: str) -> list[str]:
    words = line.replace(",", " ").split()
    if len(words) != count:
        raise InputError(f"{count} {what} wanted, {len(words)} given")
    return words


def _fingers(question: Question, line: str) -> Fingering:
    if not isinstance(question.right, Fingering):
        raise TypeError("fingers are asked for one by one where places are given")
    places = [choice[:2] for choice in question.right.choices]
    signs = line.replace(" ", "").replace(",", "")
    digits = " ".join(signs) if signs.isdecimal() else line  # "214" is three fingers
    fingers = map(_finger, _words(digits, len(places), "fingers"))
    return Fingering(tuple(Choice(*p, f) for p, f in zip(places, fingers, strict=True)))


def _fingering(question: Question, line: str) -> Fingering:
    choices = []
    for word in _words(line, question.units, "places with fingers"):
        finger, at, place = word.partition("@")
        if not at:
            raise InputError(f"'{word}' is not a finger at a place, such as 2@3/5")
        places = _places(question.player.neck, place)
        if len(places) != 1:
            raise InputError(f"'{word}' names {len(places)} places for one note")
        choices.append(Choice(*next(iter(places)), _finger(finger)))
    return Fingering(tuple(choices))


def _moment(question: Question, line: str) -> AfterNote:
    word = line.strip().casefold().removeprefix("after").strip()
    most = 0
    if isinstance(question.task, ChooseShift):
        most = len(question.task.piece.line.notes) - 1
    if word.isdecimal() and len(word) < 4 and 1 <= int(word) <= most:
        return AfterNote(int(word))
    raise InputError(f"'{line}' is not the number of a note, 1 to {most}")


def _joining(line: str) -> Joining:
    word = "-".join(line.casefold().split())
    for way in Joining:
        known = way.value.replace(" ", "-")
        if word in (known, known.replace("-", ""), known.split("-")[0]):
            return way
    raise UnknownName("way to join notes", line, [way.value for way in Joining])


def _places(neck: Neck, line: str) -> frozenset[Place]:
    words = line.replace(",", " ").replace(";", " ").split()
    if not words:
        raise InputError("no place given; write for example 3/5 for string 3, fret 5")
    places = frozenset(_place(neck, word) for word in words)
    for place in places:
        if place not in neck:
            strings, frets = len(neck.tuning), neck.frets
            raise InputError(
                f"{place} is not on this neck: strings 1 to {strings}, frets 0 to {frets}"
            )
    return places


def _place(neck: Neck, word: str) -> Place:
    match = _NAMED.fullmatch(word)
    if match is None:
        return Place.parse(word)
    name = NoteName.parse(match[1])
    strings = [s for s in neck.strings if neck.tuning.strings[s - 1].name == name]
    if len(strings) == 1:
        return Place(strings[0], int(match[2]))
    problem = "more than one" if strings else "no"
    raise InputError(f"there is {problem} {name} string; write its number, such as 3/{match[2]}")
