"""Pictures of what hands do besides cutting and folding: every act has one, and things are where they belong."""

from __future__ import annotations

from functools import cache
from math import floor, hypot, isfinite
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point as Place
from shapely.geometry import Polygon

from foldwright.document.words import Runs
from foldwright.geometry.pictures.binding import Cord, belt_round
from foldwright.geometry.pictures.handwork import HANDS, UNDRAWN
from foldwright.geometry.pictures.putting import putting_pictures
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.sticking import places_of
from foldwright.geometry.pictures.story import step_pictures
from foldwright.geometry.pictures.stuff import laid_in, shape_of
from foldwright.geometry.pictures.things import Sight, Solid, box_leaves, solid_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pictures.whole import sheets_standing
from foldwright.geometry.pictures.workshop import workshop_of
from foldwright.geometry.scene import LineKind, Scene, Tone
from foldwright.pipeline import Understood, check_recipe
from foldwright.recipe.words import Text
from foldwright.vocabulary.acts import ACTS, Act, Phase
from workbench.compiled import DEMOS, RECIPES, compiled

_ACTS_PAGE = Path(__file__).parents[1] / "cases" / "acts" / "recipe.md"

_TOP = """\
---
title: A test
makes: 1 box
measured in: millimetres
supplies:
  kraft card: cardstock, weight 250 g/m2, thickness 0.33 mm, sheet A3
  ribbon: ribbon, width 8 mm, use 600 mm
  strong tape: double-sided tape, width 6 mm, use 300 mm
  sweet: wrapped sweet, use 4, size 25 x 12 x 12 mm
  ink pad: ink, use a little
pieces:
  base:
    from: kraft card
    size: 140 x 120 mm
    across: 30 left | 80 floor | 30 right
    down: 30 back | 60 floor | 30 front
    flaps: joined to left and right, trimmed 1 mm
    holes: round 6 mm, centred on front, middle 8 mm from the bottom
    fold: tray
    holds: sweet
  strap:
    from: kraft card
    count: 4
    size: 260 x 20 mm
    goes round: base
---

"""

_WITHOUT_HOLE = "".join(line for line in _TOP.splitlines(keepends=True) if "holes:" not in line)


def understood(text: str) -> Understood:
    known = check_recipe(text, "recipe.md", "test").understood
    assert known is not None
    return known


def pictures_of(text: str) -> list[StepPicture]:
    known = understood(text)
    return list(step_pictures(known.recipe, known.flat, known.folding))


def steps(*lines: str, top: str = _TOP) -> str:
    """A recipe with a step for each `do:` line, and what stands after a bar in its `with:`."""
    found = top
    for number, line in enumerate(lines, 1):
        do, _, used = line.partition(" | ")
        found += f"## Step {number}\ndo: {do}\n" + (f"with: {used}\n" if used else "") + "\nWork.\n\n"
    return found


def before(act: Act) -> tuple[str, ...]:
    """What has to be done to the base before an act makes sense."""
    if act.phase <= Phase.SCORE:
        return ()
    if act.phase <= Phase.FOLD:
        return ("cut and score base",)
    if act.name in ("glue", "tape", "hot glue", "stick", "attach", "assemble"):
        return ("cut and score base", "slit base")
    return ("cut and score base", "slit base", "fold base, tape base")


@pytest.mark.parametrize("act", ACTS, ids=lambda act: act.name)
def test_every_act_has_a_picture_or_a_reason_to_have_none(act: Act) -> None:
    word = "rounding" if act.name == "round" else act.name  # "round the base" says where something goes
    lines = (*before(act), f"{word} base | sweet, ribbon, ink pad")
    shown = [one for one in pictures_of(steps(*lines)) if one.step == len(lines)]
    assert bool(shown) != (act.name in UNDRAWN), act.name


def test_no_act_is_both_drawn_and_excused() -> None:
    names = {act.name for act in ACTS}
    assert set(HANDS) <= names and set(UNDRAWN) <= names and not set(HANDS) & set(UNDRAWN)


