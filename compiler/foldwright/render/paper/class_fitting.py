"""How a handout is set: the version of its words, the size of its type, how loosely, on one page or on several.

One page is wanted before all else, then type of a comfortable size, then everything there is to say. Room for notes is
part of the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document, PlacedPicture
from foldwright.render.paper.arranging import (
    PICTURE_GAP,
    TIGHT_LEADING,
    Arranged,
    Item,
    PlacedArea,
    Setting,
    arrange,
    arrange_beside,
    picture_width,
)
from foldwright.render.paper.class_content import ClassContent
from foldwright.render.paper.compositions.page import Frame
from foldwright.render.paper.content import Version
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.flowing import Flow, FlowingThing, flow
from foldwright.render.paper.measured import Block, Heights
from foldwright.render.paper.pictures import Captioned
from foldwright.render.paper.sides import BlockOf, SidePage
from foldwright.render.paper.table import TableBox, lay_table
from foldwright.render.units import MM_PER_POINT

_MEASURE = 38.0
"""Ems a line may be long, some eighty letters: what is left at the right of short lines is good for notes as well."""
_BROAD = frozenset({"head", "fields", "table", "pieces", "notes"})
"""Blocks that stand across the column of words and that of pictures."""
_MOST_PICTURES = 0.4
"""The part of the page's width that the column of pictures may take."""
_QUIET = 25.0
"""Ems from which a column of words is wide enough for all steps."""
_LEAST_WORDS, _GUTTER = 17.0, 1.4
"""Ems that are left for the column of words, at least, and ems between the two."""
_HEAD_PICTURE = 0.3
"""The part of the page's width that a picture in the head may take."""
_TIGHTEST = 0.15
"""How loosely a handout is set at least where that can be: it lies on a table and is read at arm's length."""


class HandoutManner(Struct, frozen=True):
    """A kind of handout: sizes of type to try for one page, the size for several, the size of captions and the foot.

    `ruling` is how far apart the lines for notes are, in millimetres.
    """

    sizes: tuple[float, ...]
    several: float
    small_pt: float
    plan_pts: tuple[float, ...]
    ruling: float

    @property
    def folio(self) -> float:
        """Millimetres that page numbers take of a page when there are several."""
        return 2 * self.small_pt * MM_PER_POINT


# Lines some 8 mm apart are what exercise books have, wider ones what hands and eyes want that do better with large
# print (common practice, no source).
USUAL = HandoutManner((14.0, 12.0, 11.0, 10.0), 11.0, 10.0, (8.0,), 8.5)
LARGE = HandoutManner((18.0,), 18.0, 18.0, (14.0, 12.0, 10.0, 8.0), 12.75)
_WAYS, _BLANK = 12, 0.15
"""How many steps of looseness are tried, and how much blank at the foot of a page, as a part of it, is no matter."""
_SHEET = 2
"""The pages of one sheet: to keep a handout on it, type may be as small as for one page."""
_HAIR_MM = 0.1
"""So much is left at the foot of a page: lengths in styles are written to a thousandth."""
LEAST_NOTES = 25.5
"""Millimetres of lines for notes: three of them, enough for a sentence or two."""


class HandoutLeaf(Struct, frozen=True):
    """A handout arranged: its blocks by name in their order, notes last, and where each stands.

    `table` is the box of what is on the table, `foot` the height of the foot.
    """

    page: SidePage
    size_pt: float
    setting: Setting
    columns: Columns
    arranged: Mapping[str, Arranged]
    """By name in their order; as each stands."""
    table: TableBox | None
    foot: float
    flow: Flow


def page_of(content: ClassContent, version: Version, pictures: Mapping[PlacedPicture, Captioned]) -> SidePage:
    """What stands on a handout in a version; `pictures` by rank, of which the version takes the first few."""
    of_block: dict[str, dict[PlacedPicture, Captioned]] = {}
    for shown, picture in list(pictures.items())[: version.pictures]:
        name = f"step-{shown.step}" if shown.step else "pieces" if shown.piece else "head"
        of_block.setdefault(name, {})[shown] = picture
    table = ("table",) if content.table() else ()
    loose = ("pieces",) if "pieces" in of_block else ()
    closing = content.closing() if version.sections else ()
    names = ("fields", *table, *content.opening(), *loose, *content.steps(), *closing, "notes")
    return SidePage(version, (), names, (), of_block, "head", "foot")


