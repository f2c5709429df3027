"""The faces of a scene as SVG shapes, in the colours of their papers, with hatching and printed patterns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.geometry.scene import Face, PaperLook, Point, Scene, Tone
from foldwright.render.drawing.layout import DrawingLayout
from foldwright.render.drawing.pens import (
    ANY_PAPER,
    DOUBT_INK,
    FINE,
    FINE_INK,
    HATCHED,
    INK,
    LIGHT_INK,
    SHADES,
    TONES,
    is_dark,
    paper_tone,
    wash_of,
)
from foldwright.render.drawing.printing import printed
from foldwright.render.drawing.strokes import shape_path, stroke_paths, way_of
from foldwright.vocabulary.colours import mixed

_HATCH_APART = 1.6
_STRAIGHT: tuple[Point, Point] = ((1.0, 0.0), (0.0, 1.0))
_SHADED_PRINT = 0.05
"""How much ink a pattern takes on for each shade of its face."""
_OPAQUE = {True: 0.6, False: 0.25}
"""What is printed on a plan is only hinted at, under its lines."""


class FaceDrawer:
    """The faces of a scene, each with its hatching and its edges, in the colour of its paper."""

    def __init__(self, scene: Scene, layout: DrawingLayout) -> None:
        self._faces, self._layout = scene.faces, layout
        self._papers = scene.papers or (ANY_PAPER,)

    def drawn(self) -> Iterator[str]:
        for face in self._faces:
            tone = tone_of(face, self._papers)
            ink = LIGHT_INK if face.outline and is_dark(tone) else INK
            if face.outline:
                opaque = self._papers[face.paper % len(self._papers)].opaque if _on_paper(face) else 1.0
                yield _filled(face, tone, opaque, self._layout)
                yield from _pattern(face, self._papers, self._layout)
            if face.tone in HATCHED or face.hatched:
                yield _hatching(face, ink, self._layout)
            if face.edges:
                yield from stroke_paths(face.edges, self._layout, 1.0, ink if face.shade else "", is_there(face))


def is_there(face: Face) -> bool:
    """Whether it is of a thing in space, and not of a plan."""
    return face.shade > 0 or not face.outline


def _on_paper(face: Face) -> bool:
    return face.tone is Tone.GOOD or (face.tone is Tone.PLAIN and face.shade > 0)


def tone_of(face: Face, papers: Sequence[PaperLook]) -> str:
    """The colour of a face, on which its edges have to show."""
    if not _on_paper(face):
        return SHADES[face.tone][face.shade - 1] if face.shade and face.tone in SHADES else TONES[face.tone]
    paper = papers[face.paper % len(papers)]
    return paper_tone(paper, face.tone is Tone.GOOD, face.shade) if face.shade else paper.front


def _filled(face: Face, tone: str, opaque: float, layout: DrawingLayout) -> str:
    """What is in space has its colour on every page; a plan lies in its colour on the page's own paper."""
    if face.shade and (_on_paper(face) or face.tone in SHADES):
        clear = f' fill-opacity="{opaque}"' if opaque < 1 else ""
        return _surface(face, f'class="sheet" fill="{tone}"{clear}', layout)
    if _on_paper(face):
        under = _surface(face, f'class="face-plain" fill="{TONES[Tone.PLAIN]}"', layout)
        return under + _surface(face, f'class="wash" fill="{tone}" fill-opacity="{wash_of(tone)}"', layout)
    return _surface(face, f'class="face-{face.tone.value}" fill="{tone}"', layout)


def _surface(face: Face, look: str, layout: DrawingLayout) -> str:
    if not face.gaps:
        return shape_path(face.outline, face.corner, look, layout)
    rings = "".join(way_of(ring, layout, closed=True) for ring in (face.outline, *face.gaps))
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
