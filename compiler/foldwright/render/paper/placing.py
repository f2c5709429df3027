"""Pages of small things laid by measure (labels, place cards): a tagged PDF without the typesetter's own layout.

What a theme says is read off a specimen: a page with one text of each kind, laid out once. The rest is arithmetic and
drawing, some twenty times faster than boxes would be; and pages that are alike are drawn once, however many there are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import copy
from functools import cache
from typing import Any

from msgspec import Struct

from foldwright.render.paper.shaping import Lettering, Pen, from_right, width_mm
from foldwright.render.paper.typesetting import PDF_VARIANT, Asset, Typeset, referred, typeset
from foldwright.render.units import MM_PER_PX, POINTS_PER_PX

type Told = Callable[[int, int], None]
"""Is called with how many are done, and of how many."""
_DASH_MM = 1.2


class BoxFrame(Struct, frozen=True):
    """A box of the specimen: its line, its ground if it has one, and how far what stands in it keeps from its edge.

    `margin` is how far it keeps itself from the edge of what it is in. In millimetres.
    """

    inset_across: float
    inset_down: float
    line: float
    colour: Any
    ground: Any = None
    double: bool = False
    margin: float = 0.0
    centred: bool = False
    at_right: bool = False


class Specimen(Struct, frozen=True):
    """What a theme says: letterings and frames by the names of their classes, and a document to make others of."""

    made: Typeset
    letterings: Mapping[str, Lettering]
    frames: Mapping[str, BoxFrame]


class PlacedWords(Struct, frozen=True):
    """Lines of a text; `top` is that of the first, in millimetres from the top of the block."""

    lines: tuple[str, ...]
    lettering: Lettering
    size: float
    top: float

    @property
    def high(self) -> float:
        return high_mm(len(self.lines), self.lettering, self.size)


class PlacedRule(Struct, frozen=True):
    """A level line, in millimetres from the upper left corner of the block."""

    left: float
    top: float
    width: float
    dashed: bool = False


class PlacedPanel(Struct, frozen=True):
    """A box on the block in the manner of a frame: its ground, its line. In millimetres."""

    left: float
    top: float
    width: float
    height: float
    look: BoxFrame


class StampSpot(Struct, frozen=True):
    """Where a picture stands on the block, in millimetres; `name` is that in the table of pictures."""

    name: str
    left: float
    top: float
    width: float
    height: float


class PlacedBlock(Struct, frozen=True, eq=False):
    """What stands in a place as wide as `width`; its frame, its texts between the insets, its rules.

    Texts keep `left` and `right` further away from its edges, beside a picture.
    """

    width: float
    height: float
    frame: BoxFrame
    words: tuple[PlacedWords, ...]
    rules: tuple[PlacedRule, ...] = ()
    centred: bool = False
    panels: tuple[PlacedPanel, ...] = ()
    picture: StampSpot | None = None
    left: float = 0.0
    right: float = 0.0


type Places = Sequence[tuple[float, float]]
"""Upper left corners on a page in millimetres, in the order in which they are filled."""


def high_mm(lines: int, lettering: Lettering, size: float) -> float:
    """How high so many lines are."""
    return lines * size * lettering.leading / POINTS_PER_PX * MM_PER_PX


def specimen_of(made: Typeset) -> Specimen:
    """Everything with a class on a page that was laid out: texts as letterings, what holds them as frames."""
    letterings: dict[str, Lettering] = {}
    frames: dict[str, BoxFrame] = {}
    for box in _boxes(made.boxes[0]):
        name = box.element.get("class") if box.element is not None else None
        children: Sequence[Any] = getattr(box, "children", None) or ()
        if not name or not children:
            continue
        line = children[0]
        if hasattr(line, "baseline") and getattr(line, "children", None):
            text = line.children[0]
            size = text.style["font_size"]
            letterings[name] = Lettering(
                text.style, line.height / size, line.baseline / size, box.margin_bottom * MM_PER_PX
            )
        else:
            frames[name] = _frame_of(box)
    return Specimen(made, letterings, frames)


def _frame_of(box: Any) -> BoxFrame:
    style, ground = box.style, box.style["background_color"]
    across, down = (box.padding_left + box.border_left_width), (box.padding_top + box.border_top_width)
    return BoxFrame(
        across * MM_PER_PX,
        down * MM_PER_PX,
        box.border_top_width * MM_PER_PX,
        style["border_top_color"],
        ground if ground.alpha else None,
        style["border_top_style"] == "double",
        box.margin_left * MM_PER_PX,
        style["text_align_all"] == "center",
        style["float"] == "right",
    )


def second_half(told: Told | None) -> Told | None:
    """For drawing, where fitting was told as the first half of the work."""
    return told and (lambda done, every: told(every + done, 2 * every))


def _boxes(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", None) or ():
        yield from _boxes(child)


def placed_pdf(
    blocks: Sequence[PlacedBlock],
    places: Places,
    size: tuple[float, float],
    specimen: Specimen,
    title: str,
    told: Told | None = None,
    pictures: Mapping[str, Asset] | None = None,
) -> bytes:
    """The blocks one after the other, page by page, as a tagged PDF. `size` is the page's, in millimetres."""
    leaves = [tuple(blocks[at : at + len(places)]) for at in range(0, len(blocks), len(places))]
    distinct = {leaf: number for number, leaf in enumerate(dict.fromkeys(leaves))}
    plain = specimen.made.boxes[0].copy_with_children([])
    tools = _Tools(Pen(), _PictureStamps(pictures or {}))
    pages = [_PdfPage(leaf, places, size, plain, tools) for leaf in distinct]
    for number, page in enumerate(pages):
        page.told = (told, number + 1, len(pages))
    document = specimen.made.document.copy(pages)
    document.metadata = copy(document.metadata)
    document.metadata.title = title
    order = [distinct[leaf] for leaf in leaves]
    data: bytes = document.write_pdf(
        pdf_variant=PDF_VARIANT, finisher=lambda _, pdf: _finished(pdf, [page.marked for page in pages], order)
    )
    return data


