"""Every recipe there is as it is understood, once for all tests of this room. Not a test."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from foldwright.document.model import Document
from foldwright.pipeline import Understood, check_recipe, compose_document
from foldwright.recipe.facts.studio import read_studio
from workbench.compiled import RECIPES

CASES = Path(__file__).parents[1] / "cases"
TEXTS = (*sorted(RECIPES.glob("*/recipe.md")), *sorted(CASES.glob("**/recipe.md")))
NAMES = [path.parent.name for path in TEXTS]


@cache
def understood(path: Path) -> tuple[str, Understood, Document]:
    """Its text, what follows from it, and the document of it."""
    text = path.read_text(encoding="utf-8")
    studio, _ = read_studio((RECIPES / "studio.yaml").read_text(encoding="utf-8"), "studio.yaml")

    def read(name: str, _most: int) -> bytes | None:
        file = path.parent / name
        return file.read_bytes() if file.is_file() else None

    checked = check_recipe(text, "recipe.md", path.parent.name, studio, read=read)
    assert checked.understood is not None
    return text, checked.understood, compose_document(checked.understood, checked.findings, {"recipe.md": text})
