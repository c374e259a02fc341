"""What is seen on the neck of a question about a line, and of its play-through, frame by frame."""

import random
import re
from collections.abc import Iterator
from functools import cache

import pytest

from fretdrill.engine.kinds.ahead import Ahead, AheadStage
from fretdrill.engine.kinds.shift import ShiftKind, ShiftStage
from fretdrill.engine.line_reasons import PlayedOn, ShiftAfter
from fretdrill.engine.lines import Lines
from fretdrill.engine.piece import Piece, plan_of
from fretdrill.engine.player import Player
from fretdrill.engine.question import (
    AfterNote,
    Answer,
    ChooseShift,
    FingerAhead,
    Fingering,
    Question,
    Shown,
    Verdict,
)
from fretdrill.hand.hand import Hand
from fretdrill.hand.plan import Plan
from fretdrill.hand.reach import finger_offsets
from fretdrill.hand.states import FRAMES, Choice, State
from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.library import find_line, line_files
from fretdrill.practice.session import judge
from fretdrill.presentation.line_view import (
    MOST_FRAMES,
    Frame,
    ahead_view,
    play_through,
    shift_view,
)
from fretdrill.presentation.neck_drawing import NeckView, Role
from fretdrill.presentation.words import Words

AHEAD, SHIFT = Ahead(), ShiftKind()
SHOWN, PLAIN = Words(), Words(ascii_only=True)
PLAYERS = {
    "four strings": Player(Neck(), Hand()),
    "five strings, 1-2-4": Player(Neck(Tuning.parse("5-string")), Hand.parse("small", "1-2-4")),
}
BASS = PLAYERS["four strings"]
SHIPPED = sorted(line_files(None))
ROMANS = (
    "I II III IV V VI VII VIII IX X XI XII XIII XIV XV XVI XVII XVIII XIX XX XXI XXII XXIII XXIV"
).split()
SLOWER = 2.0  # a play-through is half as fast as the line
LEAST_S, MOST_S = 0.5, 2.0


@cache
def shipped(name: str) -> Piece:
    return Piece(name, find_line(name, None).line)


def questions(player: Player, count: int, shown: Shown) -> list[Question]:
    stages = [AheadStage(Lines((shipped(name),)), count, shown) for name in SHIPPED]
    return [AHEAD.ask(player, s, f) for s in stages for f in AHEAD.foci(player, s)]


def shifts(player: Player, reach: int = 4) -> list[Question]:
    stages = [ShiftStage(Lines((shipped(name),)), reach) for name in SHIPPED]
    return [SHIFT.ask(player, s, f) for s in stages for f in SHIFT.foci(player, s)]


def asked_of(asked: Question) -> tuple[FingerAhead, Plan]:
    assert isinstance(asked.task, FingerAhead)
    return asked.task, plan_of(asked.task.piece, asked.player)


def answered(asked: Question, given: Fingering | AfterNote | None) -> Verdict:
    return judge(asked, Answer(given, 1.0), 10.0)


def resting(player: Player, position: int) -> dict[int, int]:
    """Return where the fingers lie, one finger per fret or 1-2-4, as far as the neck goes."""
    offsets = finger_offsets(player.neck, player.hand, position)
    return {f: position + n for f, n in offsets.items() if position + n <= player.neck.frets}


# Before the verdict


@pytest.mark.parametrize("name", PLAYERS)
@pytest.mark.parametrize("shown", [Shown.NAMES, Shown.STAFF])
def test_the_neck_tells_no_place_before_it_is_chosen(name: str, shown: Shown) -> None:
    for asked in questions(PLAYERS[name], 3, shown):
        task, plan = asked_of(asked)
        here = plan.states[task.index]
        view = ahead_view(asked, task, ())
        assert view.marks == {here.place: Role.CHOSEN}
        assert view.labels == {here.place: str(here.finger)}
        assert view.fingers == resting(asked.player, here.anchor)
        assert view.other_hand is None
        assert view.hand_text.startswith(f"{ROMANS[here.anchor - 1]}: the hand as it is")


@pytest.mark.parametrize("count", [1, 3])
def test_places_that_are_given_are_asked_about_without_a_finger(count: int) -> None:
    for asked in questions(BASS, count, Shown.PLACES):
        task, plan = asked_of(asked)
        view = ahead_view(asked, task, ())
        here = plan.states[task.index].place
        coming = {plan.states[index].place for index in task.asked}
        assert set(view.marks) == coming | {here}
        assert view.marks[here] is Role.CHOSEN
        for place in coming - {here}:
            assert view.marks[place] is Role.ASKED
            ahead = [str(n) for n, i in enumerate(task.asked, 1) if plan.states[i].place == place]
            wanted = ",".join(f"+{n}" for n in ahead) if count > 1 else ""
            assert view.labels.get(place, "") == wanted


