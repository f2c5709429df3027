"""Which wall of a box a panel is, and what lies on the walls."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.together.stacks import Stack


def floor_side(blank: Blank, panel: BlankFace) -> LengthId | None:
    """The side of the floor that a wall of a box stands at the ends of, by its length; None for what is no wall."""
    if not blank.boxed:
        return None
    for row, start, end in ((blank.across, panel.left, panel.right), (blank.down, panel.top, panel.bottom)):
        if (start, end) in {(row[0].start, row[0].end), (row[-1].start, row[-1].end)}:
            return row[1].length
    return None


def is_floor(blank: Blank, panel: BlankFace) -> bool:
    """Whether it is the floor of a box."""
    across, down = blank.across, blank.down
    return blank.boxed and (panel.left, panel.right, panel.top, panel.bottom) == (
        *(across[1].start, across[1].end),
        *(down[1].start, down[1].end),
    )


def taken_inside(blank: Blank, stacks: Sequence[Stack]) -> tuple[Fraction, Fraction, Fraction]:
    """How much of a box's room, across, down and in height, is taken by what lies on its floor and inside its walls."""
    taken = [Fraction(0)] * 3
    for one in stacks:
        if one.under != blank.piece.casefold() or one.face != "inside":
            continue
        side = floor_side(blank, one.panel)
        if side is not None:
            taken[0 if side == blank.across[1].length else 1] += one.thick
        elif is_floor(blank, one.panel):
            taken[2] = max(taken[2], one.thick)
    return taken[0], taken[1], taken[2]


def between_walls(lid: Blank, tray: Blank, stacks: Sequence[Stack]) -> tuple[tuple[LengthId, Stack], ...]:
    """What lies between the walls of a lid and a tray, each with the side of the floor it takes of."""
    return tuple(_between(lid, tray, stacks))


def _between(lid: Blank, tray: Blank, stacks: Sequence[Stack]) -> Iterator[tuple[LengthId, Stack]]:
    if not (lid.boxed and tray.boxed):
        return
    deep = min(row[at].long for row in (lid.across, lid.down) for at in (0, -1))
    for one in stacks:
        blank, face = (lid, "inside") if one.under == lid.piece.casefold() else (tray, "outside")
        if one.under != blank.piece.casefold() or one.face != face:
            continue
        side = floor_side(blank, one.panel)
        # Under the rim of a shallow lid a panel may end; one in the middle of a wall leaves half of what is over.
        if side is not None and (blank is lid or one.from_rim < deep):
            yield side, one


def in_sleeve(
    sleeve: Blank, drawer: Blank, sides: tuple[LengthId, LengthId], stacks: Sequence[Stack]
) -> tuple[tuple[LengthId, Stack], ...]:
    """What lies between a drawer and its sleeve, each with that of the drawer's `sides`, wide and high, it adds to."""
    found = []
    walls = [strip for strip in sleeve.across if strip.role != GLUE_FLAP]
    for one in stacks:
        if one.under == drawer.piece.casefold() and one.face == "outside":
            if is_floor(drawer, one.panel):
                found.append((sides[1], one))
            elif floor_side(drawer, one.panel) == sides[0]:
                found.append((sides[0], one))
        elif one.under == sleeve.piece.casefold() and one.face == "inside":
            at = next((number for number, wall in enumerate(walls) if wall.start == one.panel.left), None)
            if at is not None:
                # Top and bottom take of the height, the two sides of the width.
                found.append((sides[1 - at % 2], one))
    return tuple(found)
