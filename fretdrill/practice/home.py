"""Where the player's files are.

The platform's own folders (platformdirs), or all of them under ``FRETDRILL_HOME``.
"""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Self

import platformdirs

from fretdrill.errors import InputError


@dataclass(frozen=True)
class Home:
    """The folders of one player.

    Attributes:
        config: holds ``settings.toml``.
        data: holds ``journal.db``, the folders ``packs`` and ``lines`` with the player's own,
            and ``pins`` with what they settled about lines.
        logs: holds ``fretdrill.log``.
    """

    config: Path
    data: Path
    logs: Path

    @classmethod
    def find(cls, environment: Mapping[str, str] = os.environ) -> Self:
        """Return the folders, by ``FRETDRILL_HOME`` or by the platform's habit.

        Raises:
            InputError: ``FRETDRILL_HOME`` begins with a user that there is not.
        """
        moved = environment.get("FRETDRILL_HOME")
        if moved:
            try:
                folder = Path(moved).expanduser()
            except RuntimeError as fault:
                raise InputError(f"FRETDRILL_HOME is '{moved}': {fault}") from fault
            return cls(folder, folder, folder)
        folders = platformdirs.PlatformDirs("fretdrill", appauthor=False)
        return cls(folders.user_config_path, folders.user_data_path, folders.user_log_path)

    @property
    def settings(self) -> Path:
        """The settings file."""
        return self.config / "settings.toml"

    @property
    def journal(self) -> Path:
        """The journal's file."""
        return self.data / "journal.db"

    @property
    def lines(self) -> Path:
        """The folder of the player's own lines."""
        return self.data / "lines"

    @property
    def pins(self) -> Path:
        """The folder of what the player settled about lines."""
        return self.data / "pins"

    @property
    def packs(self) -> Path:
        """The folder of the player's own packs."""
        return self.data / "packs"

    @property
    def log(self) -> Path:
        """The file that unexpected errors are written to."""
        return self.logs / "fretdrill.log"
