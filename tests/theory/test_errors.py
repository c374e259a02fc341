"""Faults are one tree, and an unknown name comes with the nearest known one."""

import pytest

from fretdrill import errors


def test_every_fault_is_a_fretdrill_error() -> None:
    faults = [value for value in vars(errors).values() if isinstance(value, type)]
    faults = [fault for fault in faults if issubclass(fault, Exception)]
    assert len(faults) >= 8
    assert all(issubclass(fault, errors.FretdrillError) for fault in faults)


def test_faults_of_input_are_value_errors_too() -> None:
    for fault in (errors.UnknownName, errors.ManyFaults, errors.NothingToAsk):
        assert issubclass(fault, errors.InputError)
        assert issubclass(fault, ValueError)
    assert not issubclass(errors.JournalError, errors.InputError)


def test_an_unknown_name_carries_what_was_asked_and_the_nearest() -> None:
    fault = errors.UnknownName("colour", "reed", ["red", "green"])
    assert (fault.what, fault.value, fault.nearest) == ("colour", "reed", "red")
    assert str(fault) == "unknown colour 'reed'; did you mean 'red'?"


def test_where_nothing_is_near_the_known_names_are_listed() -> None:
    fault = errors.UnknownName("colour", "zzz", ["red", "green"])
    assert fault.nearest is None
    assert "red, green" in str(fault)


def test_a_long_list_of_names_is_cut() -> None:
    fault = errors.UnknownName("number", "zzz", [f"name{i}" for i in range(40)])
    assert "name11" in str(fault)
    assert "name12" not in str(fault)
    assert str(fault).endswith("…")


@pytest.mark.parametrize(("typed", "nearest"), [("MAJRO", "Major"), ("minr", "minor"), ("q", None)])
def test_the_nearest_name_ignores_case_and_keeps_its_own(typed: str, nearest: str | None) -> None:
    assert errors.nearest_name(typed, ["Major", "minor"]) == nearest


def test_many_faults_are_listed_a_line_each_with_file_and_key() -> None:
    faults = [
        errors.Located("a.toml", "drill[0].kind", "bad"),
        errors.Located("b.toml", "", "gone"),
    ]
    assert str(errors.ManyFaults(faults)).splitlines() == [
        "a.toml: drill[0].kind: bad",
        "b.toml: gone",
    ]
