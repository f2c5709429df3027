"""Tutorials as they stand in a library, built without the command line. Not a test."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

from PIL import Image

from foldwright.measure.length import System
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.model import BuildWish
from foldwright.outputs.reading import in_sizes, read_texts
from foldwright.outputs.sources import find_sources
from foldwright.render.web.shared import shared_files
from workbench.compiled import RECIPES

_GPS, _ORIENTATION, _ON_ITS_SIDE = 0x8825, 0x0112, 6


def wish(theme: str, in_library: bool = True, outputs: tuple[str, ...] = ("tutorial",)) -> BuildWish:
    """A page in one look."""
    return BuildWish(outputs, (System.IMPERIAL, System.METRIC), theme, in_library=in_library)


def pages_of(folder: Path, asked: BuildWish) -> dict[str, dict[str, bytes]]:
    """By slug, the files of every recipe under a folder, in all its sizes."""
    sources, wrong = find_sources([folder])
    sources, unknown = in_sizes(sources, "")
    assert not wrong and not unknown
    return {one.slug: dict(compile_recipe(read_texts(one), asked, one.surroundings, one.size).files) for one in sources}


def library_in(folder: Path, recipes: Path, theme: str) -> Path:
    """Pages and what they share, on the disk as a build lays them."""
    files = dict(shared_files([theme]))
    for slug, made in pages_of(recipes, wish(theme)).items():
        files |= {f"{slug}/{name}": data for name, data in made.items()}
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return folder


def photographed(home: Path) -> Path:
    """The birdhouse with three photographs: one taken on its side, with a place in it; an upright one; a drawing on
    which something is to be seen through."""
    recipe = home / "birdhouse"
    shutil.copytree(RECIPES / "birdhouse", recipe)
    shutil.copy(RECIPES / "studio.yaml", home)
    (recipe / "finished.png").unlink()
    exif = Image.Exif()
    exif[_ORIENTATION] = _ON_ITS_SIDE
    exif[_GPS] = {1: "N", 2: (54.0, 10.0, 0.0)}
    _photograph(1000, 1500).save(recipe / "The Box.jpg", exif=exif, quality=90)
    _photograph(700, 1050).save(recipe / "score.jpg", quality=90)
    mark = Image.new("RGBA", (640, 480), (0, 0, 0, 0))
    mark.paste((11, 85, 99, 255), (160, 120, 480, 360))
    mark.save(recipe / "mark.png")
    text = (recipe / "recipe.md").read_text(encoding="utf-8").replace("photo: finished.png", "photo: The Box.jpg")
    for heading, photo in (("Cut and score the base", "score.jpg"), ("Punch the doors", "mark.png")):
        before = f"## {heading}\n\n```step\n"
        assert before in text
        text = text.replace(before, f"{before}photo: {photo}\nphoto shows: What it looks like\n")
    (recipe / "recipe.md").write_text(text, encoding="utf-8")
    return home


def _photograph(width: int, height: int) -> Image.Image:
    """Soft colours, as a camera sees them."""
    across = Image.linear_gradient("L").rotate(90).resize((width, height))
    down = Image.linear_gradient("L").resize((width, height))
    return Image.merge("RGB", (across, down, Image.radial_gradient("L").resize((width, height))))


def opened(data: bytes) -> Image.Image:
    """A picture as Pillow reads it, all of it."""
    image = Image.open(io.BytesIO(data))
    image.load()
    return image
