"""ABC as the standard has it: its own examples and tables.

The ABC music standard 2.1, December 2011 (abcnotation.com/wiki/abc:standard:v2.1);
the section stands beside each check. Expected pitches and lengths are worked by hand.
"""

from fractions import Fraction

import pytest

from fretdrill.scores.abc import read_abc
from fretdrill.theory.line import Articulation, Join, Line


def read(body: str, key: str = "C", metre: str = "4/4", unit: str = "1/8") -> Line:
    return read_abc(f"X:1\nT:t\nM:{metre}\nL:{unit}\nK:{key}\n{body}\n", "t.abc").line


def names(line: Line) -> str:
    return " ".join(str(note.pitch) for note in line.notes)


def eighths(line: Line) -> list[Fraction]:
    return [note.duration * 8 for note in line.notes]


def joined(line: Line) -> str:
    return "".join("~" if note.join is Join.SLUR else "." for note in line.notes)


# The middle line of the table is the key of C in every mode.
KEY_TABLE = {
    7: "C# A#m G#Mix D#Dor E#Phr F#Lyd B#Loc",
    6: "F# D#m C#Mix G#Dor A#Phr BLyd E#Loc",
    5: "B G#m F#Mix C#Dor D#Phr ELyd A#Loc",
    4: "E C#m BMix F#Dor G#Phr ALyd D#Loc",
    3: "A F#m EMix BDor C#Phr DLyd G#Loc",
    2: "D Bm AMix EDor F#Phr GLyd C#Loc",
    1: "G Em DMix ADor BPhr CLyd F#Loc",
    0: "C Am GMix DDor EPhr FLyd BLoc",
    -1: "F Dm CMix GDor APhr BbLyd ELoc",
    -2: "Bb Gm FMix CDor DPhr EbLyd ALoc",
    -3: "Eb Cm BbMix FDor GPhr AbLyd DLoc",
    -4: "Ab Fm EbMix BbDor CPhr DbLyd GLoc",
    -5: "Db Bbm AbMix EbDor FPhr GbLyd CLoc",
    -6: "Gb Ebm DbMix AbDor BbPhr CbLyd FLoc",
    -7: "Cb Abm GbMix DbDor EbPhr FbLyd BbLoc",
}


@pytest.mark.parametrize(
    ("signature", "key"),
    [(signature, key) for signature, row in KEY_TABLE.items() for key in row.split()],
)
def test_the_table_of_keys(signature: int, key: str) -> None:
    """§3.1.14."""
    line = read("C", key)
    assert line.key is not None
    assert line.key.signature == signature


@pytest.mark.parametrize(
    "key",
    "C major|A minor|C ionian|A aeolian|G mixolydian|D dorian|E phrygian|F lydian|B locrian".split(
        "|"
    ),
)
def test_modes_without_sharps_and_flats(key: str) -> None:
    """§3.1.14."""
    assert names(read("CDEFGAB", key)) == "C4 D4 E4 F4 G4 A4 B4"


@pytest.mark.parametrize("key", ["F# mixolydian", "F#Mix", "F#MIX"])
def test_only_the_first_three_letters_of_a_mode_count_in_any_case(key: str) -> None:
    """§3.1.14."""
    assert str(read("C", key).key) == "F# mixolydian"


@pytest.mark.parametrize("key", ["", "none"])
def test_a_key_of_none_is_no_signature(key: str) -> None:
    """§3.1.14."""
    line = read("FB", key)
    assert (line.keys, names(line)) == ((), "F4 B4")


@pytest.mark.parametrize("key", ["D Phr ^f", "D exp _b _e ^f"])
def test_accidentals_change_or_replace_a_signature(key: str) -> None:
    """§3.1.14: two flats and one sharp, Ahavoh Rabboh."""
    assert names(read("DEFGABc", key)) == "D4 Eb4 F#4 G4 A4 Bb4 C5"


@pytest.mark.parametrize("key", ["D maj =c", "D =c"])
def test_d_with_c_natural_is_d_mixolydian(key: str) -> None:
    """§3.1.14."""
    assert str(read("C", key).key) == "D mixolydian"


