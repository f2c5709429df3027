"""Every page, fragment and picture through the Nu HTML checker (npm vnu-jar, by the WHATWG's and W3C's rules): all at
once, as it takes longer to begin than to read ten pages."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from workbench.browser_checks import complaints, told
from workbench.demo_pages import THEMES
from workbench.long import every

SHELL = (
    '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>A blog</title></head>'
    "<body><h1>A blog</h1>{}</body></html>"
)
LIBRARY = ("index.html", "tags/index.html", "tags/favours/index.html", "404.html", "levels/easy/index.html")


@pytest.fixture(scope="module")
def checked(
    tmp_path_factory: pytest.TempPathFactory,
    built: Path,
    libraries: Path,
    drawn: Path,
    library: Path,
    event: Path,
    proposals: Path,
) -> Mapping[str, Sequence[Path]]:
    """By what they are, all files that are read."""
    home = tmp_path_factory.mktemp("checked")
    return {
        "wrong": _wrong(home),
        "tutorials": sorted(built.glob("*/*/tutorial.html")),
        "fragments": _wrapped(built, home),
        "drawings": _drawings(built, home),
        "in a library": [
            *(libraries / theme / "birdhouse" / "tutorial.html" for theme in THEMES),
            *(drawn / theme / "layered-card" / "tutorial.html" for theme in THEMES),
            *sorted((drawn / "harbour" / "layered-card").glob("*/*.svg")),
        ],
        "library": [library / "harbour" / path for path in LIBRARY],
        "event": [event],
        "proposals": [proposals / f"{theme}.html" for theme in THEMES],
    }


@pytest.fixture(scope="module")
def found(checked: Mapping[str, Sequence[Path]]) -> Mapping[Path, str]:
    """What the checker says of each file that it says anything of."""
    files = [file for kind in checked.values() for file in kind]
    assert all(file.is_file() for file in files)
    said = complaints(*files)
    of = {file: [one for one in said if Path(unquote(urlsplit(one["url"]).path)) == file] for file in files}
    assert sum(map(len, of.values())) == len(said), told(said)
    return {file: told(messages) for file, messages in of.items() if messages}


def _wrong(home: Path) -> list[Path]:
    page, picture = home / "page.html", home / "picture.svg"
    page.write_text(SHELL.format("<p><div></p><img src='a.png'>"), encoding="utf-8")
    picture.write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1"><circel/></svg>', encoding="utf-8")
    return [page, picture]


def _wrapped(built: Path, home: Path) -> list[Path]:
    """Each fragment inside a page."""
    pages = []
    for fragment in sorted(built.glob("*/*/fragment.html")):
        page = home / f"{fragment.parent.name}.html"
        page.write_text(SHELL.format(fragment.read_text(encoding="utf-8")), encoding="utf-8")
        pages.append(page)
    return pages


def _drawings(built: Path, home: Path) -> list[Path]:
    """Each drawing by itself."""
    drawings = []
    for page in every(sorted(built.glob("harbour/*/tutorial.html")), 2):
        for number, svg in enumerate(re.findall(r"<svg\b.*?</svg>", page.read_text(encoding="utf-8"), re.DOTALL)):
            if "xmlns=" not in svg[: svg.index(">")]:
                # Inside a page a drawing needs no namespace; by itself it does.
                svg = svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
            file = home / f"{page.parent.name}-{number}.svg"
            file.write_text(svg, encoding="utf-8")
            drawings.append(file)
    return drawings


def test_the_checker_finds_what_is_wrong(checked: Mapping[str, Sequence[Path]], found: Mapping[Path, str]) -> None:
    assert all(file in found for file in checked["wrong"])


@pytest.mark.parametrize(
    ("kind", "least"),
    {
        "tutorials": 3 * 5,
        "fragments": 6,
        "drawings": 7,
        "in a library": 7,
        "library": 5,
        "event": 1,
        "proposals": 3,
    }.items(),
)
def test_every_page_and_picture_is_valid(
    checked: Mapping[str, Sequence[Path]], found: Mapping[Path, str], kind: str, least: int
) -> None:
    files = checked[kind]
    assert len(files) >= least
    assert [found[file] for file in files if file in found] == []