@cache
def every_picture() -> list[StepPicture]:
    found = pictures_of(_ACTS_PAGE.read_text(encoding="utf-8"))
    for name in DEMOS:
        folder = Path(RECIPES) / name
        text = (folder / "recipe.md").read_text(encoding="utf-8")

        def read(path: str, at_most: int, folder: Path = folder) -> bytes:
            return (folder / path).read_bytes()

        known = check_recipe(text, "recipe.md", name, read=read).understood
        assert known is not None
        found += step_pictures(known.recipe, known.flat, known.folding)
    return found


def test_every_picture_is_finite_and_lies_in_its_frame() -> None:
    for one in every_picture():
        scene = one.scene
        lines = [stroke.points for stroke in scene.strokes]
        lines += [stroke.points for face in scene.faces for stroke in face.edges]
        points = [point for face in scene.faces for point in face.outline]
        points += [point for line in (*lines, *(arrow.path for arrow in scene.arrows)) for point in line]
        assert all(isfinite(x) and isfinite(y) for x, y in points), one.code
        drawn = [point for face in scene.faces for point in face.outline]
        drawn += [point for arrow in scene.arrows for point in arrow.path]
        assert all(-1e-6 <= x <= scene.width + 1e-6 and -1e-6 <= y <= scene.height + 1e-6 for x, y in drawn), one.code


_HEAD = 0.035
"""How long an arrow's head is, as a part of a picture: 5.5 widths of a line of 0.5 mm in a picture 80 mm wide."""


def test_an_arrow_has_a_shaft() -> None:
    told = [one for one in every_picture() if one.step]
    assert sum(bool(one.scene.arrows) for one in told) > 20
    for one in told:
        size = max(one.scene.width, one.scene.height)
        for arrow in one.scene.arrows:
            pairs = zip(arrow.path, arrow.path[1:], strict=False)
            assert sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in pairs) > 1.5 * _HEAD * size, one.code


# --- through holes, round things --------------------------------------------------------------------------------------

_TAG = """\
---
title: Tag
makes: 1 tag
measured in: millimetres
supplies:
  card: cardstock, weight 250 g/m2, sheet A4
  jute: twine, use 200 mm
pieces:
  tag:
    from: card
    size: {wide} x {high} mm
    holes: round 5 mm, centred, middle {down} mm from the top
---

"""


def of_tone(scene: Scene, tone: Tone) -> list[Polygon]:
    return [Polygon(face.outline) for face in scene.faces if face.tone is tone]


@given(st.integers(40, 90), st.integers(70, 140), st.integers(8, 20))
def test_twine_goes_through_the_middle_of_the_hole(wide: int, high: int, down: int) -> None:
    told = pictures_of(
        steps("cut tag", "punch tag", "tie tag | jute", top=_TAG.format(wide=wide, high=high, down=down))
    )
    scene = next(one for one in told if one.code == "tie-through").scene
    gaps = [Polygon(gap).centroid for face in scene.faces if face.tone is not Tone.TWINE for gap in face.gaps]
    assert len(gaps) == 1
    assert min(twine.distance(gaps[0]) for twine in of_tone(scene, Tone.TWINE)) < 0.5
    # Where the hand goes: the arrow ends in the hole.
    assert Place(scene.arrows[0].path[-1]).distance(gaps[0]) < 0.5


@given(st.integers(20, 200), st.integers(20, 200), st.integers(20, 200), st.sampled_from((0, 1, 2)))
def test_a_belt_is_as_long_as_it_is_round_a_box(wide: int, deep: int, high: int, axis: int) -> None:
    """Its girth by the formula of a rectangle; a belt that lies 0.6 mm off is longer by eight times that."""
    sizes = wide, deep, high
    low = (-wide / 2, -deep / 2, 0.0)
    walls = closed_box(low, (wide / 2, deep / 2, float(high)))
    middle = (0.0, 0.0, high / 2)[axis]
    belt = belt_round(walls, axis, middle, Cord(5.0, Tone.RIBBON), View())
    assert belt is not None
    long = sum(hypot(*(b - a for a, b in zip(leaf.outline[0], leaf.outline[1], strict=True))) for leaf in belt.leaves)
    girth = 2 * sum(size for at, size in enumerate(sizes) if at != axis)
    assert girth < long < girth + 8 * 0.8


