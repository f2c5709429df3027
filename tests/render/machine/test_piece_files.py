"""Files of single pieces, read back by libraries that had no part in writing them."""

from __future__ import annotations

import io
import json
import shutil
import subprocess
from functools import cache
from math import pi, sin
from pathlib import Path

import ezdxf
import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point as Place
from shapely.geometry import Polygon

from foldwright.geometry.contours import contours_of
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import LineSource
from foldwright.geometry.folding.subdividing import net_of
from foldwright.outputs.piece_files import file_names, piece_files
from foldwright.pipeline import Understood, check_recipe
from foldwright.render.machine.dxf import piece_dxf
from foldwright.render.machine.fold import piece_fold
from foldwright.render.machine.svg import LAYERS, piece_svg
from geometry.laid import laid, the_blank
from verifiers.fold_format import assert_sound, is_folded
from workbench.compiled import DEMOS, RECIPES
from workbench.long import tries

FOLD_PACKAGE = Path(__file__).resolve().parents[3] / ".venv" / "share" / "foldwright" / "node_modules" / "fold"
READ_FOLD = Path(__file__).with_name("read_fold.js")
NEAR = 0.001
"""Millimetres: fifty times less than a template may be off."""


@cache
def understood(name: str) -> Understood:
    text = (RECIPES / name / "recipe.md").read_text(encoding="utf-8")
    known = check_recipe(text, "recipe.md", name).understood
    assert known is not None
    return known


@cache
def files_of(name: str) -> dict[str, bytes]:
    return dict(piece_files(understood(name)).files)


TRAY = """\
  box:
    from: card
    size: {wide} x {high} mm
    across: {deep} left | rest floor | {deep} right
    down: {deep} back | rest floor | {deep} front
    {corners}
    fold: tray
    holes: {hole}, centred on floor
"""
sizes = st.integers(60, 400)
corners = st.sampled_from(
    ["corners: cut away", "flaps: joined to left and right, trimmed 2 mm", "flaps: joined to back"]
)
holes = st.sampled_from(["round 10 mm", "slot 12 x 4 mm", "slot 4 x 12 mm", "window 8 x 6 mm"])


def tray(wide: int, high: int, deep: int, corners: str, hole: str) -> Blank:
    flat = laid(TRAY.format(wide=wide, high=high, deep=deep, corners=corners, hole=hole))
    return the_blank(flat, "box")


def area_cut_out(deep: int, corners: str) -> float:
    """What is gone from the rectangle of a tray."""
    if "away" in corners:
        return 4.0 * deep * deep
    return 4.0 * 2 * deep if "trimmed" in corners else 0.0


# --- SVG ------------------------------------------------------------------------------------------------------------


@settings(max_examples=tries(50, 150))
@given(sizes, sizes, st.integers(5, 25), corners, holes)
def test_svg_is_true_to_size(wide: int, high: int, deep: int, corners: str, hole: str) -> None:
    blank = tray(wide, high, deep, corners, hole)
    svg = piece_svg(contours_of(blank), "box", "", {layer: layer for layer in LAYERS})
    # svgelements reckons in pixels of 1/96 in (CSS) unless told how many there are to the inch: 25.4 makes millimetres.
    read = svgelements.SVG.parse(io.BytesIO(svg), ppi=25.4)
    assert (float(read.width), float(read.height)) == pytest.approx((wide, high), abs=NEAR)
    assert read.viewbox is not None and (read.viewbox.width, read.viewbox.height) == pytest.approx((wide, high))
    groups = [group for group in read if isinstance(group, svgelements.Group)]
    shapes = {group.id: [one for one in group if isinstance(one, svgelements.Shape)] for group in groups}
    outline = Polygon([(point.x, point.y) for point in svgelements.Path(shapes["outline"][0]).as_points()])
    # It takes a millimetre for 0.0393701 in, which is half a millionth too much.
    assert outline.area == pytest.approx(wide * high - area_cut_out(deep, corners), rel=3e-6)
    opening = svgelements.Path(shapes["openings"][0])
    box = opening.bbox()
    size = [float(part) for part in hole.replace(" mm", "").split(" ", 1)[1].split(" x ")] * 2
    assert (box[2] - box[0], box[3] - box[1]) == pytest.approx(tuple(size[:2]), abs=NEAR)
    assert ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2) == pytest.approx((wide / 2, high / 2), abs=NEAR)
    # Where a slot is longer than the floor, scores stop at it and go on behind it.
    fits = size[0] <= wide - 2 * deep and size[1] <= high - 2 * deep
    assert len(shapes["score"]) == 4 if fits else len(shapes["score"]) > 4


