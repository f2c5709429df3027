"""Notches, corners that go and scores inside outlines: measured with shapely, which had no part in laying them."""

from __future__ import annotations

from math import pi

import pytest
from shapely.geometry import LineString, Point, Polygon

from foldwright.geometry.contours import Contours, Ring, contours_of
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.geometry.scene import LineKind
from geometry.laid import codes, laid, recipe_of, the_blank, the_finding

PIECE = "  tag:\n    from: card\n    size: 100 x 60 mm\n    holes: {holes}\n"
POCKET = """\
  pocket:
    from: card
    size: 118 x 62 mm
    across: 12 left flap | 94 front | 12 right flap
    down: 50 front | 12 bottom flap
    corners: cut away
    fold: -180, -180, -180
"""


def cut_out(text: str, piece: str = "tag") -> Polygon:
    contours = contours_of(the_blank(laid(text), piece))
    return polygon(contours)


def polygon(contours: Contours) -> Polygon:
    (ring,) = contours.outlines
    assert isinstance(ring, Ring)
    return Polygon(ring.points)


@pytest.mark.parametrize(
    ("notch", "area"),
    [
        # Half a circle, a triangle, a rectangle, and half a circle below straight sides: school geometry.
        ("half round notch 20 mm", pi * 10**2 / 2),
        ("vee notch 20 x 15 mm", 20 * 15 / 2),
        ("square notch 20 x 5 mm", 20 * 5),
        ("half round notch 20 x 16 mm", pi * 10**2 / 2 + 20 * 6),
    ],
)
@pytest.mark.parametrize("edge", ["top", "bottom", "left", "right"])
def test_a_notch_takes_its_area_out_of_the_edge(notch: str, area: float, edge: str) -> None:
    shape = cut_out(PIECE.format(holes=f"{notch}, middle of the {edge} edge"))
    assert shape.is_valid
    # The curve is drawn as 24 chords, which leave out less than half a part in a hundred.
    assert 6000 - shape.area == pytest.approx(area, rel=0.005)
    middle = {"top": (50, 1), "bottom": (50, 59), "left": (1, 30), "right": (99, 30)}[edge]
    assert not shape.covers(Point(middle))
    assert shape.bounds == (0, 0, 100, 60)


def test_a_flat_half_round_notch_is_a_segment_of_a_circle() -> None:
    """Mouth 20, depth 5: radius (10^2 + 5^2) / (2 * 5) = 12.5, by the theorem of intersecting chords."""
    shape = cut_out(PIECE.format(holes="half round notch 20 x 5 mm, middle of the top edge"))
    rim = [point for point in shape.exterior.coords if 40.01 < point[0] < 59.99 and point[1] < 30]
    assert len(rim) > 10
    assert all(Point(point).distance(Point(50, 5 - 12.5)) == pytest.approx(12.5, abs=0.002) for point in rim)


def test_where_a_notch_stands() -> None:
    flat = laid(PIECE.format(holes="square notch 20 x 5 mm, bottom edge, edge 10 mm from the left, mirrored"))
    notches = the_blank(flat, "tag").notches
    assert [(notch.left, notch.top, notch.width, notch.height) for notch in notches] == [
        (10, 55, 20, 5),
        (70, 55, 20, 5),
    ]
    assert flat.lengths.by_id[LengthId("tag", "hole", "left", 1, "edge")].mm == 10
    assert flat.lengths.by_id[LengthId("tag", "hole", "across", 1)].mm == 20
    assert flat.lengths.by_id[LengthId("tag", "hole", "down", 1)].mm == 5


def test_half_a_punch_on_the_edge_is_a_notch() -> None:
    one = cut_out(PIECE.format(holes="round 20 mm, centred, middle 0 mm from the top"))
    other = cut_out(PIECE.format(holes="half round notch 20 mm, top edge"))
    assert one.equals(other)


def test_a_notch_that_is_not_in_the_edge_is_told_and_left_out() -> None:
    wide = laid(PIECE.format(holes="square notch 80 x 5 mm, left edge"))
    assert codes(wide.findings) == ["notch-not-in-the-edge"]
    assert the_blank(wide, "tag").notches == ()
    deep = laid(PIECE.format(holes="vee notch 20 x 60 mm, top edge"))
    assert codes(deep.findings) == ["notch-not-in-the-edge"]
    meeting = laid(PIECE.format(holes="square notch 20 x 30 mm, top edge, mirrored"))
    assert codes(meeting.findings) == ["notch-not-in-the-edge"]
    twice = laid(PIECE.format(holes="vee notch 20 mm, top edge; vee notch 20 mm, top edge, middle 45 mm from the left"))
    assert codes(twice.findings) == ["notch-not-in-the-edge"]
    circle = laid(
        "  disc:\n    from: card\n    size: 60 mm\n    outline: circle\n    holes: vee notch 9 mm, top edge\n"
    )
    assert codes(circle.findings) == ["notch-not-in-the-edge"]


def test_notches_on_every_panel_stop_the_scores_they_cut() -> None:
    text = (
        "  strip:\n    from: card\n    size: 120 x 60 mm\n    across: 40 | 40 | 40\n    fold: accordion\n"
        "    holes:\n      - vee notch 10 mm, top edge, on every panel\n"
        "      - square notch 20 x 10 mm, bottom edge, middle 40 mm from the left\n"
    )
    flat = laid(text)
    blank = the_blank(flat, "strip")
    assert [notch.left for notch in blank.notches] == [15, 55, 95, 30]
    first = next(one for one in flat_scene(blank).strokes if one.kind in (LineKind.VALLEY, LineKind.MOUNTAIN))
    assert first.points == ((40, 0), (40, 50))
    runs = [run.points for run in contours_of(blank).runs]
    assert ((40, 0), (40, 50)) in runs
    net = fold_pieces(recipe_of(text), flat).nets["strip"]
    assert len(net.panels) == 3
    whole = sum(Polygon(panel.outline).area for panel in net.panels)
    assert whole == pytest.approx(120 * 60 - 3 * 10 * 5 / 2 - 20 * 10)


