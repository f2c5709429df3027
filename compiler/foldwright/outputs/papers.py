"""Cards and handouts as files, one for every unit system and paper wished for, and what was chosen for each."""

from __future__ import annotations

from msgspec import Struct

from foldwright.document.model import Document
from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.outputs.model import MadeFiles, OnPaper, OutputSource
from foldwright.outputs.paper_findings import (
    handout_findings,
    misfit_findings,
    no_sheet_finding,
    nothing_in_class,
    unfit_findings,
)
from foldwright.outputs.paper_notes import CardNote, HandoutNote, lacks_of
from foldwright.render.paper.card import Card, Misfit, Proof
from foldwright.render.paper.handout import Handout, handout
from foldwright.render.paper.imposing import FlipEdge, Imposition, impose
from foldwright.render.paper.papers import Paper, default_paper, next_larger, sheets_for


class _TriedCard(Struct, frozen=True):
    """A card that was tried: on which paper it came to be, and how many of it on what sheet."""

    paper: Paper
    made: Card | Misfit | None
    """None when there is no sheet for so many."""
    imposition: Imposition | None


def cards(source: OutputSource) -> MadeFiles:
    """Every card that is wished for. Raises ThemeError."""
    how, recipe = source.wish.on_paper, source.recipe
    files: dict[str, bytes] = {}
    notes: list[CardNote] = []
    findings: list[Finding] = []
    for system in source.wish.systems:
        document = source.spelled[system]
        proof = Proof(document, system, source.theme, source.photos)
        for asked in how.papers or (default_paper(system, document.papers),):
            meant = _made(proof, asked, how, document)
            file = _file(system, meant.paper, how.up)
            if isinstance(meant.made, Card):
                if file not in files:
                    files[file] = meant.made.pdf
                    notes.append(_note(file, meant, asked, document, system))
                findings += unfit_findings(proof.unfit, recipe)
            elif meant.made:
                larger = None if how.larger else next_larger(meant.paper)
                back = _fits_with_back(proof, meant.paper, how)
                findings += misfit_findings(meant.made, file, meant.paper, larger, back, recipe, source.texts)
            else:
                findings.append(no_sheet_finding(how.up, meant.paper))
    return MadeFiles(files, tuple(findings), notes=tuple(notes))


def _fits_with_back(proof: Proof, paper: Paper, how: OnPaper) -> bool:
    return not how.back and isinstance(proof.card(paper, back=True), Card)


def _made(proof: Proof, paper: Paper, how: OnPaper, document: Document) -> _TriedCard:
    """The card on its paper or, if that is allowed and needed, on the next larger one that holds it."""
    imposition = impose(paper, how.up, sheets_for(paper, document.papers)) if how.up > 1 else None
    if how.up > 1 and imposition is None:
        return _TriedCard(paper, None, None)
    made = proof.card(paper, how.back, imposition)
    larger = next_larger(paper)
    if how.larger and larger and isinstance(made, Misfit) and made.too_long:
        moved = _made(proof, larger, how, document)
        # So many of the larger may go on no sheet: then it is the last that does which is too small.
        return moved if moved.made else _TriedCard(paper, made, imposition)
    return _TriedCard(paper, made, imposition)


def _file(system: System, paper: Paper, up: int) -> str:
    several = f"-{up}-up" if up > 1 else ""
    return f"card-{system.value}-{paper.slug}{several}.pdf"


def _note(file: str, meant: _TriedCard, asked: Paper, document: Document, system: System) -> CardNote:
    card, imposition = meant.made, meant.imposition
    assert isinstance(card, Card)
    return CardNote(
        file=file,
        size_pt=card.size_pt,
        columns=card.columns,
        lacks=lacks_of(document, system, card.version, card.left_out, card.back),
        too_long_for="" if meant.paper == asked else asked.name,
        up=len(imposition.cells) if imposition else 1,
        on_sheet=imposition.sheet.name if imposition else "",
        back_edge=(imposition.back_edge if imposition else FlipEdge.LONG) if card.back else None,
    )


# --- handouts ---------------------------------------------------------------------------------------------------------


def handouts(source: OutputSource) -> MadeFiles:
    """Every handout that is wished for. Raises ThemeError."""
    how, recipe = source.wish.on_paper, source.recipe
    files: dict[str, bytes] = {}
    notes: list[HandoutNote] = []
    findings: list[Finding] = []
    for system in source.wish.systems:
        document = source.spelled[system]
        for paper in how.large_papers or (default_paper(system, document.papers),):
            file = f"handout-{system.value}-{paper.slug}{'-large-print' if how.large_print else ''}.pdf"
            made = handout(document, system, source.theme, source.photos, paper, how.large_print)
            if isinstance(made, Handout):
                files[file] = made.pdf
                lacks = lacks_of(made.document, system, made.version, made.left_out)
                notes.append(HandoutNote(file, made.size_pt, made.pages, lacks))
            elif isinstance(made, Misfit):
                findings += handout_findings(made, file, paper, recipe, source.texts)
            else:
                findings.append(nothing_in_class(recipe))
    return MadeFiles(files, tuple(findings), notes=tuple(notes))
