"""Whatever an author may write of a piece, it is laid, folded and drawn without a slip, or told what is the matter."""

from __future__ import annotations

from math import isfinite

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.geometry.pictures.story import step_pictures
from foldwright.pipeline import check_recipe, compose_document
from workbench.long import tries

FRONT = """---
title: Anything
makes: 1
measured in: millimetres
supplies:
  card: cardstock, weight 250 g/m2, sheet A3
  sweet: wrapped sweet, use 3, size 20 x 15 x 10 mm
tools: scissors
pieces:
"""
NAMES = ("", "left", "right", "floor", "front", "back", "glue flap", "top", "pocket")
FORMS = ("tray", "lid", "sleeve", "card", "gate", "tri-fold", "accordion", "envelope", "90, -90")
SHAPED = (
    *("envelope", "pyramid", "hexagonal box", "octagonal box", "gable-top", "pillow box", "cube", "prism, 7 sides"),
    *("tuck box", "tuck box, reverse", "tuck box, snap-lock bottom", "tuck box, automatic bottom"),
    *("tuck box, glued bottom", "hinged box", "tube", "cone", "rosette", "gift bag", "pocket", "turned in, 15 mm"),
)
OUTLINES = ("circle", "oval", "arch", "house", "tag", "hexagon", "octagon", "heart")
KINDS = ("cut", "score", "valley", "mountain", "valley 60 degrees", "mountain -30 degrees", "perforation", "glue area")

numbers = st.integers(8, 300).map(lambda quarters: f"{quarters / 4:g}")


def row_of(length: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    panels = st.builds(lambda long, name: f"{long} {name}".strip(), length, st.sampled_from(NAMES))
    return st.lists(panels, min_size=1, max_size=6).map(" | ".join)


rows = row_of(st.one_of(numbers, st.just("rest")))
sizes = st.builds("{} x {} mm".format, numbers, numbers)
points = st.builds("{} across {} down".format, numbers, numbers)
lines = st.builds(
    "{} from {} to {}{}".format,
    st.sampled_from(KINDS),
    points,
    points,
    st.sampled_from(("", " through 30 across 40 down")),
)
corners = st.sampled_from(
    ("flaps: joined to front and back", "flaps: joined to left and right", "corners: cut away", "")
)
in_rows = st.builds(
    "size: {}\nacross: {}\ndown: {}\n{}\nfold: {}".format, sizes, rows, rows, corners, st.sampled_from(FORMS)
)
adding_up = st.builds(
    "across: {}\ndown: {}\n{}\nfold: {}".format,
    row_of(numbers.map(lambda number: f"{number} mm")),
    row_of(numbers.map(lambda number: f"{number} mm")),
    corners,
    st.sampled_from(FORMS),
)
from_inside = st.builds(
    "inside: {} x {} x {} mm\nflaps: joined to front and back\nfold: {}".format,
    numbers,
    numbers,
    numbers,
    st.sampled_from(("tray", "lid", "sleeve")),
)
worked_out = st.builds(
    "finished: {} mm\nfold: {}".format,
    st.lists(numbers, min_size=1, max_size=3).map(" x ".join),
    st.sampled_from(SHAPED),
)
outlined = st.builds("size: {}\noutline: {}".format, sizes, st.sampled_from(OUTLINES))
with_lines = st.builds(
    lambda size, drawn: "\n".join([f"size: {size}", "lines:", *(f"  - {line}" for line in drawn)]),
    sizes,
    st.lists(lines, min_size=1, max_size=6),
)
holes = st.sampled_from(("", "holes: round 10 mm, centred", "holes: window 20 x 10 mm, centred on front"))
facts = st.builds("{}\n{}".format, st.one_of(in_rows, adding_up, from_inside, worked_out, outlined, with_lines), holes)
togethers = st.sampled_from(
    (
        *("", "goes on: outside of base, centred", "goes on: inside of base front", "fits over: base"),
        *("slides in: base", "glued: other to inside of base"),
    )
)
STEPS = ("cut", "score", "slit", "punch", "fold", "glue")


def piece(name: str, said: str, more: str) -> str:
    listed = [f"    {line}" for line in (*said.split("\n"), more) if line]
    return "\n".join([f"  {name}:", "    from: card", *listed])


@settings(max_examples=tries(60, 250))
@given(facts, facts, togethers)
def test_any_two_pieces_are_checked_and_drawn(base: str, other: str, together: str) -> None:
    pieces = [piece("base", base, "holds: sweet"), piece("other", other, together)]
    steps = [f"## Do {act}\n\ndo: {act} base and other\n" for act in STEPS]
    steps += [f"## Then\n\ndo: {late}\n" for late in ("glue other to base", "slide other into base", "punch base")]
    text = FRONT + "\n".join(pieces) + "\n---\n\n" + "\n".join(steps)
    understood = check_recipe(text, "recipe.md", "any").understood
    assert understood is not None
    for one in step_pictures(understood.recipe, understood.flat, understood.folding):
        for scene in (one.scene, *one.stages):
            spots = [spot for face in scene.faces for spot in face.outline]
            assert scene.width > 0 and all(isfinite(x) and isfinite(y) for x, y in spots)
    assert compose_document(understood, (), {"recipe.md": text}).steps


def test_a_row_of_nothing_but_glue_flaps_is_drawn() -> None:
    """What the search above found: a row in which every panel is called a glue flap has no wall to be held by."""
    said = (
        "size: 80 x 80 mm\nacross: 20 | rest | 20\ndown: 4 of 20 glue flap\nflaps: joined to front and back\nfold: tray"
    )
    text = FRONT + piece("base", said, "") + "\n---\n\n## Fold\n\ndo: cut base, fold base, glue base\n"
    understood = check_recipe(text, "recipe.md", "any").understood
    assert understood is not None
    assert step_pictures(understood.recipe, understood.flat, understood.folding)
