"""The screens, one class a file, each with its style sheet beside it."""
