"""What stands on a handout: its pictures as they may be printed, and the blocks of one version with theirs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document, PlacedPicture
from foldwright.measure.length import System
from foldwright.recipe.words import Keep, Text
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.paper.class_content import ClassContent
from foldwright.render.paper.pictures import ADDRESS, Captioned, prints_of
from foldwright.render.paper.versions import Version
from foldwright.render.photos import ReadyPhoto


class ClassPage(Struct, frozen=True):
    """The names of the blocks of a version in their order, without head and foot, and the pictures of each."""

    version: Version
    names: tuple[str, ...]
    pictures: Mapping[str, Mapping[PlacedPicture, Captioned]]
    head: str = "head"
    foot: str = "foot"

    def of(self, name: str) -> tuple[Captioned, ...]:
        return tuple(self.pictures.get(name, {}).values())


class Pictured(Struct, frozen=True):
    """The content of a handout and every picture of it that can be printed, the one needed most first.

    `plates` is the word for a picture where they are numbered, `code` that of the address.
    """

    content: ClassContent
    pictures: Mapping[PlacedPicture, Captioned]
    plates: str = ""
    code: Captioned | None = None

    @property
    def keep(self) -> tuple[Keep, ...]:
        return self.content.document.keep

    @property
    def others(self) -> tuple[PlacedPicture, ...]:
        """All but the finished thing, which is never left out: the first of every step, then the others."""
        own = [shown for shown in self.pictures if not is_hero(shown)]
        firsts = self._firsts(own)
        return (*firsts, *(shown for shown in own if shown not in firsts))

    @property
    def singles(self) -> int:
        """How many pictures there are when each step has one."""
        return len(self._firsts(self.others))

    def _firsts(self, own: Sequence[PlacedPicture]) -> list[PlacedPicture]:
        first: dict[int, PlacedPicture] = {}
        for shown in own:
            first.setdefault(shown.step, shown)
        return [shown for shown in own if shown is first[shown.step] or not shown.step]


def is_hero(shown: PlacedPicture) -> bool:
    """Whether it shows the finished thing."""
    return not shown.step and not shown.piece


def page_of(pictured: Pictured, version: Version) -> ClassPage:
    """What stands on a handout in a version, which takes the first few of the pictures by rank."""
    content = pictured.content
    chosen = {*pictured.others[: version.pictures], *filter(is_hero, pictured.pictures)}
    of_block: dict[str, dict[PlacedPicture, Captioned]] = {}
    for shown, picture in pictured.pictures.items():
        if shown in chosen:
            name = f"step-{shown.step}" if shown.step else "pieces" if shown.piece else "head"
            of_block.setdefault(name, {})[shown] = picture
    table = ("table",) if content.table() else ()
    loose = ("pieces",) if "pieces" in of_block else ()
    closing = content.closing() if version.sections else ()
    fields, notes = (("fields",), ("notes",)) if content.lined else ((), ())
    names = (*fields, *table, *content.opening(), *loose, *content.steps(), *closing, *notes)
    pictures = _numbered(of_block, names, content, pictured.plates) if pictured.plates else of_block
    if version.code and pictured.code:
        pictures["foot"] = {ADDRESS: pictured.code}
    return ClassPage(version, names, pictures)


def _numbered(
    of_block: Mapping[str, Mapping[PlacedPicture, Captioned]], names: tuple[str, ...], content: ClassContent, word: str
) -> dict[str, dict[PlacedPicture, Captioned]]:
    """`Plate 3 · Fold the base.`: pictures numbered as they stand; the one in the head has no number."""
    between, number = content.document.labels["between"], 0
    found = {name: dict(pictures) for name, pictures in of_block.items()}
    for name in names:
        for shown, picture in found.get(name, {}).items():
            number += 1
            caption = (Text(f"{word}\u00a0{number}{between if picture.caption else ''}"), *picture.caption)
            found[name][shown] = replace(picture, caption=caption)
    return found


def printable(
    document: Document,
    system: System,
    photos: Mapping[str, ReadyPhoto],
    plan_pts: tuple[float, ...],
    caption_pt: float,
    drawing: DrawingManner,
    widest: float,
    quiet: bool,
) -> dict[PlacedPicture, Captioned]:
    """Every picture that can be printed so wide, the one needed most first; plans with the largest type that can be.

    Those of steps may be `quiet`: without captions, and without figures where there is no room for them.
    """
    found = dict[PlacedPicture, Captioned]()
    for text_pt in plan_pts:
        left = tuple(shown for shown in document.shown if shown not in found)
        prints = prints_of(replace(document, shown=left), system, photos, text_pt, caption_pt, quiet, drawing)
        found |= {
            shown: made for shown, made in prints.items() if isinstance(made, Captioned) and made.least_mm <= widest
        }
    # In the order wanted; a drawing that stands for a photograph is wanted like that.
    wanted = sorted(found, key=lambda shown: document.shown.index(shown) if shown in document.shown else 0)
    return {shown: found[shown] for shown in wanted}
