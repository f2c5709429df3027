"""Pictures to one scale, measured from the SVG: a millimetre is as long in one plan of a recipe as in another."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from foldwright.document.model import Picture
from foldwright.measure.length import System
from foldwright.render.themes import built_in_themes
from foldwright.render.web.scaling import in_scale
from foldwright.render.web.tutorial import draw_plan, own_scale, tutorial
from workbench.compiled import compiled, demo
from workbench.handmade import no_photo


def wide(picture: Picture, system: System = System.METRIC) -> float:
    """How wide the piece is in its plan, in millimetres of the page: the fill of its good side."""
    root = ElementTree.fromstring(draw_plan(picture, system))
    wash = next(one for one in root.iter() if one.get("class") == "wash")
    across = [float(x) for x, _ in re.findall(r"([-\d.]+) ([-\d.]+)", wash.get("d", ""))]
    return max(across) - min(across)


def plans(document: object) -> list[Picture]:
    return [piece.picture for piece in in_scale(document, own_scale).pieces if piece.picture]  # type: ignore[arg-type]


def test_plans_of_one_recipe_are_to_one_scale():
    shown = plans(demo("keepsake-box"))
    assert len(shown) == 3
    scales = [wide(picture) / picture.scene.width for picture in shown]
    assert scales == pytest.approx([scales[0]] * 3, rel=0.01)
    assert not any(picture.enlarged for picture in shown)


POSTER = """---
title: Poster
measured in: millimetres
makes: 1 poster
supplies:
  card: cardstock, sheet A3
tools:
  - trimmer
pieces:
  back:
    from: card
    size: 260 x 180 mm
  dot:
    from: card
    size: 20 x 20 mm
---

## Cut

```step
do: cut back and dot
time: 1 min
```

Cut both.
"""


def test_a_piece_too_small_to_be_seen_is_enlarged_and_says_so():
    back, dot = plans(compiled(POSTER)[0])
    assert (back.enlarged, dot.enlarged) == (False, True)
    assert wide(back) / wide(dot) == pytest.approx(3, rel=0.02)


# ISO 5455:1979, table 1: recommended scales; 1 : 4 is quarter size of rulers in inches (common practice, no source).
TOLD = {"2:1": 2, "1:1": 1, "1:2": 1 / 2, "1:4": 1 / 4, "1:5": 1 / 5, "1:10": 1 / 10, "1:20": 1 / 20, "1:50": 1 / 50}


@pytest.mark.parametrize("name", ["birdhouse", "concertina", "drawer-box", "keepsake-box", "layered-card", "twine-tag"])
@pytest.mark.parametrize("system", System)
def test_a_plan_is_as_large_as_the_scale_beside_it_says(name: str, system: System) -> None:
    pieces = in_scale(demo(name), own_scale, told=True).pieces
    for picture in (piece.picture for piece in pieces if piece.picture):
        drawn = wide(picture, system) / picture.scene.width
        assert drawn == pytest.approx(TOLD[picture.told_scale.replace("\u202f", "")], rel=0.01)


def test_a_piece_that_is_enlarged_tells_a_scale_of_its_own():
    back, dot = (piece.picture for piece in in_scale(compiled(POSTER)[0], own_scale, told=True).pieces)
    assert back and dot
    assert (back.enlarged, dot.enlarged) == (False, True)
    assert wide(dot) / dot.scene.width == pytest.approx(TOLD[dot.told_scale.replace("\u202f", "")], rel=0.01)
    assert dot.told_scale != back.told_scale


def test_the_page_of_a_shop_drawing_tells_its_scale_and_no_other_does():
    for theme in built_in_themes():
        page = tutorial(demo("twine-tag"), theme, no_photo).decode("utf-8").split("</style>")[1]
        assert ("flat pieces 1\u202f:\u202f1" in page) is (theme == "workbench")
