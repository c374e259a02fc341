"""Readers of lines."""
