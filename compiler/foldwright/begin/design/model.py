"""What is asked for, and what is proposed: things to be held, and blanks of plain forms that hold them."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.geometry.together.hands import ERROR
from foldwright.measure.length import Length, System, Unit
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
        return len(self.size) == 2


class DesignWish(Struct, frozen=True):
    """What is to be designed. Lengths are in the unit all numbers are to come out in.

    `step` is what every number is a multiple of, `clearance` the room to spare in each direction, in all. `card` and
    `card_facts` are the supply it is cut from (without its sheets), `thickness` how thick that is (mm).
    """

    things: tuple[Things, ...]
    forms: tuple[str, ...]
    system: System
    step: Length
    clearance: Length
    card: str
    card_facts: str
    thickness: Fraction
    sheets: tuple[NamedSheet, ...]
    hand_error: Fraction | None = None
    """How far a cut or a score of the studio's may be off (mm)."""

    @property
    def hand(self) -> Fraction:
        """What a joint made by hand takes besides the card (mm): twice the error, so that nine in ten go together."""
        return 2 * (ERROR[self.system] if self.hand_error is None else self.hand_error)

    @property
    def unit(self) -> Unit:
        return self.step.unit

    def up(self, mm: Fraction, times: int = 1) -> Length:
        """The least multiple of the step (or so many times the step) that is no less."""
        step = self.step.mm * times
        return Length(-(-mm // step) * step, self.unit)


class ThingsLying(Struct, frozen=True):
    """One way the things lie together: the box round them (across, down, high, in mm) and how they lie in it.

    `rows` has, for each kind of thing, how many lie side by side, behind each other and on each other, and how each
    lies.
    """

    box: Size
    rows: tuple[tuple[tuple[int, int, int], Size], ...]


class Panels(Struct, frozen=True):
    """A blank: its rows of panels, good side up, and the names of the panels (empty where they need none)."""

    name: str
    form: str
    across: tuple[Length, ...]
    down: tuple[Length, ...]
    across_names: tuple[str, ...] = ()
    down_names: tuple[str, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    trim: str = ""

    @property
    def size(self) -> tuple[Length, Length]:
        return sum(self.across[1:], start=self.across[0]), sum(self.down[1:], start=self.down[0])

    @property
    def lengths(self) -> frozenset[Length]:
        return frozenset((*self.across, *self.down))


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