class _PictureStamps:
    """Pictures that come many times: each is drawn once into the document, and stamped wherever it stands."""

    def __init__(self, pictures: Mapping[str, Asset]) -> None:
        self._pictures, self._drawn = pictures, dict[str, tuple[Any, Any]]()
        self._stamps: dict[tuple[str, float, float], str] = {}

    def draw(self, stream: Any, spot: StampSpot, place: tuple[float, float]) -> None:
        """Put it where it stands on the block at `place`."""
        width, height = spot.width / MM_PER_PX, spot.height / MM_PER_PX
        key = spot.name, spot.width, spot.height
        if key not in self._stamps:
            image, style = self._ready(spot.name)
            group = stream.add_group(0, 0, width, height)
            image.draw(group, width, height, style)
            self._stamps[key] = group.id
        with stream.stacked():
            stream.transform(e=(place[0] + spot.left) / MM_PER_PX, f=(place[1] + spot.top) / MM_PER_PX)
            stream.draw_x_object(self._stamps[key])

    def _ready(self, name: str) -> tuple[Any, Any]:
        """A picture as the typesetter draws it, and the style it does it in."""
        if name not in self._drawn:
            made = typeset(f'<img src="asset:{name}">', "", assets={name: self._pictures[name]})
            box = next(one for one in _boxes(made.boxes[0]) if hasattr(one, "replacement"))
            self._drawn[name] = box.replacement, box.style
        return self._drawn[name]


class _Tools(Struct, frozen=True):
    """What all pages of a document are drawn with."""

    pen: Pen
    stamps: _PictureStamps


class _PdfPage:
    """A page as the typesetter's writer of PDFs takes it: nothing on it is linked, named or bookmarked."""

    def __init__(
        self, leaf: Sequence[PlacedBlock], places: Places, size: tuple[float, float], plain: Any, tools: _Tools
    ) -> None:
        self.width, self.height = (side / MM_PER_PX for side in size)
        self.bleed = dict.fromkeys(("top", "right", "bottom", "left"), 0)
        self.bookmarks: list[Any] = []
        self.links: list[Any] = []
        self.anchors: dict[str, Any] = {}
        self.forms: dict[Any, list[Any]] = {None: []}
        self.told: tuple[Told | None, int, int] = (None, 0, 0)
        self.marked: list[int] = []
        """How many texts each block has; they are numbered one after the other."""
        self._page_box = plain
        self._leaf, self._places, self._tools = leaf, places, tools

    def paint(self, stream: Any, scale: float) -> None:
        with stream.stacked():
            stream.transform(a=scale, d=scale)
            with stream.artifact():
                for block, place in zip(self._leaf, self._places, strict=False):
                    _draw_panels(stream, block, place)
                    _draw_lines(stream, block, place)
                    if block.picture:
                        self._tools.stamps.draw(stream, block.picture, place)
            number = 0
            for block, place in zip(self._leaf, self._places, strict=False):
                for words in block.words:
                    _draw_words(stream, self._tools.pen, words, block, place, number)
                    number += 1
                self.marked.append(len(block.words))
        told, done, every = self.told
        if told:
            told(done, every)


