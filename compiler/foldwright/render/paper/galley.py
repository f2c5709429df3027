"""The words of a page laid out once, each paragraph on a single endless line, and read back as measured blocks.

Where the letters stand on such a line, and where it might be broken, tells all that any column needs. An element with
`data-block` is a block; one with `data-part` in it is a part that a version of the page may do without.

WeasyPrint keeps the shaped text of every box but has no public way to ask it; this module uses what its own drawing
and line breaking use.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial, reduce
from itertools import pairwise
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.memory import Memory
from foldwright.render.fonts import FACES
from foldwright.render.paper.arranging import TIGHT_LEADING
from foldwright.render.paper.content import Content
from foldwright.render.paper.measured import Block, MeasuredParagraph, Word
from foldwright.render.paper.shaping import PANGO_UNIT, advances_of
from foldwright.render.paper.typesetting import letters_of, typeset
from foldwright.render.paper.versions import Version
from foldwright.render.units import MM_PER_PX

ENDLESS = "position:absolute;left:0;top:0;width:40000mm"
"""The style of a block in a galley."""
_ENDLESS_RULE = f"[data-endless]{{{ENDLESS.replace(';', '!important;')}!important}}"
_HIDDEN = "display:none"
_BLOCK = 'data-block="'
_GALLEY_PT = 10.0
_SAME = 1e-3
CONFIRMATIONS = 8
"""How often a page is laid out anew because a line broke elsewhere than reckoned; once is rare."""
HAIR_MM = 0.05
"""By so little a block may come out higher than reckoned: lengths in styles are written to a thousandth."""


class Unprintable(Struct, frozen=True):
    """A letter that no bundled face of its place has, and the block it stands in."""

    letter: str
    block: str


class Galley(Struct, frozen=True):
    """`leading` is the line height the blocks were laid out with, as a part of the type size."""

    blocks: Mapping[str, Block]
    unprintable: tuple[Unprintable, ...]

    def with_more(self, other: Galley) -> Galley:
        return Galley({**self.blocks, **other.blocks}, (*self.unprintable, *other.unprintable))

    def alone(self, name: str) -> Galley:
        """One of its blocks."""
        return Galley({name: self.blocks[name]}, tuple(one for one in self.unprintable if one.block == name))


_MEASURED: Memory[Galley] = Memory(512)
"""Blocks one by one: while a recipe is typed, most stay as they were."""


def pull_galley(html: str, style: str, more: str = "") -> Galley:
    """The galley of a page with every block in every wording; `more` is style besides the theme's.

    Blocks that were measured before are not laid out again: selectors see of other blocks only what is around them.
    """
    start, *pieces = html.split(_BLOCK)
    around = start, *(piece.rpartition("</div>")[2] for piece in pieces)
    made_of = {piece.partition('"')[0]: (piece, around) for piece in pieces}
    known = {name for name, one in made_of.items() if _MEASURED.known((name, style, more), one)}
    hidden = (piece.replace(ENDLESS, _HIDDEN, 1) if piece.partition('"')[0] in known else piece for piece in pieces)
    found = _pulled(_BLOCK.join((start, *hidden)), style, more)
    if found.blocks.keys() != made_of.keys() - known:
        # A theme of one's own that leaves blocks out, or names them in other places.
        return _pulled(html, style, more)
    alone = {name: _MEASURED.of((name, style, more), one, partial(found.alone, name)) for name, one in made_of.items()}
    return reduce(Galley.with_more, alone.values(), Galley({}, ()))


def _pulled(html: str, style: str, more: str) -> Galley:
    page_style = f"@page{{size:100mm 10000mm}}body{{font-size:{_GALLEY_PT}pt;line-height:{TIGHT_LEADING}}}"
    # What elements say in a rule they have in common, so that all they hold is styled alike, and styled once.
    alike = html.replace(f'style="{ENDLESS}"', 'data-endless=""').replace(f'style="{_HIDDEN}"', 'hidden=""')
    return read_galley(typeset(alike, style, page_style + _ENDLESS_RULE + more).boxes, TIGHT_LEADING)


def read_galley(boxes: Sequence[Any], leading: float) -> Galley:
    """Measure every block of a page laid out with `leading`. Boxes are the typesetter's."""
    blocks: dict[str, Block] = {}
    unprintable: dict[Unprintable, None] = {}
    for name, box in _blocks(boxes):
        blocks[name] = _measure(name, box, leading)
        unprintable |= dict.fromkeys(Unprintable(letter, name) for letter in _missing(box))
    return Galley(blocks, tuple(unprintable))


