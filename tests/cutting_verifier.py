"""Whether cuts are possible and what comes of them, judged from `kit.json` alone, by code of its own. No test."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

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


def replay(layout: dict[str, Any], sheet: dict[str, Any]) -> Counter[tuple[str, Fraction, Fraction]]:
    """Make every numbered cut of a layout on all its sheets; the pieces that come of it. Raises ImpossibleError."""
    have: Counter[tuple[str, Fraction, Fraction]] = Counter()
    pieces: Counter[tuple[str, Fraction, Fraction]] = Counter()
    whole = Fraction(sheet["across"]), Fraction(sheet["down"])
    have["sheet", *whole] = layout["copies"]
    for cut in layout["cuts"]:
        (part,) = [key for key in have if key[0] == cut["of"] and have[key]] or [None]
        if part is None or have[part] != cut["count"]:
            raise ImpossibleError(f"cut {cut['number']}: {cut['count']} of {cut['of']} are not there")
        have[part] -= cut["count"]
        for name, is_piece, width, height, number in _outcome(cut, part[1], part[2]):
            (pieces if is_piece else have)[name, width, height] += number * cut["count"]
    if not layout["cuts"]:
        pieces[layout["places"][0]["piece"], *whole] += layout["copies"]
    elif any(have.values()):
        raise ImpossibleError(f"left uncut: {[key for key in have if have[key]]}")
    return pieces


def _outcome(cut: dict[str, Any], width: Fraction, height: Fraction) -> list[tuple[str, bool, Fraction, Fraction, int]]:
    """What one part becomes: (name, whether a piece, width, height, how many)."""
    stop, times, gives, leaves = Fraction(cut["stop"]), cut["times"], cut["gives"], cut["leaves"]
    along = width if cut["side"] == "across" else height

    def part(length: Fraction) -> tuple[Fraction, Fraction]:
        return (length, height) if cut["side"] == "across" else (width, length)

    rest = along - stop * times
    if rest <= 0:
        raise ImpossibleError(f"cut {cut['number']}: {times} x {stop} are not in {along}")
    number = times + (1 if rest == stop and leaves is None else 0)
    if number != gives["each"] or part(stop) != (Fraction(gives["across"]), Fraction(gives["down"])):
        raise ImpossibleError(f"cut {cut['number']}: gives something else than is told")
    made = [(gives["name"], gives["is_piece"], *part(stop), number)]
    if leaves is None:
        if number == times:
            raise ImpossibleError(f"cut {cut['number']}: {rest} is left, and not told of")
        return made
    if part(rest) != (Fraction(leaves["across"]), Fraction(leaves["down"])):
        raise ImpossibleError(f"cut {cut['number']}: leaves something else than is told")
    return made if leaves["falls_off"] else [*made, (leaves["name"], leaves["is_piece"], *part(rest), 1)]
