"""The gift bag and the pocket, held against what can be reckoned of any: how large they stand, whether they fold
flat, and whether what is printed adds up."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees, dist

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec import structs

from foldwright.figures.closing import close
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.folded import Folded, fold
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.together.contents import pack_contents
from foldwright.geometry.understood import work_on
from foldwright.measure.length import System
from foldwright.measure.printed import Printed
from foldwright.recipe.reading import read_recipe
from geometry.laid import STUDIO, recipe_of
from workbench.long import tries

SOME = settings(max_examples=tries(20, 150))
Spot = tuple[float, float]


def made(facts: str, more: str = "", studio: str = "") -> tuple[Flat, Blank, Folded, set[str]]:
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  bag:\n    from: card\n{lines}\n{more}", studio)
    flat = lay_flat(recipe)
    folding = fold_pieces(recipe, flat)
    blank = flat.blank("bag")
    assert blank is not None
    return flat, blank, fold(folding.nets["bag"]), {one.code for one in (*flat.findings, *folding.findings)}


@SOME
@given(st.integers(30, 260), st.integers(20, 200), st.integers(40, 300), st.sampled_from(["", ", no hem", ", handles"]))
def test_a_bag_stands_as_wide_deep_and_high_as_it_was_asked_for(wide: int, deep: int, high: int, how: str) -> None:
    """Every ring of panels closes, which no sum on the flat blank could tell; nothing runs through anything else."""
    assume(wide >= deep + 8 and high > deep / 2)
    _, blank, folded, codes = made(f"fold: gift bag{how}\nfinished: {wide} x {deep} x {high} mm")
    assert codes == set() and folded.opened == () and not list(collisions(folded))
    spots = [spot for number, _ in folded.panels for spot in folded.corners(number)]
    stands = sorted(max(axis) - min(axis) for axis in zip(*spots, strict=True))
    assert stands == pytest.approx(sorted([wide, deep, high]), abs=1e-6)
    # Half the depth and 15 mm below the walls, no longer than the bag is deep or half as wide; 30 mm, or a quarter of
    # the height, turned in at the top, but no farther than the folds of the bottom.
    strip = min(deep / 2 + 15, wide / 2, deep)
    hem = 0 if how == ", no hem" else min(30, high / 4, high - deep / 2)
    assert float(blank.height) == pytest.approx(hem + high + strip, abs=1e-6)
    assert float(blank.width) == pytest.approx(2 * wide + 2 * deep + min(12, strip), abs=1e-6)
    floor = [number for number, panel in folded.panels if panel.name == "bottom"]
    assert {round(abs(folded.normal(number)[1]), 9) for number in floor} == {1.0}
    assert len(blank.openings) == (8 if how == ", handles" else 0)


def _ways(blank: Blank, at: Spot) -> list[float]:
    """In which directions folds leave a place of the blank, in degrees, in order."""
    found = []
    for line in (one for one in blank.drawn if one.kind != "glue area"):
        for start, end in pairwise([(float(x), float(y)) for x, y in line.points]):
            if dist(start, at) + dist(at, end) - dist(start, end) < 1e-9:
                ends = [one for one in (start, end) if dist(one, at) > 1e-6]
                found += [degrees(atan2(y - at[1], x - at[0])) % 360 for x, y in ends]
    return sorted(found)


@SOME
@given(st.integers(60, 260), st.integers(20, 100), st.integers(120, 300))
def test_every_corner_of_a_bag_may_be_folded_flat(wide: int, deep: int, high: int) -> None:
    """Kawasaki's theorem: paper folds flat at a place where every other angle between its folds adds up to 180."""
    assume(wide >= deep + 8)
    _, blank, _, _ = made(f"fold: gift bag\nfinished: {wide} x {deep} x {high} mm")
    edge = (0.0, float(blank.width)), (0.0, float(blank.height))
    ends = {(float(x), float(y)) for line in blank.drawn if line.kind != "glue area" for x, y in line.points}
    crossings = {(x, y) for x, _ in ends for _, y in ends}
    tried = 0
    for at in crossings:
        ways = _ways(blank, at)
        inside = all(low + 1e-6 < one < top - 1e-6 for one, (low, top) in zip(at, edge, strict=True))
        on_corner = abs(at[0] - (2 * wide + 2 * deep)) < 1e-6 and at[1] < 31
        if len(ways) < 3 or not inside or on_corner:
            continue
        tried += 1
        between = [(after - before) % 360 for before, after in pairwise((*ways, ways[0]))]
        assert len(between) % 2 == 0 and sum(between[::2]) == pytest.approx(180, abs=1e-6), (at, ways)
    # Three corners and the glue flap's at the foot, two where the sides fold in, three at the top edge, and where
    # the fold across the back crosses the corners.
    assert tried >= 12


