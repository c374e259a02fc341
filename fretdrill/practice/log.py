"""Unexpected errors go to a file; the player gets one line that names it."""

import traceback
from datetime import datetime

from fretdrill.errors import InputError
from fretdrill.practice.home import Home


def log_unexpected() -> str:
    """Log the exception being handled and return the line for the player; never raises."""
    details = traceback.format_exc()
    stamp = datetime.now().astimezone().isoformat(timespec="seconds")
    try:
        log = Home.find().log
        log.parent.mkdir(parents=True, exist_ok=True)
        with log.open("a", encoding="utf-8", errors="backslashreplace") as file:
            file.write(f"{stamp} {details}\n")
    except (OSError, InputError) as fault:
        reason = details.strip().splitlines()[-1]
        return f"an unexpected error: {reason} (it cannot be logged: {fault})"
    return f"an unexpected error; the details are in {log}"
