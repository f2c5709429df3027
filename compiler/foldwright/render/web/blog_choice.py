"""Which pictures a fragment shows: of each step the one that says most, and of no piece the same twice."""

from __future__ import annotations

from collections.abc import Collection

from foldwright.document.model import Document, Picture, PieceLine, StepText

_RECTANGLE = 4
"""Corners."""
_CUT_OUT = "cut"


def plan_steps(document: Document) -> dict[str, int]:
    """By piece, the step its plan belongs to (0: none). A piece whose size says all of it has no plan.

    A rectangle is cut out by its size, so that its plan waits for the first step that does more to it.
    """
    found = {}
    for piece in document.pieces:
        if not _is_plain(piece):
            first = next((step.number for step in document.steps if piece.name in step.shows), 0)
            flat = (step.number for step in document.steps if any(_on_its_plan(piece, one) for one in step.pictures))
            found[piece.name] = next(flat, first) if _is_rectangle(piece) else first
    return found


def drawing_of(document: Document, step: StepText, plans: Collection[str]) -> Picture | None:
    """The drawing that says most of a step, if it shows anything that the plan of its piece does not."""
    placed = (document.picture(one) for one in document.shown if one.step == step.number and one.drawing)
    best = next((picture for picture in placed if picture), None)
    shown = [piece for piece in document.pieces if piece.name in plans]
    return None if best is None or any(_on_its_plan(piece, best) for piece in shown) else best


def _on_its_plan(piece: PieceLine, drawn: Picture) -> bool:
    """Whether a drawing of scores or holes has nothing the plan of its piece lacks."""
    if drawn.piece != piece.name or piece.picture is None or not drawn.scene.lengths or drawn.kind == _CUT_OUT:
        return False
    return drawn.kind.startswith("score") or set(drawn.scene.lengths) <= set(piece.picture.scene.lengths)


def _is_plain(piece: PieceLine) -> bool:
    """Whether there is nothing to score, fold or cut out of it."""
    scene = piece.picture.scene if piece.picture else None
    return scene is None or (_is_rectangle(piece) and len(scene.strokes) == 1 and not scene.callouts)


def _is_rectangle(piece: PieceLine) -> bool:
    scene = piece.picture.scene if piece.picture else None
    return scene is None or all(len(one.points) <= _RECTANGLE for one in scene.strokes if one.closed)
