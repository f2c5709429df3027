"""A piece as DXF: millimetres, y upwards, a layer for each kind of line, the same bytes every time."""

from __future__ import annotations

import io
from configparser import ConfigParser
from functools import cache
from typing import Any

from foldwright.geometry.contours import Circle, Closed, Contours
from foldwright.geometry.scene import Point

_MILLIMETRES, _METRIC = 4, 1
"""$INSUNITS and $MEASUREMENT (DXF reference; ezdxf names the same numbers)."""
_LAYERS: dict[str, tuple[int, str]] = {
    "OUTLINE": (7, "CONTINUOUS"),
    "OPENINGS": (7, "CONTINUOUS"),
    "CUT": (7, "CONTINUOUS"),
    "SCORE": (5, "DASHEDX2"),
    "VALLEY": (5, "DASHED"),
    "MOUNTAIN": (1, "DASHDOT"),
    "PERFORATION": (3, "DOT"),
    "GLUE": (8, "CONTINUOUS"),
}
"""Colour index and line type of each layer."""
_HALF_CIRCLE = -1.0
"""The bulge of a half circle that runs clockwise: the tangent of a quarter of its angle (DXF reference)."""
_NEVER = 2451544.5
"""1 January 2000 as a Julian date: a file says what it holds, not when it was made."""


def piece_dxf(contours: Contours) -> bytes:
    """The piece good side up, its bottom left corner at the origin."""
    options, new = _library()
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        document = new("R2010", setup=["linetypes"], units=_MILLIMETRES)
        document.header["$MEASUREMENT"] = _METRIC
        for name, (colour, line_type) in _LAYERS.items():
            document.layers.add(name, color=colour, linetype=line_type)
        _draw(document.modelspace(), contours)
        _date(document)
        # The library would take them out of a set, whose order is another in every process.
        for name in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(name)
        out = io.StringIO()
        document.write(out)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return out.getvalue().encode("utf-8")


@cache
def _library() -> tuple[Any, Any]:
    """The library's settings and its way to begin a drawing. While it loads it would read files of settings in the home
    folder and in the one it was called from: nobody else's files have a say here."""
    read = ConfigParser.read
    ConfigParser.read = lambda *_, **__: []  # type: ignore[method-assign]
    try:
        from ezdxf import options  # type: ignore[attr-defined]
        from ezdxf.filemanagement import new
    finally:
        ConfigParser.read = read  # type: ignore[method-assign]
    return options, new


def _date(document: Any) -> None:
    for name in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
        if name in document.header:
            document.header[name] = _NEVER


def _draw(space: Any, contours: Contours) -> None:
    def up(point: Point) -> Point:
        return point[0], contours.height - point[1]

    def closed(one: Closed, layer: str) -> None:
        if isinstance(one, Circle):
            space.add_circle(up(one.centre), one.radius, dxfattribs={"layer": layer})
            return
        bulges = (0.0, _HALF_CIRCLE, 0.0, _HALF_CIRCLE) if one.round_ends else (0.0,) * len(one.points)
        points = [(*up(point), bulge) for point, bulge in zip(one.points, bulges, strict=True)]
        space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": layer})

    for one in contours.outlines:
        closed(one, "OUTLINE")
    for one in contours.openings:
        closed(one, "OPENINGS")
    for run in contours.runs:
        points = [up(point) for point in run.points]
        layer = {"layer": run.kind.upper()}
        if len(points) == 2:
            space.add_line(*points, dxfattribs=layer)
        else:
            space.add_lwpolyline(points, dxfattribs=layer)
    for rim in contours.glue_rims:
        space.add_lwpolyline(list(map(up, rim)), dxfattribs={"layer": "GLUE"})
