"""Reading ABC: files, voices, repeats, bars, notices, faults and limits.

What the standard itself spells out is checked in ``tests/reference``. Where a check
here follows it, its section stands beside it (ABC 2.1, December 2011).
"""

from contextlib import suppress
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.scores.abc import decode_abc, read_abc
from fretdrill.scores.reading import Notice, Reading, Sort
from fretdrill.theory.line import Articulation, Join, Line
from fretdrill.theory.pitch import LETTERS

HEADER = "X:1\nT:Test\nM:4/4\nL:1/4\nK:C\n"


def read(body: str, header: str = HEADER) -> Reading:
    return read_abc(header + body + "\n", "t.abc")


def line_of(body: str, header: str = HEADER) -> Line:
    return read(body, header).line


def names(line: Line) -> str:
    return " ".join(str(note.pitch) for note in line.notes)


def quarters(line: Line) -> list[Fraction]:
    return [note.duration * 4 for note in line.notes]


def numbers(line: Line) -> list[int]:
    return [bar.number for bar in line.bars]


def joins(line: Line) -> list[Join | None]:
    return [note.join for note in line.notes]


def said(reading: Reading, sort: Sort) -> list[str]:
    return [str(notice) for notice in reading.notices if notice.sort is sort]


def fault(text: str, tune: int | None = None) -> str:
    with pytest.raises(InputError) as caught:
        read_abc(text, "t.abc", tune)
    return str(caught.value)


# Files and tunes


@pytest.mark.parametrize("content", [b"T:\xc3\xa9", b"\xef\xbb\xbfT:\xc3\xa9"])
def test_utf_8_is_read_with_and_without_a_byte_order_mark(content: bytes) -> None:
    assert decode_abc(content) == ("T:é", False)


def test_what_is_not_utf_8_is_read_as_latin_1() -> None:
    assert decode_abc(b"T:\xe9") == ("T:é", True)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_end_in_any_way(end: str) -> None:
    """§8."""
    line = read_abc((HEADER + "CDEF|\nGABc|").replace("\n", end), "t.abc").line
    assert (names(line), line.notes[4].where) == ("C4 D4 E4 F4 G4 A4 B4 C5", "line 7, column 1")


def test_a_byte_order_mark_in_the_text_is_passed_over() -> None:
    """§2.1."""
    assert names(line_of("C", "\ufeff" + HEADER)) == "C4"


def test_the_title_is_that_of_the_first_t_field() -> None:
    assert line_of("C", "X:1\nT:One\nT:Two\nM:4/4\nK:C\n").title == "One"


def test_a_tune_without_a_title_is_called_by_its_source() -> None:
    assert line_of("C", "X:1\nT:\nM:4/4\nK:C\n").title == "t.abc"


BOOK = """%abc-2.1
M:3/4
L:1/4
I:propagate-accidentals octave

Some free text: K is not a field here.

X:7
T:First
K:C
CDE|

More text

X:9
T:Second
L:1/8
K:G
FGABcd|
"""


def test_the_first_tune_is_read_and_the_others_are_named() -> None:
    reading = read_abc(BOOK, "t.abc")
    assert reading.line.title == "First"
    assert said(reading, Sort.CHOSEN) == [
        "tune 7, the first of 2, is read; '--tune N' takes another"
    ]


def test_a_tune_is_taken_by_its_number() -> None:
    reading = read_abc(BOOK, "t.abc", 9)
    assert (names(reading.line), reading.notices) == ("F#4 G4 A4 B4 C5 D5", ())


def test_the_file_header_holds_for_every_tune_but_can_be_overridden() -> None:
    """§2.2.2."""
    first, second = read_abc(BOOK, "t", 7).line, read_abc(BOOK, "t", 9).line
    assert [str(line.metre) for line in (first, second)] == ["3/4", "3/4"]
    assert [line.notes[0].duration for line in (first, second)] == [Fraction(1, 4), Fraction(1, 8)]


def test_a_blank_line_ends_a_tune() -> None:
    """§2.2.1."""
    assert names(line_of("CDEF|\n \t\nGABc|")) == "C4 D4 E4 F4"


def test_a_line_of_comment_does_not_end_a_tune() -> None:
    """§2.2.5."""
    assert names(line_of("CD\n  % nothing\nEF|")) == "C4 D4 E4 F4"


