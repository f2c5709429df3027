"""Templates as files, one for every paper and unit system wished for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from foldwright.document.model import Document
from foldwright.document.template_text import TemplateText
from foldwright.finding import Finding, Strength
from foldwright.geometry.contours import contours_of
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.measure.length import System
from foldwright.outputs.model import BuildWish, MadeFiles, OutputSource
from foldwright.outputs.paper_findings import letters_missing
from foldwright.outputs.paper_notes import TemplateNote
from foldwright.pipeline import Understood
from foldwright.recipe.model import Recipe
from foldwright.render.paper.papers import Paper, default_paper
from foldwright.render.paper.template.piece import Design
from foldwright.render.paper.template.template import template, unprintable


def templates(source: OutputSource) -> MadeFiles:
    """Every template that is wished for. On one paper in both unit systems, each has the system in its name.

    Raises ThemeError.
    """
    understood, recipe = source.understood, source.recipe
    files: dict[str, bytes] = {}
    notes: list[TemplateNote] = []
    findings: list[Finding] = []
    for file, paper, system in _wanted(source.spelled, source.wish):
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
        findings += [_huge(name, recipe, paper) for name in made.huge]
    return MadeFiles(files, tuple(findings), notes=tuple(notes))


def _wanted(spelled: Mapping[System, Document], wish: BuildWish) -> Iterator[tuple[str, Paper, System]]:
    meant = [
        (paper, system)
        for system in wish.systems
        for paper in wish.on_paper.large_papers or (default_paper(system, spelled[system].papers),)
    ]
    papers = [paper for paper, _ in meant]
    mirrored = "-mirrored" if wish.on_paper.mirror else ""
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


def _huge(name: str, recipe: Recipe, paper: Paper) -> Finding:
    piece = next(piece for piece in recipe.pieces if piece.name.value == name)
    return Finding.of("too-large-for-template", Strength.THOUGHT, piece.name.place, piece=name, paper=paper.name)
