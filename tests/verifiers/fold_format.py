"""A validator of FOLD files (version 1.2, from memory), with nothing of the program: what a frame may hold, that its
faces tile the paper, and that folding moves every face without bending or stretching it.
"""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from math import dist
from typing import Any

from shapely import union_all
from shapely.geometry import Polygon

ASSIGNMENTS = {"B": 1, "C": 1, "M": 2, "V": 2, "F": 2, "U": 2, "J": 2}
"""Kinds of edges, and how many faces lie beside one: a border or a cut ends the paper, the others are inside it."""
NEAR = 1e-6
CLASSES = {"creasePattern", "foldedForm", "graph", "linkage"}

type Frame = dict[str, Any]


def assert_sound(file: Frame) -> None:
    """Raises AssertionError for anything that a reader of FOLD 1.2 could stumble over."""
    assert 1 <= file["file_spec"] <= 1.2 and file["file_classes"] == ["singleModel"]
    _assert_frame(file)
    _assert_tiled(file)
    for frame in file.get("file_frames", ()):
        whole = {**file, **frame} if frame.get("frame_inherit") else frame
        assert frame["frame_parent"] == 0 and set(frame["frame_classes"]) <= CLASSES
        _assert_frame(whole)
        _assert_moved_whole(file, whole)


def is_folded(file: Frame) -> bool:
    """Whether there is a frame of the folded form in which something has left its place on the sheet."""
    for frame in file.get("file_frames", ()):
        if "foldedForm" in frame["frame_classes"]:
            pairs = zip(file["vertices_coords"], frame["vertices_coords"], strict=True)
            return any(dist([*flat, 0.0][:3], [*there, 0.0][:3]) > 0.1 for flat, there in pairs)
    return False


def _assert_frame(frame: Frame) -> None:
    count = len(frame["vertices_coords"])
    assert set(frame["frame_classes"]) <= CLASSES and frame["frame_unit"] in {"mm", "in", "cm", "pt", "m", "unit"}
    assert {len(spot) for spot in frame["vertices_coords"]} <= {2, 3}
    edges = [tuple(sorted(edge)) for edge in frame["edges_vertices"]]
    assert all(0 <= one < other < count for one, other in edges) and len(set(edges)) == len(edges)
    kinds, angles = frame["edges_assignment"], frame["edges_foldAngle"]
    assert len(kinds) == len(angles) == len(edges)
    for kind, angle in zip(kinds, angles, strict=True):
        assert kind in ASSIGNMENTS and -180 <= angle <= 180
        assert (angle > 0) - (angle < 0) == {"V": 1, "M": -1}.get(kind, 0), (kind, angle)
    beside: Counter[tuple[int, ...]] = Counter()
    for face in frame["faces_vertices"]:
        assert len(set(face)) == len(face) >= 3, "a face goes round once and touches itself nowhere"
        beside.update(tuple(sorted(pair)) for pair in zip(face, [*face[1:], face[0]], strict=True))
    assert set(beside) <= set(edges), "every side of a face is an edge"
    for edge, kind in zip(edges, kinds, strict=True):
        assert beside[edge] == ASSIGNMENTS[kind], (edge, kind, beside[edge])
    used = {at for face in frame["faces_vertices"] for at in face}
    assert used == set(range(count)), "no corner lies about"


def _assert_tiled(frame: Frame) -> None:
    """Counter-clockwise with y upwards, and no place of the paper in two faces."""
    faces = [Polygon([frame["vertices_coords"][at] for at in face]) for face in frame["faces_vertices"]]
    assert all(face.is_valid and face.exterior.is_ccw for face in faces)
    assert abs(sum(face.area for face in faces) - union_all(faces).area) < 1e-3


def _assert_moved_whole(flat: Frame, folded: Frame) -> None:
    """Of one face, every corner is as far from every other as it was: paper neither bends nor stretches."""
    before, after = flat["vertices_coords"], folded["vertices_coords"]
    for face in flat["faces_vertices"]:
        for one, other in combinations(face, 2):
            assert abs(dist(before[one], before[other]) - dist(after[one], after[other])) < NEAR
