"""Whether cuts are possible and what comes of them, judged from `kit.json` alone, by code of its own. No test."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import Any, NamedTuple

type Placed = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, top, width, height."""


class ImpossibleError(Exception):
    """A cut that cannot be made as it is told."""


def separable(places: Sequence[Placed]) -> bool:
    """Whether straight cuts from edge to edge, one after the other, part all rectangles (none may overlap)."""
    if len(places) < 2:
        return True
    for side in (0, 1):
        ends = sorted({one[side] + one[side + 2] for one in places})
        for at in ends[:-1]:
            before = [one for one in places if one[side] + one[side + 2] <= at]
            after = [one for one in places if one[side] >= at]
            if len(before) + len(after) == len(places) and before and after:
                return separable(before) and separable(after)
    return False


class _Part(NamedTuple):
    """Paper as it lies at the trimmer. `true` is whether each edge is straight and square: fence, blade, free, stop."""

    called: str
    width: Fraction
    height: Fraction
    true: tuple[bool, bool, bool, bool]

    def turned(self) -> _Part:
        """A quarter: what was at the blade comes to the fence, what was at the fence to the stop."""
        fence, blade, free, stop = self.true
        return self._replace(true=(blade, free, stop, fence))

    def taken(self, side: str, called: str, length: Fraction, **edges: bool) -> _Part:
        """A part of it, so long along that side of the sheet, some of its edges new."""
        size = {"width" if side == "across" else "height": length}
        true = dict(zip(("fence", "blade", "free", "stop"), self.true, strict=True)) | edges
        return self._replace(called=called, true=tuple(true.values()), **size)


def replay(layout: dict[str, Any], sheet: dict[str, Any]) -> Counter[tuple[str, Fraction, Fraction]]:
    """Make every numbered cut of a layout on all its sheets; the pieces that come of it. Raises ImpossibleError.

    Nothing may be measured from an edge that is not true, nor with one along the fence, and a piece has none.
    """
    have: Counter[_Part] = Counter()
    pieces: Counter[tuple[str, Fraction, Fraction]] = Counter()
    whole = Fraction(sheet["across"]), Fraction(sheet["down"])
    true = not Fraction(sheet.get("trim", 0))
    have[_Part(_called(_SHEET), *whole, (true, true, true, true))] = layout["copies"]
    for cut in layout["cuts"]:
        there = [part for part in have if part.called == _called(cut["of"]) and have[part]]
        if sum(have[part] for part in there) != cut["count"]:
            raise ImpossibleError(f"cut {cut['number']}: {cut['count']} of {cut['of']} are not there")
        for part in there:
            count = have.pop(part)
            for one, is_piece, number in _outcome(cut, part.turned() if cut["turn"] else part):
                if not is_piece:
                    have[one] += number * count
                elif all(one.true):
                    pieces[one.called, one.width, one.height] += number * count
                else:
                    raise ImpossibleError(f"cut {cut['number']}: {one.called} has a ragged edge")
    if not layout["cuts"]:
        pieces[layout["places"][0]["piece"], *whole] += layout["copies"]
    elif any(have.values()):
        raise ImpossibleError(f"left uncut: {[part for part in have if have[part]]}")
    return pieces


def _outcome(cut: dict[str, Any], part: _Part) -> list[tuple[_Part, bool, int]]:
    """What one part becomes: (part, whether a piece, how many)."""
    side, gives, leaves = cut["side"], cut["gives"], cut["leaves"]
    along = part.width if side == "across" else part.height
    if Fraction(cut["fence"]) != along:
        raise ImpossibleError(f"cut {cut['number']}: {along} lie along the fence")
    if cut["trim"]:
        squared = part.taken(side, _name(gives), along - _long(cut, leaves), blade=True)
        if _size(squared) != _told(gives) or cut["stop"] is not None or cut["times"] != 1 or gives["each"] != 1:
            raise ImpossibleError(f"cut {cut['number']}: an edge squared up gives something else than is told")
        return [(squared, gives["piece"] is not None, 1)]
    stop, times = Fraction(cut["stop"]), cut["times"]
    fence, _, _, at_the_stop = part.true
    if not (fence and at_the_stop):
        raise ImpossibleError(f"cut {cut['number']}: measured from a ragged edge")
    rest = along - stop * times
    if rest <= 0:
        raise ImpossibleError(f"cut {cut['number']}: {times} x {stop} are not in {along}")
    number = times + (1 if rest == stop and leaves is None else 0)
    made = part.taken(side, _name(gives), stop, blade=True, stop=True)
    over = part.taken(side, _name(leaves or gives), rest, stop=True)
    if number != gives["each"] or _size(made) != _told(gives):
        raise ImpossibleError(f"cut {cut['number']}: gives something else than is told")
    if leaves is None:
        if number == times:
            raise ImpossibleError(f"cut {cut['number']}: {rest} is left, and not told of")
        return [(made, gives["piece"] is not None, times), (over, gives["piece"] is not None, 1)]
    if _size(over) != _told(leaves):
        raise ImpossibleError(f"cut {cut['number']}: leaves something else than is told")
    first = [(made, gives["piece"] is not None, times)]
    return first if leaves["falls_off"] else [*first, (over, leaves["piece"] is not None, 1)]


_SHEET = {"letter": None, "squared": 0, "rest": 0}
"""A sheet that nothing was done to yet."""


def _called(part: dict[str, Any]) -> str:
    """What tells a part from all others."""
    return json.dumps(part, sort_keys=True)


def _name(data: dict[str, Any]) -> str:
    """What becomes of a cut: a piece by its name, a part, or something to throw away."""
    return data["piece"] if data["piece"] is not None else _called(data["part"])


def _size(part: _Part) -> tuple[Fraction, Fraction]:
    return part.width, part.height


def _told(data: dict[str, Any]) -> tuple[Fraction, Fraction]:
    return Fraction(data["across"]), Fraction(data["down"])


def _long(cut: dict[str, Any], data: dict[str, Any]) -> Fraction:
    return Fraction(data[cut["side"]])
