"""Tests of music with no instrument."""
