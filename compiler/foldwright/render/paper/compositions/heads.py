"""The head of a page: the title and what goes with it, and the finished thing, which is never left out."""

from __future__ import annotations

from foldwright.render.paper.arranging import Arranged, Item, PictureShape, PlacedArea, Setting
from foldwright.render.paper.compositions.cells import widest_within, words_alone
from foldwright.render.paper.compositions.page import Frame
from foldwright.render.paper.measured import Heights

LEAST_HERO, LARGEST_HERO = 0.205, 0.3
"""The part of the paper's height that the finished thing takes: a fifth and a hair, up to a third with its band."""
_WIDEST = 0.5
"""The part of the width that it takes beside the title, at most."""
_GAP = 1.4
"""Ems between the title and the finished thing."""


def hero_size(picture: PictureShape, frame: Frame, setting: Setting, widest: float) -> tuple[float, float]:
    """How wide and high the finished thing is drawn: as high as the setting has it, unless it is too wide then."""
    part = LEAST_HERO + (LARGEST_HERO - LEAST_HERO) * setting.enlarged
    width = widest_within(picture, widest, part * (frame.page_height or frame.height))
    return width, picture.height_at(width)


def head_beside(item: Item, frame: Frame, setting: Setting, heights: Heights, padding: float) -> Arranged | None:
    """The title at the left, the finished thing at the right, both in the middle of the head's height.

    `padding` in millimetres is kept clear all round. None when a word is wider than its place.
    """
    em, inner = setting.em, frame.width - 2 * padding
    if not item.pictures:
        words = words_alone(item, inner, setting, heights)
        return words and Arranged(inner, words.height, words.height + 2 * padding, (), padding, padding)
    wide, high = hero_size(item.pictures[0], frame, setting, _WIDEST * inner)
    room = inner - wide - _GAP * em
    if item.block.longest * em > room:
        return _head_over(item, frame, setting, heights, padding)
    words_high = heights.of(item.block, room / em, setting.leading) * em
    tall = max(high, words_high)
    spot = PlacedArea(padding + inner - wide, padding + (tall - high) / 2, wide, high)
    return Arranged(room, words_high, tall + 2 * padding, (spot,), padding, padding + (tall - words_high) / 2)


def _head_over(item: Item, frame: Frame, setting: Setting, heights: Heights, padding: float) -> Arranged | None:
    """The finished thing in the middle under the title."""
    inner = frame.width - 2 * padding
    words = words_alone(item, inner, setting, heights)
    if words is None:
        return None
    wide, high = hero_size(item.pictures[0], frame, setting, inner)
    top = padding + words.height + setting.gap
    spot = PlacedArea((frame.width - wide) / 2, top, wide, high)
    return Arranged(inner, words.height, top + high + padding, (spot,), padding, padding)
