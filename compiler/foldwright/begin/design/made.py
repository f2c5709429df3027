"""Forms that are worked out from the room inside, and bands: proposals whose blank the pipeline lays itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import pi

from msgspec import Struct

from foldwright.begin.design.model import DesignWish, Things, ThingsLying, solid
from foldwright.begin.draft.blanks import BlankRules
from foldwright.begin.draft.model import Panels
from foldwright.begin.draft.worked_out import blank_size
from foldwright.geometry.flat.forms.bag import LEAST_LAP
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.wrapping import ACROSS, length_round
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.facts.writing import write_cross

MADE = ("tuck box", "gift bag")
_TALLER = Fraction(5, 4)
"""A bag is so many times as high as what stands in it, so that it can be closed (common practice, no source)."""
_BAND = {System.IMPERIAL: Length.of(1, Unit.INCH), System.METRIC: Length.of(30, Unit.MILLIMETRE)}
"""How wide a band is where the thing is three times as long (common practice, no source)."""
_BAND_PART = Fraction(1, 3)


class MadeBlank(Struct, frozen=True):
    """A band as a recipe writes it, and the sizes it is given by."""

    panels: Panels
    inside: tuple[Length, ...]


def insides_round(
    form: str, rules: BlankRules, lying: ThingsLying, easier: tuple[int, ...]
) -> Iterator[tuple[Length, ...]]:
    """The room inside a form that holds the things, each side rounded up more or less."""
    across, down, high = lying.box
    tall = high * _TALLER if form == "gift bag" else high
    for times in product(easier, repeat=3):
        sides = zip((across, down, tall), times, strict=True)
        wide, deep, inner = (rules.up(side + rules.clearance.mm, more) for side, more in sides)
        if form == "gift bag":
            # The ends of its bottom lap over each other: it is wider than deep, and its deep sides have more layers.
            wide = max(wide, rules.up(deep.mm + 2 * (LEAST_LAP[rules.system] + rules.thickness), times[0]))
        yield wide, deep, inner


def no_larger(form: str, inside: Sequence[Length]) -> tuple[Fraction, Fraction]:
    """What its blank measures at least (mm), without laying it: round its four walls, and over its ends or its foot."""
    across, down, high = (side.mm for side in inside)
    return 2 * (across + down), high + (2 * down if form == "tuck box" else down / 2)


def blank_with(form: str, rules: BlankRules, inside: tuple[Length, ...]) -> Panels | None:
    """The piece as a recipe writes it; None where no blank has this inside."""
    size = blank_size(form, "inside", inside, rules.thickness)
    name = form.rsplit(" ", 1)[-1]
    facts = (("fold", form), ("inside", write_cross(inside)))
    return Panels(name, form, (size[0],), (size[1],), facts=facts) if size else None


def bands_round(wish: DesignWish, things: Things) -> Iterator[MadeBlank]:
    """A band round one thing, the short way and the long way, or round what is round."""
    across, down, high = solid(things)
    if things.round:
        ways = [("", kept(float(across) * pi), high)]
    else:
        girths = sorted(((2 * (side + high), other) for side, other in ((across, down), (down, across))))
        ways = [(way, *girth) for way, girth in zip(("the short way", "the long way"), girths, strict=True)]
        # A square thing is as far round either way.
        ways = ways[: 1 if across == down else 2]
    rules = wish.rules
    for way, girth, along in ways:
        length = length_round({ACROSS: girth}, "", None, rules.unit, Fraction(0))
        assert length is not None
        long = rules.up(length.mm + 4 * rules.thickness)
        wide = rules.up(min(_BAND[rules.system].mm, max(along * _BAND_PART, rules.step.mm)))
        said = f"{things.name}, {way}" if way and across != down else things.name
        yield MadeBlank(Panels("band", "band", (long,), (wide,), facts=(("goes round", said),)), (long, wide))
