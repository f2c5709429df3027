"""Photographs made fit for a page: turned the right way up, made no larger than needed, stripped of all they tell.

Cameras write into a photograph where and when it was taken and with what; none of that is handed on.
"""

from __future__ import annotations

import base64
import hashlib
import io
import warnings
from collections.abc import Callable, Iterator
from enum import Enum
from functools import partial
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.finding import Finding, Strength
from foldwright.memory import Memory
from foldwright.recipe.facts.limits import MOST_PHOTO_BYTES, MOST_PIXELS
from foldwright.recipe.model import Photo, Recipe

if TYPE_CHECKING:
    from PIL.Image import Image

WIDTH = 1200
"""Pixels across at most: sharp on a screen of two dots to the pixel at the width pages show."""
HEIGHT = 1600
_FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "TIFF", "BMP")
_HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
"""What such a file says it is, behind `ftyp` (ISO/IEC 23008-12, 10)."""
QUALITY = 84
_FEW_COLOURS = 256
_ORIENTATION = 0x0112
_TURNS = {
    2: "FLIP_LEFT_RIGHT",
    3: "ROTATE_180",
    4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE",
    6: "ROTATE_270",
    7: "TRANSVERSE",
    8: "ROTATE_90",
}
"""What turns a picture of that orientation (Exif 2.3) the right way up, in Pillow's words."""

_MOST_READY = 200
"""Photographs that are remembered, some tens of megabytes: to make one ready takes as long as setting a page."""

type Read = Callable[[str, int], bytes | Enum]
"""Gives the bytes of a file of the recipe's folder, at most so many, or says why not."""


class ReadyPhoto(Struct, frozen=True):
    """A photograph ready to show: encoded, and its size in pixels. `kind` is jpeg or png."""

    data: bytes
    kind: str
    width: int
    height: int

    @property
    def address(self) -> str:
        """The picture itself as an address."""
        return f"data:image/{self.kind};base64,{base64.b64encode(self.data).decode('ascii')}"


