"""A recipe's folder to work on, and what is asked of it again and again."""

from __future__ import annotations

from pathlib import Path

from foldwright.desk.keeping.on_disk import Opened, RecipeOnDisk
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.outputs.texts import RECIPE

OLD, NEW = "---\ntitle: Heart box\n---\n\n## Cut\nCut it.\n", "---\ntitle: Star box\n---\n\n## Cut\nCut it out.\n"


def made(folder: Path, text: str = OLD) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / RECIPE).write_bytes(text.encode())
    return folder


def opened(folder: Path) -> tuple[RecipeOnDisk, Opened]:
    recipe = RecipeOnDisk(folder, folder.parent)
    answer = recipe.open()
    assert isinstance(answer, Opened), answer
    return recipe, answer


def told(wrong: object) -> str:
    """What is wrong, in words that a test may ask for; every fact has its slot (a missing one is an error)."""
    assert isinstance(wrong, Wrong), wrong
    return catalogue().say(wrong.message, **dict(wrong.facts))


def text_in(folder: Path) -> str:
    return (folder / RECIPE).read_text(encoding="utf-8")
