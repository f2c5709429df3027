"""Blanks of forms that are no rows of panels, worked out from the size they have when made or the room inside."""
