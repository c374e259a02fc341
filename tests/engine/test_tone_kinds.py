"""Chord, read and slur by plain counting: what is asked, what is right, what it is worth.

Places are pairs of numbers, pitches are MIDI numbers of open strings plus frets, and
distances are frets of twelve equal steps: nothing here asks the program what is right.
"""

from collections import Counter
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.engine.question import FindTones, Joining, JoinNotes, Question, ReadNotes
from fretdrill.engine.reasons import OutsideScope
from fretdrill.engine.registry import KINDS
from fretdrill.engine.tone_reasons import (
    BeyondHand,
    NoteMissed,
    NotOnStaff,
    OtherOctave,
    OtherTone,
    SignatureForgotten,
)
from fretdrill.errors import NothingToAsk
from fretdrill.neck.neck import Place
from fretdrill.neck.scope import Scope
from fretdrill.theory.chord import QUALITIES
from fretdrill.theory.pitch import LETTERS, Pitch
from fretdrill.theory.staff import staff_step
from tests.engine import tones
from tests.engine.cases import Instrument, instrument, instruments, parts, pitch_class

EXAMPLES = settings(max_examples=25, deadline=None)
TONE_KINDS = ("chord", "read", "slur")
BASS = instrument()

# Semitones of a major scale's degrees (common practice, no source); b lowers, # raises.
MAJOR = {"1": 0, "2": 2, "3": 4, "4": 5, "5": 7, "6": 9, "7": 11, "9": 14}

# Fingers 1 and 4 part by ten piano semitones at the most (Parncutt et al. 1997, table 1);
# one is 13.75 mm wide (6.5-in octave; Boyle, Boyle & Booker 2015).
MOST_MM = 10 * 13.75

# How far finger 4 goes from finger 1, in frets: one past one finger per fret, one past 1-2-4
# (common practice, no source).
FURTHEST = {"reach": 4, "one-per-fret": 4, "1-2-4": 3}


def semitones(degree: str) -> int:
    plain = degree.lstrip("b#")
    return MAJOR[plain] - degree.count("b") + degree.count("#")


def apart_mm(scale_mm: float, fret: int, other: int) -> float:
    return scale_mm * abs(2 ** (-fret / 12) - 2 ** (-other / 12))


def window(bass: Instrument, position: int, *, opened: bool) -> set[tuple[int, int]]:
    """Return the places between finger 1 and what finger 4 reaches, and open strings."""
    neck, hand = bass.player.neck, bass.player.hand
    frets = {
        fret
        for fret in range(position, min(neck.frets, position + FURTHEST[hand.system]) + 1)
        if apart_mm(neck.scale_mm, position, fret) <= MOST_MM * hand.scale
    }
    frets |= {0} if opened else set()
    return {(string, fret) for string in range(1, len(bass.open_midi) + 1) for fret in frets}


def everywhere(bass: Instrument) -> list[tuple[int, int]]:
    strings, frets = len(bass.open_midi), bass.player.neck.frets
    return [(string, fret) for string in range(1, strings + 1) for fret in range(frets + 1)]


# All three


WRITTEN: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "chord": st.fixed_dictionaries(
        {
            "chord": st.lists(st.sampled_from([*QUALITIES, "Gm7", "Bb7"]), min_size=1).map(
                " ".join
            ),
            "notes": st.sampled_from(("naturals", "chromatic", "Eb F# B", "key Ab major")),
            "tones": st.sampled_from(("one", "all")),
        }
    ),
    "read": st.fixed_dictionaries(
        {
            "key": st.sampled_from(("C", "G", "F", "Em", "C#m", "Gb major", "F# major")),
            "together": st.integers(1, 4),
        },
        optional={"notes": st.sampled_from(("chromatic", "naturals", "key Bb major"))},
    ),
    "slur": st.fixed_dictionaries(
        {"notes": st.sampled_from(("chromatic", "naturals", "key Eb major"))}
    ),
}


@st.composite
def drills(draw: st.DrawFn, kind: str) -> tuple[Instrument, Any]:
    """An instrument, and a stage of a drill that fits it."""
    bass = draw(instruments())
    part = draw(parts(len(bass.open_midi), bass.player.neck.frets))
    (stage,) = tones.stages(kind, scope=part.text, **draw(WRITTEN[kind]))
    return bass, stage


