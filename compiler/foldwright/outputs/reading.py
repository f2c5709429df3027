"""From a recipe's folder to its texts: read inside their folders, decoded, and what went wrong."""

from __future__ import annotations

import os
from pathlib import Path

from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO, Texts, studio_of, with_studio
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.recipe.model import Studio
from foldwright.surroundings import Folder, Refusal, lies_in


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
    return texts if studio is None else with_studio(texts, studio)


def read_studio_file(path: Path | None) -> Studio | None:
    """The studio a file describes; None when there is no file, or none that can be read."""
    text = None if path is None else _read(path.parent, STUDIO, STUDIO, path.parent)[0]
    return None if text is None else studio_of(text)[0]


def _read(folder: Path, file: str, name: str, within: Path) -> tuple[str | None, tuple[Finding, ...]]:
    """Read a file that must lie in its own folder and, links followed, in the folder the caller named."""
    inside = folder == within or lies_in(folder, within)
    data = Folder(folder).read(file, MOST_BYTES) if inside else Refusal.OUTSIDE
    if isinstance(data, Refusal):
        code = "file-" + data.name.lower().replace("_", "-")
        return None, (Finding.of(code, Strength.FAULT, Place(name, 0, 0), file=name, limit=MOST_BYTES // 1024 // 1024),)
    return decode(data, name)
