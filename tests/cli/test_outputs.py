"""What a build makes of one recipe, with a world made up in memory."""

from __future__ import annotations

import io
import json
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PIL import Image

from foldwright.measure.length import System
from foldwright.outputs.compiling import make
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import Texts
from foldwright.outputs.wishes import BuildWish
from foldwright.surroundings import Refusal, Surroundings
from workbench.command_line import GOOD, MISFIT

SOURCE = Source(Path("nowhere/card"), "recipe.md", "card", Path("nowhere"))
ALL = BuildWish(("tutorial", "fragment", "sheet"), tuple(System))
WITH_PHOTO = GOOD.replace(
    "time: 1 min\n", "time: 1 min\nphoto: fold.png\nphoto shows: The card, folded, standing on a table\n"
)


@dataclass(frozen=True)
class InMemory:
    """Surroundings that exist nowhere: files by name, and a note of what was asked for."""

    files: dict[str, bytes | Refusal] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        self.asked.append(path)
        data = self.files.get(path, Refusal.MISSING)
        return Refusal.TOO_LARGE if isinstance(data, bytes) and len(data) > at_most else data


def texts(text: str | None) -> Texts:
    return Texts(text, None, (), {SOURCE.name: text or ""}, {})


def a_picture() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (20, 120, 60)).save(out, "PNG")
    return out.getvalue()


def codes(text: str, world: Surroundings) -> list[str]:
    return [finding.code for finding in make(SOURCE, texts(text), ALL, world).findings]


def test_the_only_files_asked_for_are_the_photographs_the_recipe_names() -> None:
    world = InMemory({"fold.png": a_picture()})
    made = make(SOURCE, texts(WITH_PHOTO), ALL, world)
    assert made.findings == ()
    assert set(world.asked) == {"fold.png"}
    assert b"data:image/png;base64," in made.files["tutorial.html"]
    assert b"The card, folded, standing on a table" in made.files["tutorial.html"]


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (Refusal.MISSING, "photo-missing"),
        (Refusal.OUTSIDE, "photo-outside"),
        (Refusal.NOT_A_FILE, "photo-not-a-file"),
        (Refusal.UNREADABLE, "photo-unreadable"),
        (Refusal.TOO_LARGE, "photo-too-large"),
        (b"no picture", "photo-unreadable"),
    ],
)
def test_a_photograph_that_cannot_be_shown_is_told_and_the_page_still_made(data: bytes | Refusal, code: str) -> None:
    assert codes(WITH_PHOTO, InMemory({"fold.png": data})) == [code]


def test_only_what_is_wished_for_is_made() -> None:
    for name, file in (("tutorial", "tutorial.html"), ("sheet", "sheet.json")):
        made = make(SOURCE, texts(GOOD), BuildWish((name,), tuple(System)), InMemory())
        assert set(made.files) == {file}


def test_a_misfit_is_said_on_a_draft() -> None:
    made = make(SOURCE, texts(MISFIT), ALL, InMemory())
    assert json.loads(made.files["sheet.json"])["draft"] is True
    assert not made.faulty


def test_a_fault_leaves_out_what_would_be_handed_on() -> None:
    made = make(SOURCE, texts(GOOD.replace("size: 8 x 5 in", "size: very large")), ALL, InMemory())
    assert made.faulty
    assert set(made.files) == {"tutorial.html", "sheet.json"}


def test_nothing_is_made_of_nothing() -> None:
    assert make(SOURCE, texts(None), ALL, InMemory()).files == {}


def test_an_unknown_theme_of_the_studio_is_told_where_it_is_said() -> None:
    text = GOOD.replace("level: easy", "level: easy\ntheme: gothic")
    made = make(SOURCE, texts(text), ALL, InMemory())
    (finding,) = made.findings
    assert finding.code == "no-such-theme"
    assert finding.place is not None
    assert text[finding.place.start : finding.place.end] == "gothic"
    assert "tutorial.html" in made.files
