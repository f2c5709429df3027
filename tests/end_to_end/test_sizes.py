"""A recipe in two sizes: both are checked, each has pages of its own, and its words follow."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from workbench.command_line import GOOD, foldwright, write

TWO = GOOD.replace(
    "    fold: card\n",
    "    fold: card\n\nsizes:\n  large:\n    card:\n      size: 10 x 7 in\n      across: 5 back | 5 front\n",
)


def words(path: Path) -> str:
    page = re.sub(r"(?s)<(style|svg|script).*?</\1>", "", path.read_text(encoding="utf-8"))
    page = re.sub(r'<span class="vh">.*?</span>', "", page)
    plain = re.sub(r"<[^>]*>", "", page)
    return " ".join(plain.replace("\u202f", " ").replace("\u2044", "/").split())


def test_each_size_is_built_with_its_own_numbers_in_its_words(tmp_path: Path) -> None:
    write(tmp_path, "card", TWO)
    done = foldwright("build", "card", "--out", "out", "--only", "tutorial,pieces", "--units", "imperial", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    assert "Cut the white card to 8 × 5 in and score it at 4 in." in words(tmp_path / "out/card/tutorial.html")
    large = words(tmp_path / "out/card-large/tutorial.html")
    assert "Cut the white card to 10 × 7 in and score it at 5 in." in large
    assert "Practice card, large" in large
    svg = (tmp_path / "out/card-large/card.svg").read_text(encoding="utf-8")
    assert 'width="254mm" height="177.8mm"' in svg


def test_one_size_alone_is_built_when_it_is_asked_for(tmp_path: Path) -> None:
    write(tmp_path, "card", TWO)
    foldwright("build", "card", "--out", "out", "--only", "sheet", "--size", "large", cwd=tmp_path)
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["card-large"]
    foldwright("build", "card", "--out", "other", "--only", "sheet", "--size", "as written", cwd=tmp_path)
    assert [path.name for path in (tmp_path / "other").iterdir()] == ["card"]
    unknown = foldwright("build", "card", "--out", "third", "--size", "huge", cwd=tmp_path)
    assert unknown.status == 2
    assert "has a size called “huge”" in unknown.err
    assert not (tmp_path / "third").exists()


def test_check_says_which_size_is_wrong_and_only_once_what_is_wrong_in_all(tmp_path: Path) -> None:
    text = TWO.replace("across: 5 back | 5 front", "across: 5 back | 4 front").replace("level: easy", "levle: easy")
    write(tmp_path, "card", text.replace("      size: 10 x 7 in\n", "      size: 10 x 7 in\n", 1))
    done = foldwright("check", "card", cwd=tmp_path)
    assert done.status == 1
    assert done.out.count("| levle: easy") == 1
    assert "recipe.md (large)" in done.out
    assert "5 + 4" in done.out


@pytest.mark.parametrize("form", ["text", "json"])
def test_the_pieces_of_every_size_are_said_back(tmp_path: Path, form: str) -> None:
    write(tmp_path, "card", TWO)
    done = foldwright("check", "card", "--format", form, cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    assert "Cut 8 x 5 in." in done.out
    assert "Cut 10 x 7 in." in done.out
