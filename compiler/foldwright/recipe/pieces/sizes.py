"""How large a piece is, as its author says it: across x down, one number, by another piece, or by the room inside."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from foldwright.measure.length import Length, Unit
from foldwright.measure.reading import UNIT_WORDS
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import Fact
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import dims_of, length_of, lengths_in
from foldwright.recipe.model import Dims, PanelFact, RelativeSize, Said
from foldwright.recipe.pieces.relative import is_relative, read_relative

_REST_BY = re.compile(r"(?:the )?(?:rest|remainder|\*)\s*(?:x|×|by)\s*", re.IGNORECASE)
_SQUARE = re.compile(r"\bsquare\b", re.IGNORECASE)
_ACROSS_DOWN = re.compile(
    r"\s+(?:across|wide)\b(?P<between>\s*(?:,|and|x|by)\s*(?=[0-9]))?"
    r"|\s+(?:down|high|tall|square|in diameter|each way)\b(?!.*[0-9])",
    re.IGNORECASE | re.DOTALL,
)
"""Words that say which way a number goes, where that is the way it would be taken."""
_WORD = re.compile(r"[a-z]+|['\"″”]+")
_SQUARE_OUTLINES = frozenset(
    {"circle", "round", "disc", "disk", "oval", "ellipse", "arch", "house", "tag", "octagon", "heart"}
)
"""Outlines that fill a square when their size is one number; any other keeps its own proportions."""


def read_band(
    value: Phrase | None, facts: Mapping[str, Fact], usual: Unit | None, complaints: Complaints
) -> Said[Length] | None:
    """`rest x 30 mm`, or one number for what goes round something: how wide a band is that is as long as it takes."""
    if value is None or "goes round" not in facts or "outline" in facts:
        return None
    rest = _REST_BY.match(value.text)
    if rest:
        return length_of(value.part(rest.end()), "size", complaints, usual)
    alone = lengths_in(_ACROSS_DOWN.sub("", value.text), usual)
    return Said(alone[0], value.place) if isinstance(alone, tuple) and len(alone) == 1 else None


def read_size(
    value: Phrase | None, facts: Mapping[str, Fact], usual: Unit | None, complaints: Complaints
) -> tuple[Said[Dims] | None, Said[RelativeSize] | None]:
    """A flat size has two lengths; one stands for a square or a circle, and is said back unless a shape was named."""
    if value is None:
        return None, None
    if is_relative(value.text):
        return None, read_relative(value, "size", complaints, usual)
    square = _SQUARE.search(value.text)
    bare = Phrase(_ACROSS_DOWN.sub(_blanked, value.text), value.file, value.start)
    size = dims_of(bare, "size", complaints, (1, 2, 3), usual)
    if size is None or len(size.value.lengths) == 2:
        return size, None
    lengths = size.value.lengths
    if len(lengths) == 3:
        complaints.fault("size-of-a-solid", value)
        return None, None
    outline = facts["outline"].value.plain.casefold() if "outline" in facts else ""
    if outline and outline not in _SQUARE_OUTLINES:
        # How far down it reaches follows from the outline's own proportions.
        return size, None
    if not outline and not square:
        complaints.thought("one-length-size", value, length=lengths[0])
    return Said(Dims(lengths * 2), size.place), None


def _blanked(match: re.Match[str]) -> str:
    """`5 in across, 4 in down` as `5 in x 4 in`, every character at its own place."""
    return ("  x" if match["between"] else "").ljust(len(match[0]))


def read_inside(
    value: Phrase | None, usual: Unit | None, complaints: Complaints
) -> tuple[Said[Dims] | None, Said[RelativeSize] | None]:
    """`inside:` as lengths or as relative to another piece. Both None, and a complaint, where it is neither."""
    if value is None:
        return None, None
    if is_relative(value.text):
        return None, read_relative(value, "inside", complaints, usual)
    return dims_of(value, "inside", complaints, (2, 3), usual), None


def units_of(
    size: Said[Dims] | None, relative: Said[RelativeSize] | None, inside: Said[Dims] | None, facts: Mapping[str, Fact]
) -> tuple[Unit | None, ...]:
    """The units bare numbers are in, across and down. A size that could not be read still shows its unit."""
    dims = size or inside
    if dims:
        return tuple(length.unit for length in dims.value.lengths[:2])
    if relative:
        return (relative.value.by.unit,)
    return (_unit_shown(facts["size"].value.text) if "size" in facts else None,)


def _unit_shown(text: str) -> Unit | None:
    return next((UNIT_WORDS[word] for word in reversed(_WORD.findall(text.lower())) if word in UNIT_WORDS), None)


def or_usual(units: tuple[Unit | None, ...], usual: Unit | None) -> tuple[Unit | None, ...]:
    """The units, with the usual one wherever none is said."""
    return tuple(unit or usual for unit in units)


def size_following(
    size: Said[Dims], anew: Collection[str], rows: tuple[tuple[PanelFact, ...], tuple[PanelFact, ...]]
) -> Said[Dims]:
    """The size of a piece of which a size of the project gives new panels and no new size: what the panels come to."""
    lengths = list((size.value.lengths * 2)[:2])
    for number, (side, row) in enumerate(zip(("across", "down"), rows, strict=True)):
        known = [panel.length for panel in row if panel.length is not None]
        if side in anew and row and len(known) == len(row):
            lengths[number] = sum(known[1:], start=known[0])
    return Said(Dims(tuple(lengths)), size.place)
