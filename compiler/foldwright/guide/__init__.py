"""The manual that ships with the program: pages of Markdown beside this module, and the pictures they show.

The terminal shows them (`foldwright guide`), and any other surface may.
"""

from __future__ import annotations

from pathlib import Path

PAGES = ("desk", "writing", "working", "samples", "events", "library", "booklets", "weekly", "many", "looks")
"""The pages by name, in the order in which a newcomer reads them."""
FOLDER = Path(__file__).parent


def read_page(name: str) -> str:
    """The Markdown of one of `PAGES`; the pictures it names lie relative to `FOLDER`."""
    return (FOLDER / f"{name}.md").read_text(encoding="utf-8")


def title_of(page: str) -> str:
    """What a page is called: its first heading."""
    return page.partition("\n")[0].removeprefix("# ")