def test_typeset_text_is_not_music() -> None:
    """§11.4.5."""
    assert names(line_of("CD\n%%begintext\nBAD FACE\n%%endtext\nEF|")) == "C4 D4 E4 F4"


def test_a_body_without_a_number_is_tune_1() -> None:
    """§10.5.1."""
    text = "M:2/4\nK:F\nB8|\n"
    assert names(read_abc(text, "t", 1).line) == names(read_abc(text, "t").line) == "Bb4"


def test_a_file_without_a_tune_is_a_fault() -> None:
    assert fault("hello\n") == "t.abc: there is no ABC tune in it; a tune begins with an X: line"


def test_a_tune_that_is_not_there_is_a_fault_that_lists_the_others() -> None:
    assert fault(BOOK, 3) == "t.abc: there is no tune 3; there are 7, 9"


def test_a_tune_without_notes_is_a_fault() -> None:
    assert fault("X:4\nT:t\nM:4/4\nK:C\nz4|\n") == "t.abc, line 1: tune 4 has no notes"


def test_a_tune_without_a_key_field_is_a_fault() -> None:
    said = fault("X:4\nT:t\nCDEF|\n")
    assert said == "t.abc, line 1: tune 4 has no K: line, which its music must follow"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("X:1\nM:7/0\nK:C\nC", "line 2: there is no metre 7/0"),
        ("X:1\nM:fast\nK:C\nC", "line 2: 'fast' is not a metre such as 4/4 or 6/8"),
        ("X:1\nL:1/0\nK:C\nC", "line 2: '1/0' is not a unit length such as 1/8"),
        ("X:1\nK:nonsense\nC", "line 2: 'nonsense' is not a key such as G, Dm or AMix"),
        ("X:1\nK:Cfoo\nC", "line 2: 'foo' is not a mode such as minor, Mix or Dor"),
        ("X:1\nK:C\nC\nM:3/5\nC", "line 4: there is no metre 3/5"),
        ("X:1\nK:C\nC[K:x]C", "line 3: 'x' is not a key such as G, Dm or AMix"),
        ("X:1\nK:G#\nC", "line 2: the key of G# major would need more than seven accidentals"),
    ],
)
def test_impossible_fields_are_faults(text: str, message: str) -> None:
    assert fault(text) == f"t.abc, {message}"


# Keys, metres, tempos


def test_a_key_may_change_in_the_middle_of_a_line() -> None:
    line = line_of("F4|[K:D]F2 [K:F]B2|")
    assert names(line) == "F4 F#4 Bb4"
    assert [(change.onset, str(change.key)) for change in line.keys] == [
        (0, "C major"),
        (1, "D major"),
        (Fraction(3, 2), "F major"),
    ]


def test_a_change_of_clef_keeps_the_key() -> None:
    line = line_of("F4|[K:clef=bass-8]F4|", "X:1\nM:4/4\nL:1/4\nK:D\n")
    assert (names(line), len(line.keys)) == ("F#4 F#3", 1)


def test_a_change_of_key_keeps_the_clef() -> None:
    line = line_of("C4|[K:D]C4|", "X:1\nM:4/4\nL:1/4\nK:C bass-8\n")
    assert names(line) == "C3 C#3"


def test_an_explicit_signature_is_called_by_the_mode_it_makes() -> None:
    assert str(line_of("C", "X:1\nM:4/4\nK:C exp _b _e\n").key) == "C dorian"


def test_a_transposed_key_is_spelled_with_few_accidentals() -> None:
    line = line_of("B^A", "X:1\nM:4/4\nK:B transpose=1\n")
    assert (names(line), str(line.key)) == ("C5 B4", "C major")


def test_octaves_leave_the_spelling_of_seven_sharps() -> None:
    line = line_of("CB", "X:1\nM:4/4\nK:C# transpose=-12\n")
    assert (names(line), str(line.key)) == ("C#3 B#3", "C# major")


def test_an_eight_at_the_clef_and_a_transposition_add_up_and_are_noticed() -> None:
    reading = read("C", "X:1\nM:4/4\nL:1/1\nK:C bass-8 transpose=-12\n")
    assert names(reading.line) == "C2"
    assert said(reading, Sort.CHANGED) == ["the clef's octave and transpose= both move the pitch"]


