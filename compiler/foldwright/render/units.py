"""The units of typesetting in millimetres, as floats: pages are measured, not reckoned."""

from __future__ import annotations

from foldwright.measure.length import Unit, millimetres

MM_PER_INCH = float(Unit.INCH.mm)
MM_PER_POINT = float(millimetres("typographic point"))
MM_PER_PX = float(millimetres("pixel"))
POINTS_PER_PX = MM_PER_PX / MM_PER_POINT
