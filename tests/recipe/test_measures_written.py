"""What is written of the measurements of pieces and supplies reads as the same: those of our recipes, and of any."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.measure.length import Length, Unit
from foldwright.recipe.facts.writing import WrittenFact, fact_lines, piece_measures, supply_measures
from foldwright.recipe.model import (
    Amount,
    Dimension,
    Dims,
    DrawnLine,
    Hole,
    HolePosition,
    PanelFact,
    Piece,
    PlaceBeside,
    Placement,
    Recipe,
    Repeat,
    Said,
    Supply,
)
from foldwright.recipe.reading import read_recipe
from recipe.test_slips_in_facts import CASES, Case
from recipe.without_places import without_places
from workbench.long import tries

DEMOS = sorted((Path(__file__).parents[2] / "recipes").glob("*/recipe.md"))
MEASURED = ("size", "inside", "finished", "across", "down", "holes", "lines", "slides_in")
PHASES = [phase for phase in Phase if phase is not Phase.explain]
NOWHERE = Place("r", 0, 0)
LETTERS = st.characters(categories=["Ll", "Lu", "Lo"])
NAMES = st.lists(st.text(LETTERS, min_size=2, max_size=8), min_size=1, max_size=3).map(" ".join).filter(
    lambda name: not set(name.lower().split())
    & {"and", "or", "to", "by", "the", "of", "on", "rest", "remainder", "instead", "panel", "panels", "inside",
       "outside", "optional", "none", "no", "piece", "whole", "x", "than", "nothing"}
    and name.split() == [name.strip() for name in name.split(" ")]
)  # fmt: skip


def said(values: st.SearchStrategy) -> st.SearchStrategy:
    return values.map(lambda value: Said(value, NOWHERE))


def maybe(values: st.SearchStrategy) -> st.SearchStrategy:
    return st.none() | said(values)


def row(values: st.SearchStrategy, most: int = 3) -> st.SearchStrategy:
    return st.lists(said(values), max_size=most).map(tuple)


NUMBERS = st.builds(Fraction, st.integers(1, 9_999), st.sampled_from([1, 2, 3, 4, 8, 10, 16, 64, 100, 125, 1000]))
LENGTHS = st.builds(Length.of, NUMBERS, st.sampled_from(Unit))
DIMS = st.lists(LENGTHS, min_size=2, max_size=2).map(lambda lengths: Dims(tuple(lengths)))
SOLID = st.lists(LENGTHS, min_size=3, max_size=3).map(lambda lengths: Dims(tuple(lengths)))
AMOUNTS = (
    st.builds(lambda length: Amount(Dimension.LENGTH, length.value, length.unit.symbol, "", length), LENGTHS)
    | st.builds(
        lambda number, noun: Amount(Dimension.COUNT, number, "", noun), NUMBERS, st.sampled_from(["", "sheets"])
    )
    | st.builds(lambda number: Amount(Dimension.VOLUME, number, "ml"), NUMBERS)
    | st.builds(lambda number: Amount(Dimension.AREA, number, "sq in"), NUMBERS)
)

PLACES = st.builds(
    PlaceBeside,
    st.sampled_from(["middle of the top edge", "bottom left corner", "outline corner 3", "end of line 2"]),
    st.just(())
    | st.tuples(st.tuples(st.sampled_from(["left", "right"]), LENGTHS))
    | st.tuples(
        st.tuples(st.sampled_from(["left", "right"]), LENGTHS), st.tuples(st.sampled_from(["above", "below"]), LENGTHS)
    ),
)
REPEATS = st.builds(Repeat, st.integers(2, 99), LENGTHS, st.sampled_from(["across", "down"]))
POINTS = st.tuples(LENGTHS, LENGTHS) | PLACES
DRAWN = (
    st.builds(lambda kind, a, b: DrawnLine(kind, (a, b)), st.sampled_from(["cut", "valley", "score"]), POINTS, POINTS)
    | st.builds(lambda a, b, c: DrawnLine("mountain", (a, b, c), arc=True, mirrored=True), POINTS, POINTS, POINTS)
    | st.builds(
        lambda a, b, repeat: DrawnLine("score", (a, b), mirrored=True, every_panel=True, repeat=repeat),
        POINTS,
        POINTS,
        REPEATS,
    )
    | st.builds(lambda a, b, c: DrawnLine("glue area", (a, b, c), every_panel=True), POINTS, POINTS, POINTS)
)
OFFSETS = st.tuples(
    st.sampled_from(["left", "right", "top", "bottom"]), LENGTHS, st.sampled_from(["middle", "edge"])
).map(lambda offset: (offset,))
HOLES = st.builds(
    lambda shape, size, where: Hole(shape, size[:1] if shape == "round" else size, where),
    st.sampled_from(["round", "slot", "window"]),
    st.tuples(LENGTHS, LENGTHS),
    st.builds(HolePosition, centred=st.booleans(), panel=st.just("") | NAMES, offsets=OFFSETS, mirrored=st.booleans())
    | st.just(HolePosition(centred=True, every_panel=True))
    | st.builds(HolePosition, at=PLACES, repeat=st.none() | REPEATS, mirrored=st.booleans()),
) | st.builds(
    lambda shape, size, count, where: Hole(shape, size[:count], where),
    st.sampled_from(["half round notch", "vee notch", "square notch"]),
    st.tuples(LENGTHS, LENGTHS),
    st.sampled_from([1, 2]),
    st.builds(
        HolePosition,
        centred=st.just(True),
        panel=st.just("") | NAMES,
        mirrored=st.booleans(),
        edge=st.sampled_from(["left", "right", "top", "bottom"]),
    ),
)
PANELS = st.lists(
    st.builds(PanelFact, st.just("") | NAMES | st.sampled_from(["in", "m"]), st.none() | LENGTHS, st.just(NOWHERE)),
    max_size=6,
).map(tuple)


@st.composite
def pieces(draw: st.DrawFn) -> Piece:
    size = draw(maybe(DIMS))
    inside = None if size else draw(maybe(SOLID))

    def row_of(panels: tuple[PanelFact, ...]) -> tuple[PanelFact, ...]:
        # The unit of a row without a size is known only from its panels, so there they all have one.
        return panels if size or inside else tuple(panel for panel in panels if panel.length)

    places = st.builds(Placement, st.sampled_from(["", "inside", "outside"]), NAMES)
    remark = draw(st.just("") | NAMES)
    return Piece(
        name=Said("piece", NOWHERE),
        size=size,
        inside=inside,
        finished=draw(maybe(DIMS)),
        across=row_of(draw(PANELS)),
        down=row_of(draw(PANELS)),
        holes=draw(row(HOLES)),
        lines=draw(row(DRAWN)),
        slides_in=tuple(Said(replace(place.value, remark=remark), NOWHERE) for place in draw(row(places, 1))),
    )


SUPPLIES = st.builds(Supply, name=st.just(Said("supply", NOWHERE)), size=maybe(DIMS | SOLID), use=maybe(AMOUNTS))


def written_again(recipe: Recipe) -> Recipe:
    text = ["---", "title: x", "supplies:"]
    for supply in recipe.supplies:
        text += entry(supply.name.value, list(supply_measures(supply)))
    text.append("pieces:")
    for piece in recipe.pieces:
        text += entry(piece.name.value, list(piece_measures(piece)))
    again = read_recipe("\n".join([*text, "---", "", "## x", ""]), "r", "slug").recipe
    assert again is not None
    return again


def entry(name: str, facts: list[WrittenFact]) -> list[str]:
    return [f"  {name}:", *(f"    {line}" for line in fact_lines(facts))] if facts else []


def keeps(recipe: Recipe) -> None:
    again = written_again(recipe)
    supplies = {one.name.value: one for one in again.supplies}
    for one in recipe.supplies:
        if list(supply_measures(one)):
            other = supplies[one.name.value]
            assert without_places((other.size, other.use)) == without_places((one.size, one.use))
    found = {one.name.value: one for one in again.pieces}
    for piece in recipe.pieces:
        if list(piece_measures(piece)):
            for word in MEASURED:
                told = getattr(found[piece.name.value], word), getattr(piece, word)
                assert without_places(told[0]) == without_places(told[1]), word


@settings(derandomize=True, max_examples=tries(20, 60), phases=PHASES)
@given(pieces(), SUPPLIES)
def test_the_measurements_of_any_piece_and_supply_are_kept(piece: Piece, supply: Supply) -> None:
    keeps(Recipe(file="r", slug="slug", title=Said("x", NOWHERE), pieces=(piece,), supplies=(supply,)))


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
def test_the_measurements_of_a_demo_recipe_are_kept(path: Path) -> None:
    recipe = read_recipe(path.read_text(encoding="utf-8"), "r", "slug").recipe
    assert recipe is not None
    keeps(recipe)


@pytest.mark.parametrize("case", CASES)
def test_the_measurements_understood_of_a_text_with_slips_are_kept(case: Case) -> None:
    recipe = read_recipe(case.text, "r", "slug").recipe
    assert recipe is not None
    # What one number means follows from the outline, which is not written here.
    whole = (one for one in recipe.pieces if not (one.size and len(one.size.value.lengths) == 1))
    keeps(replace(recipe, pieces=tuple(whole)))
