"""Keys to answers, without any app."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretdrill.neck.neck import Neck, Place
from fretdrill.neck.scope import Scope
from fretdrill.neck.tuning import Tuning
from fretdrill.practice.settings import KEY_ROWS
from fretdrill.theory.pitch import NoteName
from fretdrill.tui.answering import FingerInput, NoteInput, PlacesInput

QWERTY = KEY_ROWS["qwerty"]
TUNINGS = ("4-string", "5-string", "6-string")
SCOPES = ("position 5", "frets 0-12", "whole neck", "string 2", "frets 3-18, strings 2-4")


def places(
    tuning: str = "4-string",
    scope: str = "position 5",
    layout: str = "qwerty",
    *,
    mirrored: bool = False,
) -> PlacesInput:
    neck = Neck(Tuning.parse(tuning))
    return PlacesInput(neck, Scope.parse(scope), KEY_ROWS[layout], mirrored=mirrored)


def press(answer: PlacesInput | NoteInput | FingerInput, keys: str) -> list[bool]:
    """Press single signs, or names of keys where there is a blank between them."""
    names = keys.split() if " " in keys or len(keys) > 3 else list(keys)
    return [answer.press(key, key if len(key) == 1 else None) for key in names]


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("layout", KEY_ROWS)
@pytest.mark.parametrize("scope", SCOPES)
def test_no_key_stands_for_two_places(tuning: str, layout: str, scope: str) -> None:
    answer = places(tuning, scope, layout)
    for _ in range(4):  # every page of ten frets
        keys = list(answer.hints.values())
        assert len(set(keys)) == len(keys)
        press(answer, " ".join(["right"] * 10))


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("layout", KEY_ROWS)
def test_each_keyboard_row_is_a_string_and_each_key_a_fret(tuning: str, layout: str) -> None:
    """Row 1 to 4 are strings 1 to 4; a fifth and sixth string take low rows with Shift."""
    rows = dict(enumerate(KEY_ROWS[layout], start=1))
    shifted = {5: (KEY_ROWS[layout][3],), 6: (KEY_ROWS[layout][2], KEY_ROWS[layout][3])}
    strings = len(Tuning.parse(tuning))
    for number, row in enumerate(shifted.get(strings, ()), start=5):
        rows[number] = row.upper()
    hints = places(tuning, "position 5", layout).hints
    for place, key in hints.items():
        assert key == rows[place.string][place.fret - 5]
    unshiftable = set(",./-;:!' ")
    for string, row in rows.items():
        for fret in range(5, 9):
            wanted = string <= 4 or row[fret - 5] not in unshiftable
            assert (Place(string, fret) in hints) == wanted


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("layout", KEY_ROWS)
def test_the_key_shown_at_a_place_toggles_that_place_alone(tuning: str, layout: str) -> None:
    for scope in SCOPES:
        for place, key in places(tuning, scope, layout).hints.items():
            answer = places(tuning, scope, layout)
            assert answer.press(key, key)
            assert answer.marks == {place}
            assert answer.cursor == place
            assert answer.press(key, key)
            assert answer.marks == frozenset()


@pytest.mark.parametrize("tuning", TUNINGS)
@pytest.mark.parametrize("layout", KEY_ROWS)
@pytest.mark.parametrize("scope", SCOPES)
def test_left_handed_rows_run_with_the_picture(tuning: str, layout: str, scope: str) -> None:
    """There the nut is on the right: a key further left is a fret nearer the bridge."""
    answer = places(tuning, scope, layout, mirrored=True)
    right_handed = places(tuning, scope, layout).hints
    by_string: dict[int, list[tuple[int, int]]] = {}
    rows = [row.lower() for row in KEY_ROWS[layout]]
    for place, key in answer.hints.items():
        (column,) = {row.index(key.lower()) for row in rows if key.lower() in row}
        by_string.setdefault(place.string, []).append((column, place.fret))
    assert by_string
    for keys in by_string.values():
        frets = [fret for _, fret in sorted(keys)]
        assert frets == sorted(frets, reverse=True)
    full = {string for string in range(1, 5) if string in by_string}
    for string in full:  # the same frets have keys, whichever way the rows run
        assert {p.fret for p in answer.hints if p.string == string} == {
            p.fret for p in right_handed if p.string == string
        }
    for place, key in answer.hints.items():
        pressed = places(tuning, scope, layout, mirrored=True)
        assert pressed.press(key, key)
        assert pressed.marks == {place}


def test_left_handed_fifth_position_by_hand() -> None:
    """Four frets, 8 to 5 from left to right, on the first four keys of a row."""
    answer = places(mirrored=True)
    for key, fret in zip("asdf", (8, 7, 6, 5), strict=True):
        assert answer.hints[Place(3, fret)] == key


@pytest.mark.parametrize("tuning", TUNINGS)
def test_keys_beyond_ten_frets_follow_the_cursor(tuning: str) -> None:
    answer = places(tuning, "whole neck")
    for fret in range(25):
        shown = {place.fret for place in answer.hints}
        tens = fret // 10 * 10
        assert shown == set(range(tens, min(tens + 10, 25)))
        assert fret in shown
        answer.press("right", None)


def test_a_key_of_the_page_marks_where_it_is_shown_now() -> None:
    answer = places(scope="whole neck")
    press(answer, " ".join(["right"] * 12))
    answer.press("q", "q")
    assert answer.marks == {Place(2, 10)}


@pytest.mark.parametrize("mirrored", [False, True])
def test_arrows_go_the_way_they_point_on_the_screen(mirrored: bool) -> None:
    answer = places(mirrored=mirrored)
    assert answer.cursor == Place(4, 5)
    to_bridge, to_nut = ("left", "right") if mirrored else ("right", "left")
    answer.press(to_bridge, None)
    assert answer.cursor == Place(4, 6)
    answer.press("up", None)
    assert answer.cursor == Place(3, 6)
    answer.press(to_nut, None)
    answer.press("down", None)
    assert answer.cursor == Place(4, 5)


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("scope", SCOPES)
def test_the_cursor_never_leaves_the_scope(scope: str, mirrored: bool) -> None:
    answer = places(scope=scope, mirrored=mirrored)
    allowed = set(Scope.parse(scope).places(Neck()))
    for key in ("left", "up", "right", "down", "home", "end"):
        for _ in range(30):
            answer.press(key, None)
            assert answer.cursor in allowed


@given(st.lists(st.sampled_from(["up", "down", "left", "right", "home", "end"]), max_size=40))
@settings(max_examples=60)
def test_space_marks_what_lies_under_the_cursor(moves: list[str]) -> None:
    answer = places(scope="frets 0-12")
    for key in moves:
        assert answer.press(key, None)
    here = answer.cursor
    answer.press("space", " ")
    assert answer.given == {here}


def test_backspace_takes_all_marks_away() -> None:
    answer = places()
    press(answer, "aq")
    assert len(answer.marks) == 2
    answer.press("backspace", None)
    assert answer.given is None


def test_no_mark_is_no_answer() -> None:
    assert places().given is None


def test_a_click_outside_the_scope_marks_but_leaves_the_cursor() -> None:
    answer = places()
    answer.toggle(Place(1, 12))
    assert answer.marks == {Place(1, 12)}
    assert answer.cursor == Place(4, 5)


@pytest.mark.parametrize("key", ["enter", "escape", "f2", "p", "?", "tab"])
def test_other_keys_mean_nothing_here(key: str) -> None:
    """``p`` is the tenth key of its row: position 5 has four frets."""
    answer = places()
    assert not answer.press(key, key if len(key) == 1 else None)
    assert answer.given is None


@pytest.mark.parametrize(
    ("keys", "note"),
    [
        ("c", "C"),
        ("b", "B"),
        ("bb", "Bb"),
        ("bbb", "Bbb"),
        ("b#", "B#"),
        ("f#", "F#"),
        ("F+", "F#"),
        ("e-", "Eb"),
        ("e♭", "Eb"),
        ("c♯", "C#"),
        ("cd", "D"),
        ("c#d", "D"),
        ("g right", "A"),
        ("b right", "C"),
        ("c left", "B"),
        ("a down", "Ab"),
        ("a up", "A#"),
        ("a up down", "A"),
        ("a up up", "A#"),
        ("a down down", "Ab"),
        ("b b #", "B#"),
        ("b # b", "Bb"),
        ("b b b #", "B#"),
        ("b b b b", "Bbb"),
        ("f # # #", "F##"),
        ("f # # -", "Fb"),
        ("f # # up", "F#"),
        ("f # # down", "F#"),
        ("a # backspace", "A"),
        ("right", "C"),
        ("right right b", "Db"),
    ],
)
def test_a_note_is_a_letter_and_its_accidental(keys: str, note: str) -> None:
    answer = NoteInput()
    assert all(press(answer, keys))
    assert answer.given == NoteName.parse(note)
    assert not answer.complete


@pytest.mark.parametrize("key", ["s", "h", "1", "enter"])
def test_nothing_else_changes_a_note(key: str) -> None:
    answer = NoteInput()
    press(answer, "f")
    assert not answer.press(key, key if len(key) == 1 else None)
    assert answer.given == NoteName.parse("F")


def test_a_second_step_back_takes_the_letter() -> None:
    answer = NoteInput()
    press(answer, "a # backspace backspace")
    assert answer.given is None


@pytest.mark.parametrize("key", ["#", "h", "s", "x", "1", "enter", "up"])
def test_no_note_begins_with_anything_else(key: str) -> None:
    answer = NoteInput()
    assert not answer.press(key, key if len(key) == 1 else None)
    assert answer.given is None


@given(st.lists(st.sampled_from([*"abcdefgABCDEFG#+-♭♯s", "up", "down", "left", "right"])))
@settings(max_examples=100)
def test_whatever_is_typed_is_a_note(keys: list[str]) -> None:
    answer = NoteInput()
    for key in keys:
        answer.press(key, key if len(key) == 1 else None)
    assert answer.given is None or abs(answer.given.alter) <= 2


@pytest.mark.parametrize("digit", "01234")
def test_a_digit_is_a_whole_answer(digit: str) -> None:
    answer = FingerInput()
    assert answer.press(digit, digit)
    assert answer.complete
    assert answer.given == int(digit)


@pytest.mark.parametrize("key", ["5", "9", "a", "enter", "up", "²", "１"])
def test_no_other_key_is_a_finger(key: str) -> None:
    answer = FingerInput()
    assert not answer.press(key, key if len(key) == 1 else None)
    assert answer.given is None


def test_arrows_choose_a_finger_without_answering() -> None:
    answer = FingerInput()
    chosen = []
    for key in ["right"] * 5 + ["left"] * 2:
        answer.press(key, None)
        chosen.append(answer.given)
    assert chosen == [1, 2, 3, 4, 0, 4, 3]
    assert not answer.complete
