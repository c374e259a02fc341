"""What drills ask, how answers are judged and how levels move."""
