from fractions import Fraction

import mido
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.errors import InputError
from fretdrill.scores import midi_events
from fretdrill.scores.midi import read_midi
from fretdrill.scores.reading import Reading, Sort
from fretdrill.theory.line import Articulation, Tempo
from fretdrill.theory.metre import Metre

from .midi_files import END, QUARTER, chunk, event, melody, meta, one_note, smf, written

SPEC_EXAMPLE = bytes.fromhex(
    "4D546864 00000006 0000 0001 0060"
    "4D54726B 0000003B"
    "00FF5804 04021808  00FF5103 07A120  00C005 00C12E 00C246"
    "00923060 003C60 60914340 60904C20 81408230 40 003C40 00814340 00804C40 00FF2F00"
)
"""The example that SMF 1.1 prints in its appendix: three channels end after one 4/4 bar."""


def quarters(reading: Reading) -> list[tuple[float, float, str]]:
    """Onset and length in quarters, and the pitch."""
    return [
        (float(note.onset * 4), float(note.duration * 4), str(note.pitch))
        for note in reading.line.notes
    ]


def messages(reading: Reading) -> list[str]:
    return [str(notice) for notice in reading.notices]


def fault_of(content: bytes, track: str | None = None) -> str:
    with pytest.raises(InputError) as caught:
        read_midi(content, "groove.mid", track)
    return str(caught.value)


# What the specification prints as an example


@pytest.mark.parametrize(
    ("channel", "notes"),
    [
        # SMF 1.1, appendix: channel 1 E5 from the third quarter, 2 G4 from the second, 3 C3 and C4
        ("1", [(2.0, 2.0, "E5")]),
        ("2", [(1.0, 3.0, "G4")]),
        ("3", [(0.0, 4.0, "C3")]),
    ],
)
def test_the_example_of_the_specification(
    channel: str, notes: list[tuple[float, float, str]]
) -> None:
    reading = read_midi(SPEC_EXAMPLE, "example.mid", channel)
    assert quarters(reading) == notes
    assert reading.line.tempos == (Tempo(Fraction(0), 120.0),)  # 500,000 µs a quarter
    assert [(bar.number, bar.length, bar.metre) for bar in reading.line.bars] == [
        (1, Fraction(1), Metre(4, 4))
    ]


def test_the_example_as_type_1_reads_the_same() -> None:
    # SMF 1.1, appendix: the same music with the time in a first track of its own
    content = smf(
        meta(0, 0x58, bytes((4, 2, 24, 8))) + meta(0, 0x51, bytes((7, 0xA1, 0x20))),
        event(0, 0xC0, 5) + event(192, 0x90, 0x4C, 0x20) + event(192, 0x4C, 0),
        event(0, 0xC1, 0x2E) + event(96, 0x91, 0x43, 0x40) + event(288, 0x43, 0),
        event(0, 0xC2, 0x46)
        + event(0, 0x92, 0x30, 0x60)
        + event(0, 0x3C, 0x60)
        + event(384, 0x30, 0)
        + event(0, 0x3C, 0),
    )
    for channel, track in (("1", "2"), ("2", "3"), ("3", "4")):
        assert quarters(read_midi(content, "a.mid", track)) == quarters(
            read_midi(SPEC_EXAMPLE, "b.mid", channel)
        )


# Notes


def test_velocity_0_ends_a_note_as_note_off_does() -> None:
    # MIDI 1.0: a Note On with a velocity of 0 is a Note Off
    with_off = event(0, 0x90, 40, 64) + event(96, 0x80, 40, 64)
    assert quarters(read_midi(smf(with_off), "a")) == [(0.0, 1.0, "E2")]
    assert quarters(read_midi(smf(one_note(96, 40)), "a")) == [(0.0, 1.0, "E2")]


def test_a_note_that_never_ends_ends_with_the_track() -> None:
    content = smf(event(0, 0x90, 28, 64) + meta(192, 0x01, b"here"))
    reading = read_midi(content, "a.mid")
    assert quarters(reading) == [(0.0, 2.0, "E1")]
    assert messages(reading) == ["notes that never end were ended with the track: once"]


