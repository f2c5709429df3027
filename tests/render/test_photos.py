"""Photographs: turned after their EXIF orientation, made smaller, stripped of everything but the pixels."""

from __future__ import annotations

import io
import random
import struct
from enum import Enum

import pytest
from PIL import Image

from foldwright.finding import Place
from foldwright.recipe.model import Photo, Recipe, Said
from foldwright.render.photos import ReadyPhoto, Unusable, check_photos, look_at, prepare, prepare_photos


def photograph(size: tuple[int, int], kind: str = "JPEG", mode: str = "RGB", **kept: object) -> bytes:
    """A gradient, so that it has more colours than a drawing."""
    image = Image.new("1", size) if mode == "1" else Image.radial_gradient("L").resize(size).convert(mode)
    if mode in ("RGB", "RGBA"):
        image.putpixel((0, 0), (255, 0, 0, 255)[: len(mode)])
    out = io.BytesIO()
    image.save(out, kind, **kept)
    return out.getvalue()


def opened(made: ReadyPhoto | Unusable) -> Image.Image:
    assert isinstance(made, ReadyPhoto)
    return Image.open(io.BytesIO(made.data))


def test_a_large_photograph_is_made_smaller_and_keeps_its_shape():
    made = prepare(photograph((4000, 3000)))
    assert isinstance(made, ReadyPhoto)
    assert (made.kind, made.width, made.height) == ("jpeg", 1200, 900)
    assert opened(made).size == (1200, 900)


def test_a_small_one_is_not_made_larger():
    assert opened(prepare(photograph((320, 200)))).size == (320, 200)


# The eight orientations of Exif 2.3, tag 0x0112: where the first row and column of the file lie in the scene.
ROTATED = {1: (0, 0), 3: (59, 39), 6: (39, 0), 8: (0, 59)}


@pytest.mark.parametrize("orientation", ROTATED)
def test_it_is_turned_the_right_way_up(orientation):
    image = Image.new("RGB", (60, 40), "white")
    image.paste((255, 0, 0), (0, 0, 8, 8))
    exif = Image.Exif()
    exif[0x0112] = orientation
    out = io.BytesIO()
    image.save(out, "PNG", exif=exif)
    turned = opened(prepare(out.getvalue())).convert("RGB")
    assert turned.size == ((60, 40) if orientation in (1, 3) else (40, 60))
    assert turned.getpixel(ROTATED[orientation]) == (255, 0, 0)


def written_by_hand(*entries: tuple[int, int, int, bytes]) -> bytes:
    """An EXIF block with such entries (TIFF 6.0: tag, type, how many, the value or where it stands), true or not."""
    laid = b"".join(struct.pack("<HHI", *head) + value for *head, value in entries)
    return b"Exif\0\0II" + struct.pack("<HIH", 42, 8, len(entries)) + laid + bytes(4) + bytes(range(40))


KINDS = ("JPEG", "WEBP", "PNG")
HELD = (0x0112, 3, 1, b"\6\0\0\0")
"""The orientation 6, as a whole number of two bytes."""


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("count", [0, 1, 5, 2**32 - 1])
def test_whatever_stands_in_the_place_of_the_orientation_the_picture_is_shown(kind, count):
    """Types 1 to 12 of TIFF 6.0, and two that there are none of."""
    for typed in range(14):
        for value in (b"\6\0\0\0", b"abc\0", b"\xff\xff\xff\xff", b"\x1a\0\0\0"):
            exif = written_by_hand((0x0112, typed, count, value))
            shown = opened(prepare(photograph((60, 40), kind, exif=exif)))
            assert shown.size in ((60, 40), (40, 60))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("tag", [0x8769, 0x8825, 0xA005, 0x010F, 0x011A, 0x927C])
def test_other_notes_may_be_rubbish_and_it_is_still_turned(kind, tag):
    """Nested blocks, the maker, the resolution, the maker's own: of a wrong type, too long, or nowhere in the file."""
    for typed in range(14):
        for count, value in ((1, b"\x1a\0\0\0"), (5, b"\xff\xff\xff\xff"), (200, b"\x26\0\0\0")):
            exif = written_by_hand(HELD, (tag, typed, count, value))
            assert opened(prepare(photograph((60, 40), kind, exif=exif))).size == (40, 60)


def test_a_tiff_is_turned_once():
    exif = Image.Exif()
    exif[0x0112] = 6
    assert opened(prepare(photograph((60, 40), "TIFF", exif=exif))).size == (40, 60)


AWKWARD = {
    **{f"jpeg of {mode}": photograph((60, 40), "JPEG", mode, exif=written_by_hand(HELD)) for mode in ("RGB", "CMYK")},
    **{f"png of {mode}": photograph((60, 40), "PNG", mode) for mode in ("1", "P", "RGBA", "LA", "I;16")},
    **{f"tiff of {mode}": photograph((60, 40), "TIFF", mode) for mode in ("F", "I", "CMYK", "YCbCr", "LAB")},
    "palette with a see-through colour": photograph((60, 40), "GIF", "P", transparency=0),
    "moving": photograph((60, 40), "WEBP", save_all=True, append_images=[Image.new("RGB", (60, 40), "navy")]),
    "a profile of rubbish": photograph((60, 40), "PNG", icc_profile=b"rubbish" * 40),
}


