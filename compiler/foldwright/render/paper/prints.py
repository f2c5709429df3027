"""A picture for paper: how narrow it may be and still be read, how high it is at a width, and the picture itself.

Nothing is set smaller than asked. A plan that would need smaller type at a width has no picture of that width.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Picture
from foldwright.document.words import plain
from foldwright.geometry.scene import LineKind, Scene
from foldwright.measure.length import System
from foldwright.memory import Memory
from foldwright.render.drawing.inscriptions import LetterManner
from foldwright.render.drawing.label import LARGE_PARTS
from foldwright.render.drawing.layout import LARGEST_SCALE, DrawingLayout, Placing, Terms
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import write_down
from foldwright.render.photos import ReadyPhoto, reduced
from foldwright.render.units import MM_PER_INCH, MM_PER_POINT

TEXT_PT = 8.0
"""Names on a plan have to have 8 points and figures 7; both are set in 8, the figures of fractions a little smaller."""
WIDEST_MM = 200.0
"""No page for a card is wider."""
_FAMILY = "Foldwright Sans"
_NARROWEST_MM = 15.0
"""A label of five letters or figures and the piece beside it need more than this."""
_STEP_MM = 0.1
"""Widths are cut to tenths of a millimetre, so that a search finds again what it has asked before."""
_LEAST_SIDE_MM, _LEAST_PANEL_MM = 15.0, 1.4
"""Below these a piece is a blot: five times as large as the labels round it, and panels twice the 0.7 mm that ISO 128
(from memory) wants between two parallel lines, as a card is read from a step away."""
_LEAST_PART = 0.55
"""The piece takes more of the width than the labels beside it."""
_MOST_FIGURES, _LEAST_BESIDE, _GROWS_MM = 1.5, 0.72, 4.0
"""How high a plan with figures may be beside one without, how large its piece has to be beside that of the other, and
the steps in which a width is looked for."""
_COLUMN_MM = 60.0
"""A plan that shows all its lengths no wider than this (three to the width of a large page, one on a postcard) leaves
none out; others may."""
_AMPLE_SIDE_MM, _AMPLE_PANEL_MM = 70.0, 30.0
"""Beyond these a plan gains nothing: panels as wide as a name of two words in one line, and its length beside it."""
_LEAST_VIEW_MM, _AMPLE_VIEW_MM = 26.0, 46.0
"""The longer side of a thing in space without any figures: below, its flaps cannot be told from its folds; above,
nothing is gained."""
_LEAST_QUIET_MM, _AMPLE_QUIET_MM = 13.0, 90.0
"""The same where a picture stands with its own words, which say what it shows, and leads them."""

_PHOTO_HIGHEST = 4 / 3
"""The height of a photograph as a part of its room's width, at most: one held upright (3 to 4) fills its room, a taller
one stands narrower in it."""
_PHOTO_LEAST_MM = 25.0
"""The longer side of a photograph; below that it is a stamp. A reasoned guess, no source."""
_PHOTO_SHORT_MM = 8.0
"""The shorter side: of a thinner strip nobody knows what it shows. A reasoned guess, no source."""
_FINE, _COARSE = 150, 75
"""Pixels to the inch beyond which paper in the hand looks no better, and below which it looks torn: common practice."""
_SHARP = 300
"""Pixels to the inch that are printed: more are not seen and make files slow. Common practice."""
_DRAWN: Memory[Drawing | Unfit] = Memory(256)
"""With all widths at which they have been placed."""


class Unfit(Enum):
    """Why a picture cannot be printed at any width."""

    CROWDED = "crowded"
    """A plan whose labels find no room, or whose panels run together, even on the widest page."""
    SLENDER = "slender"
    """A photograph so long and thin that it would be a line."""
    COARSE = "coarse"
    """A photograph of too few pixels for the smallest size that shows anything."""


def drawn(
    picture: Picture,
    system: System,
    text_pt: float = TEXT_PT,
    quiet: bool = False,
    manner: DrawingManner = DrawingManner.PLAIN,
) -> Drawing | Unfit:
    """A sheet's picture in one unit system, its text `text_pt` points high. Raises ValueError for less than 8.

    One that may be `quiet` is drawn without any figures where they have no room: the words beside it tell them.
    """
    name = picture.name, picture.kind, system, text_pt, quiet, manner
    return _DRAWN.of(name, picture, lambda: _drawn(picture, system, text_pt, quiet, manner))


def _drawn(picture: Picture, system: System, text_pt: float, quiet: bool, manner: DrawingManner) -> Drawing | Unfit:
    if text_pt < TEXT_PT:
        raise ValueError(f"type of {text_pt} pt is too small for paper")
    alt = f"{plain(picture.title, system).rstrip('.')}. {picture.describes.of(system)}".strip()
    plans = _Plans(picture, system, text_pt, quiet, manner, drops=False)
    least = plans.least()
    if least is None or least > _COLUMN_MM:
        plans = _Plans(picture, system, text_pt, quiet, manner, drops=True)
        least = plans.least()
    if quiet and not _is_view(picture):
        without = replace(picture, scene=replace(picture.scene, dimensions=(), captions=(), callouts=()))
        silent = _drawn(without, system, text_pt, quiet, manner)
        if isinstance(silent, Drawing):
            return Drawing(plans, least, alt, silent) if least is not None else silent
    return Unfit.CROWDED if least is None else Drawing(plans, least, alt)


class Drawing:
    """A plan. Where a width between happens to hold no legible plan, the next narrower one is enlarged to it.

    With a `silent` one, that stands for it where its figures have no room.
    """

    def __init__(self, plans: _Plans, least_mm: float, alt: str, silent: Drawing | None = None) -> None:
        self._plans = plans
        self._layouts: dict[float, DrawingLayout] = {}
        """By the width that was asked for."""
        self._figured_mm = least_mm
        self._silent: Drawing | None = None
        if silent:
            self._figured_mm = next((wide for wide in _widths(least_mm) if self._worth(wide, silent)), WIDEST_MM)
            self._silent = silent
            # From here on nothing narrower than that shows any.
            self._layouts.clear()
        self.least_mm: float = min(self._figured_mm, silent.least_mm) if silent else least_mm
        self.most_mm: float = plans.most(least_mm)
        self.alt = alt

    @property
    def told_mm(self) -> float:
        """From which width on it shows its figures."""
        return self._figured_mm

    def _worth(self, width: float, silent: Drawing) -> bool:
        """Whether the figures take no more of a picture than the piece does, and leave it nearly as large."""
        mine, bare = self._layout(width), silent._layout(max(width, silent.least_mm))
        low = self.height_at(width) <= _MOST_FIGURES * silent.height_at(max(width, silent.least_mm))
        return low and mine.scale >= _LEAST_BESIDE * bare.scale

    def height_at(self, width_mm: float) -> float:
        """Millimetres. Raises ValueError below the least width."""
        if self._silent and width_mm < self._figured_mm:
            return self._silent.height_at(width_mm)
        layout = self._layout(width_mm)
        return layout.height * _cut(width_mm) / layout.width

    def svg_at(self, width_mm: float) -> str:
        """The plan as SVG text with a title, all in one face. Raises ValueError below the least width."""
        if self._silent and width_mm < self._figured_mm:
            return self._silent.svg_at(width_mm)
        layout = self._layout(width_mm)
        plans, larger = self._plans, _cut(width_mm) / layout.width
        return write_down(plans.scene, layout, self.alt, family=_FAMILY, enlarged=larger, manner=plans.manner)

    def _layout(self, width_mm: float) -> DrawingLayout:
        width = _cut(width_mm)
        if layout := self._layouts.get(width):
            return layout
        if width > self._figured_mm - _STEP_MM / 2:
            # Every whole millimetre from below the width down to the least.
            for narrower in (width, *map(float, range(ceil(width) - 1, round(self._figured_mm) - 1, -1))):
                if layout := self._plans.at(narrower):
                    self._layouts[width] = layout
                    return layout
        raise ValueError(f"a plan {width_mm:.1f} mm wide cannot be read; it needs {self._figured_mm:.0f} mm")


def _widths(least: float) -> Iterator[float]:
    """Widths from the least that can be read to the widest."""
    yield from (least + step * _GROWS_MM for step in range(int((WIDEST_MM - least) / _GROWS_MM) + 1))


class _Plans:
    """The plans of one scene at all widths that have been asked for."""

    def __init__(
        self, picture: Picture, system: System, text_pt: float, quiet: bool, manner: DrawingManner, drops: bool
    ) -> None:
        self.scene, self.manner = manner.posed(picture.scene), manner
        self._labels = picture.labels.of(system)
        self._words = picture.words
        # Sizes are written to a hundredth of a millimetre: up to one, or 8 points would be a little less.
        self._size = ceil(text_pt * MM_PER_POINT * 100 - 1e-6) / 100
        least_view, ample_view = (_LEAST_QUIET_MM, _AMPLE_QUIET_MM) if quiet else (_LEAST_VIEW_MM, _AMPLE_VIEW_MM)
        self._terms = Terms(
            LetterManner(shrinks=False, cut=LARGE_PARTS),
            drops,
            _scale_for(self.scene, least_view, 0.0 if quiet else _LEAST_PANEL_MM)
            if _is_view(picture)
            else _scale_for(self.scene, _LEAST_SIDE_MM, _LEAST_PANEL_MM),
            least_part=_LEAST_PART,
        )
        ample = (ample_view, 0.0) if _is_view(picture) else (_AMPLE_SIDE_MM, _AMPLE_PANEL_MM)
        self._ample = _scale_for(self.scene, *ample)
        self._layouts: dict[int, DrawingLayout | None] = {}

    def at(self, width: float) -> DrawingLayout | None:
        """None where it could not be read."""
        key = round(width / _STEP_MM)
        if key not in self._layouts:
            placing = Placing(self._terms, self.scene, self._labels, width, self._size, self._words)
            self._layouts[key] = placing.layout()
        return self._layouts[key]

    def least(self) -> float | None:
        """The narrowest width that holds a legible plan, in whole millimetres, found by halving."""
        return self._first(_NARROWEST_MM, 0.0) if self.at(WIDEST_MM) else None

    def most(self, least: float) -> float:
        """Where the piece is as large as is any use, in whole millimetres."""
        return self._first(least, self._ample * 0.999)

    def _first(self, low: float, scale: float) -> float:
        """The narrowest width above `low` with a plan at `scale` or a larger one; the widest when there is none."""
        high = WIDEST_MM
        while high - low > 1.0:
            middle = float((low + high) // 2)
            layout = self.at(middle)
            if layout is None or layout.scale < scale:
                low = middle
            else:
                high = middle
        return high


def _is_view(picture: Picture) -> bool:
    """Whether it shows a thing in space, with nothing written on it."""
    scene = picture.scene
    return not (scene.dimensions or scene.captions or scene.callouts)


def _cut(width_mm: float) -> float:
    """To whole steps, never wider than asked."""
    return int(width_mm / _STEP_MM + 1e-6) * _STEP_MM


def _scale_for(scene: Scene, side: float, panel: float) -> float:
    """The scale at which the longer side has so many millimetres, and the panels of a row so many on the average."""
    longer = side / max(scene.width, scene.height)
    across, down = _panels(scene)
    return min(LARGEST_SCALE, max(longer, panel * across / scene.width, panel * down / scene.height))


def _panels(scene: Scene) -> tuple[int, int]:
    """How many panels there are side by side and under one another, counted by the scores and cuts between them."""
    across: set[float] = set()
    down: set[float] = set()
    for stroke in scene.strokes:
        if len(stroke.points) == 2 and stroke.kind is not LineKind.CENTRE:
            (x1, y1), (x2, y2) = stroke.points
            if abs(x1 - x2) < abs(y1 - y2):
                across.add(round(x1, 3))
            else:
                down.add(round(y1, 3))
    return len(across) + 1, len(down) + 1


def photographed(photo: ReadyPhoto, shows: str) -> PrintedPhoto | Unfit:
    """A photograph and the words for what it shows."""
    # Of a width of one, how wide and high it is shown.
    part = min(1.0, _PHOTO_HIGHEST * photo.width / photo.height)
    high = part * photo.height / photo.width
    least = max(_PHOTO_LEAST_MM / max(part, high), _PHOTO_SHORT_MM / min(part, high))
    pixels = photo.width / part * MM_PER_INCH
    if least > WIDEST_MM:
        return Unfit.SLENDER
    if pixels / _COARSE < least:
        return Unfit.COARSE
    return PrintedPhoto(photo, shows, least, max(least, min(pixels / _FINE, WIDEST_MM)))


class PrintedPhoto(Struct, frozen=True):
    """A photograph. One taller than four to three stands in the middle of its room and does not fill the width."""

    photo: ReadyPhoto
    alt: str
    least_mm: float
    most_mm: float

    @property
    def told_mm(self) -> float:
        return self.least_mm

    def height_at(self, width_mm: float) -> float:
        return self.size_at(width_mm)[1]

    def size_at(self, width_mm: float) -> tuple[float, float]:
        """How wide and high it is shown in a room of this width, in millimetres."""
        ratio = self.photo.height / self.photo.width
        height = min(ratio, _PHOTO_HIGHEST) * width_mm
        return height / ratio, height

    def at(self, width_mm: float) -> ReadyPhoto:
        """The photograph with as many pixels as a room of this width wants."""
        return reduced(self.photo, ceil(self.size_at(width_mm)[0] / MM_PER_INCH * _SHARP))
