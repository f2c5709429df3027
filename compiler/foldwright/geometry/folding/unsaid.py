"""Pieces of which nobody says how they fold though something else asks for it. They would silently be drawn flat."""

from __future__ import annotations

from msgspec.structs import replace

from foldwright.finding import Finding, Strength
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.geometry.flat.panels import fits_form
from foldwright.recipe.model import Piece, Recipe, Step
from foldwright.recipe.pieces.piece import FORM_SPELLINGS
from foldwright.vocabulary.names import plain_words

_CROSSED = ("tray", "lid")
_IN_A_ROW = ("card", "tri-fold", "gate", "accordion", "sleeve")
"""Forms by how their scores lie, the likeliest first (a reasoned guess)."""
_FOLDS = frozenset({"fold", "pleat"})
_NAMES = frozenset({*_CROSSED, *_IN_A_ROW}) - {"card"}
"""Forms a piece is named after because it is folded so; `card` is what most pieces are made of."""


def unsaid_fold(recipe: Recipe, piece: Piece, blank: Blank) -> Finding | None:
    """Asks how a piece folds that has flaps, that a step folds, or that is named after a form its scores would do for.

    Of one that has scores and nothing else nothing is asked: it stays flat. `piece` has neither `fold:` nor angles.
    """
    drawn = any(line.kind in ("score", "valley", "mountain") for line in blank.drawn)
    if not drawn and len(blank.across) == len(blank.down) == 1:
        return None
    named, step = _form_in_name(piece), _folded_in(recipe, piece)
    forms = () if drawn else _forms(blank, named)
    told: dict[str, object] = {"piece": blank.piece, **({"step": step.heading.value} if step else {})}
    if forms:
        told |= {"form": forms[0], "others": forms[1:], "forms": forms, "count": len(forms) - 1}
    if blank.boxed and forms and (said := piece.flaps or piece.corners):
        return Finding.of("flaps-of-what-form", Strength.MISFIT, said.place, **told)
    if piece.glued or piece.goes_round:
        # It is bent by what it is glued to, or goes round.
        return None
    if step:
        code = "folded-to-what-form" if forms else "folded-at-what-angles"
        return Finding.of(code, Strength.MISFIT, piece.name.place, **told)
    if named in forms and named in _NAMES:
        return Finding.of("named-after-a-form", Strength.THOUGHT, piece.name.place, **told)
    return None


def _forms(blank: Blank, named: str) -> tuple[str, ...]:
    """The forms its rows would do for, the one it is named after first."""
    strips = (*blank.across, *blank.down)
    row = ("sleeve",) if any(strip.role == GLUE_FLAP for strip in strips) else _IN_A_ROW
    forms = (form for form in (*_CROSSED, *row) if fits_form(replace(blank, form=form)))
    return tuple(sorted(forms, key=lambda form: form != named))


def _form_in_name(piece: Piece) -> str:
    """`snow lid` is named after a form; empty for one that is not."""
    return FORM_SPELLINGS.get((plain_words(piece.name.value) or ("",))[-1], "")


def _folded_in(recipe: Recipe, piece: Piece) -> Step | None:
    """The first step that folds it, by name or, where nothing else can be meant, without."""
    name = piece.name.value
    alone = len(recipe.pieces) == 1
    for step in recipe.steps:
        for doing in step.doings:
            if doing.act in _FOLDS and (name in doing.subjects or (alone and not doing.subjects)):
                return step
    return None
