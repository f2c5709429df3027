"""What a build is asked for: the options as they were typed, and what they come to."""

from __future__ import annotations

from collections.abc import Iterable

from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import System, system_named
from foldwright.outputs.model import BuildWish, OnPaper
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.table import OUTPUTS
from foldwright.recipe.facts.clocks import read_clock
from foldwright.render.paper.imposing import impose
from foldwright.render.paper.papers import PAPERS, Paper, paper_named, sheets_for
from foldwright.render.themes import DEFAULT_THEME, ThemeError, load_paper_theme, load_theme

_UPS = ("2", "4")
_PAGES = ("1", "2")


def wish_of(asked: BuildOptions) -> BuildWish | Wrong:
    """What the options come to, or the first thing that is wrong with them."""
    if isinstance(outputs := _outputs(asked.only), Wrong):
        return outputs
    if isinstance(systems := _systems(asked.units), Wrong):
        return systems
    if isinstance(on_paper := _on_paper(asked), Wrong):
        return on_paper
    if idle := _idle(asked, outputs):
        return idle
    small = next((paper for paper in on_paper.papers if paper.small), None)
    if small and "handout" in outputs and "card" not in outputs:
        return Wrong.of("handout-small", paper=small.name, known=tuple(one.name for one in PAPERS if not one.small))
    address = asked.pictures_at
    if address and not address.startswith(("https://", "http://", "/")):
        return Wrong.of("pictures-at-odd", address=address)
    try:
        load_all_of(asked.theme or DEFAULT_THEME, outputs)
    except ThemeError as trouble:
        return Wrong.of("theme-odd", why=catalogue().say(f"{trouble.code}.says", **trouble.facts))
    return BuildWish(outputs, systems, asked.theme, address, on_paper)


def load_all_of(theme: str, outputs: Iterable[str]) -> None:
    """Load what these outputs take from a theme, so that processes started from this one have it. Raises ThemeError."""
    load_theme(theme)
    for name in outputs:
        if OUTPUTS[name].on_paper:
            load_paper_theme(theme, name)


def _outputs(text: str) -> tuple[str, ...] | Wrong:
    names = tuple(dict.fromkeys(map(str.lower, _parts(text))))
    for name in names or (text,):
        if name not in OUTPUTS:
            return Wrong.of("only-unknown", name=name, known=tuple(OUTPUTS))
    return names


def _systems(text: str) -> tuple[System, ...] | Wrong:
    systems: list[System] = []
    for name in text.split(","):
        if (system := system_named(name)) is None:
            return Wrong.of("units-unknown", name=name.strip())
        systems.append(system)
    return tuple(dict.fromkeys(systems))


def _on_paper(asked: BuildOptions) -> OnPaper | Wrong:
    papers: list[Paper] = []
    for name in _parts(asked.paper) or filter(None, (asked.paper,)):
        if (paper := paper_named(name)) is None:
            return Wrong.of("paper-unknown", name=name, known=tuple(paper.name for paper in PAPERS))
        papers.append(paper)
    if asked.up and asked.up not in _UPS:
        return Wrong.of("up-odd", up=asked.up)
    if asked.pages and asked.pages not in _PAGES:
        return Wrong.of("pages-odd", pages=asked.pages)
    begins = read_clock(asked.begins) if asked.begins else None
    if asked.begins and begins is None:
        return Wrong.of("begins-odd", said=asked.begins)
    up = int(asked.up or 1)
    for paper in papers:
        if up > 1 and impose(paper, up, sheets_for(paper)) is None:
            return Wrong.of("up-too-many", up=up, paper=paper.name)
    return OnPaper(
        papers=tuple(dict.fromkeys(papers)),
        up=up,
        back=asked.back,
        larger=asked.larger_paper,
        large_print=asked.large_print,
        mirror=asked.mirror,
        pages=int(asked.pages or 0),
        begins=begins,
        in_class=asked.in_class,
    )


def _idle(asked: BuildOptions, outputs: tuple[str, ...]) -> Wrong | None:
    """An option about what was not asked for is a slip: somebody waits for something else."""
    for output in OUTPUTS.values():
        for option in output.options:
            if getattr(asked, option) and output.name not in outputs:
                message = "option-idle" if output.usual else "option-idle-unusual"
                return Wrong.of(message, option="--" + option.replace("_", "-"), output=output.name)
    return None


def _parts(text: str) -> list[str]:
    """What stands between commas."""
    return [part.strip() for part in text.split(",") if part.strip()]