def _draw_panels(stream: Any, block: PlacedBlock, place: tuple[float, float]) -> None:
    """Grounds and frames; of a double line each takes a third of its width."""
    for panel in block.panels:
        left, top = (place[0] + panel.left) / MM_PER_PX, (place[1] + panel.top) / MM_PER_PX
        width, height = panel.width / MM_PER_PX, panel.height / MM_PER_PX
        if panel.look.ground is not None:
            stream.set_color(panel.look.ground)
            stream.rectangle(left, top, width, height)
            stream.fill()
        line = panel.look.line / MM_PER_PX
        third = line / 3
        lines = [(third / 2, third), (line - third / 2, third)] if panel.look.double else [(line / 2, line)]
        for inset, thick in lines if line else ():
            stream.set_color(panel.look.colour, stroke=True)
            stream.set_line_width(thick)
            stream.rectangle(left + inset, top + inset, width - 2 * inset, height - 2 * inset)
            stream.stroke()


def _draw_lines(stream: Any, block: PlacedBlock, place: tuple[float, float]) -> None:
    left, top = (side / MM_PER_PX for side in place)
    frame = block.frame
    stream.set_color(frame.colour, stroke=True)
    if frame.line:
        stream.set_line_width(frame.line / MM_PER_PX)
        stream.rectangle(left, top, block.width / MM_PER_PX, block.height / MM_PER_PX)
        stream.stroke()
    for rule in block.rules:
        stream.set_line_width(max(frame.line, 0.15) / MM_PER_PX)
        stream.set_dash([_DASH_MM / MM_PER_PX] if rule.dashed else [], 0)
        across, down = left + rule.left / MM_PER_PX, top + rule.top / MM_PER_PX
        stream.move_to(across, down)
        stream.line_to(across + rule.width / MM_PER_PX, down)
        stream.stroke()
    if block.rules:
        stream.set_dash([], 0)


def _draw_words(
    stream: Any, pen: Pen, words: PlacedWords, block: PlacedBlock, place: tuple[float, float], number: int
) -> None:
    import pydyf

    inset, line_high = block.frame.inset_across + block.left, words.high / len(words.lines)
    room = block.width - inset - block.frame.inset_across - block.right
    stream.begin_marked_content("P", pydyf.Dictionary({"MCID": number}))
    for at, line in enumerate(words.lines):
        spare = room - width_mm(line, words.lettering, words.size)
        shift = spare / 2 if block.centred else spare if from_right(words.lines[0]) else 0.0
        left = (place[0] + inset + shift) / MM_PER_PX
        top = (place[1] + words.top + at * line_high) / MM_PER_PX
        pen.line(
            stream, line, words.lettering, words.size, left, top + words.lettering.baseline * words.size / POINTS_PER_PX
        )
    stream.end_marked_content()


def _finished(pdf: Any, marked: Sequence[Sequence[int]], order: Sequence[int]) -> None:
    """Give the PDF its pages in order, each as often as it comes, and to each block on them a section of paragraphs.

    A page that comes again has the first one's content and sections of its own (ISO 32000-1, 14.7.4.3 and 14.7.4.4).
    """
    import pydyf

    drawn = [pdf.objects[number] for number in pdf.pages["Kids"][::3]]
    root = referred(pdf, pdf.catalog["StructTreeRoot"])
    document = referred(pdf, root["K"][0])
    numbers = pydyf.Array()
    pdf.pages["Kids"], pdf.pages["Count"] = pydyf.Array(), 0
    used: set[int] = set()
    for at, which in enumerate(order):
        page = drawn[which]
        if which in used:
            page = pydyf.Dictionary(page)
            pdf.add_object(page)
        used.add(which)
        page["StructParents"] = at
        pdf.pages["Kids"].extend([page.number, 0, "R"])
        pdf.pages["Count"] += 1
        numbers.extend([at, pydyf.Array(_sections(pdf, document, page, marked[which]))])
    root["ParentTreeNextKey"] = len(order)
    referred(pdf, root["ParentTree"])["Nums"] = numbers


def _sections(pdf: Any, document: Any, page: Any, marked: Sequence[int]) -> Iterator[bytes]:
    """For each text of a page the element it is of, in order."""
    number = 0
    for count in marked:
        section = len(pdf.objects)
        texts = [b"%d 0 R" % (section + 1 + at) for at in range(count)]
        pdf.add_object(_written()(b"<</S/Sect/P %s/K[%s]>>" % (document.reference, b" ".join(texts))))
        document["K"].append(b"%d 0 R" % section)
        for _ in range(count):
            pdf.add_object(_written()(b"<</S/P/P %d 0 R/Pg %s/K %d>>" % (section, page.reference, number)))
            number += 1
        yield from texts


@cache
def _written() -> Any:
    """An object of a PDF whose bytes are known: there may be tens of thousands."""
    import pydyf

    class Written(pydyf.Object):  # type: ignore[misc]
        def __init__(self, data: bytes) -> None:
            super().__init__()
            self._data = data

        @property
        def data(self) -> bytes:
            return self._data

    return Written
