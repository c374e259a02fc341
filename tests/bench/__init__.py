"""Figures, measured and printed, never asserted: ``python -m tests.bench``."""