@pytest.mark.parametrize("name", AWKWARD)
def test_awkward_kinds_are_shown_whole_and_named_when_broken(name):
    data = AWKWARD[name]
    assert isinstance(prepare(data), ReadyPhoto)
    luck = random.Random(name)
    broken = [data[:at] for at in sorted({*range(0, min(len(data), 200), 9), *luck.sample(range(len(data)), 20)})]
    for _ in range(80):
        changed = bytearray(data)
        for at in luck.sample(range(len(data)), luck.choice((1, 2, 9))):
            changed[at] = luck.randrange(256)
        broken.append(bytes(changed))
    for one in broken:
        assert isinstance(prepare(one), ReadyPhoto | Unusable)
        assert look_at(one) is None or isinstance(look_at(one), Unusable)


def test_a_picture_of_no_size_is_named():
    """A BMP header that says 0 x 0 (its width and height stand at bytes 18 and 22)."""
    data = bytearray(photograph((4, 4), "BMP"))
    data[18:26] = bytes(8)
    assert isinstance(prepare(bytes(data)), Unusable)


def test_nothing_but_pixels_is_handed_on():
    exif = Image.Exif()
    exif[0x010F] = "Maker of the camera"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", (53.0, 21.0, 0.0)
    made = prepare(photograph((800, 600), exif=exif, comment=b"taken at home"))
    image = opened(made)
    assert not image.getexif()
    assert "comment" not in image.info
    assert b"Maker" not in made.data
    assert b"taken at home" not in made.data


def test_png_texts_are_left_off_too():
    from PIL.PngImagePlugin import PngInfo

    info = PngInfo()
    info.add_text("Author", "somebody at home")
    out = io.BytesIO()
    Image.new("RGB", (50, 50), "teal").save(out, "PNG", pnginfo=info)
    made = prepare(out.getvalue())
    assert isinstance(made, ReadyPhoto)
    assert made.kind == "png"
    assert b"somebody" not in made.data


@pytest.mark.parametrize("mode", ["L", "RGBA", "CMYK", "LA", "P"])
def test_every_mode_of_colour_comes_out(mode):
    kind = {"CMYK": "TIFF", "RGBA": "PNG", "LA": "PNG", "P": "PNG", "L": "PNG"}[mode]
    made = prepare(photograph((300, 200), kind, mode))
    assert opened(made).mode == ("RGBA" if mode in ("RGBA", "LA") else "RGB")


def test_sixteen_bit_grey_keeps_its_middle():
    out = io.BytesIO()
    Image.new("I;16", (30, 30), 32768).save(out, "PNG")
    assert opened(prepare(out.getvalue())).convert("L").getpixel((3, 3)) == 128


def test_a_sliver_is_taken():
    assert opened(prepare(photograph((1, 9000), "PNG"))).size == (1, 1600)


def test_forty_megapixels_are_the_most():
    exact = look_at(photograph((8000, 5000), "PNG", "1"))
    assert exact is None
    assert look_at(photograph((8000, 5001), "PNG", "1")) == Unusable(
        "photo-too-many-pixels", (("width", 8000), ("height", 5001), ("limit", 40))
    )


def test_a_picture_that_would_swell_beyond_pillows_own_limit_is_refused_not_raised():
    made = prepare(photograph((20000, 20000), "PNG", "1"))
    assert isinstance(made, Unusable)


@pytest.mark.parametrize(
    "data", [b"", b"GIF89a", b"<svg/>", photograph((400, 300))[:2000], b"\xff\xd8\xff" + b"0" * 99]
)
def test_broken_files_are_named_not_raised(data):
    made = prepare(data)
    assert isinstance(made, Unusable)
    assert made.code == "photo-unreadable"


def test_the_same_bytes_every_time():
    data = photograph((1500, 900))
    assert prepare(data) == prepare(data)


class Refused(Enum):
    MISSING = "missing"


def recipe_with(name: str) -> Recipe:
    place = Place("recipe.md", 10, 20)
    return Recipe("recipe.md", "box", Said("Box", place), photo=Photo(Said(name, place), Said("a box", place)))


def test_what_is_the_matter_is_told_at_the_name():
    recipe = recipe_with("a.jpg")
    (finding,) = check_photos(recipe, lambda path, most: Refused.MISSING)
    assert (finding.code, finding.place) == ("photo-missing", Place("recipe.md", 10, 20))
    prepared, (again,) = prepare_photos(recipe, lambda path, most: Refused.MISSING)
    assert again == finding
    assert prepared == {}


def test_a_good_photograph_is_prepared_by_its_name():
    prepared, findings = prepare_photos(recipe_with("a.jpg"), lambda path, most: photograph((640, 480)))
    assert findings == ()
    assert prepared["a.jpg"].address.startswith("data:image/jpeg;base64,")
    assert check_photos(recipe_with("a.jpg"), lambda path, most: photograph((640, 480))) == ()
