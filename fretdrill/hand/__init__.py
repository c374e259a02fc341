"""The left hand: its size, what it reaches, which finger lies on which fret."""
