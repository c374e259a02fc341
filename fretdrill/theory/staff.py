"""Where a note stands on the bass staff, and which signs it has to show.

Idea: a staff has a place for every letter of every octave, whatever its accidental, so
that a spelled pitch alone says where it is written; the signature, the bar and the notes
before it say which accidental is written with it.

Conventions: bass clef, F on the fourth line. Written bass music sounds an octave lower
than written, so a sounding E1 is written as E2. A *step* counts lines and spaces upward
from the bottom line: 0 is the bottom line (written G2), 1 the first space, 8 the top line
(written A3); even steps are lines. An accidental counts semitones, 0 being a natural, and
holds for its own line or space to the end of the bar. Durations are exact fractions of a
whole note (common practice, no source).
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from fretdrill.errors import InputError
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import LETTERS, Pitch

BOTTOM_LINE, MIDDLE_LINE, TOP_LINE = 0, 4, 8
OCTAVE_STEPS = 7
SOUNDS_LOWER = 1  # octaves that bass music sounds below what is written
MOST_OCTAVES = 2  # 8va and 15ma are the signs there are

_BOTTOM_LETTER, _BOTTOM_OCTAVE = "G", 2

_SHARP_STEPS = (6, 3, 7, 4, 1, 5, 2)  # F C G D A E B
_FLAT_STEPS = (2, 5, 1, 4, 0, 3, -1)  # B E A D G C F


class SignatureSign(NamedTuple):
    """One accidental of a key signature.

    Attributes:
        step: where it stands.
        alter: 1 for a sharp, -1 for a flat.
    """

    step: int
    alter: int


class WrittenNote(NamedTuple):
    """How one note of a figure is written.

    Attributes:
        step: where its head stands.
        octaves: by how many octaves it stands lower than it should: 1 under 8va, 2 under 15ma.
        accidental: the accidental before it in semitones, 0 for a natural; None for none.
    """

    step: int
    octaves: int
    accidental: int | None


class WrittenValue(NamedTuple):
    """How a duration is written.

    Attributes:
        value: the note value without its dots: 1 for a whole note, 1/4 for a quarter.
        dots: how many dots stand after it.
    """

    value: Fraction
    dots: int


def staff_step(pitch: Pitch) -> int:
    """Return the step that a sounding pitch is written on."""
    octaves = pitch.octave + SOUNDS_LOWER - _BOTTOM_OCTAVE
    letters = LETTERS.index(pitch.name.letter) - LETTERS.index(_BOTTOM_LETTER)
    return OCTAVE_STEPS * octaves + letters


def ledger_steps(step: int) -> tuple[int, ...]:
    """Return the ledger lines that a note on a step needs, from the staff outward."""
    above = range(TOP_LINE + 2, step + 1, 2)
    below = range(BOTTOM_LINE - 2, step - 1, -2)
    return (*above, *below)


def signature_steps(key: Key | None) -> tuple[SignatureSign, ...]:
    """Return a key's signature in the order it is written, empty without a key."""
    count = key.signature if key is not None else 0
    if count < 0:
        return tuple(SignatureSign(step, -1) for step in _FLAT_STEPS[:-count])
    return tuple(SignatureSign(step, 1) for step in _SHARP_STEPS[:count])


def signature_alters(key: Key | None) -> dict[str, int]:
    """Return letter → what the signature makes of it, in semitones; 0 where nothing."""
    if key is None:
        return dict.fromkeys(LETTERS, 0)
    return {name.letter: name.alter for name in key.scale}


def accidentals_shown(
    notes: Iterable[tuple[Pitch, int]], key: Key | None = None
) -> tuple[int | None, ...]:
    """Return the accidental that each note has to show.

    Args:
        notes: each note's pitch and the number of its bar, in order; a bar ends where
            the number changes.
        key: the key whose signature stands before them; None for no signature.

    Returns:
        Semitones for each note: 1 a sharp, 0 a natural, -1 a flat, None for no sign.
        Courtesy accidentals are not among them.
    """
    signature = signature_alters(key)
    shown: list[int | None] = []
    for _, bar in groupby(notes, key=lambda note: note[1]):
        holding: dict[int, int] = {}
        for pitch, _ in bar:
            step, alter = staff_step(pitch), pitch.name.alter
            in_force = holding.get(step, signature[pitch.name.letter])
            shown.append(alter if alter != in_force else None)
            holding[step] = alter
    return tuple(shown)


def octaves_lowered(steps: Sequence[int], highest: int) -> tuple[int, ...]:
    """Return by how many octaves each note is written lower, under 8va or 15ma.

    Neighbours above the staff go together, so that a phrase does not leap on paper where
    it walks in sound. What stands on the staff or below it is never moved.

    Args:
        steps: where the notes stand.
        highest: the highest step that there is room for.
    """
    lowered = [0] * len(steps)
    for _ in range(MOST_OCTAVES):
        drawn = [step - OCTAVE_STEPS * down for step, down in zip(steps, lowered, strict=True)]
        for above, group in groupby(range(len(drawn)), key=lambda i: drawn[i] > TOP_LINE):
            together = list(group)
            if above and max(drawn[index] for index in together) > highest:
                for index in together:
                    lowered[index] += 1
    return tuple(lowered)


def write_notes(
    notes: Sequence[tuple[Pitch, int]], key: Key | None = None, highest: int | None = None
) -> tuple[WrittenNote, ...]:
    """Return how the notes of a figure are written.

    Under an octave sign two octaves share a line, and an accidental of the one could be
    read as holding for the other; what either reading needs is written.

    Args:
        notes: each note's pitch and the number of its bar, in order.
        key: the key whose signature stands before them; None for no signature.
        highest: the highest step that there is room for; None for no limit.
    """
    steps = [staff_step(pitch) for pitch, _ in notes]
    octaves = [0] * len(steps) if highest is None else octaves_lowered(steps, highest)
    drawn = [
        (Pitch(pitch.midi - 12 * down, pitch.name), bar)
        for (pitch, bar), down in zip(notes, octaves, strict=True)
    ]
    signs = zip(accidentals_shown(notes, key), accidentals_shown(drawn, key), strict=True)
    return tuple(
        WrittenNote(staff_step(pitch), down, by_place if by_sound is None else by_sound)
        for (pitch, _), down, (by_sound, by_place) in zip(drawn, octaves, signs, strict=True)
    )


def written_value(duration: Fraction) -> WrittenValue:
    """Return how a duration is written; of tied values the first, the longest, counts.

    Tuplets are written with the value that they squeeze: a third of a half note as a
    quarter, a fifth of one as an eighth.

    Raises:
        InputError: the duration is not positive.
    """
    if duration <= 0:
        raise InputError(f"a note cannot last {duration} of a whole note")
    odd = duration.denominator
    while odd % 2 == 0:
        odd //= 2
    squeezed = 1 << (odd.bit_length() - 1)  # 3 in the time of 2, 5 and 7 in the time of 4
    written = duration * odd / squeezed
    value = Fraction(1)
    while value > written:
        value /= 2
    dots = {Fraction(3, 2): 1, Fraction(7, 4): 2}.get(written / value, 0)
    return WrittenValue(value, dots)
