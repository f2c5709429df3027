"""Run sheets, one for every unit system and paper."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.document.run_sheet import run_sheet
from foldwright.finding import Finding, Strength
from foldwright.outputs.model import MadeFiles, OutputSource
from foldwright.outputs.paper_findings import letters_missing
from foldwright.outputs.paper_notes import RunSheetNote
from foldwright.outputs.papers import large_papers
from foldwright.render.paper.run_sheet import RunMisfit, run_sheet_pdf


def run_sheets(source: OutputSource) -> MadeFiles:
    """Every run sheet that is wished for. Raises ThemeError."""
    how, recipe = source.wish.on_paper, source.recipe
    files: dict[str, bytes] = {}
    notes: list[RunSheetNote] = []
    findings: list[Finding] = []
    for paper, system in large_papers(source):
        file = f"run-sheet-{system.value}-{paper.slug}{'-in-class' if how.in_class else ''}.pdf"
        sheet = run_sheet(source.spelled[system], source.understood.times, how.begins, how.in_class)
        if sheet is None:
            return MadeFiles(findings=(Finding.of("run-sheet-without-steps", Strength.THOUGHT, recipe.title.place),))
        made = run_sheet_pdf(sheet, system, source.theme, paper)
        if isinstance(made, RunMisfit):
            findings += _misfits(made, file, source)
            continue
        files[file] = made.pdf
        notes.append(RunSheetNote(file, made.pages, made.near))
    return MadeFiles(files, tuple(findings), notes=tuple(notes))


def _misfits(made: RunMisfit, file: str, source: OutputSource) -> Iterator[Finding]:
    recipe = source.recipe
    yield from letters_missing(made.unprintable, recipe, source.texts)
    if made.too_long:
        step = recipe.steps[made.too_long - 1]
        code = "run-step-short-too-long" if step.short else "run-step-too-long"
        yield Finding.of(code, Strength.MISFIT, step.heading.place, file=file, number=step.number)
