"""Faults, misfits and thoughts as plain data; the wording lives in `sheet`."""

from foldwright.finding.model import Finding, Strength
from foldwright.finding.place import LineTable, Place

__all__ = ["Finding", "LineTable", "Place", "Strength"]
