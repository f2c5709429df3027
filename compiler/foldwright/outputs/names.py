"""The names a call may use, kept apart so that `--help` need not import what they stand for."""

from __future__ import annotations

OUTPUTS = ("tutorial", "fragment", "card", "handout", "template", "pieces", "sheet")
ON_PAPER = frozenset({"card", "handout", "template"})
"""Those set by the typesetter."""
FORMS = ("box", "lid", "sleeve", "card", "booklet", "tag")
