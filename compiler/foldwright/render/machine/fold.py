"""A piece as FOLD 1.2, an open format of folded shapes in JSON: its creases with their angles, and how it is folded.

Seen from the good side with y upwards. A valley (towards who looks at the good side) has an angle above nothing, a
mountain one below: the walls of a box whose good side is outside are mountains. FOLD knows no face with a hole in it: a
panel with a window is several faces, and the edges between them are joins (`J`), which FOLD 1.2 has for this: the paper
goes on there. What is cut off is in no frame.

The facets of curved paper are parted by edges with the angle they turn by, as the folded frame needs them; FOLD has no
kind of edge for that (unassigned ones may have no angle), so `foldwright:bends` lists those that nobody folds.
"""

from __future__ import annotations

import json

from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.mesh import mesh_of
from foldwright.geometry.folding.net import Crease, Net

_SPEC = 1.2
_DIGITS = 9
"""Decimals of a millimetre, as many as a fold is checked to."""


def piece_fold(net: Net, height: float, title: str, describes: str, creator: str) -> bytes:
    """`net` is the piece's; `height` of its blank turns y round. The second frame is the same mesh, folded."""
    mesh = mesh_of(net)
    shape = fold(net)
    bends = [number for number, (_, _, crease) in enumerate(mesh.edges) if crease and crease.smooth]
    data = {
        "file_spec": _SPEC,
        "file_creator": creator,
        "file_title": title,
        "file_classes": ["singleModel"],
        "frame_title": title,
        "frame_description": describes,
        "frame_classes": ["creasePattern"],
        "frame_attributes": ["2D"],
        "frame_unit": "mm",
        "vertices_coords": [[_number(x), _number(height - y)] for x, y in mesh.corners],
        "edges_vertices": [[one, other] for one, other, _ in mesh.edges] + [list(join) for join in mesh.joins],
        "edges_assignment": [_assignment(crease) for _, _, crease in mesh.edges] + ["J"] * len(mesh.joins),
        "edges_foldAngle": [_number(crease.angle) if crease else 0 for _, _, crease in mesh.edges]
        + [0] * len(mesh.joins),
        "faces_vertices": [list(reversed(face)) for face in mesh.faces],
        "foldwright:panels": [net.panels[panel].name for panel in mesh.face_panels],
        **({"foldwright:bends": bends} if bends else {}),
        "file_frames": [
            {
                "frame_title": title,
                "frame_classes": ["foldedForm"],
                "frame_attributes": ["3D"],
                "frame_parent": 0,
                "frame_inherit": True,
                "vertices_coords": [[_number(x), _number(height - y), _number(z)] for x, y, z in mesh.folded(shape)],
            }
        ],
    }
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode("utf-8")


def _assignment(crease: Crease | None) -> str:
    """Border, valley, mountain, or a score that stays flat."""
    if crease is None:
        return "B"
    return "V" if crease.angle > 0 else "M" if crease.angle < 0 else "F"


def _number(number: float) -> float | int:
    """Rounded, whole where it is whole; never a nought with a sign."""
    short = round(number, _DIGITS)
    return int(short) if short == int(short) else short
