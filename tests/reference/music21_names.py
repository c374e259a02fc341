"""Note names as music21 writes them: ``-`` for a flat."""

from typing import Any

from fretdrill.theory.pitch import LETTERS, NoteName

ROOTS = tuple(NoteName(letter, alter) for alter in (-1, 0, 1) for letter in LETTERS)


def to_music21(name: NoteName) -> str:
    """Write a name for music21."""
    return name.letter + ("#" * name.alter if name.alter > 0 else "-" * -name.alter)


def from_music21(pitch: Any) -> NoteName:
    """Read the name of a music21 pitch."""
    return NoteName(pitch.step, int(pitch.alter))