def test_the_handles_go_through_both_layers() -> None:
    """Each hole of the wall has its twin in what is turned in, as far from the fold on the other side."""
    flat, blank, folded, _ = made("fold: gift bag, handles\nfinished: 120 x 60 x 160 mm")
    told = next(fact for fact in work_on(blank, flat) if fact.code == "handles")
    assert [flat.lengths.by_id[name].mm for name in told.lengths] == [5, 15, 30]
    spots = []
    for opening in blank.openings:
        x, y = float(opening.left + opening.width / 2), float(opening.top + opening.height / 2)
        panel = next(
            number
            for number, one in folded.panels
            if min(p for p, _ in one.outline) < x < max(p for p, _ in one.outline)
            and min(q for _, q in one.outline) < y < max(q for _, q in one.outline)
        )
        spots.append(tuple(round(at, 6) for at in folded.place(panel, (x, y))))
    assert len(spots) == 8 and all(spots.count(spot) == 2 for spot in spots)


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("finished: 60 x 60 x 160 mm", "bag-too-deep"),
        ("finished: 60 x 80 x 160 mm", "bag-too-deep"),
        ("finished: 160 x 80 x 40 mm", "bag-too-low"),
    ],
)
def test_a_bag_that_cannot_be_is_refused_with_what_could(facts: str, code: str) -> None:
    flat = lay_flat(recipe_of(f"  bag:\n    from: card\n    fold: gift bag\n    {facts}\n"))
    assert [one.code for one in flat.findings] == [code]
    assert flat.blank("bag") is None and "least" in dict(flat.findings[0].facts)


def test_a_bag_by_its_inside_leaves_that_room_in_both_systems() -> None:
    for inside in ("120 x 60 x 160 mm", "5 x 2 1/2 x 7 in"):
        flat, blank, _, codes = made(f"fold: gift bag\ninside: {inside}", studio=STUDIO)
        assert codes == set()
        card = flat.cards["bag"]
        assert card is not None
        thick = card.length.mm
        sizes = [size for _, size in blank.made]
        known = {own.place: flat.lengths.by_id[own].mm for own, _ in blank.made}
        assert sizes == list(known.values())
        wanted = [120, 60, 160] if "mm" in inside else [127, 63.5, 177.8]
        assert [float(size - count * thick) for size, count in zip(sizes, (3, 4, 4), strict=True)] == wanted
        printed = close(flat.lengths, System.METRIC).printed
        assert all(printed[own].mm >= size for own, size in blank.made)


@SOME
@given(st.integers(40, 160), st.integers(40, 160), st.sampled_from(["", ", thumb notch"]))
def test_a_pocket_is_two_leaves_and_two_flaps_that_lie_between(wide: int, high: int, how: str) -> None:
    _, blank, folded, codes = made(f"fold: pocket{how}\nfinished: {wide} x {high} mm")
    assert codes == set() and folded.opened == ()
    assert (blank.width, blank.height) == (wide + 24, 2 * high)
    spots = [spot for number, _ in folded.panels for spot in folded.corners(number)]
    assert all(abs(z) < 1e-6 for _, _, z in spots)
    assert [max(axis) - min(axis) for axis in zip(*spots, strict=True)][:2] == pytest.approx([wide, high], abs=1e-6)
    assert len(blank.notches) == (1 if how else 0)


