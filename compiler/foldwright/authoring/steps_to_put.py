"""Steps to put in: one of each usual act, as `foldwright new` words it where it has one."""

from __future__ import annotations

import textwrap
from collections.abc import Callable

from foldwright.authoring.around import Around, goes_inside
from foldwright.authoring.placing import HERE, TO_HERE, Insertion, put_step
from foldwright.begin.draft.writing import STEPS, WIDE
from foldwright.finding import Said
from foldwright.recipe.model import Piece, Placement
from foldwright.vocabulary import SupplyKind

_OWN = {
    "score": ("score {piece}", 2),
    "glue": ("glue {piece} to {other}", 2),
    "stamp": ("stamp {piece}", 2),
    "colour": ("colour {piece}", 5),
    "check": ("check {piece}", 1),
}
"""Steps that no new recipe begins with: what is done, and for how many minutes (common practice, no source)."""
_IN_ORDER = """cut score cut-and-score flaps corners punch stamp colour fold-any make roll glue stick-on slide-in wrap
    fill tie put-on check"""
_PLACED: dict[str, Callable[[Piece], tuple[Said[Placement], ...]]] = {
    "stick-on": lambda piece: piece.goes_on,
    "glue": lambda piece: piece.goes_on,
    "slide-in": lambda piece: piece.slides_in,
}
"""Acts by which a piece comes to where its author says it goes."""
STEPS_PUT = tuple(f"act-{name}" for name in _IN_ORDER.split())
"""Every step there is to put in, in the order of work."""


def put_act(around: Around, code: str) -> Insertion | None:
    """A step behind the one the caret stands in, about the piece it is wanted for, or that the step there is about."""
    name = code.removeprefix("act-")
    do, minutes = _OWN.get(name) or STEPS[name]
    piece, other = _waiting(around, name) or _of_caret(around)
    values = {"piece": piece, "other": other, "thing": _thing(around, name)}
    room = "authoring.step" if name in _OWN else "draft"
    heading = around.words.say(f"{room}.heading.{name}", **values)
    text = f"{room}.text.{name}"
    words = (
        textwrap.fill(around.words.say(text, **values), WIDE, break_on_hyphens=False) if around.words.has(text) else ""
    )
    facts = [f"do: {do.format(**values)}", f"time: {HERE}{minutes} min{TO_HERE}"]
    facts += [f"with: {values['thing']}"] if values["thing"] and name in ("tie", "fill") else []
    return put_step(around.page, around.offset, heading, facts, words)


def _waiting(around: Around, name: str) -> tuple[str, str] | None:
    """The first piece that goes with another in an act's way, and with which no step does that yet; and the other."""
    placed = _PLACED.get(name)
    if placed is None or around.recipe is None:
        return None
    act = name.partition("-")[0]
    steps = around.recipe.steps
    done = {one for step in steps for doing in step.doings if doing.act == act for one in doing.subjects}
    pieces = (one for one in around.recipe.pieces if placed(one) and one.name.value not in done)
    return next(((one.name.value, placed(one)[0].value.piece) for one in pieces), None)


def _of_caret(around: Around) -> tuple[str, str]:
    piece = _piece(around)
    return piece, around.other(piece)


def _piece(around: Around) -> str:
    """What the step of the caret is done to; else the piece the caret stands in, or the last."""
    here = around.step
    steps = around.recipe.steps if around.recipe and here else ()
    said = [
        one for step in steps if here and step.number == here.number for doing in step.doings for one in doing.subjects
    ]
    if said and here and here.start <= around.offset:
        return said[-1]
    entry = around.entry()
    return entry.name if entry else around.words.say("authoring.name.piece")


def _thing(around: Around, name: str) -> str:
    """The supply that a step ties on or fills in."""
    fits = {"tie": _is_cord, "fill": goes_inside, "wrap": goes_inside}.get(name)
    return (around.supply(fits) or around.words.say(f"authoring.name.{name}")) if fits else ""


def _is_cord(kind: SupplyKind) -> bool:
    return "cord" in kind.hazards
