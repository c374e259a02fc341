"""What both front ends show: the neck as text, and the words; no screen, no colour."""
