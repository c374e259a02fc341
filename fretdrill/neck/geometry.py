"""Where the frets lie, in millimetres.

Source: equal temperament puts fret n at d = L·(1 - 2^(-n/12)) from the nut for a
scale of length L (R. Leirer, American Lutherie 96, 2008). Common bass scales are
30, 32, 34, 35 and 36 inches; 25.5 in is a common guitar scale (common practice).
All lengths are in mm.
"""

MM_PER_INCH = 25.4
SCALES_INCHES = {"short": 30, "medium": 32, "long": 34, "extra-long": 35, "guitar": 25.5}
SCALES_MM = {name: round(inches * MM_PER_INCH, 2) for name, inches in SCALES_INCHES.items()}
"""Name → scale length in mm: 762.0, 812.8, 863.6, 889.0, 647.7."""

MIN_SCALE_MM, MAX_SCALE_MM = 300.0, 1200.0


def fret_mm(scale_mm: float, fret: float) -> float:
    """Return the distance from the nut to a fret."""
    return float(scale_mm * (1.0 - 2.0 ** (-fret / 12.0)))


def fret_space_mm(scale_mm: float, fret: int) -> float:
    """Return the distance from a fret (1 or more) back to the one before it."""
    return fret_mm(scale_mm, fret) - fret_mm(scale_mm, fret - 1)


def span_mm(scale_mm: float, fret: float, other_fret: float) -> float:
    """Return the distance between two frets, never negative."""
    return abs(fret_mm(scale_mm, fret) - fret_mm(scale_mm, other_fret))