def test_no_line_is_drawn_twice() -> None:
    """A cutter would go over it twice: no piece of a line lies on the outline or on another."""
    contours = contours_of(tray(100, 130, 20, "flaps: joined to left and right, trimmed 2 mm", "round 10 mm"))
    from shapely.geometry import LineString

    rim = Polygon(contours.outlines[0].points).exterior  # type: ignore[union-attr]
    lines = [LineString(run.points) for run in contours.runs]
    for number, line in enumerate(lines):
        assert line.intersection(rim).length < 1e-3
        assert all(line.intersection(other).length < 1e-3 for other in lines[:number])


# --- DXF ------------------------------------------------------------------------------------------------------------


@settings(max_examples=tries(15, 40))
@given(sizes, sizes, st.integers(5, 25), corners, holes)
def test_dxf_is_sound_and_true_to_size(wide: int, high: int, deep: int, corners: str, hole: str) -> None:
    contours = contours_of(tray(wide, high, deep, corners, hole))
    data = piece_dxf(contours)
    assert data == piece_dxf(contours)
    read = ezdxf.read(io.StringIO(data.decode("utf-8")))
    audit = read.audit()
    assert not audit.errors and not audit.fixes
    assert read.header["$INSUNITS"] == 4 and read.header["$MEASUREMENT"] == 1
    (outline,) = read.modelspace().query('LWPOLYLINE[layer=="OUTLINE"]')
    assert outline.closed
    assert Polygon([(x, y) for x, y, *_ in outline]).area == pytest.approx(
        wide * high - area_cut_out(deep, corners), abs=NEAR
    )
    scores = [(line.dxf.start, line.dxf.end) for line in read.modelspace().query('LINE[layer=="SCORE"]')]
    upright = sorted(round(start.x, 3) for start, end in scores if abs(start.x - end.x) < NEAR)
    assert upright == [deep, wide - deep]
    if "round" in hole:
        (circle,) = read.modelspace().query('CIRCLE[layer=="OPENINGS"]')
        assert (circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius) == pytest.approx((wide / 2, high / 2, 5.0))


def test_the_ends_of_a_slot_are_half_circles_outside_its_straight_sides() -> None:
    """By ezdxf's own reckoning of bulges: the slot is as long as it should be, and its ends are round."""
    contours = contours_of(tray(100, 130, 20, "corners: cut away", "slot 12 x 4 mm"))
    read = ezdxf.read(io.StringIO(piece_dxf(contours).decode("utf-8")))
    (slot,) = read.modelspace().query('LWPOLYLINE[layer=="OPENINGS"]')
    from ezdxf import bbox

    box = bbox.extents([slot])
    assert (box.size.x, box.size.y) == pytest.approx((12.0, 4.0), abs=NEAR)
    arcs = [part for part in slot.virtual_entities() if part.dxftype() == "ARC"]
    assert sorted(round(arc.dxf.radius, 6) for arc in arcs) == [2.0, 2.0]


# --- FOLD -----------------------------------------------------------------------------------------------------------


def read_by_package(path: Path, root: int) -> dict[str, object]:
    node = shutil.which("node")
    assert node is not None
    said = subprocess.run(
        [node, str(READ_FOLD), str(FOLD_PACKAGE), str(path), str(root)], capture_output=True, text=True, check=True
    )
    answer: dict[str, object] = json.loads(said.stdout)
    return answer


@pytest.mark.parametrize("name", DEMOS)
def test_fold_files_are_what_the_package_takes_them_for(name: str, tmp_path: Path) -> None:
    nets = understood(name).folding.nets
    for file, data in files_of(name).items():
        if not file.endswith(".fold"):
            continue
        path = tmp_path / file
        path.write_bytes(data)
        fold = json.loads(data)
        net = next((net for piece, net in nets.items() if file == f"{file_names([piece])[0]}.fold"), None)
        assert_sound(fold)
        joins = fold["edges_assignment"].count("J")
        names = fold["foldwright:panels"]
        read = read_by_package(path, names.index(net.panels[net.root].name) if net else 0)
        assert read["faces"] == len(fold["faces_vertices"])
        assert read["missing"] == 0, "every edge of a face is an edge of the file"
        assert all(way == 1 for way in read["orientations"]), "counter-clockwise with y upwards"  # type: ignore[union-attr]
        creases = len(net.creases) if net else 0
        assert read["valleys"] + read["mountains"] == creases == read["shared"] - joins  # type: ignore[operator]
        # The package mirrors at every edge, at those too where the paper goes on.
        if "flat" in read and net and not joins:
            assert read["torn"] == pytest.approx(0.0, abs=1e-6)
            _lies_as_mirrored(fold, read["flat"])  # type: ignore[arg-type]


