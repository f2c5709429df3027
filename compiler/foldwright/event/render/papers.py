"""An event's papers as PDFs, each as long as it needs, what belongs to one page made to fit it; and as one web page.

The page is for a tablet: everything to work from, with boxes whose ticks outlast a reload.
"""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace

from markupsafe import Markup as Html
from markupsafe import escape
from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.document.model import (
    CutWork,
    EventDocument,
    EventPaper,
    EventPart,
    For,
    Lanes,
    PaperTable,
    PaperWords,
    Tick,
    Ticks,
)
from foldwright.event.render.pictures import lanes_picture, sheet_picture
from foldwright.render.markup import set_line
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import filled, load_page, load_paper_theme, page_script, policy_hash

_SHEET = 0.36
"""How much of the width the picture of a sheet may take."""

type Picture = Callable[[str, float, float, str], str]
"""From an SVG, its size in millimetres and what it shows, in words, to the mark-up that shows it."""


def paper_view(paper: EventPaper, show: Picture, wide: float, high: float) -> SimpleNamespace:
    """A paper whose pictures are at most so many millimetres wide and high."""
    parts = [_part(part, show, wide, high) for part in paper.parts]
    return SimpleNamespace(slug=paper.slug, title=paper.title, summary=set_line(paper.summary), parts=parts)


def _part(part: EventPart, show: Picture, wide: float, high: float) -> SimpleNamespace:
    match part:
        case PaperWords():
            return _view("words", part.heading, paragraphs=list(map(set_line, part.paragraphs)))
        case Ticks():
            return _view("ticks", part.heading, lines=list(map(_tick, part.lines)))
        case PaperTable():
            return _table(part)
        case CutWork():
            svg, width, height = sheet_picture(part.picture, wide * _SHEET, high)
            return _view(
                "cuts",
                part.heading,
                picture=Html(show(svg, width, height, part.picture.describes)),
                lines=list(map(_tick, part.cuts)),
                check=set_line(part.check),
            )
        case Lanes():
            svg, width, height = lanes_picture(part, wide)
            key = [set_line(words) for _, words in part.key]
            return _view("lanes", part.heading, picture=Html(show(svg, width, height, part.describes)), key=key)


def _table(part: PaperTable) -> SimpleNamespace:
    kinds = ["figure" if number in part.figures else "" for number in range(len(part.columns))]

    def cells(row: tuple[str, ...]) -> list[SimpleNamespace]:
        return [SimpleNamespace(text=set_line(text), kind=kind) for text, kind in zip(row, kinds, strict=True)]

    return _view(
        "table",
        part.heading,
        columns=cells(part.columns),
        rows=[cells(row) for row in part.rows],
        foot=cells(part.foot) if part.foot else [],
        ticked=part.ticked,
    )


def _view(kind: str, heading: str, **rest: object) -> SimpleNamespace:
    return SimpleNamespace(kind=kind, heading=set_line(heading) if heading else "", **rest)


def _tick(line: Tick) -> SimpleNamespace:
    return SimpleNamespace(text=set_line(line.text), aside=set_line(line.aside) if line.aside else "")


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

    def show(svg: str, width: float, height: float, describes: str) -> str:
        name = f"picture-{len(assets)}"
        assets[name] = Asset(svg.encode("utf-8"), "image/svg+xml")
        return f'<img src="asset:{name}" alt="{escape(describes)}" style="width:{width:.2f}mm;height:{height:.2f}mm">'

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


_WIDE_MM, _HIGH_MM = 190.0, 80.0


def event_page(document: EventDocument, theme: str) -> bytes:
    """The whole page, right without a network. What is the studio's own (prices) is not on it."""
    ready = load_page(theme, "event")
    # Nothing stands at either end: some checkers of pages trim what they hash, browsers do not.
    style, script = ready.style.strip(), page_script("event")
    papers = [
        paper_view(paper, lambda svg, *_: svg.replace("<svg ", '<svg class="drawing" ', 1), _WIDE_MM, _HIGH_MM)
        for paper in document.papers
        if paper.whose is For.HELPERS
    ]
    parts = filled(
        ready.page,
        ready.name,
        document=document,
        papers=papers,
        style=Html(style),
        script=Html(script),
        policy=(
            f"default-src 'none'; img-src data:; font-src data:; style-src {policy_hash(style)}; "
            f"script-src {policy_hash(script)}; base-uri 'none'; form-action 'none'"
        ),
    )
    return "".join(parts).encode("utf-8")