def test_words_in_a_key_field_that_mean_nothing_are_noticed() -> None:
    reading = read("C4", "X:1\nM:4/4\nL:1/4\nK:C banjo\n")
    assert said(reading, Sort.DROPPED) == ["line 4: 'banjo' in a K: field means nothing here"]


def test_a_metre_change_is_that_of_the_bars_after_it() -> None:
    line = line_of("C4|\nM:3/4\nD3|[M:6/8]E3|")
    assert [(str(bar.metre), bar.length) for bar in line.bars] == [
        ("4/4", 1),
        ("3/4", Fraction(3, 4)),
        ("6/8", Fraction(3, 4)),
    ]


@pytest.mark.parametrize("metre", ["M:none\n", ""])
def test_free_metre_leaves_the_bars_as_they_are(metre: str) -> None:
    """§3.1.6."""
    reading = read("CDE|F|", f"X:1\n{metre}L:1/4\nK:C\n")
    assert [(bar.number, bar.length, bar.start) for bar in reading.line.bars] == [
        (1, Fraction(3, 4), 0),
        (2, Fraction(1, 4), 0),
    ]
    assert len(said(reading, Sort.CHANGED)) == 1


def test_a_tempo_may_change_in_the_middle() -> None:
    line = line_of("C4|[Q:1/4=60]D2 [Q:1/2=90]E2|", "X:1\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n")
    assert [(mark.onset, mark.bpm, mark.beat) for mark in line.tempos] == [
        (0, 100, Fraction(1, 4)),
        (1, 60, Fraction(1, 4)),
        (Fraction(3, 2), 90, Fraction(1, 2)),
    ]


def test_a_repeat_goes_back_to_the_tempo_and_key_it_began_in() -> None:
    line = line_of("|:C4|[Q:1/4=60][K:G]F4:|", "X:1\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n")
    assert [(mark.onset, mark.bpm) for mark in line.tempos] == [
        (0, 100),
        (1, 60),
        (2, 100),
        (3, 60),
    ]
    assert [str(change.key) for change in line.keys] == ["C major", "G major"] * 2


@pytest.mark.parametrize("tempo", ["fast", "1/0=120", "1/4=0", "1/4=9999", "1/4", "1/4=1=1"])
def test_a_tempo_that_cannot_be_is_noticed_and_passed_over(tempo: str) -> None:
    reading = read("C4", f"X:1\nM:4/4\nL:1/4\nQ:{tempo}\nK:C\n")
    assert reading.line.tempos[0].bpm == 120
    assert said(reading, Sort.CHANGED)[0].endswith("; the tempo stays as it was")


# Notes


def test_a_note_knows_its_place_in_the_source() -> None:
    assert [note.where for note in line_of('"Am"C ^D|\n[CE]').notes] == [
        "line 6, column 5",
        "line 6, column 7",
        "line 7, column 1",
    ]


def test_an_accidental_holds_to_the_bar_line() -> None:
    assert names(line_of("^F F =F F|F4|")) == "F#4 F#4 F4 F4 F4"


def test_a_tie_over_a_bar_line_carries_the_accidental_for_its_note_only() -> None:
    line = line_of("z2 ^F2-|F F f2|")
    assert (names(line), quarters(line)) == ("F#4 F4 F5", [3, 1, 2])


def test_a_tie_into_both_endings_carries_the_accidental() -> None:
    line = line_of("|:C2 ^F2-|1F4:|2F4|]")
    assert (names(line), quarters(line)) == ("C4 F#4 C4 F#4", [2, 6, 2, 6])


def test_a_tie_to_an_enharmonic_note_is_one_note() -> None:
    assert quarters(line_of("^G2-_A2|")) == [4]


@pytest.mark.parametrize("body", ["C2-D2|", "C2-z C|", "C4-|"])
def test_a_tie_that_leads_nowhere_is_noticed(body: str) -> None:
    reading = read(body)
    assert said(reading, Sort.CHANGED) == [
        "line 6, column 1: a tie that leads to no note of the same pitch is not read as one"
    ]


def test_marks_of_tied_notes_are_those_of_one() -> None:
    note = line_of("!2!.C2-!tenuto!C2|").notes[0]
    assert note.articulations == {Articulation.STACCATO, Articulation.TENUTO}
    assert note.finger == 2


