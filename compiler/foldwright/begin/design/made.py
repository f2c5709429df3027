"""Forms that are worked out from the room inside, and bands: proposals whose blank the pipeline lays itself."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from math import pi

from msgspec import Struct

from foldwright.begin.design.model import DesignWish, Things, ThingsLying, solid
from foldwright.begin.draft.blanks import BlankRules
from foldwright.begin.draft.model import Panels
from foldwright.begin.draft.worked_out import blank_size
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
    """A piece as a recipe writes it, the sizes it is given by, and the room left round the things (mm)."""

    panels: Panels
    inside: tuple[Length, ...]
    room: tuple[Fraction, ...]


def made_round(form: str, rules: BlankRules, lying: ThingsLying, easier: tuple[int, ...]) -> Iterator[MadeBlank]:
    """Pieces of a form round the things, their inside rounded up more or less."""
    across, down, high = lying.box
    clear = rules.clearance.mm
    tall = high * _TALLER if form == "gift bag" else high
    for times in product(easier, repeat=3):
        inside = tuple(rules.up(side + clear, more) for side, more in zip((across, down, tall), times, strict=True))
        size = blank_size(form, "inside", inside, rules.thickness)
        if size is None:
            continue
        name = form.rsplit(" ", 1)[-1]
        facts = (("fold", form), ("inside", write_cross(inside)))
        room = tuple(side.mm - taken for side, taken in zip(inside, lying.box, strict=True))
        yield MadeBlank(Panels(name, form, (size[0],), (size[1],), facts=facts), inside, room)


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
        yield MadeBlank(Panels("band", "band", (long,), (wide,), facts=(("goes round", said),)), (long, wide), ())
