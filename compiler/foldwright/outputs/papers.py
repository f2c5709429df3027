"""Cards, handouts and templates as files, one for every unit system and paper, and what was chosen for each."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from foldwright.document.model import Document
from foldwright.document.template_text import TemplateText
from foldwright.finding import Finding, Strength
from foldwright.geometry.contours import contours_of
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.measure.length import System
from foldwright.outputs.model import MadeFiles, OnPaper, OutputSource
from foldwright.outputs.paper_findings import (
    handout_findings,
    letters_missing,
    misfit_findings,
    no_sheet_finding,
    nothing_in_class,
    unfit_findings,
)
from foldwright.outputs.paper_notes import CardNote, HandoutNote, TemplateNote, lacks_of
from foldwright.pipeline import Understood
from foldwright.render.paper.card import Card, Misfit, Proof
from foldwright.render.paper.handout import Handout, handout
from foldwright.render.paper.imposing import FlipEdge, Imposition, impose
from foldwright.render.paper.papers import Paper, default_paper, next_larger, sheets_for
from foldwright.render.paper.template.piece import Design
from foldwright.render.paper.template.template import template, unprintable


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
            file = f"card-{system.value}-{meant.paper.slug}{f'-{how.up}-up' if how.up > 1 else ''}.pdf"
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
    # Who takes a larger paper as well would rather have all words there than a strip here.
    made = proof.card(paper, how.back, imposition, strips=not how.larger)
    larger = next_larger(paper)
    if how.larger and larger and isinstance(made, Misfit) and made.too_long:
        moved = _made(proof, larger, how, document)
        # So many of the larger may go on no sheet: then it is the last that does which is too small.
        return moved if moved.made else _TriedCard(paper, made, imposition)
    return _TriedCard(paper, made, imposition)


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


def large_papers(source: OutputSource) -> Iterator[tuple[Paper, System]]:
    """The papers of handouts and templates for each unit system."""
    for system in source.wish.systems:
        usual = default_paper(system, source.spelled[system].papers)
        yield from ((paper, system) for paper in source.wish.on_paper.large_papers or (usual,))


def handouts(source: OutputSource) -> MadeFiles:
    """Every handout that is wished for. Raises ThemeError."""
    how, recipe = source.wish.on_paper, source.recipe
    files: dict[str, bytes] = {}
    notes: list[HandoutNote] = []
    findings: list[Finding] = []
    for paper, system in large_papers(source):
        file = f"handout-{system.value}-{paper.slug}{'-large-print' if how.large_print else ''}.pdf"
        made = handout(source.spelled[system], system, source.theme, source.photos, paper, how.large_print, how.pages)
        if isinstance(made, Handout):
            files[file] = made.pdf
            lacks = lacks_of(made.document, system, made.version, made.left_out)
            notes.append(HandoutNote(file, made.size_pt, made.pages, lacks))
        elif isinstance(made, Misfit):
            findings += handout_findings(made, file, paper, how.pages, recipe, source.texts)
        else:
            findings.append(nothing_in_class(recipe))
    return MadeFiles(files, tuple(findings), notes=tuple(notes))


# --- templates --------------------------------------------------------------------------------------------------------


def templates(source: OutputSource) -> MadeFiles:
    """Every template that is wished for. On one paper in both unit systems, each has the system in its name.

    Raises ThemeError.
    """
    understood, recipe = source.understood, source.recipe
    files: dict[str, bytes] = {}
    notes: list[TemplateNote] = []
    findings: list[Finding] = []
    for file, paper, system in _wanted(source):
        document = source.spelled[system]
        words = TemplateText(document, system)
        designs = tuple(designs_of(document, understood, words))
        if not designs:
            return MadeFiles(findings=(Finding.of("no-template", Strength.THOUGHT, recipe.title.place),))
        if missing := unprintable(document, designs):
            return MadeFiles(findings=tuple(letters_missing(missing, recipe, source.texts)))
        made = template(document, designs, words, source.theme, paper, source.wish.on_paper.mirror)
        files[file] = made.pdf
        notes.append(TemplateNote(file, made.pages, made.tiled))
        places = {piece.name.value: piece.name.place for piece in recipe.pieces}
        for name in made.huge:
            facts = {"piece": name, "paper": paper.name}
            findings.append(Finding.of("too-large-for-template", Strength.THOUGHT, places[name], **facts))
    return MadeFiles(files, tuple(findings), notes=tuple(notes))


def _wanted(source: OutputSource) -> Iterator[tuple[str, Paper, System]]:
    meant = list(large_papers(source))
    papers = [paper for paper, _ in meant]
    mirrored = "-mirrored" if source.wish.on_paper.mirror else ""
    for paper, system in meant:
        both = f"-{system.value}" if papers.count(paper) > 1 else ""
        yield f"template{both}-{paper.slug}{mirrored}.pdf", paper, system


def designs_of(document: Document, understood: Understood, words: TemplateText) -> Iterator[Design]:
    """Every piece exactly as it is; only its labels are rounded. One whose numbers disagree has no true size."""
    lines = {piece.name: piece for piece in document.pieces}
    for blank in understood.flat.blanks:
        if not blank.doubtful:
            piece = lines[blank.piece]
            captions = flat_scene(blank).captions
            yield Design(blank.piece, contours_of(blank), captions, words.under(piece), words.shows(piece))
