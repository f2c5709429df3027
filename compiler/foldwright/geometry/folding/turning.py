"""Folds that go the wrong way: those that, turned, close a shape that stays open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from foldwright.geometry.flat.lines import LineSource
from foldwright.geometry.folding.folded import Folded, Tree, tree_of
from foldwright.geometry.folding.meeting import collisions, meeting_edges, tabs_in_place
from foldwright.geometry.folding.net import Crease

_HALF_TURN = 179.0
"""Degrees: what is folded flat on itself may as well be folded flat the other way."""
_MOST_TRIED = 40
"""With more folds than these nobody's eye, and no quick trial, tells which of them is turned."""
_GAINED = 2
"""A turned fold is told when so many more pairs of edges meet, or tabs lie on what they are glued to."""


class TurnedFolds(Struct, frozen=True):
    """The folds that go the wrong way, in order, each by a crease of it."""

    creases: tuple[Crease, ...]


def turned_folds(folded: Folded) -> TurnedFolds | None:
    """The fewest folds that, turned the other way, close the shape best; None where none is wrong.

    Folds are tried one by one, and all of them folded one way. A shape closes better by every pair of edges more that
    meet and every tab more that lies flat on a panel it does not hang on.
    """
    net, tree = folded.net, tree_of(folded.net)
    signs = {one.source: one.angle > 0 for one in net.creases if 0 < abs(one.angle) < _HALF_TURN}
    if len(signs) > _MOST_TRIED:
        return None
    best, candidates = None, list(_candidates(signs))
    before = _closed(folded) if candidates else 0
    for wrong in candidates:
        turned = _turned(tree, wrong)
        gained = _closed(turned) - before
        if gained < _GAINED or turned.opened or any(collisions(turned)):
            continue
        merit = gained, -len(wrong)
        if best is None or merit > best[0]:
            best = merit, wrong
    if best is None:
        return None
    firsts = {source: next(one for one in net.creases if one.source == source) for source in best[1]}
    return TurnedFolds(tuple(sorted(firsts.values(), key=lambda one: (one.source.side, one.source.number))))


def _candidates(signs: Mapping[LineSource, bool]) -> Iterator[tuple[LineSource, ...]]:
    """Single folds that go another way than most: it is the rest that says which way is right.

    Then all folds of either way, the mountains last: as a rule the good side is outside.
    """
    valleys = tuple(source for source, is_valley in signs.items() if is_valley)
    mountains = tuple(source for source, is_valley in signs.items() if not is_valley)
    for source in signs:
        if 2 * len(valleys if signs[source] else mountains) <= len(signs):
            yield (source,)
    if len(valleys) > 1 and len(mountains) > 1:
        yield valleys
        yield mountains


def _turned(tree: Tree, wrong: tuple[LineSource, ...]) -> Folded:
    return tree.folded(lambda one: -one.angle if one.source in wrong else one.angle)


def _closed(folded: Folded) -> int:
    return meeting_edges(folded) + tabs_in_place(folded)
