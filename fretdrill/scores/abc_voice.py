"""One voice of an ABC tune: from tokens to what is written between its bar lines.

Everything here follows the ABC standard 2.1, section 4. Repeats are not played out
yet; that is done in :mod:`fretdrill.scores.abc_playing`.
"""

from collections.abc import Callable
from fractions import Fraction

from fretdrill.scores.abc_fields import Signature, Staff, read_metre, read_unit, read_voice
from fretdrill.scores.abc_fragment import MOST_SOUNDS, Fragment, Slurs, Sound, passes
from fretdrill.scores.abc_header import FieldReader, Header
from fretdrill.scores.abc_notices import NOWHERE, Spot, shown
from fretdrill.scores.abc_pitch import Speller
from fretdrill.scores.abc_rhythm import Rhythm, multiplier
from fretdrill.scores.abc_tokens import Token, Voice, cut
from fretdrill.scores.reading import Sort
from fretdrill.theory.line import Articulation, Tempo
from fretdrill.theory.metre import Metre
from fretdrill.theory.pitch import Pitch

ARTICULATIONS = {
    "staccato": Articulation.STACCATO,
    "tenuto": Articulation.TENUTO,
    "accent": Articulation.ACCENT,
    "emphasis": Articulation.ACCENT,
    ">": Articulation.ACCENT,
}
FINGERS = {"0": 0, "1": 1, "2": 2, "3": 3, "4": 4, "open": 0}
SILENT_MARKS = frozenset(
    "none nil upbow downbow breath pppp ppp pp p mp mf f ff fff ffff sfz crescendo( crescendo) "
    "diminuendo( diminuendo) <( <) >( >) shortphrase mediumphrase longphrase".split()
)
"""Decorations that change neither a pitch nor where it is played."""

JUMPS = frozenset("segno coda D.S. D.C. dacoda dacapo fine D.S.alfine D.C.alfine".split())
"""Decorations that would change the order of playing."""


