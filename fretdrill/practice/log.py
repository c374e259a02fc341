"""Unexpected errors go to a file; the player gets one line that names it."""

import logging
import traceback

from fretdrill.practice.home import Home


def log_unexpected() -> str:
    """Log the exception being handled and return the line for the player."""
    details = traceback.format_exc()
    log = Home.find().log
    try:
        log.parent.mkdir(parents=True, exist_ok=True)
        handler = logging.FileHandler(log, encoding="utf-8")
    except OSError as fault:
        reason = details.strip().splitlines()[-1]
        return f"an unexpected error: {reason} (it cannot be logged: {fault})"
    handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
    handler.emit(logging.LogRecord("fretdrill", logging.ERROR, "", 0, details, None, None))
    handler.close()
    return f"an unexpected error; the details are in {log}"
