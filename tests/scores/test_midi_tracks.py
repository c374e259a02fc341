import pytest

from fretdrill.errors import InputError
from fretdrill.scores.midi import read_midi
from fretdrill.scores.midi_events import read_contents
from fretdrill.scores.midi_tracks import (
    Part,
    Sounded,
    choose_part,
    is_bass_name,
    read_parts,
    single_share,
)

from .midi_files import event, melody, meta, one_note, smf

PIANO, GUITAR, FINGERED_BASS, STRINGS = 1, 28, 34, 49  # General MIDI 1 sound set, from 1


def named(name: str, *pitches: int, programme: int | None = None, channel: int = 1) -> bytes:
    return meta(0, 0x03, name.encode()) + melody(*pitches, programme=programme, channel=channel)


def parts_of(content: bytes) -> list[Part]:
    return read_parts(read_contents(content, "groove.mid"))


def chosen(content: bytes, track: str | None = None) -> str:
    return choose_part(parts_of(content), "groove.mid", track)[0].place


def told(content: bytes, track: str | None = None) -> list[str]:
    return [notice.message for notice in choose_part(parts_of(content), "groove.mid", track)[1]]


# Choosing


@pytest.mark.parametrize(
    ("tracks", "place"),
    [
        # by programme, though another part is lower
        (
            (melody(24, 26, programme=STRINGS), melody(40, 43, programme=FINGERED_BASS)),
            "track 2",
        ),
        # by name
        ((named("Lead", 60, 62), named("E-Bass", 40, 43)), "track 2"),
        # by range, where nothing else is said
        ((melody(60, 64), melody(33, 36), melody(72, 76)), "track 2"),
        ((melody(60, 64, programme=PIANO), melody(33, 36, programme=PIANO)), "track 2"),
        # a bass tuned down and played high is a bass
        ((melody(60, 64), melody(19, 21, programme=FINGERED_BASS)), "track 2"),
        # never the drums
        (
            (melody(35, 35, 35, channel=10), melody(55, 57), melody(45, 47)),
            "track 3",
        ),
    ],
)
def test_the_bass_is_found(tracks: tuple[bytes, ...], place: str) -> None:
    assert chosen(smf(*tracks)) == place


def test_why_it_was_taken_is_told() -> None:
    content = smf(
        meta(0, 0x03, b"Song"),
        named("Keys", 60, 64),
        named("Fingered Bass", 33, 36, programme=FINGERED_BASS),
    )
    assert told(content) == [
        "took track 3 'Fingered Bass' of 2 parts with notes: bass programme, called bass, "
        "in the range of a bass, lowest part, one note at a time; --track takes another"
    ]


def test_of_two_basses_the_one_with_more_notes_is_taken() -> None:
    content = smf(
        melody(33, 36, programme=FINGERED_BASS),
        melody(33, 33, 36, programme=FINGERED_BASS),
        melody(33, 38, programme=FINGERED_BASS),
    )
    assert chosen(content) == "track 2"


def test_of_two_alike_the_first_is_taken() -> None:
    content = smf(melody(33, 36, programme=33), melody(33, 38, programme=40))
    assert chosen(content) == "track 1"


def test_a_doubled_line_is_told() -> None:
    content = smf(
        named("Bass", 33, 36, programme=FINGERED_BASS),
        named("Synth", 33, 36),
        named("Keys", 60, 64),
    )
    assert chosen(content) == "track 1"
    assert told(content)[1] == "the same line is doubled by track 2 'Synth'"


def test_where_nothing_looks_like_a_bass_the_lowest_is_taken() -> None:
    content = smf(
        named("Violin", 72, 76, programme=41),
        named("Strings", 40, 43, programme=STRINGS),
    )
    assert chosen(content) == "track 2"
    assert told(content) == [
        "nothing here looks like a bass part; took the lowest of 2 parts, "
        "track 2 'Strings'; --track takes another"
    ]


def test_a_single_bass_needs_no_word_a_single_melody_does() -> None:
    assert told(smf(melody(33, 36, programme=STRINGS))) == []
    assert told(smf(melody(72, 76))) == [
        "nothing here looks like a bass part; took the only one, track 1"
    ]