def heights_of(boxes: Sequence[Any]) -> dict[str, float]:
    """How high every block stands, in millimetres; of one that stands there several times, the highest."""
    heights: dict[str, float] = {}
    for name, box in _blocks(boxes):
        heights[name] = max(heights.get(name, 0.0), box.border_height() * MM_PER_PX)
    return heights


def _everything(box: Any) -> Iterator[Any]:
    """What is in a box; an absolutely placed box stands behind a placeholder."""
    for child in getattr(box, "children", ()):
        yield getattr(child, "_box", child)


def _in_flow(box: Any) -> Iterator[Any]:
    """What takes room in a box: nothing that is placed absolutely, and no marker outside its list item."""
    for child in getattr(box, "children", ()):
        if not hasattr(child, "_box") and not (child.element_tag or "").endswith("::marker"):
            yield child


def _blocks(boxes: Iterable[Any]) -> Iterator[tuple[str, Any]]:
    """The blocks in boxes, each with its name."""
    for box in boxes:
        if box.element is not None and box.element_tag and (name := box.element.get("data-block")):
            yield name, box
        else:
            yield from _blocks(_everything(box))


def _measure(name: str, box: Any, leading: float) -> Block:
    """A block in ems of its own type, its parts apart."""
    size = box.style["font_size"]
    parts = {part.element.get("data-part"): part for part in _parts(box)}
    measured = {called: _measure_words(called, part, box, size, leading) for called, part in parts.items()}
    own = _measure_words(name, box, box, size, leading)
    return Block(
        name, own.paragraphs, own.fixed - sum(part.border_height() for part in parts.values()) / size, measured
    )


def _measure_words(name: str, box: Any, block: Any, size: float, leading: float) -> Block:
    """The words of a box without its parts. Indents are counted from the edge of the whole block."""
    paragraphs: list[MeasuredParagraph] = []
    in_lines = 0.0
    padding = block.padding_left + block.padding_right + block.border_left_width + block.border_right_width
    for holder, lines in _line_holders(box):
        inset = holder.content_box_x() - block.content_box_x() + _right_insets(holder, block) + padding
        line = lines[0].height
        in_lines += sum(one.height for one in lines)
        elastic = abs(line / holder.style["font_size"] - leading) < _SAME
        height = line / size / (leading if elastic else 1)
        paragraphs.append(MeasuredParagraph(tuple(_words(lines, size)), inset / size, height, elastic))
    return Block(name, tuple(paragraphs), (box.border_height() - in_lines) / size)


def _parts(box: Any) -> Iterator[Any]:
    for child in _in_flow(box):
        if _is_part(child):
            yield child
        else:
            yield from _parts(child)


def _is_part(box: Any) -> bool:
    return box.element is not None and bool(box.element.get("data-part"))


def _line_holders(box: Any) -> Iterator[tuple[Any, list[Any]]]:
    """Boxes that hold lines, with their lines; those of parts apart."""
    lines = [child for child in _in_flow(box) if _is_line(child)]
    if lines:
        yield box, lines
    for child in _in_flow(box):
        if not _is_line(child) and not _is_part(child):
            yield from _line_holders(child)


def _is_line(box: Any) -> bool:
    return type(box).__name__ == "LineBox"


def _right_insets(holder: Any, block: Any) -> float:
    """What stands at the right of a holder inside its block: margins, borders and padding on the way down."""
    total = 0.0
    for box in _path(block, holder):
        if box is not block:
            # As the style says: in a column too narrow for it the typesetter makes up a margin of its own.
            margin = box.style["margin_right"]
            total += getattr(margin, "value", 0.0) + box.border_right_width + box.padding_right
    return total


def _path(top: Any, target: Any) -> list[Any]:
    if top is target:
        return [top]
    for child in _in_flow(top):
        if below := _path(child, target):
            return [top, *below]
    return []


