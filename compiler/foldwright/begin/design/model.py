"""What is asked for, and what is proposed: things to be held, and blanks of plain forms that hold them."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.begin.draft.blanks import BlankRules
from foldwright.begin.draft.card import DraftCard
from foldwright.begin.draft.model import Panels
from foldwright.measure.length import Length
from foldwright.pack.model import Size
from foldwright.recipe.model import NamedSheet

FORMS = ("tray", "lid", "drawer", "envelope", "card")
"""A tray, a tray with a lid, a drawer with a sleeve, an envelope, a card for an envelope."""


class Things(Struct, frozen=True):
    """So many of one thing: its name and its size as said (two lengths for what is flat)."""

    name: str
    count: int
    size: tuple[Length, ...]
    envelope: str = ""
    """The name of a ready-made envelope, when that is what a card is wanted for."""
    called: str = ""
    """What several of them are called, as it was typed."""

    @property
    def flat(self) -> bool:
        """Whether only two sides are said."""
        return len(self.size) == 2


class DesignWish(Struct, frozen=True):
    """What is to be designed: what goes inside, in which forms, by which rules, of which card and sheets.

    Things may be in either system; what is proposed is in that of the rules.
    """

    things: tuple[Things, ...]
    forms: tuple[str, ...]
    rules: BlankRules
    card: DraftCard
    sheets: tuple[NamedSheet, ...]


class ThingsLying(Struct, frozen=True):
    """One way the things lie together: the box round them (across, down, high, in mm) and how they lie in it.

    `rows` has, for each kind of thing, how many lie side by side, behind each other and on each other, and how each
    lies.
    """

    box: Size
    rows: tuple[tuple[tuple[int, int, int], Size], ...]


class Proposal(Struct, frozen=True):
    """Blanks of one form that hold the things as they lie.

    `a_sheet` is how many whole sets come out of each sheet of the wish (a part of one when a set takes several sheets),
    `points` how much there is to say to name its numbers (see `measure.plainness`), `proportion` its longest side over
    its shortest. `room` is what is left round the things, across, down and high (mm).
    """

    form: str
    lying: ThingsLying | None
    blanks: tuple[Panels, ...]
    a_sheet: tuple[Fraction, ...]
    points: Fraction
    proportion: Fraction
    inside: tuple[Length, ...]
    room: tuple[Fraction, ...] = ()
    envelope: str = ""

    @property
    def merit(self) -> tuple[tuple[Fraction, ...], Fraction, Fraction]:
        """Smaller is better: most out of a sheet, then the plainest numbers, then the most even proportion."""
        return tuple(-number for number in self.a_sheet), self.points, self.proportion
