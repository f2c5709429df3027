"""Pictures that stand among others are drawn to one scale, so that the larger piece is the larger picture.

The plans of a recipe are, and the pictures of a step. One that would be too small to see is drawn larger, and says so.
A look that tells its scales has the plans drawn to one that can be told.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec.structs import replace

from foldwright.document.model import Document, Picture
from foldwright.geometry.scene import Scene
from foldwright.render.drawing.layout import LARGEST_SCALE
from foldwright.render.drawing.scales import ratio, stated

_TOO_SMALL = 6.0
"""A picture so many times smaller than the largest shows nothing: by eye, no source."""
_ENLARGED = 3.0
"""It is drawn so many times smaller instead."""
_STRETCHED = 1.7
"""So many times larger than it would be by itself a plan may be drawn, to come to a scale that is told."""

type Scale = Callable[[Picture], float]
"""How large a picture would be drawn by itself, as a part of true size."""


def in_scale(document: Document, scale: Scale, told: bool = False) -> Document:
    """The document with its pictures told how large they may be drawn; if `told`, plans tell how large they are."""
    plans = _alike([piece.picture for piece in document.pieces if piece.picture], scale, alone=told)
    ready = iter(map(_told, plans) if told else plans)
    pieces = tuple(replace(piece, picture=next(ready)) if piece.picture else piece for piece in document.pieces)
    steps = tuple(replace(step, pictures=_alike(step.pictures, scale)) for step in document.steps)
    return replace(document, pieces=pieces, steps=steps)


def _alike(pictures: Sequence[Picture], scale: Scale, alone: bool = False) -> tuple[Picture, ...]:
    if not pictures or (len(pictures) < 2 and not alone):
        return tuple(pictures)
    common = min(map(scale, pictures))
    largest = max(map(_longer, pictures))
    return tuple(_limited(picture, common, largest / _longer(picture)) for picture in pictures)


def _limited(picture: Picture, common: float, smaller: float) -> Picture:
    enlarged = smaller > _TOO_SMALL
    most = common * smaller / _ENLARGED if enlarged else common
    return replace(picture, largest=min(most, LARGEST_SCALE), enlarged=enlarged)


def _told(plan: Picture) -> Picture:
    scale = stated(plan.largest * _STRETCHED)
    return replace(plan, largest=float(scale), told_scale=ratio(scale))


def _longer(picture: Picture) -> float:
    scene: Scene = picture.scene
    return max(scene.width, scene.height)
