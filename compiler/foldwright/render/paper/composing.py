"""The rows of a handout in the three compositions: a picture-book, a shop drawing, a household book.

Each is the same blocks in other rooms: what stands beside what, and how wide. Colours and letters are the stylesheets'.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from itertools import batched

from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.class_page import ClassPage
from foldwright.render.paper.class_rows import (
    GUTTER,
    INSET,
    LEAST_WORDS,
    Cell,
    ClassRow,
    Matched,
    RowRoom,
    beside_cell,
    centred_cell,
    head_beside,
    head_under,
    panels,
    under_cell,
    wide_panel,
    with_fields,
    words_cell,
)
from foldwright.render.paper.measured import Heights
from foldwright.render.paper.sides import BlockOf
from foldwright.render.paper.table import TableBox, lay_table
from foldwright.render.themes import Composition

_MUCH, _THREE = 1.3, 3
_SHORT_LINES = 48.0
"""Ems that lines may be long where a paragraph is of two or three: cautions, what is to be known before one starts."""
_PLAIN = frozenset({"fields", "notes"})
"""Blocks that are as wide as the page, whose lines nobody reads."""


class ComposedRows(Struct, frozen=True):
    """All rows of a handout in their order, and the box of what is on the table."""

    rows: tuple[ClassRow, ...]
    table: TableBox | None


class Composer:
    """Puts the blocks of a handout into rows as a composition has them."""

    def __init__(self, composition: Composition, groups: tuple[str, ...]) -> None:
        self.composition = composition
        self._groups = groups
        self.steps: dict[Hashable, tuple[Matched, Cell | None]] = {}
        """Cells of steps as they were set before, by what they were set of and in: most ways that are tried differ in
        something else."""

    def rows(
        self,
        page: ClassPage,
        block_of: BlockOf,
        room: RowRoom,
        heights: Heights,
        plain: bool,
        larger: Mapping[str, float],
    ) -> ComposedRows | None:
        """None when a word is wider than the page; `plain` takes less room than the composition's own way.

        `larger` has the shares of single steps whose pictures are larger than those of the others.
        """
        return _Composing(self, page, block_of, room, heights, plain, larger).rows(self._groups)


class _Composing:
    """One handout, as it is put into rows."""

    def __init__(
        self,
        composer: Composer,
        page: ClassPage,
        block_of: BlockOf,
        room: RowRoom,
        heights: Heights,
        plain: bool,
        larger: Mapping[str, float],
    ) -> None:
        self._composition, self._steps_set = composer.composition, composer.steps
        self._page, self._block_of = page, block_of
        self._room, self._heights, self._plain = room, heights, plain
        self._larger = larger
        steps = [name for name in page.names if name.startswith("step-")]
        self._pictured = 2 * sum(bool(page.of(name)) for name in steps) >= len(steps)
        """Whether most steps have pictures."""

    def rows(self, groups: tuple[str, ...]) -> ComposedRows | None:
        names, table = self._page.names, None
        steps = [name for name in names if name.startswith("step-")]
        first = names.index(steps[0])
        lined = "fields" in names
        rows = self._title() if lined else [_row(self._head())]
        for name in names[int(lined) : first]:
            if name == "table":
                table = self._table(groups)
                rows.append(ClassRow((_table_cell(table),)) if table else None)
            else:
                rows.append(_row(self._before(name)))
        rows += self._steps(steps)
        rows += self._after([name for name in names[first + len(steps) :] if name not in _PLAIN])
        rows += [_row(self._before("notes"))] if lined else []
        whole = [row for row in rows if row]
        return ComposedRows(tuple(whole), table) if len(whole) == len(rows) else None

    def _title(self) -> list[ClassRow | None]:
        """The head with the lines for a name and a day, in it if it has room."""
        head, fields = self._head(), self._before("fields")
        title = head and fields and with_fields(head, fields, self._room)
        return [title] if title else [_row(head), _row(fields)]

    def _matched(self, name: str) -> Matched:
        return Matched(self._block_of(name, self._page.version), self._page.of(name))

    def _head(self) -> Cell | None:
        one = self._matched(self._page.head)
        if self._composition is Composition.HOUSEHOLD_BOOK and not self._plain:
            return head_under(one, self._room, self._heights)
        book = self._composition is Composition.PICTURE_BOOK
        return head_beside(one, self._room, self._heights, at_right=not book, inset=INSET if book else 0.0)

    def _table(self, groups: tuple[str, ...]) -> TableBox | None:
        version = self._page.version
        blocks = {group: self._block_of(group, version) for group in groups}
        heading = self._block_of("table", version)
        return lay_table(heading, blocks, self._room.width, self._room.setting, self._heights, not version.listed)

    def _before(self, name: str) -> Cell | None:
        """Lines to fill in and the like, as wide as the page; or words with plans in lines under them."""
        one = self._matched(name)
        room = replace(self._room, setting=replace(self._room.setting, measure=_SHORT_LINES))
        if name in _PLAIN or not one.pictures:
            return words_cell(one, room, self._heights, broad=name in _PLAIN)
        return under_cell(one, room, self._heights)

    def _after(self, names: Sequence[str]) -> Iterator[ClassRow | None]:
        """Tips and notes, two side by side where that saves room and the page is of columns."""
        for pair in batched(names, 1 if self._composition is Composition.HOUSEHOLD_BOOK else 2):
            alone = [words_cell(self._matched(name), self._room, self._heights) for name in pair]
            beside = self._side_by_side(pair) if len(pair) > 1 else None
            if beside and beside.height < sum(cell.height for cell in alone if cell):
                yield beside
            else:
                yield from map(_row, alone)

    def _side_by_side(self, names: Sequence[str]) -> ClassRow | None:
        gutter = GUTTER * self._room.em
        half = self._room.narrower((self._room.width - gutter) / 2)
        cells = [words_cell(self._matched(name), half, self._heights) for name in names]
        if half.width < LEAST_WORDS * self._room.em or not all(cells):
            return None
        return ClassRow(tuple(replace(cell, left=at * (half.width + gutter)) for at, cell in enumerate(cells) if cell))

    # --- steps --------------------------------------------------------------------------------------------------------

    def _steps(self, names: Sequence[str]) -> Iterator[ClassRow | None]:
        drawn = self._composition is Composition.SHOP_DRAWING and not self._plain
        three = self._panels(names) if drawn and len(names) == _THREE else None
        if three:
            yield three
            return
        for together in batched(names, 2 if drawn else 1):
            row = self._panels(together) if drawn else None
            if row:
                yield row
            else:
                yield from (_row(self._step(self._matched(name))) for name in together)

    def _panels(self, names: Sequence[str]) -> ClassRow | None:
        """Steps side by side, or one across the page; None where they take more than that."""
        ones = list(map(self._matched, names))
        room = self._room_of(ones[0])
        if len(ones) == 1:
            row = wide_panel(ones[0], room, self._heights)
        else:
            row = panels(ones, room, self._heights, len(ones))
        return row if row and row.height <= room.setting.page_height else None

    def _room_of(self, one: Matched) -> RowRoom:
        return replace(self._room, share=self._larger.get(one.block.name, self._room.share))

    def _step(self, one: Matched) -> Cell | None:
        """A row of one step; where that is higher than a page, its words first, so that pages can part them."""
        room = self._room_of(one)
        key = id(one.block), tuple(map(id, one.pictures)), room.setting, room.share, self._plain, self._pictured
        # What it was set of is kept as well, so that nothing else comes to have its identity.
        known = self._steps_set.get(key) or (one, self._step_anew(one, room))
        self._steps_set[key] = known
        return known[1]

    def _step_anew(self, one: Matched, room: RowRoom) -> Cell | None:
        heights = self._heights
        under = under_cell(one, room, heights)
        if self._composition is Composition.HOUSEHOLD_BOOK and not self._plain:
            own = centred_cell(one, room, heights)
        elif one.pictures:
            own = beside_cell(one, room, heights, at_right=self._composition is Composition.HOUSEHOLD_BOOK)
        else:
            own = self._in_words_column(one)
        fits = own and own.height <= room.setting.page_height
        # Of several pictures, those beside their words may stand much higher than all of them under the words.
        much = under is not None and len(one.pictures) > 1 and own is not None and own.height > _MUCH * under.height
        return own if fits and not much else under

    def _in_words_column(self, one: Matched) -> Cell | None:
        """Words without a picture, under and over the words of the other steps, where most of those have pictures."""
        left = self._room_of(one).column + GUTTER * self._room.em
        inner = self._room.narrower(self._room.width - left)
        at_right = self._composition is Composition.HOUSEHOLD_BOOK
        if not self._pictured or at_right or inner.width < LEAST_WORDS * self._room.em:
            return None
        cell = words_cell(one, inner, self._heights)
        return cell and replace(cell, width=self._room.width, words=replace(cell.words, left=left))


def _row(cell: Cell | None) -> ClassRow | None:
    return ClassRow((cell,)) if cell else None


def _table_cell(table: TableBox) -> Cell:
    """As wide as the page; what is in it is placed by the box itself."""
    return Cell("table", 0.0, table.width, table.height, PlacedArea(0.0, 0.0, table.width, table.heading.height))
