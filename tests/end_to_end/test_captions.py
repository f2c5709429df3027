"""`foldwright check --captions`: moments and spoken lengths, agreed to and written; whatever the file is, a message."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from workbench.command_line import foldwright
from workbench.compiled import RECIPES

FILM = Path(__file__).parents[1] / "cases" / "captions" / "birdhouse.vtt"


@pytest.fixture
def birdhouse(tmp_path: Path) -> Path:
    shutil.copytree(RECIPES / "birdhouse", tmp_path / "birdhouse")
    shutil.copy(RECIPES / "studio.yaml", tmp_path)
    shutil.copy(FILM, tmp_path / "film.vtt")
    return tmp_path


def test_moments_are_shown_and_written_as_they_are_agreed_to(birdhouse: Path) -> None:
    shown = foldwright("check", "birdhouse", "--captions", "film.vtt", cwd=birdhouse)
    # A spoken length that differs is no mere thought.
    assert shown.status == 1, shown.err
    assert "Add this line to the step:  video: 3:41" in " ".join(shown.out.split("\n"))
    assert "film.vtt" in shown.out
    assert "you hear 2 5/8 in" in shown.out
    foldwright("check", "birdhouse", "--captions", "film.vtt", "--mend", cwd=birdhouse, typed="all\n")
    text = (birdhouse / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    said = [line for line in text.splitlines() if line.startswith("video: ")]
    assert said == [f"video: {one}" for one in "0:41 2:12 3:41 5:21 6:10 7:01 8:31 9:41".split()]


def test_the_captions_a_recipe_names_are_looked_at(birdhouse: Path) -> None:
    recipe = birdhouse / "birdhouse" / "recipe.md"
    recipe.write_text(recipe.read_text("utf-8").replace("level: easy\n", "level: easy\ncaptions: film.vtt\n"), "utf-8")
    missing = foldwright("check", "birdhouse", cwd=birdhouse)
    assert missing.status == 1
    assert "There is no file of captions called birdhouse/film.vtt." in missing.out
    shutil.copy(FILM, birdhouse / "birdhouse" / "film.vtt")
    assert "you hear 2 5/8 in" in foldwright("check", "birdhouse", cwd=birdhouse).out


WRONG = {
    "no WebVTT": (b"Hello", "its first line is not WEBVTT"),
    "UTF-16": ("WEBVTT".encode("utf-16"), "is saved as UTF-16"),
    "Latin-1": (b"WEBVTT\n\n00:01.000 --> 00:02.000\ncaf\xe9\n", "film.vtt"),
    "no text": (b"WEBVTT\n\n00:01.000 --> 00:02.000\n\0\n", "film.vtt"),
    "huge": (b"WEBVTT\n\n" + b"x" * 1024 * 1024, "too large"),
    "a folder": (None, "I could not read the captions"),
}


@pytest.mark.parametrize("kind", WRONG)
def test_whatever_the_file_is_there_is_a_message_and_the_recipe_is_checked(birdhouse: Path, kind: str) -> None:
    data, message = WRONG[kind]
    (birdhouse / "film.vtt").unlink()
    if data is None:
        (birdhouse / "film.vtt").mkdir()
    else:
        (birdhouse / "film.vtt").write_bytes(data)
    done = foldwright("check", "birdhouse", "--captions", "film.vtt", cwd=birdhouse)
    assert done.status == 1
    assert message in " ".join(done.out.split())
    assert "Traceback" not in done.out + done.err
    assert "The pieces, as I understood them" in done.out


def test_captions_are_of_one_recipe(birdhouse: Path) -> None:
    done = foldwright("check", "birdhouse", str(RECIPES / "twine-tag"), "--captions", "film.vtt", cwd=birdhouse)
    assert done.status == 2
    assert "name only one recipe" in done.err