def asked(bass: Instrument, kind: str, stage: Any) -> list[Question]:
    return tones.questions(kind, bass.player, stage, most=12)


@pytest.mark.parametrize("kind", TONE_KINDS)
@EXAMPLES
@given(data=st.data())
def test_a_focus_is_a_question_and_its_own_answer_is_right(kind: str, data: st.DataObject) -> None:
    bass, stage = data.draw(drills(kind))
    drill = KINDS[kind]
    foci = drill.foci(bass.player, stage)
    assert len(set(foci)) == len(foci)
    for question in asked(bass, kind, stage):
        assert question == drill.ask(bass.player, stage, question.focus)
        assert (question.kind, question.player) == (kind, bass.player)
        assert len(set(question.item_keys)) == len(question.item_keys) >= 1
        assert drill.subject(question.focus)
        own = tones.answered(question, question.right)
        assert (own.points, own.right) == (100, True)
        assert drill.explain(question) == tones.answered(question, None).reasons


@pytest.mark.parametrize("kind", TONE_KINDS)
@EXAMPLES
@given(data=st.data())
def test_a_stage_is_checked_by_whether_there_is_anything_to_ask(
    kind: str, data: st.DataObject
) -> None:
    bass, stage = data.draw(drills(kind))
    drill = KINDS[kind]
    if drill.foci(bass.player, stage):
        drill.check(bass.player, stage)
        return
    with pytest.raises(NothingToAsk) as told:
        drill.check(bass.player, stage)
    assert str(stage.scope) in str(told.value)


@pytest.mark.parametrize("kind", ["chord", "read"])
@EXAMPLES
@given(data=st.data())
def test_nothing_marked_is_worth_nothing_and_all_of_it_is_explained(
    kind: str, data: st.DataObject
) -> None:
    bass, stage = data.draw(drills(kind))
    for question in asked(bass, kind, stage):
        nothing = tones.answered(question, frozenset())
        assert (nothing.points, nothing.accuracy) == (0, 0.0)
        assert nothing.reasons == KINDS[kind].explain(question)
        if isinstance(question.task, ReadNotes):
            assert [told(reason).pitch for reason in nothing.reasons] == list(question.task.pitches)
        else:
            places = [reason.place for reason in nothing.reasons]  # type: ignore[union-attr]
            assert len(set(places)) == len(places)
            assert set(places) == marked_right(question)


def marked_right(question: Question) -> frozenset[Place]:
    assert isinstance(question.right, frozenset)
    return question.right


def told(reason: object) -> NoteMissed:
    assert isinstance(reason, NoteMissed)
    return reason


# Chord


def chord_task(question: Question) -> FindTones:
    assert isinstance(question.task, FindTones)
    return question.task


def sounding(
    bass: Instrument, near: set[tuple[int, int]], root: int, degree: str
) -> set[tuple[int, int]]:
    """Return the places among some that sound a degree above a pitch class, by counting."""
    return {(s, f) for s, f in near if (bass.midi(s, f) - root - semitones(degree)) % 12 == 0}


@EXAMPLES
@given(drills("chord"))
def test_right_places_of_chords_by_counting(case: tuple[Instrument, Any]) -> None:
    bass, stage = case
    for question in asked(bass, "chord", stage):
        task = chord_task(question)
        root = pitch_class(str(task.context.root))
        assert bass.midi(*task.place) % 12 == root
        assert task.place in stage.scope
        assert question.position is not None
        assert question.position == standing(stage.scope, task)
        near = window(bass, question.position, opened=stage.scope.open_strings)
        assert tuple(task.place) in near
        by_degree = [sounding(bass, near, root, degree) for degree in task.degrees]
        assert all(by_degree)
        assert set(marked_right(question)) == set.union(*by_degree)
        if not stage.scope.open_strings:
            assert all(place.fret for place in marked_right(question))


