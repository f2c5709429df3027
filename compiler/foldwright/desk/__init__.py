"""The desk: a recipe written, seen and kept in the browser of this machine."""
