"""Hypothesis strategies that the tests share.

Each builds a value through its public constructor, and only values that a player
could have: tunings may be custom and re-entrant, necks have 12 to 36 frets.
"""

from fractions import Fraction

from hypothesis import strategies as st

from fretdrill.engine.piece import Piece
from fretdrill.hand.hand import SIZES, SYSTEMS, Hand
from fretdrill.neck.neck import MAX_FRETS, MIN_FRETS, Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import MAX_STRINGS, PRESETS, Tuning
from fretdrill.theory.key import MODES, Key
from fretdrill.theory.line import Articulation, Bar, Join, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import LETTERS, NoteName, Pitch, simple_name

HIGHEST_MIDI = 127
LOWEST_STRING, HIGHEST_STRING = 12, HIGHEST_MIDI - MAX_FRETS
POSITIONS = range(1, MAX_FRETS + 1)
LENGTHS = tuple(Fraction(n, 48) for n in (2, 3, 4, 6, 9, 12, 24))
RESTS = tuple(Fraction(n, 48) for n in (0, 0, 0, 0, 3, 6, 48))
JOINS = (None, None, *Join)


def note_names(max_alter: int = 3) -> st.SearchStrategy[NoteName]:
    """Letters with up to ``max_alter`` accidentals."""
    return st.builds(
        NoteName, st.sampled_from(LETTERS), st.integers(min_value=-max_alter, max_value=max_alter)
    )


@st.composite
def pitches(
    draw: st.DrawFn, lowest: int = 0, highest: int = HIGHEST_MIDI, max_alter: int = 2
) -> Pitch:
    """Sounding pitches in a range, in any spelling."""
    midi = draw(st.integers(lowest, highest))
    spellings = [
        name
        for letter in LETTERS
        for alter in range(-max_alter, max_alter + 1)
        if (name := NoteName(letter, alter)).pitch_class == midi % 12
    ]
    return Pitch(midi, draw(st.sampled_from(spellings)))


def all_keys() -> tuple[Key, ...]:
    """Every key of every mode that has at most seven accidentals."""
    return tuple(
        Key(NoteName.from_fifths(signature - offset), mode)
        for mode, offset in MODES.items()
        for signature in range(-7, 8)
    )


def keys() -> st.SearchStrategy[Key]:
    """Keys of every mode."""
    return st.sampled_from(all_keys())


def preset_tunings() -> st.SearchStrategy[Tuning]:
    """The tunings that have a name."""
    return st.sampled_from(sorted(PRESETS)).map(Tuning.parse)


def custom_tunings(max_strings: int = MAX_STRINGS) -> st.SearchStrategy[Tuning]:
    """Any strings in any order, so most are re-entrant, some with unisons."""
    strings = st.lists(pitches(LOWEST_STRING, HIGHEST_STRING), min_size=1, max_size=max_strings)
    return strings.map(tuple).map(Tuning)


def tunings() -> st.SearchStrategy[Tuning]:
    """Named and custom tunings."""
    return preset_tunings() | custom_tunings()


def necks() -> st.SearchStrategy[Neck]:
    """Necks with any tuning, number of frets and scale length."""
    scales = st.sampled_from((647.7, 762.0, 812.8, 863.6, 889.0)) | st.floats(300.0, 1200.0)
    return st.builds(Neck, tunings(), st.integers(MIN_FRETS, MAX_FRETS), scales)


@st.composite
def places_on(draw: st.DrawFn, neck: Neck) -> Place:
    """Places that lie on a neck, open strings included."""
    return Place(draw(st.sampled_from(neck.strings)), draw(st.integers(0, neck.frets)))


def hands() -> st.SearchStrategy[Hand]:
    """Hands of every named size and of measured ones, in every finger system."""
    sizes = st.sampled_from(sorted(SIZES)) | st.integers(60, 180).map(lambda mm: f"{mm} mm")
    return st.builds(Hand.parse, sizes, st.sampled_from(SYSTEMS))


@st.composite
def scopes(draw: st.DrawFn, max_strings: int = MAX_STRINGS, last_first_fret: int = 36) -> Scope:
    """Positions, the half position, fret ranges and the whole neck, on some strings."""
    strings = draw(
        st.none()
        | st.sets(st.integers(1, max_strings), min_size=1).map(lambda found: tuple(sorted(found)))
    )
    open_strings = draw(st.booleans())
    first = draw(st.integers(1, last_first_fret))
    shape = draw(st.sampled_from(("whole", "half", "position", "frets")))
    if shape == "whole":
        return Scope(strings=strings, open_strings=open_strings)
    if shape == "half":
        return Scope(1, 3, strings, open_strings, position=1)
    if shape == "position":
        return Scope(first, first + 3, strings, open_strings, position=first)
    return Scope(first, draw(st.integers(first, MAX_FRETS)), strings, open_strings)


@st.composite
def necks_with_scopes(draw: st.DrawFn) -> tuple[Neck, Scope]:
    """A neck and a scope that lies on it."""
    neck = draw(necks())
    return neck, draw(scopes(len(neck.tuning), neck.frets))


@st.composite
def necks_with_positions(draw: st.DrawFn) -> tuple[Neck, int]:
    """A neck and a position on it."""
    neck = draw(necks())
    return neck, draw(st.integers(1, neck.frets))


def small_necks() -> st.SearchStrategy[Neck]:
    """Four- and five-string basses with so few frets that every fingering can be counted."""
    tuning = st.sampled_from(("4-string", "5-string", "drop-d", "bead")).map(Tuning.parse)
    return st.builds(Neck, tuning, st.just(MIN_FRETS), st.sampled_from((762.0, 863.6, 889.0)))


@st.composite
def lines(
    draw: st.DrawFn,
    neck: Neck,
    min_notes: int = 0,
    max_notes: int = 6,
    lowest: int = 0,
) -> Line:
    """Lines that lie on a neck, with rests, articulations, joins, and one tempo or two.

    Args:
        draw: Hypothesis's.
        neck: where every note lies somewhere.
        min_notes: how many notes at least.
        max_notes: how many at most.
        lowest: semitones above the lowest open string that the lowest note has at least.
    """
    tuned = sorted(pitch.midi for pitch in neck.tuning.strings)
    on_neck = range(tuned[0] + lowest, tuned[-1] + neck.frets + 1)
    midis = st.sampled_from([midi for midi in on_neck if neck.places_of(midi)])
    notes: list[Note] = []
    onset = draw(st.sampled_from(RESTS))
    for _ in range(draw(st.integers(min_notes, max_notes))):
        midi = draw(midis)
        length = draw(st.sampled_from(LENGTHS))
        marks = draw(st.frozensets(st.sampled_from(Articulation), max_size=2))
        join = draw(st.sampled_from(JOINS))
        notes.append(Note(onset, length, Pitch(midi, simple_name(midi)), marks, join))
        onset += length + draw(st.sampled_from(RESTS))
    bars = tuple(Bar(n + 1, Fraction(n), Fraction(1), Metre()) for n in range(int(onset) + 1))
    tempos = [Tempo(bpm=draw(st.integers(40, 240)))]
    if notes and draw(st.booleans()):
        later = notes[-1].onset / 2 + Fraction(1, 96)
        tempos.append(Tempo(later, draw(st.floats(40.0, 240.0)), Fraction(3, 8)))
    return Line("test", tuple(notes), bars, tuple(tempos))


@st.composite
def pieces(draw: st.DrawFn, neck: Neck, min_notes: int = 2, max_notes: int = 8) -> Piece:
    """Lines as they are asked about, all on a neck."""
    return Piece("test", draw(lines(neck, min_notes, max_notes)))
