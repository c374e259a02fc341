"""The drills as plain lines of text, for screen readers, pipes and tests."""
