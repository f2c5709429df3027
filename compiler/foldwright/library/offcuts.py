"""What makes use of the same sheet: recipes whose pieces come out of what another leaves of its paper.

Of one kind and one weight of paper, whichever of its sheets is used. All pieces that a recipe cuts from that paper have
to come out, for one making of each.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.library.cutting_out import MOST_TIMES, Rectangle, Scale, Wanted, times_out
from foldwright.outputs.entry import CutFrom, Entry

MOST = 3
"""So many are named beside a recipe."""
_LOOKED_AT = 60
"""So many that might come out are tried for each paper of a recipe (a reasoned guess): enough, and soon done."""

type PaperKey = tuple[str, int]
"""A kind of paper and its weight in grams, nought where nobody says it."""


class SameSheet(Struct, frozen=True):
    """A recipe of which `pieces` pieces come out of what is left of a paper, `times` over."""

    entry: Entry
    paper: CutFrom
    pieces: int
    times: int


class _Guest(Struct, frozen=True):
    """A recipe by what it cuts from one paper."""

    entry: Entry
    wanted: tuple[Wanted, ...]
    area: int


def same_sheets(entries: Sequence[Entry]) -> dict[str, tuple[SameSheet, ...]]:
    """By slug, at most three others of each recipe, those that use most of what is left first."""
    scale = Scale.of(_lengths(entries))
    guests = _guests(entries, scale)
    found = {}
    for entry in entries:
        uses = [use for paper in entry.cut_from if paper.left for use in _on(paper, entry, guests, scale)]
        best = sorted(uses, key=lambda use: (-_used(use, scale), use.entry.title.casefold(), use.entry.slug))
        # A recipe that takes of two papers is named once.
        once = {use.entry.slug: use for use in reversed(best)}
        found[entry.slug] = tuple(use for use in best if once[use.entry.slug] is use)[:MOST]
    return found


def key_of(paper: CutFrom) -> PaperKey:
    """What two papers have in common that may stand in for each other on one sheet."""
    return paper.kind, paper.grams


def _lengths(entries: Sequence[Entry]) -> Iterator[str]:
    for entry in entries:
        for paper in entry.cut_from:
            for one in (*paper.cuts, *paper.left):
                yield one.across
                yield one.down


def _guests(entries: Sequence[Entry], scale: Scale) -> Mapping[PaperKey, list[_Guest]]:
    """The recipes by paper, those that cut the most of it first."""
    found: dict[PaperKey, list[_Guest]] = {}
    for entry in entries:
        for paper in entry.cut_from:
            if paper.cuts:
                wanted = scale.wanted(paper.cuts)
                area = sum(one.area for one in wanted)
                found.setdefault(key_of(paper), []).append(_Guest(entry, wanted, area))
    for guests in found.values():
        guests.sort(key=lambda guest: (-guest.area, guest.entry.title.casefold(), guest.entry.slug))
    return found


def _on(paper: CutFrom, host: Entry, guests: Mapping[PaperKey, list[_Guest]], scale: Scale) -> Iterator[SameSheet]:
    """The first few that come out of what the host leaves of a paper."""
    sheets = _left(paper, scale)
    likely = (guest for guest in guests.get(key_of(paper), ()) if guest.entry is not host and _may_fit(guest, sheets))
    tried = ((guest, _times(guest, sheets)) for guest in islice(likely, _LOOKED_AT))
    for guest, times in islice(((guest, times) for guest, times in tried if times), MOST):
        yield SameSheet(guest.entry, paper, sum(one.count for one in guest.wanted), times)


def _left(paper: CutFrom, scale: Scale) -> tuple[tuple[Rectangle, ...], ...]:
    """What is left of each of the sheets it is sold in, by sheet."""
    by_sheet: dict[str, list[Rectangle]] = {}
    for one in paper.left:
        left = Rectangle(scale.whole(one.across), scale.whole(one.down), one.grain)
        by_sheet.setdefault(one.sheet, []).extend([left] * one.count)
    return tuple(map(tuple, by_sheet.values()))


def _may_fit(guest: _Guest, sheets: Sequence[Sequence[Rectangle]]) -> bool:
    """Whether there is enough of the paper at all, and room for the longest piece."""
    longest = guest.wanted[0]
    long, short = max(longest.across, longest.down), min(longest.across, longest.down)
    return all(
        guest.area <= sum(one.area for one in left)
        and any(long <= max(one.across, one.down) and short <= min(one.across, one.down) for one in left)
        for left in sheets
    )


def _times(guest: _Guest, sheets: Sequence[Sequence[Rectangle]]) -> int:
    """How often it comes out of whichever sheet is used."""
    times = MOST_TIMES
    for left in sheets:
        if times:
            times = min(times, times_out(guest.wanted, left, times))
    return times


def _used(use: SameSheet, scale: Scale) -> int:
    area = next(
        sum(one.area for one in scale.wanted(paper.cuts))
        for paper in use.entry.cut_from
        if key_of(paper) == key_of(use.paper) and paper.cuts
    )
    return area * use.times


# --- in words ---------------------------------------------------------------------------------------------------------


def same_sheet_words(use: SameSheet, words: Catalogue) -> str:
    """`Gift tag: the 2 pieces you cut for it come out of what is left of the cardstock (270 g/m²), 6 times over.`"""
    kind, weight = use.paper.kind, _weight(use.paper)
    paper = words.say("same-sheet.paper", kind=kind, weight=weight) if weight else kind
    times = "once" if use.times == 1 else "many" if use.times == MOST_TIMES else "times"
    return words.say(f"same-sheet.{times}", title=use.entry.title, count=use.pieces, paper=paper, times=use.times)


def _weight(paper: CutFrom) -> str:
    """In both systems, where they differ."""
    return " / ".join(dict.fromkeys((paper.weight.imperial, paper.weight.metric)))
