"""Tests of the left hand: its size and what it reaches."""
