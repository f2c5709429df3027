"""Every page, fragment and picture through the Nu HTML checker (npm vnu-jar, by the WHATWG's and W3C's rules)."""

from __future__ import annotations

import re
from pathlib import Path

from workbench.browser_checks import complaints, told

SHELL = (
    '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>A blog</title></head>'
    "<body><h1>A blog</h1>{}</body></html>"
)


def test_the_checker_finds_what_is_wrong(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text(SHELL.format("<p><div></p><img src='a.png'>"), encoding="utf-8")
    picture = tmp_path / "picture.svg"
    picture.write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1"><circel/></svg>', encoding="utf-8")
    wrong = {Path(one["url"]).name for one in complaints(page, picture)}
    assert wrong == {"page.html", "picture.svg"}


def test_every_page_is_valid(built: Path) -> None:
    pages = sorted(built.glob("*/*/tutorial.html"))
    assert len(pages) >= 3 * 7
    found = complaints(*pages)
    assert not found, told(found)


def test_every_fragment_is_valid_inside_a_page(built: Path, tmp_path: Path) -> None:
    fragments = sorted(built.glob("*/*/fragment.html"))
    assert len(fragments) >= 6
    wrapped = []
    for number, fragment in enumerate(fragments):
        page = tmp_path / f"{number}-{fragment.parent.name}.html"
        page.write_text(SHELL.format(fragment.read_text(encoding="utf-8")), encoding="utf-8")
        wrapped.append(page)
    found = complaints(*wrapped)
    assert not found, told(found)


def test_every_drawing_is_valid_by_itself(built: Path, tmp_path: Path) -> None:
    drawings = []
    for page in sorted(built.glob("harbour/*/tutorial.html")):
        for number, svg in enumerate(re.findall(r"<svg\b.*?</svg>", page.read_text(encoding="utf-8"), re.DOTALL)):
            if "xmlns=" not in svg[: svg.index(">")]:
                # Inside a page a drawing needs no namespace; by itself it does.
                svg = svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
            file = tmp_path / f"{page.parent.name}-{number}.svg"
            file.write_text(svg, encoding="utf-8")
            drawings.append(file)
    assert len(drawings) > 6
    found = complaints(*drawings)
    assert not found, told(found)