def test_a_second_beginning_of_a_pitch_ends_the_first() -> None:
    content = smf(event(0, 0x90, 28, 64) + event(48, 0x90, 28, 64) + event(48, 0x80, 28, 0))
    assert quarters(read_midi(content, "a")) == [(0.0, 0.5, "E1"), (0.5, 0.5, "E1")]


def test_all_notes_off_ends_them() -> None:
    # MIDI 1.0 channel mode messages: controller 123
    content = smf(event(0, 0x90, 28, 64) + event(96, 0xB0, 123, 0) + meta(960, 0x01))
    assert quarters(read_midi(content, "a")) == [(0.0, 1.0, "E1")]


def test_notes_without_a_length_get_the_shortest() -> None:
    content = smf(one_note(0, 28) + one_note(96, 33, start=96))
    reading = read_midi(content, "a")
    assert quarters(reading) == [(0.0, 0.125, "E1"), (1.0, 1.0, "A1")]
    assert messages(reading) == ["notes without a length were given a thirty-second: once"]


def test_a_note_ends_where_the_next_begins() -> None:
    reading = read_midi(written([(0, 960, 28), (480, 960, 33)]), "a")
    assert quarters(reading) == [(0.0, 1.0, "E1"), (1.0, 1.0, "A1")]
    assert "notes that sounded on under the next one were cut there: once" in messages(reading)


def test_chords_keep_their_lowest_note() -> None:
    notes = [(start, start + 480, pitch) for start in (0, 480) for pitch in (47, 40, 52)]
    reading = read_midi(written(notes, name="Bass"), "a", "1")
    assert quarters(reading) == [(0.0, 1.0, "E2"), (1.0, 1.0, "E2")]
    assert messages(reading) == ["chords reduced to the lowest note: 2 times"]
    assert reading.notices[0].sort is Sort.DROPPED


def test_pedals_and_small_bends_say_nothing_large_bends_do() -> None:
    pedal = event(0, 0xB0, 64, 127)
    # MIDI 1.0: 14 bits, centre 2000h; the full way is a whole tone unless RPN 0 says otherwise
    semitone, full = event(0, 0xE0, 0, 0x60), event(0, 0xE0, 0x7F, 0x7F)
    octave = event(0, 0xB0, 101, 0) + event(0, 0xB0, 100, 0) + event(0, 0xB0, 6, 12)
    assert messages(read_midi(smf(pedal + semitone + one_note()), "a")) == []
    told = "pitch bends beyond a semitone are not read: once"
    assert messages(read_midi(smf(full + one_note()), "a")) == [told]
    assert messages(read_midi(smf(octave + semitone + one_note()), "a")) == [told]


def test_silence_before_the_first_note_stays() -> None:
    line = read_midi(smf(one_note(96, 28, start=960)), "a").line
    assert line.notes[0].onset == Fraction(5, 2)
    assert len(line.bars) == 3
    assert line.length == 3


def test_gates_of_80_percent_are_full_notes_and_half_gates_staccato() -> None:
    notes = [(0, 384, 28), (480, 720, 28), (960, 1344, 33), (1440, 1824, 33)]
    line = read_midi(written(notes), "a").line
    assert [note.duration * 4 for note in line.notes] == [1, 1, 1, 1]
    marks = [Articulation.STACCATO in note.articulations for note in line.notes]
    assert marks == [False, True, False, False]


# Time


def test_tempos_stand_at_their_ticks() -> None:
    # SMF 1.1, Meta-Events: microseconds in a quarter; 60,000,000 / 400,000 = 150
    tempos = meta(0, 0x51, (1_000_000).to_bytes(3, "big")) + meta(
        192, 0x51, (400_000).to_bytes(3, "big")
    )
    line = read_midi(smf(tempos, melody(28, 33, 38, 43)), "a").line
    assert line.tempos == (Tempo(Fraction(0), 60.0), Tempo(Fraction(1, 2), 150.0))
    assert line.seconds_at(Fraction(1)) == pytest.approx(2 * 1.0 + 2 * 0.4)


