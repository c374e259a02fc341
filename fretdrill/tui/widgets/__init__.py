"""Widgets that wrap what is drawn elsewhere."""