def closed_box(low: tuple[float, float, float], high: tuple[float, float, float]) -> tuple[Leaf, ...]:
    """All six sides, seen or not."""
    found = []
    for axis in range(3):
        one, other = [at for at in range(3) if at != axis]
        for level in (low[axis], high[axis]):
            ring = []
            for a, b in ((low, low), (high, low), (high, high), (low, high)):
                spot = [0.0, 0.0, 0.0]
                spot[axis], spot[one], spot[other] = level, a[one], b[other]
                ring.append((spot[0], spot[1], spot[2]))
            found.append(Leaf(tuple(ring), (0.0, 0.0, 1.0), (LineKind.CUT,) * 4))
    return tuple(found)


def test_the_finished_picture_has_the_bow() -> None:
    made = ("cut and score base", "slit base", "fold base, tape base")
    told = pictures_of(steps(*made, "fill base", "tie | ribbon", top=_WITHOUT_HOLE))
    finished = told[-1]
    assert finished.step == 0 and of_tone(finished.scene, Tone.RIBBON) and of_tone(finished.scene, Tone.FOOD)
    folded = next(one for one in told if one.code == "made")
    assert not of_tone(folded.scene, Tone.RIBBON) and not of_tone(folded.scene, Tone.FOOD)


def test_a_cord_through_the_four_tips_of_a_pyramid_is_tied_in_one_bow() -> None:
    """No more ribbon is drawn than at the one hole of a box; four bows were four times as much."""
    box = pictures_of(steps("cut and score base", "slit base", "fold base, tape base", "tie base | ribbon"))
    pyramid = "  base:\n    from: kraft card\n    fold: pyramid\n    finished: 60 x 60 x 80 mm\n---\n\n"
    top = _TOP.partition("  base:\n")[0] + pyramid
    tied = pictures_of(steps("cut and score base", "fold base", "tie base | ribbon", top=top))
    drawn = [len(of_tone(told[-1].scene, Tone.RIBBON)) for told in (tied, box)]
    assert tied[-1].step == 0 and 0 < drawn[0] <= drawn[1]


# --- what goes in -----------------------------------------------------------------------------------------------------

lengths = st.integers(5, 60).map(float)


@given(st.tuples(lengths, lengths, lengths), st.integers(1, 20), st.integers(40, 200), st.integers(40, 200))
def test_contents_lie_in_their_room(size: tuple[float, float, float], count: int, wide: int, deep: int) -> None:
    """Where a grid of them has room in some direction, all of them are inside, and none runs through another."""
    a, b, c = size
    high = 60.0
    ways = {(a, b, c), (b, a, c), (a, c, b), (c, a, b), (b, c, a), (c, b, a)}
    room = ((-wide / 2, -deep / 2, 0.0), (wide / 2, deep / 2, high))
    if not any(floor(wide / x) * floor(deep / y) * floor(high / z) >= count for x, y, z in ways):
        return
    view = View()
    leaves = laid_in((Solid("box", size, Tone.FOOD),) * count, room, False, view)
    spots = [spot for leaf in leaves for spot in leaf.outline]
    for axis in range(3):
        assert min(spot[axis] for spot in spots) >= room[0][axis] - 0.1
        assert max(spot[axis] for spot in spots) <= room[1][axis] + 0.1
    sides = len(leaves) // count
    boxes = [boxed(leaves[at * sides : (at + 1) * sides]) for at in range(count)]
    for number, one in enumerate(boxes):
        for other in boxes[:number]:
            pairs = [(one, other), (other, one)]
            assert any(low[1][axis] <= high[0][axis] + 0.1 for low, high in pairs for axis in range(3))


