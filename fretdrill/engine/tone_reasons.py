"""Reasons of drills about chord tones, reading and slurs, as data."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Placeholder:
    """To be replaced."""


ToneReason = Placeholder