def tries(document: Document, manner: HandoutManner, pictures: int) -> Iterator[tuple[Version, float]]:
    """Versions for one page, each with the size it has to reach, in order of liking."""
    full = Version(manner.several, pictures)
    if manner is LARGE:
        yield full, manner.several
        return
    plain = replace(full, sections=False)
    run_in = replace(plain, listed=False)
    least = manner.sizes[-1]
    yield from ((one, size) for size in (manner.several, least) for one in (full, plain, run_in))
    brief = replace(run_in, full_cautions=False)
    yield brief, least
    one = replace(brief, tips=False, summary=False)
    yield one, least
    if any(len(step.wordings) > 1 for step in document.steps):
        one = replace(one, short=True)
        yield one, least
    yield from ((replace(one, pictures=count), least) for count in range(pictures - 1, -1, -1))


class Fitter:
    """Fits one handout to one paper."""

    def __init__(
        self, content: ClassContent, manner: HandoutManner, pictures: Mapping[PlacedPicture, Captioned], room: Frame
    ) -> None:
        self._content = content
        self._manner = manner
        self._pictures = pictures
        self._room = room
        self._heights = Heights()

    def fit(self, block_of: BlockOf) -> HandoutLeaf | TooLong:
        """On one page if there is any way, else on several with all there is to say; too long is only a word."""
        manner = self._manner
        for version, least in tries(self._content.document, manner, len(self._pictures)):
            page = page_of(self._content, version, self._pictures)
            tightest = _TIGHTEST if least > manner.sizes[-1] else 0.0
            for size in (size for size in manner.sizes if size >= least):
                leaf = self._leaf(page, block_of, size, tightest)
                if leaf and leaf.flow.pages == 1:
                    return self._loosened(leaf, block_of)
        page = page_of(self._content, Version(manner.several, len(self._pictures)), self._pictures)
        leaf = self._of_fewest_pages(page, block_of, manner.several)
        if leaf is None:
            blocks = [block_of(name, page.version) for name in (page.head, *page.names, *self._content.table())]
            widest = max(blocks, key=lambda block: block.longest)
            return TooLong(0, (), widest.name, widest.longest_word)
        if leaf.flow.pages > _SHEET:
            smaller = self._of_fewest_pages(page, block_of, manner.sizes[-1])
            leaf = smaller if smaller and smaller.flow.pages == _SHEET else leaf
        return self._loosened(leaf, block_of)

    def _of_fewest_pages(self, page: SidePage, block_of: BlockOf, size: float) -> HandoutLeaf | None:
        """Tightly set only where that saves a page. None when a word is too wide."""
        leaves = [leaf for tight in (_TIGHTEST, 0.0) if (leaf := self._leaf(page, block_of, size, tight))]
        return min(leaves, key=lambda leaf: leaf.flow.pages, default=None)

    def _loosened(self, leaf: HandoutLeaf, block_of: BlockOf) -> HandoutLeaf:
        """As loose as it stays on as many pages, none of them left blank for the most part if another way is better."""
        tightest = leaf.setting.looseness
        ways = [leaf]
        for number in range(1, _WAYS + 1):
            tried = self._leaf(leaf.page, block_of, leaf.size_pt, tightest + (1 - tightest) * number / _WAYS)
            if tried and tried.flow.pages == leaf.flow.pages:
                ways.append(tried)
        blank = _BLANK * self._room.height
        return min(ways, key=lambda way: (int(way.flow.blank / blank), -way.setting.looseness))

    def _leaf(self, page: SidePage, block_of: BlockOf, size: float, looseness: float) -> HandoutLeaf | None:
        """None when a word is too wide."""
        frame = self._room
        setting = Setting(size * MM_PER_POINT, looseness, frame.height, _MEASURE)
        columns = Columns.of(page, frame.width, setting)
        arranged: dict[str, Arranged] = {}
        table: TableBox | None = None
        for name in (page.head, *page.names):
            block, pictures = block_of(name, page.version), tuple(page.pictures.get(name, {}).values())
            if name == "table":
                groups = {group: block_of(group, page.version) for group in self._content.table()}
                table = lay_table(block, groups, frame.width, setting, self._heights, not page.version.listed)
                one = Arranged(table.width, table.height, table.height) if table else None
            else:
                one = self._arranged(name, block, pictures, columns, setting)
            if one is None:
                return None
            arranged[name] = one
        small = self._manner.small_pt * MM_PER_POINT
        foot = self._heights.of(block_of(page.foot, page.version), frame.width / small, TIGHT_LEADING) * small
        alone = {
            name: one
            for name in page.names
            if (one := self._alone(name, block_of(name, page.version), page, columns, setting))
        }
        things = [
            replace(columns.thing(name, one), alone=alone[name].height if name in alone else None)
            for name, one in arranged.items()
            if name != "notes"
        ]
        things.append(FlowingThing(LEAST_NOTES + setting.gap + foot, broad=True))
        room = frame.height - _HAIR_MM
        found = flow(things, setting.gap, room)
        if found.pages > 1:
            found = flow(things, setting.gap, room - self._manner.folio)
        arranged |= {name: alone[name] for name, stand in zip(arranged, found.stands, strict=True) if stand.alone}
        return HandoutLeaf(page, size, setting, columns, arranged, table, foot, found)

    def _arranged(
        self, name: str, block: Block, pictures: tuple[Captioned, ...], columns: Columns, setting: Setting
    ) -> Arranged | None:
        width, heights = self._room.width, self._heights
        item = Item(block, pictures)
        if name == "fields" or (name == "head" and not pictures):
            return arrange(item, width, replace(setting, measure=inf), heights)
        if name == "head" and pictures and (beside := arrange_beside(item, width, setting, heights, _HEAD_PICTURE)):
            return beside
        fits = name not in _BROAD and (not pictures or columns.beside(pictures))
        if fits and (one := columns.arrange(block, pictures, setting, heights)):
            return one
        words = arrange(Item(block), width, setting, heights)
        return _with_rows(words, pictures, width, setting) if words and pictures else words

    def _alone(self, name: str, block: Block, page: SidePage, columns: Columns, setting: Setting) -> Arranged | None:
        """A block without pictures as it may stand where there are none beside it either."""
        if not columns.pictures or name in _BROAD or name in page.pictures:
            return None
        if name.startswith("step-") and columns.words >= _QUIET * setting.em:
            # Steps read more quietly when all their lines are of a length.
            return None
        return arrange(Item(block), columns.width, setting, self._heights)


