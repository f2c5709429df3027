"""Sizes of one project: only what differs is said, and what is wrong with it is told at its place."""

from __future__ import annotations

import pytest

from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import Reading, read_recipe, sizes_in

TEXT = """---
title: Box
makes: 1 box
supplies:
  card: cardstock, weight 100 lb cover, sheet 12 x 12 in
  ribbon: ribbon, use 6 in
pieces:
  base:
    from: card
    size: 5 x 4 in
    across: 1 | 3 | 1
    down: 1 | 2 | 1
    flaps: joined to top and bottom
    fold: tray
  tag:
    from: card
    size: 1 x 2 in
sizes:
{sizes}
---

## Cut it

do: cut base
"""


def read(sizes: str, size: str = "") -> Reading:
    return read_recipe(TEXT.format(sizes=sizes), "r", "r", None, size)


def in_size(sizes: str, size: str) -> Recipe:
    recipe = read(sizes, size).recipe
    assert recipe is not None
    return recipe


LARGE = "  large:\n    base:\n      size: 6 x 5 in\n      across: 1 | 4 | 1\n      down: 1 | 3 | 1\n"


def numbers(recipe: Recipe, piece: int = 0) -> list[str]:
    dims = recipe.pieces[piece].size
    assert dims is not None
    return [str(length.value) for length in dims.value.lengths]


def test_what_a_size_says_is_in_the_place_of_the_recipes_own_and_all_else_stays():
    large = in_size(LARGE, "large")
    assert numbers(large) == ["6", "5"]
    assert [str(panel.length.value) for panel in large.pieces[0].across if panel.length] == ["1", "4", "1"]
    assert large.pieces[0].fold is not None and large.pieces[0].flaps is not None
    assert numbers(large, 1) == ["1", "2"]
    assert (large.title.value, large.size, large.sizes) == ("Box, large", "large", ())
    written = in_size(LARGE, "")
    assert numbers(written) == ["5", "4"]
    assert [size.name.value for size in written.sizes] == ["large"]


def test_new_panels_alone_say_the_size():
    large = in_size("  large:\n    base:\n      across: 1 | 4 | 1\n", "large")
    assert numbers(large) == ["6", "4"]


def test_a_piece_on_one_line_is_read_like_one_on_several():
    large = in_size("  large:\n    base: across 1 | 4 | 1, down 1 | 3 | 1\n", "large")
    assert numbers(large) == ["6", "5"]


def test_supplies_and_facts_of_the_whole_may_differ_on_one_line():
    large = in_size("  large:\n    makes: 2 boxes\n    ribbon: use 9 in\n    title: Great box\n", "large")
    assert large.makes is not None and large.makes.value == "2 boxes"
    assert large.title.value == "Great box"
    use = large.supplies[1].use
    assert use is not None and use.value.length is not None and str(use.value.length.value) == "9"


def test_an_inside_pushes_out_the_size_and_its_panels():
    large = in_size("  large:\n    base: inside 4 x 3 x 1 in\n", "large")
    assert large.pieces[0].inside is not None
    assert large.pieces[0].size is None and not large.pieces[0].across


def test_the_size_it_is_written_in_may_have_a_name():
    text = "  small: as written\n" + LARGE
    assert in_size(text, "").title.value == "Box, small"
    assert in_size(text, "large").title.value == "Box, large"


def test_places_point_into_the_size():
    text = TEXT.format(sizes=LARGE)
    size = in_size(LARGE, "large").pieces[0].size
    assert size is not None and text[size.place.start : size.place.end] == "6 x 5 in"


@pytest.mark.parametrize(
    ("sizes", "code", "said"),
    [
        ("  large:\n    bsae:\n      size: 6 x 5 in\n", "size-of-what-near", "bsae"),
        ("  large:\n    roof:\n      size: 6 x 5 in\n", "size-of-what", "roof"),
        ("  large: 6 x 5 in\n", "size-on-one-line", "6 x 5 in"),
        ("  large:\n", "size-changes-nothing", "large"),
        ("  a: as written\n  b: as written\n", "as-written-twice", "as written"),
        (LARGE + LARGE.replace("large", "Large"), "name-twice", "Large"),
        ("  large:\n    base:\n", "size-changes-nothing", "base"),
        ("  as written:\n    makes: 2 boxes\n", "size-name-taken", "as written"),
        ("  small: as written\n    makes: 2 boxes\n", "as-written-and-more", "as written"),
        (LARGE.replace("large", "60 mm") + LARGE.replace("large", "60-mm"), "sizes-alike", "60-mm"),
        (LARGE + "    base:\n      down: 1 | 3 | 1\n", "name-twice", "base"),
        ("".join(LARGE.replace("large", f"size {n}") for n in range(13)), "too-many-sizes", "size 12"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(sizes, code, said):
    text = TEXT.format(sizes=sizes)
    (finding,) = read(sizes).findings
    assert finding.code == code
    assert finding.place is not None and text[finding.place.start : finding.place.end] == said


def test_one_slip_does_not_hide_the_next():
    sizes = "  large: yes\n    bsae:\n      size: 6 x 5 in\n    tag: size 2 x 2 in\n"
    assert [finding.code for finding in read(sizes).findings] == ["size-on-one-line", "size-of-what-near"]
    assert numbers(in_size(sizes, "large"), 1) == ["2", "2"]


def test_a_slip_in_a_size_is_told_when_that_size_is_read():
    sizes = "  large:\n    base:\n      sise: 6 x 5 in\n"
    assert [finding.code for finding in read(sizes, "large").findings] == ["unknown-word"]


@pytest.mark.parametrize(
    ("sizes", "names"),
    [
        (LARGE, ["large"]),
        ("  small: as written\n" + LARGE, ["small", "large"]),
        ("  - large:\n      base:\n        size: 6 x 5 in", ["large"]),
        ("  large:\n  large:\n    title: Once more", ["large"]),
        ("", []),
    ],
)
def test_who_only_asks_for_the_sizes_hears_of_the_same(sizes: str, names: list[str]) -> None:
    """Pushed in, misspelt and in braces too, as the whole recipe is read."""
    written = TEXT.format(sizes=sizes)
    in_braces = written.replace("sizes:\n", "sizes: {tall: {title: Tall}}\n") if not sizes else written
    for text in (written, in_braces, written.replace("sizes:", "Size :"), written.replace("sizes:", "szies:")):
        recipe = read_recipe(text, "r", "r").recipe
        assert recipe is not None
        assert sizes_in(text, "r") == recipe.sizes
    assert [size.name.value for size in sizes_in(written, "r")] == names
