"""A recipe packed for another machine: what is compiled of the parcel is what is compiled of the folder."""

from __future__ import annotations

import os
import pickle
import shutil
from pathlib import Path

import pytest
from PIL import Image

from foldwright.outputs.compiling import MadeRecipe, compile_recipe
from foldwright.outputs.model import Before, BuildWish
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.parcel import Lacking, Parcel, compile_parcel, pack, with_more
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.wishes import wish_of
from workbench.command_line import GOOD

RECIPES = Path(__file__).parents[2] / "recipes"


def wished(**options: str) -> BuildWish:
    wish = wish_of(BuildOptions(only="tutorial,sheet,pieces", **options))
    assert isinstance(wish, BuildWish)
    return wish


def source_of(folder: Path) -> Source:
    return Source(folder, "recipe.md", folder.name, folder.parent)


def packed(source: Source, wish: BuildWish) -> Parcel:
    return pack(read_texts(source), wish, "", Before(), source.surroundings, os.listdir(source.folder))


def sent(parcel: Parcel) -> Parcel:
    """The parcel as it comes out at the other end."""
    return pickle.loads(pickle.dumps(parcel))


def compiled_elsewhere(source: Source, wish: BuildWish) -> tuple[MadeRecipe, list[Lacking]]:
    parcel, lacked = packed(source, wish), []
    while isinstance(made := compile_parcel(sent(parcel)), Lacking):
        lacked.append(made)
        parcel = with_more(parcel, made, source.surroundings)
    return made, lacked


def compiled_here(source: Source, wish: BuildWish) -> MadeRecipe:
    return compile_recipe(read_texts(source), wish, source.surroundings, source.size)


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """A folder of recipes: one with an outline, one with a photograph, one that asks for a file that is not there."""
    shutil.copytree(RECIPES / "birdhouse", tmp_path / "recipes/birdhouse")
    shutil.copy(RECIPES / "studio.yaml", tmp_path / "recipes")
    for name, more in {"seen": "photo: deep/finished.jpg\n", "unseen": "photo: gone.jpg\n"}.items():
        folder = tmp_path / "recipes" / name
        folder.mkdir()
        (folder / "recipe.md").write_text(GOOD.replace("---\n", f"---\n{more}", 1))
    (tmp_path / "recipes/seen/deep").mkdir()
    Image.new("RGB", (90, 60), (30, 90, 60)).save(tmp_path / "recipes/seen/deep/finished.jpg")
    return tmp_path / "recipes"


@pytest.mark.parametrize("name", ["birdhouse", "seen", "unseen"])
def test_the_same_comes_of_a_parcel(studio: Path, name: str) -> None:
    source, wish = source_of(studio / name), wished()
    made, lacked = compiled_elsewhere(source, wish)
    assert made == compiled_here(source, wish)
    # What lies in the recipe's own folder goes along at once; a file deeper down, or none at all, is asked for.
    assert bool(lacked) == (name != "birdhouse")


def test_the_outline_counts(studio: Path) -> None:
    """That nothing was lost would not show if the outline did not matter."""
    source, wish = source_of(studio / "birdhouse"), wished()
    parcel = packed(source, wish)
    assert "birdhouse.svg" in parcel.files
    without = {**parcel.files, "birdhouse.svg": b"<svg/>"}
    assert compile_parcel(Parcel(parcel.texts, parcel.wish, files=without)) != compiled_here(source, wish)


def test_a_look_of_ones_own_goes_along(studio: Path) -> None:
    look = studio / "plain"
    look.mkdir()
    (look / "page.css").write_text("body { letter-spacing: .031em }")
    (studio / "studio.yaml").write_text("studio: Harbour Street Paper Studio\ntheme: plain\n")
    source = source_of(studio / "seen")
    named, called = wished(), wished(theme=str(look))
    for wish in (named, called):
        made, _ = compiled_elsewhere(source, wish)
        here = compiled_here(source, wish)
        assert b"letter-spacing: .031em" in here.files["tutorial.html"]
        assert made == here
    # Another look under the same name is another look, also where the first was laid before.
    (look / "page.css").write_text("body { letter-spacing: .032em }")
    made, _ = compiled_elsewhere(source, named)
    assert b"letter-spacing: .032em" in made.files["tutorial.html"]


def test_a_look_that_is_missing_is_missing_elsewhere_too(studio: Path) -> None:
    (studio / "studio.yaml").write_text("studio: Harbour Street Paper Studio\ntheme: nowhere\n")
    source, wish = source_of(studio / "seen"), wished()
    made, _ = compiled_elsewhere(source, wish)
    assert "no-such-theme" in [finding.code for finding in made.findings]
    assert made == compiled_here(source, wish)


def test_a_file_that_is_too_large_is_so_elsewhere(studio: Path) -> None:
    """An outline may have less than a parcel may hold: the limit is that of who reads."""
    (studio / "birdhouse/birdhouse.svg").write_bytes(b" " * 9_000_000)
    source, wish = source_of(studio / "birdhouse"), wished()
    made, _ = compiled_elsewhere(source, wish)
    assert made.findings
    assert made == compiled_here(source, wish)
