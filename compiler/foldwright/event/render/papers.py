"""An event's papers as PDFs: each as long as it needs, what belongs to one page made to fit it."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.document.model import EventDocument, EventPaper
from foldwright.event.render.views import paper_view
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import load_paper_theme

_FOOT_STYLE = 'font:8pt "Foldwright Sans";color:#51626a'
_SIZES = (10.5, 10.0, 9.5, 9.0, 8.5, 8.0)
"""Points: papers to work from are set in the first; one that must stay on a page in the largest that lets it."""


class PaperPdf(Struct, frozen=True):
    """A paper set: its PDF, how many pages that has, and whether it had to be made shorter to stay on one."""

    pdf: bytes
    pages: int
    shortened: bool


def event_pdf(document: EventDocument, paper: EventPaper, on: Paper, theme: str) -> PaperPdf:
    """What must be one page is set smaller, then told in fewer words, before it becomes two."""
    wordings = [paper, *([replace(paper, parts=paper.shorter)] if paper.shorter else [])] if paper.one_page else []
    for wording in wordings:
        if (made := _on_one_page(document, wording, on, theme)) is not None:
            return PaperPdf(made.pdf(), 1, wording is not paper)
    made = _laid(document, paper, on, theme, _SIZES[0])
    return PaperPdf(made.pdf(), len(made.boxes), False)


def _on_one_page(document: EventDocument, paper: EventPaper, on: Paper, theme: str) -> Typeset | None:
    """In the largest letters that let it stay on a page; None where not even the smallest do."""
    fits = _laid(document, paper, on, theme, _SIZES[0])
    if len(fits.boxes) == 1:
        return fits
    fits = _laid(document, paper, on, theme, _SIZES[-1])
    if len(fits.boxes) > 1:
        return None
    large, small = 0, len(_SIZES) - 1
    while small - large > 1:
        middle = (large + small) // 2
        made = _laid(document, paper, on, theme, _SIZES[middle])
        if len(made.boxes) == 1:
            fits, small = made, middle
        else:
            large = middle
    return fits


def _laid(document: EventDocument, paper: EventPaper, on: Paper, theme: str, size: float) -> Typeset:
    style = load_paper_theme(theme, "event-paper")
    assets: dict[str, Asset] = {}

    def show(svg: str, width: float, height: float) -> str:
        name = f"picture-{len(assets)}"
        assets[name] = Asset(svg.encode("utf-8"), "image/svg+xml")
        return f'<img src="asset:{name}" alt="" style="width:{width:.2f}mm;height:{height:.2f}mm">'

    margin = float(on.margin_mm)
    wide, high = float(on.width_mm) - 2 * margin, float(on.height_mm) - 2 * margin
    view = paper_view(paper, show, wide, min(high * 0.3, 75.0))
    html = style.filled(paper=view, document=document, language=document.language)
    page = (
        f"@page{{size:{float(on.width_mm):.4f}mm {float(on.height_mm):.4f}mm;"
        f"margin:{margin}mm {margin}mm {margin + 4}mm;"
        f"{_foot(document.occasion.line)}"
        f'@bottom-right{{content:counter(page) "{document.furniture["page-of"]}" counter(pages);'
        f"{_FOOT_STYLE}}}"
        f"}}body{{font-size:{size}pt}}"
    )
    return typeset(html, style.style, page, assets)


def _foot(text: str) -> str:
    """The event's name, day and place at the foot of every page, as a string of CSS."""
    if not text:
        return ""
    # What CSS takes for its own (quotes, backslashes, line ends) is written as its number, as its syntax has it.
    letters = "".join(one if one.isalnum() or one in " .,:-" else f"\\{ord(one):x} " for one in text)
    return f'@bottom-left{{content:"{letters}";{_FOOT_STYLE}}}'