def standing(scope: Scope, task: FindTones) -> int:
    """Return the position: the one given, else a minor third's root under finger 1, else 2."""
    if scope.position is not None:
        return scope.position
    below = 0 if "b3" in QUALITIES[task.context.quality].split() else 1
    return max(1, task.place.fret - below)


# Natural roots carry every quality with two accidentals at the most, so nothing is left out.
@pytest.mark.parametrize("size", ["small", "medium", "large"])
@pytest.mark.parametrize("system", sorted(FURTHEST))
@pytest.mark.parametrize("scope", ["position 1", "position 7, open strings", "frets 0-12"])
def test_every_chord_whose_root_and_tones_the_hand_reaches_is_asked(
    scope: str, system: str, size: str
) -> None:
    bass = instrument("5-string", size=size, system=system)
    qualities = {"maj": "3 5", "m7": "b3 5 b7", "sus4": "4 5", "add9": "3 5 9", "dim7": "b3 b5 bb7"}
    (stage,) = tones.stages("chord", scope=scope, chord=" ".join(qualities), tones="one")
    found = set(KINDS["chord"].foci(bass.player, stage))
    frets = {"p": range(1, 5), "7": range(7, 11), "f": range(13)}
    inside = frets["f" if "frets" in scope else "7" if "7" in scope else "p"]
    opened, expected = "open" in scope or "0-" in scope, set()
    for string, fret in everywhere(bass):
        names = [
            letter for letter in LETTERS if pitch_class(letter) == bass.midi(string, fret) % 12
        ]
        if not names or not (fret in inside if fret else opened):
            continue
        for quality, degrees in qualities.items():
            below = 0 if "b3" in degrees else 1  # finger 1 or finger 2 on the root
            position = max(1, fret - below) if "frets" in scope else inside[0]
            near = window(bass, position, opened=opened)
            if (string, fret) not in near:
                continue
            shown = {"maj": "", "min": "m"}.get(quality, quality)
            expected |= {
                f"{string}/{fret} {names[0]}{shown} {degree}"
                for degree in degrees.split()
                if sounding(bass, near, pitch_class(names[0]), degree)
            }
    assert found == expected


@EXAMPLES
@given(drills("chord"), st.data())
def test_chord_marks_are_counted(case: tuple[Instrument, Any], data: st.DataObject) -> None:
    """Found places less half of those marked wrongly, over all; the root's place is shown."""
    bass, stage = case
    for question in asked(bass, "chord", stage)[:3]:
        task, right = chord_task(question), question.right
        assert isinstance(right, frozenset)
        some = data.draw(st.frozensets(st.sampled_from(sorted(right))))
        marked = data.draw(tones.marks(bass.player)) | some
        marked |= data.draw(st.sampled_from((frozenset(), frozenset({task.place}))))
        wrong = {place for place in marked if place not in right and place != task.place}
        worth = max(0.0, (len(marked & right) - 0.5 * len(wrong)) / len(right))
        verdict = tones.answered(question, marked)
        assert verdict.accuracy == pytest.approx(worth)
        assert len(verdict.reasons) == len(wrong) + len(right - marked)
        for reason in verdict.reasons:
            if isinstance(reason, BeyondHand | OtherTone):
                wrong.remove(reason.place)
                check_wrong_mark(bass, task, reason)
        assert not wrong


def check_wrong_mark(bass: Instrument, task: FindTones, reason: BeyondHand | OtherTone) -> None:
    """Check what is said of a mark by counting from the root."""
    above = bass.midi(*reason.place) - pitch_class(str(task.context.root))
    is_asked = any((above - semitones(degree)) % 12 == 0 for degree in task.degrees)
    assert is_asked == isinstance(reason, BeyondHand)
    if isinstance(reason, BeyondHand):
        return
    assert pitch_class(str(reason.sounds)) == bass.midi(*reason.place) % 12
    degrees = QUALITIES[task.context.quality].split()
    fitting = [degree for degree in degrees if (above - semitones(degree)) % 12 == 0]
    assert fitting == ([reason.degree] if reason.degree else [])
    if reason.asked:
        assert reason.asked in task.degrees
        assert (above + reason.frets - semitones(reason.asked)) % 12 == 0
        assert 1 <= abs(reason.frets) <= 2


