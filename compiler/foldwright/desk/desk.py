"""What all pages of the desk share: the folder of recipes it stands in, its secret, and how a page is made."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from msgspec import Struct, field
from starlette.responses import HTMLResponse

from foldwright.desk.room import Room
from foldwright.document.catalogue import catalogue
from foldwright.outputs.sources import Source, find_sources
from foldwright.render.sandbox import compiled_templates

HERE = Path(__file__).parent
_KEY_BYTES = 24
"""192 bits from the system's source of randomness; RFC 6819 (5.1.4.2.2) wants 128 at the least."""


class Desk(Struct, frozen=True):
    """One desk: all it reads and writes lies in `folder`. Whoever knows the `key` may use it; in the `room`, if there
    is one, others may look at what it shows them."""

    folder: Path
    key: str = field(default_factory=lambda: secrets.token_urlsafe(_KEY_BYTES))
    room: Room | None = None

    def recipes(self) -> tuple[Source, ...]:
        """The recipes that lie in the folder, in order of name; none when it is empty."""
        return find_sources([self.folder])[0]

    def recipe(self, slug: str) -> Source | None:
        """The recipe whose folder goes by this name."""
        return next((one for one in self.recipes() if one.slug == slug), None)


def page(name: str, status: int = 200, **facts: Any) -> HTMLResponse:
    """A page of the desk, filled. Its words are the catalogue's: `say` in templates, `words` for its scripts."""
    return HTMLResponse(_templates().get_template(name).render(**facts), status)


def script_words(*tables: str) -> Mapping[str, str]:
    """The texts of these tables of the catalogue, as the page's scripts get them."""
    words = catalogue()
    return {name: text for table in tables for name, text in words.unfilled(table).items()}


@cache
def _templates() -> Environment:
    made = Environment(
        loader=FileSystemLoader(HERE / "pages"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=compiled_templates(),
    )
    made.globals |= {"say": catalogue().say, "script_words": script_words}
    return made
