"""The faces of a scene as SVG shapes, in the colours of their papers, with hatching and printed patterns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from msgspec.structs import replace

from foldwright.geometry.scene import Face, PaperLook, Point, Scene, Tone
from foldwright.render.drawing.hatching import Segment, engraved, path_of, strokes_across
from foldwright.render.drawing.layout import DrawingLayout
from foldwright.render.drawing.manner import DrawingManner
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

_HATCH_APART = 1.13
_SLANTING: Point = (sqrt(0.5), -sqrt(0.5))
_STRAIGHT: tuple[Point, Point] = ((1.0, 0.0), (0.0, 1.0))
_SHADED_PRINT = 0.05
"""How much ink a pattern takes on for each shade of its face."""
_ENGRAVED, _SCRAPED = 0.42, 0.2
"""How much dark ink an engraver's strokes have in the colour of their paper, and how much light ink on dark paper."""
_GROUND = 0.035
"""How dark the edge of a shadow on the ground is; where it lies on itself it is darker."""
_OPAQUE = {True: 0.6, False: 0.25}
"""What is printed on a plan is only hinted at, under its lines."""


class FaceDrawer:
    """The faces of a scene, each with its hatching and its edges, in the colour of its paper."""

    def __init__(self, scene: Scene, layout: DrawingLayout, manner: DrawingManner) -> None:
        self._faces, self._layout, self._manner = scene.faces, layout, manner
        self._papers = scene.papers or (ANY_PAPER,)

    def drawn(self) -> Iterator[str]:
        if self._manner is DrawingManner.SHADOW:
            yield from _ground(self._faces, self._layout)
        for turned in self._faces:
            strokes = shading(turned, self._papers, _rings(turned, self._layout), self._manner)
            face = replace(turned, shade=1) if strokes else turned
            tone = tone_of(face, self._papers)
            ink = LIGHT_INK if face.outline and is_dark(tone) else INK
            if face.outline:
                opaque = self._papers[face.paper % len(self._papers)].opaque if _on_paper(face) else 1.0
                yield _filled(face, tone, opaque, self._layout)
                yield from _pattern(face, self._papers, self._layout)
            if strokes:
                yield shaded(tone, strokes)
            if face.tone in HATCHED or face.hatched:
                yield _hatching(face, ink, self._layout)
            if face.edges:
                yield from stroke_paths(face.edges, self._layout, 1.0, ink if face.shade else "", is_there(face))


def shading(
    face: Face, papers: Sequence[PaperLook], rings: Sequence[Sequence[Point]], manner: DrawingManner
) -> Sequence[Segment]:
    """The strokes that stand for a face's shade; none where it is drawn in a flat tone. `rings` are the face in the
    picture."""
    if manner is not DrawingManner.ENGRAVED or face.hatched or face.corner or not face.outline:
        return ()
    # On dark paper the strokes are light, and stand for what is lit.
    dark = is_dark(tone_of(replace(face, shade=1), papers))
    return engraved(rings, 4 - face.shade if dark else face.shade)


def shaded(tone: str, strokes: Sequence[Segment]) -> str:
    """Strokes of shade on a paper of this tone."""
    pen = mixed(tone, LIGHT_INK, _SCRAPED) if is_dark(tone) else mixed(tone, INK, _ENGRAVED)
    return f'<path class="engraved" fill="none" stroke="{pen}" stroke-width="{FINE}" d="{path_of(strokes)}"/>'


def is_there(face: Face) -> bool:
    """Whether it is of a thing in space, and not of a plan."""
    return face.shade > 0 or not face.outline


def _ground(faces: Sequence[Face], layout: DrawingLayout) -> Iterator[str]:
    """The shadow of what stands, under all of it: what is dark in it lies over its pale edge."""
    for ring in (ring for face in faces for ring in face.ground):
        yield f'<path class="ground" fill="{INK}" fill-opacity="{_GROUND}" d="{way_of(ring, layout, closed=True)}"/>'


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
    """Slanting lines across the face, at a spacing of the finished picture."""
    strokes = strokes_across(_rings(face, layout), _SLANTING, _HATCH_APART)
    look = f'class="fine" stroke="{FINE_INK}"'
    if face.tone is Tone.DOUBT:
        look = f'class="hatch-doubt" stroke="{DOUBT_INK}"'
    elif face.shade:
        look = f'class="edge" stroke="{ink}"'
    return f'<path {look} stroke-width="{FINE}" d="{path_of(strokes)}"/>' if strokes else ""
