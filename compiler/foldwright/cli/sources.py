"""From the paths of a call to the recipes they mean, and from a recipe's folder to its text and its studio's."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from foldwright.finding import Finding, Place, Strength
from foldwright.recipe.model import Studio
from foldwright.recipe.source import decode
from foldwright.recipe.studio import read_studio
from foldwright.surroundings import Folder, Refusal

RECIPE = "recipe.md"
STUDIO = "studio.yaml"
MOST_BYTES = 1024 * 1024
"""A recipe of 1 MiB would print as several hundred pages."""


@dataclass(frozen=True, slots=True)
class Source:
    """One recipe: its folder, the name of its text there, the folder of output it goes to, its studio file.

    `within` is the folder the caller named: nothing a link leads to outside it is read.
    """

    folder: Path
    text: str
    slug: str
    within: Path

    @property
    def name(self) -> str:
        """What findings call the text: the same wherever the program is started."""
        return f"{self.slug}/{self.text}"

    @property
    def shown(self) -> str:
        """What a person is told the text is called: the path as it was typed."""
        return str(self.folder / self.text)

    @property
    def studio(self) -> Path | None:
        """The studio file in the recipe's folder or, as is usual, beside it."""
        for folder in (self.folder, self.folder.absolute().parent):
            if os.path.lexists(folder / STUDIO):
                return folder / STUDIO
        return None


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is the matter with a call: the name of a message and what goes into it."""

    message: str
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, message: str, **facts: object) -> Wrong:
        return cls(message, tuple(facts.items()))


def find_sources(paths: Iterable[Path]) -> tuple[tuple[Source, ...], tuple[Wrong, ...]]:
    """The recipes that `paths` mean (a recipe, its folder, or a folder of recipes), each once, in order."""
    found: dict[str, Source] = {}
    wrong: list[Wrong] = []
    for path in paths:
        answer = _sources_at(path)
        if isinstance(answer, Wrong):
            wrong.append(answer)
            continue
        for source in answer:
            found.setdefault(os.path.abspath(source.shown), source)
    return tuple(found.values()), tuple(wrong)


def _sources_at(path: Path) -> tuple[Source, ...] | Wrong:
    if not os.path.exists(path):
        return Wrong.of("path-missing", path=str(path))
    if path.is_file():
        folder = path.parent
        named = path.name == RECIPE and folder.absolute().name
        return (Source(folder, path.name, slug_of(folder.absolute().name if named else path.stem), folder),)
    if not path.is_dir():
        return Wrong.of("path-odd", path=str(path))
    if os.path.lexists(path / RECIPE):
        return (Source(path, RECIPE, slug_of(path.absolute().name), path),)
    try:
        children = sorted(child for child in path.iterdir() if not child.name.startswith("."))
    except OSError:
        return Wrong.of("path-closed", path=str(path))
    inside = [child for child in children if os.path.lexists(child / RECIPE)]
    if not inside:
        return Wrong.of("no-recipe-there", path=str(path), name=RECIPE)
    return tuple(Source(child, RECIPE, slug_of(child.name), path) for child in inside)


def slug_of(name: str) -> str:
    """A folder's name made fit for an address: small letters and figures, hyphens between."""
    words = re.findall(r"\w+", unicodedata.normalize("NFC", name).lower())
    return "-".join(words) or "recipe"


def twice(sources: Iterable[Source]) -> Iterator[Wrong]:
    """Recipes that would be written to the same folder."""
    by_slug: dict[str, Source] = {}
    for source in sources:
        first = by_slug.setdefault(source.slug, source)
        if first is not source:
            yield Wrong.of("same-output", one=first.shown, other=source.shown, slug=source.slug)


@dataclass(frozen=True, slots=True)
class Texts:
    """What was read of a recipe: its text (None when it could not be), its studio, and the texts findings speak of."""

    text: str | None
    studio: Studio | None
    findings: tuple[Finding, ...]
    by_name: dict[str, str]
    shown: dict[str, str]


def read_texts(source: Source) -> Texts:
    """Read a recipe's text and its studio file; what cannot be read is a finding, never an exception."""
    by_name: dict[str, str] = {}
    shown = {source.name: source.shown}
    text, findings = _read(source.folder, source.text, source.name, source.within)
    if text is not None:
        by_name[source.name] = text
    studio = None
    if (path := source.studio) is not None:
        shown[STUDIO] = os.path.relpath(path)
        studio_text, more = _read(path.parent, STUDIO, STUDIO, path.parent)
        findings += more
        if studio_text is not None:
            by_name[STUDIO] = studio_text
            studio, more = read_studio(studio_text, STUDIO)
            findings += more
    return Texts(text, studio, findings, by_name, shown)


def _read(folder: Path, file: str, name: str, within: Path) -> tuple[str | None, tuple[Finding, ...]]:
    """Read a file that must lie in its own folder and, links followed, in the folder the caller named."""
    data: bytes | Refusal = Refusal.MISSING
    for root in dict.fromkeys((within, folder)):
        data = Folder(root).read(os.path.relpath(folder / file, root), MOST_BYTES)
        if isinstance(data, Refusal):
            break
    if isinstance(data, Refusal):
        code = "file-" + data.name.lower().replace("_", "-")
        return None, (Finding.of(code, Strength.FAULT, Place(name, 0, 0), file=name, limit=MOST_BYTES // 1024 // 1024),)
    return decode(data, name)
