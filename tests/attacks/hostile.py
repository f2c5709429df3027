"""A recipe whose every free text is somebody else's, and what its outputs may and may not hold. Not a test."""

from __future__ import annotations

import json
import re
import tomllib
from collections import Counter
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
from lxml import etree

from foldwright.outputs.compiling import MadeRecipe, compile_recipe
from foldwright.outputs.model import BuildWish
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.wishes import wish_of

STRINGS: dict[str, list[str]] = tomllib.loads(Path(__file__).with_name("strings.toml").read_text(encoding="utf-8"))
WORDS = [text for kind, texts in STRINGS.items() if kind != "control" for text in texts]

STUDIO = "studio: {0}\nauthor: {1}\nlicence: {2}\naddress: {3}\nmoney: EUR\n"
RECIPE = """\
---
title: {4}
summary: {5}
credit: {6}
makes: 1 {7}
level: {8}
measured in: millimetres
photo: {9}
photo shows: {10}
video: {11}
supplies:
  white card: cardstock, sheet A4
  {12}: {13}, use 2, colour {14} or blue, pack 5 at 2.00
  {15}:
    kind: sweet
    size: 10 x 10 x 5 mm
    contains: {16}
    note: {17}
tools:
  - scissors
  - {18}
pieces:
  box:
    from: white card
    size: 100 x 130 mm
    across: 20 {19} | 60 floor | 20 right wall
    down: 20 back | 90 floor | 20 front
    flaps: joined to front and back
    fold: tray
  {20}:
    from: white card
    size: 20 x 30 mm
    outline: {21}
---

{22}

## {23}

do: cut box
time: 2 min
tip: {24}
caution: {25}
photo: {26}
photo shows: {27}
short: {28}

{29} {30}

- {31}

## Tips

{32}
"""
PLACES = 33
CALM = [f"plain words {number}" for number in range(PLACES)]
"""Nothing but words in every place."""

_HARMLESS = re.compile(r"(?:https?://|mailto:|#|data:image/(?:png|jpeg);base64,|[\w.-]+$)", re.IGNORECASE)
_FETCHING = ("href", "src", "action", "formaction", "data", "poster", "srcset", "xlink:href", "ping", "background")
_NEVER = {
    "iframe",
    "object",
    "embed",
    "base",
    "link",
    "form",
    "frame",
    "frameset",
    "applet",
    "plaintext",
    "foreignobject",
}
_NAME = re.compile(r"\w[\w.-]{0,120}\w", re.ASCII)


def compiled(folder: Path, said: list[str], outputs: str = "tutorial,sheet,pieces") -> MadeRecipe:
    """The outputs of the recipe with these words in its places, in a folder of its own."""
    home = folder / "box"
    home.mkdir(parents=True, exist_ok=True)
    (home / "recipe.md").write_text(RECIPE.format(*said), encoding="utf-8", newline="")
    (home / "studio.yaml").write_text(STUDIO.format(*said), encoding="utf-8", newline="")
    source = Source(home, "recipe.md", "box", home)
    wish = wish_of(BuildOptions(only=outputs))
    assert isinstance(wish, BuildWish)
    return compile_recipe(read_texts(source), wish, source.surroundings)


def scripts(html: str) -> Counter[str]:
    """What runs on a page, each with how often it stands there."""
    found = (one for one in _elements(html) if one.tag == "script" and one.get("type") != "application/ld+json")
    return Counter("".join(one.itertext()) for one in found)


def styles(html: str) -> Counter[str]:
    return Counter("".join(one.itertext()) for one in _elements(html) if one.tag == "style")


def _elements(html: str) -> list[Element]:
    """As a browser reads it (HTML, 13.2)."""
    return [one for one in html5lib.parse(html, namespaceHTMLElements=False).iter() if isinstance(one.tag, str)]


def assert_harmless(made: MadeRecipe, calm: MadeRecipe) -> None:
    """Well formed, nothing in it that runs, fetches or moves, and files only of names that are names."""
    for name, data in made.files.items():
        assert _NAME.fullmatch(name), name
        assert b"54444439" not in data and b"<class '" not in data, f"{name}: something was worked out"
        match Path(name).suffix:
            case ".html":
                _check_page(name, data.decode(), calm.files[name].decode())
            case ".json" | ".fold":
                json.loads(data)
            case ".svg":
                for one in etree.fromstring(data).iter(etree.Element):
                    _check_element(name, etree.QName(one).localname.lower(), dict(one.attrib))
            case ".dxf":
                codes = data.decode().split("\n")[0:-1:2]
                assert all(code.strip().lstrip("-").isdecimal() for code in codes), name


def _check_page(name: str, html: str, calm: str) -> None:
    assert scripts(html) == scripts(calm), name
    assert styles(html) == styles(calm), name
    for one in _elements(html):
        tag = one.tag.rpartition("}")[2].lower()
        _check_element(name, tag, {key.rpartition("}")[2]: value for key, value in one.attrib.items()})
        if tag == "script" and one.get("type") == "application/ld+json":
            json.loads("".join(one.itertext()))


def _check_element(name: str, tag: str, attributes: dict[str, str]) -> None:
    assert tag not in _NEVER, (name, tag)
    assert not (tag == "meta" and "http-equiv" in attributes and "refresh" in attributes["http-equiv"]), name
    for key, value in attributes.items():
        plain = key.rpartition("}")[2].lower()
        assert not plain.startswith("on"), (name, tag, key)
        if plain in _FETCHING:
            assert _HARMLESS.match(value.strip()), (name, tag, key, value[:80])
        if plain == "style":
            assert "url(" not in value and "expression" not in value, (name, tag, value)
