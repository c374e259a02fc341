"""Sessions, the journal, settings and packs on disk."""