@pytest.mark.parametrize("shown", Shown)
def test_what_was_chosen_stands_on_the_neck_with_its_finger(shown: Shown) -> None:
    rng = random.Random(6)
    for asked in questions(BASS, 3, shown)[::2]:
        task, plan = asked_of(asked)
        layers = plan.solution.problem.layers
        chosen = [rng.choice(layers[index].choices) for index in task.asked]
        here = plan.states[task.index].place
        for given in range(1, 4):
            view = ahead_view(asked, task, chosen[:given])
            for number, choice in enumerate(chosen[:given]):
                place = Place(*choice[:2])
                same = [c for c in chosen[:given] if Place(*c[:2]) == place]
                if place != here and len(same) == 1 and number == given - 1:
                    assert view.marks[place] is Role.CHOSEN
                    assert view.labels[place].split(",")[0] == str(choice.finger)
            if shown is not Shown.PLACES:
                places = {Place(*choice[:2]) for choice in chosen[:given]}
                assert set(view.marks) == places | {here}


def reached(player: Player, midi: int, position: int) -> set[Place]:
    """Return where some finger takes a pitch from a position, counting frames up."""
    offsets = {n for frets in FRAMES[player.hand.system].values() for n in frets}
    return {
        place
        for place in player.neck.places_of(midi)
        if place.fret == 0 or place.fret - position in offsets
    }


@pytest.mark.parametrize("name", PLAYERS)
def test_a_phrase_is_seen_where_either_hand_has_it(name: str) -> None:
    player = PLAYERS[name]
    for asked in shifts(player):
        task = asked.task
        assert isinstance(task, ChooseShift)
        view = shift_view(asked, task, SHOWN)
        named: dict[Place, set[str]] = {}
        for note in task.piece.line.notes:
            for position in (task.from_position, task.to_position):
                for place in reached(player, note.pitch.midi, position):
                    named.setdefault(place, set()).add(SHOWN.pitch(note.pitch))
        assert view.marks == dict.fromkeys(named, Role.CHOSEN)
        assert set(view.labels) == set(named)
        assert all(view.labels[place] in named[place] for place in named)
        assert view.fingers == resting(player, task.from_position)
        assert view.other_hand is not None
        assert view.other_hand.fingers == resting(player, task.to_position)
        assert view.hand_text == f"from {ROMANS[task.from_position - 1]}"
        assert view.other_hand.text == f"to {ROMANS[task.to_position - 1]}"


# Playing through


def verdicts(player: Player) -> Iterator[tuple[Verdict, PlayedOn]]:
    rng = random.Random(7)
    for asked in questions(player, 2, Shown.NAMES)[::2]:
        task, plan = asked_of(asked)
        layers = plan.solution.problem.layers
        given = Fingering(tuple(rng.choice(layers[index].choices) for index in task.asked))
        for answer in (given, asked.right, None, Fingering((Choice(1, 24, 0), given.choices[1]))):
            assert answer is None or isinstance(answer, Fingering)
            verdict = answered(asked, answer)
            (played,) = (r for r in verdict.reasons if isinstance(r, PlayedOn))
            yield verdict, played


@pytest.mark.parametrize("name", PLAYERS)
def test_a_frame_for_every_note_from_where_the_hand_stood(name: str) -> None:
    longest = 0
    for verdict, played in verdicts(PLAYERS[name]):
        frames = play_through(verdict.question, verdict, SHOWN)
        last = min(played.last, played.first + MOST_FRAMES)
        assert len(frames) == last - played.first + 1
        longest = max(longest, len(frames))
        notes, line = played.best.line.notes, played.best.line
        for at, frame in enumerate(frames, start=played.first):
            seconds = LEAST_S
            if at + 1 < len(notes):
                seconds = SLOWER * line.seconds_between(notes[at].onset, notes[at + 1].onset)
            assert frame.seconds == pytest.approx(min(max(seconds, LEAST_S), MOST_S))
    assert longest > 4


def check_alone(view: NeckView, state: State, player: Player) -> None:
    assert view.marks == {state.place: Role.RIGHT}
    assert view.labels == {state.place: str(state.finger)}
    assert view.fingers == resting(player, state.anchor)
    assert view.other_hand is None


