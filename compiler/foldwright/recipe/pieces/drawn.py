"""Lines drawn by points: `cut from 1/2 across 2 down to 1 across 2 down`, `glue area 0 across 0 down, ...`."""

from __future__ import annotations

import re

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, tidy
from foldwright.measure.reading import read_number
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import without_bullet
from foldwright.recipe.model import DrawnLine, PlaceBeside, Repeat, Said
from foldwright.recipe.pieces.spots import SIZED, length_of, read_place, read_repeat

KINDS = ("cut", "valley", "mountain", "score", "perforation", "glue area")
FOLDS = frozenset({"valley", "mountain", "score"})
_FLATTEST = 180
_KIND = re.compile(rf"(?P<kind>{'|'.join(KINDS)}|perforate|glue)(?:\s+(?:line|fold))?\b\s*:?\s*", re.IGNORECASE)
_ANGLE = re.compile(rf"(?P<number>-?{NUMBER})\s*(?:°|deg(?:ree)?s?\b)\s*,?\s*", re.IGNORECASE)
_LINE_END = re.compile(r"\s*(?:;|\n)\s*")
_MODIFIER = re.compile(
    r",?\s*\b(?:and\s+)?(?P<what>mirrored|on (?:every|each|all) panels?"
    r"|repeat(?:ed|s)?\b(?:(?!mirrored|on (?:every|each|all)\b).)*)\s*$",
    re.IGNORECASE,
)
_NUMBER = rf"-?{SIZED}"
_FROM_LEFT = r"\s+(?:across|from\s+(?:the\s+)?left(?:\s+edge)?)"
_FROM_TOP = r"\s+(?:down|from\s+(?:the\s+)?top(?:\s+edge)?)"
_POINT = re.compile(
    rf"\(\s*(?P<a>{_NUMBER})\s*(?:,|x)\s*(?P<b>{_NUMBER})\s*\)"
    rf"|(?P<across>{_NUMBER}){_FROM_LEFT}\s*(?:,|and|x)?\s*(?P<down>{_NUMBER}){_FROM_TOP}"
    rf"|(?P<down2>{_NUMBER}){_FROM_TOP}\s*(?:,|and)?\s*(?P<across2>{_NUMBER}){_FROM_LEFT}"
    rf"|(?P<a2>{_NUMBER})\s*(?:,|x|by)\s*(?P<b2>{_NUMBER})",
    re.IGNORECASE,
)
_JOIN = re.compile(r"\s*(?:,\s*)?\b(?P<join>from|to|through|by way of)\b\s*|\s*(?:,|->|→|-\s)\s*", re.IGNORECASE)

type _Point = tuple[Length, Length] | PlaceBeside


def read_lines_drawn(value: Phrase | None, unit: Unit | None, complaints: Complaints) -> tuple[Said[DrawnLine], ...]:
    """Each line on a line of its own, or after a semicolon."""
    lines = []
    for entry in value.split(_LINE_END) if value else ():
        if entry.text:
            bare = without_bullet(entry)
            line = _read_line(bare, unit, complaints)
            if line:
                lines.append(Said(line, bare.place))
    return tuple(lines)


def _read_line(entry: Phrase, unit: Unit | None, complaints: Complaints) -> DrawnLine | None:
    kind = _KIND.match(entry.text)
    if kind is None:
        near = nearest(entry.plain.partition(" ")[0], KINDS)
        complaints.fault("line-kind", entry, nearest=near or KINDS[0], known=KINDS)
        return None
    name = {"perforate": "perforation", "glue": "glue area"}.get(kind["kind"].lower(), kind["kind"].lower())
    rest = entry.part(kind.end())
    angle = None
    if said := _ANGLE.match(rest.text):
        number = read_number(said["number"].removeprefix("-"))
        if name not in FOLDS or isinstance(number, Unreadable) or number > _FLATTEST:
            complaints.fault("line-angle", entry, kind=name, most=_FLATTEST)
            return None
        angle = -number if said["number"].startswith("-") or name == "mountain" else number
        rest = rest.part(said.end())
    rest, modifiers = _modified(rest)
    words = [word for word in modifiers if word.lower().startswith("repeat")]
    repeats = [read_repeat(word, unit) for word in words]
    if len(repeats) > 1 or not all(isinstance(one, Repeat) for one in repeats):
        complaints.fault("repeat-unclear", entry)
        return None
    points = _read_points(rest, unit)
    if isinstance(points, Unreadable):
        complaints.unreadable(points, entry, word="lines", said=dict(points.facts)["text"] or entry.plain)
        return None
    ordered, arc = points
    if not (len(ordered) >= 3 if name == "glue area" else len(ordered) == (3 if arc else 2)):
        complaints.fault("line-points", entry, kind=name, count=len(ordered))
        return None
    repeat = next((one for one in repeats if isinstance(one, Repeat)), None)
    every_panel = any(word.lower().startswith("on ") for word in modifiers)
    return DrawnLine(name, tuple(ordered), arc, "mirrored" in map(str.lower, modifiers), every_panel, angle, repeat)


def _modified(rest: Phrase) -> tuple[Phrase, list[str]]:
    """The points of a line, and what stands behind them: `mirrored`, `on every panel`, how often it is repeated."""
    found: list[str] = []
    while modifier := _MODIFIER.search(rest.text):
        found.append(modifier["what"])
        rest = rest.part(0, modifier.start())
    return rest, found


def _read_points(text: Phrase, unit: Unit | None) -> tuple[list[_Point], bool] | Unreadable:
    """The points in drawing order (an arc's middle point second), and whether one is gone `through`."""
    found: list[_Point] = []
    through: _Point | None = None
    tidied = tidy(text.text)
    at, join = 0, ""
    while at < len(tidied):
        separator = _JOIN.match(tidied, at)
        if separator and separator.end() > at:
            join, at = (separator["join"] or join).lower(), separator.end()
            continue
        read = _read_point(tidied, at, unit)
        if isinstance(read, Unreadable):
            return read
        point, at = read
        if join in ("through", "by way of"):
            through = point
        else:
            found.append(point)
        join = ""
        at += len(tidied[at:]) - len(tidied[at:].lstrip())
    if through is not None and len(found) == 2:
        return [found[0], through, found[1]], True
    return found, through is not None


def _read_point(text: str, at: int, unit: Unit | None) -> tuple[_Point, int] | Unreadable:
    if match := _POINT.match(text, at):
        first = match["a"] or match["a2"] or match["across"] or match["across2"]
        down = length_of(match["b"] or match["b2"] or match["down"] or match["down2"], unit)
        # `46 x 120 mm`: a unit covers the number before it.
        paired = bool(match["b"] or match["b2"])
        across = length_of(first, down.unit if paired and isinstance(down, Length) else unit)
        if isinstance(across, Unreadable):
            return across
        return down if isinstance(down, Unreadable) else ((across, down), match.end())
    return read_place(text, at, unit)
