"""Where pieces lie and what they are joined to: `outside of base front, centred`, `strip 1 to inside of card front`.

A place names a piece (or a supply, such as an envelope) and then a panel of it, so it can only be read when the names
are known.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import islice

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.length import Unit
from foldwright.measure.numbers import NUMBER
from foldwright.recipe.facts.known import split_at_commas
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import said_row
from foldwright.recipe.model import Gluing, Placement, Said

_FACE = re.compile(
    r"(?:(?:on|to|onto|against)\s+)?(?:the\s+)?(?P<face>inside|outside)\s+of\s+(?:the\s+)?"
    r"|the\s+",
    re.IGNORECASE,
)
_ON = re.compile(r"(?:on|onto|to|against)\s+(?:the\s+)?", re.IGNORECASE)
_FACE_BEHIND = re.compile(r"(?:on\s+)?(?:the\s+)?(?P<face>inside|outside)(?:\s+of(?:\s+the)?)?(?:\s+|$)", re.IGNORECASE)
_FACE_LAST = re.compile(r"\s+(?:on\s+)?(?:the\s+)?(?P<face>inside|outside)$", re.IGNORECASE)
_BARE_DISTANCE = re.compile(rf"(?<![0-9./,])({NUMBER})(?=\s+(?:from|above|below|off)\b)", re.IGNORECASE)
"""`3 from the bottom`."""
_OF = re.compile(r"\s+of\s+(?:the\s+)?", re.IGNORECASE)
_PARTING = re.compile(r"\s+and\s+|\s*\n\s*|,(?![0-9])|(?<![0-9]),", re.IGNORECASE)
_LINE_END = re.compile(r"\s*\n\s*")
_TO = re.compile(r"\s+to\s+", re.IGNORECASE)
_PANELS = re.compile(r"(?:on\s+)?(?:the\s+)?panels?\s+", re.IGNORECASE)
_WORD = re.compile(r"\S+")
_LONGEST_NAME = 200
"""Characters that are looked through for a name that holds `and` itself."""
_WORD_END = re.compile(r"(?:\s+|$)")
_PANEL_NUMBER = re.compile(r"(?:panels?\s+)?[0-9]+", re.IGNORECASE)

OUTER_PANELS = frozenset({"left", "right", "top", "bottom", "floor", "glue flap"})
"""Names every piece with panels answers to."""


class PlaceNames(Struct, frozen=True):
    """The names a place may begin with, and the panels each piece is known to have.

    `panels` has the pieces' names in small letters; `spelled` every name, in small letters, to the author's spelling.
    """

    panels: Mapping[str, frozenset[str]]
    spelled: Mapping[str, str]
    longest: int
    """How many words the longest name has."""

    @classmethod
    def of(cls, pieces: Mapping[str, frozenset[str]], supplies: Iterable[str]) -> PlaceNames:
        spelled: dict[str, str] = {}
        for name in (*pieces, *supplies):
            spelled.setdefault(name.casefold(), name)
        longest = max((len(name.split()) for name in spelled), default=0)
        return cls({name.casefold(): panels for name, panels in pieces.items()}, spelled, longest)

    def leading(self, text: str) -> tuple[str, str] | None:
        """The longest name a text begins with, and what stands behind it."""
        found = self.opening(text)
        return (found[0], text[found[1] :].strip()) if found else None

    def opening(self, text: str) -> tuple[str, int] | None:
        """The longest name a text begins with, and where it ends."""
        words = list(islice(_WORD.finditer(text), self.longest))
        for count in range(len(words), 0, -1):
            own = self.spelled.get(" ".join(word[0] for word in words[:count]).casefold())
            if own is not None:
                return own, words[count - 1].end()
        return None

    def is_panel(self, text: str, piece: str) -> bool:
        """Whether a known piece has a panel of this name or number."""
        known = self.panels.get(piece.casefold())
        small = text.casefold().removeprefix("the ")
        return known is not None and (small in known or bool(_PANEL_NUMBER.fullmatch(small)))

    def parts(self, text: Phrase) -> Iterator[Phrase]:
        """What stands between commas, line ends and `and`; a name that holds one of these itself is kept whole."""
        stretches = text.split_outside_brackets(_PARTING)
        number = 0
        while number < len(stretches):
            first = stretches[number]
            face = _FACE.match(first.text)
            begin = first.start - text.start + (face.end() if face else 0)
            named = self.opening(text.text[begin : begin + _LONGEST_NAME])
            name_end = text.start + begin + named[1] if named else first.end
            last = first
            while number + 1 < len(stretches) and last.end < name_end:
                number += 1
                last = stretches[number]
            yield first if last is first else text.part(first.start - text.start, last.end - text.start)
            number += 1


def read_placements(value: Phrase | None, names: PlaceNames, unit: Unit | None = None) -> tuple[Said[Placement], ...]:
    """Places joined by `and` or commas; what is no place is a remark on all of them (`centred`), and a bare number in
    it is in `unit`.
    """
    if value is None:
        return ()
    places: list[Said[Placement]] = []
    remarks: list[str] = []
    for part in names.parts(value):
        place = _read_place(part, places[-1].value if places and not remarks else None, names)
        if place:
            places.append(Said(place, part.place))
        elif part.text and not places:
            # No name that is known: it is kept as one, and the check of names will ask about it.
            places.append(Said(Placement("", part.plain), part.place))
        elif part.text:
            remarks.append(part.plain)
    if not remarks:
        return tuple(places)
    remark = ", ".join(remarks)
    if unit:
        remark = _BARE_DISTANCE.sub(rf"\1 {unit.symbol}", remark)
    return tuple(Said(replace(said.value, remark=remark), said.place) for said in places)


def _faced(part: Phrase) -> tuple[str, Phrase]:
    match = _FACE.match(part.text)
    return ((match["face"] or "").lower(), part.part(match.end())) if match else ("", part)


def _read_place(part: Phrase, before: Placement | None, names: PlaceNames) -> Placement | None:
    """A place, or a further panel of the piece named `before`."""
    face, rest = _faced(part)
    own = names.leading(part.plain)
    if own and (not own[1] or names.is_panel(own[1], own[0])):
        # A piece may itself be called `inside`.
        return Placement("", own[0], _panel(own[1]))
    if of := _panel_of(face, rest, names):
        return of
    on = _ON.match(rest.text)
    leading = names.leading(rest.plain) or (names.leading(rest.part(on.end()).plain) if on else None)
    if leading:
        return _with_face_behind(Placement(face, leading[0], _panel(leading[1])), names)
    if before and rest.text and names.is_panel(rest.plain, before.piece):
        return Placement(face or before.face, before.piece, _panel(rest.plain))
    # `inside of lidd floor`: only a place begins with a face.
    return Placement(face, rest.plain) if face else None


def _with_face_behind(place: Placement, names: PlaceNames) -> Placement:
    """`card inside front`, `card front inside`, `card inside`: the face told after the piece's name."""
    if place.face or names.is_panel(place.panel, place.piece):
        return place
    behind = _FACE_BEHIND.match(place.panel) or _FACE_LAST.search(place.panel)
    if behind is None:
        return place
    panel = place.panel[: behind.start()] + place.panel[behind.end() :]
    return replace(place, face=behind["face"].lower(), panel=_panel(panel.strip()))


