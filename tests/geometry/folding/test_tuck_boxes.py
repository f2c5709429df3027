"""Tuck boxes of every kind, folded: what they measure, what closes them, and how much room the layers have."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.ops import unary_union

from foldwright.figures.closing import close
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.folding.folded import Folded, fold, tree_of
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.net import Crease
from foldwright.geometry.folding.order import order_of
from foldwright.geometry.folding.pieces import Folding, fold_pieces
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.measure.length import System
from foldwright.recipe.reading import read_recipe
from geometry.folding.shapes import closed_volume, named
from geometry.laid import recipe_of
from workbench.long import tries

SOME = settings(max_examples=tries(25, 150), deadline=None)
KINDS = ("", ", reverse tuck", ", snap-lock bottom", ", automatic bottom", ", glued bottom")
METRIC = st.tuples(st.integers(25, 150), st.integers(25, 150), st.integers(30, 200)).map(
    lambda sizes: " x ".join(map(str, sizes)) + " mm"
)
IMPERIAL = st.tuples(st.integers(16, 96), st.integers(16, 96), st.integers(20, 128)).map(
    lambda sizes: " x ".join(f"{size * 0.0625:g}" for size in sizes) + " in"
)
SIZES = st.one_of(METRIC, IMPERIAL)
CARDS = st.sampled_from(["0.2 mm", "0.32 mm", "0.5 mm", "0.75 mm"])


def boxed(facts: str, card: str = "0.32 mm") -> tuple[Blank, Folded, Flat, Folding]:
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  box:\n    from: card\n    thickness: {card}\n{lines}\n")
    flat = lay_flat(recipe)
    folding = fold_pieces(recipe, flat)
    blank = flat.blank("box")
    assert blank is not None
    return blank, fold(folding.nets["box"]), flat, folding


def codes(flat: Flat, folding: Folding) -> set[str]:
    return {one.code for one in (*flat.findings, *folding.findings)}


@SOME
@given(SIZES, CARDS, st.sampled_from(KINDS))
def test_a_tuck_box_is_a_box_of_its_sizes_and_nothing_stands_out_or_collides(size: str, card: str, kind: str) -> None:
    """Its four walls close to a tube; every other panel lies within the box, so that lid and bottom can be shut."""
    blank, folded, flat, folding = boxed(f"fold: tuck box{kind}\nfinished: {size}", card)
    assert codes(flat, folding) == set()
    assert not list(collisions(folded)) and folded.opened == ()
    wide, deep, high = (float(mm) for _, mm in blank.made)
    walls = [folded.corners(named(folded, name)) for name in ("front", "right", "back", "left")]
    low, top = folded.extent
    assert [b - a for a, b in zip(low, top, strict=True)] == pytest.approx([wide, high, deep], abs=1e-6)
    ends = [_level(walls, at) for at in (min, max)]
    assert closed_volume([*walls, *ends]) == pytest.approx(wide * deep * high, rel=1e-9)


def _level(walls: Sequence[Sequence[Spot]], at: object) -> list[Spot]:
    """The end of the tube: the corners of front and back at one height, round it."""
    ends = []
    for wall in (walls[0], walls[2]):
        height = (min if at is min else max)(spot[1] for spot in wall)
        ends.append([spot for spot in wall if abs(spot[1] - height) < 1e-6])
    (a, b), (c, d) = ends
    return [a, b, c, d] if dist(b, c) < dist(b, d) else [a, b, d, c]


@SOME
@given(SIZES, CARDS, st.sampled_from(KINDS))
def test_layers_of_card_have_room_between_one_another(size: str, card: str, kind: str) -> None:
    """The tuck stands a card's thickness or more behind the front; dust flaps end a thickness or more before it, and do
    not meet each other; the tuck goes down between the side walls."""
    _, folded, flat, _ = boxed(f"fold: tuck box{kind}\nfinished: {size}", card)
    thick = float(flat.cards["box"].length.mm)  # type: ignore[union-attr]
    front = folded.corners(named(folded, "front"))
    tuck = folded.corners(named(folded, "tuck"))
    (plane,) = {round(spot[2], 9) for spot in front}
    assert min(abs(spot[2] - plane) for spot in tuck) >= thick - 1e-9
    left, right = min(spot[0] for spot in front), max(spot[0] for spot in front)
    assert min(spot[0] for spot in tuck) - left >= thick - 1e-9
    assert right - max(spot[0] for spot in tuck) >= thick - 1e-9
    behind = min(abs(spot[2] - plane) for spot in tuck)
    above = min(spot[1] for spot in front)
    dust = [
        folded.corners(number)
        for number, panel in folded.panels
        if panel.name == "dust flap" and abs(folded.corners(number)[0][1] - above) < 1e-6
    ]
    assert len(dust) == 2
    for flap in dust:
        assert min(abs(spot[2] - plane) for spot in flap) - behind >= thick - 1e-9
    one, other = sorted(dust, key=lambda flap: min(spot[0] for spot in flap))
    assert max(spot[0] for spot in one) < min(spot[0] for spot in other)


@SOME
@given(SIZES, CARDS, st.sampled_from(KINDS[2:]))
def test_the_flaps_of_a_bottom_cover_it(size: str, card: str, kind: str) -> None:
    """All but slits beside the hinges and corners: what falls through is less than a twelfth of the bottom."""
    blank, folded, _, _ = boxed(f"fold: tuck box{kind}\nfinished: {size}", card)
    wide, deep, _ = (float(mm) for _, mm in blank.made)
    shapes = [
        Polygon([(x, z) for x, _, z in folded.corners(number)])
        for number, panel in folded.panels
        if panel.name in ("slotted flap", "locking flap", "glue triangle") or "bottom flap" in panel.name
    ]
    assert len(shapes) == (6 if "automatic" in kind else 4)
    assert unary_union(shapes).area >= wide * deep * 11 / 12


@SOME
@given(METRIC, CARDS)
def test_the_tongue_of_a_snap_lock_bottom_finds_its_slot_open(size: str, card: str) -> None:
    """It lies over the back's flap, between the two ears, and no side flap lies on both sides of the line where it goes
    through; the ears hold up the side flaps."""
    _, folded, _, _ = boxed(f"fold: tuck box, snap-lock bottom\nfinished: {size}", card)
    shapes = {
        which: Polygon([(x, z) for x, _, z in folded.corners(named(folded, name))])
        for which, name in (
            ("back", "slotted flap"),
            ("front", "locking flap"),
            ("left", "left bottom flap"),
            ("right", "right bottom flap"),
        )
    }
    # A hair less: both end at the middle, and rounding may let them overlap there.
    shared = shapes["front"].intersection(shapes["back"]).buffer(-1e-6)
    # The ears lie on the front's flap; the tongue on the back's, in the middle.
    middle_x = shapes["front"].centroid.x
    parts = [part for part in getattr(shared, "geoms", [shared]) if part.area > 0]
    assert len(parts) == 3
    tongue = min(parts, key=lambda part: abs(part.centroid.x - middle_x))
    left, _, right, _ = tongue.bounds
    # The line at half the depth is where the front's flap is left and the back's begins.
    middle = {round(z, 6) for _, z in shapes["back"].exterior.coords} & {
        round(z, 6) for _, z in shapes["front"].exterior.coords
    }
    assert len(middle) == 1
    (line,) = middle
    ahead = shapes["front"].centroid.y
    for side in ("left", "right"):
        near = shapes[side].intersection(_band(left, right, line, ahead))
        assert near.area < 1e-6, "a side flap would be in the way of the tongue"
        assert shapes[side].intersection(shapes["back"]).area > 0


def _band(left: float, right: float, line: float, ahead: float) -> Polygon:
    """Where the tongue comes from: in front of the line, as wide as it is."""
    return Polygon([(left, line), (right, line), (right, ahead), (left, ahead)])


@SOME
@given(METRIC, CARDS)
def test_an_automatic_bottom_folds_flat_with_its_triangles_glued(size: str, card: str) -> None:
    """The triangle of a side lies at the same place of the long flap when the box stands and when it is folded flat,
    with its first and third score folded right over: only so can it be glued, and swings the bottom in."""
    blank, folded, _, _ = boxed(f"fold: tuck box, automatic bottom\nfinished: {size}", card)
    net = folded.net
    (_, wide), (_, deep), _ = blank.made
    over = {float(wide), float(2 * wide + deep)}

    def flat_angle(crease: Crease) -> float:
        (x1, y1), (x2, y2) = crease.start, crease.end
        if abs(x1 - x2) < 1e-6:
            return -180.0 if any(abs(x1 - x) < 1e-6 for x in over) else 0.0
        return -180.0 if abs(y1 - y2) < 1e-6 else 180.0

    shut = tree_of(net).folded(flat_angle)
    triangles = [number for number, panel in enumerate(net.panels) if panel.name == "glue triangle"]
    mains = [named(folded, f"{which} bottom flap") for which in ("back", "front")]
    assert len(triangles) == 2
    for triangle in triangles:
        main = min(mains, key=lambda number: _apart(folded, triangle, number))
        for point in net.panels[triangle].outline:
            assert _on(folded, main, folded.place(triangle, point)) == pytest.approx(
                _on(shut, main, shut.place(triangle, point)), abs=1e-6
            )


def _apart(folded: Folded, one: int, other: int) -> float:
    middles = [Polygon([(x, z) for x, _, z in folded.corners(number)]).centroid for number in (one, other)]
    return float(middles[0].distance(middles[1]))


def _on(folded: Folded, panel: int, spot: Spot) -> tuple[float, float]:
    """A place in space by where it lies on a panel."""
    pose = folded.poses[panel]
    assert pose is not None
    off = [a - b for a, b in zip(spot, pose.origin, strict=True)]
    along, down = (sum(a * b for a, b in zip(off, way, strict=True)) for way in (pose.along, pose.down))
    return along, down


@pytest.mark.parametrize(
    ("kind", "layers"),
    [
        ("", (1, 3, 3)),
        (", straight", (1, 3, 3)),
        (", reverse", (1, 4, 3)),
        (", snap-lock bottom", (1, 3, 4)),
        (", crash-lock bottom", (1, 3, 4)),
        (", glued bottom", (1, 3, 4)),
    ],
)
def test_the_room_is_what_was_asked_for_and_every_layer_is_counted(kind: str, layers: tuple[int, ...]) -> None:
    """Counted by hand where card lies on card: see the drawing of a carton's edges in any packer's handbook (common
    practice, no source). 0.4 mm of card, taken up to a half millimetre."""
    blank, _, flat, _ = boxed(f"fold: tuck box{kind}\ninside: 40 x 50 x 120 mm", "0.4 mm")
    thick = Fraction(2, 5)
    sizes = [mm for _, mm in blank.made]
    half = Fraction(1, 2)
    assert sizes == [
        -(-(inside + count * thick) // half) * half for inside, count in zip((40, 50, 120), layers, strict=True)
    ]
    known = rooms(blank, thick)
    assert all(room.inside >= asked for room, asked in zip(known, (40, 50, 120), strict=True))
    assert [room.outside for room in known] == [size + thick for size in sizes]
    assert flat.findings == ()


@SOME
@given(SIZES, CARDS, st.sampled_from(KINDS))
def test_the_numbers_to_score_by_hold_in_both_unit_systems(size: str, card: str, kind: str) -> None:
    """As they are printed: the same walls are equally wide, and the lid stays shorter than the box is deep."""
    blank, _, flat, folding = boxed(f"fold: tuck box{kind}\nfinished: {size}", card)
    lengths = flat.lengths
    both = {**lengths.by_id, **folding.lengths}
    whole = type(lengths)(both, (*lengths.relations, *folding.relations), lengths.worked_out | folding.worked_out)
    for system in System:
        printed = {name: one.mm for name, one in close(whole, system).printed.items()}
        across = sorted(
            (lengths.by_id[name].mm, mm)
            for name, mm in printed.items()
            if name.side == "across" and name.place in ("mark", "size")
        )
        xs = dict(across)
        (_, wide), (_, deep), _ = blank.made
        ends = [xs[at] for at in (wide, wide + deep, 2 * wide + deep, 2 * (wide + deep))]
        assert ends[0] == ends[2] - ends[1] and ends[1] - ends[0] == ends[3] - ends[2]
        assert 0 < printed[LengthId("box", "made", "lid")] < printed[LengthId("box", "made", "down")]
        assert ends[1] - ends[0] == printed[LengthId("box", "made", "down")]


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("fold: tuck box, revers\nfinished: 40 x 40 x 120 mm", "remark-misspelt"),
        ("fold: tuck box, snap-lock bottom, glued bottom\nfinished: 40 x 40 x 120 mm", "remarks-differ"),
        ("fold: tuck box, reverse, snap-lock bottom\nfinished: 40 x 40 x 120 mm", "reverse-of-one-tuck"),
        ("fold: tuck box\nfinished: 5 x 40 x 120 mm", "tuck-box-too-small"),
        ("fold: tuck box\nfinished: 40 x 120 mm", "finished-wants"),
    ],
)
def test_what_cannot_be_made_is_told(facts: str, code: str) -> None:
    lines = "\n".join("    " + line for line in facts.splitlines())
    read = read_recipe(
        f"---\ntitle: A\nmakes: 1\nsupplies:\n  card: cardstock\npieces:\n  box:\n{lines}\n---\n", "r", "r"
    )
    assert read.recipe is not None
    assert code in {one.code for one in (*read.findings, *lay_flat(read.recipe).findings)}


@pytest.mark.parametrize(
    ("hole", "told"),
    [
        ("window 20 x 10 mm, centred on front, edge 20 mm from the top of front", False),
        ("window 20 x 10 mm, centred on front, edge 10 mm from the top of front", True),
        ("window 14 x 60 mm, centred on back", False),
        ("window 20 x 60 mm, centred on back", True),
        ("round 10 mm, centred on lid", True),
    ],
)
def test_a_window_behind_a_tuck_or_flap_is_told(hole: str, told: bool) -> None:
    """By hand: the tuck comes down 15 mm inside the front; the glue flap lies 12 mm inside the back, 40 mm wide; the
    dust flaps, 19 mm long each, lie under all of the lid's middle but 2 mm."""
    _, _, flat, folding = boxed(f"fold: tuck box\nfinished: 40 x 40 x 120 mm\nholes: {hole}")
    assert codes(flat, folding) == ({"flap-over-opening"} if told else set())