def test_the_pipes_key_marks_f_and_c_sharp() -> None:
    """§3.1.14: K:Hp marks them, K:HP writes no signature."""
    assert names(read("GABcdefga", "Hp")) == "G4 A4 B4 C#5 D5 E5 F#5 G5 A5"
    assert names(read("cf", "HP")) == "C5 F5"


@pytest.mark.parametrize(
    ("metre", "unit"),
    [("2/4", 16), ("4/4", 8), ("6/8", 8), ("3/4", 8), ("C", 8), ("C|", 8), ("none", 8)],
)
def test_the_default_unit_length_goes_by_the_metre(metre: str, unit: int) -> None:
    """§3.1.7."""
    line = read_abc(f"X:1\nM:{metre}\nK:C\nC", "t").line
    assert line.notes[0].duration == Fraction(1, unit)


def test_a_change_of_metre_leaves_the_unit_length() -> None:
    """§3.1.7."""
    line = read_abc("X:1\nM:4/4\nK:C\nC8|[M:2/4]C4|", "t").line
    assert line.notes[1].duration == Fraction(1, 2)


@pytest.mark.parametrize(
    ("metre", "beats"), [("C", "4/4"), ("C|", "2/2"), ("(2+3+2)/8", "7/8"), ("2+3+2/8", "7/8")]
)
def test_metres_by_sign_and_by_sum(metre: str, beats: str) -> None:
    """§3.1.6."""
    assert str(read("C", metre=metre).metre) == beats


@pytest.mark.parametrize(
    ("tempo", "bpm", "beat"),
    [
        ("1/2=120", 120, Fraction(1, 2)),
        ("1/4 3/8 1/4 3/8=40", 40, Fraction(5, 4)),
        ('"Allegro" 1/4=120', 120, Fraction(1, 4)),
        ('3/8=50 "Slowly"', 50, Fraction(3, 8)),
        ("C=120", 120, Fraction(1, 8)),
        ("120", 120, Fraction(1, 8)),
    ],
)
def test_tempos(tempo: str, bpm: float, beat: Fraction) -> None:
    """§3.1.8; the last two, in unit lengths, §10.1."""
    line = read_abc(f"X:1\nM:4/4\nL:1/8\nQ:{tempo}\nK:C\nC", "t").line
    assert [(mark.bpm, mark.beat) for mark in line.tempos] == [(bpm, beat)]


def test_a_tempo_in_words_only_says_nothing() -> None:
    """§3.1.8."""
    reading = read_abc('X:1\nM:4/4\nQ:"Andante"\nK:C\nC8', "t")
    assert (reading.line.tempos[0].bpm, reading.notices) == (120, ())


def test_octave_marks_in_any_combination() -> None:
    """§4.1."""
    assert names(read("C, C,', C' c c' c,")) == "C3 C3 C5 C5 C6 C4"


def test_accidentals() -> None:
    """§4.2."""
    assert names(read("^C =D _E ^^F __G")) == "C#4 D4 Eb4 F##4 Gbb4"


@pytest.mark.parametrize(
    ("written", "length"),
    [
        ("A", 1), ("A1", 1), ("A2", 2), ("A3", 3), ("A12", 12), ("A/", "1/2"), ("A/2", "1/2"),
        ("A//", "1/4"), ("A/4", "1/4"), ("A3/2", "3/2"), ("A3/", "3/2"), ("A///", "1/8"),
    ],
)  # fmt: skip
def test_note_lengths(written: str, length: int | str) -> None:
    """§4.3."""
    assert eighths(read(written)) == [Fraction(length)]


@pytest.mark.parametrize(("unit", "body"), [("1/16", "a3b cd3 a2b2c2d2"), ("1/8", "a>b c<d abcd")])
def test_broken_rhythm(unit: str, body: str) -> None:
    """§4.4: both excerpts mean the same."""
    same = "3/2 1/2 1/2 3/2 1 1 1 1"
    assert eighths(read(body, unit=unit)) == [Fraction(length) for length in same.split()]


@pytest.mark.parametrize(
    ("body", "lengths"),
    [("A>>B", "7/4 1/4"), ("A<<B", "1/4 7/4"), ("A>>>B", "15/8 1/8"), ("A<<<B", "1/8 15/8")],
)
def test_doubly_and_trebly_broken_rhythm(body: str, lengths: str) -> None:
    """§4.4."""
    assert eighths(read(body)) == [Fraction(length) for length in lengths.split()]