def test_a_slur_out_of_a_tied_note_is_that_of_its_end() -> None:
    assert joins(line_of("(C-C D) E|")) == [Join.SLUR, None, None]


def test_no_note_is_slurred_over_a_rest() -> None:
    assert joins(line_of("(C z D E)|")) == [None, Join.SLUR, None]


@pytest.mark.parametrize("body", ["(CDEF|", "CDEF)|"])
def test_a_slur_without_its_other_end_is_left_out(body: str) -> None:
    reading = read(body)
    assert joins(reading.line) == [None] * 4
    assert said(reading, Sort.DROPPED)[0].endswith("a slur without its other end is left out")


def test_a_slide_is_on_the_note_before() -> None:
    assert joins(line_of("(C !slide!D) E2|")) == [Join.SLIDE, None, None]


def test_a_slide_from_no_note_is_noticed() -> None:
    reading = read("!slide!C z !slide!D2|")
    assert joins(reading.line) == [None, None]
    assert said(reading, Sort.DROPPED) == [
        "line 6, column 8: a slide that comes from no note is left out"
    ]


def test_of_a_chord_the_lowest_note_is_kept() -> None:
    reading = read("[eC!2!G,]4|")
    assert (names(reading.line), reading.line.notes[0].finger) == ("G3", 2)
    assert said(reading, Sort.DROPPED) == [
        "line 6, column 1: of a chord only the lowest note is kept"
    ]


def test_a_unison_is_not_a_chord() -> None:
    """§4.17."""
    assert read("[CC]4|").notices == ()


def test_chords_may_be_tied() -> None:
    assert quarters(line_of("[CE]2-[CE]-[C-E-]|[CE]4|")) == [8]


def test_grace_notes_are_counted_and_left_out() -> None:
    reading = read("{ag}C{/f}DE{g}F|")
    assert names(reading.line) == "C4 D4 E4 F4"
    assert reading.notices == (
        Notice(Sort.DROPPED, "line 6, column 1", "3 groups of grace notes are left out"),
    )


def test_each_decoration_that_is_left_out_is_noticed_once() -> None:
    reading = read("!trill!C TD !turn!E !mf!F|")
    assert said(reading, Sort.DROPPED) == [
        "line 6, column 8: the decoration !trill! is left out",
        "line 6, column 19: the decoration !turn! is left out",
    ]


def test_jumps_are_noticed() -> None:
    reading = read("CDEF|GABc !D.C.! |]")
    assert [text.split(": ")[1] for text in said(reading, Sort.DROPPED)] == [
        "!D.C.! is not played out"
    ]


def test_a_fifth_finger_is_noticed() -> None:
    assert "the finger 5 is left out" in said(read("!5!C4|"), Sort.DROPPED)[0]


def test_each_sign_without_meaning_is_noticed_once() -> None:
    reading = read("C*D*#E F*|")
    assert names(reading.line) == "C4 D4 E4 F4"
    assert said(reading, Sort.DROPPED) == [
        "line 6, column 2: '*' means nothing here and is left out",
        "line 6, column 5: '#' means nothing here and is left out",
    ]


def test_many_signs_without_meaning_make_few_notices() -> None:
    reading = read("C4 " + "".join(map(chr, range(0x400, 0x600))))
    assert len(reading.notices) < 20


@pytest.mark.parametrize("length", ["0", "1/0", "9" * 5000, "/" * 5000, "/" + "9" * 5000])
def test_a_length_that_cannot_be_is_read_as_1(length: str) -> None:
    reading = read(f"C{length} D|")
    assert quarters(reading.line) == [1, 1]
    assert "a length that cannot be is read as 1" in said(reading, Sort.CHANGED)[0]


def test_a_note_outside_midi_is_a_rest() -> None:
    reading = read("C,,,,,,,,C|c''''''''|")
    assert (names(reading.line), reading.line.length) == ("C4", Fraction(3, 4))
    assert "2 notes outside MIDI's 0 to 127 are read as rests" in said(reading, Sort.DROPPED)[0]


def test_an_overlay_is_noticed() -> None:
    reading = read("C4 & E4|D4|")
    assert (names(reading.line), len(reading.notices)) == ("C4 D4", 1)


def test_words_symbols_and_parts_in_the_body_carry_no_notes() -> None:
    body = "P:A\nCDEF|\nw:la la la la\nW:la\nN:note\nT:part two\nR:reel\nGABc|"
    reading = read(body)
    assert (len(reading.line.notes), reading.notices) == (8, ())