def test_the_corners_of_a_pocket_go() -> None:
    flat = laid(POCKET)
    contours = contours_of(the_blank(flat, "pocket"))
    shape = polygon(contours)
    assert shape.equals(Polygon([(0, 0), (118, 0), (118, 50), (106, 50), (106, 62), (12, 62), (12, 50), (0, 50)]))
    assert {run.points for run in contours.runs} == {((12, 0), (12, 50)), ((106, 0), (106, 50)), ((12, 50), (106, 50))}
    net = fold_pieces(recipe_of(POCKET), flat).nets["pocket"]
    assert len(net.panels) == 4
    assert len(net.creases) == 3
    assert fold_pieces(recipe_of(POCKET), flat).findings == ()


def test_a_pocket_lies_with_its_front_alone() -> None:
    """94 x 50 mm on 100 x 80 mm, 3 mm from the bottom: 3 mm left and right, 27 mm above it."""
    card = "  card:\n    from: card\n    size: 200 x 80 mm\n    across: 100 back | 100 front\n    fold: card\n"
    flat = laid(card + POCKET + "    goes on: inside of card back, centred, 3 mm from the bottom\n")
    borders = {
        name.place: length.mm
        for name, length in flat.lengths.by_id.items()
        if (name.side, name.of) == ("border", "card")
    }
    assert borders == {"across": 3, "bottom": 3, "top": 27}


def test_a_notch_beside_corners_that_go() -> None:
    shape = cut_out(POCKET + "    holes: round 20 mm, centred, middle 0 from the top\n", "pocket")
    assert shape.area == pytest.approx(118 * 62 - 2 * 12 * 12 - pi * 100 / 2, rel=1e-3)


@pytest.mark.parametrize("outline", ["heart", "circle", "house"])
def test_scores_lie_inside_a_free_outline(outline: str) -> None:
    text = (
        "  card:\n    from: card\n    size: 100 x 80 mm\n    across: 50 back | 50 front\n    fold: card\n"
        f"    outline: {outline}\n"
    )
    if outline == "circle":
        text = text.replace("100 x 80", "100 x 100")
    flat = laid(text)
    blank = the_blank(flat, "card")
    contours = contours_of(blank)
    shape = polygon(contours)
    assert shape.area < 0.95 * float(blank.width * blank.height)
    (run,) = contours.runs
    assert run.points[0][0] == run.points[1][0] == 50
    whole = LineString([(50, -1), (50, 101)]).intersection(shape).length
    assert LineString(run.points).length == pytest.approx(whole)
    net = fold_pieces(recipe_of(text), flat).nets["card"]
    assert [panel.name for panel in net.panels] == ["back", "front"]
    assert sum(Polygon(panel.outline).area for panel in net.panels) == pytest.approx(shape.area)


def test_one_number_for_a_piece_with_an_outline() -> None:
    """A regular hexagon on its points is the root of three fourths as high as it is wide."""
    flat = laid("  sign:\n    from: card\n    size: 60 mm\n    outline: hexagon\n")
    blank = the_blank(flat, "sign")
    sides = [
        Point(float(x1), float(y1)).distance(Point(float(x2), float(y2)))
        for (x1, y1), (x2, y2) in zip(blank.outline, (*blank.outline[1:], blank.outline[0]), strict=True)
    ]
    assert sides == [pytest.approx(30, abs=0.002)] * 6


# --- one omission, one finding --------------------------------------------------------------------------------------

BOX = """\
  base:
    from: card
    size: 5 x 4 1/4 in
    across: 3/4 | 3 1/2 | 3/4
    down: 1 3/4 | 3/4 | 1 3/4
    fold: tray
    {flaps}
"""


@pytest.mark.parametrize(
    "flaps",
    [
        "flasp: joined to top and bottom, trimmed 1/2 in",
        "flaps: trimmed 1/16 in",
        "corners: cut awya\n    flaps: joined to",
    ],
)
def test_what_follows_from_a_slip_in_the_flaps_is_not_told(flaps: str) -> None:
    text = BOX.format(flaps=flaps)
    flat = laid(text)
    assert flat.findings == ()
    assert fold_pieces(recipe_of(text), flat).findings == ()


def test_walls_without_names_are_named_as_they_are_called_in_the_remedy() -> None:
    text = BOX.format(flaps="flaps: joined to front and back")
    facts = the_finding(laid(text), "flaps-joined-to-what")
    assert (facts["one"], facts["other"]) == (("top", "bottom"), ("left", "right"))
    assert fold_pieces(recipe_of(text), laid(text)).findings == ()


@pytest.mark.parametrize(
    "slip",
    [
        "fodl: tray\n    inside: 60 x 90 x 20 mm\n    corners: cut away",
        "fold: 90, 9x\n    size: 90 x 30 mm\n    across: 30 | 30 | 30",
    ],
)
def test_what_follows_from_a_slip_in_the_fold_is_not_told(slip: str) -> None:
    text = f"  base:\n    from: thick card\n    {slip}\n"
    assert [one.code for one in laid(text).findings if one.code != "half-a-size"] == []
    assert fold_pieces(recipe_of(text), laid(text)).findings == ()
