"""The plain text of some prose: what is said, without marks; measures as their author spelled them."""

from __future__ import annotations

from collections.abc import Iterable

from foldwright.recipe.words import (
    Block,
    Emphasis,
    Inline,
    Items,
    Link,
    Measure,
    Paragraph,
    Quote,
    Strong,
    Subheading,
    Text,
)


def spoken_text(blocks: Iterable[Block]) -> str:
    """Everything the blocks say, blocks parted by line ends; code and preformatted text say nothing."""
    parts: list[str] = []
    _add_blocks(blocks, parts)
    return "".join(parts)


def _add_blocks(blocks: Iterable[Block], parts: list[str]) -> None:
    for block in blocks:
        match block:
            case Paragraph() | Subheading():
                _add_inlines(block.children, parts)
                parts.append("\n")
            case Items():
                for item in block.items:
                    _add_blocks(item, parts)
            case Quote():
                _add_blocks(block.children, parts)
            case _:
                pass


def _add_inlines(children: Iterable[Inline], parts: list[str]) -> None:
    for child in children:
        match child:
            case Text():
                parts.append(child.text)
            case Measure():
                parts.append(child.said)
            case Emphasis() | Strong() | Link():
                _add_inlines(child.children, parts)
            case _:
                parts.append(" ")