class VoiceReader:
    """Reads one voice."""

    def __init__(self, header: Header, voice: Voice, fields: FieldReader) -> None:
        self._fields = fields
        self._notices = fields.notices
        self._tokens = voice.tokens
        self._metre, self._tempo = header.metre, header.tempo
        self._rhythm = Rhythm(header.unit)
        self._symbols = dict(header.symbols)
        self._plus = header.plus
        staff = header.staff.changed_by(voice.staff)
        self._speller = Speller(header.signature, staff, header.propagation)
        self._notice_transposition(NOWHERE)
        self._fragments: list[Fragment] = []
        self._fragment = self._begin()
        self._slurs = Slurs()
        self._marks: list[str] = []
        self._bars_skipped = 0
        self._readers: dict[str, Callable[[Token], None]] = {
            "note": self._note,
            "rest": self._rest,
            "rests": self._rests,
            "chord": self._chord,
            "bar": self._bar,
            "ending": self._ending,
            "field": self._field,
            "tie": self._tie,
            "open": self._open_slur,
            "close": self._close_slur,
            "tuplet": self._read_tuplet,
            "broken": self._break_rhythm,
            "short": self._short,
            "decoration": self._decoration,
            "overlay": self._overlay,
            "grace": self._grace,
            "text": self._text,
            "spacer": self._leave_marks,  # §6.1.2: what stands before a spacer is on it
            "break": lambda token: None,
        }

    def read(self) -> list[Fragment]:
        """Return what is written, bar by bar.

        Raises:
            InputError: a field cannot be read, or the voice is far too long.
        """
        for token in self._tokens:
            if not self._bars_skipped or token.kind in ("bar", "overlay"):
                self._readers.get(token.kind, self._stray)(token)
            if len(self._fragments) > MOST_SOUNDS or len(self._slurs.melody) > MOST_SOUNDS:
                raise self._fields.fault(f"the tune is longer than {MOST_SOUNDS:,} notes")
        if self._tokens:
            self._leave_marks(self._tokens[-1])
        self._close()
        for spot in self._slurs.settle():
            self._unbalanced(spot)
        return self._fragments

    def _begin(self, *, unbarred: bool = False) -> Fragment:
        return Fragment(self._metre, self._speller.key, self._tempo, unbarred=unbarred)

    def _close(self, ends: int = 0, *, double: bool = False, unbarred: bool = False) -> None:
        """End the fragment; an empty one only hands on the signs around it."""
        if self._fragment.sounds:
            self._fragments.append(self._fragment)
            self._fragment = self._begin(unbarred=unbarred)
        if self._fragments:
            last = self._fragments[-1]
            last.ends = max(last.ends, ends)
            last.double = last.double or double

    def _stray(self, token: Token) -> None:
        self._notices.stray(token.text[:1] or token.kind, token.spot)

    # Notes and rests

    def _note(self, token: Token) -> None:
        self._speller.next_sound()
        pitch = self._pitch(token)
        self._sound(token, self._length(token.group(3), token), pitch, self._take_marks())

    def _rest(self, token: Token) -> None:
        self._speller.next_sound()
        self._leave_marks(token)
        self._sound(token, self._length(token.group(1), token), None, [])

    def _chord(self, token: Token) -> None:
        """§4.17: as long as its first note; the lowest note is kept."""
        self._speller.next_sound()
        outer, self._marks = self._marks, []
        notes: list[tuple[Pitch, list[str]]] = []
        lengths: list[str] = []
        tied = False
        for part in cut(token.group(0), token.line, plus=self._plus, column=token.column + 1):
            if part.kind == "note":
                lengths.append(part.group(3))
                pitch = self._pitch(part)
                marks = self._take_marks()
                notes += [(pitch, marks)] if pitch is not None else []
            elif part.kind in ("short", "decoration", "text"):
                self._readers[part.kind](part)
            elif part.kind == "tie":
                tied = True
            else:
                self._stray(part)
        self._marks = outer
        if not notes:
            self._stray(token)
            return
        pitch, own = min(notes, key=lambda note: note[0].midi)
        if len({other.midi for other, _ in notes}) > 1:
            self._notices.add(
                Sort.DROPPED,
                "of a chord only the lowest note is kept",
                token.spot,
                "of {n} chords only the lowest note is kept",
            )
        length = self._length(lengths[0], token) * self._length(token.group(1), token)
        self._sound(token, length, pitch, self._take_marks() + own)
        if tied:
            self._tie(token)

    def _rests(self, token: Token) -> None:
        """§4.5: Z and X last whole bars."""
        digits = token.group(0)
        count = int(digits) if digits and len(digits) <= 4 else 1
        if len(digits) > 4 or not count:
            self._impossible(token)
            count = 1
        self._leave_marks(token)
        self._speller.next_sound()
        self._speller.sounded()
        bar = (self._metre or Metre()).bar
        for index in range(count):
            if index:
                self._close()
            self._fragment.sounds.append(Sound(bar, None, token.spot))

    def _pitch(self, token: Token) -> Pitch | None:
        pitch = self._speller.pitch(token.group(0), token.group(1), token.group(2))
        if pitch is None:
            self._notices.add(
                Sort.DROPPED,
                "a note outside MIDI's 0 to 127 is read as a rest",
                token.spot,
                "{n} notes outside MIDI's 0 to 127 are read as rests",
            )
        return pitch

    def _length(self, text: str, token: Token) -> Fraction:
        length = multiplier(text)
        if length is None:
            self._impossible(token)
            return Fraction(1)
        return length

    def _impossible(self, token: Token) -> None:
        self._notices.add(
            Sort.CHANGED,
            "a length that cannot be is read as 1",
            token.spot,
            "{n} lengths that cannot be are read as 1",
        )

    def _sound(self, token: Token, times: Fraction, pitch: Pitch | None, marks: list[str]) -> None:
        self._speller.sounded()
        sound = Sound(self._rhythm.length(times), pitch, (token.line, token.column))
        for mark in marks:
            self._mark(sound, mark, token)
        self._fragment.sounds.append(sound)
        if pitch is not None:
            self._slurs.melody.append(sound)

    # Bar lines

    def _bar(self, token: Token) -> None:
        if self._bars_skipped:
            self._bars_skipped -= 1
            if self._bars_skipped:
                return
        self._leave_marks(token)
        self._speller.bar_line()
        sign = token.text.lstrip(".").rstrip("0123456789,-")
        before = len(sign) - len(sign.lstrip(":"))
        after = len(sign) - len(sign.rstrip(":"))
        if before == len(sign):  # :: ends one repeat and begins another
            before, after = (before + 1) // 2, before // 2
        double = any(bar in sign for bar in ("||", "|]", "[|")) and sign != "[|]"
        self._close(before, double=double)
        self._fragment.begins = max(self._fragment.begins, after)
        if token.group(0):
            self._begin_ending(token.group(0))

    def _ending(self, token: Token) -> None:
        self._close(unbarred=True)
        self._begin_ending(token.group(0))

    def _begin_ending(self, numbers: str) -> None:
        self._fragment.endings = passes(numbers)
        self._speller.ending(first=1 in self._fragment.endings)

    def _overlay(self, token: Token) -> None:
        """§7.4: each & goes back one bar line."""
        self._bars_skipped = len(token.text)
        self._notices.add(
            Sort.DROPPED,
            "a voice written over this one with & is left out",
            token.spot,
            "{n} voices written over this one with & are left out",
        )

    # Fields

    def _field(self, token: Token) -> None:
        letter, value = token.group(0), token.group(1).strip()
        if letter == "K":
            said = self._fields.key(value, token.spot)
            self._change_key(said.signature, said.staff, token.spot)
        elif letter == "V":
            voice = read_voice(value)
            self._fields.unknown("V", voice.unknown, token.spot)
            self._change_key(None, voice.staff, token.spot)
        elif letter == "M":
            self._metre = self._fields.must(read_metre, value, token.spot)
            if not self._fragment.sounds:
                self._fragment.metre = self._metre
        elif letter == "L":
            self._rhythm.unit = self._fields.must(read_unit, value, token.spot)
        elif letter == "Q":
            self._change_tempo(self._fields.tempo(value, self._rhythm.unit, token.spot))
        elif letter == "U":
            self._fields.symbol(value, self._symbols, token.spot)
        elif letter == "I":
            propagation = self._speller.propagation
            self._speller.propagation = self._fields.instruction(value, propagation)
        elif letter == "s" and "!" in value:
            self._notices.add(
                Sort.DROPPED,
                "a line of symbols (s:) is left out",
                token.spot,
                "{n} lines of symbols (s:) are left out",
            )

    def _change_key(self, signature: Signature | None, staff: Staff, spot: Spot) -> None:
        self._speller.change(signature, staff)
        self._notice_transposition(spot)
        if self._fragment.sounds:
            self._fragment.keys[len(self._fragment.sounds)] = self._speller.key
        else:
            self._fragment.key = self._speller.key

    def _notice_transposition(self, spot: Spot) -> None:
        """§4.6 has the two independent of each other, but many files mean only one."""
        if self._speller.staff.clef_octaves and self._speller.staff.semitones:
            self._notices.add(
                Sort.CHANGED, "the clef's octave and transpose= both move the pitch", spot
            )

    def _change_tempo(self, tempo: Tempo | None) -> None:
        if tempo is None:
            return
        self._tempo = tempo
        if self._fragment.sounds:
            self._fragment.tempos[len(self._fragment.sounds)] = tempo
        else:
            self._fragment.tempo = tempo

    # What binds notes together

    def _tie(self, token: Token) -> None:
        last = self._fragment.sounds[-1] if self._fragment.sounds else None
        if last is None or last.pitch is None:
            self._stray(token)
            return
        last.tied = True
        self._speller.tie()

    def _open_slur(self, token: Token) -> None:
        self._slurs.begin(token.spot)

    def _close_slur(self, token: Token) -> None:
        if not self._slurs.end():
            self._unbalanced(token.spot)

    def _unbalanced(self, spot: Spot) -> None:
        self._notices.add(
            Sort.DROPPED,
            "a slur without its other end is left out",
            spot,
            "{n} slurs without their other end are left out",
        )

    def _read_tuplet(self, token: Token) -> None:
        if not self._rhythm.begin_tuplet(token.groups, self._metre):
            self._stray(token)

    def _break_rhythm(self, token: Token) -> None:
        last = self._fragment.sounds[-1] if self._fragment.sounds else None
        factor = self._rhythm.break_after(token.text) if last is not None else None
        if last is None or factor is None:
            self._stray(token)
        else:
            last.length *= factor

    # Decorations

    def _short(self, token: Token) -> None:
        name = self._symbols.get(token.text)
        if name is None:
            self._stray(token)
        else:
            self._marks.append(name)

    def _decoration(self, token: Token) -> None:
        self._marks.append(token.group(0))

    def _text(self, token: Token) -> None:
        if len(token.text) == 1 or not token.text.endswith('"'):
            self._notices.add(
                Sort.DROPPED,
                "a text without a closing quotation mark hides the rest of its line",
                token.spot,
            )

    def _grace(self, token: Token) -> None:
        self._notices.add(
            Sort.DROPPED,
            "a group of grace notes is left out",
            token.spot,
            "{n} groups of grace notes are left out",
        )

    def _leave_marks(self, token: Token) -> None:
        """Leave out what is written on something that does not sound."""
        for name in self._take_marks():
            self._leave_out(name, token)

    def _take_marks(self) -> list[str]:
        marks, self._marks = self._marks, []
        return marks

    def _mark(self, sound: Sound, name: str, token: Token) -> None:
        if name in ARTICULATIONS:
            sound.articulations |= {ARTICULATIONS[name]}
        elif name in FINGERS:
            sound.finger = FINGERS[name]
        elif name == "slide":
            sound.slid = True
        else:
            self._leave_out(name, token)

    def _leave_out(self, name: str, token: Token) -> None:
        if name == "5":
            said = "the finger 5 is left out; a bass player's left hand has 1 to 4"
        elif name in JUMPS:
            said = f"!{name}! is not played out"
        else:
            said = f"the decoration !{shown(name)}! is left out"
        if name not in SILENT_MARKS:
            self._notices.add(Sort.DROPPED, said, token.spot)
