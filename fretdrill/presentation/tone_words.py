"""The words of drills about chord tones, reading and slurs."""

from typing import Any


def task_text(words: Any, question: Any) -> str:
    """Return what is asked."""
    return ""


def reason_text(words: Any, question: Any, reason: Any) -> str:
    """Return a reason."""
    return ""


def subject_text(words: Any, question: Any) -> str:
    """Return what is worth another look."""
    return ""


def stage_text(words: Any, neck: Any, stage: Any) -> str | None:
    """Return what a stage is about."""
    return None
