"""Where notes stand on the bass staff, and which accidentals they show.

What is written is checked by readers of our own that know lines, spaces and signs only.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.theory.key import MAJOR_KEYS, Key
from fretdrill.theory.pitch import NoteName, Pitch
from fretdrill.theory.staff import (
    SignatureSign,
    accidentals_shown,
    ledger_steps,
    octaves_lowered,
    signature_steps,
    staff_step,
    write_notes,
    written_value,
)
from tests.strategies import all_keys, keys, pitches

Figure = list[tuple[Pitch, int]]

LINES = {"1st line": 0, "2nd line": 2, "3rd line": 4, "4th line": 6, "5th line": 8}
SPACES = {"1st space": 1, "2nd space": 3, "3rd space": 5, "4th space": 7, "space below": -1}
PLACES = LINES | SPACES
NAMES_FROM_THE_BOTTOM_LINE = "GABCDEF"  # "good boys do fine always", "all cows eat grass"


@st.composite
def figures(draw: st.DrawFn, lowest: int = 28, highest: int = 67) -> Figure:
    """Notes of a few letters in a few bars, so that accidentals meet."""
    found, bar = [], draw(st.integers(0, 3))
    for _ in range(draw(st.integers(0, 10))):
        bar += draw(st.sampled_from((0, 0, 0, 1, 2)))
        pitch = draw(pitches(lowest, highest) | pitches(lowest, min(highest, lowest + 5)))
        found.append((pitch, bar))
    return found


def figure(text: str) -> Figure:
    """Read ``"F#1 G1 | F1"``, where a stroke begins the next bar."""
    found, bar = [], 1
    for word in text.split():
        if word == "|":
            bar += 1
        else:
            found.append((Pitch.parse(word), bar))
    return found


# Common practice, no source: the open strings of four- and five-string basses, middle C of
# the piano on the first ledger line above, as it is written for the bass.
@pytest.mark.parametrize(
    ("sounding", "step"),
    [
        ("B0", -5), ("E1", -2), ("F1", -1), ("A1", 1), ("D2", 4), ("G2", 7), ("C3", 10),
        ("G1", 0), ("F2", 6), ("A2", 8), ("G3", 14), ("G4", 21),
    ],
)  # fmt: skip
def test_well_known_notes(sounding: str, step: int) -> None:
    assert staff_step(Pitch.parse(sounding)) == step


@given(pitches(max_alter=3))
def test_the_letter_is_the_one_of_the_line_or_space(pitch: Pitch) -> None:
    assert NAMES_FROM_THE_BOTTOM_LINE[staff_step(pitch) % 7] == pitch.name.letter


@given(st.sampled_from("CDEFGAB"), st.integers(0, 4), st.integers(-3, 3))
def test_an_accidental_does_not_move_a_note(letter: str, octave: int, alter: int) -> None:
    plain = Pitch.parse(f"{letter}{octave}")
    altered = Pitch(plain.midi + alter, NoteName(letter, alter))
    assert staff_step(altered) == staff_step(plain)


def test_enharmonic_notes_stand_where_they_are_spelled() -> None:
    steps = [staff_step(Pitch.parse(name)) for name in ("B#1", "C2", "Dbb2", "Cb2", "B1")]
    assert steps == [2, 3, 4, 3, 2]


@pytest.mark.parametrize(
    ("step", "ledgers"),
    [
        (-5, (-2, -4)), (-4, (-2, -4)), (-3, (-2,)), (-2, (-2,)), (-1, ()), (0, ()), (4, ()),
        (8, ()), (9, ()), (10, (10,)), (11, (10,)), (14, (10, 12, 14)), (15, (10, 12, 14)),
    ],
)  # fmt: skip
def test_ledger_lines(step: int, ledgers: tuple[int, ...]) -> None:
    """Common practice, no source: through a note on a line, up to one in a space."""
    assert ledger_steps(step) == ledgers


# A printed table of the places of signature accidentals in bass clef, in words.
SHARPS = "F 4th line, C 2nd space, G 4th space, D 3rd line, A 1st space, E 3rd space, B 2nd line"
FLATS = "B 2nd line, E 3rd space, A 1st space, D 3rd line, G 1st line, C 2nd space, F space below"

# The same table's places in treble clef, counted from its bottom line, E.
TREBLE_SHARPS, TREBLE_FLATS = [8, 5, 9, 6, 3, 7, 4], [4, 7, 3, 6, 2, 5, 1]


@pytest.mark.parametrize("key", MAJOR_KEYS, ids=str)
def test_signatures_stand_as_in_the_printed_table(key: Key) -> None:
    table = [entry.split(" ", 1) for entry in (SHARPS if key.signature > 0 else FLATS).split(", ")]
    sign = 1 if key.signature > 0 else -1
    expected = [SignatureSign(PLACES[place], sign) for _, place in table[: abs(key.signature)]]
    assert list(signature_steps(key)) == expected


@pytest.mark.parametrize("text", [SHARPS, FLATS])
def test_the_printed_table_agrees_with_the_names_of_lines_and_spaces(text: str) -> None:
    for entry in text.split(", "):
        letter, place = entry.split(" ", 1)
        assert NAMES_FROM_THE_BOTTOM_LINE[PLACES[place] % 7] == letter


@pytest.mark.parametrize(("key", "treble"), [("C#", TREBLE_SHARPS), ("Cb", TREBLE_FLATS)])
def test_a_signature_is_the_treble_one_a_line_lower(key: str, treble: list[int]) -> None:
    """As textbooks teach it."""
    assert [sign.step + 2 for sign in signature_steps(Key.parse(key))] == treble


@pytest.mark.parametrize("key", all_keys(), ids=str)
def test_a_signature_has_the_accidentals_of_its_scale(key: Key) -> None:
    signature = signature_steps(key)
    assert len(signature) == abs(key.signature)
    found = {NAMES_FROM_THE_BOTTOM_LINE[sign.step % 7]: sign.alter for sign in signature}
    assert found == {name.letter: name.alter for name in key.scale if name.alter}


def test_no_key_no_signature() -> None:
    assert signature_steps(None) == ()


# Worked by hand; common practice, no source.
@pytest.mark.parametrize(
    ("key", "notes", "shown"),
    [
        ("C", "F1 F#1 F#1 F1 F1", "- # - n -"),
        ("G", "F#1 F1 F1 F#1 F#1", "- n - # -"),
        ("F", "B1 Bb1 B1 Bb1", "n b n b"),
        ("C", "F#1 F#2 F2", "# # n"),  # another octave has its own
        ("G", "F1 F2 F#2", "n n #"),
        ("C", "F#1 G1 | F1 F#1", "# - - #"),  # the bar line ends it
        ("G", "F1 | F#1 F1", "n - n"),
        ("C", "Bb1 A#1 Bb1", "b # -"),  # a line of its own for each letter
        ("C", "Fx1 F#1 F1", "x # n"),
        ("Eb", "Ebb2 Eb2 E2", "bb b n"),
        ("C#", "B#1 Cx2 C#2", "- x #"),
        ("Cb", "Cb2 C2 Cb2", "- n b"),
    ],
)
def test_accidentals_by_hand(key: str, notes: str, shown: str) -> None:
    signs = {"-": None, "n": 0, "#": 1, "b": -1, "x": 2, "bb": -2}
    expected = tuple(signs[sign] for sign in shown.split())
    assert accidentals_shown(figure(notes), Key.parse(key)) == expected


def test_without_a_key_all_accidentals_are_shown() -> None:
    assert accidentals_shown(figure("F1 Bb1 F#2")) == (None, -1, 1)


def in_force(
    places: Sequence[tuple[int, int]], signs: Sequence[int | None], key: Key | None, index: int
) -> int:
    """Read like a player what a note would be without a sign of its own.

    ``places`` are step and bar of each note; it is the last sign on that step in that
    bar, or else the signature's on the same letter.
    """
    for place, sign in list(zip(places, signs, strict=True))[:index][::-1]:
        if place == places[index] and sign is not None:
            return sign
    letter = places[index][0] % 7
    return next((sign.alter for sign in signature_steps(key) if sign.step % 7 == letter), 0)


@given(figures(), st.none() | keys())
def test_a_reader_gets_the_pitches_back_and_no_sign_is_idle(notes: Figure, key: Key | None) -> None:
    signs = accidentals_shown(notes, key)
    places = [(staff_step(pitch), bar) for pitch, bar in notes]
    for index, (pitch, _) in enumerate(notes):
        unsigned = in_force(places, signs, key, index)
        if signs[index] is None:
            assert unsigned == pitch.name.alter
        else:
            assert signs[index] == pitch.name.alter != unsigned


@pytest.mark.parametrize(
    ("steps", "highest", "lowered"),
    [
        ([0, 8, 9, 12], 12, [0, 0, 0, 0]),
        ([0, 8, 9, 13], 12, [0, 0, 1, 1]),  # the neighbour above the staff goes with it
        ([13, 8, 9, 13], 12, [1, 0, 1, 1]),
        ([9, 8, 13], 12, [0, 0, 1]),
        ([20], 12, [2]),  # an octave is not enough
        ([20, 13, 9], 12, [2, 1, 1]),
        ([], 12, []),
    ],
)
def test_octaves_by_hand(steps: list[int], highest: int, lowered: list[int]) -> None:
    assert list(octaves_lowered(steps, highest)) == lowered


@given(st.lists(st.integers(-6, 22), max_size=8), st.integers(8, 24))
def test_high_notes_are_brought_into_the_room_there_is(steps: list[int], highest: int) -> None:
    lowered = octaves_lowered(steps, highest)
    drawn = [step - 7 * down for step, down in zip(steps, lowered, strict=True)]
    assert max(drawn, default=0) <= highest
    assert all(at >= 2 for at, down in zip(drawn, lowered, strict=True) if down)
    assert all(not down for step, down in zip(steps, lowered, strict=True) if step <= 8)
    if max(steps, default=0) <= highest:
        assert not any(lowered)
    for (step, down), (after, down_after) in pairwise(zip(steps, lowered, strict=True)):
        if step > 8 and after > 8:
            assert (down > 0) == (down_after > 0)


@given(figures(), st.none() | keys(), st.none() | st.integers(8, 12))
def test_notes_under_an_octave_sign_are_read_either_way(
    notes: Figure, key: Key | None, highest: int | None
) -> None:
    """Whether accidentals hold for what is on the line or for what sounds there."""
    written = write_notes(notes, key, highest)
    signs = [note.accidental for note in written]
    by_place = [(note.step, bar) for note, (_, bar) in zip(written, notes, strict=True)]
    by_sound = [
        (note.step + 7 * note.octaves, bar) for note, (_, bar) in zip(written, notes, strict=True)
    ]
    for places in (by_place, by_sound):
        for index, (pitch, _) in enumerate(notes):
            sign = signs[index]
            read = in_force(places, signs, key, index) if sign is None else sign
            assert read == pitch.name.alter
    assert [step for step, _ in by_sound] == [staff_step(pitch) for pitch, _ in notes]


def test_an_accidental_does_not_leak_into_the_octave_sign() -> None:
    """F♯ on the fourth line, then F an octave higher on the same line under 8va."""
    notes = figure("F#2 F3")
    assert [note.accidental for note in write_notes(notes)] == [1, None]
    assert [tuple(note) for note in write_notes(notes, None, 8)] == [(6, 0, 1), (6, 1, 0)]


# Common practice, no source: a dot adds half, a second one a quarter; three of a triplet
# take the time of two, five and seven of a quintuplet and septuplet that of four.
@pytest.mark.parametrize(
    ("duration", "value", "dots"),
    [
        ("1", "1", 0), ("3/2", "1", 1), ("1/2", "1/2", 0), ("3/4", "1/2", 1), ("7/8", "1/2", 2),
        ("1/4", "1/4", 0), ("3/8", "1/4", 1), ("7/16", "1/4", 2), ("3/16", "1/8", 1),
        ("1/64", "1/64", 0), ("1/3", "1/2", 0), ("1/6", "1/4", 0), ("1/12", "1/8", 0),
        ("1/24", "1/16", 0), ("1/5", "1/4", 0), ("1/20", "1/16", 0), ("1/28", "1/16", 0),
        ("5/8", "1/2", 0), ("5/16", "1/4", 0), ("2", "1", 0),
    ],
)  # fmt: skip
def test_written_values(duration: str, value: str, dots: int) -> None:
    assert written_value(Fraction(duration)) == (Fraction(value), dots)


@pytest.mark.parametrize("duration", [0, -1])
def test_a_note_that_lasts_no_time_is_not_written(duration: int) -> None:
    with pytest.raises(InputError, match="cannot last"):
        written_value(Fraction(duration))