@pytest.mark.parametrize("body", ["A<{g}A", "A{g}<A"])
def test_grace_notes_are_transparent_to_broken_rhythm(body: str) -> None:
    """§4.12: equivalent to A/2{g}A3/2."""
    assert eighths(read(body)) == [Fraction(1, 2), Fraction(3, 2)]


def test_multi_measure_rests() -> None:
    """§4.5: both excerpts are musically equivalent."""
    short = read("Z4|CD EF|GA Bc", metre="2/4")
    long = read("z4|z4|z4|z4|CD EF|GA Bc", metre="2/4")
    assert [(note.onset, note.pitch) for note in short.notes] == [
        (note.onset, note.pitch) for note in long.notes
    ]
    assert short.bars == long.bars


def test_rests_of_one_measure_and_invisible_ones() -> None:
    """§4.5."""
    line = read("Z|X2|x4 C4|")
    assert ([bar.number for bar in line.bars], line.notes[0].onset) == (
        [1, 2, 3, 4],
        Fraction(7, 2),
    )


@pytest.mark.parametrize(
    ("staff", "sounding"),
    [
        ("clef=bass", "C4"), ("bass", "C4"), ("alto2", "C4"), ("perc stafflines=1", "C4"),
        ("treble-8", "C3"), ("clef=treble+8", "C5"), ("bass-8", "C3"), ("octave=-2", "C2"),
        ("transpose=-2", "Bb3"), ("t=-12", "C3"), ("bass middle=d transpose=-24", "C2"),
        ("bass m=d", "C4"), ("treble-8 octave=1", "C4"),
    ],
)  # fmt: skip
def test_clefs_and_transposition(staff: str, sounding: str) -> None:
    """§4.6: only an 8 at the clef, octave= and transpose= move the sound."""
    assert names(read("C", f"C {staff}")) == sounding


def test_a_clarinet_written_in_c_sounds_in_b_flat() -> None:
    """§4.6."""
    line = read("CDEFGAB", "C transpose=-2")
    assert (names(line), str(line.key)) == ("Bb3 C4 D4 Eb4 F4 G4 A4", "Bb major")


def test_back_quotes_are_ignored() -> None:
    """§4.7."""
    assert names(read("A2``B``C")) == names(read("A2BC"))


@pytest.mark.parametrize("both", ["::", ":|:", ":||:"])
def test_end_and_start_of_two_repeats(both: str) -> None:
    """§4.8."""
    assert names(read(f"|:C8{both}D8:|")) == "C4 C4 D4 D4"


def test_a_section_repeated_three_times() -> None:
    """§4.8."""
    assert names(read("|::C8::|D8|")) == "C4 C4 C4 D4"


@pytest.mark.parametrize(
    ("body", "played"),
    [
        ("C8|D8:|", "C4 D4 C4 D4"),
        ("C8||D8:|", "C4 D4 D4"),
        ("C8:|D8:|", "C4 C4 D4 D4"),
        ("|:C8||D8:|", "C4 D4 C4 D4"),
    ],
)
def test_a_repeat_without_a_start(body: str, played: str) -> None:
    """§4.8: from the beginning, the last double bar line or the last repeat."""
    assert names(read(body)) == played


@pytest.mark.parametrize("bar", ["|", "|]", "||", "[|", ".|", "[|]", "|[|", "|||"])
def test_bar_lines_of_any_shape(bar: str) -> None:
    """§4.8."""
    assert [one.number for one in read(f"C8{bar}D8").bars] == [1, 2]


@pytest.mark.parametrize(
    "body",
    ["|:C8|[1 D8:|[2 E8|]", "|:C8|1 D8:|2 E8|]", "C8|1D8:|2E8|]", "|:C8| [1 D8:| [2 E8||"],
)
def test_first_and_second_endings(body: str) -> None:
    """§4.9."""
    assert names(read(body)) == "C4 D4 C4 E4"


def test_variant_endings_by_lists_and_ranges() -> None:
    """§4.10."""
    played = "C4 D4 C4 E4 C4 D4 C4 E4 C4 D4"
    assert names(read("|:C8|[1,3,5-5 D8:|[2,4 E8:|")) == played


