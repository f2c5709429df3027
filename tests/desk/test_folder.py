"""The recipes of the desk's folder, names for new ones, and what the other commands make of what the desk leaves."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from foldwright.desk.keeping.folder import begin_recipe, free_folder, recipe_called, recipes_in
from foldwright.desk.keeping.on_disk import Choice, Opened, Outside, RecipeOnDisk
from foldwright.finding import Wrong
from foldwright.outputs.sources import find_sources

TEXT = "---\ntitle: Box\n---\n\n## Cut\nCut it.\n"


def begun(title: str, folder: Path) -> RecipeOnDisk:
    recipe = begin_recipe(title, TEXT, folder)
    assert isinstance(recipe, RecipeOnDisk)
    return recipe


def test_new_recipes_have_folders_of_their_own(tmp_path: Path) -> None:
    made = [begun(title, tmp_path).folder.name for title in ("Heart box", "Heart box!", "../../etc", "?")]
    assert made == ["heart-box", "heart-box-2", "etc", "recipe"]
    assert [source.folder.name for source in recipes_in(tmp_path)] == ["etc", "heart-box", "heart-box-2", "recipe"]
    recipe = recipe_called("heart-box", tmp_path)
    assert recipe and recipe.open() == Opened(TEXT, TEXT)


@given(st.text())
def test_a_new_folder_lies_right_in_the_desk_s(title: str) -> None:
    assert free_folder(title, Path("/nowhere")).parent == Path("/nowhere")
    assert len(free_folder(title, Path("/nowhere")).name.encode()) <= 255


def test_a_name_leads_nowhere_but_to_recipes_of_the_folder(tmp_path: Path) -> None:
    desk = tmp_path / "desk"
    desk.mkdir()
    begun("Far box", tmp_path)
    begun("Box", desk)
    (desk / "link").symlink_to(tmp_path / "far-box")
    (desk / "pot").mkdir()
    (desk / "pot" / "recipe.md").symlink_to(tmp_path / "far-box" / "recipe.md")
    for name in ("../far-box", "link", "pot", "", ".", "..", "box/../../far-box", "x\0"):
        assert recipe_called(name, desk) is None
    assert [source.folder.name for source in recipes_in(desk)] == ["box"]


def test_a_folder_that_is_itself_a_recipe_s(tmp_path: Path) -> None:
    recipe = begun("Box", tmp_path)
    begun("Lid", recipe.folder)
    assert [source.folder.name for source in recipes_in(recipe.folder)] == ["box", "lid"]
    assert recipes_in(tmp_path / "gone") == ()
    assert isinstance(begin_recipe("x", TEXT, tmp_path / "gone"), Wrong)


def test_other_commands_pass_over_drafts_and_versions(tmp_path: Path) -> None:
    recipe = begun("Box", tmp_path)
    recipe.keep(TEXT + "More.\n")
    recipe.save_draft("draft")
    (recipe.folder / "recipe.md").write_text("theirs", encoding="utf-8")
    outside = recipe.look("mine")
    assert isinstance(outside, Outside)
    recipe.settle(outside, Choice.MINE, "mine")
    recipe.save_draft("draft")
    assert recipe.versions()
    everything = sorted(recipe.folder.glob("*.md"))
    assert [path.name for path in everything] == ["recipe.draft.md", "recipe.md"]
    for paths in ([tmp_path], [recipe.folder], everything, [*tmp_path.glob("*"), *everything]):
        sources, wrong = find_sources(paths)
        assert [source.path for source in sources] == [str(recipe.folder / "recipe.md")]
        assert wrong == ()
    # Who asks for a draft alone means it.
    assert [source.text for source in find_sources([recipe.folder / "recipe.draft.md"])[0]] == ["recipe.draft.md"]
