"""Cards as files, one for every unit system and paper that is wished for, and what was chosen for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from foldwright.cli.paper_findings import misfit_findings, no_sheet_finding, unfit_findings
from foldwright.cli.wishes import OnPaper, Wish
from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.recipe.model import Recipe
from foldwright.render.photos import Prepared
from foldwright.render.press.card import Card, Misfit, Proof
from foldwright.render.press.content import Version
from foldwright.render.press.imposing import Edge, Imposition, impose
from foldwright.render.press.papers import Paper, default_paper, next_larger, sheets_for
from foldwright.sheet.model import Sheet, Shown
from foldwright.sheet.words import plain


class CardNote(Struct, frozen=True):
    """What was chosen for a card, and what it goes without for want of room.

    `too_long_for` names the smaller paper it was meant for, `on_sheet` the sheet that several are printed on; the
    sheet is turned on `back_edge` to print its back. `missing` and `brief` are plain names of what was left out and of
    what was said shortly, `headings` those of sections left out.
    """

    file: str
    size_pt: float
    columns: int
    too_long_for: str = ""
    up: int = 1
    on_sheet: str = ""
    back_edge: Edge | None = None
    short_steps: int = 0
    left_out: tuple[Shown, ...] = ()
    headings: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    brief: tuple[str, ...] = ()


class PaperMade(Struct, frozen=True):
    """Files by name, what is to be said of each, and what is the matter."""

    files: Mapping[str, bytes]
    notes: tuple[CardNote, ...]
    findings: tuple[Finding, ...]


class _Meant(Struct, frozen=True):
    """A card that was tried: on which paper it came to be, and how many of it on what sheet."""

    paper: Paper
    made: Card | Misfit | None
    """None when there is no sheet for so many."""
    imposition: Imposition | None


def cards(
    sheet: Sheet, recipe: Recipe, photos: Mapping[str, Prepared], theme: str, wish: Wish, texts: Mapping[str, str]
) -> PaperMade:
    """Every card that is wished for. `texts` are the files findings point into."""
    how = wish.on_paper
    files: dict[str, bytes] = {}
    notes: list[CardNote] = []
    findings: list[Finding] = []
    for system in wish.systems:
        proof = Proof(sheet, system, theme, photos)
        for asked in how.papers or (default_paper(system, sheet.papers),):
            meant = _made(proof, asked, how, sheet)
            file = _file(system, meant.paper, how.up)
            if isinstance(meant.made, Card):
                if file not in files:
                    files[file] = meant.made.pdf
                    notes.append(_note(file, meant, asked, sheet, system))
                findings += unfit_findings(proof.unfit, recipe)
            elif meant.made:
                larger = next_larger(meant.paper)
                findings += misfit_findings(meant.made, file, meant.paper, larger, recipe, texts)
            else:
                findings.append(no_sheet_finding(how.up, meant.paper))
    return PaperMade(files, tuple(notes), tuple(findings))


def _made(proof: Proof, paper: Paper, how: OnPaper, sheet: Sheet) -> _Meant:
    """The card on its paper or, if that is allowed and needed, on the next larger one that holds it."""
    imposition = impose(paper, how.up, sheets_for(paper, sheet.papers)) if how.up > 1 else None
    if how.up > 1 and imposition is None:
        return _Meant(paper, None, None)
    made = proof.card(paper, how.back, imposition)
    larger = next_larger(paper)
    if how.larger and larger and isinstance(made, Misfit) and made.too_long:
        return _made(proof, larger, how, sheet)
    return _Meant(paper, made, imposition)


def _file(system: System, paper: Paper, up: int) -> str:
    several = f"-{up}-up" if up > 1 else ""
    return f"card-{system.value}-{paper.slug}{several}.pdf"


def _note(file: str, meant: _Meant, asked: Paper, sheet: Sheet, system: System) -> CardNote:
    card, imposition = meant.made, meant.imposition
    assert isinstance(card, Card)
    ending = card.back or card.version
    dropped = () if ending.sections else sheet.sections
    return CardNote(
        file=file,
        size_pt=card.size_pt,
        columns=card.columns,
        too_long_for="" if meant.paper == asked else asked.name,
        up=len(imposition.cells) if imposition else 1,
        on_sheet=imposition.sheet.name if imposition else "",
        back_edge=imposition.back_edge if imposition and card.back else None,
        short_steps=sum(len(step.wordings) > 1 for step in sheet.steps) if card.version.short else 0,
        left_out=card.left_out,
        headings=tuple(plain(section.heading, system) for section in dropped),
        missing=tuple(_missing(card.version, sheet)),
        brief=tuple(_brief(card, sheet)),
    )


def _missing(version: Version, sheet: Sheet) -> Iterator[str]:
    if not version.summary and sheet.head.summary:
        yield "summary"
    if not version.tips and any(step.tip for step in sheet.steps):
        yield "tips"


def _brief(card: Card, sheet: Sheet) -> Iterator[str]:
    version = card.version
    every = (*sheet.cautions, *(caution for step in sheet.steps for caution in step.cautions))
    if not version.full_cautions and any(caution.hazard or caution.consequence for caution in every):
        yield "cautions"
    if not version.listed and not card.back and (sheet.supplies or sheet.tools):
        yield "supplies"
