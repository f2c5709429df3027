"""Holes: `round 1 in, centred, middle 1 1/2 in from the top`, `slot 8 x 2 mm, centred on front`; notches in an edge:
`half round notch 20 mm, middle of the top edge`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec.structs import replace

from foldwright.measure.length import Length, Unit
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import split_at_commas
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import length_in, lengths_in, without_bullet
from foldwright.recipe.model import Hole, HolePosition, Said

SHAPES = {
    "round": "round",
    "circle": "round",
    "circular": "round",
    "hole": "round",
    "slot": "slot",
    "slit": "slot",
    "track": "slot",
    "window": "window",
    "rectangle": "window",
    "square": "window",
    "notch": "notch",
    "semicircle": "notch",
}
_WANTED = {"round": (1,), "window": (1, 2), "slot": (2,)}
"""How many lengths a hole of each shape may have."""
_HALF = re.compile(r"\bhalf[- ](?:a[- ])?(?:round|circle|circular|moon)\b", re.IGNORECASE)
_NOTCHES = (
    (re.compile(r"\b(?:vee|v)(?:[- ]shaped?)?\b|\btriang(?:le|ular)\b", re.IGNORECASE), "vee notch"),
    (re.compile(r"\b(?:square|rectangular|box)(?:[- ]shaped?)?\b", re.IGNORECASE), "square notch"),
    (
        re.compile(
            r"\b(?:half[- ](?:a[- ])?(?:round|circle|circular|moon)|semi-?circ(?:le|ular)|u[- ]shaped|thumb|round)\b",
            re.IGNORECASE,
        ),
        "half round notch",
    ),
)
"""Words for the shape of a notch; one whose shape nobody says is half round (common practice, no source)."""
_CARD_SLOTS = re.compile(
    r"(?:photo )?(?P<kind>corner|half[- ]?moon)s?(?:[- ](?:slots?|slits?|cuts?))?\s+for\s+(?:(?:an?|the)\s+)?"
    r"(?P<what>.+)",
    re.IGNORECASE | re.DOTALL,
)
"""Slots that hold a card: by its name, or by its size."""
_SHAPE = re.compile(rf"\b({'|'.join(SHAPES)})\b\s*:?", re.IGNORECASE)
_CARD = re.compile(r"\b(?:cards?|of)\b", re.IGNORECASE)
_FILLER = re.compile(r"\b(?:an?|one|across|wide|deep|hole|of|diameter|in diameter)\b", re.IGNORECASE)
_HOLE_END = re.compile(r"\s*(?:;|\n)\s*")
_PLACE_BEGINS = re.compile(
    r"\s+(?=(?:centred|centered|(?:with )?its|middle|edge|on every|on each|(?:in|at|on|into) the "
    r"(?:middle|centre|center|top|bottom|left|right)|at (?:the )?(?:outline|corner|start|end))\b)",
    re.IGNORECASE,
)
_EDGE = (
    r"(?:(?:in|at|on|into|from)\s+)?(?:the\s+)?(?P<middle>(?:middle|centre|center)\s+of\s+(?:the\s+)?)?"
    r"(?P<edge>left|right|top|bottom)(?:[- ]?(?:hand\s+)?(?:edge|side))?"
)
_PLAIN_EDGE = re.compile(rf"(?P<centred>){_EDGE}", re.IGNORECASE)
_AT_EDGE = re.compile(rf"(?P<centred>cent(?:red|ered)\s+)?{_EDGE}", re.IGNORECASE)
"""The edge of a notch: `top edge`, `at the top`, `middle of the top edge`."""
_CENTRED = re.compile(
    r"(?:cent(?:red|ered|re|er)|in the (?:middle|centre|center)|middle)(?:\s+(?:on|in|of)\s+(?:the\s+)?(?P<panel>.+))?",
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
_AT_PLACE = re.compile(
    r"(?:with\s+)?(?:its\s+)?(?:(?:middle|centre|center)(?:\s+(?:is|at|on|sits))*\s+(?!of\b))?(?:(?:at|on)\s+)?(?P<place>"
    r".*?[0-9½¼¾⅓⅔⅛⅜⅝⅞].*?\b(?:right|left|above|below|under|up|down)\b.+|"
    r".*\b(?:corner|(?:end|start|middle) of (?:the )?line|edge of|"
    r"outline edge|of (?:the )?(?:top|bottom|left|right) edge)\b.*)",
    re.IGNORECASE,
)
"""A place with a name, which its middle is on or so far from: `12 mm right of outline corner 3`."""
_REPEAT_BEGINS = re.compile(r"(?:and\s+)?repeat(?:ed|s)?\b", re.IGNORECASE)
_NOUGHT = re.compile(r"(?:0+(?:[.,]0+)?|nothing|nought|zero)\s*[a-z\"'″′]*", re.IGNORECASE)


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
        if not groups or _names_shape(stretch.text) or _CARD_SLOTS.match(stretch.text):
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
    if slots := _CARD_SLOTS.fullmatch(first.text):
        return _read_slots(slots, parts, unit, complaints)
    shapes = _SHAPE.findall(first.text)
    if not shapes:
        complaints.fault("hole-without-shape", first)
        return None
    if any(SHAPES[word.lower()] == "notch" for word in shapes) or _HALF.search(first.text):
        return _read_notch(first, parts[1:], unit, complaints)
    shape = SHAPES[next((word for word in shapes if word.lower() != "hole"), shapes[0]).lower()]
    size = _read_size(first, shape, _WANTED[shape], unit, complaints)
    if size is None:
        return None
    if shape == "window" and len(size) == 1:
        size = (size[0], size[0])
    edge = next((nought["side"].lower() for part in parts[1:] if (nought := _middle_nought(part))), "")
    if edge and shape == "round":
        # Its middle on the edge: half of the punch goes on the card.
        rest = [part for part in parts[1:] if not _middle_nought(part)]
        return Hole("half round notch", size, replace(_read_position(first, rest, unit, complaints, True), edge=edge))
    return Hole(shape, size, _read_position(first, parts[1:], unit, complaints))


def _read_slots(match: re.Match[str], parts: list[Phrase], unit: Unit | None, complaints: Complaints) -> Hole | None:
    """Corner or half-moon slots for a card, which is named or has its size here."""
    kind = "corner slots" if match["kind"].lower() == "corner" else "half-moon slots"
    first = parts[0]
    what = first.part(match.start("what"), match.end("what"))
    position = _read_position(first, parts[1:], unit, complaints)
    if not any(character.isdigit() for character in what.text):
        return Hole(kind, (), position, what.plain)
    size = lengths_in(_CARD.sub(" ", what.text).strip(), unit)
    if isinstance(size, Unreadable):
        complaints.unreadable(size, what, word="holes")
        return None
    if len(size) != 2:
        complaints.fault("hole-size", first, shape=kind, count=len(size))
        return None
    return Hole(kind, size, position)


def _read_notch(first: Phrase, parts: list[Phrase], unit: Unit | None, complaints: Complaints) -> Hole | None:
    """A notch, its shape said before it or after a comma; the edge must be said."""
    kinds = [(part, shape) for part in (first, *parts) for pattern, shape in _NOTCHES if pattern.search(part.text)]
    shape = kinds[0][1] if kinds else "half round notch"
    bare = first.text
    for pattern, _ in _NOTCHES:
        bare = pattern.sub(" ", bare)
    size = _read_size(Phrase(bare, first.file, first.start), shape, (1, 2), unit, complaints)
    if size is None:
        return None
    edge, centred = "", False
    places = []
    # `bottom edge, centred on top`: then the top is a panel.
    plain = any(_PLAIN_EDGE.fullmatch(part.text) for part in parts)
    for part in parts:
        if at := (_PLAIN_EDGE if plain else _AT_EDGE).fullmatch(part.text):
            edge, centred = at["edge"].lower(), centred or bool(at["middle"] or at["centred"])
        elif nought := _middle_nought(part):
            edge = nought["side"].lower()
        elif not any(pattern.fullmatch(part.text) for pattern, _ in _NOTCHES):
            places.append(part)
    if not edge:
        complaints.fault("notch-in-which-edge", first)
        return None
    position = _read_position(first, places, unit, complaints, True)
    if position.at:
        complaints.fault("hole-place-unclear", first)
        return None
    return Hole(shape, size, replace(position, edge=edge, centred=position.centred or centred))


def _middle_nought(part: Phrase) -> re.Match[str] | None:
    """`middle 0 mm from the top`: it lies on the edge."""
    match = _OFFSET.fullmatch(part.text)
    return match if match and _NOUGHT.fullmatch(match["length"]) and (match["point"] or "").lower() != "edge" else None


def _read_size(
    first: Phrase, shape: str, wanted: tuple[int, ...], unit: Unit | None, complaints: Complaints
) -> tuple[Length, ...] | None:
    size = lengths_in(" ".join(_FILLER.sub(" ", _SHAPE.sub(" ", first.text)).split()), unit)
    if isinstance(size, Unreadable):
        complaints.unreadable(size, first, word="holes")
        return None
    if len(size) not in wanted:
        complaints.fault("hole-size", first, shape=shape, count=len(size))
        return None
    return size


def _read_position(
    hole: Phrase, parts: list[Phrase], unit: Unit | None, complaints: Complaints, notch: bool = False
) -> HolePosition:
    """Where it is. What nobody says is the middle; of a hole (not of a `notch`, whose edge is known) that is told."""
    position = HolePosition()
    before = len(complaints.findings)
    for part in _repeats_joined(parts):
        position = _with_part(position, part, unit, complaints)
    if position.centred or position.offsets or position.at or len(complaints.findings) > before:
        return position
    if not notch and not position.panel and not position.every_panel:
        complaints.thought("hole-without-place", hole)
    return replace(position, centred=True, assumed=not (notch or position.panel or position.every_panel))


def _repeats_joined(parts: list[Phrase]) -> Iterator[Phrase]:
    """`repeated 5 times, 20 mm apart down` is one part."""
    waiting: Phrase | None = None
    for part in parts:
        if waiting is not None and " apart " in f" {part.text} ":
            yield Phrase(f"{waiting.text}, {part.text}", waiting.file, waiting.start)
            waiting = None
            continue
        if waiting is not None:
            yield waiting
        waiting = part if _REPEAT_BEGINS.match(part.text) else None
        if waiting is None:
            yield part
    if waiting is not None:
        yield waiting


def _with_repeat(position: HolePosition, part: Phrase, unit: Unit | None, complaints: Complaints) -> HolePosition:
    # Few holes are repeated or measured from a place with a name, and the patterns take long to prepare.
    from foldwright.recipe.pieces.spots import read_repeat

    repeat = read_repeat(part.text, unit)
    if repeat is None or isinstance(repeat, Unreadable) or position.repeat:
        complaints.fault("repeat-unclear", part)
        return position
    return replace(position, repeat=repeat)


def _with_place(position: HolePosition, part: Phrase, unit: Unit | None) -> HolePosition | None:
    """With the place its middle is at, or how far it is from the one that is said already; None for other words."""
    from foldwright.measure.numbers import tidy
    from foldwright.recipe.pieces.spots import read_away, read_place

    if position.at is not None:
        more = read_away(part.text, unit)
        if more is None or isinstance(more, Unreadable):
            return None
        return replace(position, at=replace(position.at, away=(*position.at.away, more)))
    text = tidy(part.text)
    match = _AT_PLACE.fullmatch(text)
    read = read_place(text, match.start("place"), unit) if match else None
    if read is None or isinstance(read, Unreadable) or text[read[1] :].strip():
        return None
    return replace(position, at=read[0])


def _with_part(position: HolePosition, part: Phrase, unit: Unit | None, complaints: Complaints) -> HolePosition:
    if _REPEAT_BEGINS.match(part.text):
        return _with_repeat(position, part, unit, complaints)
    if _EVERY_PANEL.fullmatch(part.text):
        return replace(position, every_panel=True)
    if _MIRRORED.fullmatch(part.text):
        return replace(position, mirrored=True)
    if match := _OFFSET.fullmatch(part.text):
        return _with_offset(position, match, part, unit, complaints)
    if placed := _with_place(position, part, unit) if position.at or _AT_PLACE.fullmatch(part.text) else None:
        return placed
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
        complaints.thought("middle-or-edge", part, length=length, side=match["side"].lower())
    offset: tuple[str, Length, str] = (match["side"].lower(), length, "edge" if point.endswith("edge") else "middle")
    panel = _plain(match["panel"]) or position.panel
    return replace(position, offsets=(*position.offsets, offset), panel=panel)


def _plain(words: str | None) -> str:
    return " ".join((words or "").split())
