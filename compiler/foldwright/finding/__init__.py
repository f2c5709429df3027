"""What is the matter with a text or with a call, as plain data; the wording lives in `document`."""

from foldwright.finding.model import Finding, Strength, Wrong
from foldwright.finding.place import LineTable, Place

__all__ = ["Finding", "LineTable", "Place", "Strength", "Wrong"]
