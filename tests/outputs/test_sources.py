"""Which recipes a call means, and what is wrong with a call that means none."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldwright.outputs.sources import find_sources, slug_of, twice


@pytest.fixture
def recipes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("blue-box", "Tag With Twine", ".hidden", "pictures"):
        (tmp_path / "recipes" / name).mkdir(parents=True)
        if name != "pictures":
            (tmp_path / "recipes" / name / "recipe.md").write_text("---\ntitle: x\n---\n")
    (tmp_path / "recipes" / "studio.yaml").write_text("studio: Harbour Street Paper Studio\n")
    monkeypatch.chdir(tmp_path)
    return Path("recipes")


def test_a_folder_of_recipes_means_each_of_them(recipes: Path) -> None:
    sources, wrong = find_sources([recipes])
    assert not wrong
    assert [(source.slug, source.name) for source in sources] == [
        ("tag-with-twine", "tag-with-twine/recipe.md"),
        ("blue-box", "blue-box/recipe.md"),
    ]


@pytest.mark.parametrize("path", ["recipes/blue-box", "recipes/blue-box/recipe.md", "recipes/blue-box/"])
def test_a_recipe_is_meant_by_its_folder_or_its_text(recipes: Path, path: str) -> None:
    (source,), wrong = find_sources([Path(path)])
    assert not wrong
    assert source.slug == "blue-box"
    assert source.studio and source.studio.resolve() == (recipes / "studio.yaml").resolve()


def test_a_text_of_another_name_is_a_recipe_by_that_name(recipes: Path, tmp_path: Path) -> None:
    (tmp_path / "gate card.md").write_text("---\ntitle: x\n---\n")
    (source,), _ = find_sources([tmp_path / "gate card.md"])
    assert source.slug == "gate-card"


def test_a_recipe_named_twice_is_meant_once(recipes: Path) -> None:
    sources, _ = find_sources([recipes, recipes / "blue-box", recipes / "blue-box" / "recipe.md"])
    assert [source.slug for source in sources] == ["tag-with-twine", "blue-box"]


def test_inside_a_recipe_a_dot_means_that_recipe(recipes: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(recipes / "blue-box")
    (source,), _ = find_sources([Path(".")])
    assert source.slug == "blue-box"
    assert source.studio is not None


def test_what_is_not_there_is_told_and_the_rest_still_found(recipes: Path) -> None:
    sources, wrong = find_sources([Path("nowhere"), recipes / "pictures", recipes / "blue-box", Path("/dev/null")])
    assert [source.slug for source in sources] == ["blue-box"]
    assert [one.message for one in wrong] == ["path-missing", "no-recipe-there", "path-odd"]


def test_two_recipes_for_one_folder_are_told(recipes: Path, tmp_path: Path) -> None:
    (tmp_path / "recipes" / "Blue  box").mkdir()
    (tmp_path / "recipes" / "Blue  box" / "recipe.md").write_text("---\ntitle: x\n---\n")
    sources, _ = find_sources([recipes])
    assert [one.message for one in twice(sources)] == ["same-output"]


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("birdhouse", "birdhouse"),
        ("Blue  Box!", "blue-box"),
        ("E\u0301tui", "\u00e9tui"),
        ("../..", "recipe"),
        ("\N{SNOWMAN}", "recipe"),
    ],
)
def test_a_slug_is_fit_for_an_address(name: str, slug: str) -> None:
    assert slug_of(name) == slug
