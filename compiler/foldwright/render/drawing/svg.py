"""A scene as SVG text: an exact, print-ready drawing in millimetres, right in grey and in colour alike.

No ids are used, so any number of drawings may stand in one page. Presentation attributes give every line and tone its
look on paper; the rules in `pens.STYLES` let a page restyle them by class.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from html import escape

from msgspec.structs import replace

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Face, LineKind, PaperLook, Scene
from foldwright.render.drawing.faces import FaceDrawer, is_there, shaded, shading, tone_of
from foldwright.render.drawing.inscriptions import Box
from foldwright.render.drawing.label import label_markup
from foldwright.render.drawing.layout import LARGEST_SCALE, DrawingLayout, PlacedText, lay_out
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.pens import (
    ANY_PAPER,
    DOUBT_INK,
    EDGE,
    FINE,
    FINE_INK,
    INK,
    LIGHT_INK,
    SCORE,
    is_dark,
    pen_of,
)
from foldwright.render.drawing.picks import picked
from foldwright.render.drawing.signs import draw_signs
from foldwright.render.drawing.strokes import arrow_paths, dashes_of, kind_of_line, stroke_paths, worked

FAMILY = "Source Sans Pro, Foldwright Sans, sans-serif"
_BASELINE = 0.33
"""How far below the middle of a figure its base line lies, in ems (figures of Source Sans are 0.65 em high)."""
_STAGE_MARGIN = 0.5
_HIDDEN = 'aria-hidden="true"'
_TEXT_INK = {"dim": INK, "name": INK, "role": FINE_INK, "doubt": DOUBT_INK}


def draw(
    scene: Scene,
    labels: Mapping[LengthId, str],
    width_mm: float,
    text_pt: float,
    title: str = "",
    describes: str = "",
    words: Mapping[str, str] | None = None,
    largest: float = LARGEST_SCALE,
    manner: DrawingManner = DrawingManner.PLAIN,
) -> str:
    """The scene as SVG `width_mm` wide, as high as it needs, with text of `text_pt` points.

    `labels` are the figures ready to set (`4 1⁄8 in`), one for each length to show; `words` stand for the codes of
    captions that are no author's words. `title` and `describes` are what a reader hears who cannot see the picture.
    """
    shown, said = tuple(labels.items()), tuple((words or {}).items())
    return drawn(manner.posed(scene), shown, width_mm, text_pt, title, describes, said, largest, manner)


@lru_cache(maxsize=2048)
def drawn(
    scene: Scene,
    labels: tuple[tuple[LengthId, str], ...],
    width_mm: float,
    text_pt: float,
    title: str,
    describes: str,
    words: tuple[tuple[str, str], ...],
    largest: float = LARGEST_SCALE,
    manner: DrawingManner = DrawingManner.PLAIN,
) -> str:
    """Kept by what it shows, so that a piece nobody has changed is drawn once."""
    layout = lay_out(scene, dict(labels), width_mm, text_pt, dict(words), largest)
    return write_down(scene, layout, title, describes, manner=manner)


def write_down(
    scene: Scene,
    layout: DrawingLayout,
    title: str = "",
    describes: str = "",
    family: str = FAMILY,
    enlarged: float = 1.0,
    manner: DrawingManner = DrawingManner.PLAIN,
) -> str:
    """A scene as it has been laid out (posed for its `manner` before), as SVG; `enlarged` so many times as a whole."""
    in_space = any(face.shade for face in scene.faces)
    role = "group" if scene.picks else "img"
    return "".join(
        [
            _opening(layout.width, layout.height, f'role="{role}" font-family="{family}"', enlarged),
            f"<title>{escape(title, quote=False)}</title>" if title else "",
            f"<desc>{escape(describes, quote=False)}</desc>" if describes else "",
            *FaceDrawer(scene, layout, manner).drawn(),
            *_fine_lines(layout),
            *stroke_paths(worked(scene.strokes), layout, dashes_of(scene, layout.scale)),
            *_ticks(layout),
            *arrow_paths(scene.arrows, layout),
            *draw_signs(scene, layout),
            *(_plate(text) for text in layout.texts if in_space),
            *picked(scene, layout, _text),
            "</svg>",
        ]
    )


def _opening(width: float, height: float, more: str, enlarged: float = 1.0) -> str:
    """Lengths and coordinates are written to a hundredth of a millimetre throughout."""
    shown = f'width="{width * enlarged:.2f}mm" height="{height * enlarged:.2f}mm"'
    size = f'{shown} viewBox="0 0 {width:.2f} {height:.2f}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {more}>'


def _line(line: Box) -> str:
    x1, y1, x2, y2 = line
    if x1 == x2:
        return f"M{x1:.2f} {y1:.2f}V{y2:.2f}"
    if y1 == y2:
        return f"M{x1:.2f} {y1:.2f}H{x2:.2f}"
    return f"M{x1:.2f} {y1:.2f}L{x2:.2f} {y2:.2f}"


def _fine_lines(layout: DrawingLayout) -> Iterator[str]:
    for lines, name, ink in ((layout.fine, "fine", FINE_INK), (layout.doubtful, "doubt-line", DOUBT_INK)):
        if lines:
            path = "".join(map(_line, lines))
            yield f'<path class="{name}" fill="none" stroke="{ink}" stroke-width="{FINE}" d="{path}"/>'
    for x, y in layout.dots:
        place = f'cx="{x:.2f}" cy="{y:.2f}" r="{EDGE}"'
        yield f'<circle class="dot" fill="{FINE_INK}" {place}/>'


def _ticks(layout: DrawingLayout) -> Iterator[str]:
    """A short slanting stroke at each end of a dimension line."""
    if not layout.ticks:
        return
    half = 0.2 * layout.size
    path = "".join([f"M{x - half:.2f} {y + half:.2f}L{x + half:.2f} {y - half:.2f}" for x, y in layout.ticks])
    yield f'<path class="line tick" fill="none" stroke="{INK}" stroke-width="{SCORE}" d="{path}"/>'


def _plate(text: PlacedText) -> str:
    """A light ground under a number on a thing in space, whose faces may be dark."""
    left, top, right, bottom = text.box
    across, down = right - left, bottom - top
    # Round at the ends of the text, which may be turned.
    thick = min(across, down)
    more_across, more_down = (0.0, 0.3 * thick) if down > across else (0.3 * thick, 0.0)
    place = (
        f'x="{left - more_across / 2:.2f}" y="{top - more_down / 2:.2f}" '
        f'width="{across + more_across:.2f}" height="{down + more_down:.2f}" rx="{thick / 2:.2f}"'
    )
    return f'<rect class="face-plain plate" fill="#ffffff" {place}/>'


def _text(text: PlacedText) -> str:
    size = text.size
    inner = label_markup(text.label, size)
    look = f'class="{text.style}" fill="{_TEXT_INK[text.style]}" font-size="{size:.2f}" text-anchor="middle"'
    if text.turned:
        spot = f"{text.x + _BASELINE * size:.2f} {text.y:.2f}"
        return f'<text {look} transform="translate({spot}) rotate(-90)">{inner}</text>'
    return f'<text {look} x="{text.x:.2f}" y="{text.y + _BASELINE * size:.2f}">{inner}</text>'


def draw_stages(stages: Sequence[Scene], width_mm: float, manner: DrawingManner = DrawingManner.PLAIN) -> str:
    """Scenes in one frame as groups of one drawing, each face a single shape that the page's style draws. The last is
    shaded in its `manner`, as it is what one compares."""
    margin = _STAGE_MARGIN
    scale = (width_mm - 2 * margin) / stages[0].width
    high = stages[0].height * scale + 2 * margin
    papers = stages[0].papers or (ANY_PAPER,)
    groups = []
    for number, stage in enumerate(stages, 1):
        shown = manner if number == len(stages) else DrawingManner.PLAIN
        groups.append(f"<g>{''.join(_staged(face, papers, scale, margin, shown) for face in stage.faces)}</g>")
    line = f'stroke="{INK}" stroke-width="{EDGE}" stroke-linejoin="round"'
    return f"{_opening(width_mm, high, f'{_HIDDEN} {line}')}{''.join(groups)}</svg>"


def _staged(turned: Face, papers: Sequence[PaperLook], scale: float, margin: float, manner: DrawingManner) -> str:
    rings = [[(x * scale + margin, y * scale + margin) for x, y in ring] for ring in (turned.outline, *turned.gaps)]
    strokes = shading(turned, papers, rings, manner)
    tone = tone_of(replace(turned, shade=1) if strokes else turned, papers)
    light = f' stroke="{LIGHT_INK}"' if is_dark(tone) else ""
    way = "".join(f"M{'L'.join(f'{x:.1f} {y:.1f}' for x, y in ring)}Z" for ring in rings)
    return f'<path fill="{tone}"{light} d="{way}"/>{shaded(tone, strokes) if strokes else ""}'


LEGEND_WIDTH, LEGEND_HEIGHT = 12.0, 3.0
"""Millimetres of one legend picture."""


_TELL_THEMSELVES = (LineKind.CENTRE, LineKind.INKED)


def kinds_in(scene: Scene) -> tuple[LineKind, ...]:
    """The kinds of line a legend has to explain, in the order they are defined."""
    shown = {stroke.kind for stroke in worked(scene.strokes)}
    for face in scene.faces:
        shown |= {kind_of_line(stroke, is_there(face)) for stroke in face.edges}
    return tuple(kind for kind in LineKind if kind in shown and kind not in _TELL_THEMSELVES)


def draw_legend(kinds: Iterable[LineKind]) -> tuple[tuple[LineKind, str], ...]:
    """For each kind of line a small picture of it; the words beside it are the page's."""
    opening = _opening(LEGEND_WIDTH, LEGEND_HEIGHT, _HIDDEN)
    line = f"M0.5 {LEGEND_HEIGHT / 2}H{LEGEND_WIDTH - 0.5}"
    return tuple((kind, f'{opening}<path {pen_of(kind)} d="{line}"/></svg>') for kind in kinds)