@pytest.mark.parametrize(
    ("kind", "order"),
    [
        (
            ", snap-lock bottom",
            [{"slotted flap"}, {"left bottom flap", "right bottom flap"}, {"locking flap"}],
        ),
        (
            ", glued bottom",
            [{"left bottom flap", "right bottom flap"}, {"back bottom flap"}, {"front bottom flap"}],
        ),
        (
            ", automatic bottom",
            [{"left bottom flap", "right bottom flap", "back bottom flap", "front bottom flap"}],
        ),
        ("", [{"dust flap"}, {"bottom"}]),
    ],
)
def test_a_bottom_is_folded_in_the_order_in_which_it_holds(kind: str, order: list[set[str]]) -> None:
    """As packers fold it (common practice, no source): what locks or is glued over the rest comes last, an automatic
    bottom swings in at once; then the dust flaps, and the lid last of all."""
    _, folded, _, _ = boxed(f"fold: tuck box{kind}\nfinished: 60 x 40 x 100 mm")
    net = folded.net
    walls = {"front", "back", "left", "right", "glue flap"}
    groups = [
        {net.panels[at].name for number in group for at in (net.creases[number].one, net.creases[number].other)} - walls
        for group in order_of(net, "tuck box").groups
    ]
    shown = [{name for name in group if "tuck" not in name} for group in groups if group]
    assert shown == [*order, {"dust flap"}, {"lid"}]
