"""ABC files: lines, tunes, and which of their lines are fields.

Everything here follows the ABC standard 2.1, section 2; paragraph signs in the
comments name its sections.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

HEADER_FIELDS = "ILMQUm"
"""Fields that a file header may set for all tunes and that matter here (§3)."""

_LONGEST_VALUE = 2_000

_LINE_END = re.compile(r"\r\n|\r|\n")
_COMMENT = re.compile(r"(?<!\\)%.*")
_FIELD = re.compile(r"([A-Za-z]):(.*)")
_BODY_FIELD = re.compile(r"([H-Wh-w]):(.*)")  # §3: not the letters of notes and rests
_NUMBER = re.compile(r"X:\s*(\d*)\s*")


class Field(NamedTuple):
    """One information field that has a line of its own."""

    letter: str
    value: str
    line: int


class Music(NamedTuple):
    """One line of music code."""

    text: str
    line: int


@dataclass
class Tune:
    """One tune as it stands in the file.

    Attributes:
        number: its reference number.
        line: where it begins.
        header: its fields up to the first K:, those of the file header first.
        body: what follows.
        has_key: whether the header was ended by a K: field.
    """

    number: int
    line: int
    header: list[Field] = field(default_factory=list)
    body: list[Field | Music] = field(default_factory=list)
    has_key: bool = False


def decode_abc(content: bytes) -> tuple[str, bool]:
    """Decode a file; the flag tells whether it had to be read as Latin-1."""
    try:
        return content.decode("utf-8-sig"), False
    except UnicodeDecodeError:
        return content.decode("latin-1"), True


def split_tunes(text: str) -> list[Tune]:
    """Split a file's text into its tunes.

    A file without any X: field is read as if each block with a K: were a tune.
    """
    splitter = _Splitter()
    for line, code in _code_lines(text):
        splitter.take(code, line)
    return splitter.tunes()


def _code_lines(text: str) -> Iterator[tuple[int, str]]:
    """Yield numbered lines without comments; empty ones separate, so they are kept."""
    in_text = False
    for number, raw in enumerate(_LINE_END.split(text.removeprefix("\ufeff")), start=1):
        stripped = raw.strip()
        if in_text and stripped and not stripped.startswith("%%endtext"):
            continue
        in_text = stripped.startswith("%%begintext")
        if stripped.startswith("%%"):
            # §3.1.17: a directive and an I: field are the same thing.
            yield number, "I:" + stripped[2:]
        elif not stripped.startswith("%"):  # §2.2.5: as if the line were not there
            yield number, _COMMENT.sub("", raw).rstrip()


class _Splitter:
    def __init__(self) -> None:
        self._numbered: list[Tune] = []
        self._unnumbered: list[Tune] = []
        self._tune: Tune | None = None
        self._file_header: list[Field] = []
        self._block: list[Field] = []
        self._first_block = True
        self._only_fields = True

    def take(self, code: str, line: int) -> None:
        if not code.strip():
            self._end_block()
            return
        number = _NUMBER.match(code)
        # X is also a rest (§4.5), so inside a tune only a bare number begins another one.
        if number is not None and (number.end() == len(code) or not self._in_body):
            self._end_block()
            self._begin(number[1], line)
        elif code.startswith("+:"):
            self._continue_field(code[2:])
        elif self._in_body:
            self._take_body(code, line)
        else:
            self._take_header(code, line)

    def tunes(self) -> list[Tune]:
        self._end_block()
        tunes = self._numbered or self._unnumbered
        for tune in tunes:
            tune.header[:0] = self._file_header
        return tunes

    @property
    def _in_body(self) -> bool:
        return self._tune is not None and self._tune.has_key

    def _begin(self, number: str, line: int) -> None:
        self._first_block = False
        usable = number and len(number) <= 9
        place = len(self._numbered) + 1
        self._tune = Tune(int(number) if usable else place, line)
        self._numbered.append(self._tune)

    def _end_block(self) -> None:
        if self._first_block and (self._block or not self._only_fields):
            if self._only_fields and self._tune is None:
                self._file_header = [f for f in self._block if f.letter in HEADER_FIELDS]
            self._first_block = False
        self._tune = None
        self._block = []
        self._only_fields = True

    def _take_header(self, code: str, line: int) -> None:
        match = _FIELD.fullmatch(code)
        if match is None:
            self._only_fields = False
            return
        new = Field(match[1], match[2].strip(), line)
        if self._tune is not None:
            self._tune.header.append(new)
            self._tune.has_key = new.letter == "K"
            return
        self._block.append(new)
        if new.letter == "K":
            self._tune = Tune(
                len(self._unnumbered) + 1, self._block[0].line, self._block, has_key=True
            )
            self._unnumbered.append(self._tune)

    def _take_body(self, code: str, line: int) -> None:
        if self._tune is None:
            return
        match = _BODY_FIELD.fullmatch(code)
        self._tune.body.append(
            Field(match[1], match[2].strip(), line) if match else Music(code, line)
        )

    def _continue_field(self, more: str) -> None:
        """§3.3: the continuation adds a space between the two halves."""
        parts: list[Field] | list[Field | Music] = self._block
        if self._tune is not None:
            parts = self._tune.body if self._tune.has_key else self._tune.header
        last = parts[-1] if parts else None
        if isinstance(last, Field) and len(last.value) < _LONGEST_VALUE:
            parts[-1] = last._replace(value=f"{last.value} {more.strip()}")
