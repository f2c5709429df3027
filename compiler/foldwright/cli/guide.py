"""`foldwright guide`: the manual in the terminal, a page at a time."""

from __future__ import annotations

import re

from foldwright.cli.telling import Teller
from foldwright.guide import PAGES, read_page, title_of

_PICTURE = re.compile(r"!\[([^\]]*)\]\([^)]*\)")
_REMARK = re.compile(r"^<!--.*?-->\n", re.MULTILINE)


def show_guide(page: str) -> int:
    """Show a page, or the list of pages when none is named; the exit status."""
    if not page:
        return _list_pages()
    name = page.strip().lower().removesuffix(".md")
    if name not in PAGES:
        Teller("stderr").words("wrong.guide-page", page=page, known=PAGES)
        return 2
    _show(read_page(name))
    return 0


def _list_pages() -> int:
    teller = Teller()
    teller.words("guide.pages")
    for name in PAGES:
        teller.text(f"  foldwright guide {name:<8}  {title_of(read_page(name))}")
    return 0


def _show(page: str) -> None:
    """Set for a terminal; as it was written for a file or another program. Pictures are told in words."""
    teller = Teller()
    words = _REMARK.sub("", _PICTURE.sub(r"(\1)", page))
    if not teller.terminal:
        print(words)
        return
    from rich.console import Console
    from rich.markdown import Markdown
    from rich.theme import Theme

    # No grounds of our own: they would be black bars on a light terminal.
    plain = Theme({"markdown.code": "bold cyan", "markdown.h2": "bold underline"})
    Console(width=teller.width, theme=plain).print(Markdown(words, code_theme="ansi_dark", hyperlinks=False))
