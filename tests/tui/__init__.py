"""The Textual app, driven by keys and mouse as a player would."""
