"""The texts a recipe is compiled from, its own and its studio's, held in memory."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.finding import Finding

if TYPE_CHECKING:
    from foldwright.recipe.model import Studio

RECIPE = "recipe.md"
DRAFT = "recipe.draft.md"
"""What was typed into a recipe and not yet kept; it lies beside it and is no recipe of its own."""
STUDIO = "studio.yaml"
"""Findings call the studio's file so wherever it lies."""


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
    return texts if studio is None else with_studio(texts, studio)


def with_studio(texts: Texts, text: str) -> Texts:
    """The texts together with that of the studio."""
    studio, findings = studio_of(text)
    return replace(texts, studio=studio, findings=texts.findings + findings, by_name={**texts.by_name, STUDIO: text})


@lru_cache(maxsize=8)
def studio_of(text: str) -> tuple[Studio, tuple[Finding, ...]]:
    """The studio a text describes, and what is the matter with it. Understood once, however many recipes share it."""
    from foldwright.recipe.facts.studio import read_studio

    studio, findings = read_studio(text, STUDIO)
    if not findings:
        return studio, ()
    from foldwright.mending.mends import with_mends

    return studio, tuple(with_mends(findings, {STUDIO: text}))