def test_a_new_metre_begins_a_new_bar_even_inside_one() -> None:
    # SMF 1.1, Meta-Events: upper number, then the lower one as a power of two
    metres = meta(0, 0x58, bytes((3, 2, 24, 8))) + meta(96 * 5, 0x58, bytes((6, 3, 24, 8)))
    line = read_midi(smf(metres, melody(*[28] * 8)), "a").line
    assert [(bar.number, bar.onset, bar.length, str(bar.metre)) for bar in line.bars] == [
        (1, Fraction(0), Fraction(3, 4), "3/4"),
        (2, Fraction(3, 4), Fraction(1, 2), "3/4"),
        (3, Fraction(5, 4), Fraction(3, 4), "6/8"),
    ]


def test_a_metre_that_is_only_repeated_changes_nothing() -> None:
    four = bytes((4, 2, 24, 8))
    line = read_midi(smf(meta(0, 0x58, four) + meta(96, 0x58, four), melody(28, 28)), "a").line
    assert len(line.bars) == 1


@pytest.mark.parametrize(
    ("signature", "key", "spelled"),
    [
        # SMF 1.1, Meta-Events: sharps, or flats as a negative number; 1 for minor
        ((0xFD, 1), "C minor", ["Eb2", "F#2"]),
        ((4, 0), "E major", ["D#2", "F#2"]),
        ((0xFA, 0), "Gb major", ["Eb2", "Gb2"]),
    ],
)
def test_pitches_are_spelled_by_the_key(
    signature: tuple[int, int], key: str, spelled: list[str]
) -> None:
    line = read_midi(smf(meta(0, 0x59, bytes(signature)) + melody(39, 42)), "a").line
    assert str(line.key) == key
    assert [str(note.pitch) for note in line.notes] == spelled


def test_without_a_key_signature_there_is_no_key() -> None:
    line = read_midi(smf(melody(39, 42)), "a").line
    assert line.keys == ()
    assert [str(note.pitch) for note in line.notes] == ["Eb2", "F#2"]  # as in C major


def test_a_tracks_own_key_goes_before_the_others() -> None:
    lead = meta(0, 0x59, b"\0\0") + melody(72, 74)
    bass = meta(0, 0x03, b"Bass") + meta(0, 0x59, b"\xfd\x01") + melody(36, 38)
    assert str(read_midi(smf(lead, bass), "a").line.key) == "C minor"


@pytest.mark.parametrize(
    ("broken", "told"),
    [
        (meta(0, 0x51, b"\0\0\0"), "a tempo of 0 is impossible; ignored"),
        (meta(0, 0x51, b"\0\0\1"), "a tempo of 60,000,000.0 beats a minute is impossible; ignored"),
        (meta(0, 0x58, b"\0\2\x18\x08"), "a time signature of 0/4 is impossible; ignored"),
        (meta(0, 0x58, b"\4\x0a\x18\x08"), "a time signature of 4/1024 is impossible; ignored"),
        (meta(0, 0x58, b"\4\xff"), "a time signature of 4/(2 to the 255) is impossible; ignored"),
        (meta(0, 0x59, b"\x08\0"), "a key signature of 8 sharps is impossible; ignored"),
        (meta(0, 0x59, b"\xf0\0"), "a key signature of 16 flats is impossible; ignored"),
        (meta(0, 0x59, b"\0\2"), "a key signature of mode 2 is impossible; ignored"),
        (meta(0, 0x59), "a key signature without numbers is impossible; ignored"),
    ],
)
def test_impossible_signatures_are_told_and_the_rest_is_read(broken: bytes, told: str) -> None:
    reading = read_midi(smf(broken + one_note()), "a")
    assert messages(reading) == [f"track 1, tick 0: {told}"]
    assert quarters(reading) == [(0.0, 1.0, "E1")]
    assert reading.line.tempos == (Tempo(),)
    assert reading.line.metre == Metre(4, 4)  # SMF 1.1, Formats: 4/4 where nothing is said


def test_times_in_seconds_are_written_at_120() -> None:
    # SMF 1.1, Header Chunks: E7h 28h is 25 frames of 40 ticks, so a tick is a millisecond
    reading = read_midi(smf(one_note(500, 28) + one_note(250, 33), division=0xE728), "a")
    assert quarters(reading) == [(0.0, 1.0, "E1"), (1.0, 0.5, "A1")]
    assert messages(reading) == ["its times are in seconds; written as if at 120 beats a minute"]