@pytest.mark.parametrize(
    ("body", "lengths"), [("abc-|cba", [1, 1, 2, 1, 1]), ("c4-c4", [8]), ("C.-C", [2])]
)
def test_ties(body: str, lengths: list[int]) -> None:
    """§4.11."""
    assert eighths(read(body)) == lengths


@pytest.mark.parametrize(
    ("body", "joins"),
    [
        ("(DEFG)", "~~~."),
        ("( D E F G )", "~~~."),
        ("(c (d e f) g a)", "~~~~~."),
        ("(c d (e) f g a)", "~~~~~."),
        (".(cde)", "~~."),
        ("(cde.)", "~~."),
        ("(c8|d8) e8", "~.."),
    ],
)
def test_slurs(body: str, joins: str) -> None:
    """§4.11."""
    assert joined(read(body)) == joins


@pytest.mark.parametrize(
    ("metre", "count", "times"),
    [
        ("4/4", 2, 3), ("4/4", 3, 2), ("4/4", 4, 3), ("4/4", 5, 2), ("4/4", 6, 2), ("4/4", 7, 2),
        ("4/4", 8, 3), ("4/4", 9, 2), ("6/8", 5, 3), ("9/8", 7, 3), ("12/8", 9, 3), ("3/4", 5, 2),
    ],
)  # fmt: skip
def test_the_table_of_tuplets(metre: str, count: int, times: int) -> None:
    """§4.13."""
    line = read(f"({count}" + "CDEFGABcd"[:count], metre=metre)
    assert eighths(line) == [Fraction(times, count)] * count


@pytest.mark.parametrize(
    ("body", "lengths"),
    [
        ("(3::ABC D", "2/3 2/3 2/3 1"), ("(3:2ABC D", "2/3 2/3 2/3 1"),
        ("(3:2:3ABC D", "2/3 2/3 2/3 1"), ("(3::2ABC", "2/3 2/3 1"), ("(3:2:2 G4c2", "8/3 4/3"),
        ("(3:2:4 G2A2Bc", "4/3 4/3 2/3 2/3"), ("(3 D2E2F2", "4/3 4/3 4/3"),
        ("(3.a.b.c", "2/3 2/3 2/3"),
    ],
)  # fmt: skip
def test_general_tuplets(body: str, lengths: str) -> None:
    """§4.13; the last one §4.14."""
    assert eighths(read(body)) == [Fraction(length) for length in lengths.split()]


def test_staccato_triplet() -> None:
    """§4.14."""
    marks = [note.articulations for note in read("(3.a.b.c").notes]
    assert marks == [frozenset({Articulation.STACCATO})] * 3


@pytest.mark.parametrize("mark", ["L", "!>!", "!accent!", "!emphasis!"])
def test_accents(mark: str) -> None:
    """§4.14, §4.16."""
    assert read(f"{mark}C").notes[0].articulations == {Articulation.ACCENT}


def test_fingerings_and_open_strings() -> None:
    """§4.14; the fifth is the thumb's on a keyboard."""
    line = read("!0!C!1!D!4!E!open!F!5!G")
    assert [note.finger for note in line.notes] == [0, 1, 4, 0, None]


def test_a_slide_leads_up_to_its_note() -> None:
    """§4.14."""
    assert [note.join for note in read("C!slide!DE").notes] == [Join.SLIDE, None, None]


def test_symbols_can_be_defined_and_taken_back() -> None:
    """§4.16."""
    text = "X:1\nM:4/4\nU: s = !tenuto!\nU: L = !nil!\nK:C\nsC4 LD4"
    line = read_abc(text, "t").line
    assert [note.articulations for note in line.notes] == [{Articulation.TENUTO}, frozenset()]


@pytest.mark.parametrize("chord", ["[C2E2G2]3", "[CEG]6", "[C6EG]"])
def test_the_length_of_a_chord(chord: str) -> None:
    """§4.17: that of its first note, times the length behind it."""
    assert eighths(read(chord)) == [6]


def test_the_order_of_constructs() -> None:
    """§4.20."""
    line = read('"Gm7"v.=G,2 ~^c\'3 "Gm7"(v.=G,2~^c\'2)')
    assert names(line) == "G3 C#6 G3 C#6"


