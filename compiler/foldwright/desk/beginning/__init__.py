"""The first page, and five ways to a recipe."""
