"""A sheet as one self-contained HTML page: no network, right on a phone and on paper, either unit system at a touch."""

from __future__ import annotations

from markupsafe import Markup as Html

from foldwright.measure.length import System
from foldwright.render.howto import how_to
from foldwright.render.themes import load_theme
from foldwright.render.view import Draw, Show, view_of
from foldwright.sheet.model import Picture, Sheet

BOTH_SYSTEMS = (System.IMPERIAL, System.METRIC)
_PLAN_WIDTH_MM = 120.0
"""How wide a flat plan is drawn; the page scales it to the room there is."""
_PLAN_TEXT_PT = 9.0


def tutorial(
    sheet: Sheet, theme: str, show: Show, systems: tuple[System, ...] = BOTH_SYSTEMS, draw: Draw | None = None
) -> str:
    """The whole page. `show` turns a photograph's name into an image to embed, or None when there is none to show.

    `systems` are those the page offers; the one the recipe was written in comes first. Raises ThemeError.
    """
    ready = load_theme(theme)
    order = in_order(sheet, systems)
    page = view_of(sheet, order, draw or draw_plan, show)
    return ready.page.render(
        page=page,
        label=page.label,
        style=Html(ready.style),
        script=Html(ready.script),
        policy=ready.policy,
        how_to=Html(how_to(sheet, order[0])),
    )


def in_order(sheet: Sheet, systems: tuple[System, ...]) -> tuple[System, ...]:
    """The systems a page shows, the one the recipe was written in first."""
    return tuple(sorted(systems, key=lambda system: system is not sheet.system))


def draw_plan(picture: Picture, system: System) -> str:
    """A flat plan as SVG text."""
    from foldwright.render.drawing import draw

    labels = picture.labels.of(system)
    return draw(picture.scene, labels, _PLAN_WIDTH_MM, _PLAN_TEXT_PT, picture.title, picture.describes.of(system))
