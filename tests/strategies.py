"""Hypothesis strategies that the tests share.

Each builds a value through its public constructor, and only values that a player
could have: tunings may be custom and re-entrant, necks have 12 to 36 frets.
"""

from hypothesis import strategies as st

from fretdrill.hand.hand import SIZES, SYSTEMS, Hand
from fretdrill.neck.neck import MAX_FRETS, MIN_FRETS, Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import MAX_STRINGS, PRESETS, Tuning
from fretdrill.theory.key import MODES, Key
from fretdrill.theory.pitch import LETTERS, NoteName, Pitch

HIGHEST_MIDI = 127
LOWEST_STRING, HIGHEST_STRING = 12, HIGHEST_MIDI - MAX_FRETS
POSITIONS = range(1, MAX_FRETS + 1)


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
