"""An event's papers as PDFs, each as long as it needs, what belongs to one page made to fit it; and as one web page.

The page is for a tablet: everything to work from, with boxes whose ticks outlast a reload. For other pages of ours
there is what stands on each paper.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Sequence
from html import escape
from itertools import count
from textwrap import shorten
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.document.model import (
    Beside,
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
from foldwright.event.render.heroes import Hero
from foldwright.event.render.lines import marked_up
from foldwright.event.render.marks import INKS, Inks
from foldwright.event.render.pictures import one_scale, sheet_picture
from foldwright.event.render.timeline import lanes_pictures
from foldwright.measure.length import System
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.typesetting import Asset, Typeset, typeset
from foldwright.render.themes import (
    Composition,
    base_template,
    filled,
    load_page,
    load_paper_theme,
    page_script,
    policy_hash,
)

_SHEET = 0.36
"""How much of the width the picture of a sheet may take."""

type Picture = Callable[[str, float, float, str], str]
"""From an SVG, its size in millimetres and what it shows to the mark-up that shows it."""


class PaperManner(Struct, frozen=True):
    """How pictures on a paper are shown: by what, at most how wide and high in millimetres, in which inks."""

    show: Picture
    wide: float
    high: float
    inks: Inks
    system: System


def paper_view(paper: EventPaper, manner: PaperManner) -> SimpleNamespace:
    """A paper as templates see it. All its sheets are drawn at one scale."""
    sheets = [part.picture for part in paper.parts if isinstance(part, CutWork)]
    scale = one_scale(sheets, manner.wide * _SHEET, manner.high)
    parts = [_part(part, manner, scale) for part in paper.parts]
    return SimpleNamespace(
        slug=paper.slug,
        title=marked_up(paper.title),
        number=paper.number,
        summary=marked_up(paper.summary),
        parts=parts,
    )


def _part(part: EventPart, manner: PaperManner, scale: float) -> SimpleNamespace:
    match part:
        case PaperWords():
            return _view("words", part.heading, paragraphs=list(map(marked_up, part.paragraphs)))
        case Ticks():
            return _view("ticks", part.heading, lines=list(map(_tick, part.lines)))
        case PaperTable():
            return _table(part)
        case CutWork():
            drawn = sheet_picture(part.picture, manner.wide * _SHEET, manner.high, scale, manner.inks, manner.system)
            return _view(
                "cuts",
                part.heading,
                picture=Html(manner.show(*drawn, part.picture.describes)),
                lines=list(map(_tick, part.cuts)),
                check=marked_up(part.check),
            )
        case Lanes():
            drawn_lanes = lanes_pictures(part, manner.wide, manner.inks)
            pictures = [Html(manner.show(*one, part.describes)) for one in drawn_lanes]
            return _view("lanes", part.heading, pictures=pictures, note=marked_up(part.note) if part.note else "")
        case Beside():
            columns = [[_part(one, manner, scale) for one in column] for column in part.columns]
            return _view("beside", "", columns=columns)


def _table(part: PaperTable) -> SimpleNamespace:
    kinds = ["figure" if number in part.figures else "" for number in range(len(part.columns))]

    def cells(row: tuple[str, ...]) -> list[SimpleNamespace]:
        return [SimpleNamespace(text=marked_up(text), kind=kind) for text, kind in zip(row, kinds, strict=True)]

    return _view(
        "table",
        part.heading,
        columns=cells(part.columns),
        rows=[cells(row) for row in part.rows],
        foot=cells(part.foot) if part.foot else [],
        ticked=part.ticked,
    )


def _view(kind: str, heading: str, **rest: object) -> SimpleNamespace:
    return SimpleNamespace(kind=kind, heading=marked_up(heading) if heading else "", **rest)


def _tick(line: Tick) -> SimpleNamespace:
    return SimpleNamespace(text=marked_up(line.text), aside=marked_up(line.aside) if line.aside else "")


_POINTS, _CLOSER = 10.0, 9.5
"""Papers are set in the first, and in the second where that spares a page that is nearly empty."""
_NEARLY_EMPTY = 0.1
"""How much of a page its last words fill at least."""


class PaperPdf(Struct, frozen=True):
    """A paper set: its PDF, how many pages that has, and whether it had to be made shorter to stay on one."""

    pdf: bytes
    pages: int
    shortened: bool


def event_pdf(document: EventDocument, paper: EventPaper, on: Paper, theme: str, heroes: Sequence[Hero]) -> PaperPdf:
    """What must be one page is told in fewer words before it becomes two; no paper ends with a line on a page."""
    made = _laid(document, paper, on, theme, heroes, _POINTS)
    if paper.one_page and len(made.boxes) > 1 and paper.shorter:
        shorter = _laid(document, replace(paper, parts=paper.shorter), on, theme, heroes, _POINTS)
        if len(shorter.boxes) == 1:
            return PaperPdf(shorter.pdf(), 1, True)
    if _ends_nearly_empty(made):
        closer = _laid(document, paper, on, theme, heroes, _CLOSER)
        made = closer if len(closer.boxes) < len(made.boxes) else made
    return PaperPdf(made.pdf(), len(made.boxes), False)


def _ends_nearly_empty(made: Typeset) -> bool:
    """Whether there are pages, and hardly anything stands on the last of them."""
    last = made.boxes[-1]
    body = last.children[0].children[0]
    return len(made.boxes) > 1 and body.height < _NEARLY_EMPTY * last.height


def _laid(
    document: EventDocument, paper: EventPaper, on: Paper, theme: str, heroes: Sequence[Hero], size: float
) -> Typeset:
    style = load_paper_theme(theme, "event-paper")
    assets: dict[str, Asset] = {}
    numbers = count()

    def kept(data: bytes, kind: str) -> str:
        name = f"picture-{next(numbers)}"
        assets[name] = Asset(data, kind)
        return f"asset:{name}"

    def show(svg: str, width: float, height: float, describes: str) -> str:
        source = kept(svg.encode("utf-8"), "image/svg+xml")
        return f'<img src="{source}" alt="{escape(describes)}" style="width:{width:.2f}mm;height:{height:.2f}mm">'

    wide, high, margin = on.page
    wide, high = wide - 2 * margin, high - 2 * margin
    manner = PaperManner(show, wide, min(high * 0.3, 75.0), INKS[style.composition], document.system)
    html = style.filled(
        paper=paper_view(paper, manner),
        document=document,
        language=document.language,
        heroes=[_hero_view(hero, kept(hero.data, hero.kind), len(heroes)) for hero in heroes],
        heroes_width=f"{sum(_hero_wide(hero, len(heroes)) + _BESIDE_MM for hero in heroes) + 3 * _BESIDE_MM:.2f}mm",
        composition=style.composition.value,
        called=shorten(document.occasion.called or document.title, _CALLED, placeholder="…"),
    )
    block = style.composition is Composition.SHOP_DRAWING
    foot = "" if block else _foot(document.occasion.line) + _page_of(document.furniture["page-of"])
    page = (
        f"@page{{size:{float(on.width_mm):.4f}mm {float(on.height_mm):.4f}mm;"
        f"margin:{margin}mm {margin}mm {margin + (_BLOCK_MM if block else 4)}mm;{foot}}}body{{font-size:{size}pt}}"
    )
    return typeset(html, style.style, page, assets)


_BLOCK_MM = 9.0
"""How much of the foot of every page the title block of a shop drawing takes."""
_CALLED = 80
"""Letters of two lines of the title block, in which the event is named; the head of the paper says all of it."""
_HERO_HIGH, _HERO_WIDE, _HEROES_WIDE = 22.0, 30.0, 72.0
"""Millimetres at the head of a paper for the picture of one recipe, and for those of all."""
_BESIDE_MM = 2.0
"""Between two of them."""


def _hero_wide(hero: Hero, many: int) -> float:
    return min(_HERO_WIDE, _HERO_HIGH / hero.ratio, _HEROES_WIDE / many - _BESIDE_MM)


def _hero_view(hero: Hero, source: str, many: int) -> SimpleNamespace:
    width = _hero_wide(hero, many)
    return SimpleNamespace(source=source, alt=hero.alt, width=f"{width:.2f}mm", height=f"{width * hero.ratio:.2f}mm")


def _page_of(between: str) -> str:
    return f'@bottom-right{{content:counter(page) "{between}" counter(pages)}}'


def _foot(text: str) -> str:
    """The event's name, day and place at the foot of every page, as a string of CSS."""
    if not text:
        return ""
    # What CSS takes for its own (quotes, backslashes, line ends) is written as its number, as its syntax has it.
    letters = "".join(one if one.isalnum() or one in " .,:-" else f"\\{ord(one):x} " for one in text)
    return f'@bottom-left{{content:"{letters}"}}'