CARD = "supplies:\n  gift card:\n    kind: gift card\n    use: 1\n    size: {size}\n"


def _with_card(facts: str, size: str) -> Flat:
    text = (
        "---\ntitle: A pocket\nmakes: 1 pocket\nmeasured in: millimetres\n"
        + CARD.format(size=size)
        + "  card: cardstock, thickness 0.3 mm, sheet A4\npieces:\n  pocket:\n    from: card\n    fold: pocket\n"
        + "".join(f"    {line}\n" for line in facts.splitlines())
        + "---\n\nWords.\n"
    )
    recipe = read_recipe(text, "recipe.md", "test", None).recipe
    assert recipe is not None
    flat = lay_flat(recipe)
    blanks = {blank.piece: blank for blank in flat.blanks}
    contents = pack_contents(recipe, blanks, flat.cards)
    return structs.replace(flat, held=contents.held, findings=(*flat.findings, *contents.findings))


def test_a_pocket_for_a_bank_card_is_worked_out_from_the_card() -> None:
    """ISO/IEC 7810, ID-1: 85.60 x 53.98 mm, 0.76 mm thick. The paper goes round it: its own thickness and that of the
    card are added once, and 3 mm (common practice, no source)."""
    flat = _with_card("holds: gift card", "85.6 x 53.98 x 0.76 mm")
    assert flat.findings == ()
    sums = [float(working.total.mm) for working in flat.workings]
    assert sums == pytest.approx([85.6 + 0.76 + 3 + 0.3, 53.98 + 0.76 + 3 + 0.3])
    assert [float(size) for _, size in flat.blanks[0].made] == pytest.approx(sums)
    (held,) = flat.held
    assert [length.mm for length in held.left][:2] == [3, 3]


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("finished: 50 x 60 mm\nholds: gift card", "does-not-go-in-across"),
        ("finished: 90 x 40 mm\nholds: gift card", "stands-out-of-the-pocket"),
        ("finished: 90 x 20 mm\nholds: gift card", "does-not-go-in-down"),
        ("finished: 90 x 60 mm\nholds: gift card", ""),
        ("inside: 90 x 56 mm\nholds: gift card", ""),
        ("note: none", "finished-or-held-wanted"),
        ("inside: 90 x 56 x 10 mm", "finished-wants"),
    ],
)
def test_what_a_pocket_holds_goes_in_or_it_is_told(facts: str, code: str) -> None:
    assert {one.code for one in _with_card(facts, "85.6 x 53.98 x 0.76 mm").findings} == ({code} if code else set())


@SOME
@given(st.fractions(40, 200, max_denominator=20), st.fractions(30, 120, max_denominator=20), st.booleans())
def test_printed_marks_are_as_far_apart_as_the_printed_sizes(wide: Fraction, deep: Fraction, bag: bool) -> None:
    """In both unit systems: what is scored by the printed numbers has the printed size, whatever was rounded."""
    wide = max(wide, deep + 10)
    sizes = " x ".join(f"{float(mm):.2f}" for mm in ((wide, deep, deep * 2) if bag else (wide, deep)))
    flat, blank, _, codes = made(f"fold: {'gift bag' if bag else 'pocket'}\ninside: {sizes} mm", studio=STUDIO)
    assert codes == set()
    for system in System:
        printed = close(flat.lengths, system).printed
        for face in blank.faces:
            for side, low, high, own in (
                ("across", face.left, face.right, face.across),
                ("down", face.top, face.bottom, face.down),
            ):
                ends = [_printed_at(flat, printed, side, at) for at in (low, high)]
                if abs(high - low - dict(blank.made)[own]) < 1e-6:
                    assert ends[1] - ends[0] == printed[own].mm


