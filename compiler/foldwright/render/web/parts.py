"""A page in parts: so that whoever shows it while it is written puts in only what has changed.

The body is cut where the templates of all looks begin a block: head, glance, lists, each piece, each step, what comes
after. What is left when the parts are taken out is the frame, with a mark where each part goes. A look of one's own
that puts its page together in other blocks is cut where those begin, at the worst into fewer parts.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct


class Head(Struct, frozen=True):
    """What stands before the body: the page's language, its title, and a name that no other style has."""

    language: str
    title: str
    style: str


class Part(Struct, frozen=True):
    """One element of the body. `key` says which: the same from one change to the next, and on one page only once."""

    key: str
    html: str


class PageParts(Struct, frozen=True):
    """A page: its head, its body without the parts, and the parts in order. `frame` has `mark_of` a part's key where it
    goes."""

    head: Head
    frame: str
    parts: tuple[Part, ...]

    @property
    def body(self) -> str:
        """The whole, put together."""
        html = self.frame
        for part in self.parts:
            html = html.replace(mark_of(part.key), part.html)
        return html


class Patch(Struct, frozen=True):
    """What has changed from one page to the next. `head` and `frame` are None where they have not; parts that the new
    frame has no mark of are gone."""

    head: Head | None
    frame: str | None
    parts: tuple[Part, ...]


def patch(before: PageParts | None, after: PageParts) -> Patch:
    """The way from one page to the next; from none, all of it."""
    if before is None:
        return Patch(after.head, after.frame, after.parts)
    known = {part.key: part.html for part in before.parts}
    return Patch(
        None if after.head == before.head else after.head,
        None if after.frame == before.frame else after.frame,
        tuple(part for part in after.parts if known.get(part.key) != part.html),
    )


def mark_of(key: str) -> str:
    """What stands in the frame for a part."""
    return f'<template data-part="{key}"></template>'


def page_parts(head: Head, html: str) -> PageParts:
    """A whole page cut into its parts. Its scripts are left out: nothing may run where it is put in."""
    body = html[html.index("<body>") + len("<body>") : html.rindex("</body>")]
    parts: list[Part] = []
    frame: list[str] = []
    at = 0
    for start, end, name in _elements(body):
        frame.append(body[at:start])
        at = end
        if name:
            taken = sum(part.key == name or part.key.startswith(f"{name}+") for part in parts)
            parts.append(Part(f"{name}+{taken}" if taken else name, body[start:end]))
            frame.append(mark_of(parts[-1].key))
    return PageParts(head, "".join([*frame, body[at:]]), tuple(parts))


_TAG = re.compile(r"<(/?)(header|nav|main|section|footer|div|article|details|ol|ul|li|dl|script)\b([^>]*)>")
"""Blocks. No drawing holds one, and no author's words: there every `<` is written `&lt;`."""
_NAMED = re.compile(r'(?:.*\sid|.*?\sclass)="([\w-]+)')
"""By its id if it has one; blocks of one kind share a class."""
_OPENED = frozenset({"main", "making", "steps", "pieces", "details", "plans"})
"""Blocks that are no parts but hold some: their names, or their tags where they have none."""


def _elements(body: str) -> Iterator[tuple[int, int, str]]:
    """Where each part begins and ends, and its name; none for what is left out."""
    depth = opened = start = 0
    name = ""
    for tag in _TAG.finditer(body):
        closes, kind, attributes = tag.groups()
        if closes:
            depth -= 1
            if depth < opened:
                opened = depth
            elif depth == opened:
                yield start, tag.end(), name
            continue
        if depth == opened:
            named = _NAMED.match(attributes)
            name, start = named[1] if named else kind, tag.start()
            name = "" if kind == "script" else name
            opened += name in _OPENED
        depth += 1
