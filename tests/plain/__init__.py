"""The drills on plain lines of text."""