def _printed_at(flat: Flat, printed: Mapping[LengthId, Printed], side: str, at: Fraction) -> Fraction:
    named = [own for own in printed if own.side == side and own.place in ("mark", "size")]
    if at == 0:
        return Fraction(0)
    return next(printed[own].mm for own in named if abs(flat.lengths.by_id[own].mm - at) < 1e-3)


@pytest.mark.parametrize(
    ("how", "hem"),
    [("", 30), (", hem 20 mm", 20), (", 2 cm hem", 20), (", with a hem 1 1/2 in", 38.1), (", no hem", 0)],
)
def test_the_hem_of_a_bag_may_be_said(how: str, hem: float) -> None:
    _, blank, folded, codes = made(f"fold: gift bag{how}\nfinished: 120 x 60 x 160 mm")
    assert codes == set() and folded.opened == ()
    assert float(blank.height) == pytest.approx(hem + 160 + 30 + 15)


def test_a_hem_leaves_the_folds_of_the_bottom_free() -> None:
    """A bag 160 mm high and 60 deep folds in 30 mm above its foot: 130 mm are left."""
    for hem, codes in ((130, set()), (131, {"hem-too-wide"})):
        text = f"  bag:\n    from: card\n    fold: gift bag, hem {hem} mm\n    finished: 120 x 60 x 160 mm\n"
        assert {one.code for one in lay_flat(recipe_of(text)).findings} == codes


def test_a_bag_may_be_bigger_than_what_goes_in_it() -> None:
    """2 mm on every side of a tray that is 80.64 x 50.64 mm outside: its inside and two walls of 0.32 mm."""
    tray = "  tray:\n    from: card\n    inside: 80 x 50 x 30 mm\n    corners: cut away\n    fold: tray\n"
    facts = "fold: gift bag\ninside: 2 mm bigger on every side than tray outside, 150 mm deep"
    flat, blank, _, codes = made(facts, tray, STUDIO)
    assert codes == set() and len(flat.blanks) == 2
    thick = 0.32
    wanted = [80 + 2 * thick + 4 + 3 * thick, 50 + 2 * thick + 4 + 4 * thick, 150 + 4 * thick]
    assert [float(size) for _, size in blank.made] == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("fold", "hole", "told"),
    [
        # 30 mm are turned in at the top of the bag.
        ("gift bag", "window 40 x 40 mm, centred on front", False),
        ("gift bag", "window 40 x 40 mm, edge 32 mm from the top of front", False),
        ("gift bag", "window 40 x 40 mm, edge 10 mm from the top of front", True),
        ("gift bag", "round 5 mm, middle 15 mm from the top of front", True),
        ("gift bag, handles", "window 30 x 30 mm, centred on front", False),
        # The folds down the middle of a side hide nothing.
        ("gift bag", "window 30 x 20 mm, edge 5 mm from the bottom of left", False),
        # The glue flaps of a pocket are 12 mm wide.
        ("pocket", "window 90 x 40 mm, centred on front", False),
        ("pocket", "window 100 x 40 mm, centred on front", True),
    ],
)
def test_what_is_turned_in_behind_a_window_is_told(fold: str, hole: str, told: bool) -> None:
    size = "120 x 60 x 160 mm" if "bag" in fold else "120 x 60 mm"
    codes = made(f"fold: {fold}\nfinished: {size}\nholes: {hole}")[3]
    assert codes == ({"flap-over-opening"} if told else set())


def test_a_bag_that_cannot_be_is_told_without_an_inside_being_lost() -> None:
    """Its sizes were worked out before it was refused: everything that asks for them still finds them."""
    flat = lay_flat(recipe_of("  bag:\n    from: card\n    fold: gift bag\n    inside: 60 x 80 x 160 mm\n", STUDIO))
    assert {one.code for one in flat.findings} == {"bag-too-deep"}
    assert flat.lengths.worked_out <= flat.lengths.by_id.keys()
