"""The pages that are looked at: every demo recipe and a draft, built by the command line in every theme."""

from __future__ import annotations

import shutil
from fcntl import LOCK_EX, flock
from pathlib import Path

import pytest

from workbench.command_line import foldwright
from workbench.demo_pages import DRAFT, THEMES, TOP

FRAGMENTS_WITH = "harbour"


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A folder of output per theme; the fragments, which know no theme, only beside the first.

    It is made once, by whichever worker comes first; the others wait for it.
    """
    if worker_id == "master":
        return _built(tmp_path_factory.mktemp("built"))
    home = tmp_path_factory.getbasetemp().parent / "built"
    home.mkdir(exist_ok=True)
    with (home / "lock").open("w") as lock:
        flock(lock, LOCK_EX)
        if not (home / "done").exists():
            _built(home)
            (home / "done").touch()
    return home / "out"


def _built(home: Path) -> Path:
    recipes = home / "recipes"
    shutil.copytree(TOP / "recipes", recipes)
    (recipes / DRAFT).mkdir()
    text = (recipes / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    broken = text.replace("3/4 left end | 3 1/2 floor", "3/4 left end | 3 1/4 floor").replace("level:", "levvel:")
    assert broken != text
    (recipes / DRAFT / "recipe.md").write_text(broken, encoding="utf-8")
    for theme in THEMES:
        only = "tutorial,fragment,sheet" if theme == FRAGMENTS_WITH else "tutorial"
        done = foldwright(
            "build", recipes, "--out", home / "out" / theme, "--theme", theme, "--only", only, "--no-library", cwd=home
        )
        # The draft makes it 1; 2 or a traceback would be a failure of the program.
        assert done.status == 1, done.out + done.err
    return home / "out"
