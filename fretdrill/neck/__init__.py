"""The instrument: tunings, fret geometry in mm, places, position windows."""
