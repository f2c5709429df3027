"""A scene as SVG text: an exact, print-ready drawing in millimetres, right in grey and in colour alike.

No ids are used, so any number of drawings may stand in one page. Presentation attributes give every line and tone its
look on paper; the rules in `pens.STYLES` let a page restyle them by class.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from html import escape
from math import hypot

from msgspec.structs import replace

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Arrow, Face, LineKind, PaperLook, Point, Scene, Stress, Stroke, Tone
from foldwright.render.drawing.inscriptions import Box
from foldwright.render.drawing.label import label_markup
from foldwright.render.drawing.layout import LARGEST_SCALE, DrawingLayout, PlacedText, lay_out
from foldwright.render.drawing.pens import (
    ANY_PAPER,
    CUT,
    DOUBT_INK,
    EDGE,
    FINE,
    FINE_INK,
    HATCHED,
    INK,
    LIGHT_INK,
    SCORE,
    SHADES,
    TONES,
    dash_scale,
    is_dark,
    paper_tone,
    pen_of,
    wash_of,
)
from foldwright.render.drawing.printing import printed
from foldwright.render.drawing.signs import draw_signs
from foldwright.vocabulary.colours import mixed

FAMILY = "Source Sans Pro, Foldwright Sans, sans-serif"
_BASELINE = 0.33
"""How far below the middle of a figure its base line lies, in ems (figures of Source Sans are 0.65 em high)."""
_HATCH_APART = 1.6
_STAGE_MARGIN = 0.5
_HIDDEN = 'aria-hidden="true"'
_HEAD = 5.5
"""How long an arrow's head is, in widths of its line."""
_STRAIGHT: tuple[Point, Point] = ((1.0, 0.0), (0.0, 1.0))
_SHADED_PRINT = 0.05
_OPAQUE = {True: 0.6, False: 0.25}
"""What is printed on a plan is only hinted at, under its lines."""
_ON_TOP = (LineKind.CUT, LineKind.EDGE)
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
) -> str:
    """The scene as SVG `width_mm` wide, as high as it needs, with text of `text_pt` points.

    `labels` are the figures ready to set (`4 1⁄8 in`), one for each length to show; `words` stand for the codes of
    captions that are no author's words. `title` and `describes` are what a reader hears who cannot see the picture.
    """
    return drawn(
        scene, tuple(labels.items()), width_mm, text_pt, title, describes, tuple((words or {}).items()), largest
    )


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
) -> str:
    """Kept by what it shows, so that a piece nobody has changed is drawn once."""
    return write_down(scene, lay_out(scene, dict(labels), width_mm, text_pt, dict(words), largest), title, describes)


def write_down(
    scene: Scene,
    layout: DrawingLayout,
    title: str = "",
    describes: str = "",
    family: str = FAMILY,
    enlarged: float = 1.0,
) -> str:
    """A scene as it has been laid out, as SVG; `enlarged` so many times as a whole."""
    return "".join(
        [
            _opening(layout.width, layout.height, f'role="img" font-family="{family}"', enlarged),
            f"<title>{escape(title, quote=False)}</title>" if title else "",
            f"<desc>{escape(describes, quote=False)}</desc>" if describes else "",
            *_Faces(scene, layout).drawn(),
            *_fine_lines(layout),
            *_strokes(_worked(scene.strokes), layout, _dashes(scene, layout.scale)),
            *_ticks(layout),
            *_arrows(scene.arrows, layout),
            *draw_signs(scene, layout),
            *map(_text, layout.texts),
            "</svg>",
        ]
    )


def _opening(width: float, height: float, more: str, enlarged: float = 1.0) -> str:
    """Lengths and coordinates are written to a hundredth of a millimetre throughout."""
    shown = f'width="{width * enlarged:.2f}mm" height="{height * enlarged:.2f}mm"'
    size = f'{shown} viewBox="0 0 {width:.2f} {height:.2f}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {more}>'


