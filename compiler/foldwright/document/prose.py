"""The author's words as a document carries them: the same tree, each measure resolved to what is printed."""

from __future__ import annotations

from foldwright.document.measures import Measures
from foldwright.document.quote_marks import curled_runs
from foldwright.document.words import Passage, Runs
from foldwright.recipe.words import Block, Inline, Measure, Text, changed, changed_runs


def passage(blocks: tuple[Block, ...], measures: Measures) -> Passage:
    """The author's blocks with what is printed for their measures in both systems."""
    return changed(blocks, lambda children: curled_runs(runs(children, measures)))


def runs(inlines: tuple[Inline, ...], measures: Measures) -> Runs:
    """The author's runs likewise; the names of amounts in plain words are set, too."""

    def resolved(run: Text | Measure, after: str) -> Runs:
        return measures.words(run.text) if isinstance(run, Text) else (measures.in_words(run, after),)

    return changed_runs(inlines, resolved)
