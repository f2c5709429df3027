"""What a build makes of one recipe, with a world made up in memory."""

from __future__ import annotations

import io
import json
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PIL import Image

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.length import System
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.model import BuildWish
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.texts import Texts, texts_of
from foldwright.outputs.wishes import wish_of
from foldwright.surroundings import Refusal, Surroundings
from workbench.command_line import GOOD, MISFIT, TOP, contents, foldwright
from workbench.long import LONG, every

ALL = BuildWish(("tutorial", "fragment", "sheet"), tuple(System))
WITH_PHOTO = GOOD.replace(
    "time: 1 min\n", "time: 1 min\nphoto: fold.png\nphoto shows: The card, folded, standing on a table\n"
)


@dataclass(frozen=True)
class InMemory:
    """Surroundings that exist nowhere: files by name, and a note of what was asked for."""

    files: dict[str, bytes | Refusal] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)

    def theme(self, name: str) -> str | None:
        return None

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        self.asked.append(path)
        data = self.files.get(path, Refusal.MISSING)
        return Refusal.TOO_LARGE if isinstance(data, bytes) and len(data) > at_most else data


def texts(text: str) -> Texts:
    return texts_of("card", text)


def a_picture() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (20, 120, 60)).save(out, "PNG")
    return out.getvalue()


def codes(text: str, world: Surroundings) -> list[str]:
    return [finding.code for finding in compile_recipe(texts(text), ALL, world).findings]


def test_the_only_files_asked_for_are_the_photographs_the_recipe_names() -> None:
    world = InMemory({"fold.png": a_picture()})
    made = compile_recipe(texts(WITH_PHOTO), ALL, world)
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
        made = compile_recipe(texts(GOOD), BuildWish((name,), tuple(System)), InMemory())
        assert set(made.files) == {file}


def test_a_misfit_is_said_on_a_draft() -> None:
    made = compile_recipe(texts(MISFIT), ALL, InMemory())
    assert json.loads(made.files["sheet.json"])["draft"] is True
    assert not made.faulty


def test_a_fault_leaves_out_what_would_be_handed_on() -> None:
    made = compile_recipe(texts(GOOD.replace("size: 8 x 5 in", "size: very large")), ALL, InMemory())
    assert made.faulty
    assert set(made.files) == {"tutorial.html", "sheet.json"}


def test_nothing_is_made_of_nothing() -> None:
    """A text that could not be read is told, and that is all."""
    unread = Finding.of("file-missing", Strength.FAULT, Place("card/recipe.md", 0, 0), file="recipe.md")
    made = compile_recipe(Texts("card", "card/recipe.md", None, findings=(unread,)), ALL, InMemory())
    assert (made.files, made.findings) == ({}, (unread,))


def test_an_unknown_theme_of_the_studio_is_told_where_it_is_said() -> None:
    text = GOOD.replace("level: easy", "level: easy\ntheme: gothic")
    made = compile_recipe(texts(text), ALL, InMemory())
    (finding,) = made.findings
    assert finding.code == "no-such-theme"
    assert finding.place is not None
    assert text[finding.place.start : finding.place.end] == "gothic"
    assert "tutorial.html" in made.files


def test_texts_in_memory_become_the_same_bytes_as_the_command_line_writes(tmp_path: Path) -> None:
    """A demo recipe with sizes and its studio, every output, in a world without folders.

    A usual run makes one size in one system of units.
    """
    sizes, units = every(("large", "as written"), 2), "imperial,metric" if LONG else "imperial"
    recipe = TOP / "recipes" / "drawer-box"
    text, studio = (
        (file).read_text(encoding="utf-8") for file in (recipe / "recipe.md", TOP / "recipes" / "studio.yaml")
    )
    files = {file.name: file.read_bytes() for file in recipe.iterdir()}
    done = foldwright("build", str(recipe), "--out", "out", "--size", ",".join(sizes), "--units", units, cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    wish = wish_of(BuildOptions(units=units))
    assert isinstance(wish, BuildWish)
    for size in sizes:
        large = size == "large"
        folder = "drawer-box-large" if large else "drawer-box"
        made = compile_recipe(texts_of(folder, text, studio), wish, InMemory(files), size if large else "")
        written = contents(tmp_path / "out" / folder)
        assert {name: written.get(name) for name in made.files} == made.files
        assert set(written) - set(made.files) == {".made-by-foldwright"}


SHARE = BuildWish(("share",), (System.METRIC,))


def test_pictures_for_sharing_come_with_their_words() -> None:
    made = compile_recipe(texts(GOOD), SHARE, InMemory())
    assert set(made.files) == {"share-1200x630.jpg", "share-1000x1500.jpg", "share-1080x1080.jpg", "share.txt"}
    assert made.files["share.txt"].decode("utf-8").startswith("Practice card\n\n")


def test_a_title_in_letters_that_pictures_lack_is_told_and_makes_none() -> None:
    """Right to left, which is set by no rule of ours: rather no picture than one with gaps or backwards."""
    made = compile_recipe(texts(GOOD.replace("Practice card", "כרטיס")), SHARE, InMemory())
    assert made.files == {}
    (told,) = [finding for finding in made.findings if finding.strength is Strength.MISFIT]
    assert told.code == "letter-missing" and dict(told.facts)["count"] == 5
    assert told.place and (told.place.file, told.place.start) == ("card/recipe.md", len("---\ntitle: "))