# Roots of C on the E string, fret 8, and the A string, fret 3: B♭ is ten semitones above.
@pytest.mark.parametrize("root", ["4/8", "3/3", "2/10", "1/5"])
def test_the_flat_seventh_of_c_is_b_flat(root: str) -> None:
    for accidentals in ("flats", "sharps", "both"):
        player = instrument(accidentals=accidentals).player
        question = tones.one(
            "chord", player, f"{root} C7 b7", scope="frets 1-12", chord="7", tones="one"
        )
        assert isinstance(question.right, frozenset)
        assert {str(question.name_at(place)) for place in question.right} == {"Bb"}
        assert all(BASS.midi(*place) % 12 == 10 for place in question.right)


# 863.6 mm; by hand: fret 2 to 6 is 159 mm, 2 to 5 is 122 mm; 9 to 13 is 106 mm.
@pytest.mark.parametrize(("root", "frets"), [("3/3", {2, 3, 4, 5}), ("3/10", set(range(9, 14)))])
def test_the_window_ends_where_the_hand_does(root: str, frets: set[int]) -> None:
    name = "C" if root == "3/3" else "G"
    question = tones.one(
        "chord", BASS.player, f"{root} {name} 3,5", scope="frets 1-12", chord="maj", tones="all"
    )
    third, fifth = (pitch_class(name) + 4) % 12, (pitch_class(name) + 7) % 12
    expected = {(s, f) for s, f in everywhere(BASS) if f in frets}
    assert set(marked_right(question)) == {
        p for p in expected if BASS.midi(*p) % 12 in (third, fifth)
    }


# Read


def read_pitches(question: Question) -> tuple[Pitch, ...]:
    assert isinstance(question.task, ReadNotes)
    return question.task.pitches


def lying(bass: Instrument, scope: Scope, midi: int) -> set[tuple[int, int]]:
    return {(s, f) for s, f in everywhere(bass) if bass.midi(s, f) == midi and Place(s, f) in scope}


@pytest.fixture(scope="module")
def music21() -> Any:
    """The oracle; slow to import, so only here."""
    return pytest.importorskip("music21")


@EXAMPLES
@given(drills("read"))
def test_right_places_sound_the_pitches_asked_for(case: tuple[Instrument, Any]) -> None:
    bass, stage = case
    for question in asked(bass, "read", stage):
        midis = [pitch.midi for pitch in read_pitches(question)]
        assert len(midis) == len(set(midis)) == stage.together
        assert isinstance(question.right, frozenset)
        assert sorted(bass.midi(*place) for place in question.right) == sorted(midis)
        assert all(tuple(p) in lying(bass, stage.scope, bass.midi(*p)) for p in question.right)
        for pitch in read_pitches(question):
            assert (pitch_class(str(pitch.name)) - pitch.midi) % 12 == 0


@EXAMPLES
@given(drills("read"), st.data())
def test_read_marks_are_counted_by_sound(case: tuple[Instrument, Any], data: st.DataObject) -> None:
    """Pitches found, wherever, less half of the marks that are none, over all pitches."""
    bass, stage = case
    for question in asked(bass, "read", stage)[:3]:
        midis = {pitch.midi for pitch in read_pitches(question)}
        either = {midi: lying(bass, stage.scope, midi) for midi in midis}
        good = set.union(*either.values())
        some = data.draw(st.frozensets(st.sampled_from(sorted(good))))
        marked = data.draw(tones.marks(bass.player)) | {Place(*place) for place in some}
        found = {midi for midi, places in either.items() if places & marked}
        wrong = marked - good
        worth = max(0.0, (len(found) - 0.5 * len(wrong)) / len(midis))
        verdict = tones.answered(question, marked)
        assert verdict.accuracy == pytest.approx(worth)
        missed = [reason for reason in verdict.reasons if isinstance(reason, NoteMissed)]
        assert {reason.pitch.midi for reason in missed} == midis - found
        for miss in missed:
            assert set(miss.places) == either[miss.pitch.midi]
        others = [reason for reason in verdict.reasons if not isinstance(reason, NoteMissed)]
        assert sorted(reason.place for reason in others) == sorted(wrong)  # type: ignore[union-attr]


