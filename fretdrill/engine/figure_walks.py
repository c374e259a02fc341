"""Figures that walk along the scale: stepwise lines, and chromatic approaches.

Idea: a line goes from a tone of a chord to a tone of the next one, so that it has
somewhere to go. A stepwise line makes its way in runs of scale steps, and takes up the
shape of an earlier bar; a chromatic one comes to each half bar by half steps from below
or above, or from around (an enclosure). Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import accumulate, groupby
from random import Random

from fretdrill.engine.figure_rhythms import Sound
from fretdrill.engine.figure_room import Room
from fretdrill.theory.pitch import Pitch

LONG = Fraction(3, 8)  # a note that gives time to leap
LEAP_SHARE = 0.6  # of long notes are left by a leap
REPEAT_SHARE = 0.5  # of bars take up an earlier one
LEAPS = range(3, 8)  # scale steps
TRIES = 3  # of which the widest is taken, so that the hand has something to do
FARTHEST = 2  # how many of the farthest aims are drawn from
NEAR = range(1, 6)  # scale steps from one half bar's tone to the next
SMALL_SEMITONES, LARGE_SEMITONES = 4, 7  # into an approach
ENCLOSURE = 2  # notes around a tone
LONGEST_APPROACH = 3
TONE_SHARE = 0.5  # of three notes and more, two are tones of the chord


def stepwise(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], rng: Random
) -> list[Pitch]:
    """Return a line in scale steps, from the tonic to the tonic.

    Args:
        room: the tones there are.
        chords: the degree of the scale that each bar's chord stands on; 1 first and last.
        bars: the notes of each bar, at least three.
        rng: chance.
    """
    tries = [_walked(room, chords, bars, rng) for _ in range(TRIES)]
    widest = max(tries, key=lambda line: max(line) - min(line))
    return [room.tones[place] for place in widest]


def _walked(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], rng: Random
) -> list[int]:
    """Return the places of one stepwise line."""
    place = room.home
    line: list[int] = []
    shapes: dict[int, list[int]] = {}
    ending = len(bars[-1]) - 1
    for index, sounds in enumerate(bars[:-1]):
        aims = room.chord(chords[index + 1])
        moves = _repeated(room, place, shapes.get(len(sounds)), rng)
        if not moves:
            moves = _fresh(room, place, aims, len(sounds), rng)[:-1]
            shapes.setdefault(len(sounds), moves)
        line += accumulate(moves, initial=place)
        if index == len(bars) - 2:
            aims = _lead_home(room, ending)
        place = _joined(line, aims, sounds[-1].length >= LONG, rng)
    return line + list(accumulate(_fresh(room, place, room.places(1), ending, rng), initial=place))


def _lead_home(room: Room, moves: int) -> list[int]:
    """Return the tones of the tonic from which so many steps lead to it."""
    homes = room.places(1)
    tones = [
        tone
        for tone in room.chord(1)
        if any(abs(home - tone) <= moves and (home - tone - moves) % 2 == 0 for home in homes)
    ]
    return tones or homes  # from the tonic round and back, its first note repeated


def _repeated(room: Room, place: int, shape: list[int] | None, rng: Random) -> list[int]:
    """Return an earlier bar's moves, or them upside down; none if they do not fit."""
    if not shape or rng.random() >= REPEAT_SHARE:
        return []
    mirrored = [-move for move in shape]
    return next((moves for moves in (shape, mirrored) if _fits(room, place, moves)), [])


def _fits(room: Room, place: int, moves: Sequence[int]) -> bool:
    return all(0 <= reached < len(room) for reached in accumulate(moves, initial=place))


def _fresh(room: Room, place: int, aims: Sequence[int], count: int, rng: Random) -> list[int]:
    """Return so many moves by step to one of the aims, rather to a far one.

    Where no aim is as many steps off, the first note is repeated.
    """
    for repeat in (0, 1):
        steps = count - repeat
        reached = [aim for aim in aims if (aim - place - steps) % 2 == 0]
        reached = [aim for aim in reached if abs(aim - place) <= steps]
        reached.sort(key=lambda aim: -abs(aim - place))
        if reached:
            aim = rng.choice(reached[:FARTHEST])
            ways = [way for way in _ways(aim - place, steps) if _fits(room, place, way)]
            return [0] * repeat + rng.choice(ways)
    raise AssertionError("some tone of a triad is at most two steps off")


