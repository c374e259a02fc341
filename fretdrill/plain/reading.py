"""Reading an answer from a line of text.

Places are ``string/fret`` (``3/5``), or the string's name and the fret (``A5``);
notes are ``Eb`` or ``D#``; fingers are ``1`` to ``4``, ``0`` for an open string.
"""

import re

from fretdrill.engine.question import AnswerForm, Given, Question
from fretdrill.errors import InputError
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
            if line.strip() in ("0", "1", "2", "3", "4"):
                return int(line)
            raise InputError(f"'{line}' is not a finger: 1 to 4, or 0 for an open string")


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
