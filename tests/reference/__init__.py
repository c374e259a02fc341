"""The program held against the outside world: standards, printed tables, an oracle."""
