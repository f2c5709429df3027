"""The finished thing at the head of a page: it is never left out."""

from __future__ import annotations

from foldwright.render.paper.arranging import PictureShape, Setting
from foldwright.render.paper.compositions.cells import widest_within
from foldwright.render.paper.compositions.page import Frame

LEAST_HERO, LARGEST_HERO = 0.212, 0.3
"""The part of the paper's height that the finished thing takes: a fifth and a hair, up to a third with its band."""


def hero_size(picture: PictureShape, frame: Frame, setting: Setting, widest: float) -> tuple[float, float]:
    """How wide and high the finished thing is drawn: as high as the setting has it, unless it is too wide then."""
    part = LEAST_HERO + (LARGEST_HERO - LEAST_HERO) * setting.enlarged
    width = widest_within(picture, widest, part * (frame.page_height or frame.height))
    return width, picture.height_at(width)
