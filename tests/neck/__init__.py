"""Tests of the instrument: tuning, geometry, places, positions, scopes."""