def test_an_order_of_parts_is_noticed() -> None:
    reading = read("P:A\nC4|\nP:B\nD4|", "X:1\nM:4/4\nL:1/4\nP:(AB)2A\nK:C\n")
    assert names(reading.line) == "C4 D4"
    assert "P:(AB)2A is not played out" in said(reading, Sort.CHANGED)[0]


def test_an_open_quotation_mark_is_noticed() -> None:
    assert "closing quotation mark" in said(read('CDEF|"Am GABc|'), Sort.DROPPED)[0]


# Voices

VOICES = "X:1\nM:4/4\nL:1/4\nV:1 name=Melody\nV:2{}\nK:C\n[V:1] cdef|\n[V:2] C,4|\n[V:1] g4|\n"


def test_the_first_voice_with_notes_is_read() -> None:
    reading = read_abc(VOICES.format(""), "t")
    assert names(reading.line) == "C5 D5 E5 F5 G5"
    assert said(reading, Sort.CHOSEN) == ["voice 1 of 2 is read: it is the first with notes"]
    assert said(reading, Sort.DROPPED) == ["left out: voice 2"]


@pytest.mark.parametrize(
    ("properties", "why"),
    [
        (' name="E-Bass"', "it is called a bass"),
        (" clef=bass", "it is in the bass clef"),
        (" bass", "it is in the bass clef"),
    ],
)
def test_a_bass_is_preferred(properties: str, why: str) -> None:
    reading = read_abc(VOICES.format(properties), "t")
    assert names(reading.line) == "C3"
    assert said(reading, Sort.CHOSEN) == [f"voice 2 of 2 is read: {why}"]


def test_a_bassoon_is_not_a_bass() -> None:
    assert names(read_abc(VOICES.format(" name=Bassoon"), "t").line).startswith("C5")


def test_fields_before_all_voices_are_for_all_of_them() -> None:
    """§7.3."""
    text = "X:1\nM:4/4\nL:1/4\nK:C\nK:D\nV:1\nc4|\nV:2 clef=bass\nF,4|\n"
    assert names(read_abc(text, "t").line) == "F#3"


def test_a_single_voice_needs_no_notice() -> None:
    assert read("V:1\nCDEF|\nV:1\nGABc|").notices == ()


# Repeats


@pytest.mark.parametrize(
    ("body", "played"),
    [
        ("|:C4:|:D4:|", "C4 C4 D4 D4"),
        ("|:C4|1D4:|2E4||F4|", "C4 D4 C4 E4 F4"),
        ("|:C4|1D4|2E4|]", "C4 D4 C4 E4"),
        ("|:C4|1D4:|2E4:|3F4|]", "C4 D4 C4 E4 C4 F4"),
        ("C4|1D4:|2E4|F4|1G4:|2A4|]", "C4 D4 C4 E4 F4 G4 F4 A4"),
        ("|:C4|1D4:|2E4|:F4:|", "C4 D4 C4 E4 F4 F4"),
        ("|:C4|[1D4:|E4|", "C4 D4 C4 E4"),
        ("|:C4|D4|1:|2E4|]", "C4 D4 C4 D4 E4"),
        ("C4:|\n|:D4:|", "C4 C4 D4 D4"),
        ("|:C4|1-2D4:|3E4|]", "C4 D4 C4 D4 C4 E4"),
        ("C4|:D4|:E4:|", "C4 D4 E4 E4"),
    ],
)
def test_repeats(body: str, played: str) -> None:
    assert names(line_of(body)) == played


def test_a_repeat_that_never_ends_is_noticed() -> None:
    reading = read("C4|:D4|E4|]")
    assert names(reading.line) == "C4 D4 E4"
    assert "has no end and is played once" in said(reading, Sort.CHANGED)[0]


def test_a_repeated_bar_stands_again_with_its_number() -> None:
    assert numbers(line_of("|:C4|1D4:|2E4||F4|")) == [1, 2, 1, 3, 4]


# Bars


def test_a_pickup_is_bar_0_and_the_last_bar_makes_up_for_it() -> None:
    reading = read("C|DEFG|ABc|]")
    assert [(bar.number, bar.length, bar.start) for bar in reading.line.bars] == [
        (0, Fraction(1, 4), Fraction(3, 4)),
        (1, 1, 0),
        (2, Fraction(3, 4), 0),
    ]
    assert reading.notices == ()