def test_drop_frame_counts_29_97_frames() -> None:
    # 30,000/1001 frames of 100 ticks: 1498.5 ticks last half a second
    reading = read_midi(smf(one_note(1498, 28) + one_note(1499, 33), division=0xE364), "a")
    assert [round(onset) for onset, _, _ in quarters(reading)] == [0, 1]


def test_places_are_named_by_the_source() -> None:
    content = smf(meta(0, 0x03, b"Time"), meta(0, 0x03, b"Bass") + melody(28, 33))
    line = read_midi(content, "a.mid").line
    assert line.title == "Bass"
    assert [note.where for note in line.notes] == ["track 2, tick 0", "track 2, tick 96"]


@pytest.mark.parametrize(
    ("tracks", "title"),
    [
        ((meta(0, 0x03, b"Song") + melody(28),), "Song"),
        ((meta(0, 0x03, b"Song"), melody(28)), "Song"),
        ((melody(28),), "a.mid"),
        ((meta(0, 0x03, "低音".encode()) + melody(28),), "低音"),
        ((meta(0, 0x03, b"Stra\xdfe\0") + melody(28),), "Straße"),
        ((meta(0, 0x03, b"\x1b[2J") + melody(28),), "?[2J"),
    ],
)
def test_titles(tracks: tuple[bytes, ...], title: str) -> None:
    assert read_midi(smf(*tracks), "a.mid").line.title == title


# Odd and broken files


def test_a_type_2_tracks_time_is_its_own() -> None:
    # SMF 1.1, Formats: type 2 holds independent patterns
    first = meta(0, 0x51, (400_000).to_bytes(3, "big")) + melody(60)
    second = meta(0, 0x58, bytes((3, 2, 24, 8))) + melody(28, 33, 28)
    reading = read_midi(smf(first, second, kind=2), "a")
    assert [str(note.pitch) for note in reading.line.notes] == ["E1", "A1", "E1"]
    assert reading.line.tempos == (Tempo(),)
    assert reading.line.metre == Metre(3, 4)
    assert "its tracks are separate pieces (type 2); only this one is read" in messages(reading)


def test_a_riff_wrapping_is_taken_off() -> None:
    inside = smf(one_note())
    data = b"data" + len(inside).to_bytes(4, "little") + inside
    content = b"RIFF" + (len(data) + 4).to_bytes(4, "little") + b"RMID" + data
    assert quarters(read_midi(content, "a.rmi")) == [(0.0, 1.0, "E1")]


def test_other_chunks_and_stray_bytes_are_passed_over() -> None:
    # SMF 1.1, section 1: programs are to treat alien chunks as if they were not there
    track = chunk(b"MTrk", one_note() + END)
    header = chunk(b"MThd", bytes((0, 1, 0, 1, 0, 96, 7, 7)))  # longer, as it may be
    for between in (b"", chunk(b"XFIH", b"MTr"), b"\0\n"):
        content = header + between + track + between
        assert quarters(read_midi(content, "a")) == [(0.0, 1.0, "E1")]


@pytest.mark.parametrize("length", [4, 12, 13, 1000, 0x0100000C, 0xFFFFFFFF])
def test_a_wrong_track_length_loses_nothing(length: int) -> None:
    content = bytearray(smf(one_note(), one_note(96, 40), kind=1))
    at = content.find(b"MTrk") + 4
    content[at : at + 4] = length.to_bytes(4, "big")
    reading = read_midi(bytes(content), "a", "1")
    assert quarters(reading) == [(0.0, 1.0, "E1")]
    assert quarters(read_midi(bytes(content), "a", "2")) == [(0.0, 1.0, "E2")]


def test_a_wrong_header_length_loses_nothing() -> None:
    content = bytearray(smf(one_note()))
    content[4:8] = (22).to_bytes(4, "big")
    assert quarters(read_midi(bytes(content), "a")) == [(0.0, 1.0, "E1")]


def test_missing_tracks_are_told() -> None:
    content = smf(one_note(), one_note())
    reading = read_midi(content[: content.rfind(b"MTrk")], "a")
    assert messages(reading) == ["the file promises 2 tracks, but only 1 can be found"]


def test_an_unknown_type_is_read_as_type_1() -> None:
    assert messages(read_midi(smf(one_note(), kind=3), "a")) == [
        "file type 3 is unknown; read as type 1"
    ]


