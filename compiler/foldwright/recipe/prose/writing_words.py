"""Blocks of words back as Markdown that reads as the same blocks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from foldwright.recipe.prose.markdown import read_prose
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
    flat_runs,
    lines_of,
)

WIDEST = 110
"""Longer lines are broken, where nothing but a space is lost."""
_SPECIAL = re.compile(r"[\\`*_\[\]<]|&(?=#?\w+;)")
_OPENING = re.compile(r"[-+>#~=|](?=.)|[-+>#~=]$|[0-9]{1,9}(?=[.)])")
_TICKS = re.compile("`+")
_ODD_ADDRESS = re.compile(r"[\s()<>\\]")
_BREAKABLE = re.compile(r"(?<=\S) (?=[^\W\d_]{2})")


def write_blocks(blocks: Iterable[Block]) -> str:
    """Markdown with an empty line between blocks, no line end behind the last."""
    written: list[str] = []
    last: Block | None = None
    turn = 0
    for block in blocks:
        # Two lists in a row would run together if they had the same marks.
        turn = 1 - turn if isinstance(block, Items) and isinstance(last, Items) else 0
        written.append(_write_block(block, turn))
        last = block
    return "\n\n".join(written)


def write_line(blocks: Iterable[Block]) -> str:
    """Paragraphs as the value of a line: `tip: ...`."""
    children: list[Inline] = []
    for block in blocks:
        if isinstance(block, Paragraph | Subheading):
            children += [Text(" "), *block.children] if children else block.children
    return _paragraph(children, opening=False).replace("\n", "\n  ")


def write_heading(text: str) -> str:
    """A heading's plain words, so that no mark in them is taken for Markdown."""
    escaped = _SPECIAL.sub(r"\\\g<0>", text)
    return f"{escaped[:-1]}\\#" if escaped.endswith("#") else escaped


def _write_block(block: Block, turn: int) -> str:
    match block:
        case Paragraph():
            return _paragraph(block.children)
        case Subheading():
            return "#" * block.level + " " + _paragraph(block.children, opening=False).replace("\n", " ")
        case Items():
            return _write_items(block, turn)
        case Quote():
            return _prefixed(write_blocks(block.children), "> ", "> ")
        case Preformatted():
            ticks = _ticks_around(block.text, 3)
            text = block.text if not block.text or block.text.endswith("\n") else f"{block.text}\n"
            return f"{ticks}\n{text}{ticks}"
        case Rule():
            return "---"


def _write_items(block: Items[Measure], turn: int) -> str:
    mark = ("1. ", "1) ")[turn] if block.ordered else ("- ", "* ")[turn]
    tight = all(len(item) < 2 for item in block.items)
    items = [_prefixed(write_blocks(item), mark, " " * len(mark)) for item in block.items]
    return ("\n" if tight else "\n\n").join(items)


def _prefixed(text: str, first: str, others: str) -> str:
    head, *rest = text.split("\n")
    return "\n".join([(first + head).rstrip(), *((others + line).rstrip() for line in rest)])


def _paragraph(children: Sequence[Inline], opening: bool = True) -> str:
    """One paragraph, its long lines broken, with a backslash before numbers that are not to be taken for measures."""
    ink = _MarkdownInk()
    ink.write(children, 0)
    text = ink.text
    if opening and (start := _OPENING.match(text)):
        # `1.` would begin a list: the mark behind the figures is escaped, any other mark itself.
        at = start.end() if start[0].isdigit() else 0
        text = f"{text[:at]}\\{text[at:]}"
        ink.shift(at)
        ink.solid = [(start + (start >= at), end + (end > at)) for start, end in ink.solid]
    return _without_new_measures(_broken(text, ink.solid) if opening else text, ink.measures)


class _MarkdownInk:
    """Runs as Markdown, and where in it the measures and other stretches stand that must not be broken."""

    def __init__(self) -> None:
        self.text = ""
        self.measures: list[int] = []
        self.solid: list[tuple[int, int]] = []

    def write(self, children: Iterable[Inline], depth: int) -> None:
        for child in children:
            self._write_one(child, depth)

    def shift(self, at: int) -> None:
        self.measures = [start + (start >= at) for start in self.measures]

    def _write_one(self, child: Inline, depth: int) -> None:
        match child:
            case Text():
                self.text += _SPECIAL.sub(r"\\\g<0>", child.text)
            case Measure():
                self.measures.append(len(self.text))
                self._solid(child.said)
            case Code():
                ticks = _ticks_around(child.text, 1)
                pad = " " if child.text.startswith("`") or child.text.endswith("`") else ""
                self._solid(ticks + pad + child.text + pad + ticks)
            case Break():
                self.text += "\\\n"
            case Emphasis():
                self._marked("*_"[depth % 2], child.children, depth + 1)
            case Strong():
                self._marked("**", child.children, depth)
            case Link():
                self._link(child, depth)

    def _solid(self, text: str) -> None:
        self.solid.append((len(self.text), len(self.text) + len(text)))
        self.text += text

    def _marked(self, mark: str, children: Iterable[Inline], depth: int) -> None:
        self.text += mark
        self.write(children, depth)
        self.text += mark

    def _link(self, link: Link[Measure], depth: int) -> None:
        if link.children == (Text(link.href),) and "://" in link.href and not _ODD_ADDRESS.search(link.href):
            self._solid(f"<{link.href}>")
            return
        self.text += "["
        self.write(link.children, depth)
        address = link.href.replace("<", "%3C").replace(">", "%3E")
        self._solid(f"](<{address}>)" if _ODD_ADDRESS.search(link.href) or not link.href else f"]({link.href})")


def _ticks_around(text: str, least: int) -> str:
    longest = max((len(run) for run in _TICKS.findall(text)), default=0)
    return "`" * max(longest + 1, least)


def _broken(text: str, solid: Sequence[tuple[int, int]]) -> str:
    """Spaces made line ends so that lines stay short: outside of measures, and only before a plain word."""
    if len(text) <= WIDEST:
        return text
    allowed = [at for found in _BREAKABLE.finditer(text) if not _inside(at := found.start(), solid)]
    letters = list(text)
    line_start = 0
    for number, at in enumerate(allowed):
        following = allowed[number + 1] if number + 1 < len(allowed) else len(text)
        if following - line_start > WIDEST and at > line_start:
            letters[at] = "\n"
            line_start = at + 1
    return "".join(letters)


def _inside(at: int, solid: Sequence[tuple[int, int]]) -> bool:
    return any(start <= at < end for start, end in solid)


def _without_new_measures(text: str, measures: Sequence[int]) -> str:
    """A backslash before every number that would be read as a measure and was none. It moves what comes after it."""
    meant = set(measures)
    for _ in range(len(text)):
        runs = (run for line in lines_of(read_prose(text, "", 0)) for run in flat_runs(line))
        starts = (run.place.start for run in runs if isinstance(run, Measure))
        new = next((start for start in starts if start not in meant), None)
        if new is None:
            break
        text = f"{text[:new]}\\{text[new:]}"
        meant = {start + (start >= new) for start in meant}
    return text
