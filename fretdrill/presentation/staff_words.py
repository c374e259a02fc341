"""Where notes stand on the staff, in words: for who does not see the drawing."""

from collections.abc import Sequence

from fretdrill.presentation.names import Names
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import Pitch
from fretdrill.theory.staff import OCTAVE_STEPS, TOP_LINE, accidentals_shown, staff_step

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")

HIGH_STEPS = 6  # three ledger lines; above them music has an octave sign


def step_text(step: int) -> str:
    """Return a step in words: ``"second line"``, ``"on the first ledger line below"``."""
    if 0 <= step <= TOP_LINE:
        return f"{_ORDINALS[step // 2]} {'space' if step % 2 else 'line'}"
    if step > TOP_LINE + HIGH_STEPS:
        octaves = -(-(step - TOP_LINE - HIGH_STEPS) // OCTAVE_STEPS)
        sign = {1: "an octave higher (8va)", 2: "two octaves higher (15ma)"}
        return f"{step_text(step - octaves * OCTAVE_STEPS)}, {sign.get(octaves, 'far higher')}"
    side, past = ("below", -step) if step < 0 else ("above", step - TOP_LINE)
    if past == 1:
        return f"space {side} the staff"
    if past % 2 == 0:
        return f"{_ordinal(past // 2)} ledger line {side}"
    return f"{side} the {_ordinal(past // 2)} ledger line {side}"


def _ordinal(number: int) -> str:
    return _ORDINALS[number - 1] if number <= len(_ORDINALS) else f"{number}th"


def signature_text(key: Key) -> str:
    """Return a signature in words: ``"two flats"``."""
    count = abs(key.signature)
    if not count:
        return "no sharps or flats"
    numbers = "one two three four five six seven".split()
    sign = "sharp" if key.signature > 0 else "flat"
    return f"{numbers[count - 1]} {sign}{'s' * (count > 1)}"


def notes_text(pitches: Sequence[Pitch], bars: Sequence[int], key: Key | None, names: Names) -> str:
    """Return where notes of a figure stand, with the accidentals that are written before them.

    Args:
        pitches: sounding pitches.
        bars: the number of each note's bar; accidentals hold to its end.
        key: the key of the signature, None for none.
        names: how accidentals are written.
    """
    shown = accidentals_shown(list(zip(pitches, bars, strict=True)), key)
    parts = [
        f"{step_text(staff_step(pitch))}{_accidental(alter, names)}"
        for pitch, alter in zip(pitches, shown, strict=True)
    ]
    return "; ".join(parts)


def _accidental(alter: int | None, names: Names) -> str:
    if alter is None:
        return ""
    word = {0: "natural", 1: "sharp", -1: "flat", 2: "double sharp", -2: "double flat"}
    return f" with a {word.get(alter, str(alter))}"
