"""Recipes made up at random are written and read again: nothing they say may change."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import named_sheet
from foldwright.recipe.model import (
    Amount,
    Change,
    Dimension,
    Dims,
    DrawnLine,
    Flaps,
    Fold,
    Gluing,
    Hole,
    HolePosition,
    Instead,
    NamedSheet,
    Pack,
    PanelFact,
    Photo,
    Piece,
    Placement,
    Recipe,
    RelativeSize,
    Said,
    Size,
    Studio,
    Supply,
    Tool,
    Trimmer,
    Weight,
)
from foldwright.recipe.reading import read_recipe
from foldwright.recipe.writing import write_recipe
from recipe.test_facts_survive import ODD, RECIPES
from recipe.test_writing import keeps
from recipe.without_places import without_places
from workbench.long import tries

PHASES = [phase for phase in Phase if phase is not Phase.explain]
NOWHERE = Place("r", 0, 0)
LETTERS = st.characters(categories=["Ll", "Lu", "Lo"])
NAMES = st.lists(st.text(LETTERS, min_size=2, max_size=8), min_size=1, max_size=3).map(" ".join).filter(
    lambda name: not set(name.lower().split())
    & {"and", "or", "to", "by", "the", "of", "on", "rest", "remainder", "instead", "panel", "panels", "inside",
       "outside", "optional", "none", "no", "piece", "whole", "x", "than", "nothing"}
    and name.split() == [name.strip() for name in name.split(" ")]
)  # fmt: skip
LINES = st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp", "Zs"]), min_size=1, max_size=30)
TEXTS = st.lists(LINES, min_size=1, max_size=5).map(" ".join).filter(lambda text: text == " ".join(text.split()))
"""Anything on one line: no words are so odd that they could not be a title."""


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
MONEY = st.decimals(0, 9999, places=2).map(Decimal)
AMOUNTS = (
    st.builds(lambda length: Amount(Dimension.LENGTH, length.value, length.unit.symbol, "", length), LENGTHS)
    | st.builds(
        lambda number, noun: Amount(Dimension.COUNT, number, "", noun), NUMBERS, st.sampled_from(["", "sheets"])
    )
    | st.builds(lambda number: Amount(Dimension.VOLUME, number, "ml"), NUMBERS)
    | st.builds(lambda number: Amount(Dimension.AREA, number, "sq in"), NUMBERS)
)
INSTEADS = st.builds(Instead, NAMES, st.just("") | NAMES)
PRICES = st.tuples(st.none() | MONEY, st.sampled_from(["", "£", "GBP"])).map(
    lambda price: (price[0], price[1] if price[0] is not None else "")
)
SHEETS = st.builds(
    lambda name, price: NamedSheet(
        name, *(named_sheet(name) or (Length.of(12, Unit.INCH), Length.of(12, Unit.INCH))), *price
    ),
    st.sampled_from(["A4", "letter", "12 x 12 in"]),
    PRICES,
)
SUPPLIES = st.builds(
    Supply,
    name=said(NAMES),
    kind=maybe(TEXTS),
    weight=maybe(st.builds(Weight, NUMBERS, st.just("lb"), st.sampled_from(["cover", "text"])))
    | maybe(st.builds(Weight, NUMBERS, st.just("g/m2"))),
    thickness=maybe(LENGTHS),
    sheets=row(SHEETS),
    grain=maybe(st.sampled_from(["long", "short"])),
    size=maybe(DIMS | SOLID),
    width=maybe(LENGTHS),
    use=maybe(AMOUNTS),
    packs=row(st.builds(lambda amount, price: Pack(amount, *price), AMOUNTS, PRICES)),
    instead=row(INSTEADS),
    colours=row(NAMES),
    optional=st.booleans(),
    contains=row(NAMES),
    note=maybe(TEXTS),
)
TOOLS = st.builds(Tool, said(NAMES), row(INSTEADS, 1), st.booleans())

POINTS = st.tuples(LENGTHS, LENGTHS) | st.sampled_from(["middle of the top edge", "bottom left corner"])
DRAWN = (
    st.builds(lambda kind, a, b: DrawnLine(kind, (a, b)), st.sampled_from(["cut", "valley", "score"]), POINTS, POINTS)
    | st.builds(lambda a, b, c: DrawnLine("mountain", (a, b, c), arc=True, mirrored=True), POINTS, POINTS, POINTS)
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
    | st.just(HolePosition(centred=True, every_panel=True)),
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
RELATIVE = st.builds(
    lambda by, sign, side, depth: RelativeSize(by * sign, side, "base outside", depth),
    LENGTHS,
    st.sampled_from([1, -1]),
    st.booleans(),
    st.none() | LENGTHS,
)
PANELS = st.lists(
    st.builds(PanelFact, st.just("") | NAMES | st.sampled_from(["in", "m"]), st.none() | LENGTHS, st.just(NOWHERE)),
    max_size=6,
).map(tuple)
FOLDS = st.builds(Fold, st.just("tray"), st.just(()), st.lists(NAMES, max_size=1).map(tuple)) | st.builds(
    Fold, st.just(""), st.lists(st.integers(-180, 180).map(Fraction), min_size=1, max_size=4).map(tuple)
)


@st.composite
def pieces(draw: st.DrawFn, name: str, others: list[str]) -> Piece:
    size = draw(maybe(DIMS))
    inside = None if size else draw(maybe(SOLID))
    band = draw(maybe(LENGTHS)) if not size and not inside else None
    known = size or inside
    unit = known.value.lengths[0].unit if known else band.value.unit if band else None

    def bare(panels: tuple[PanelFact, ...]) -> tuple[PanelFact, ...]:
        # The unit of a row without a size is known only from its panels, so there they all have one.
        return panels if unit else tuple(panel for panel in panels if panel.length)

    places = st.builds(
        Placement, st.sampled_from(["", "inside", "outside"]), st.sampled_from(others), st.sampled_from(["", "2"])
    )
    remark = draw(st.just("") | NAMES)
    return Piece(
        name=Said(name, NOWHERE),
        supply=draw(maybe(TEXTS)),
        count=draw(maybe(st.integers(1, 99))),
        size=size,
        relative=draw(maybe(RELATIVE)) if size is None and band is None else None,
        band=band,
        inside=inside,
        inside_relative=draw(maybe(RELATIVE)) if inside is None else None,
        finished=draw(maybe(DIMS)),
        across=bare(draw(PANELS)),
        down=bare(draw(PANELS)),
        flaps=draw(maybe(st.builds(Flaps, st.lists(NAMES, min_size=1, max_size=2).map(tuple), st.none() | LENGTHS))),
        fold=draw(maybe(FOLDS)),
        holes=draw(row(HOLES)),
        lines=draw(row(DRAWN)),
        goes_on=tuple(Said(replace(place.value, remark=remark), NOWHERE) for place in draw(row(places))),
        goes_round=draw(row(places, 1)) or ((draw(said(places)),) if band else ()),
        fits_over=draw(row(places, 1)),
        glued=draw(row(st.builds(Gluing, st.sampled_from(["1", "6"]), places))),
        holds=tuple(Said(other, NOWHERE) for other in draw(st.lists(st.sampled_from(others), max_size=2))),
        upright=draw(maybe(st.just("yes"))),
        thickness=draw(maybe(LENGTHS)),
        optional=draw(st.booleans()),
        note=draw(maybe(TEXTS)),
    )


@st.composite
def sizes_of(draw: st.DrawFn, names: list[str]) -> Size:
    """A size that changes the summary, a supply and a piece, as text."""
    summary = Change(Said("", NOWHERE), (("summary", draw(TEXTS)),))
    supply = Change(Said(names[0], NOWHERE), (("note", draw(TEXTS)),))
    piece = Change(Said(names[2], NOWHERE), (("size", "5 x 4 in"), ("note", draw(TEXTS))))
    changes = draw(st.lists(st.sampled_from([summary, supply, piece]), min_size=1, max_size=3, unique=True))
    return Size(Said(draw(NAMES), NOWHERE), changes=tuple(changes))


@st.composite
def recipes(draw: st.DrawFn) -> Recipe:
    names = draw(st.lists(NAMES, min_size=4, max_size=6, unique_by=str.casefold))
    supplies = tuple(replace(draw(SUPPLIES), name=Said(name, NOWHERE)) for name in names[:2])
    made = tuple(draw(pieces(name, names)) for name in names[2:])
    tools = draw(st.lists(TOOLS, max_size=3, unique_by=lambda tool: tool.name.value.casefold()))
    photo = st.none() | st.builds(Photo, said(TEXTS), maybe(TEXTS))
    sizes = draw(st.lists(sizes_of(names), max_size=2, unique_by=lambda size: size.name.value.casefold()))
    return Recipe(
        file="r",
        slug="slug",
        title=draw(said(TEXTS)),
        makes=draw(maybe(TEXTS)),
        measured_in=draw(maybe(st.sampled_from(System))),
        summary=draw(maybe(TEXTS)),
        credit=draw(maybe(TEXTS)),
        video=draw(maybe(TEXTS)),
        photo=draw(photo),
        studio=Studio(money=draw(maybe(TEXTS)), trimmer=Trimmer(draw(maybe(LENGTHS)), draw(maybe(LENGTHS)))),
        supplies=supplies,
        tools=tuple(tools),
        pieces=made,
        sizes=tuple(sizes),
    )


@settings(derandomize=True, max_examples=tries(15, 40), phases=PHASES)
@given(recipes())
def test_the_facts_of_any_recipe_are_kept(recipe: Recipe) -> None:
    written = write_recipe(recipe)
    again = read_recipe(written, "r", "slug").recipe
    assert without_places(again) == without_places(recipe), written


@settings(deadline=None, derandomize=True)
@given(
    st.sampled_from(RECIPES),
    st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(ODD)), min_size=1, max_size=3),
)
def test_what_is_understood_of_a_recipe_with_slips_is_kept(recipe: str, slips: list[tuple[float, int, str]]) -> None:
    for where, dropped, typed in slips:
        at = int(where * len(recipe))
        recipe = recipe[:at] + typed + recipe[at + dropped :]
    keeps(recipe)