def test_no_end_of_track_is_no_matter() -> None:
    reading = read_midi(smf(one_note(), end=b""), "a")
    assert quarters(reading) == [(0.0, 1.0, "E1")]
    assert reading.notices == ()


def test_a_cut_track_gives_its_notes_up_to_there() -> None:
    content = smf(melody(28, 33, 38))
    reading = read_midi(content[:-6], "a")  # in the middle of the last note's end
    assert quarters(reading)[:2] == [(0.0, 1.0, "E1"), (1.0, 1.0, "A1")]
    assert messages(reading)[0] == (
        "track 1, tick 288: the track breaks off here; nothing after it is read"
    )


def test_one_broken_track_does_not_lose_the_others() -> None:
    content = smf(event(0, 0x05), meta(0, 0x03, b"Bass") + melody(28))
    reading = read_midi(content, "a")
    assert quarters(reading) == [(0.0, 1.0, "E1")]
    assert messages(reading)[0].startswith("track 1, tick 0: the track breaks off here")


@pytest.mark.parametrize(
    "between",
    [
        meta(0, 0x01, b"words"),
        event(0, 0xF0, 3, 0x7E, 0x7F, 0xF7),
        event(0, 0xF7, 1, 0xF8),
        event(0, 0xF8),
        event(0, 0xF2, 1, 2),
        event(0, 0xF4),
    ],
)
def test_running_status_survives_what_may_not_interrupt_it(between: bytes) -> None:
    # SMF 1.1, Track Chunks: sysex and meta events cancel it; files go on with it all the same
    content = smf(event(0, 0x90, 28, 64) + between + event(96, 28, 0))
    assert quarters(read_midi(content, "a")) == [(0.0, 1.0, "E1")]


def test_a_data_byte_above_127_is_clipped() -> None:
    assert quarters(read_midi(smf(event(0, 0x90, 28, 0xFF) + event(96, 28, 0)), "a")) == [
        (0.0, 1.0, "E1")
    ]


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "groove.mid is empty"),
        (b"X: 1\nT: a tune\n", "groove.mid is not a MIDI file"),
        (b"RIFF\0\0\0\0WAVEfmt ", "groove.mid is not a MIDI file"),
        (b"MThd\0\0\0\6\0\1", "groove.mid is cut off inside the header of a MIDI file"),
        (smf()[:14], "groove.mid is a MIDI file without tracks"),
        (smf(b""), "groove.mid has no notes"),
        (smf(event(0, 0x05)), "groove.mid has no notes; track 1 breaks off at tick 0"),
        (
            smf(one_note(), division=0),
            "groove.mid gives a quarter no ticks, so no time in it can be told",
        ),
        (
            smf(one_note(), division=0xF060),
            "groove.mid counts time in 96 parts of 1/16 second, which is no SMPTE format",
        ),
        (
            smf(one_note(channel=10)),
            "groove.mid has notes for drums only; --track 1 reads them anyway",
        ),
        (
            # 0FFFFFFFh ticks of 96 a quarter, and two quarters of room: 699,051 bars of 4/4
            smf(one_note(96, 28, start=0x0FFFFFFF)),
            "groove.mid is 699,052 bars long; the most is 100,000",
        ),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(content: bytes, fault: str) -> None:
    assert fault_of(content) == fault


def test_far_too_many_events_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(midi_events, "MOST_EVENTS", 10)
    assert fault_of(smf(melody(*[28] * 6))) == "groove.mid has more than 10 events"


@pytest.mark.slow
def test_a_hundred_thousand_notes() -> None:
    notes = [(i * 240, i * 240 + 200, 28 + i % 12) for i in range(100_000)]
    assert len(read_midi(written(notes), "long.mid").line.notes) == 100_000


# Properties


@st.composite
def grid_notes(draw: st.DrawFn, places: tuple[int, ...]) -> list[tuple[int, int, int]]:
    """Notes between places of a grid, with rests: onset, end and pitch."""
    edges, ticks = draw(st.lists(st.sampled_from(places), min_size=2, max_size=40)), [0]
    for step in edges:
        ticks.append(ticks[-1] + step)
    sounds = draw(st.lists(st.booleans(), min_size=len(edges), max_size=len(edges)))
    sounds[0] = True
    pitches = st.integers(28, 60)
    return [
        (start, end, draw(pitches))
        for start, end, sounding in zip(ticks, ticks[1:], sounds, strict=False)
        if sounding
    ]