def _words(lines: Sequence[Any], size: float) -> Iterator[Word]:
    """What no line end may part, from lines that end only where the author ended them."""
    for line in lines:
        boxes = [box for box in _texts(line) if box.text]
        if not boxes:
            yield Word(0.0, 0.0, ends_line=True)
            continue
        text = "".join(box.text for box in boxes)
        starts, ends = _letters(boxes)
        # What opens a line is where its first element begins, which may hang out or stand in.
        starts[0] = line.position_x
        begins = [0, *(at for at in _breaks(boxes, text) if at), len(text)]
        for begin, end in pairwise(begins):
            last = begin + len(text[begin:end].rstrip()) - 1
            length = ends[last] - starts[begin] if last >= begin else 0.0
            after = starts[end] if end < len(text) else ends[-1]
            space = after - starts[begin] - length
            yield Word(length / size, space / size, end == len(text), text[begin:end].strip())


def _letters(boxes: Sequence[Any]) -> tuple[list[float], list[float]]:
    """Where each letter of a line begins and ends, in px."""
    starts: list[float] = []
    ends: list[float] = []
    for box in boxes:
        layout = box.pango_layout
        layout.reactivate(box.style)
        advances, _ = advances_of(layout)
        layout.deactivate()
        at, x = 0, 0
        for letter in box.text:
            # By byte of the text; a letter that is part of a ligature begins where the ligature does.
            starts.append(box.position_x + x * PANGO_UNIT)
            at, x = at + len(letter.encode()), x + advances.get(at, 0)
            ends.append(box.position_x + x * PANGO_UNIT)
    return starts, ends


def _breaks(boxes: Sequence[Any], text: str) -> Iterator[int]:
    """The letters with which a line might begin."""
    from weasyprint.text.line_break import get_log_attrs

    kept: set[int] = set()
    at = 0
    for box in boxes:
        if box.style["white_space"] == "nowrap":
            kept.update(range(at + 1, at + len(box.text)))
        at += len(box.text)
    marks = get_log_attrs(text, boxes[0].style["lang"])
    yield from (number for number in range(len(text)) if marks[number].is_line_break and number not in kept)


def _texts(box: Any) -> Iterator[Any]:
    """The texts of a line that take room."""
    if hasattr(box, "text"):
        yield box
    for child in _in_flow(box):
        yield from _texts(child)


def _missing(block: Any) -> Iterator[str]:
    """Letters of a block that the face they are set in does not have."""
    if hasattr(block, "text"):
        letters = letters_of(_face(block.style))
        yield from (letter for letter in block.text if ord(letter) not in letters and not letter.isspace())
    for child in _everything(block):
        yield from _missing(child)


def _face(style: Any) -> str:
    """The bundled face nearest to what a style asks for."""
    family, weight, slanted = style["font_family"][0], style["font_weight"], style["font_style"] != "normal"
    own = [(name, face) for name, face in FACES.items() if face.family == family]
    return min(own, key=lambda one: (one[1].italic is not slanted, abs(one[1].weight - weight)))[0]


class VersionBlocks:
    """Blocks put together from their parts, once for each wording."""

    def __init__(self, content: Content, galley: Galley) -> None:
        self._content = content
        self._galley = galley
        self._blocks: dict[tuple[str, tuple[str, ...]], Block] = {}
        self._parts: dict[tuple[str, Version], tuple[str, ...]] = {}
        self._more: dict[str, float] = {}

    def block_of(self, name: str, version: Version) -> Block:
        """A block as it stands in a version. What a theme of one's own does not set takes no room."""
        if (name, version) not in self._parts:
            self._parts[name, version] = self._content.block(name).parts(version.wordings)
        key = name, self._parts[name, version]
        if key not in self._blocks:
            block = self._galley.blocks.get(name, Block(name, (), 0.0))
            block = block.with_parts(part for part in key[1] if part in block.parts)
            self._blocks[key] = replace(block, fixed=block.fixed + self._more.get(name, 0.0))
        return self._blocks[key]

    def raise_by(self, ems: Mapping[str, float]) -> None:
        """Reckon these blocks so much higher from now on."""
        for name, more in ems.items():
            self._more[name] = self._more.get(name, 0.0) + more
        self._blocks.clear()


def risen(seen: Mapping[str, float], reckoned: Mapping[str, float], em: float) -> dict[str, float]:
    """Blocks that came out higher than reckoned, and by how many ems; the heights and the em are in millimetres."""
    more = {name: seen[name] - high for name, high in reckoned.items() if name in seen}
    return {name: over / em for name, over in more.items() if over > HAIR_MM}