def _dashes(scene: Scene, scale: float) -> float:
    """One size of dashes for all lines of a picture, so that those of a kind look alike."""
    return dash_scale(((one.kind, one.points) for one in scene.strokes if one.emphasis is not Stress.FAINT), scale)


def _worked(strokes: Sequence[Stroke]) -> Sequence[Stroke]:
    """Where a step is about some of the lines, all other cuts have been made: they are edges."""
    if not any(stroke.emphasis is Stress.STRONG for stroke in strokes):
        return strokes
    edge = (LineKind.CUT, Stress.PLAIN)
    return [replace(one, kind=LineKind.EDGE) if (one.kind, one.emphasis) == edge else one for one in strokes]


class _Faces:
    """The faces of a scene, each with its hatching and its edges, in the colour of its paper."""

    def __init__(self, scene: Scene, layout: DrawingLayout) -> None:
        self._faces, self._layout = scene.faces, layout
        self._papers = scene.papers or (ANY_PAPER,)

    def drawn(self) -> Iterator[str]:
        for face in self._faces:
            tone = _tone_of(face, self._papers)
            ink = LIGHT_INK if face.outline and is_dark(tone) else INK
            if face.outline:
                yield _filled(face, tone, self._layout)
                yield from _pattern(face, self._papers, self._layout)
            if face.tone in HATCHED or face.hatched:
                yield _hatching(face, ink, self._layout)
            if face.edges:
                yield from _strokes(face.edges, self._layout, 1.0, ink if face.shade else "", _is_there(face))


def _is_there(face: Face) -> bool:
    """Whether it is of a thing in space, and not of a plan."""
    return face.shade > 0 or not face.outline


def _on_paper(face: Face) -> bool:
    return face.tone is Tone.GOOD or (face.tone is Tone.PLAIN and face.shade > 0)


def _tone_of(face: Face, papers: Sequence[PaperLook]) -> str:
    if not _on_paper(face):
        return SHADES[face.tone][face.shade - 1] if face.shade and face.tone in SHADES else TONES[face.tone]
    paper = papers[face.paper % len(papers)]
    return paper_tone(paper, face.tone is Tone.GOOD, face.shade) if face.shade else paper.front


def _filled(face: Face, tone: str, layout: DrawingLayout) -> str:
    look = f'class="face-{face.tone.value}" fill="{tone}"'
    if _on_paper(face):
        pale = "" if face.shade else f' fill-opacity="{wash_of(tone)}"'
        look = f'class="{"sheet" if face.shade else "wash"}" fill="{tone}"{pale}'
    if not face.gaps:
        return _shape(face.outline, face.corner, look, layout)
    rings = "".join(_path(ring, layout, closed=True) for ring in (face.outline, *face.gaps))
    return f'<path {look} fill-rule="evenodd" d="{rings}"/>'


def _rings(face: Face, layout: DrawingLayout) -> list[list[Point]]:
    """Outline and gaps in millimetres of the picture."""
    left, top, scale = layout.left, layout.top, layout.scale
    return [[(left + x * scale, top + y * scale) for x, y in ring] for ring in (face.outline, *face.gaps)]


def _pattern(face: Face, papers: Sequence[PaperLook], layout: DrawingLayout) -> Iterator[str]:
    """What is printed on the good side."""
    paper = papers[face.paper % len(papers)]
    if not paper.pattern or face.tone is not Tone.GOOD or face.corner:
        return
    tone = mixed(paper.figure, INK, _SHADED_PRINT * face.shade)
    for way in printed(paper.pattern, _rings(face, layout), *(face.grain or _STRAIGHT)):
        look = f'fill="{tone}" fill-opacity="{_OPAQUE[bool(face.shade)]}" fill-rule="evenodd"'
        yield f'<path class="print" {look} d="{way}"/>'


