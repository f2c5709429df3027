"""What the README shows is true: its recipe and the pieces of its reference pass `check` as they stand."""

from __future__ import annotations

import re
from pathlib import Path

from command_line import foldwright
from demo_pages import TOP

README = (TOP / "README.md").read_text(encoding="utf-8")
REFERENCE = TOP / "tests" / "cases" / "reference"


def test_the_recipe_of_the_readme_is_right(tmp_path: Path) -> None:
    recipe = re.search(r"^```markdown\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
    assert recipe
    (tmp_path / "tag").mkdir()
    (tmp_path / "tag" / "recipe.md").write_text(recipe[1], encoding="utf-8")
    done = foldwright("check", "tag", cwd=tmp_path)
    assert (done.status, "thought" in done.out) == (0, False), done.out


def test_the_pieces_of_the_reference_are_right(tmp_path: Path) -> None:
    done = foldwright("check", str(REFERENCE), cwd=tmp_path)
    assert (done.status, "thought" in done.out) == (0, False), done.out


def test_every_picture_and_file_the_readme_names_is_there() -> None:
    named = re.findall(r'(?:\]\(|src=")(?!#|https?:)([^)"]+)', README)
    assert len(named) > 8
    assert [name for name in named if not (TOP / name.partition("#")[0]).exists()] == []
