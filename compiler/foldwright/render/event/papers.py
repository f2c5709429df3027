"""An event's papers as PDFs: each as long as it needs, what belongs to one page made to fit it."""

from __future__ import annotations

from foldwright.render.event.views import paper_view
from foldwright.render.press.papers import Paper
from foldwright.render.press.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import load_paper_theme
from foldwright.sheet.event.model import EventPaper, EventSheet

_SIZES = (10.5, 10.0, 9.5, 9.0, 8.5, 8.0)
"""Points: papers to work from are set in the first; one that must stay on a page in the largest that lets it."""


def event_pdf(sheet: EventSheet, paper: EventPaper, on: Paper, theme: str) -> tuple[bytes, int]:
    """The PDF, and how many pages it has."""
    made = _laid(sheet, paper, on, theme, _SIZES[0])
    for size in _SIZES[1:]:
        if not paper.one_page or len(made.boxes) == 1:
            break
        made = _laid(sheet, paper, on, theme, size)
    return made.pdf(), len(made.boxes)


def _laid(sheet: EventSheet, paper: EventPaper, on: Paper, theme: str, size: float) -> Typeset:
    style = load_paper_theme(theme, "event-paper")
    assets: dict[str, Asset] = {}

    def show(svg: str, width: float, height: float) -> str:
        name = f"picture-{len(assets)}"
        assets[name] = Asset(svg.encode("utf-8"), "image/svg+xml")
        return f'<img src="asset:{name}" alt="" style="width:{width:.2f}mm;height:{height:.2f}mm">'

    margin = float(on.margin_mm)
    wide, high = float(on.width_mm) - 2 * margin, float(on.height_mm) - 2 * margin
    view = paper_view(paper, show, wide, min(high * 0.3, 75.0))
    html = style.filled(paper=view, sheet=sheet, language=sheet.language)
    page = (
        f"@page{{size:{float(on.width_mm):.4f}mm {float(on.height_mm):.4f}mm;"
        f"margin:{margin}mm {margin}mm {margin + 4}mm;"
        f'@bottom-right{{content:counter(page) "{sheet.furniture["page-of"]}" counter(pages);'
        'font:8pt "Foldwright Sans";color:#51626a}'
        f"}}body{{font-size:{size}pt}}"
    )
    return typeset(html, style.style, page, assets)
