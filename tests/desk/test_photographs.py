"""A photograph sent in: whatever the file is, what lies beside the recipe afterwards can be shown, or nothing does."""

from __future__ import annotations

import io
import random
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from foldwright.desk.keeping.on_disk import RecipeOnDisk
from foldwright.desk.writing.photographs import LONG_SIDE, MOST_BYTES, TakenIn, take_in
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.finding.changes import changed
from foldwright.recipe.reading import read_recipe
from foldwright.render.photos import check_photos
from foldwright.surroundings import Folder

TEXT = "---\ntitle: Heart box\n---\n\n## Fold the lid\n\nFold it.\n"


@pytest.fixture
def recipe(tmp_path: Path) -> RecipeOnDisk:
    (tmp_path / "box").mkdir()
    made = RecipeOnDisk(tmp_path / "box", tmp_path)
    assert made.keep(TEXT) is None
    return made


def photograph(size: tuple[int, int], kind: str = "JPEG", mode: str = "RGB", **kept: object) -> bytes:
    """Many colours, red in the first corner."""
    noise = Image.effect_noise(size, 80).convert(mode)
    noise.paste("red" if mode == "RGB" else noise.getpixel((0, 0)), (0, 0, size[0] // 4, size[1] // 4))
    out = io.BytesIO()
    noise.save(out, kind, **kept)
    return out.getvalue()


def names(recipe: RecipeOnDisk) -> list[str]:
    return sorted(path.name for path in recipe.folder.iterdir() if not path.name.startswith("."))


def taken(recipe: RecipeOnDisk, data: bytes, at: int | None = None) -> tuple[TakenIn, Image.Image]:
    answer = take_in(recipe, data, TEXT, at)
    assert isinstance(answer, TakenIn), answer
    return answer, Image.open(io.BytesIO((recipe.folder / answer.name).read_bytes()))


def refused(recipe: RecipeOnDisk, data: bytes) -> str:
    before = names(recipe)
    answer = take_in(recipe, data, TEXT, None)
    assert isinstance(answer, Wrong)
    assert names(recipe) == before
    return catalogue().say(answer.message, **dict(answer.facts))


def test_a_photograph_from_a_camera_is_turned_made_smaller_and_tells_nothing(recipe: RecipeOnDisk) -> None:
    """Orientation 6 of Exif 2.3: the first row of the file is the right side of the scene."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F] = "Maker of the camera"
    exif.get_ifd(0x8825)[2] = (53.0, 21.0, 0.0)
    answer, image = taken(recipe, photograph((3000, 2000), exif=exif, comment=b"at home", quality=92))
    assert (answer.name, image.format, image.size) == ("heart-box.jpg", "JPEG", (1600, LONG_SIDE))
    red, green, blue = image.getpixel((1500, 100))
    assert red > 200 and green < 60 and blue < 60
    assert not image.getexif() and image.info.keys() <= {
        "jfif",
        "jfif_version",
        "jfif_unit",
        "jfif_density",
        "progressive",
        "progression",
    }
    data = (recipe.folder / answer.name).read_bytes()
    assert b"Maker" not in data and b"at home" not in data and b"Exif" not in data


def test_the_text_names_it_and_the_compiler_takes_it(recipe: RecipeOnDisk) -> None:
    answer, _ = taken(recipe, photograph((800, 600)), TEXT.index("Fold it"))
    text = changed(TEXT, answer.put.changes)
    assert text[slice(*answer.put.select)] == "what can be seen here"
    assert recipe.keep(text) is None
    read = read_recipe(text, "r", "r").recipe
    assert read and read.steps[0].photo and read.steps[0].photo.path.value == "fold-the-lid.jpg"
    assert check_photos(read, Folder(recipe.folder).read) == ()


def test_a_second_one_takes_no_other_s_name(recipe: RecipeOnDisk) -> None:
    for _ in range(3):
        taken(recipe, photograph((80, 60)), TEXT.index("Fold it"))
    assert names(recipe) == ["fold-the-lid-2.jpg", "fold-the-lid-3.jpg", "fold-the-lid.jpg", "recipe.md"]


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P"])
def test_what_is_see_through_stays_so(recipe: RecipeOnDisk, mode: str) -> None:
    out = io.BytesIO()
    Image.new("RGBA", (60, 40), (200, 0, 0, 0)).convert(mode).save(
        out, "PNG", **({"transparency": 0} if mode == "P" else {})
    )
    answer, image = taken(recipe, out.getvalue())
    assert (answer.name, image.mode) == ("heart-box.png", "RGBA")
    assert image.getchannel("A").getextrema() == (0, 0)


@pytest.mark.parametrize(
    ("kind", "mode"), [("JPEG", "CMYK"), ("JPEG", "L"), ("PNG", "I;16"), ("WEBP", "RGB"), ("PNG", "RGB")]
)
def test_what_a_file_holds_counts(recipe: RecipeOnDisk, kind: str, mode: str) -> None:
    image = Image.effect_noise((600, 400), 60)
    data = io.BytesIO()
    (
        image.convert("I").point(lambda value: value * 256).convert("I;16") if mode == "I;16" else image.convert(mode)
    ).save(data, kind)
    _, shown = taken(recipe, data.getvalue())
    assert (shown.mode, shown.size, "icc_profile" in shown.info) == ("RGB", (600, 400), False)


def test_of_a_moving_picture_the_first_is_taken(recipe: RecipeOnDisk) -> None:
    out = io.BytesIO()
    first, *others = (Image.new("RGB", (60, 40), colour) for colour in ("red", "blue", "green"))
    first.save(out, "GIF", save_all=True, append_images=others)
    _, image = taken(recipe, out.getvalue())
    assert getattr(image, "n_frames", 1) == 1
    assert image.convert("RGB").getpixel((5, 5)) == (255, 0, 0)


def test_files_that_are_no_pictures_are_refused_in_words(recipe: RecipeOnDisk) -> None:
    whole = photograph((400, 300))
    for data in (b"", b"<svg onload='x'/>", b"%PDF-1.7", whole[: len(whole) // 2], b"\xff\xd8\xff" + bytes(99)):
        assert "cannot read this file as a picture" in refused(recipe, data)
    # ISO/IEC 14496-12, 4.3: the length of the box, `ftyp`, the brand.
    assert "HEIC" in refused(recipe, b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(500))
    assert "30 MB" in refused(recipe, whole + bytes(MOST_BYTES))


def test_pictures_that_would_swell_are_refused_by_their_size(recipe: RecipeOnDisk) -> None:
    def swelling(*size: int) -> bytes:
        """A small picture whose header (PNG, 11.2.2) claims to be so large, and is summed up accordingly."""
        data = photograph((8, 8), "PNG")
        header = struct.pack(">II", *size) + data[24:29]
        return data[:16] + header + struct.pack(">I", zlib.crc32(b"IHDR" + header)) + data[33:]

    assert "10001 by 6000 pixels. 60 million" in refused(recipe, swelling(10001, 6000))
    assert "far more than 60 million" in refused(recipe, swelling(20000, 20000))


def test_a_broken_file_leaves_a_good_one_or_none(recipe: RecipeOnDisk) -> None:
    luck = random.Random(19)
    whole = photograph((120, 80))
    for _ in range(60):
        data = bytearray(whole)
        for at in luck.sample(range(len(data)), luck.choice((1, 3, 9))):
            data[at] = luck.randrange(256)
        before = names(recipe)
        answer = take_in(recipe, bytes(data), TEXT, None)
        if isinstance(answer, TakenIn):
            Image.open(io.BytesIO((recipe.folder / answer.name).read_bytes())).load()
        else:
            assert names(recipe) == before
