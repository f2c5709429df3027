"""The author's words as a sheet carries them: the same tree, every measure resolved."""

from __future__ import annotations

from foldwright.document.measures import Measures
from foldwright.document.quote_marks import curled_runs
from foldwright.document.words import (
    Heavy,
    LineEnd,
    Linked,
    Listing,
    Minor,
    Para,
    Part,
    Parting,
    Passage,
    Quoted,
    Runs,
    Slanted,
    Typed,
    Verbatim,
)
from foldwright.recipe.words import (
    Block,
    Break,
    Code,
    Emphasis,
    Inline,
    Items,
    Link,
    Measure,
    Paragraph,
    Preformatted,
    Quote,
    Rule,
    Strong,
    Subheading,
    Text,
)

_HIGHEST = 3
"""The rank of the highest heading inside a step (`###`)."""


def passage(blocks: tuple[Block, ...], measures: Measures) -> Passage:
    return tuple([_part(block, measures) for block in blocks])


def runs(inlines: tuple[Inline, ...], measures: Measures) -> Runs:
    following = [*inlines[1:], None]
    return tuple(
        [
            run
            for inline, after in zip(inlines, following, strict=True)
            for run in _runs(inline, measures, after.text if isinstance(after, Text) else "")
        ]
    )


def _part(block: Block, measures: Measures) -> Part:
    match block:
        case Paragraph(children):
            return Para(curled_runs(runs(children, measures)))
        case Items(ordered, items):
            return Listing(ordered, tuple(passage(item, measures) for item in items))
        case Quote(children):
            return Quoted(passage(children, measures))
        case Subheading(level, children):
            return Minor(max(1, level - _HIGHEST + 1), curled_runs(runs(children, measures)))
        case Preformatted(text):
            return Verbatim(text)
        case Rule():
            return Parting()


def _runs(inline: Inline, measures: Measures, after: str) -> Runs:
    match inline:
        case Text(text):
            return measures.words(text)
        case Measure():
            return (measures.in_words(inline, after),)
        case Emphasis(children):
            return (Slanted(runs(children, measures)),)
        case Strong(children):
            return (Heavy(runs(children, measures)),)
        case Code(text):
            return (Typed(text),)
        case Link(href, children):
            return (Linked(href, runs(children, measures)),)
        case Break():
            return (LineEnd(),)