def test_two_halves_of_a_bar_around_a_repeat_sign_have_one_number() -> None:
    reading = read("|:C|DEFG|ABc:||:d|efga|fga:|")
    written = [(bar.number, bar.start) for bar in reading.line.bars]
    pickup, rest = (0, Fraction(3, 4)), (2, Fraction(3, 4))
    assert written == [
        pickup, (1, 0), (2, 0), pickup, (1, 0), (2, 0),
        rest, (3, 0), (4, 0), rest, (3, 0), (4, 0),
    ]  # fmt: skip
    assert reading.notices == ()


def test_a_first_bar_cut_by_a_repeat_sign_is_bar_1() -> None:
    line = line_of("CD|:EF|GABc|DE:|")
    assert [(bar.number, bar.start) for bar in line.bars[:3]] == [
        (1, 0),
        (1, Fraction(1, 2)),
        (2, 0),
    ]


def test_endings_that_begin_inside_a_bar_share_its_number() -> None:
    line = line_of("|:CDEF|GA[1Bc:|[2GG|]")
    assert [(bar.number, bar.start) for bar in line.bars] == [
        (1, 0), (2, 0), (2, Fraction(1, 2)), (1, 0), (2, 0), (2, Fraction(1, 2)),
    ]  # fmt: skip


def test_a_bar_too_long_or_too_short_is_kept_and_noticed() -> None:
    reading = read("CDEF|GAB/|CDEFG|C4|")
    assert [bar.length * 4 for bar in reading.line.bars] == [4, Fraction(5, 2), 5, 4]
    assert said(reading, Sort.CHANGED) == [
        "line 6, column 6: bar 2 holds 2 1/2 of 4 beats, and 1 more bar is too short or too long"
    ]


def test_a_last_bar_needs_no_bar_line() -> None:
    assert numbers(line_of("CDEF|GABc")) == [1, 2]


def test_an_empty_bar_is_no_bar() -> None:
    assert numbers(line_of("|CDEF|\n|GABc||\n")) == [1, 2]


# Properties

LENGTHS = {"": 1, "2": 2, "3": 3, "/": Fraction(1, 2), "3/2": Fraction(3, 2), "/4": Fraction(1, 4)}
SIGNS = {"": None, "^": 1, "_": -1, "=": 0}


@st.composite
def written_bars(draw: st.DrawFn) -> list[list[tuple[str, int, Fraction]]]:
    """Bars of 4/4: text, MIDI number and length in quarters of each note, 0 for a rest."""
    bars = []
    for _ in range(draw(st.integers(2, 5))):
        bar, left = [], Fraction(4)
        while left:
            text = draw(st.sampled_from([one for one in LENGTHS if LENGTHS[one] <= left]))
            letter, octave = draw(st.sampled_from(LETTERS + "z")), draw(st.integers(-3, 2))
            sign = draw(st.sampled_from("^_="))
            mark = "," * -octave if octave < 0 else "'" * octave
            midi = 60 + 12 * octave + "C D EF G A B".find(letter) + (SIGNS[sign] or 0)
            rest = letter == "z"
            bar.append(
                (
                    f"z{text}" if rest else sign + letter + mark + text,
                    0 if rest else midi,
                    Fraction(LENGTHS[text]),
                )
            )
            left -= LENGTHS[text]
        bars.append(bar)
    return bars


@settings(max_examples=60, deadline=None)
@given(written_bars())
def test_what_is_written_is_what_is_read(bars: list[list[tuple[str, int, Fraction]]]) -> None:
    flat = [note for bar in bars for note in bar]
    expected, onset = [], Fraction(0)
    for _, midi, length in flat:
        expected += [(midi, onset, length)] if midi else []
        onset += length
    body = "|".join(" ".join(text for text, _, _ in bar) for bar in bars)
    if not expected:
        return
    line = line_of(body)
    assert [(n.pitch.midi, n.onset * 4, n.duration * 4) for n in line.notes] == expected
    assert numbers(line) == list(range(1, len(bars) + 1))
    assert all(bar.length == 1 for bar in line.bars)