def _hatching(face: Face, ink: str, layout: DrawingLayout) -> str:
    """Slanting lines across the face, at a spacing of the finished picture: x + y is the same all along each."""
    rings = _rings(face, layout)
    sums = [x + y for x, y in rings[0]]
    parts: list[str] = []
    at = min(sums) + _HATCH_APART / 2
    while at < max(sums):
        crossings = sorted(x for ring in rings for x in _crossings(ring, at))
        for x1, x2 in zip(crossings[::2], crossings[1::2], strict=False):
            parts.append(f"M{x1:.2f} {at - x1:.2f}L{x2:.2f} {at - x2:.2f}")
        at += _HATCH_APART
    look = f'class="fine" stroke="{FINE_INK}"'
    if face.tone is Tone.DOUBT:
        look = f'class="hatch-doubt" stroke="{DOUBT_INK}"'
    elif face.shade:
        look = f'class="edge" stroke="{ink}"'
    return f'<path {look} stroke-width="{FINE}" d="{"".join(parts)}"/>' if parts else ""


def _crossings(ring: Sequence[Point], at: float) -> Iterator[float]:
    """Where the edges of a ring cross the line on which x + y is `at`."""
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        before, after = x1 + y1 - at, x2 + y2 - at
        if (before < 0) != (after < 0):
            yield x1 + (x2 - x1) * before / (before - after)


def _strokes(
    strokes: Sequence[Stroke], layout: DrawingLayout, dashes: float, ink: str = "", there: bool = False
) -> Iterator[str]:
    """Lines of one kind as one path each, cut edges last so that they lie on top. `ink` is that of edges on paper;
    what is cut is an edge once it is `there`."""
    lines: dict[tuple[LineKind, Stress], list[str]] = {}
    shapes: list[str] = []
    for stroke in strokes:
        kind = _kind_of(stroke, there)
        if stroke.closed and stroke.corner:
            look = pen_of(kind, stroke.emphasis, dashes, ink)
            shapes.append(_shape(stroke.points, stroke.corner, look, layout))
        else:
            path = _path(stroke.points, layout, stroke.closed)
            lines.setdefault((kind, stroke.emphasis), []).append(path)
    cuts_last = sorted(lines.items(), key=lambda one: (one[0][0] in _ON_TOP, one[0][0].value, one[0][1].value))
    for (kind, emphasis), paths in cuts_last:
        way = "".join(paths)
        if kind is LineKind.GUIDE:
            yield f'<path class="halo" fill="none" stroke="#ffffff" stroke-width="{CUT}" d="{way}"/>'
        yield f'<path {pen_of(kind, emphasis, dashes, ink)} d="{way}"/>'
    yield from shapes


def _kind_of(stroke: Stroke, there: bool) -> LineKind:
    return LineKind.EDGE if there and stroke.kind is LineKind.CUT else stroke.kind


def _arrows(arrows: Sequence[Arrow], layout: DrawingLayout) -> Iterator[str]:
    """Each arrow as a line with a light edge round it, so that it stands clear of what it crosses, and a full head."""
    for arrow in arrows:
        spots = [(layout.left + x * layout.scale, layout.top + y * layout.scale) for x, y in arrow.path]
        (x1, y1), (x2, y2) = spots[-2], spots[-1]
        long = hypot(x2 - x1, y2 - y1)
        if not long:
            continue
        along_x, along_y = (x2 - x1) / long, (y2 - y1) / long
        head, half = _HEAD * EDGE, _HEAD * EDGE * 0.38
        base_x, base_y = x2 - along_x * head, y2 - along_y * head
        way = "L".join(f"{x:.2f} {y:.2f}" for x, y in (*spots[:-1], (base_x, base_y)))
        tip = f"M{x2:.2f} {y2:.2f}L{base_x - along_y * half:.2f} {base_y + along_x * half:.2f}"
        tip += f"L{base_x + along_y * half:.2f} {base_y - along_x * half:.2f}Z"
        dashes = f' stroke-dasharray="{EDGE * 8:.2f} {EDGE * 6:.2f}"' if arrow.behind else ""
        yield f'<path class="halo" fill="none" stroke="#ffffff" stroke-width="{EDGE * 3:.2f}" d="M{way}"/>'
        yield f'<path class="line arrow" fill="none" stroke="{INK}" stroke-width="{EDGE}"{dashes} d="M{way}"/>'
        yield f'<path class="head" fill="{INK}" d="{tip}"/>'