_WIDE_MM, _HIGH_MM = 190.0, 80.0


def event_page(document: EventDocument, theme: str, heroes: Sequence[Hero]) -> bytes:
    """The whole page, right without a network. What is the studio's own (prices) is not on it."""
    ready = load_page(theme, "event")
    # Nothing stands at either end: some checkers of pages trim what they hash, browsers do not.
    style, script = ready.style.strip(), page_script("event")
    manner = PaperManner(_inline, _WIDE_MM, _HIGH_MM, INKS[ready.composition], document.system)
    papers = [paper_view(paper, manner) for paper in document.papers if paper.whose is For.HELPERS]
    parts = filled(
        ready.page,
        ready.name,
        document=document,
        papers=papers,
        heroes=[Html(_on_page(hero)) for hero in heroes],
        composition=ready.composition.value,
        style=Html(style),
        script=Html(script),
        policy=(
            f"default-src 'none'; img-src data:; font-src data:; style-src {policy_hash(style)}; "
            f"script-src {policy_hash(script)}; base-uri 'none'; form-action 'none'"
        ),
    )
    return "".join(parts).encode("utf-8")


def paper_insides(document: EventDocument) -> dict[str, str]:
    """What stands on each paper, under its title, by the paper's slug: for a page that has its own style, the studio's
    own papers too. Pictures are drawn for white ground."""
    page = base_template("event-inside.html")
    manner = PaperManner(_inline, _WIDE_MM, _HIGH_MM, INKS[Composition.PICTURE_BOOK], document.system)
    return {paper.slug: page.render(document=document, paper=paper_view(paper, manner)) for paper in document.papers}


def _inline(svg: str, _width: float, _height: float, _describes: str) -> str:
    return svg.replace("<svg ", '<svg class="drawing" ', 1)


def _on_page(hero: Hero) -> str:
    """A drawing as it is, a photograph in an address."""
    if hero.kind == "image/svg+xml":
        return _inline(hero.data.decode("utf-8"), 0.0, 0.0, hero.alt)
    return f'<img src="data:{hero.kind};base64,{b64encode(hero.data).decode("ascii")}" alt="{escape(hero.alt)}">'