ABC = st.sampled_from(
    [*"ABCDEFGabcdefgzxZXyHLMSTuv^_=,'/0123456789<>()[]{}|:-.!\"&~+$%\\`\n *#?@;KVQMLIPUwrs ",
     "[V:2]", "[K:Am]", "[M:3/4]", "[Q:1/4=90]", "\nK:", "\nX:2\n", "!slide!", "!3!", "[1", "[2",
     ":|", "|:", "::", "(3", "(3:2:4", "\nV:1 clef=bass-8 transpose=-3\n", "\nM:none\n", "&&",
     "[L:1/16]", "U:h=!1!\n", "[K:D exp ^g _b transpose=5]", "Z9999", "5" * 50]
)  # fmt: skip


def check(reading: Reading) -> None:
    line = reading.line
    assert line.notes
    assert sum((bar.length for bar in line.bars), Fraction(0)) == line.length
    assert all(bar.end == after.onset for bar, after in pairwise(line.bars))
    assert all(one.onset < after.onset for one, after in pairwise(line.keys))
    assert all(one.onset < after.onset for one, after in pairwise(line.tempos))
    assert line.notes[-1].join is None


@settings(max_examples=250, deadline=None)
@given(st.sampled_from([HEADER, "K:C\n", "X:1\nI:linebreak !\nK:Bbm\n", ""]), st.lists(ABC))
def test_any_text_is_read_or_refused(header: str, parts: list[str]) -> None:
    with suppress(InputError):
        check(read_abc(header + "".join(parts), "t"))


TUNE = (
    'X:1\nT:Walk\nC:Trad.\nM:4/4\nL:1/8\nQ:1/4=132\nK:Bb bass\n|:"Bb"!1!B,2 (C,D,) E,>F, ^F,G,-|'
    "1 G,4 (3A,B,C D2:|2 [B,D]4 {c}B,4||\n[K:F] Z2|!slide!F,2 .A,2 c/d/e !4!f-|f8|]\n"
)


@settings(max_examples=250, deadline=None)
@given(st.integers(0, len(TUNE)), st.integers(0, 12), st.lists(ABC, max_size=3))
def test_a_damaged_tune_is_read_or_refused(start: int, cut: int, parts: list[str]) -> None:
    with suppress(InputError):
        check(read_abc(TUNE[:start] + "".join(parts) + TUNE[start + cut :], "t"))


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=60))
def test_any_bytes_are_decoded_and_read_or_refused(content: bytes) -> None:
    with suppress(InputError):
        check(read_abc(HEADER + decode_abc(content)[0], "t"))


# Limits


@pytest.mark.parametrize(
    "body",
    [
        "(" * 20_000 + "C",
        "(C" * 5_000 + ")" * 5_000,
        "C" + "9" * 50_000,
        "[" * 20_000 + "C",
        "[K:" * 10_000 + "]C",
        "!a" * 10_000 + "C",
        "{" * 20_000 + "C",
        "C[1" + ",1-9" * 10_000 + "D",
        "C/3 C/5 C/7 C/11 C/13 " * 1_000,
        "C\nQ:" + "1/111" * 10_000,
        "\\ " * 20_000 + "C",
    ],
    ids=lambda body: body[:12],
)
def test_overlong_constructs_do_no_harm(body: str) -> None:
    check(read(body))


def test_a_repeat_without_measure_is_refused() -> None:
    assert fault(HEADER + "C" + ":" * 200_000 + "|") == (
        "t.abc: with its repeats the tune is longer than 100,000 notes"
    )


def test_a_tune_beyond_measure_is_refused() -> None:
    assert fault(HEADER + "C4|" + "Z9999|" * 11).endswith("the tune is longer than 100,000 notes")


def test_numbers_of_five_thousand_digits_are_refused_or_passed_over() -> None:
    digits = "9" * 5_000
    assert names(read_abc(f"X:{digits}\nM:4/4\nK:C\nC8", "t").line) == "C4"
    assert len(fault(f"X:1\nM:{digits}/4\nK:C\nC8")) < 120


def test_reading_takes_time_in_proportion_to_length() -> None:
    """No clock: 40,000 notes in one go is what a quadratic reader could not do in time."""
    body = "".join("^C(DE)F>G !1!A,B3/2c/|\n" for _ in range(5_000))
    assert len(line_of(body).notes) == 40_000
