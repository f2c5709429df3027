"""What the insert list shows: pictures that the house draws of samples, each of what its entry puts in."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

import foldwright.authoring
from foldwright.authoring.inserting import insert_list
from foldwright.authoring.sketches import sketch
from workbench.long import LONG

SOME = [
    "supply-ribbon",
    "supply-wet-glue",
    "tool-punch",
    "piece-gate",
    "piece-band",
    "piece-pop-up",
    "flaps",
    "hole-slot",
    "act-fold-any",
    "act-tie",
]
CODES = [entry.code for entry in insert_list()] if LONG else SOME
HEAVY = frozenset("shapely numpy jinja2 PIL babel pint weasyprint fontTools highspy starlette".split())
MODULES = sorted(
    f"foldwright.authoring.{path.stem}" for path in Path(foldwright.authoring.__file__).parent.glob("[a-z]*.py")
)


@pytest.mark.parametrize("code", CODES)
def test_a_sketch_is_a_drawing_without_figures(code: str) -> None:
    drawn = sketch(code)
    if code in SOME:
        assert drawn
    if drawn:
        root = ElementTree.fromstring(drawn)
        assert root.tag.endswith("svg")
        assert not any(character.isdigit() for character in "".join(root.itertext()))


def test_each_shows_something_of_its_own() -> None:
    assert len({sketch(code) for code in SOME}) == len(SOME)
    assert sketch("act-fill") == sketch("supply-sweet")
    assert sketch("step-tip") == ""


def test_the_room_is_light_to_bring_in() -> None:
    code = f"import sys, {', '.join(MODULES)}; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert {name.partition(".")[0] for name in done.stdout.split()} & HEAVY == set()
