"""The papers of an event in words: what a planned event says on each, as plain data."""
