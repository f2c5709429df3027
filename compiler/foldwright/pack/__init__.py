"""Things in a room: whether they go in, how they lie, and what room is left. Knows numbers only."""
