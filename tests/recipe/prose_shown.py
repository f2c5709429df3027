"""Blocks and runs as short text, so that a test shows at a glance what was read. Measures stand in {braces}."""

from __future__ import annotations

from collections.abc import Iterator

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


def shown(blocks: tuple[Block, ...]) -> str:
    return "\n".join(_block(block) for block in blocks)


def _block(block: Block) -> str:
    match block:
        case Paragraph(children):
            return runs(children)
        case Subheading(level, children):
            return f"{'#' * level} {runs(children)}"
        case Items(ordered, items):
            return "\n".join(f"{'1.' if ordered else '-'} [{shown(item)}]" for item in items)
        case Quote(children):
            return f"> [{shown(children)}]"
        case Preformatted(text):
            return f"```{text}```"
        case Rule():
            return "***"


def runs(children: tuple[Inline, ...]) -> str:
    return "".join(_run(child) for child in children)


def _run(run: Inline) -> str:
    match run:
        case Text(text):
            return text
        case Measure():
            return f"{{{run.said}}}"
        case Code(text):
            return f"`{text}`"
        case Break():
            return "|"
        case Emphasis(children):
            return f"<i>{runs(children)}</i>"
        case Strong(children):
            return f"<b>{runs(children)}</b>"
        case Link(href, children):
            return f"<{href}>{runs(children)}</a>"


def measures(blocks: object) -> Iterator[Measure]:
    """Every measure in some blocks or runs, in order."""
    match blocks:
        case tuple():
            for each in blocks:
                yield from measures(each)
        case Measure():
            yield blocks
        case Items():
            yield from measures(blocks.items)
        case Paragraph() | Subheading() | Quote() | Emphasis() | Strong() | Link():
            yield from measures(blocks.children)
