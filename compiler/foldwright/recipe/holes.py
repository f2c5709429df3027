"""Holes: `round 1 in, centred, middle 1 1/2 in from the top`, `slot 8 x 2 mm, centred on front`."""

from __future__ import annotations

import re

from msgspec.structs import replace

from foldwright.measure.length import Length, Unit
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.complaints import Complaints
from foldwright.recipe.facts import split_at_commas
from foldwright.recipe.model import Hole, HolePosition, Said
from foldwright.recipe.phrase import Phrase
from foldwright.recipe.values import length_in, lengths_in, without_bullet

_SHAPES = {
    "round": "round",
    "circle": "round",
    "circular": "round",
    "hole": "round",
    "slot": "slot",
    "slit": "slot",
    "window": "window",
    "rectangle": "window",
    "square": "window",
}
_SHAPE = re.compile(rf"\b({'|'.join(_SHAPES)})\b\s*:?", re.IGNORECASE)
_LEADING_SHAPE = re.compile(rf"(?:an? )?(?:[^,]*\b)?(?:{'|'.join(_SHAPES)})\b", re.IGNORECASE)
_FILLER = re.compile(r"\b(?:an?|one|across|wide|hole|of|diameter|in diameter)\b", re.IGNORECASE)
_HOLE_END = re.compile(r"\s*(?:;|\n)\s*")
_PLACE_BEGINS = re.compile(
    r"\s+(?=(?:centred|centered|(?:with )?its|middle|edge|in the middle|on every|on each)\b)", re.IGNORECASE
)
_CENTRED = re.compile(
    r"(?:centred|centered|in the (?:middle|centre|center)|middle)(?:\s+(?:on|in|of)\s+(?:the\s+)?(?P<panel>.+))?",
    re.IGNORECASE,
)
_OFFSET = re.compile(
    r"(?:with\s+)?(?:its\s+)?(?:(?:the\s+)?(?P<point>middle|centre|center|edge|nearest edge)(?:\s+(?:is|at|sits))?\s+)?"
    r"(?P<length>.+?)\s+from\s+(?:the\s+)?(?P<side>left|right|top|bottom)(?:\s+(?:edge|side))?"
    r"(?:\s+(?:of|on)\s+(?:the\s+)?(?P<panel>.+?))?(?:\s+to\s+(?:its|the)\s+(?P<to>middle|centre|center|edge))?",
    re.IGNORECASE | re.DOTALL,
)
_EVERY_PANEL = re.compile(r"on (?:every|each|all) panels?", re.IGNORECASE)
_MIRRORED = re.compile(r"mirrored", re.IGNORECASE)
_ON_PANEL = re.compile(r"(?:on|in)\s+(?:the\s+)?(?P<panel>.+)", re.IGNORECASE)
_MIDDLES = frozenset({"middle", "centre", "center"})


def read_holes(value: Phrase | None, unit: Unit | None, complaints: Complaints) -> tuple[Said[Hole], ...]:
    """Each hole on a line of its own, after a semicolon, or wherever a shape is named again."""
    holes = []
    for line in value.split(_HOLE_END) if value else ():
        for parts in _by_hole(without_bullet(line)):
            hole = _read_hole(parts, unit, complaints)
            if hole:
                place = replace(parts[0].place, end=parts[-1].end)
                holes.append(Said(hole, place))
    return tuple(holes)


def _by_hole(line: Phrase) -> list[list[Phrase]]:
    groups: list[list[Phrase]] = []
    for stretch in split_at_commas(line):
        if not groups or _names_shape(stretch.text):
            # A place may follow the size without a comma.
            place = _PLACE_BEGINS.search(stretch.text)
            groups.append([stretch.part(0, place.start()), stretch.part(place.end())] if place else [stretch])
        elif stretch.text:
            groups[-1].append(stretch)
    return groups


def _names_shape(text: str) -> bool:
    return bool(_SHAPE.search(text)) and any(character.isdigit() for character in text) and " from " not in text


def _read_hole(parts: list[Phrase], unit: Unit | None, complaints: Complaints) -> Hole | None:
    first = parts[0]
    shapes = _SHAPE.findall(first.text)
    if not shapes:
        complaints.fault("hole-without-shape", first)
        return None
    shape = _SHAPES[next((word for word in shapes if word.lower() != "hole"), shapes[0]).lower()]
    size = lengths_in(_FILLER.sub(" ", _SHAPE.sub(" ", first.text)), unit)
    if isinstance(size, Unreadable):
        complaints.unreadable(size, first, word="holes")
        return None
    wanted = (1,) if shape == "round" else (1, 2) if shape == "window" else (2,)
    if len(size) not in wanted:
        complaints.fault("hole-size", first, shape=shape, found=len(size))
        return None
    if shape == "window" and len(size) == 1:
        size = (size[0], size[0])
    return Hole(shape, size, _read_position(first, parts[1:], unit, complaints))


def _read_position(hole: Phrase, parts: list[Phrase], unit: Unit | None, complaints: Complaints) -> HolePosition:
    position = HolePosition()
    before = len(complaints.findings)
    for part in parts:
        position = _with_part(position, part, unit, complaints)
    if not position.centred and not position.offsets and len(complaints.findings) == before:
        complaints.fault("hole-without-place", hole)
    return position


def _with_part(position: HolePosition, part: Phrase, unit: Unit | None, complaints: Complaints) -> HolePosition:
    if _EVERY_PANEL.fullmatch(part.text):
        return replace(position, every_panel=True)
    if _MIRRORED.fullmatch(part.text):
        return replace(position, mirrored=True)
    if match := _OFFSET.fullmatch(part.text):
        return _with_offset(position, match, part, unit, complaints)
    if match := _CENTRED.fullmatch(part.text):
        panel = _plain(match["panel"]) or position.panel
        if _EVERY_PANEL.fullmatch(f"on {panel}"):
            return replace(position, centred=True, every_panel=True)
        return replace(position, centred=True, panel="" if panel in ("piece", "the piece") else panel)
    if match := _ON_PANEL.fullmatch(part.text):
        return replace(position, panel=_plain(match["panel"]))
    complaints.fault("hole-place-unclear", part)
    return position


def _with_offset(
    position: HolePosition, match: re.Match[str], part: Phrase, unit: Unit | None, complaints: Complaints
) -> HolePosition:
    length = length_in(match["length"], unit)
    if isinstance(length, Unreadable):
        complaints.unreadable(length, part.part(match.start("length"), match.end("length")), word="holes")
        return position
    point = (match["point"] or match["to"] or "").lower()
    if not point:
        complaints.fault("middle-or-edge", part, length=length, side=match["side"].lower())
    offset: tuple[str, Length, str] = (
        match["side"].lower(),
        length,
        "edge" if point.endswith("edge") else "middle",
    )
    panel = _plain(match["panel"]) or position.panel
    return replace(position, offsets=(*position.offsets, offset), panel=panel)


def _plain(words: str | None) -> str:
    return " ".join((words or "").split())