@pytest.mark.parametrize("key", ["C", "F", "D", "Eb", "A", "Db", "F# minor", "G minor"])
def test_notes_are_written_where_music21_writes_them(music21: Any, key: str) -> None:
    """Bass clef, an octave above the sound."""
    bottom = music21.clef.BassClef().lowestLine
    (stage,) = tones.stages("read", scope="whole neck", key=key, notes="chromatic", together=1)
    drill, steps = KINDS["read"], set()
    for focus in drill.foci(BASS.player, stage):
        (pitch,) = read_pitches(drill.ask(BASS.player, stage, focus))
        name = str(pitch.name).replace("b", "-")
        sounding_note = music21.note.Note(f"{name}{pitch.octave}")
        assert sounding_note.pitch.midi == pitch.midi
        oracle = sounding_note.transpose("P8").pitch.diatonicNoteNum - bottom
        assert staff_step(pitch) == oracle
        steps.add(oracle)
    assert min(steps) in (-2, -1)  # the open E string, as E or as F♭, below the staff


@pytest.mark.parametrize("key", ["C", "G", "Bb", "E", "Ab", "B minor", "F minor"])
def test_notes_of_a_key_are_its_scale_by_music21(music21: Any, key: str) -> None:
    tonic, *minor = key.split(" ")
    name = tonic.replace("b", "-")
    oracle = music21.key.Key(name.lower() if minor else name)
    scale = {pitch.name.replace("-", "b") for pitch in oracle.getScale().pitches}
    (stage,) = tones.stages("read", scope="frets 0-12", key=key, together=1)
    found = tones.questions("read", BASS.player, stage, most=200)
    assert {str(pitch.name) for question in found for pitch in read_pitches(question)} == scale


# D2 is open on the D string, fret 5 of the A string and fret 10 of the E string (MIDI 38).
@pytest.mark.parametrize("mark", ["2/0", "3/5", "4/10", "2/0 3/5", "2/0 3/5 4/10"])
def test_any_place_of_the_pitch_is_right(mark: str) -> None:
    question = tones.one(
        "read", BASS.player, "C major: D2", scope="frets 0-12", key="C", together=1
    )
    verdict = tones.answered(question, tones.places(mark))
    assert (verdict.points, verdict.reasons) == (100, ())


def fourth_string(key: str, pitch: str) -> Question:
    scope = "frets 1-12, strings 3-4"
    (stage,) = tones.stages("read", scope=scope, key=key, notes="chromatic", together=1)
    question = KINDS["read"].ask(BASS.player, stage, f"{key} major: {pitch}")
    assert str(read_pitches(question)[0]) == pitch
    return question


# E string: F 1, G 3, A 5, B♭ 6, B 7, C 8; A string: G 10; D string: A 7; G string: G 12.
@pytest.mark.parametrize(
    ("key", "pitch", "mark", "kind"),
    [
        ("C", "G1", "3/10", OtherOctave),
        ("C", "G1", "1/12", OtherOctave),
        ("C", "A1", "2/7", OtherOctave),
        ("F", "Bb1", "4/7", SignatureForgotten),
        ("D", "F#1", "4/1", SignatureForgotten),
        ("Eb", "Ab1", "4/5", SignatureForgotten),
        ("F", "B1", "4/6", SignatureForgotten),  # a natural sign that was overlooked
        ("C", "F#1", "4/1", SignatureForgotten),  # a sharp sign that was overlooked
        ("C", "G1", "4/5", NotOnStaff),
        ("C", "G1", "4/1", NotOnStaff),
        ("C", "A1", "3/0", OutsideScope),
        ("C", "D2", "2/0", OutsideScope),
    ],
)
def test_a_misread_note_has_its_own_reason(
    key: str, pitch: str, mark: str, kind: type[object]
) -> None:
    verdict = tones.answered(fourth_string(key, pitch), tones.places(mark))
    wrong, missed = verdict.reasons
    assert type(wrong) is kind
    assert wrong.place == Place.parse(mark)  # type: ignore[union-attr]
    assert isinstance(missed, NoteMissed)
    assert verdict.points == 0


