"""The outlines of a recipe's pieces that lie in files beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from foldwright.finding import Finding, Strength
from foldwright.geometry.outlines.shapes import SHAPES
from foldwright.geometry.outlines.svg import MOST_BYTES, Outline, Refused, read_outline, too_large
from foldwright.recipe.model import Piece, Recipe, Said

type Read = Callable[[str, int], object]
"""The bytes of a file of the recipe's folder, up to so many; anything but bytes is a reason why there are none."""

_REFUSALS = {"OUTSIDE": "outline-outside", "NOT_A_FILE": "outline-not-a-file", "UNREADABLE": "outline-not-a-file"}
"""Why a file was not handed over, by the name of the reason."""


def read_outlines(recipe: Recipe, read: Read | None) -> tuple[dict[str, Outline], tuple[Finding, ...]]:
    """By piece, and what is the matter with the others. Without `read` no file is looked for."""
    found: dict[str, Outline] = {}
    findings: list[Finding] = []
    for piece in recipe.pieces:
        if piece.outline is None or piece.outline.value.casefold() in SHAPES:
            continue
        made = _read(piece, read)
        if isinstance(made, Outline):
            found[piece.name.value] = made
            findings += _thoughts(piece.outline, made)
        elif made is not None:
            facts = dict(made.facts)
            name, place = piece.outline.value, piece.outline.place
            findings.append(Finding.of(made.code, Strength.MISFIT, place, file=name, **facts))
    return found, tuple(findings)


def _thoughts(said: Said[str], made: Outline) -> Iterator[Finding]:
    """What was read in a file in one way, and may have been meant in another."""
    if made.unnamed:
        facts = {"file": said.value, "count": made.unnamed}
        yield Finding.of("outline-lines-unnamed", Strength.THOUGHT, said.place, **facts)
    for name in made.doubtful:
        yield Finding.of("outline-number-or-angle", Strength.THOUGHT, said.place, file=said.value, said=name)


def _read(piece: Piece, read: Read | None) -> Outline | Refused | None:
    assert piece.outline is not None
    name = piece.outline.value
    if not name.casefold().endswith(".svg"):
        return Refused.of("outline-unknown", known=tuple(SHAPES))
    if read is None:
        return None
    data = read(name, MOST_BYTES)
    if isinstance(data, bytes):
        return read_outline(data)
    reason = getattr(data, "name", "MISSING")
    return too_large() if reason == "TOO_LARGE" else Refused.of(_REFUSALS.get(reason, "outline-missing"))
