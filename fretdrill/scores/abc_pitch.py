"""From written letters to sounding pitches.

Everything here follows the ABC standard 2.1, sections 4.1, 4.2, 4.6 and 11.3.
"""

from fretdrill.scores.abc_fields import ALTERS, Signature, Staff
from fretdrill.theory.key import Key
from fretdrill.theory.pitch import MAX_ALTER, SEMITONES, NoteName, Pitch, simple_name

MIDDLE_C = 60  # the letter C without marks (§4.1)

Written = tuple[str, int]
"""A letter and its octave, 0 for the one from middle C."""


class Speller:
    """Knows signature, accidentals and transposition at one place of a voice.

    Attributes:
        propagation: how far an accidental reaches: ``not``, ``octave`` or ``pitch``.
    """

    def __init__(self, signature: Signature, staff: Staff, propagation: str) -> None:
        self.propagation = propagation
        self._signature = signature
        self._staff = staff
        self._accidentals: dict[str | Written, int] = {}
        self._sounded: dict[Written, int] = {}
        self._tied: dict[Written, int] = {}
        self._tied_before_endings: dict[Written, int] = {}
        self._pitches: dict[tuple[Written, int], Pitch | None] = {}
        self._shift = 0
        self._fifths = 0
        self._measure()

    @property
    def key(self) -> Key | None:
        """The sounding key."""
        key = self._signature.key
        return None if key is None else Key(self._moved(key.tonic), key.mode)

    @property
    def staff(self) -> Staff:
        """Clef and transposition in force."""
        return self._staff

    def change(self, signature: Signature | None, staff: Staff) -> None:
        """Take over what a field says."""
        self._signature = self._signature if signature is None else signature
        self._staff = self._staff.changed_by(staff)
        self._measure()

    def bar_line(self) -> None:
        """Forget the accidentals of the bar."""
        self._accidentals.clear()

    def next_sound(self) -> None:
        """Let a note, chord or rest begin: ties from before the last one are past."""
        self._sounded = {}

    def sounded(self) -> None:
        """Let it be complete."""
        self._tied = {}

    def tie(self) -> None:
        """Let the last note be tied: the next one keeps its accidental over a bar line."""
        self._tied = dict(self._sounded)

    def ending(self, *, first: bool) -> None:
        """Begin an ending: a tie into the first one leads into the others too."""
        if first:
            self._tied_before_endings = self._tied
        else:
            self._tied = self._tied_before_endings

    def pitch(self, accidental: str, letter: str, marks: str) -> Pitch | None:
        """Return the sounding pitch of a note; None outside MIDI's range."""
        octave = letter.islower() + marks.count("'") - marks.count(",")
        written = (letter.upper(), octave)
        alter = self._alter(accidental, written)
        self._sounded[written] = alter
        key = (written, alter)
        if key not in self._pitches:
            self._pitches[key] = self._sounding(written, alter)
        return self._pitches[key]

    def _alter(self, accidental: str, written: Written) -> int:
        letter = written[0]
        reach = letter if self.propagation == "pitch" else written
        said = ALTERS[accidental]
        if said is not None:
            if self.propagation != "not":
                self._accidentals[reach] = said
            return said
        if written in self._tied:
            return self._tied[written]
        return self._accidentals.get(reach, self._signature.alters.get(letter, 0))

    def _sounding(self, written: Written, alter: int) -> Pitch | None:
        letter, octave = written
        midi = MIDDLE_C + 12 * octave + SEMITONES[letter] + alter + self._shift
        return Pitch(midi, self._moved(NoteName(letter, alter))) if 0 <= midi <= 127 else None

    def _measure(self) -> None:
        """Find the shift, and the way along the line of fifths that spells it simplest."""
        semitones = self._staff.semitones or 0
        octaves = (self._staff.clef_octaves or 0) + (self._staff.octave or 0)
        self._shift = semitones + 12 * octaves
        up = 7 * semitones % 12
        key = self._signature.key
        base = key.signature if key is not None else 0
        # Whole octaves keep the spelling, even that of seven sharps.
        self._fifths = min(up, up - 12, key=lambda fifths: abs(base + fifths)) if up else 0
        self._pitches = {}

    def _moved(self, name: NoteName) -> NoteName:
        fifths = name.fifths + self._fifths
        if not -MAX_ALTER <= (fifths + 1) // 7 <= MAX_ALTER:
            return simple_name(name.pitch_class + 7 * self._fifths)
        return NoteName.from_fifths(fifths)
