"""The outline of a file (ISO 32000-1, 12.3.3)."""

from __future__ import annotations

import io

import pikepdf
from msgspec import Struct


class Bookmark(Struct, frozen=True):
    """A title, the page it leads to (from 1), and the bookmarks under it."""

    title: str
    page: int
    under: tuple[Bookmark, ...] = ()


def bookmarks(data: bytes) -> list[Bookmark]:
    """The outline; empty when there is none."""
    with pikepdf.open(io.BytesIO(data)) as file, file.open_outline() as outline:
        numbers = {page.obj.objgen: number for number, page in enumerate(file.pages, 1)}
        return [_bookmark(item, numbers) for item in outline.root]


def _bookmark(item: pikepdf.OutlineItem, numbers: dict[tuple[int, int], int]) -> Bookmark:
    under = tuple(_bookmark(child, numbers) for child in item.children)
    return Bookmark(item.title, numbers[item.destination[0].objgen], under)
