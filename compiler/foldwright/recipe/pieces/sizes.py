"""How large a piece is, as its author says it: across x down, one number, by another piece, or by the room inside."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from foldwright.measure.length import Length, Unit
from foldwright.measure.reading import UNIT_WORDS, read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import Fact, split_at_commas
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import dims_of, length_of, lengths_in
from foldwright.recipe.model import Dims, PanelFact, RelativeSize, Said

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
_RELATIVE = re.compile(
    r"(?P<by>.*?)\s+(?P<turn>smaller|less|narrower|shorter|tighter|bigger|larger|more|wider|longer|looser)\b"
    r"\s*(?P<where>.*?)\s*\bthan\s+(?P<other>.+)",
    re.IGNORECASE | re.DOTALL,
)
_SMALLER = frozenset({"smaller", "less", "narrower", "shorter", "tighter"})
_EVERY_SIDE = re.compile(r"(?:on |at |along )?(?:every|each|all(?: four)?) (?:side|edge)s?", re.IGNORECASE)
_ALL_ROUND = re.compile(r"all a?round", re.IGNORECASE)
_IN_ALL = re.compile(r"in all|in total|altogether|overall", re.IGNORECASE)
_DEPTH = re.compile(
    r"(?P<depth>.+?)\s+(?:deep|high|tall|in depth)|(?:depth|height)\s*:?\s*(?P<named>.+)", re.IGNORECASE
)
_THAN = re.compile(r"\bthan\b", re.IGNORECASE)


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
    if _is_relative(value.text):
        return None, _read_relative(value, "size", complaints, usual)
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
    if _is_relative(value.text):
        return None, _read_relative(value, "inside", complaints, usual)
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


def _is_relative(text: str) -> bool:
    """Whether a size is given by what another piece measures, such as `1/4 in smaller than base`."""
    return bool(_THAN.search(text))


def _read_relative(
    value: Phrase, word: str, complaints: Complaints, unit: Unit | None = None
) -> Said[RelativeSize] | None:
    """Only `on every side` and `in all` are plain; any other wording is asked about, since it may be half or double."""
    first, *further = split_at_commas(value)
    match = _RELATIVE.fullmatch(first.text)
    if match is None:
        complaints.fault("relative-unclear", value, word=word)
        return None
    by = read_length(match["by"], unit)
    if isinstance(by, Unreadable) and by.code == "no-number":
        complaints.fault("relative-unclear", value, word=word)
        return None
    if isinstance(by, Unreadable):
        complaints.unreadable(by, first.part(0, match.end("by")), word=word)
        return None
    sign = -1 if match["turn"].lower() in _SMALLER else 1
    every_side = _which(match, first, by, complaints)
    depth = None
    for part in further:
        deep = _DEPTH.fullmatch(part.text)
        length = read_length(deep["depth"] or deep["named"], unit) if deep else None
        if isinstance(length, Unreadable):
            complaints.unreadable(length, part, word=word)
        elif length is None:
            complaints.fault("relative-rest", part, word=word)
        else:
            depth = length
    other = " ".join(match["other"].split())
    return Said(RelativeSize(by * sign, every_side, other, depth), value.place)


def _which(match: re.Match[str], first: Phrase, by: Length, complaints: Complaints) -> bool:
    """Whether the difference is meant on every side (else in all)."""
    where = " ".join(match["where"].split())
    if _IN_ALL.fullmatch(where):
        return False
    if _EVERY_SIDE.fullmatch(where):
        return True
    said = first.part(match.start("turn"), match.end("where")) if where else first
    double = by * 2
    if _ALL_ROUND.fullmatch(where):
        complaints.thought("all-round", said, by=by, double=double)
    else:
        complaints.fault("every-side-or-in-all", said, by=by, double=double)
    return True
