"""Pictures to one scale, measured from the SVG: a millimetre is as long in one plan of a recipe as in another."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from foldwright.document.model import Picture
from foldwright.measure.length import System
from foldwright.render.web.scaling import in_scale
from foldwright.render.web.tutorial import draw_plan, own_scale
from workbench.compiled import compiled, demo


def wide(picture: Picture) -> float:
    """How wide the piece is in its plan, in millimetres of the page: the fill of its good side."""
    root = ElementTree.fromstring(draw_plan(picture, System.METRIC))
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


def test_a_piece_too_small_to_be_seen_is_enlarged_and_says_so():
    text = """---
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
    back, dot = plans(compiled(text)[0])
    assert (back.enlarged, dot.enlarged) == (False, True)
    assert wide(back) / wide(dot) == pytest.approx(3, rel=0.02)
