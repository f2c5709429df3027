"""Nets cut from random convex bodies fold back to the bodies they were cut from."""

from __future__ import annotations

from collections import deque
from math import atan2, degrees

import numpy as np
import pytest
import trimesh
from scipy.spatial import ConvexHull

from foldwright.geometry.flat.lines import LineSource
from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.net import Crease, Net, Panel
from geometry.folding.shapes import closed_volume


def unfolded(corners: np.ndarray, triangles: np.ndarray) -> Net:
    """The triangles of a convex body laid flat round the first one.

    Written for this test alone: every triangle is laid beside its neighbour by its three side lengths, and the angle of
    the crease is that between the two planes. Outsides look up, so every fold is a mountain.
    """
    beside: dict[frozenset[int], list[int]] = {}
    for number, triangle in enumerate(triangles):
        for at in range(3):
            beside.setdefault(frozenset((triangle[at], triangle[(at + 1) % 3])), []).append(number)
    a, b, c = (corners[corner] for corner in triangles[0])
    flat: dict[int, dict[int, np.ndarray]] = {0: _laid(triangles[0], a, b, c)}
    creases: list[Crease] = []
    waiting = deque([0])
    while waiting:
        number = waiting.popleft()
        for edge, pair in beside.items():
            if number not in pair:
                continue
            other = pair[0] if pair[1] == number else pair[1]
            if other in flat:
                continue
            one, two = edge
            third = next(corner for corner in triangles[other] if corner not in edge)
            flat[other] = _beside(flat[number], one, two, third, corners)
            angle = -_angle_between(corners, triangles[number], triangles[other])
            start, end = (tuple(flat[number][corner]) for corner in (one, two))
            creases.append(Crease(number, other, start, end, angle, LineSource("line", len(creases))))
            waiting.append(other)
    panels = tuple(
        Panel(str(number), tuple(tuple(flat[number][corner]) for corner in triangles[number]))
        for number in range(len(triangles))
    )
    return Net("body", panels, tuple(creases), 0, 100.0)


def _laid(triangle: np.ndarray, a: np.ndarray, b: np.ndarray, c: np.ndarray) -> dict[int, np.ndarray]:
    long = np.linalg.norm(b - a)
    along = np.dot(c - a, b - a) / long
    off = np.linalg.norm(np.cross(c - a, b - a)) / long
    return dict(zip(map(int, triangle), (np.zeros(2), np.array([long, 0.0]), np.array([along, off])), strict=True))


def _beside(laid: dict[int, np.ndarray], one: int, two: int, third: int, corners: np.ndarray) -> dict[int, np.ndarray]:
    """The third corner on the other side of the edge from the triangle that is there already."""
    a, b, c = corners[one], corners[two], corners[third]
    long = np.linalg.norm(b - a)
    along = np.dot(c - a, b - a) / long
    off = np.linalg.norm(np.cross(c - a, b - a)) / long
    way = (laid[two] - laid[one]) / long
    across = np.array([-way[1], way[0]])
    known = next(spot for corner, spot in laid.items() if corner not in (one, two))
    side = -np.sign(np.dot(known - laid[one], across))
    return {one: laid[one], two: laid[two], third: laid[one] + along * way + side * off * across}


def _angle_between(corners: np.ndarray, one: np.ndarray, other: np.ndarray) -> float:
    first, second = (np.cross(corners[t[1]] - corners[t[0]], corners[t[2]] - corners[t[0]]) for t in (one, other))
    return degrees(atan2(np.linalg.norm(np.cross(first, second)), np.dot(first, second)))


@pytest.mark.parametrize("seed", range(60))
def test_the_net_of_a_convex_body_folds_back(seed: int) -> None:
    chance = np.random.default_rng(seed)
    points = chance.normal(size=(chance.integers(4, 24), 3)) * 40.0
    hull = ConvexHull(points)
    # scipy says which way a face looks but not the order of its corners: trimesh turns them outwards.
    body = trimesh.Trimesh(points, hull.simplices, process=False)
    trimesh.repair.fix_normals(body)
    folded = fold(unfolded(points, body.faces))
    made = [folded.corners(number) for number, _ in folded.panels]
    size = float(np.ptp(points))
    for number, triangle in enumerate(body.faces):
        for other in range(number):
            for own, corner in enumerate(triangle):
                for its, same in enumerate(body.faces[other]):
                    if corner == same:
                        apart = np.subtract(made[number][own], made[other][its])
                        assert np.linalg.norm(apart) <= 1e-9 * size
    assert closed_volume(made) == pytest.approx(hull.volume, rel=1e-9)