def _shape(points: Sequence[Point], corner: float, look: str, layout: DrawingLayout) -> str:
    if not corner:
        return f'<path {look} d="{_path(points, layout, closed=True)}"/>'
    (x1, y1), (x2, y2) = points[0], points[2]
    scale = layout.scale
    return (
        f'<rect {look} x="{layout.left + x1 * scale:.2f}" y="{layout.top + y1 * scale:.2f}" '
        f'width="{(x2 - x1) * scale:.2f}" height="{(y2 - y1) * scale:.2f}" rx="{corner * scale:.2f}"/>'
    )


def _path(points: Sequence[Point], layout: DrawingLayout, closed: bool) -> str:
    left, top, scale = layout.left, layout.top, layout.scale
    spots = [f"{left + x * scale:.2f} {top + y * scale:.2f}" for x, y in points]
    return f"M{'L'.join(spots)}{'Z' if closed else ''}"


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


def _text(text: PlacedText) -> str:
    size = text.size
    inner = label_markup(text.label, size)
    look = f'class="{text.style}" fill="{_TEXT_INK[text.style]}" font-size="{size:.2f}" text-anchor="middle"'
    if text.turned:
        spot = f"{text.x + _BASELINE * size:.2f} {text.y:.2f}"
        return f'<text {look} transform="translate({spot}) rotate(-90)">{inner}</text>'
    return f'<text {look} x="{text.x:.2f}" y="{text.y + _BASELINE * size:.2f}">{inner}</text>'


def draw_stages(stages: Sequence[Scene], width_mm: float) -> str:
    """Scenes in one frame as groups of one drawing, each face a single shape that the page's style draws."""
    margin = _STAGE_MARGIN
    scale = (width_mm - 2 * margin) / stages[0].width
    high = stages[0].height * scale + 2 * margin
    papers = stages[0].papers or (ANY_PAPER,)
    groups = (f"<g>{''.join(_staged(face, papers, scale, margin) for face in one.faces)}</g>" for one in stages)
    line = f'stroke="{INK}" stroke-width="{EDGE}" stroke-linejoin="round"'
    return f"{_opening(width_mm, high, f'{_HIDDEN} {line}')}{''.join(groups)}</svg>"


def _staged(face: Face, papers: Sequence[PaperLook], scale: float, margin: float) -> str:
    rings = "".join(
        f"M{'L'.join(f'{x * scale + margin:.1f} {y * scale + margin:.1f}' for x, y in ring)}Z"
        for ring in (face.outline, *face.gaps)
    )
    tone = _tone_of(face, papers)
    light = f' stroke="{LIGHT_INK}"' if is_dark(tone) else ""
    return f'<path fill="{tone}"{light} d="{rings}"/>'


LEGEND_WIDTH, LEGEND_HEIGHT = 12.0, 3.0
"""Millimetres of one legend picture."""


_TELL_THEMSELVES = (LineKind.CENTRE, LineKind.INKED)


def kinds_in(scene: Scene) -> tuple[LineKind, ...]:
    """The kinds of line a legend has to explain, in the order they are defined."""
    shown = {stroke.kind for stroke in _worked(scene.strokes)}
    for face in scene.faces:
        shown |= {_kind_of(stroke, _is_there(face)) for stroke in face.edges}
    return tuple(kind for kind in LineKind if kind in shown and kind not in _TELL_THEMSELVES)


def draw_legend(kinds: Iterable[LineKind]) -> tuple[tuple[LineKind, str], ...]:
    """For each kind of line a small picture of it; the words beside it are the page's."""
    opening = _opening(LEGEND_WIDTH, LEGEND_HEIGHT, _HIDDEN)
    line = f"M0.5 {LEGEND_HEIGHT / 2}H{LEGEND_WIDTH - 0.5}"
    return tuple((kind, f'{opening}<path {pen_of(kind)} d="{line}"/></svg>') for kind in kinds)
