"""`keep:` what an author wants left out last where paper is short."""

from __future__ import annotations

import pytest

from foldwright.recipe.reading import Reading, read_recipe
from foldwright.recipe.words import Keep


def read(said: str) -> Reading:
    return read_recipe(f"---\ntitle: Card\nkeep: {said}\n---\n\n## Fold\n\nFold it.\n", "recipe.md", "card")


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("pictures", (Keep.PICTURES,)),
        ("Tips", (Keep.TIPS,)),
        ("tips, pictures", (Keep.TIPS, Keep.PICTURES)),
        ("pictures and tips", (Keep.PICTURES, Keep.TIPS)),
        ("tips, tips", (Keep.TIPS,)),
    ],
)
def test_what_matters_most_comes_first(said: str, kept: tuple[Keep, ...]) -> None:
    found = read(said)
    assert found.recipe and found.recipe.keep == kept and found.findings == ()


def test_who_says_nothing_keeps_nothing() -> None:
    found = read_recipe("---\ntitle: Card\n---\n\n## Fold\n\nFold it.\n", "recipe.md", "card")
    assert found.recipe and found.recipe.keep == ()


@pytest.mark.parametrize(
    ("said", "code", "nearest"), [("pictires", "keep-what-near", "pictures"), ("the ribbon", "keep-what", None)]
)
def test_another_word_is_asked_about_at_its_place_and_the_rest_is_read(
    said: str, code: str, nearest: str | None
) -> None:
    found = read(f"tips, {said}")
    (finding,) = found.findings
    assert found.recipe and found.recipe.keep == (Keep.TIPS,)
    assert (finding.code, dict(finding.facts).get("nearest")) == (code, nearest)
    text = f"---\ntitle: Card\nkeep: tips, {said}"
    assert finding.place and (finding.place.start, finding.place.end) == (len(text) - len(said), len(text))
