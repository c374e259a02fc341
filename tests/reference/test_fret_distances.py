"""Fret distances against the formula's printed tables.

Distance from the nut d = L(1 - 2^(-n/12)) (Leirer, American Lutherie 96, 2008).
"""

import pytest

from fretdrill.neck.geometry import SCALES_MM, fret_mm, fret_space_mm

# Worked out from Leirer 2008 outside this program, to 0.01 mm.
LONG_SCALE_MM = {
    1: 48.47, 2: 94.22, 3: 137.40, 4: 178.16, 5: 216.63, 6: 252.94, 7: 287.22, 8: 319.57,
    9: 350.10, 12: 431.80, 15: 500.50, 17: 540.12, 19: 575.41, 20: 591.58, 21: 606.85,
    24: 647.70,
}  # fmt: skip
LONG_SCALE_INCHES = {
    1: 1.9083, 2: 3.7094, 3: 5.4095, 4: 7.0142, 5: 8.5288, 6: 9.9584, 7: 11.3077, 8: 12.5813,
    9: 13.7835, 12: 17.0000, 15: 19.7048, 17: 21.2644, 19: 22.6539, 20: 23.2907, 21: 23.8917,
    24: 25.5000,
}  # fmt: skip
OTHER_FRETS = (1, 2, 3, 4, 5, 7, 12, 19, 24)
OTHER_SCALES_MM = {
    30: (42.77, 83.14, 121.24, 157.20, 191.15, 253.43, 381.00, 507.71, 571.50),
    32: (45.62, 88.68, 129.32, 167.68, 203.89, 270.32, 406.40, 541.56, 609.60),
    35: (49.90, 96.99, 141.44, 183.40, 223.00, 295.66, 444.50, 592.33, 666.75),
}


@pytest.mark.parametrize(("fret", "mm"), LONG_SCALE_MM.items())
def test_thirty_four_inch_scale_in_mm(fret: int, mm: float) -> None:
    assert fret_mm(863.6, fret) == pytest.approx(mm, abs=0.0051)


@pytest.mark.parametrize(("fret", "inches"), LONG_SCALE_INCHES.items())
def test_thirty_four_inch_scale_in_inches(fret: int, inches: float) -> None:
    assert fret_mm(34, fret) == pytest.approx(inches, abs=0.000051)


@pytest.mark.parametrize("inches", OTHER_SCALES_MM)
def test_other_bass_scales_in_mm(inches: int) -> None:
    for fret, mm in zip(OTHER_FRETS, OTHER_SCALES_MM[inches], strict=True):
        assert fret_mm(inches * 25.4, fret) == pytest.approx(mm, abs=0.0051), fret


# stuphi.co.uk fret table: 25-in scale, mm from each fret to the bridge.
@pytest.mark.parametrize(
    ("fret", "to_bridge"),
    [(1, 599.360), (2, 565.721), (3, 533.969), (4, 504.000), (5, 475.712), (7, 423.812)],
)
def test_published_twenty_five_inch_table(fret: int, to_bridge: float) -> None:
    assert 635.0 - fret_mm(635.0, fret) == pytest.approx(to_bridge, abs=0.001)


# noah.org, "fret positioning": share of the scale length. Its entries for frets 4 and
# 5 carry rounding (exact .206299 and .250846), hence the tolerance.
@pytest.mark.parametrize(
    ("fret", "factor"),
    [
        (1, 0.056126), (2, 0.109101), (3, 0.159104), (4, 0.206291), (5, 0.250847), (6, 0.292893),
        (7, 0.33258), (12, 0.5), (19, 0.66629), (24, 0.75),
    ],
)  # fmt: skip
def test_published_factor_table(fret: int, factor: float) -> None:
    assert fret_mm(1.0, fret) == pytest.approx(factor, abs=1e-5)


@pytest.mark.parametrize(("fret", "exact"), [(4, 0.206299), (5, 0.250846)])
def test_the_two_rounded_entries_are_exact_here(fret: int, exact: float) -> None:
    assert fret_mm(1.0, fret) == pytest.approx(exact, abs=5e-7)


@pytest.mark.parametrize("inches", [30, 32, 34, 35])
def test_fret_constant_of_the_trade(inches: int) -> None:
    """The first fret lies at the scale length over 17.817 (Koch, Building Electric Guitars)."""
    scale = inches * 25.4
    assert fret_mm(scale, 1) == pytest.approx(scale / 17.817, abs=0.001)
    # The same constant gives each next fret from what is left of the string.
    for fret in range(2, 25):
        left = scale - fret_mm(scale, fret - 1)
        assert fret_space_mm(scale, fret) == pytest.approx(left / 17.817, abs=0.001)


def test_the_rule_of_eighteen_is_not_what_is_used() -> None:
    """It puts fret 12 at 428.66 mm on 34 in (rule: Mottola, American Lutherie 130, 2017)."""
    left = 863.6
    for _ in range(12):
        left -= left / 18
    assert 863.6 - left == pytest.approx(428.66, abs=0.005)
    assert fret_mm(863.6, 12) - (863.6 - left) == pytest.approx(3.14, abs=0.005)


# "Scale Length: How Does It Affect Your Sound?" (article): 30, 32, 34 and 35 in.
@pytest.mark.parametrize(
    ("name", "mm"), [("short", 762.0), ("medium", 812.8), ("long", 863.6), ("extra-long", 889.0)]
)
def test_common_bass_scales(name: str, mm: float) -> None:
    assert SCALES_MM[name] == pytest.approx(mm)


def test_where_fret_spaces_become_narrow_on_a_long_scale() -> None:
    """Under 20 mm from fret 17, under 17 mm from fret 20 (worked out from Leirer 2008)."""
    spaces = {fret: fret_space_mm(863.6, fret) for fret in range(1, 25)}
    assert min(fret for fret, mm in spaces.items() if mm < 20) == 17
    assert min(fret for fret, mm in spaces.items() if mm < 17) == 20
