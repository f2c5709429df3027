"""The manual's entry for a word of the text, as HTML: the guide's own Markdown, and what was understood here."""

from __future__ import annotations

from functools import cache
from html import escape
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.authoring.explaining import explain
from foldwright.pipeline import Understood

if TYPE_CHECKING:
    from markdown_it import MarkdownIt

PICTURES = "/guide/"
"""Where the manual's pictures are served."""


class EntryBox(Struct, frozen=True):
    """Which characters it is about, and what is shown beside them."""

    start: int
    end: int
    html: str


def entry_at(text: str, offset: int, understood: Understood | None) -> EntryBox | None:
    """The entry for what stands at an offset; None where the manual has none."""
    entry = explain(text, offset, understood)
    if entry is None:
        return None
    parts = [f"<p><b>{escape(entry.title)}</b></p>", _markdown().render(entry.text)]
    if entry.understood:
        parts.insert(1, f'<p class="remark">{escape(entry.understood)}</p>')
    if entry.picture:
        parts.append(f'<p><img src="{PICTURES}{escape(entry.picture)}" alt="{escape(entry.pictured)}"></p>')
    return EntryBox(entry.start, entry.end, "".join(parts))


@cache
def _markdown() -> MarkdownIt:
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark", {"html": False}).enable("table")