def _lies_as_mirrored(fold: dict[str, object], mirrored: list[list[float]]) -> None:
    """The folded frame lies where the package puts every corner by mirroring (each is on one panel that hangs on)."""
    folded = fold["file_frames"][0]["vertices_coords"]  # type: ignore[index]
    for (x, y, z), spot in zip(folded, mirrored, strict=True):
        if spot is not None:
            assert (x, y, z) == pytest.approx((*spot, 0.0), abs=1e-6)


def test_the_folded_frame_is_a_box_with_its_walls_away_from_the_good_side() -> None:
    fold = json.loads(files_of("keepsake-box")["base.fold"])
    folded = fold["file_frames"][0]["vertices_coords"]
    sizes = [max(axis) - min(axis) for axis in zip(*folded, strict=True)]
    # 3 x 3 x 1 1/4 in, as the recipe says.
    assert sizes == pytest.approx([76.2, 76.2, 31.75], abs=1e-9)
    assert max(z for _, _, z in folded) == pytest.approx(0.0, abs=1e-9)
    assert set(fold["edges_assignment"]) == {"B", "M"}


def reference() -> Understood:
    text = (Path(__file__).parents[2] / "cases" / "reference" / "recipe.md").read_text(encoding="utf-8")
    folder = Path(__file__).parents[2] / "cases" / "reference"
    known = check_recipe(
        text, "recipe.md", "reference", read=lambda name, most: (folder / name).read_bytes()
    ).understood
    assert known is not None
    return known


def test_every_form_of_the_reference_has_a_sound_file_with_a_folded_frame() -> None:
    """By a validator of our own (FOLD 1.2, from memory). What has no `fold:` may stay flat."""
    known = reference()
    stay_flat = []
    for file, data in piece_files(known).files.items():
        if file.endswith(".fold"):
            fold = json.loads(data)
            assert_sound(fold)
            if not is_folded(fold):
                stay_flat.append(file.removesuffix(".fold"))
        elif file.endswith(".dxf"):
            audit = ezdxf.read(io.StringIO(data.decode("utf-8"))).audit()
            assert not audit.errors and not audit.fixes
    folds = {file_names([piece.name.value])[0] for piece in known.recipe.pieces if piece.fold}
    assert len(folds) >= 10 and folds.isdisjoint(stay_flat)


WINDOWED = """\
  card:
    from: card
    size: 100 x 80 mm
    across: 50 | 50
    fold: card
    holes: window 20 x 10 mm, centred on panel 1; round 8 mm, middle 70 mm from the left, middle 20 mm from the top; \
slot 20 x 4 mm, centred on panel 2
    lines: |
      cut from 90 across 0 down to 100 across 10 down
"""


def test_no_face_fills_a_window_and_what_is_cut_off_is_in_no_frame() -> None:
    blank = the_blank(laid(WINDOWED), "card")
    net = net_of(blank, {LineSource("across", 1): -180.0})
    fold = json.loads(piece_fold(net, 80.0, "card", "", "test"))
    assert_sound(fold)
    faces = [Polygon([fold["vertices_coords"][at] for at in face]) for face in fold["faces_vertices"]]
    # y is turned round in the file. The window, the hole and the slot are open; the corner is gone.
    for x, y in ((25, 40), (30, 42), (70, 60), (72, 61), (75, 40), (83, 40), (98, 78)):
        assert not any(face.contains(Place(x, y)) for face in faces), (x, y)
    for x, y in ((25, 50), (5, 5), (75, 45), (90, 60)):
        assert sum(face.contains(Place(x, y)) for face in faces) == 1
    round_hole = 48 / 2 * 16 * sin(2 * pi / 48)
    slot = 16 * 4 + 48 / 2 * 4 * sin(2 * pi / 48)
    assert sum(face.area for face in faces) == pytest.approx(8000 - 200 - round_hole - slot - 50, abs=0.2)


def test_every_piece_has_its_files_and_no_two_share_a_name() -> None:
    assert set(files_of("birdhouse")) == {
        f"{stem}.{kind}" for stem in ("base", "birdhouse-front", "wrapper") for kind in ("svg", "dxf", "fold")
    }
    assert file_names(["Lid (top)", "lid top", "\u0394"]) == ["lid-top", "lid-top-2", "piece"]


def test_files_are_exact_whatever_a_page_prints() -> None:
    """The tag of 2 x 4 in is 50.8 x 101.6 mm; a metric page says 51 x 102 mm."""
    svg = files_of("twine-tag")["tag.svg"].decode("utf-8")
    assert 'width="50.8mm"' in svg
    assert 'height="101.6mm"' in svg