def boxed(leaves: tuple[Leaf, ...]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    spots = [spot for leaf in leaves for spot in leaf.outline]
    return tuple(map(min, zip(*spots, strict=True))), tuple(map(max, zip(*spots, strict=True)))


@pytest.mark.parametrize("kind", ["round", "upright", "bottle", "sweet", "box"])
def test_a_thing_is_as_large_as_it_is(kind: str) -> None:
    """In the picture it reaches no farther than a box of its size, and nearly as far across."""
    size, view = (30.0, 30.0, 50.0), View()
    box = [view.point(spot) for leaf in box_leaves(((-15, -15, 0), (15, 15, 50)), view, None) for spot in leaf.outline]
    solid = solid_of(Solid(kind, size, Tone.THING), (0, 0, 0), view)
    thing = [view.point(spot) for leaf in solid for spot in leaf.outline]
    around = Polygon(box).convex_hull.buffer(0.5)
    assert all(around.contains(Place(point)) for point in thing)
    assert max(x for x, _ in thing) - min(x for x, _ in thing) >= 25


def test_the_directions_of_a_picture_are_a_turn() -> None:
    sight = Sight.of(View())
    for one in (sight.right, sight.down, sight.near):
        assert sum(part * part for part in one) == pytest.approx(1)
    assert sum(a * b for a, b in zip(sight.right, sight.near, strict=True)) == pytest.approx(0)


def test_what_is_round_is_told_by_its_name() -> None:
    known = understood(
        "---\ntitle: T\nmakes: 1 box\nsupplies:\n  truffle: chocolate, use 3, size 25 x 25 x 25 mm\n"
        "  penny: coin, use 2, size 20 x 20 x 2 mm\n  soap: soap, use 1, size 80 x 55 x 22 mm\n"
        "  gum ball: sweet, use 5, size 15 mm\n  milk: bottle, use 1, size 36 mm round x 110 mm\n"
        "  wick: wax, use 1, size 40 mm round x 30 mm\n---\n\nWords.\n"
    )
    sizes = {one.name.value: shape_of(one).size for one in known.recipe.supplies}
    assert (sizes["milk"], sizes["wick"]) == ((36.0, 36.0, 110.0), (40.0, 40.0, 30.0))
    kinds = {one.name.value: shape_of(one).kind for one in known.recipe.supplies}
    assert kinds == {
        "truffle": "round",
        "penny": "upright",
        "soap": "box",
        "gum ball": "round",
        "milk": "bottle",
        "wick": "upright",
    }


# --- what sticks ------------------------------------------------------------------------------------------------------

_CARD = """\
---
title: Card
makes: 1 card
measured in: millimetres
supplies:
  cream card: cardstock, weight 250 g/m2, sheet A4
  foam square: foam adhesive, use 4
  tape: double-sided tape, width 6 mm, use 40 cm
pieces:
  outer mat:
    from: cream card
    size: 100 x 140 mm
  inner mat:
    from: cream card
    size: 90 x 130 mm
    goes on: outside of outer mat, centred
---

"""


@pytest.mark.parametrize(("used", "tone", "count"), [("foam square", Tone.FOAM, 4), ("tape", Tone.TAPE, 2)])
def test_foam_and_tape_lie_where_the_piece_goes(used: str, tone: Tone, count: int) -> None:
    told = pictures_of(steps("cut inner mat", "cut outer mat", f"stick inner mat to outer mat | {used}", top=_CARD))
    picture = next(one for one in told if one.code == "join-with")
    assert (picture.parts, picture.onto, picture.thing) == (("inner mat",), "outer mat", used)
    found = of_tone(picture.scene, tone)
    assert len(found) >= count
    largest = max((Polygon(face.outline) for face in picture.scene.faces if face.outline), key=lambda one: one.area)
    assert largest.area > max(pad.area for pad in found)


@pytest.mark.parametrize(
    ("supply", "shown"),
    [
        ("glue dots: glue dots, use 4", "dots-on"),
        ("sticky dots: adhesive dot, use 4", "dots-on"),
        ("foam square: foam adhesive, use 4", "pads-on"),
        ("strong tape: double-sided tape, use 40 cm", "tape-on"),
        ("glue stick: glue stick, use a little", "glue-stick"),
        ("stick of glue: hot glue, use a little", "hot-glue"),
        ("craft glue: wet glue, use a little", "glue-on"),
    ],
)
@pytest.mark.parametrize("others", ["", "  spare glue: wet glue, use a little\n"])
def test_glue_is_drawn_as_what_is_named_to_glue_with(supply: str, shown: str, others: str) -> None:
    top = _CARD.replace(
        "  foam square: foam adhesive, use 4\n  tape: double-sided tape, width 6 mm, use 40 cm\n", others
    )
    top = top.replace("pieces:", f"  {supply}\npieces:")
    used = f" | {supply.partition(':')[0]}"
    assert [one.code for one in pictures_of(steps("cut outer mat", f"glue outer mat{used}", top=top))] == ["cut", shown]
    unnamed = pictures_of(steps("cut outer mat", "glue outer mat", top=top))
    # With one thing that sticks it can only be that one; with several nobody knows, and glue is glue.
    assert unnamed[-1].code == ("glue-on" if others else shown)


@pytest.mark.parametrize(("used", "high"), [("foam square", 2.0), ("tape", 0.1)])
def test_what_foam_holds_off_stays_held_off(used: str, high: float) -> None:
    """Foam is 2 mm high where nobody says (common practice, no source); tape is next to nothing."""
    known = understood(steps("cut inner mat", "cut outer mat", f"stick inner mat to outer mat | {used}", top=_CARD))
    workshop = workshop_of(known.recipe, known.flat, known.folding, frozenset())
    state = workshop.untouched()
    for step in known.recipe.steps[2:]:
        _, state = putting_pictures(workshop, state, step, step.doings)
    levels = {leaf.piece: leaf.outline[0][2] for leaf in sheets_standing(workshop, state, "outer mat") if leaf.piece}
    assert high <= levels["inner mat"] - levels["outer mat"] < high + 1


@given(st.integers(20, 200), st.integers(20, 200), st.integers(1, 3))
def test_nothing_that_sticks_reaches_past_the_piece(wide: int, high: int, copies: int) -> None:
    for supply in understood(steps("cut inner mat", top=_CARD)).recipe.supplies[1:]:
        for left, top, right, bottom in places_of(supply, float(wide), float(high), copies):
            assert 0 <= left < right <= wide and 0 <= top < bottom <= high


_POPUP = """\
---
title: Pop-up
makes: 1 card
measured in: millimetres
supplies:
  card: cardstock, weight 250 g/m2, sheet A4
pieces:
  card:
    from: card
    size: 200 x 140 mm
    across: 100 back | 100 front
    fold: card
  strip:
    from: card
    size: 80 x 40 mm
    across: 10 | 30 | 30 | 10
    fold: accordion
    glued: strip 1 to inside of card front, strip 4 to inside of card back
---

"""


def test_what_is_glued_in_two_places_is_drawn_in_both() -> None:
    lines = ("cut and score card, fold card", "cut and score strip, fold strip", "glue strip to card")
    scene = next(one for one in pictures_of(steps(*lines, top=_POPUP)) if one.code == "glue-to").scene
    assert len(scene.arrows) == 2
    panels = sorted((Polygon(face.outline) for face in scene.faces if face.outline), key=lambda one: -one.area)[:2]
    ends = [Place(arrow.path[-1]) for arrow in scene.arrows]
    assert [sum(panel.contains(end) for end in ends) for panel in panels] == [1, 1]


# --- what is said of them ---------------------------------------------------------------------------------------------


def captions(text: str) -> list[str]:
    document, _ = compiled(text)
    return [plain(picture.title) for step in document.steps for picture in step.pictures]


def plain(runs: Runs) -> str:
    return "".join(run.text if isinstance(run, Text) else "…" for run in runs)


def test_captions_say_what_goes_on_what() -> None:
    said = captions(steps("cut inner mat", "stick inner mat to outer mat | tape", top=_CARD))
    assert said[-1] == "Stick the inner mat to the outer mat with the tape."


def test_captions_name_the_thing_that_is_made_where_no_piece_is_named() -> None:
    made = ("cut and score base", "slit base", "fold base, tape base")
    assert captions(steps(*made, "fill base", "tie | ribbon", top=_WITHOUT_HOLE))[-2:] == [
        "Put these in the base: sweet\u00a0×\u00a04.",
        "Tie the ribbon around the box with a bow.",
    ]


@pytest.mark.filterwarnings("error")
def test_every_picture_of_every_act_has_its_words() -> None:
    """A missing text is a warning, and here an error; each caption is one sentence that ends."""
    lines = [f"{act.name if act.name != 'round' else 'rounding'} base | sweet, ribbon" for act in ACTS]
    said = captions(steps("cut and score base", "slit base", "fold base, tape base", *lines))
    assert len(said) > 40
    assert all(one.endswith(".") and one.count(". ") == 0 and "{" not in one for one in said)
