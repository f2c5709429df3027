"""What an event is planned from: recipes and how many of each, and what is on the shelf."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.measure.length import System

if TYPE_CHECKING:
    from decimal import Decimal

    from foldwright.event.plan.money import OtherCost
    from foldwright.figures.model import Figures
    from foldwright.geometry.pieces import Flat
    from foldwright.plan.times import Times
    from foldwright.recipe.model import Recipe


class WorkedRecipe(Struct, frozen=True):
    """A checked recipe: what the plan needs to know of it."""

    recipe: Recipe
    flat: Flat
    times: Times


class Making(Struct, frozen=True):
    """One recipe, its printed figures, and how many kits of it: for people, spare ones, and one made up beforehand."""

    understood: WorkedRecipe
    figures: Figures
    kits: int
    spare: int = 0
    samples: int = 0

    @property
    def recipe(self) -> Recipe:
        return self.understood.recipe

    @property
    def title(self) -> str:
        return self.recipe.title.value

    @property
    def all_kits(self) -> int:
        return self.kits + self.spare + self.samples


class Wishes(Struct, frozen=True):
    """How the event is to be planned."""

    system: System
    helpers: int = 1
    trim: Fraction = Fraction(0)
    spool_end: Fraction = Fraction(0)
    """Lost at both ends of every spool that is begun, in millimetres."""
    learning: Fraction | None = None
    fee: Decimal | None = None
    margin: Fraction | None = None
    per_table: int = 8
    begins: int = 14 * 3600
    effort: int = 1
    """How far the search for fewer sheets goes: a count of work, not of time."""
    fewest: str = ""
    """`sheets`, `cuts`, or both by what they are worth (empty)."""
    money: str = ""
    digits: int = 2
    """Of the money's minor unit."""
    costs: tuple[OtherCost, ...] = ()


def shares(total: int, parts: int) -> tuple[int, ...]:
    """A number shared out as evenly as whole numbers can be, the larger shares first."""
    return tuple(total // parts + (number < total % parts) for number in range(parts))
