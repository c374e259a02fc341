"""fretdrill: fretboard and left-hand drills for bass players and teachers."""

__version__ = "0.1.0"
