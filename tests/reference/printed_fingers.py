"""Printed left-hand fingers of public-domain guitar editions, an octave down.

Read apart from the program's own readers. The runs are single lines of guitar pieces that
stay on the four low strings; the table has all voices of the pieces they come from.
"""

import csv
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from fretdrill.hand.states import Pin
from fretdrill.neck.neck import Neck
from fretdrill.neck.tuning import Tuning
from fretdrill.theory.line import Bar, Line, Note, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import LETTERS, NoteName, Pitch

RUNS_FILE, NOTES_FILE = "bass_octave_runs_pd.musicxml", "mutopia_pd_notes.tsv"
SCALE_MM, FRETS = 650.0, 19  # a classical guitar
DEFAULT_BPM = 100.0  # quarters a minute where the file says nothing


@dataclass(frozen=True)
class Run:
    """One single-line run.

    Attributes:
        piece: the edition's name.
        number: its number in the survey.
        line: what is played, with the printed fingers.
        neck: the neck that it is planned on.
    """

    piece: str
    number: int
    line: Line
    neck: Neck

    @property
    def printed(self) -> dict[int, int]:
        """Index of a note → its printed finger, 0 for an open string."""
        return {i: note.finger for i, note in enumerate(self.line.notes) if note.finger is not None}

    @property
    def pins(self) -> dict[int, Pin]:
        """All that is printed, as pins."""
        return {
            i: Pin(note.finger, note.string, note.fret)
            for i, note in enumerate(self.line.notes)
            if (note.finger, note.string, note.fret) != (None, None, None)
        }

    @property
    def music(self) -> tuple[tuple[int, Fraction, int | None], ...]:
        """Pitch, length and finger of each note: equal runs print the same twice."""
        return tuple((note.pitch.midi, note.duration, note.finger) for note in self.line.notes)


def read_runs(folder: Path) -> list[Run]:
    """Read all runs, in the order of the file."""
    root = ET.parse(folder / RUNS_FILE).getroot()
    names = {part.get("id"): part.findtext("part-name", "") for part in root.iter("score-part")}
    return [_run(part, names[part.get("id")]) for part in root.iter("part")]


def _run(part: ET.Element, name: str) -> Run:
    piece, _, number = name.rpartition(" run ")
    tuning = Tuning(tuple(reversed([_open_string(s) for s in part.iter("staff-tuning")])))
    divisions = int(part.findtext(".//divisions", "1"))
    transposed = 12 * int(part.findtext(".//transpose/octave-change", "0"))
    transposed += int(part.findtext(".//transpose/chromatic", "0"))
    notes: list[Note] = []
    onset = Fraction(0)
    for element in part.iter("note"):
        length = Fraction(int(element.findtext("duration", "0")), 4 * divisions)
        if element.find("rest") is None:
            notes.append(_note(element, onset, length, transposed))
        onset += length
    sound = part.find(".//sound[@tempo]")
    bpm = DEFAULT_BPM if sound is None else float(sound.get("tempo", DEFAULT_BPM))
    bars = (Bar(1, Fraction(0), onset, Metre()),)
    line = Line(name, tuple(notes), bars, (Tempo(bpm=bpm),))
    return Run(piece, int(number), line, Neck(tuning, FRETS, SCALE_MM))


def _open_string(element: ET.Element) -> Pitch:
    return _pitch(element, "tuning-step", "tuning-alter", "tuning-octave", 0)


def _note(element: ET.Element, onset: Fraction, length: Fraction, transposed: int) -> Note:
    finger, string, fret = (
        None if text is None else int(text)
        for text in (element.findtext(f".//{tag}") for tag in ("fingering", "string", "fret"))
    )
    pitch = element.find("pitch")
    assert pitch is not None, "a note that is no rest has a pitch"
    sounding = _pitch(pitch, "step", "alter", "octave", transposed)
    return Note(onset, length, sounding, finger=finger, string=string, fret=fret)


def _pitch(element: ET.Element, step: str, alter: str, octave: str, transposed: int) -> Pitch:
    """Return the sounding pitch: MusicXML writes it before transposition, middle C is C4."""
    letter = element.findtext(step, "")
    name = NoteName(letter, int(element.findtext(alter, "0")))
    degree = (0, 2, 4, 5, 7, 9, 11)[LETTERS.index(letter)]
    midi = 12 * (int(element.findtext(octave, "")) + 1) + degree + name.alter
    if not transposed:
        return Pitch(midi, name)
    moved = name if transposed % 12 == 0 else NoteName.from_fifths(name.fifths + 7 * transposed)
    return Pitch(midi + transposed, moved)


class Change(NamedTuple):
    """From one printed finger to the next."""

    semitones: int
    fingers: int


def printed_changes(folder: Path) -> Iterator[Change]:
    """Return the finger changes between consecutive notes of a voice, both stopped.

    Both sound alone and are no grace notes.
    """
    voices: dict[tuple[str, str, str], list[dict[str, str]]] = {}
    with (folder / NOTES_FILE).open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, delimiter="\t"):
            if row["grace"] == "0":
                voices.setdefault((row["piece"], row["staff"], row["voice"]), []).append(row)
    for rows in voices.values():
        yield from _changes_in(sorted(rows, key=lambda row: Fraction(row["onset_whole"])))


def _changes_in(rows: Sequence[dict[str, str]]) -> Iterator[Change]:
    for one, two in pairwise(rows):
        single = one["notes_at_once"] == two["notes_at_once"] == "1"
        stopped = one["finger"] in set("1234") and two["finger"] in set("1234")
        ended = Fraction(one["onset_whole"]) + Fraction(one["dur_whole"])
        if single and stopped and ended == Fraction(two["onset_whole"]):
            yield Change(
                int(two["midi_sounding"]) - int(one["midi_sounding"]),
                int(two["finger"]) - int(one["finger"]),
            )