def _ways(distance: int, steps: int) -> Iterator[list[int]]:
    """Yield the ways to go so far in so many steps, in two runs or three, none a trill."""
    for way in (1, -1):
        onward = (steps + way * distance) // 2
        back = steps - onward
        for first in range(onward + 1):
            runs = (first, back, onward - first)
            if 0 in runs or runs.count(1) < 2:
                yield [way] * first + [-way] * back + [way] * (onward - first)


def _joined(line: Sequence[int], aims: Sequence[int], long: bool, rng: Random) -> int:
    """Return where the next bar begins: close by, or after a long note by a leap."""
    last = line[-1]
    leaps = [aim for aim in aims if abs(aim - last) in LEAPS]
    if long and leaps and rng.random() < LEAP_SHARE:
        return rng.choice(leaps)
    others = [aim for aim in aims if aim != last] or aims
    return min(others, key=lambda aim: (abs(aim - last), aim == line[-2]))


def chromatic(
    room: Room, chords: Sequence[int], bars: Sequence[Sequence[Sound]], rng: Random
) -> list[Pitch]:
    """Return chord tones on the half bars, and half steps into them; see :func:`stepwise`.

    Every note outside the scale goes on by a half step.
    """
    halves = [
        (chord, len(list(sounds)))
        for chord, bar in zip(chords, bars, strict=True)
        for _, sounds in groupby(bar, key=lambda sound: int(2 * sound.onset))
    ]
    place = room.home
    line: list[Pitch] = []
    for index, (chord, count) in enumerate(halves[:-1]):
        last = index + 2 == len(halves)
        aims = room.places(1) if last else room.chord(halves[index + 1][0])
        aim = rng.choice(_near(aims, place) or [min(aims, key=lambda aim: abs(aim - place))])
        line += _led_into(room, [place, *room.chord(chord)], aim, count, rng)
        place = aim
    return [*line, room.tones[place]]


def _led_into(room: Room, tones: Sequence[int], aim: int, count: int, rng: Random) -> list[Pitch]:
    """Return so many notes, one to four, from the first of the tones to before the aim."""
    line = [room.tones[tones[0]]]
    if count > LONGEST_APPROACH or (count == LONGEST_APPROACH and rng.random() < TONE_SHARE):
        between = _near(_near(tones, aim), tones[0]) or _near(tones, tones[0])
        line.append(room.tones[rng.choice(between or tones[:1])])
    if count > len(line):
        line += _approach(room, line[-1], aim, count - len(line), rng)
    return line


def _near(tones: Sequence[int], place: int) -> list[int]:
    """Return the tones that lie near a place, itself left out."""
    return [tone for tone in tones if abs(tone - place) in NEAR]


def _approach(room: Room, before: Pitch, aim: int, count: int, rng: Random) -> list[Pitch]:
    """Return so many notes into a tone, one to three.

    Rather with a note outside the scale, near the note before, and not on it.
    """
    ways = list(_approaches(room, aim, count))

    def rank(way: list[Pitch]) -> tuple[bool, bool, bool]:
        leap = abs(way[0].midi - before.midi)
        inside = all(note.name in room.key.scale for note in way)
        return not 0 < leap <= LARGE_SEMITONES, inside, leap > SMALL_SEMITONES

    best = min(map(rank, ways))
    return rng.choice([way for way in ways if rank(way) == best])


def _approaches(room: Room, aim: int, count: int) -> Iterator[list[Pitch]]:
    """Yield the ways into a tone: half steps from below, from above, and from around."""
    midi = room.tones[aim].midi
    if midi - count in room.sounding:
        yield [room.risen(midi - back) for back in range(count, 0, -1)]
    if midi + count in room.sounding:
        yield [room.fallen(midi + back) for back in range(count, 0, -1)]
    if count == ENCLOSURE and 0 < aim < len(room) - 1:
        yield [room.tones[aim + 1], room.risen(midi - 1)]
        yield [room.tones[aim - 1], room.fallen(midi + 1)]
