"""Kinds of drill, questions, grading and packs; no screen, port, disk or clock."""
