"""Paper that folds: lines on a blank, panels and creases between them, the shape in space, and whether it works."""
