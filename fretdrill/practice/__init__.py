"""A session, the journal, the player's settings, where the files are."""
