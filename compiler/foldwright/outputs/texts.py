"""The texts a recipe is compiled from: its own and its studio's, as they are held in memory or read from its folder."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.outputs.sources import RECIPE, STUDIO, Source
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.model import Studio
from foldwright.surroundings import Folder, Refusal, lies_in


class Texts(Struct, frozen=True):
    """A recipe's text (None when it could not be read), its studio, and the texts that findings speak of, by name.

    `slug` is the recipe's name in addresses and names of files, `name` what findings call its text; `findings` are of
    what could not be read, and of the studio. `shown` has the names under which a person knows files.
    """

    slug: str
    name: str
    text: str | None
    studio: Studio | None = None
    findings: tuple[Finding, ...] = ()
    by_name: Mapping[str, str] = field(default_factory=dict)
    shown: Mapping[str, str] = field(default_factory=dict)


def texts_of(slug: str, text: str, studio: str | None = None, name: str = "") -> Texts:
    """The texts of a recipe that are held in memory; `name` is what findings call the recipe's."""
    name = name or f"{slug}/{RECIPE}"
    texts = Texts(slug, name, text, by_name={name: text})
    return texts if studio is None else _with_studio(texts, studio)


def read_texts(source: Source) -> Texts:
    """Read a recipe's text and its studio file; what cannot be read is a finding, never an exception."""
    text, findings = _read(source.folder, source.text, source.name, source.within)
    by_name = {} if text is None else {source.name: text}
    texts = Texts(source.slug, source.name, text, None, findings, by_name, {source.name: source.shown})
    file = source.studio
    if file is None:
        return texts
    studio, more = _read(file.parent, STUDIO, STUDIO, file.parent)
    texts = replace(texts, findings=findings + more, shown={**texts.shown, STUDIO: os.path.relpath(file)})
    return texts if studio is None else _with_studio(texts, studio)


def read_studio_file(path: Path | None) -> Studio | None:
    """The studio a file describes; None when there is no file, or none that can be read."""
    text = None if path is None else _read(path.parent, STUDIO, STUDIO, path.parent)[0]
    return None if text is None else _studio_of(text)[0]


def _with_studio(texts: Texts, text: str) -> Texts:
    studio, findings = _studio_of(text)
    return replace(texts, studio=studio, findings=texts.findings + findings, by_name={**texts.by_name, STUDIO: text})


@lru_cache(maxsize=8)
def _studio_of(text: str) -> tuple[Studio, tuple[Finding, ...]]:
    """A studio's text is understood once, however many recipes share it."""
    return read_studio(text, STUDIO)


def _read(folder: Path, file: str, name: str, within: Path) -> tuple[str | None, tuple[Finding, ...]]:
    """Read a file that must lie in its own folder and, links followed, in the folder the caller named."""
    inside = folder == within or lies_in(folder, within)
    data = Folder(folder).read(file, MOST_BYTES) if inside else Refusal.OUTSIDE
    if isinstance(data, Refusal):
        code = "file-" + data.name.lower().replace("_", "-")
        return None, (Finding.of(code, Strength.FAULT, Place(name, 0, 0), file=name, limit=MOST_BYTES // 1024 // 1024),)
    return decode(data, name)
