"""Whether every piece can be cut and scored in one pass of the trimmer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from foldwright.finding import Finding, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.lengths import LengthId
from foldwright.plan.sheets import place_of_size
from foldwright.recipe.model import Recipe, Supply
from foldwright.vocabulary import tool_of

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat


def check_trimmer(recipe: Recipe, flat: Flat) -> tuple[Finding, ...]:
    """A thought for every piece with a straight cut, or a score, longer than the trimmer's bed."""
    bed = recipe.studio.trimmer.bed
    if bed is None or not _trims(recipe):
        return ()
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    blanks = {blank.piece: blank for blank in flat.blanks}
    found = []
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value)
        supply = supplies.get(piece.supply.value.casefold()) if piece.supply else None
        if blank is None or blank.doubtful or blank.round or piece.outline is not None:
            continue
        long = {"across": blank.width, "down": blank.height}
        too_long = [side for side in _passes(blank, supply) if long[side] > bed.value.mm]
        if too_long:
            length = flat.lengths.by_id[LengthId(blank.piece, too_long[0], "size")]
            facts = {"piece": blank.piece, "length": length, "bed": bed.value}
            found.append(Finding.of("longer-than-the-bed", Strength.THOUGHT, place_of_size(piece), **facts))
    return tuple(found)


def _trims(recipe: Recipe) -> bool:
    """Whether a trimmer is among the tools; a recipe that lists none may use the studio's."""
    kinds = [tool_of(tool.name.value) for tool in recipe.tools]
    return not kinds or any(kind is not None and kind.name == "paper trimmer" for kind in kinds)


def _passes(blank: Blank, supply: Supply | None) -> Iterator[str]:
    """The sides along which the piece is cut or scored. A whole sheet is scored, and not cut."""
    sizes = {frozenset((sheet.value.across.mm, sheet.value.down.mm)) for sheet in (supply.sheets if supply else ())}
    whole = frozenset((blank.width, blank.height)) in sizes
    for side, scored in (("across", blank.down), ("down", blank.across)):
        if not whole or len(scored) > 1:
            yield side
