"""The Textual app: screens and widgets over the engine."""
