"""The order of folding as the words of the steps tell it: "fold the pocket up, then the leaves"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from foldwright.geometry.flat.blank import Blank
from foldwright.recipe.model import Step
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary.work import FOLDING

_PART = re.compile(r"[.;\n]|,? (?:and )?(?:then|next|after that|last|lastly|finally)\b", re.IGNORECASE)
"""What parts one fold from the next. Without such a word nothing is said of an order."""
_ORDER = re.compile(r"\b(?:then|next|after that|last|lastly|finally|first)\b", re.IGNORECASE)
_NOUN = r" (?:leaf|page|panel|flap|gate|wall|side|end|part|third|half)\b"
"""After a word such as `left` that says where and not what."""


def order_in_words(blank: Blank, steps: Sequence[Step]) -> tuple[tuple[str, ...], ...]:
    """The panels of a piece that the words of its folding name, those of one fold together, in the order of folding;
    empty where they tell no order."""
    for step in steps:
        if any(doing.act in FOLDING and blank.piece in doing.subjects for doing in step.doings):
            parts = _PART.split(spoken_text(step.words)) if _ORDER.search(spoken_text(step.words)) else []
            found = _each_once([tuple(_named(blank, part)) for part in parts])
            if found:
                return found
    return ()


def _each_once(groups: Sequence[tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    seen: set[str] = set()
    kept = []
    for group in groups:
        new = tuple(name for name in group if name not in seen)
        seen.update(new)
        kept += [new] if new else []
    return tuple(kept)


def _named(blank: Blank, text: str) -> Iterator[str]:
    """The panels that stand in a part of a sentence that speaks of folding, or goes on from one that does."""
    strips = (*blank.across, *blank.down)
    names = dict.fromkeys(
        name.casefold() for name in (*(one.name for one in strips), *(one.name for one in blank.faces))
    )
    roles = dict.fromkeys(one.role for one in strips if not one.name and one.role)
    for name in names:
        if name and re.search(rf"\b{re.escape(name)}\b", text, re.IGNORECASE):
            yield name
    for role in roles:
        if re.search(rf"\bthe {role}{_NOUN}", text, re.IGNORECASE):
            yield role
