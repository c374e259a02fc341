"""The arrows between the folders go one way, and nothing slow is loaded early."""

import pkgutil
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
OUTER = ("textual", "rich", "mido", "sqlite3", "platformdirs", "tomlkit")
INNER = ("theory", "neck", "hand", "engine")


def modules_of(package: str) -> list[str]:
    name = f"fretdrill.{package}"
    found = pkgutil.walk_packages(import_module(name).__path__, f"{name}.")
    return [name, *(module.name for module in found)]


def run_fresh(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", code, *arguments]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)


def loaded_after(statement: str) -> set[str]:
    """Return the top-level modules that a fresh interpreter has after a statement."""
    done = run_fresh(f"import sys\n{statement}\nprint('\\n', *sys.modules)")
    assert done.returncode == 0, done.stderr
    return {name.split(".")[0] for name in done.stdout.split()}


@pytest.mark.parametrize("package", INNER)
def test_the_engine_side_loads_no_screen_port_or_disk(package):
    modules = modules_of(package)
    assert len(modules) > 1
    loaded = loaded_after(f"import {', '.join(modules)}")
    assert "fretdrill" in loaded
    assert loaded.isdisjoint(OUTER)


@pytest.mark.parametrize("package", ["practice", "presentation", "plain"])
def test_what_both_front_ends_share_loads_no_screen(package):
    assert loaded_after(f"import {', '.join(modules_of(package))}").isdisjoint(("textual", "rich"))


def test_version_loads_next_to_nothing():
    statement = (
        "import contextlib\nfrom fretdrill.cli import main\n"
        "with contextlib.suppress(SystemExit):\n    main(['--version'])"
    )
    assert loaded_after(statement).isdisjoint((*OUTER, "hypothesis", "numpy", "asyncio"))


def test_a_plain_session_loads_no_screen():
    statement = "from fretdrill.cli import main\nassert main(['drill', 'find', '--plain']) == 0"
    assert loaded_after(statement).isdisjoint(("textual", "rich", "mido"))


@pytest.mark.parametrize("package", ["", ".theory", ".neck", ".hand", ".engine", ".practice"])
def test_importing_a_package_does_no_work(package):
    done = run_fresh(
        f"import sys, fretdrill{package}\nprint(*(m for m in sys.modules if 'fretdrill' in m))"
    )
    assert set(done.stdout.split()) <= {"fretdrill", f"fretdrill{package}"}


@pytest.mark.parametrize("package", INNER)
def test_the_engine_side_draws_from_no_global_generator(package):
    modules = modules_of(package)
    code = (
        "import random\nstate = random.getstate()\n"
        f"import {', '.join(modules)}\n"
        "from random import Random\n"
        "from fretdrill.engine.drill import Drill, Standing\n"
        "from fretdrill.engine.noteset import NoteSet\n"
        "from fretdrill.engine.part import Part\n"
        "from fretdrill.engine.player import Player\n"
        "from fretdrill.hand.hand import Hand\n"
        "from fretdrill.neck.neck import Neck\n"
        "from fretdrill.neck.scope import Scope\n"
        "drill = Drill('find', (Part(Scope(), NoteSet.parse('naturals')),))\n"
        "drill.ask(Player(Neck(), Hand()), 0, Random(1), Standing({}))\n"
        "assert random.getstate() == state"
    )
    done = run_fresh(code)
    assert done.returncode == 0, done.stderr


def test_import_contracts_are_kept():
    pytest.importorskip("importlinter")
    code = "import sys; from importlinter.cli import lint_imports_command as c; sys.exit(c())"
    done = run_fresh(code, "--no-cache")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "broken" in done.stdout
    assert " 0 broken" in done.stdout
