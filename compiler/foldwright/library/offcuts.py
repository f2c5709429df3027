"""What makes use of the same sheet: recipes whose pieces come out of what another leaves of its paper.

Of one kind and one weight of paper, whichever of its sheets is used. All pieces that a recipe cuts from that paper have
to come out, for one making of each.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.library.cutting_out import MOST_TIMES, Rectangle, Scale, Wanted, times_out
from foldwright.library.made_from import MadeFrom, SheetUse
from foldwright.library.made_from import key_of as made_key
from foldwright.outputs.entry import CutFrom, Entry

MOST = 3
"""So many are named beside a recipe."""
_LOOKED_AT = 12
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
    """A recipe by what it cuts from one paper; `long` and `short` are the sides of its longest piece."""

    entry: Entry
    wanted: tuple[Wanted, ...]
    area: int
    long: int
    short: int


class _LeftOver(Struct, frozen=True):
    """What is left of each of the sheets a paper is sold in, and how much fits into it at most, whichever is used."""

    sheets: tuple[tuple[Rectangle, ...], ...]
    area: int
    long: int
    short: int


def same_sheets(entries: Sequence[Entry]) -> dict[str, tuple[SameSheet, ...]]:
    """By slug, at most three others of each recipe, those that use most of what is left first."""
    scale = Scale.of(_lengths(entries))
    guests = _guests(entries, scale)
    found = {}
    for entry in entries:
        uses = [use for paper in entry.cut_from if paper.left for use in _on(paper, entry, guests, scale)]
        best = sorted(uses, key=lambda use: (-use[0], use[1].entry.title.casefold(), use[1].entry.slug))
        # A recipe that takes of two papers is named once.
        once = {use.entry.slug: use for _, use in reversed(best)}
        found[entry.slug] = tuple(use for _, use in best if once[use.entry.slug] is use)[:MOST]
    return found


def same_sheets_as(
    entries: Sequence[Entry], before: MadeFrom
) -> tuple[dict[str, tuple[SameSheet, ...]], str, Mapping[str, tuple[SheetUse, ...]]]:
    """The same; what was found before holds where nothing differs that it depends on. With it, what to remember."""
    key = made_key(*((entry.slug, entry.title, entry.cut_from) for entry in entries))
    if key == before.sheets_key:
        by_slug = {entry.slug: entry for entry in entries}
        again = {
            slug: tuple(SameSheet(by_slug[u.slug], by_slug[slug].cut_from[u.paper], u.pieces, u.times) for u in uses)
            for slug, uses in before.sheets.items()
        }
        return again, key, before.sheets
    found = same_sheets(entries)
    uses = {
        entry.slug: tuple(
            SheetUse(use.entry.slug, entry.cut_from.index(use.paper), use.pieces, use.times)
            for use in found[entry.slug]
        )
        for entry in entries
    }
    return found, key, uses


def key_of(paper: CutFrom) -> PaperKey:
    """What two papers have in common that may stand in for each other on one sheet."""
    return paper.kind, paper.grams


def _lengths(entries: Sequence[Entry]) -> Iterator[str]:
    for entry in entries:
        for paper in entry.cut_from:
            for cut in paper.cuts:
                yield from (cut.across, cut.down)
            for left in paper.left:
                yield from (left.across, left.down)


def _guests(entries: Sequence[Entry], scale: Scale) -> Mapping[PaperKey, list[_Guest]]:
    """The recipes by paper, those that cut the most of it first."""
    found: dict[PaperKey, list[_Guest]] = {}
    for entry in entries:
        for paper in entry.cut_from:
            if paper.cuts:
                wanted = scale.wanted(paper.cuts)
                sides = wanted[0].across, wanted[0].down
                guest = _Guest(entry, wanted, sum(one.area for one in wanted), max(sides), min(sides))
                found.setdefault(key_of(paper), []).append(guest)
    for guests in found.values():
        guests.sort(key=lambda guest: (-guest.area, guest.entry.title.casefold(), guest.entry.slug))
    return found


def _on(
    paper: CutFrom, host: Entry, guests: Mapping[PaperKey, list[_Guest]], scale: Scale
) -> Iterator[tuple[int, SameSheet]]:
    """The first few that come out of what the host leaves of a paper, each with how much of it they use."""
    left = _left(paper, scale)
    others = guests.get(key_of(paper), [])
    first = bisect_left(others, -left.area, key=lambda guest: -guest.area)
    likely = (
        guest
        for guest in islice(others, first, None)
        if guest.long <= left.long and guest.short <= left.short and guest.entry is not host
    )
    able = (guest for guest in islice(likely, _LOOKED_AT) if _times(guest, left, 1))
    for guest in islice(able, MOST):
        times = _times(guest, left, MOST_TIMES)
        yield guest.area * times, SameSheet(guest.entry, paper, sum(one.count for one in guest.wanted), times)


def _left(paper: CutFrom, scale: Scale) -> _LeftOver:
    by_sheet: dict[str, list[Rectangle]] = {}
    for one in paper.left:
        left = Rectangle(scale.whole(one.across), scale.whole(one.down), one.grain)
        by_sheet.setdefault(one.sheet, []).extend([left] * one.count)
    sheets = tuple(map(tuple, by_sheet.values()))
    return _LeftOver(
        sheets,
        area=min(sum(one.area for one in sheet) for sheet in sheets),
        long=min(max(max(one.across, one.down) for one in sheet) for sheet in sheets),
        short=min(max(min(one.across, one.down) for one in sheet) for sheet in sheets),
    )


def _times(guest: _Guest, left: _LeftOver, most: int) -> int:
    """How often it comes out of whichever sheet is used, up to `most`."""
    for sheet in left.sheets:
        if not (most := times_out(guest.wanted, sheet, most)):
            return 0
    return most


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
