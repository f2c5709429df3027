"""From a recipe's folder to its text and its studio's: read inside their folders, decoded, and what went wrong."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.outputs.sources import STUDIO, Source
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.model import Studio
from foldwright.surroundings import Folder, Refusal, lies_in


class Texts(Struct, frozen=True):
    """What was read of a recipe: its text (None when it could not be), its studio, and the texts findings speak of."""

    text: str | None
    studio: Studio | None
    findings: tuple[Finding, ...]
    by_name: dict[str, str]
    shown: dict[str, str]


def read_texts(source: Source) -> Texts:
    """Read a recipe's text and its studio file; what cannot be read is a finding, never an exception."""
    text, findings = _read(source.folder, source.text, source.name, source.within)
    by_name = {} if text is None else {source.name: text}
    shown = {source.name: source.shown}
    studio_file = source.studio
    studio, studio_text, more = read_studio_file(studio_file)
    if studio_file is not None:
        shown[STUDIO] = os.path.relpath(studio_file)
    if studio_text is not None:
        by_name[STUDIO] = studio_text
    return Texts(text, studio, findings + more, by_name, shown)


@cache
def read_studio_file(path: Path | None) -> tuple[Studio | None, str | None, tuple[Finding, ...]]:
    """A studio file read, its text, and what is the matter with it. Read once, however many recipes share it."""
    if path is None:
        return None, None, ()
    text, findings = _read(path.parent, STUDIO, STUDIO, path.parent)
    if text is None:
        return None, None, findings
    studio, more = read_studio(text, STUDIO)
    return studio, text, findings + more


def _read(folder: Path, file: str, name: str, within: Path) -> tuple[str | None, tuple[Finding, ...]]:
    """Read a file that must lie in its own folder and, links followed, in the folder the caller named."""
    inside = folder == within or lies_in(folder, within)
    data = Folder(folder).read(file, MOST_BYTES) if inside else Refusal.OUTSIDE
    if isinstance(data, Refusal):
        code = "file-" + data.name.lower().replace("_", "-")
        return None, (Finding.of(code, Strength.FAULT, Place(name, 0, 0), file=name, limit=MOST_BYTES // 1024 // 1024),)
    return decode(data, name)