# Asking


CHANNELS = smf(
    meta(0, 0x03, b"Song")
    + melody(60, 64, channel=1, programme=GUITAR)
    + melody(33, 36, channel=2, programme=FINGERED_BASS)
    + melody(35, channel=10),
    kind=0,
)
MIXED = smf(
    melody(60, 64, channel=1) + melody(48, 52, channel=2),
    named("Low", 33, 36, channel=3),
)


@pytest.mark.parametrize(
    ("content", "track", "place"),
    [
        (CHANNELS, None, "channel 2"),
        (CHANNELS, "1", "channel 1"),
        (CHANNELS, "10", "channel 10"),
        (CHANNELS, "guitar", "channel 1"),
        (MIXED, None, "track 2"),
        (MIXED, "1/1", "track 1, channel 1"),
        (MIXED, "1", "track 1, channel 2"),  # the lowest of the track
        (MIXED, "2", "track 2"),
        (MIXED, " LOW ", "track 2"),
    ],
)
def test_a_track_is_asked_for_by_number_or_name(
    content: bytes, track: str | None, place: str
) -> None:
    assert chosen(content, track) == place


def test_what_was_asked_for_needs_no_word() -> None:
    assert told(MIXED, "2") == []


def test_a_type_0_file_is_split_by_channel() -> None:
    assert told(CHANNELS)[0].startswith("took channel 2 'bass' of 3 channels with notes: ")
    reading = read_midi(CHANNELS, "groove.mid")
    assert reading.line.notes[0].where == "channel 2, tick 192"


@pytest.mark.parametrize("track", ["3", "Bass", "", "1/9"])
def test_no_such_track_lists_those_there_are(track: str) -> None:
    with pytest.raises(InputError) as caught:
        chosen(MIXED, track)
    assert str(caught.value) == (
        f"groove.mid has no track '{track}' with notes; it has 1/1, 1/2, 2 Low"
    )


def test_only_the_first_dozen_are_listed() -> None:
    with pytest.raises(InputError, match=r"it has 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 …$"):
        chosen(smf(*[melody(60)] * 14), "99")


# Parts


def test_a_programme_is_the_one_at_the_first_note() -> None:
    content = smf(
        event(0, 0xC0, 5) + event(0, 0xC0, 33) + one_note() + event(0, 0xC0, 7) + one_note()
    )
    assert [part.programme for part in parts_of(content)] == [34]


def test_an_instrument_name_does_where_there_is_no_track_name() -> None:
    content = smf(meta(0, 0x04, b"Upright Bass") + melody(33))
    assert [part.name for part in parts_of(content)] == ["Upright Bass"]


@pytest.mark.parametrize(
    "name",
    "Bass|BASS 2|Bass1|bass_di|BooBass (MIDI)|Fretless Bass|E-Bass|Kontrabass|Contrabass|"
    "Double Bass|Bassline|Bassi|Basse électrique|Basso continuo|Bajo|Baixo|Elbas|Basgitaar|"
    "Slap Bass 1|Bassgitarre".split("|"),
)
def test_names_of_basses(name: str) -> None:
    assert is_bass_name(name)


@pytest.mark.parametrize(
    "name",
    "|Bassoon|Bass Drum|Bass Clarinet|Bassklarinette|Bass Trombone|Basset Horn|Bass Voice|"
    "Basson|Abajour|Trabajo|Basic|Database|BChords|Choir Bass".split("|"),
)
def test_names_of_others(name: str) -> None:
    assert not is_bass_name(name)


@pytest.mark.parametrize(
    ("notes", "share"),
    [
        ([(0, 4)], 1.0),
        ([(0, 4), (4, 8), (10, 12)], 1.0),
        ([(0, 4), (2, 4)], 0.5),  # two of four ticks have one note
        ([(0, 4), (0, 4)], 0.0),
        ([(0, 3), (2, 5), (8, 11)], 0.875),  # seven of eight
        ([(3, 3)], 1.0),
    ],
)
def test_how_much_is_one_note_at_a_time(notes: list[tuple[int, int]], share: float) -> None:
    assert single_share(Sounded(onset, end, 40) for onset, end in notes) == share