def test_a_remark_and_a_comment_change_nothing() -> None:
    """§2.2.5."""
    body = "DEF FED| % this is an end of line comment\n% this is a comment line\n"
    assert names(read(body + "DEF [r:and this is a remark] FED")) == names(read("DEFFED|DEFFED"))


def test_a_backslash_joins_lines_through_fields_and_comments() -> None:
    """§6.1.1."""
    line = read("abc cab|\\\n%%setbarnb 10\nM:9/8\n%comment\nabc cba abc|", metre="6/8")
    assert [(bar.number, str(bar.metre)) for bar in line.bars] == [(1, "6/8"), (2, "9/8")]


def test_an_inline_field_is_the_same_as_a_line() -> None:
    """§3.2."""
    inline = read("E2E EFE|E2E EFG|[M:9/8] A2G F2E D2C|]", metre="6/8")
    of_its_own = read("E2E EFE|E2E EFG|\\\nM:9/8\nA2G F2E D2C|]", metre="6/8")
    assert inline.bars == of_its_own.bars


def test_reserved_signs_are_ignored() -> None:
    """§8.1: the standard's own example and how it should be treated."""
    odd = '@a !pp! #bc2/3* [K:C#] de?f "@this $2was difficult to parse?" y |**'
    plain = 'a !pp! bc2/3 [K:C#] def "@this $2was difficult to parse?" y |'
    assert [(note.pitch, note.duration) for note in read(odd).notes] == [
        (note.pitch, note.duration) for note in read(plain).notes
    ]


def test_the_overlay_of_a_bar_is_the_same_bar() -> None:
    """§7.4."""
    line = read("A2 | c d e f g a &\\\n A A A A A A &\\\n F E D C B, A, |]", metre="6/8")
    assert names(line) == "A4 C5 D5 E5 F5 G5 A5"


def test_an_overlay_of_two_bars() -> None:
    """§7.4."""
    assert names(read("g4 f4 | e6 e2 |\n&& (d8 | c6) c2|\nc8|")) == "G5 F5 E5 E5 C5"


VOICES = """X:1
T:Zocharti Loch
M:C
Q:1/4=76
%%score (T1 T2) (B1 B2)
V:T1 clef=treble-8 name="Tenore I" snm="T.I"
V:B1 middle=d clef=bass name="Basso I" snm="B.I" transpose=-24
K:Gm
[V:T1] (B2c2 d2g2) | f6e2 |
[V:B1] z8 | z2f2 g2a2 |
"""


def test_a_voice_takes_the_staff_of_its_field() -> None:
    """§7: the basses are written two octaves up."""
    assert names(read_abc(VOICES, "t").line) == "F3 G3 A3"


@pytest.mark.parametrize(
    ("reach", "played"),
    [
        ("", "Cb4 Cb4 Cb5 C4 C5"),
        ("%%propagate-accidentals pitch\n", "Cb4 Cb4 Cb5 C4 C5"),
        ("%%propagate-accidentals octave\n", "Cb4 Cb4 C5 C4 C5"),
        ("I:propagate-accidentals not\n", "Cb4 C4 C5 C4 C5"),
    ],
)
def test_how_far_an_accidental_reaches(reach: str, played: str) -> None:
    """§11.3: by default to all octaves until the end of the bar."""
    assert names(read_abc(f"X:1\nM:4/4\n{reach}K:C\n_CCc|Cc", "t").line) == played


@pytest.mark.parametrize(
    ("directive", "body"),
    [("I:linebreak !", "ABC DEF|!FED ABC|]"), ("I:decoration +", "+trill+ABC DEF|FED ABC|]")],
)
def test_the_older_dialects(directive: str, body: str) -> None:
    """§12.1.1, §12.1.2."""
    line = read_abc(f"X:1\nM:6/8\n{directive}\nK:G\n{body}", "t").line
    assert names(line) == "A4 B4 C4 D4 E4 F#4 F#4 E4 D4 A4 B4 C4"


def test_a_title_with_accents() -> None:
    """§8.2."""
    text = "X:1\nT:C\\'ad\\`ile \\\"u \\~n \\cc \\AA \\/o \\vs \\ss \\u00e9 &eacute; 5\\%\nK:C\nC"
    assert read_abc(text, "t").line.title == "Cádìle ü ñ ç Å ø š ß é é 5%"
