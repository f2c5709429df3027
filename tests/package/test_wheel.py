"""The wheel: built, installed in an empty environment outside the checkout, and put to work there."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
import zipfile
from importlib.metadata import distribution
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]
PIP = ["-m", "pip", "--disable-pip-version-check", "--no-input", "--quiet"]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    words = [sys.executable, *PIP, "wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(TOP)]
    subprocess.run(words, check=True, cwd=folder)
    (made,) = folder.glob("foldwright-*.whl")
    return made


@pytest.fixture(scope="module")
def empty(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment that holds the wheel and its pinned dependencies, and nothing of the checkout."""
    home = tmp_path_factory.mktemp("empty")
    venv.create(home, with_pip=False)
    (packages,) = home.glob("lib/python*/site-packages")
    lines = (TOP / "compiler" / "pinned.txt").read_text(encoding="utf-8").splitlines()
    run = lines[lines.index("[run]") + 1 : lines.index("[test]")]
    for name in (line.partition("==")[0].strip() for line in run if "==" in line):
        _bring(name, packages)
    words = [sys.executable, *PIP, "--python", str(home), "install", "--no-deps", "--no-compile", str(wheel)]
    subprocess.run(words, check=True, cwd=home)
    return home


def _bring(name: str, packages: Path) -> None:
    """Links to a package that is installed here, by what its own record lists: installing it anew takes a minute."""
    found = distribution(name)
    # What lies beside the packages are programs for the shell.
    for top in {file.parts[0] for file in found.files or ()} - {"..", "__pycache__"}:
        if not (packages / top).exists():
            (packages / top).symlink_to(str(found.locate_file(top)))


def test_the_wheel_carries_themes_and_words_and_no_tests(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    themes = {path.relative_to(TOP).as_posix() for path in (TOP / "themes").rglob("*") if path.is_file()}
    assert themes
    assert {f"foldwright/{theme}" for theme in themes} <= names
    assert "foldwright/document/catalogue/en/commands.toml" in names
    assert "foldwright/py.typed" in names
    assert not [name for name in names if "test" in name or name.startswith(("recipes/", "compiler/"))]


def test_what_it_says_it_needs_is_there_and_enough(empty: Path) -> None:
    words = [sys.executable, *PIP, "--python", str(empty), "check"]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_a_recipe_is_compiled_away_from_the_checkout(empty: Path, tmp_path: Path) -> None:
    recipe = tmp_path / "recipes" / "birdhouse"
    recipe.mkdir(parents=True)
    for file in (TOP / "recipes" / "birdhouse").iterdir():
        (recipe / file.name).write_bytes(file.read_bytes())
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    only = "tutorial,fragment,sheet,template"
    words = [empty / "bin" / "foldwright", "build", "recipes/birdhouse", "--only", only, "--out", "build"]
    done = subprocess.run(words, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    made = tmp_path / "build" / "birdhouse"
    page = (made / "tutorial.html").read_text(encoding="utf-8")
    assert page.startswith("<!doctype html>")
    assert "Birdhouse favour box" in page
    assert "<svg" in page
    assert (made / "fragment.html").is_file()
    assert (made / "sheet.json").is_file()
    assert list(made.glob("template-*.pdf"))
    where = "import foldwright; print(foldwright.__file__)"
    place = subprocess.run(
        [empty / "bin" / "python", "-c", where], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    assert Path(place.stdout.strip()).is_relative_to(empty)
