"""What the template of a card or handout is given: pictures with their captions, blocks in their places, the page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from hashlib import blake2b
from math import inf
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document.model import Document, PlacedPicture
from foldwright.document.words import Runs, plain
from foldwright.measure.length import System
from foldwright.recipe.words import Text
from foldwright.render.drawing.label import ROOM, width_of
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.paper.address_code import AddressCode, address_code
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.content import Content, PaperMarkup, piece_and_count
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.prints import TEXT_PT, Drawing, PrintedPhoto, Unfit, drawn, photographed
from foldwright.render.paper.typesetting import Asset
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import PaperTheme
from foldwright.render.units import MM_PER_POINT

ADDRESS = PlacedPicture(0, drawing="address")
"""The code of the address, as a picture of the foot."""
CAPTION_PT = 8.0
_LINE = 1.3
"""The line height of a caption, as the stylesheets set it."""


class Captioned(Struct, frozen=True, dict=True):
    """A picture with words under it."""

    picture: Drawing | PrintedPhoto | AddressCode
    caption: Runs
    system: System
    caption_pt: float = CAPTION_PT

    @property
    def least_mm(self) -> float:
        return self.picture.least_mm

    @property
    def most_mm(self) -> float:
        return self.picture.most_mm

    @property
    def told_mm(self) -> float:
        return self.picture.told_mm

    def height_at(self, width_mm: float) -> float:
        return self.height_in(width_mm, width_mm)

    def height_in(self, width_mm: float, room_mm: float) -> float:
        """Its height when it is `width_mm` wide and its caption has more room than that."""
        return self.picture.height_at(width_mm) + self._lines(room_mm) * self.caption_pt * MM_PER_POINT * _LINE

    def _lines(self, width_mm: float) -> int:
        if not self.caption:
            return 0
        room = width_mm / (self.caption_pt * MM_PER_POINT * ROOM)
        return _lines_of(self._words, round(room, 3))

    @cached_property
    def _words(self) -> str:
        return plain(self.caption, self.system)


@lru_cache(maxsize=4096)
def _lines_of(words: str, room: float) -> int:
    """How many lines words make in so many ems, as many words on each as it holds."""
    space, lines, used = width_of(" "), 0, inf
    for word in words.split(" "):
        length = width_of(word)
        lines, used = (lines, used + space + length) if used + space + length <= room else (lines + 1, length)
    return lines


def prints_of(
    document: Document,
    system: System,
    photos: Mapping[str, ReadyPhoto],
    text_pt: float = TEXT_PT,
    caption_pt: float = CAPTION_PT,
    quiet: bool = False,
    manner: DrawingManner = DrawingManner.PLAIN,
) -> dict[PlacedPicture, Captioned | Unfit]:
    """Every picture of the sheet, the one needed most first, or why it cannot be printed.

    Where steps are `quiet`, their pictures have no captions, and no figures where there is no room for them. For a
    photograph of the finished thing that cannot be printed, or is not there, stands its drawing.
    """
    prints: dict[PlacedPicture, Captioned | Unfit] = {}
    for shown in _with_a_drawing(document):
        made, caption = _picture(shown, document, system, photos, text_pt, quiet, manner)
        if quiet and shown.step:
            caption = ()
        if made is not None:
            prints[shown] = made if isinstance(made, Unfit) else Captioned(made, caption, system, caption_pt)
    whole = [shown for shown, made in prints.items() if _is_whole(shown) and isinstance(made, Captioned)]
    return {shown: made for shown, made in prints.items() if shown not in whole[1:]}


def code_of(document: Document, system: System, paper: Paper) -> Captioned | None:
    """The code of the page's address for a paper, where there is one."""
    code = address_code(document.head.address, document.labels["address-code"], paper.small)
    return Captioned(code, (), system) if code else None


def _is_whole(shown: PlacedPicture) -> bool:
    """Whether it shows the finished thing."""
    return not shown.step and not shown.piece


def _with_a_drawing(document: Document) -> Iterator[PlacedPicture]:
    """The pictures wanted, and after a photograph of the finished thing its drawing, in case it is needed."""
    for shown in document.shown:
        yield shown
        if _is_whole(shown) and shown.photo and document.finished:
            yield PlacedPicture(0, drawing=document.finished.name)


def _picture(
    shown: PlacedPicture,
    document: Document,
    system: System,
    photos: Mapping[str, ReadyPhoto],
    text_pt: float,
    quiet: bool,
    manner: DrawingManner,
) -> tuple[Drawing | PrintedPhoto | Unfit | None, Runs]:
    if shown.photo:
        prepared = photos.get(shown.photo.path)
        return (photographed(prepared, shown.photo.shows) if prepared else None), ()
    picture = document.picture(shown)
    if picture is None:
        return None, ()
    if not shown.drawing:
        piece = next(piece for piece in document.pieces if piece.name == shown.piece)
        caption = (Text(piece_and_count(piece)),)
        return drawn(picture, system, text_pt, quiet and bool(shown.step), manner), caption
    # The finished thing stands beside the title, which says what it is.
    return drawn(picture, system, text_pt, quiet, manner), picture.title if shown.step else ()


def placed_picture(
    captioned: Captioned, spot: PlacedArea, assets: dict[str, Asset], room_mm: float = 0.0
) -> SimpleNamespace:
    """A picture as a template sets it, in the middle of its room if there is more; its address goes into `assets`."""
    picture, name = captioned.picture, f"picture-{len(assets)}"
    if isinstance(picture, PrintedPhoto):
        printed = picture.at(spot.width)
        # The typesetter keeps a photograph by its address, even where pages of several recipes come together.
        name += f"-{blake2b(printed.data, digest_size=8).hexdigest()}"
        assets[name] = Asset(printed.data, f"image/{printed.kind}")
        across, down = picture.size_at(spot.width)
    else:
        assets[name] = Asset(picture.svg_at(spot.width).encode("utf-8"), "image/svg+xml")
        across, down = spot.width, picture.height_at(spot.width)
    return SimpleNamespace(
        source=f"asset:{name}",
        alt=picture.alt,
        caption=Html(PaperMarkup((captioned.system,)).runs(captioned.caption)),
        place=style(left=spot.left, top=spot.top, width=max(spot.width, room_mm)),
        size=style(width=across, height=down),
        loose=False,
    )


def style(**lengths: float) -> str:
    """Millimetres as a style: `left:12.000mm;top:20.500mm`."""
    return ";".join(f"{name.replace('_', '-')}:{length:.3f}mm" for name, length in lengths.items())


def block_view(
    content: Content,
    name: str,
    place: str,
    width: str,
    wordings: frozenset[str] | None = None,
    pictures: Sequence[SimpleNamespace] = (),
) -> SimpleNamespace:
    """A block as a template sets it: in these wordings, or in every one there is.

    `place` and `width` are styles, the one of the block, the other of its words.
    """
    block = content.block(name).view(wordings)
    block.name, block.place, block.width, block.pictures = name, place, width, pictures
    return block


def page_html(theme: PaperTheme, document: Document, kind: str, paper: str, **holds: Sequence[SimpleNamespace]) -> str:
    """The page of a theme filled in with what it `holds`, under the names its template has for that.

    `kind` and `paper` are classes for stylesheets. Raises ThemeError.
    """
    page = SimpleNamespace(
        language=document.language,
        title=": ".join(part for part in (document.head.title, document.head.occasion) if part),
        author=document.head.author,
        kind=kind,
        paper=paper,
        **holds,
    )
    label = SimpleNamespace(**{name.replace("-", "_"): text for name, text in document.labels.items()})
    return theme.filled(page=page, label=label)
