"""The page of an event and the page of proposals, made without the command line. Not a test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from foldwright.begin.design.designing import design
from foldwright.begin.design.model import DesignWish
from foldwright.begin.design.page import design_page
from foldwright.begin.design.wishing import read_wish as read_design
from foldwright.cli.app import COMMANDS
from foldwright.cli.calls import DesignCall, KitCall
from foldwright.cli.options import read_call
from foldwright.document.catalogue import catalogue
from foldwright.event.making import make_event
from foldwright.event.reading import GivenRecipe, read_event, read_recipes
from foldwright.event.render.papers import PaperPdf, event_pdf
from foldwright.event.wishes import KitWish, read_wish
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import find_sources
from foldwright.render.paper.handout import NoClass, handout
from workbench.demo_pages import THEMES, TOP


class _NoPapers:
    """Hands that set no paper, and say that each has one page: what the page of an event says of it is the same."""

    def ask[**P, T](self, work: Callable[P, T], *facts: P.args, **more: P.kwargs) -> Callable[[], T]:
        unset: dict[object, object] = {event_pdf: PaperPdf(b"", 1, shortened=False), handout: NoClass()}
        return lambda: unset[work] if work in unset else work(*facts, **more)  # type: ignore[return-value]


def write_event_page(file: Path) -> None:
    """Two recipes, twelve and eight kits, two who help."""
    call = read_call(COMMANDS["kit"], ("birdhouse", "twine-tag", "--for", "12,8", "--helpers", "2"))
    assert isinstance(call, KitCall)
    sources, _ = find_sources([TOP / "recipes" / path for path in call.paths])
    wish = read_wish(call, len(sources))
    assert isinstance(wish, KitWish)
    recipes, _ = read_recipes(GivenRecipe(read_texts(one), one.surroundings, one.path, one.slug) for one in sources)
    read = read_event(recipes, None, None, wish).event
    assert read is not None
    file.write_bytes(make_event(read, wish, None, _NoPapers()).files["event.html"])


def write_proposals(home: Path) -> None:
    """The same proposals in each look."""
    call = read_call(COMMANDS["design"], ("3 treats of 1 1/8 x 3/4 x 1/4 in", "--form", "tray,drawer,tuck box"))
    assert isinstance(call, DesignCall)
    wish = read_design(call, None)
    assert isinstance(wish, DesignWish)
    designed = design(wish, 3, None)
    for theme in THEMES:
        (home / f"{theme}.html").write_bytes(design_page(wish, designed, catalogue(), theme))