def check_both(view: NeckView, yours: State, best: State, player: Player) -> None:
    assert view.fingers == resting(player, yours.anchor)
    assert view.other_hand is not None
    assert view.other_hand.fingers == resting(player, best.anchor)
    assert view.hand_text.startswith(f"yours: {ROMANS[yours.anchor - 1]}, ")
    assert view.other_hand.text.startswith(f"best:  {ROMANS[best.anchor - 1]}, ")
    if yours.choice == best.choice:
        assert view.marks == {best.place: Role.RIGHT}
    elif yours.place == best.place:
        assert set(view.marks) == {best.place}
        assert view.labels == {best.place: f"{yours.finger}/{best.finger}"}
    else:
        assert view.marks == {yours.place: Role.WRONG, best.place: Role.MISSED}
        assert view.labels == {yours.place: str(yours.finger), best.place: str(best.finger)}


@pytest.mark.parametrize("name", PLAYERS)
def test_both_hands_are_seen_where_they_differ(name: str) -> None:
    seen = set()
    for verdict, played in verdicts(PLAYERS[name]):
        frames = play_through(verdict.question, verdict, SHOWN)
        first, last = played.first, played.last
        differ = played.best.states[first : last + 1] != played.yours.states[first : last + 1]
        seen.add(differ)
        for at, frame in enumerate(frames, start=first):
            best, yours = played.best.states[at], played.yours.states[at]
            if differ:
                check_both(frame.view, yours, best, PLAYERS[name])
            else:
                check_alone(frame.view, best, PLAYERS[name])
    assert seen == {True, False}


def way(text: str) -> tuple[str, int, float] | None:
    """Read how a hand comes to a note; None if it stays."""
    told = re.search(r"(up|back) \S+ frets?, (\d+) mm in (\d+\.\d\d) s(?:: no time)?$", text)
    if told is None:
        assert text.endswith("stays"), text
        return None
    return told[1], int(told[2]), float(told[3])


@pytest.mark.parametrize("name", PLAYERS)
def test_each_hand_says_how_it_came_to_the_note(name: str) -> None:
    moved = 0
    for verdict, played in verdicts(PLAYERS[name]):
        for at, frame in enumerate(play_through(verdict.question, verdict, SHOWN), played.first):
            if at == played.first:
                continue
            texts = [(played.yours, frame.view.hand_text)]
            if frame.view.other_hand is not None:
                texts.append((played.best, frame.view.other_hand.text))
            for plan, text in texts:
                one, two = plan.states[at - 1], plan.states[at]
                told = way(text)
                scale = verdict.question.player.neck.scale_mm
                mm = scale * abs(2 ** (-one.anchor / 12) - 2 ** (-two.anchor / 12))
                assert (told is None) == (one.anchor == two.anchor)
                if told is not None:
                    moved += 1
                    assert told[0] == ("up" if two.anchor > one.anchor else "back")
                    assert told[1] == round(mm)
    assert moved > 20


def test_the_last_frame_has_one_hand_again_or_the_line_is_over() -> None:
    met = 0
    for verdict, played in verdicts(BASS):
        frames = play_through(verdict.question, verdict, SHOWN)
        if len(frames) <= played.last - played.first:
            continue  # cut short: too long to look at
        if played.last + 1 < len(played.best.states):
            met += 1
            assert frames[-1].view.marks == {played.best.states[played.last].place: Role.RIGHT}
    assert met > 20


def test_a_shift_is_played_by_the_first_moment_that_is_told() -> None:
    for asked in shifts(BASS):
        assert isinstance(asked.task, ChooseShift)
        count = len(asked.task.piece.line.notes)
        for given in (None, *map(AfterNote, range(1, count))):
            verdict = answered(asked, given)
            told = next(r for r in verdict.reasons if isinstance(r, ShiftAfter))
            frames = play_through(asked, verdict, SHOWN)
            assert len(frames) == count
            for frame, state in zip(frames, told.plan.states, strict=True):
                check_alone(frame.view, state, BASS)


def test_nothing_is_played_of_other_drills() -> None:
    asked = shifts(BASS)[0]
    verdict = answered(asked, None)
    bare = Verdict(asked, verdict.answer, 0, 0.0, 1.0, 10.0, ())
    assert play_through(asked, bare, SHOWN) == []


def test_frames_in_ascii() -> None:
    def texts(frames: list[Frame]) -> Iterator[str]:
        for frame in frames:
            yield frame.view.hand_text
            yield frame.view.other_hand.text if frame.view.other_hand else ""
            yield from frame.view.labels.values()

    for verdict, _ in verdicts(BASS):
        assert all(text.isascii() for text in texts(play_through(verdict.question, verdict, PLAIN)))
