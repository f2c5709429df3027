"""What is the matter with a text or with a call, as plain data; the wording lives in `document`."""

from foldwright.finding.model import Finding, LineTable, Place, Said, Strength, Wrong

__all__ = ["Finding", "LineTable", "Place", "Said", "Strength", "Wrong"]
