"""One thing that a step has hands do, and what it is done to and with."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct

from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.stuff import supplies_meant
from foldwright.geometry.pictures.whole import seat_of
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import Scene
from foldwright.recipe.model import Doing, Step, Supply


class Handled(Struct, frozen=True):
    """What the picture of a task shows, and what there is after it. `piece` is empty where it is the whole thing."""

    code: str
    piece: str
    scene: Scene
    state: State
    onto: str = ""
    thing: str = ""
    count: int = 0
    """How many things are put in."""


class Handling(Struct, frozen=True):
    """One act of a step. `piece` is what it is done to: the first it names, or the thing that is being made."""

    workshop: Workshop
    state: State
    step: Step
    doing: Doing
    piece: str
    named: bool
    """Whether the step names the piece."""

    @property
    def told(self) -> str:
        """The piece as a caption calls it, empty for the whole thing."""
        return self.piece if self.named else ""

    def supply(self, suits: Callable[[Supply], bool]) -> Supply | None:
        """What it is done with: named with the act, by `with:`, in the step's words; else the only one that suits."""
        return next(self.supplies(suits), None)

    def supplies(self, suits: Callable[[Supply], bool]) -> Iterator[Supply]:
        """All that suit, the one meant first."""
        meant, others = supplies_meant(self.workshop.recipe, self.step, self.doing)
        yield from (supply for supply in (*meant, *others) if suits(supply))

    def names(self, supply: Supply) -> bool:
        """Whether the act itself or `with:` names it."""
        name = supply.name.value
        return name in self.doing.things or any(said.value == name for said in self.step.uses)


def handling_of(workshop: Workshop, state: State, step: Step, doing: Doing) -> Handling | None:
    """None where there is nothing on the table yet."""
    known = [name for name in doing.subjects if workshop.net(name) is not None]
    if known:
        return Handling(workshop, state, step, doing, known[0], True)
    piece = main_piece(workshop, state)
    return Handling(workshop, state, step, doing, piece, False) if piece else None


def main_piece(workshop: Workshop, state: State) -> str:
    """What is being made, when a step does not say: the piece most others belong to; of two the one named first."""
    names = [piece.name.value for piece in workshop.recipe.pieces if workshop.net(piece.name.value) is not None]
    touched = [name for name in names if name in state.pieces] or names
    if not touched:
        return ""
    seats = [seat_of(name, state) for name in touched]
    seats += [seat_of(one.piece, state) for one in state.added if one.piece in names]
    hold = {piece.name.value for piece in workshop.recipe.pieces if piece.holds}
    return max(seats, key=lambda name: (seats.count(name), name in hold, name in state.bent, -names.index(name)))
