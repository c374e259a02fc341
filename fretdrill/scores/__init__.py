"""Lines in and out of the files that musicians have."""