def _with_rows(words: Arranged, pictures: Sequence[Captioned], width: float, setting: Setting) -> Arranged:
    """Words and under them pictures in rows, as many in each as there is room for."""
    gap = PICTURE_GAP * 2 * setting.em
    spots: list[PlacedArea] = []
    left, top, high = 0.0, words.height + gap, 0.0
    for picture in pictures:
        across = picture_width(picture, width, setting)
        if left and left + across > width:
            left, top, high = 0.0, top + high + gap, 0.0
        spots.append(PlacedArea(left, top, across, picture.height_at(across)))
        left += across + gap
        high = max(high, spots[-1].height)
    return Arranged(words.words_width, words.height, top + high, tuple(spots))


class Columns(Struct, frozen=True):
    """The column of words and the column of pictures at its right, in millimetres; without pictures beside, 0."""

    width: float
    words: float
    pictures: float
    most: float

    @classmethod
    def of(cls, page: SidePage, width: float, setting: Setting) -> Columns:
        """As wide as the pictures of the steps want to be, in this setting."""
        gutter = _GUTTER * setting.em
        most = min(_MOST_PICTURES * width, width - gutter - _LEAST_WORDS * setting.em)
        wide = [
            picture_width(picture, most, setting)
            for name, pictures in page.pictures.items()
            for picture in pictures.values()
            if name not in _BROAD and picture.least_mm <= most
        ]
        if not wide:
            return cls(width, setting.words_in(width), 0.0, 0.0)
        return cls(width, setting.words_in(width - gutter - max(wide)), max(wide), most)

    def beside(self, pictures: Sequence[Captioned]) -> bool:
        return bool(pictures) and all(picture.least_mm <= self.most for picture in pictures)

    def arrange(
        self, block: Block, pictures: Sequence[Captioned], setting: Setting, heights: Heights
    ) -> Arranged | None:
        """Words with their pictures beside them, each in the whole column as far as its caption goes.

        None when a word is wider than the column of words.
        """
        if block.longest * setting.em > self.words:
            return None
        words = heights.of(block, self.words / setting.em, setting.leading) * setting.em
        spots: list[PlacedArea] = []
        top = 0.0
        for picture in pictures:
            across = picture_width(picture, self.pictures, setting)
            left = self.width - self.pictures
            high = picture.height_in(across, self.pictures)
            spots.append(PlacedArea(left, top, across, high))
            top += high + PICTURE_GAP * setting.em
        return Arranged(self.words, words, words, tuple(spots))

    def thing(self, name: str, one: Arranged) -> FlowingThing:
        """For the flow: a picture that does not stand beside its words is part of their height."""
        if self.holds(name, one):
            return FlowingThing(one.height, one.spots[-1].top + one.spots[-1].height)
        return FlowingThing(one.height, broad=name in _BROAD or bool(one.spots) or one.words_width > self.words)

    def holds(self, name: str, one: Arranged) -> bool:
        """Whether the pictures of a block stand in the column of pictures."""
        return bool(one.spots) and name not in _BROAD and one.spots[0].left >= one.words_width
