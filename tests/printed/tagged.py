"""The structure of a tagged PDF as plain values (ISO 32000-1, 14.7 and 14.8)."""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import pikepdf
from msgspec import Struct

from printed.content import Mark, painted

Id = tuple[int, int]
"""A PDF object's number and generation."""
NOTHING: Id = (0, 0)
"""What null has for a number: no object has it (ISO 32000-1, 7.3.10)."""


class Piece(NamedTuple):
    """A stretch of marked content: the page it stands on, from 1, and its number there."""

    page: int
    mcid: int


class Element(Struct, frozen=True):
    """A structure element. `tag` is as written, `role` the standard type it stands for (the same if it is one).
    `kids` are elements, pieces of content, and the ids of objects (annotations) that belong to it."""

    id: Id
    tag: str
    role: str
    kids: tuple[Element | Piece | Id, ...]
    alt: str = ""
    numbering: str = ""
    box: tuple[float, ...] = ()

    @property
    def elements(self) -> tuple[Element, ...]:
        return tuple(kid for kid in self.kids if isinstance(kid, Element))

    def all(self) -> Iterator[Element]:
        """The element and all under it, in order of reading."""
        yield self
        for element in self.elements:
            yield from element.all()


class Annotation(Struct, frozen=True):
    page: int
    id: Id
    kind: str
    contents: str
    parent: int | None
    """Its number in the parent tree."""


class Tagged(Struct, frozen=True):
    """What a file says of its structure, and what its pages paint. `parents` is the parent tree: by number, the
    elements of a page's content in order, or the one of an annotation; `keys` are the pages' numbers in it, by page
    from 1."""

    tops: tuple[Element, ...]
    marks: tuple[Mark, ...]
    loose: tuple[tuple[int, str], ...]
    parents: dict[int, tuple[Id, ...]]
    keys: dict[int, int | None]
    annotations: tuple[Annotation, ...]
    orders: dict[int, str]
    """The order in which a page's annotations are visited (the page's Tabs)."""

    def elements(self) -> Iterator[Element]:
        for top in self.tops:
            yield from top.all()


@lru_cache(maxsize=2)
def tagged(data: bytes) -> Tagged:
    """Kept for the next check of the same file. Raises ValueError if the structure bites its own tail."""
    with pikepdf.open(io.BytesIO(data)) as file:
        pages = {page.obj.objgen: number for number, page in enumerate(file.pages, 1)}
        content = {number: painted(page, number) for number, page in enumerate(file.pages, 1)}
        root = file.Root.get("/StructTreeRoot", pikepdf.Dictionary())
        reader = _Reader(pages, {str(key): str(value) for key, value in root.get("/RoleMap", {}).items()})
        return Tagged(
            tops=tuple(kid for kid in reader.kids(root, None) if isinstance(kid, Element)),
            marks=tuple(mark for page in content.values() for mark in page.marks),
            loose=tuple((number, what) for number, page in content.items() for what in page.loose),
            parents=dict(_numbers(root.get("/ParentTree", pikepdf.Dictionary()))),
            keys={number: _int(page.obj.get("/StructParents")) for number, page in enumerate(file.pages, 1)},
            annotations=tuple(_annotations(file)),
            orders={number: str(page.obj.get("/Tabs", ""))[1:] for number, page in enumerate(file.pages, 1)},
        )


class _Reader:
    def __init__(self, pages: dict[Id, int], roles: dict[str, str]) -> None:
        self.pages = pages
        self.roles = roles
        self.seen: set[Id] = set()

    def kids(self, node: pikepdf.Object, page: int | None) -> Iterator[Element | Piece | Id]:
        for kid in _listed(node.get("/K")):
            if isinstance(kid, int):
                yield Piece(page or 0, kid)
            elif kid.get("/Type") == "/MCR":
                yield Piece(self.page_of(kid, page) or 0, int(kid.MCID))
            elif kid.get("/Type") == "/OBJR":
                yield kid.Obj.objgen
            else:
                yield self.element(kid, page)

    def element(self, node: pikepdf.Object, page: int | None) -> Element:
        if node.objgen in self.seen:
            raise ValueError(f"the structure element {node.objgen[0]} stands in the tree twice")
        self.seen.add(node.objgen)
        tag = str(node.S).removeprefix("/")
        facts = [fact for fact in _listed(node.get("/A")) if isinstance(fact, pikepdf.Dictionary)]
        return Element(
            id=node.objgen,
            tag=tag,
            role=self.role_of(tag),
            kids=tuple(self.kids(node, self.page_of(node, page))),
            alt=str(node.get("/Alt", "")),
            numbering=next((str(fact.ListNumbering)[1:] for fact in facts if "/ListNumbering" in fact), ""),
            box=next((tuple(float(side) for side in fact.BBox) for fact in facts if "/BBox" in fact), ()),
        )

    def page_of(self, node: pikepdf.Object, page: int | None) -> int | None:
        return self.pages.get(node.Pg.objgen) if "/Pg" in node else page

    def role_of(self, tag: str) -> str:
        tried: set[str] = set()
        while f"/{tag}" in self.roles and tag not in tried:
            tried.add(tag)
            tag = self.roles[f"/{tag}"].removeprefix("/")
        return tag


def _listed(value: object) -> list:
    if value is None:
        return []
    return list(value) if isinstance(value, pikepdf.Array) else [value]


def _numbers(node: pikepdf.Object) -> Iterator[tuple[int, tuple[Id, ...]]]:
    """A number tree, flat (ISO 32000-1, 7.9.7)."""
    flat = list(node.get("/Nums", []))
    for key, value in zip(flat[::2], flat[1::2], strict=True):
        held = list(value) if isinstance(value, pikepdf.Array) else [value]
        ids = tuple(getattr(entry, "objgen", NOTHING) for entry in held)
        yield int(key), ids
    for kid in node.get("/Kids", []):
        yield from _numbers(kid)


def _annotations(file: pikepdf.Pdf) -> Iterator[Annotation]:
    for number, page in enumerate(file.pages, 1):
        for note in page.obj.get("/Annots", []):
            kind = str(note.get("/Subtype", "")).removeprefix("/")
            contents = str(note.get("/Contents", ""))
            yield Annotation(number, note.objgen, kind, contents, _int(note.get("/StructParent")))


def _int(value: object) -> int | None:
    return None if value is None else int(value)  # type: ignore[call-overload]