@pytest.mark.parametrize(("mark", "octaves"), [("3/10", 1), ("1/12", 2), ("2/5", 1), ("4/15", 1)])
def test_octaves_are_counted_up_from_the_note_on_the_staff(mark: str, octaves: int) -> None:
    (wrong, _) = tones.answered(fourth_string("C", "G1"), tones.places(mark)).reasons
    assert wrong == OtherOctave(Place.parse(mark), Pitch.parse("G1"), octaves)


def test_an_octave_too_low_is_told_as_such() -> None:
    (wrong, _) = tones.answered(fourth_string("C", "G2"), tones.places("4/3")).reasons
    assert wrong == OtherOctave(Place(4, 3), Pitch.parse("G2"), -1)


# F major has a B♭, D major an F♯ and a C♯ (common practice, no source).
@pytest.mark.parametrize(
    ("key", "pitch", "mark", "by_key"),
    [("F", "Bb1", "4/7", True), ("D", "F#1", "4/1", True), ("F", "B1", "4/6", False),
     ("D", "C2", "3/4", False), ("C", "F#1", "4/1", False)],
)  # fmt: skip
def test_what_alters_the_note_is_the_signature_or_the_sign_before_it(
    key: str, pitch: str, mark: str, by_key: bool
) -> None:
    (wrong, _) = tones.answered(fourth_string(key, pitch), tones.places(mark)).reasons
    assert isinstance(wrong, SignatureForgotten)
    assert str(wrong.key) == (f"{key} major" if by_key else "None")
    assert pitch_class(str(wrong.sounds)) == BASS.midi(*Place.parse(mark)) % 12


# A stands on the first space: B, G are its neighbouring lines, C and F the next spaces.
@pytest.mark.parametrize(("mark", "steps"), [("4/7", 1), ("4/3", -1), ("4/8", 2), ("4/1", -2)])
def test_neighbours_on_the_staff_are_counted_in_lines_and_spaces(mark: str, steps: int) -> None:
    (wrong, _) = tones.answered(fourth_string("C", "A1"), tones.places(mark)).reasons
    assert isinstance(wrong, NotOnStaff)
    assert (wrong.nearest, wrong.steps) == (Pitch.parse("A1"), steps)


# Slur


def slur_task(question: Question) -> JoinNotes:
    assert isinstance(question.task, JoinNotes)
    return question.task


@EXAMPLES
@given(drills("slur"))
def test_a_pair_lies_around_the_hand_and_answers_go_by_string_and_way(
    case: tuple[Instrument, Any],
) -> None:
    bass, stage = case
    for question in asked(bass, "slur", stage):
        task = slur_task(question)
        one, two = task.place, task.after
        assert one != two
        assert question.position == task.position
        assert question.focus == f"{task.position}:{one}>{two}"
        if one.string != two.string:
            assert question.right is Joining.PLUCKED
        elif question.right is Joining.HAMMER_ON:
            assert two.fret > one.fret
        elif question.right is Joining.PULL_OFF:
            assert two.fret < one.fret
        else:
            assert (question.right is Joining.SLIDE) == (0 not in (one.fret, two.fret))


# Four ways, none of them far ahead of a quarter: little is gained by a guess.
@pytest.mark.parametrize("size", ["small", "medium", "large"])
@pytest.mark.parametrize("notes", ["chromatic", "naturals", "key Eb major"])
@pytest.mark.parametrize(
    "scope", ["position 1, open strings", "position 5", "frets 0-12", "whole neck"]
)
def test_answers_are_about_balanced(scope: str, notes: str, size: str) -> None:
    player = instrument(size=size).player
    (stage,) = tones.stages("slur", scope=scope, notes=notes)
    foci = KINDS["slur"].foci(player, stage)
    counts = Counter(KINDS["slur"].ask(player, stage, focus).right for focus in foci)
    assert set(counts) == set(Joining)
    assert max(counts.values()) <= 0.4 * len(foci)


