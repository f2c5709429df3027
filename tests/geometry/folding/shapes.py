"""Folded pieces for tests: written as an author would, laid flat and folded; solids measured by trimesh. No test."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import trimesh
from shapely.geometry import Polygon

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.folded import Folded, fold
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pieces import lay_flat
from geometry.laid import recipe_of


def net_of_piece(facts: str) -> Net:
    """The net of a piece called `box`; `facts` are its lines, without indent."""
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  box:\n    from: card\n{lines}\n")
    return fold_pieces(recipe, lay_flat(recipe)).nets["box"]


def folded_piece(facts: str, fraction: float = 1.0) -> Folded:
    return fold(net_of_piece(facts), fraction)


def sizes(folded: Folded) -> tuple[float, float, float]:
    """Across, down and deep, without corner flaps: one longer than its wall would stick out."""
    spots = [spot for number, panel in folded.panels if panel.name != "flap" for spot in folded.corners(number)]
    across, down, deep = (max(axis) - min(axis) for axis in zip(*spots, strict=True))
    return across, down, deep


def named(folded: Folded, name: str) -> int:
    return next(number for number, panel in folded.panels if panel.name == name)


def closed_volume(sides: Sequence[Sequence[Spot]]) -> float:
    """What flat sides enclose, by trimesh: every side is cut into triangles and all are turned outwards."""
    corners: list[Spot] = []
    faces: list[tuple[int, int, int]] = []
    for side in sides:
        first = len(corners)
        corners += side
        faces += [(first, first + at, first + at + 1) for at in range(1, len(side) - 1)]
    mesh = trimesh.Trimesh(np.array(corners), np.array(faces), process=False)
    mesh.merge_vertices(digits_vertex=6)
    trimesh.repair.fix_normals(mesh)
    assert mesh.is_watertight
    return abs(float(mesh.volume))


def area_of(outline: Sequence[Sequence[float]]) -> float:
    return float(Polygon(outline).area)


def made(facts: str) -> tuple[Blank, Folded, set[str]]:
    """The blank, the folded shape and all findings of a box of card that is given by these facts."""
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  box:\n    from: card\n{lines}\n")
    flat = lay_flat(recipe)
    folding = fold_pieces(recipe, flat)
    blank = flat.blank("box")
    assert blank is not None
    return blank, fold(folding.nets["box"]), {one.code for one in (*flat.findings, *folding.findings)}
