"""The tools, each on a line or between commas, with what may stand in for it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.entries import first_of_each
from foldwright.recipe.facts.known import split_at_commas, unbraced
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node
from foldwright.recipe.facts.supplies import read_instead
from foldwright.recipe.facts.values import without_bullet
from foldwright.recipe.model import Said, Tool

_LINE_END = re.compile(r"\s*\n\s*")
_INSTEAD = re.compile(r"(?:or )?instead\s*:?\s+", re.IGNORECASE)
_OPTIONAL = re.compile(r"optional(?:\s*:?\s*(?P<no>no)|\s*:?\s*yes)?", re.IGNORECASE)
_COLON = re.compile(r"\s*:\s+")


def read_tools(section: Node | None, complaints: Complaints) -> tuple[Tool, ...]:
    """The tools of the section, each once. What cannot be read goes to `complaints`."""
    if section is None:
        return ()
    return first_of_each(tool for line in _tool_lines(section, complaints) for tool in _read_line(line, complaints))


def _tool_lines(section: Node, complaints: Complaints) -> Iterator[Phrase]:
    if section.value is not None:
        yield from unbraced(section.value, complaints).split(_LINE_END)
    for below in (*section.entries, *section.items):
        yield below.whole


def _read_line(line: Phrase, complaints: Complaints) -> Iterator[Tool]:
    """`craft knife, metal ruler` are two tools; `instead` and `optional` belong to the tool before them."""
    tool: Tool | None = None
    for part in _parts(line):
        instead = _INSTEAD.match(part.text)
        optional = _OPTIONAL.fullmatch(part.text)
        if not instead and not optional:
            if tool:
                yield tool
            tool = Tool(Said(part.plain, part.place))
        elif tool is None:
            complaints.fault("tool-without-name", part)
        elif instead:
            tool = Tool(tool.name, (*tool.instead, *read_instead(part.part(instead.end()))), tool.optional)
        else:
            tool = Tool(tool.name, tool.instead, optional is not None and optional["no"] is None)
    if tool:
        yield tool


def _parts(line: Phrase) -> Iterator[Phrase]:
    for stretch in without_bullet(line).split(_LINE_END):
        for part in split_at_commas(stretch):
            # `knife: instead scissors`, and a name with its facts on lines beneath.
            colon = _COLON.search(part.text) if not _INSTEAD.match(part.text) else None
            if colon and (_INSTEAD.match(part.text, colon.end()) or _OPTIONAL.fullmatch(part.text, colon.end())):
                yield part.part(0, colon.start())
                part = part.part(colon.end())
            if part.text:
                yield part.part(0, -1) if part.text.endswith(":") else part
