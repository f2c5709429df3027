"""A recipe being written: its text, what is made of it while it is typed, and its sheets."""
