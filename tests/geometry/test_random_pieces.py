"""Whatever an author writes: relations hold exactly, scenes stay in bounds, and nothing raises."""

from __future__ import annotations

from hypothesis import given, settings

from foldwright.geometry.pictures.plan import flat_scene
from geometry.laid import assert_relations_hold, laid, pieces
from workbench.long import tries


@settings(max_examples=tries(50, 150))
@given(pieces())
def test_relations_hold_and_scenes_stay_in_bounds(text: str):
    flat = laid(text)
    assert_relations_hold(flat)
    assert len(flat.blanks) == 1
    blank = flat.blanks[0]
    scene = flat_scene(blank)
    assert scene.width == max(float(blank.width), float(blank.across[-1].end))
    outlines = [face.outline for face in scene.faces] + [stroke.points for stroke in scene.strokes]
    off = any(opening.doubtful for opening in blank.openings)
    for outline in outlines:
        for x, y in outline:
            assert off or (-1e-9 <= x <= scene.width + 1e-9 and -1e-9 <= y <= scene.height + 1e-9)
    assert {dimension.length for dimension in scene.dimensions} <= flat.lengths.by_id.keys()
    assert set(scene.lengths) <= flat.lengths.by_id.keys()