def expected(notes: list[tuple[int, int, int]]) -> list[tuple[Fraction, Fraction, int]]:
    whole = 4 * QUARTER
    return [(Fraction(a, whole), Fraction(b - a, whole), pitch) for a, b, pitch in notes]


def found(reading: Reading) -> list[tuple[Fraction, Fraction, int]]:
    return [(note.onset, note.duration, note.pitch.midi) for note in reading.line.notes]


@given(grid_notes((60, 120, 240, 360, 480, 960, 5760)) | grid_notes((160, 320, 480, 640)))
def test_notes_on_a_grid_come_back_exactly(notes: list[tuple[int, int, int]]) -> None:
    reading = read_midi(written(notes, name="Bass"), "a.mid")
    assert found(reading) == expected(notes)
    assert reading.notices == ()
    assert reading.line.bars[-1].end == reading.line.length


@given(grid_notes((120, 240, 360, 480, 960)), st.data())
def test_ten_milliseconds_at_120_move_no_sixteenth(
    notes: list[tuple[int, int, int]], data: st.DataObject
) -> None:
    ten_ms = int(0.010 * 2 * QUARTER)  # 9 ticks
    jitter = st.integers(-ten_ms, ten_ms)
    onsets = [max(0, start + data.draw(jitter)) for start, _, _ in notes]
    played = [
        # A bass player lets each note ring to about four fifths.
        (onset, onset + (end - start) * 4 // 5, pitch)
        for onset, (start, end, pitch) in zip(onsets, notes, strict=True)
    ]
    reading = read_midi(written(played, name="Bass"), "a.mid")
    heard = [(onset, pitch) for onset, _, pitch in found(reading)]
    assert heard == [(onset, pitch) for onset, _, pitch in expected(notes)]


def reads_or_refuses(content: bytes) -> None:
    try:
        reading = read_midi(content, "any.mid")
    except InputError as caught:
        fault = str(caught)
    else:
        assert reading.line.notes
        assert all(str(notice).splitlines() == [str(notice)] for notice in reading.notices)
        return
    assert fault.startswith("any.mid")
    assert len(fault.splitlines()) == 1


@given(st.binary(max_size=200))
@settings(deadline=None)
def test_any_bytes_give_a_line_or_one_fault(content: bytes) -> None:
    reads_or_refuses(content)
    reads_or_refuses(b"MThd\0\0\0\6\0\1\0\1\0\x60" + content)
    reads_or_refuses(smf(content, division=96))


@given(
    st.sampled_from((SPEC_EXAMPLE, smf(melody(28, 33), melody(60, 72, channel=2), division=5))),
    st.lists(st.tuples(st.integers(0, 200), st.integers(0, 255)), max_size=6),
    st.integers(0, 200),
)
@settings(max_examples=200, deadline=None)  # a wrong delta can make 100,000 bars
def test_a_file_with_wrong_bytes_gives_a_line_or_one_fault(
    content: bytes, wrong: list[tuple[int, int]], cut: int
) -> None:
    damaged = bytearray(content)
    for place, byte in wrong:
        damaged[place % len(damaged)] = byte
    reads_or_refuses(bytes(damaged))
    reads_or_refuses(bytes(damaged[: cut % len(damaged)]))


@given(
    st.integers(1, 0xFFFF),
    st.lists(st.tuples(st.integers(0, 500), st.integers(0, 127)), min_size=1, max_size=20),
)
@settings(deadline=None)
def test_any_division_gives_a_line_or_one_fault(
    division: int, steps: list[tuple[int, int]]
) -> None:
    track = b"".join(one_note(after, pitch, start=after // 3) for after, pitch in steps)
    reads_or_refuses(smf(track, division=division))


def test_the_library_writes_what_the_specification_says() -> None:
    """The other writer's bytes are checked once by hand, as later tests rest on them."""
    tempo = mido.MetaMessage("set_tempo", tempo=500_000)
    assert written([(0, 480, 28)], tempo) == smf(
        meta(0, 0x51, bytes((7, 0xA1, 0x20))) + event(0, 0x90, 28, 80) + event(480, 28, 0),
        division=480,
    )
