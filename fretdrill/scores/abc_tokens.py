"""The music code of an ABC tune, cut into tokens and dealt out to its voices.

Everything here follows the ABC standard 2.1, section 4. No pattern can run over the
same text twice, so that reading stays in proportion to the length of the text.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from fretdrill.scores.abc_fields import PLAIN_STAFF, Staff, VoiceField, read_voice
from fretdrill.scores.abc_file import Field, Tune
from fretdrill.scores.abc_notices import Spot

FIRST_VOICE = "1"
BASS_NAME = re.compile(r"bass(?!oon|et|\s*(?:clarinet|drum|flute))", re.IGNORECASE)

_PARTS = (
    ("note", r"(\^\^?|__?|=)?([A-Ga-g])([,']*)(\d*/*\d*)"),
    ("blank", r"[\s`$]+|\\\s*$"),
    # §4.8: bar lines may have any shape; [ only belongs to one before another bar sign.
    ("bar", r"\.?(?:\[(?=\|)|:(?=[:|\]])|\|)(?:[|\]:]|\[(?=\|))*(\d+(?:[,-]\d+)*)?"),
    ("ending", r"\[(\d+(?:[,-]\d+)*)"),
    ("field", r"\[([A-Za-z]):([^\[\]]*)\]"),
    ("chord", r"\[([^\[\]|]*)\](\d*/*\d*)"),
    ("rest", r"([zx])(\d*/*\d*)"),
    ("rests", r"[ZX](\d*)"),
    ("spacer", r"y\d*"),
    ("text", r'"[^"]*"?'),
    ("grace", r"\{[^{}]*\}"),
    ("tuplet", r"\((\d+)(?::(\d*))?(?::(\d*))?"),
    ("open", r"\.?\((?!\d)"),
    ("close", r"\.?\)"),
    ("tie", r"\.?-"),
    ("broken", r">{1,3}|<{1,3}"),
    ("overlay", r"&+"),
    ("short", r"[H-Wh-w~.]"),
)
_NAMED = ("decoration", r"!([^!|\[\]:\s]*)!")
# §12.1.2: the older dialect, where ! breaks lines.
_NAMED_PLUS = ("decoration", r"\+([^+|\[\]:\s]*)\+")


def _pattern(*parts: tuple[str, str]) -> re.Pattern[str]:
    return re.compile("|".join(f"(?P<{kind}>{pattern})" for kind, pattern in parts))


_LINE_BREAK = ("break", "!")  # §12.2: a ! that encloses nothing breaks the line
_TOKEN = _pattern(*_PARTS, _NAMED, _LINE_BREAK, ("stray", "."))
_TOKEN_PLUS = _pattern(*_PARTS, _NAMED_PLUS, _LINE_BREAK, ("stray", "."))


class Token(NamedTuple):
    """One sign or group of signs.

    Attributes:
        kind: what it is.
        groups: its parts.
        line: where it stands.
        column: where it stands, from 1.
        text: all of it.
    """

    kind: str
    groups: tuple[str | None, ...]
    line: int
    column: int
    text: str

    @property
    def spot(self) -> Spot:
        """Where it stands."""
        return self.line, self.column

    def group(self, index: int) -> str:
        """Return one of its parts, empty if it is not there."""
        return self.groups[index] or ""


@dataclass
class Voice:
    """One voice: what is said of it, and its music.

    Attributes:
        name: its identifier.
        names: what it is called otherwise.
        staff: clef and transposition as the header gives them.
        tokens: its music in the order of the source.
        clefs: the clefs it is written in.
    """

    name: str
    names: list[str] = field(default_factory=list)
    staff: Staff = PLAIN_STAFF
    tokens: list[Token] = field(default_factory=list)
    clefs: set[str] = field(default_factory=set)

    def take(self, said: VoiceField) -> None:
        """Take in what a V: field says, all but the transposition."""
        self.names += said.names
        if said.staff.clef:
            self.clefs.add(said.staff.clef)

    @property
    def has_notes(self) -> bool:
        """Whether anything in it sounds."""
        return any(token.kind in ("note", "chord") for token in self.tokens)

    @property
    def named_bass(self) -> bool:
        """Whether it is called a bass."""
        return any(BASS_NAME.search(name) for name in (self.name, *self.names))

    @property
    def in_bass_clef(self) -> bool:
        """Whether it is written in the bass clef."""
        return "bass" in self.clefs


def cut(text: str, line: int, *, plus: bool, column: int = 1) -> Iterator[Token]:
    """Cut a line of music into tokens; ``plus`` for decorations written ``+so+``."""
    pattern = _TOKEN_PLUS if plus else _TOKEN
    start = pattern.groupindex
    for match in pattern.finditer(text):
        kind = match.lastgroup or "stray"
        index = start[kind]
        if kind != "blank":
            groups = match.groups()[index : index + _SIZES[kind]]
            yield Token(kind, groups, line, match.start() + column, match[0])


def _sizes() -> dict[str, int]:
    return {kind: re.compile(pattern).groups for kind, pattern in (*_PARTS, _NAMED)} | {
        "break": 0,
        "stray": 0,
    }


_SIZES = _sizes()


class _Dealer:
    """Deals tokens out to the voices they belong to."""

    def __init__(self, voices: dict[str, Voice]) -> None:
        self.voices = voices
        self._shared: list[Token] = []
        self._current: Voice | None = None

    def deal(self, token: Token) -> None:
        if token.kind == "field" and token.group(0) == "V":
            said = read_voice(token.group(1))
            self._current = self._voice(said.voice)
            self._current.take(said)
        elif self._current is None and token.kind == "field":
            # §7.3: what stands before all voices is for all of them.
            self._shared.append(token)
            return
        elif self._current is None:
            self._current = self._voice(FIRST_VOICE)
        self._current.tokens.append(token)

    def _voice(self, name: str) -> Voice:
        voice = self.voices.setdefault(name, Voice(name))
        if not voice.tokens:
            voice.tokens += self._shared
        return voice


def deal_voices(tune: Tune, voices: dict[str, Voice], *, plus: bool) -> None:
    """Deal the tune's body out to its voices, adding those that the header lacks."""
    dealer = _Dealer(voices)
    for part in tune.body:
        if isinstance(part, Field):
            dealer.deal(Token("field", (part.letter, part.value), part.line, 0, ""))
        else:
            for token in cut(part.text, part.line, plus=plus):
                dealer.deal(token)
