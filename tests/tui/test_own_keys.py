"""A player's own keys: what is wrong with them is told, what is sound is not."""

import pytest

from fretdrill.tui.screens import commands_by_screen, faults_of_keys


def faults(**changed: str) -> list[str]:
    keys = {name.replace("__", "."): key for name, key in changed.items()}
    return list(faults_of_keys({name.replace("give_up", "give-up"): k for name, k in keys.items()}))


@pytest.mark.parametrize(
    "key", ["f4", "ctrl+k", "x", "shift+f2", "exclamation_mark", "home", "f4,f5"]
)
def test_sound_keys_pass(key: str) -> None:
    assert faults(drill__give_up=key) == []


@pytest.mark.parametrize("key", ["nonsensekey", "f99", "ctrl+nothing", ""])
def test_a_key_that_is_none_is_named(key: str) -> None:
    (fault,) = faults(drill__give_up=key)
    assert fault.startswith("drill.give-up: there is no key")


def test_a_command_that_is_none_has_its_nearest_named() -> None:
    (fault,) = faults(drill__give_upp="f4")
    assert "did you mean 'drill.give-up'?" in fault


def test_two_commands_of_one_screen_may_not_share_a_key() -> None:
    (fault,) = faults(drill__leave="f2")
    assert "drill.give-up and drill.leave share the key 'f2'" in fault
    assert any("share the key 'enter'" in fault for fault in faults(drill__leave="enter"))


def test_commands_of_different_screens_may_share_a_key() -> None:
    assert faults(today__setup="f2") == []


def test_the_keys_that_come_with_the_program_do_not_clash() -> None:
    for commands in commands_by_screen():
        owners: dict[str, str] = {}
        for command in commands:
            for key in command.keys.split(","):
                other = owners.setdefault(key, command.keys)
                assert other == command.keys, (key, command.id)