class Unusable(Struct, frozen=True):
    """Why a photograph cannot be shown: a finding's code and facts."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()


def photos_of(recipe: Recipe) -> Iterator[Photo]:
    """Every photograph a recipe names, in the order of the text."""
    for photo in (recipe.photo, *(step.photo for step in recipe.steps)):
        if photo is not None:
            yield photo


def check_photos(recipe: Recipe, read: Read) -> tuple[Finding, ...]:
    """What is the matter with the photographs, without making them ready."""
    found = ((photo, _read(photo, read)) for photo in photos_of(recipe))
    looked = ((photo, data if isinstance(data, Unusable) else look_at(data)) for photo, data in found)
    return tuple(_finding(photo, trouble) for photo, trouble in looked if trouble is not None)


PREPARED: Memory[ReadyPhoto | Unusable] = Memory(_MOST_READY)
REDUCED: Memory[ReadyPhoto] = Memory(_MOST_READY)
"""Both by the bytes they were made of."""


def prepare_photos(recipe: Recipe, read: Read) -> tuple[dict[str, ReadyPhoto], tuple[Finding, ...]]:
    """Every usable photograph by the name the author wrote, and what is the matter with the others."""
    prepared: dict[str, ReadyPhoto] = {}
    findings: list[Finding] = []
    for photo in photos_of(recipe):
        name = photo.path.value
        if name in prepared:
            continue
        data = _read(photo, read)
        made = data if isinstance(data, Unusable) else PREPARED.of(name_of(data), None, partial(prepare, data))
        if isinstance(made, Unusable):
            findings.append(_finding(photo, made))
        else:
            prepared[name] = made
    return prepared, tuple(findings)


def name_of(data: bytes) -> str:
    """A name that no other bytes have."""
    return hashlib.blake2b(data, digest_size=12).hexdigest()


def look_at(data: bytes) -> Unusable | None:
    """Whether a photograph could be shown, as far as its first bytes tell."""
    return _or_unusable(data, lambda: _too_large(_open(data), MOST_PIXELS))


def prepare(
    data: bytes, width: int = WIDTH, height: int = HEIGHT, most_pixels: int = MOST_PIXELS
) -> ReadyPhoto | Unusable:
    """A photograph no larger than `width` x `height` pixels, as it should be looked at, without its metadata.

    One of more than `most_pixels` is not looked at.
    """
    return _or_unusable(data, lambda: _prepared(data, width, height, most_pixels))


def _prepared(data: bytes, width: int, height: int, most_pixels: int) -> ReadyPhoto | Unusable:
    image = _open(data)
    if trouble := _too_large(image, most_pixels):
        return trouble
    # Half-size decoding costs half the time and loses nothing that would be shown.
    image.draft("RGB", (2 * width, 2 * height))
    image = _plain(_upright(image))
    image.thumbnail((width, height))
    return _encoded(image)


def reduced(photo: ReadyPhoto, width: int) -> ReadyPhoto:
    """A prepared photograph with at most `width` pixels across, what is see-through laid on white paper, as JPEG."""
    return REDUCED.of((name_of(photo.data), width), None, lambda: _reduced(photo, width))


def _reduced(photo: ReadyPhoto, width: int) -> ReadyPhoto:
    from PIL import Image

    opened = Image.open(io.BytesIO(photo.data))
    # JPEG files may be decoded at half or a quarter of their size, which is quicker.
    opened.draft("RGB", (width, width))
    paper = Image.new("RGB", opened.size, "white")
    paper.paste(opened.convert("RGB"), mask=opened.getchannel("A") if opened.mode == "RGBA" else None)
    paper.thumbnail((width, paper.height))
    out = io.BytesIO()
    paper.save(out, "JPEG", quality=QUALITY)
    return ReadyPhoto(out.getvalue(), "jpeg", *paper.size)


def _read(photo: Photo, read: Read) -> bytes | Unusable:
    data = read(photo.path.value, MOST_PHOTO_BYTES)
    if isinstance(data, Enum):
        code = "photo-" + data.name.lower().replace("_", "-")
        return Unusable(code, (("limit", MOST_PHOTO_BYTES // 2**20),))
    return data


def _finding(photo: Photo, trouble: Unusable) -> Finding:
    return Finding.of(trouble.code, Strength.MISFIT, photo.path.place, name=photo.path.value, **dict(trouble.facts))


def _or_unusable[T](data: bytes, work: Callable[[], T]) -> T | Unusable:
    """What is made of a photograph, or that nothing can be made of it."""
    from PIL.Image import DecompressionBombError

    with warnings.catch_warnings():
        # Pillow's own limit only warns, where ours refuses; what else it warns of is no affair of the reader's.
        warnings.simplefilter("ignore")
        try:
            return work()
        except DecompressionBombError:
            return Unusable("photo-far-too-many-pixels", (("limit", MOST_PIXELS // 1_000_000),))
        except Exception:  # noqa: BLE001 - over broken files a dozen decoders raise whatever they stumble on
            heic = data[4:8] == b"ftyp" and data[8:12] in _HEIC_BRANDS
            return Unusable("photo-heic" if heic else "photo-unreadable")


def _open(data: bytes) -> Image:
    from PIL import Image, ImageFile

    # WeasyPrint, once it is loaded, has all of the process take broken files for whole ones.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    return Image.open(io.BytesIO(data), formats=_FORMATS)


def _upright(image: Image) -> Image:
    """Turned as the camera was held. Nothing else that it wrote is read, as it may be anything."""
    from PIL.Image import Transpose

    image.load()
    try:
        held = image.getexif().get(_ORIENTATION)
    except Exception:  # noqa: BLE001 - a picture whose notes are broken is shown as it lies
        return image
    turn = _TURNS.get(held) if isinstance(held, int) else None
    return image.transpose(Transpose[turn]) if turn else image


def _too_large(image: Image, most_pixels: int) -> Unusable | None:
    width, height = image.size
    if width * height <= most_pixels:
        return None
    facts = (("width", width), ("height", height), ("limit", most_pixels // 1_000_000))
    return Unusable("photo-too-many-pixels", facts)


def _plain(image: Image) -> Image:
    """Eight bits a channel in the colours screens expect, see-through or not."""
    if image.mode.startswith("I"):
        image = image.point(lambda value: value / 256).convert("L")
    see_through = image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info
    image = _in_screen_colours(image)
    wanted = "RGBA" if see_through else "RGB"
    return image if image.mode == wanted else image.convert(wanted)


def _in_screen_colours(image: Image) -> Image:
    """The colours a profile in the file means, so that it can be left off."""
    profile = image.info.get("icc_profile")
    if not profile or image.mode not in ("RGB", "RGBA", "CMYK"):
        return image
    from PIL import ImageCms

    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        mode = "RGBA" if image.mode == "RGBA" else "RGB"
        turned = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), outputMode=mode)
    except (ImageCms.PyCMSError, OSError):
        return image
    return turned or image


def _encoded(image: Image) -> ReadyPhoto:
    """JPEG for photographs, PNG for drawings of few colours and for what is see-through; nothing but the pixels."""
    out = io.BytesIO()
    if image.mode == "RGBA" or image.getcolors(_FEW_COLOURS) is not None:
        kind = "png"
        _bare(image).save(out, "PNG", optimize=True)
    else:
        kind = "jpeg"
        _bare(image).save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return ReadyPhoto(out.getvalue(), kind, *image.size)


def _bare(image: Image) -> Image:
    """The same pixels, with none of the texts, times and places that came with them."""
    bare = image.copy()
    bare.info.clear()
    return bare
