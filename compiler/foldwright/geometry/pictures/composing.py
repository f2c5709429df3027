"""Faces, strokes and arrows anywhere on a picture, put together as a scene whose top left corner is the origin."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from foldwright.geometry.scene import Arrow, Face, Point, Scene, ShownLength, Stroke


def scene_of(
    faces: Sequence[Face],
    strokes: Sequence[Stroke] = (),
    arrows: Sequence[Arrow] = (),
    dimensions: Sequence[ShownLength] = (),
) -> Scene:
    """Everything moved so that the smallest x and y are nought."""
    points = [point for face in faces for point in face.outline]
    points += [point for stroke in strokes for point in stroke.points]
    points += [point for arrow in arrows for point in arrow.path]
    return _framed(faces, strokes, arrows, dimensions, _frame(points))


def scenes_of(stages: Sequence[Sequence[Face]]) -> tuple[Scene, ...]:
    """Several in one frame that holds them all."""
    frame = _frame([point for faces in stages for face in faces for point in face.outline])
    return tuple(_framed(faces, (), (), (), frame) for faces in stages)


type _Frame = tuple[float, float, float, float]


def _frame(points: Sequence[Point]) -> _Frame:
    """Left, top, right, bottom."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _framed(
    faces: Sequence[Face],
    strokes: Sequence[Stroke],
    arrows: Sequence[Arrow],
    dimensions: Sequence[ShownLength],
    frame: _Frame,
) -> Scene:
    left, top, right, bottom = frame

    def moved(ring: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((x - left, y - top) for x, y in ring)

    def stroke(one: Stroke) -> Stroke:
        return replace(one, points=moved(one.points))

    def face(one: Face) -> Face:
        gaps = tuple(map(moved, one.gaps))
        return replace(one, outline=moved(one.outline), gaps=gaps, edges=tuple(map(stroke, one.edges)))

    def dimension(one: ShownLength) -> ShownLength:
        start, end = moved((one.start, one.end))
        return replace(one, start=start, end=end)

    return Scene(
        right - left,
        bottom - top,
        tuple(map(face, faces)),
        tuple(map(stroke, strokes)),
        tuple(map(dimension, dimensions)),
        arrows=tuple(Arrow(moved(arrow.path)) for arrow in arrows),
    )
