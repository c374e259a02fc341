"""Music with no instrument: pitch and spelling, intervals, keys, chords."""
