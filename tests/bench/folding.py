"""How fast paper is folded and drawn: a net of forty panels beside its bare subdivision, and pictures new and kept."""

from __future__ import annotations

import time
from collections.abc import Callable
from statistics import median
from typing import TYPE_CHECKING

from bench import made_up
from workbench.unremembered import nothing_remembered

if TYPE_CHECKING:
    from foldwright.geometry.flat.blank import Blank
    from foldwright.recipe.model import Recipe

PANELS = 40
"""A crown: eight walls in a ring, and above and below each of them two petals bent outwards."""


def net_and_subdivision(rounds: int) -> tuple[float, float]:
    """Median seconds of folding and checking the net, and of nothing but cutting its blank up into panels, in turn."""
    from foldwright.geometry.folding.pieces import fold_pieces
    from foldwright.geometry.pieces import lay_flat

    recipe = _recipe(_net())
    flat = lay_flat(recipe)
    (blank,) = flat.blanks
    net = fold_pieces(recipe, flat).nets[blank.piece]
    assert len(net.panels) == PANELS
    with nothing_remembered():
        return _in_turn(lambda: fold_pieces(recipe, flat), lambda: _subdivide(blank), rounds)


def pictures_new_and_kept(rounds: int) -> tuple[float, float]:
    """Median seconds of telling and drawing all pictures of a recipe of ten steps: a new one, and the same again."""
    fresh, kept = [], []
    for number in range(rounds + 3):
        draw_all = _pictures_of(made_up.recipe(number))
        _forget()
        for times in (fresh, kept):
            started = time.perf_counter()
            draw_all()
            times.append(time.perf_counter() - started)
    # The first few load what is loaded once.
    return median(fresh[3:]), median(kept[3:])


def _net() -> str:
    """The crown as a recipe, 240 mm long and 140 mm high."""
    walls, wide, rows = 8, 30, (20, 20, 60, 20, 20)
    long, high = walls * wide, sum(rows)
    heights = [sum(rows[:number]) for number in range(1, len(rows))]
    top, bottom = heights[1], heights[2]
    lines = [f"mountain 25 degrees from 0 across {down} down to {long} across {down} down" for down in heights]
    for across in range(wide, long, wide):
        lines.append(f"valley 45 degrees from {across} across {top} down to {across} across {bottom} down")
        lines += [
            f"cut from {across} across {one} down to {across} across {other} down"
            for one, other in ((0, top), (bottom, high))
        ]
    listed = "\n".join(f"      - {line}" for line in lines)
    return f"""---
title: Crown
makes: 1 crown
measured in: millimetres
supplies:
  card: cardstock, sheet A4
pieces:
  crown:
    from: card
    size: {long} x {high} mm
    lines:
{listed}
---

## Fold it

Fold every wall.
"""


def _recipe(text: str) -> Recipe:
    from foldwright.pipeline import check_recipe

    checked = check_recipe(text, "recipe.md", "practice")
    assert checked.recipe is not None and not checked.wrong
    return checked.recipe


def _subdivide(blank: Blank) -> None:
    """What shapely alone does of the work: the panels between the lines, and no more."""
    from shapely import LineString, polygonize, union_all

    frame = [(0, 0), (blank.width, 0), (blank.width, blank.height), (0, blank.height), (0, 0)]
    drawn = [line.points for line in blank.drawn]
    paths = [LineString([(float(x), float(y)) for x, y in points]) for points in (frame, *drawn)]
    assert len(polygonize([union_all(paths)]).geoms) == PANELS


def _pictures_of(text: str) -> Callable[[], None]:
    """What tells the pictures of a recipe's steps and draws them, with its plans, in both systems."""
    from foldwright.geometry.pictures.story import step_pictures
    from foldwright.measure.length import System
    from foldwright.pipeline import check_recipe, compose_document
    from foldwright.render.web.tutorial import draw_plan

    understood = check_recipe(text, "recipe.md", "practice").understood
    assert understood is not None
    document = compose_document(understood, (), {"recipe.md": text})
    pictures = [picture for step in document.steps for picture in step.pictures]
    pictures += [piece.picture for piece in document.pieces if piece.picture]
    pictures += [document.finished] if document.finished else []
    assert len(pictures) > made_up.STEPS

    def draw_all() -> None:
        step_pictures(understood.recipe, understood.flat, understood.folding)
        for picture in pictures:
            for system in System:
                draw_plan(picture, system)

    return draw_all


def _forget() -> None:
    """Nothing is kept of what was drawn before."""
    from foldwright.geometry.folding.order import order_of
    from foldwright.geometry.pictures.bending import bending_of
    from foldwright.geometry.pictures.folding import drawn_folding
    from foldwright.geometry.pictures.solid import faces_of, shown_leaf
    from foldwright.render.drawing.svg import drawn

    for kept in (order_of, bending_of, drawn_folding, shown_leaf, faces_of, drawn):
        kept.cache_clear()


def _in_turn(one: Callable[[], object], other: Callable[[], object], rounds: int) -> tuple[float, float]:
    times: tuple[list[float], list[float]] = ([], [])
    for number in range(rounds + 1):
        for act, kept in zip((one, other), times, strict=True):
            started = time.perf_counter()
            act()
            if number:
                kept.append(time.perf_counter() - started)
    return median(times[0]), median(times[1])