def _panel_of(face: str, rest: Phrase, names: PlaceNames) -> Placement | None:
    """`front of card`, `inside front of card`."""
    before, *after = (part.plain for part in rest.split(_OF))
    leading = names.leading(after[0]) if len(after) == 1 else None
    if leading is None or leading[1]:
        return None
    behind = _FACE_BEHIND.match(before)
    panel = before[behind.end() :] if behind else before
    if not names.is_panel(panel, leading[0]):
        return None
    return Placement(face or (behind["face"].lower() if behind else ""), leading[0], _panel(panel))


def _panel(text: str) -> str:
    bare = _PANELS.sub("", text, count=1).removeprefix("the ")
    return "" if bare.lower() in ("piece", "whole") else bare


def read_held(value: Phrase | None, names: PlaceNames) -> tuple[Said[str], ...]:
    """The names of what a piece holds."""
    held: list[Said[str]] = []
    for part in names.parts(value) if value else ():
        known = names.leading(part.plain)
        held += (Said(part.plain, part.place),) if known and not known[1] else said_row(part)
    return tuple(held)


def read_gluings(value: Phrase | None, piece: str, names: PlaceNames) -> tuple[Said[Gluing], ...]:
    """`strip 1 to inside of card front, strip 6 to ...`; a part without `to` is a remark on the one before it."""
    gluings: list[Said[Gluing]] = []
    for stretch in _stretches(value) if value else ():
        ends = list(stretch.split(_TO))
        if len(ends) == 2 and ends[0].text and ends[1].text:
            gluings.append(Said(Gluing(_own_panel(ends[0], piece), _goal(ends[1], names)), stretch.place))
        elif stretch.text and gluings:
            last = gluings[-1]
            to = last.value.to
            remark = f"{to.remark}, {stretch.plain}" if to.remark else stretch.plain
            gluings[-1] = Said(replace(last.value, to=replace(to, remark=remark)), last.place)
        elif stretch.text:
            gluings.append(Said(Gluing("", _goal(stretch, names)), stretch.place))
    return tuple(gluings)


def _stretches(value: Phrase) -> list[Phrase]:
    """The parts between commas; lines that each say `to` are parts by themselves."""
    lines = list(value.split(_LINE_END))
    if not all(_TO.search(line.text) for line in lines):
        lines = [value]
    return [stretch for line in lines for stretch in split_at_commas(line)]


def _goal(part: Phrase, names: PlaceNames) -> Placement:
    face, rest = _faced(part)
    return _read_place(part, None, names) or Placement(face, rest.plain)


def _own_panel(part: Phrase, piece: str) -> str:
    words = part.plain
    if words[: len(piece)].casefold() == piece.casefold() and _WORD_END.match(words, len(piece)):
        words = words[len(piece) :].strip()
    return _panel(words)