@EXAMPLES
@given(drills("slur"), st.sampled_from(Joining))
def test_one_way_is_right_and_a_slide_beside_it_costs(
    case: tuple[Instrument, Any], other: Joining
) -> None:
    bass, stage = case
    for question in asked(bass, "slur", stage):
        task, verdict = slur_task(question), tones.answered(question, other)
        stopped = 0 not in (task.place.fret, task.after.fret)
        one_string = task.place.string == task.after.string
        if other is question.right:
            assert verdict.points == 100
        elif other is Joining.SLIDE and one_string and stopped:
            assert 0 < verdict.accuracy < 1
        else:
            assert verdict.points == 0
        assert set(KINDS["slur"].explain(question)) <= set(verdict.reasons)


# Settings


@pytest.mark.parametrize(
    ("kind", "written", "named"),
    [
        ("chord", {"chord": ["maj", "m7", "mjn"]}, ("number 3 in the list", "'mjn'")),
        ("chord", {"chord": "maj m7 mjn"}, ("number 3", "'mjn'", "'min'")),
        ("chord", {"chord": ["maj", "7 mjn"]}, ("number 2 in the list", "number 2 of '7 mjn'")),
        ("chord", {"chord": ["mj7", "xyz"]}, ("number 1", "'mj7'", "number 2", "'xyz'")),
        ("chord", {"tones": ["one", "two"]}, ("number 2 in the list", "'two'", "one, all")),
        ("chord", {"notes": "C H"}, ("'H'",)),
        ("read", {"key": ["C", "F", "H"]}, ("number 3 in the list", "'H'")),
        ("read", {"key": ["C", "B# major"]}, ("number 2 in the list", "seven accidentals")),
        ("read", {"together": [1, 2, 5]}, ("number 3 in the list", "5", "between 1 and 4")),
        ("read", {"together": [0]}, ("0", "between 1 and 4")),
        ("read", {"together": ["1", 2]}, ("number 1 in the list", "not a whole number")),
        ("read", {"together": True}, ("not a whole number",)),
        ("slur", {"scope": ["position 5", "positon 7"]}, ("number 2 in the list", "'position'")),
        ("slur", {"notes": "C H"}, ("'H'",)),
    ],
)
def test_a_wrong_setting_is_named_with_its_number(
    kind: str, written: dict[str, Any], named: tuple[str, ...]
) -> None:
    (fault,) = tones.faults(kind, **written)
    assert all(word in fault for word in named), fault


def test_chord_lists_go_side_by_side() -> None:
    found = tones.stages(
        "chord", scope=["position 5", "whole neck"], chord=["maj min", "7", "Dm7"], tones="all"
    )
    assert [(str(s.scope), [str(c) for c in s.chords], s.tones) for s in found] == [
        ("position 5", ["maj", "min"], "all"),
        ("whole neck", ["7"], "all"),
        ("whole neck", ["Dm7"], "all"),
    ]


def test_read_lists_go_side_by_side() -> None:
    found = tones.stages("read", scope="position 5", key=["C", "Bb", "Gm"], together=[1, 3])
    assert [(str(s.scope), str(s.key), s.together) for s in found] == [
        ("position 5", "C major", 1),
        ("position 5", "Bb major", 3),
        ("position 5", "G minor", 3),
    ]


def test_slur_stages_are_its_scopes() -> None:
    found = tones.stages("slur", scope=["position 5", "frets 1-9"], notes="naturals")
    assert [(str(s.scope), str(s.notes)) for s in found] == [
        ("position 5", "naturals"),
        ("frets 1-9", "naturals"),
    ]


@pytest.mark.parametrize(
    ("kind", "written", "named"),
    [
        ("chord", {"notes": "D", "chord": "m7", "tones": "one"}, ("D", "m7")),
        ("read", {"key": "C", "together": 4}, ("4 notes", "C major")),
        ("slur", {"notes": "D"}, ("no two notes",)),
    ],
)
def test_nothing_to_ask_is_worded(kind: str, written: dict[str, Any], named: Any) -> None:
    scope = "frets 1-2, string 4"  # F and F♯ only
    (stage,) = tones.stages(kind, scope=scope, **written)
    with pytest.raises(NothingToAsk) as told_of:
        KINDS[kind].check(BASS.player, stage)
    assert all(word in str(told_of.value) for word in (*named, scope))
