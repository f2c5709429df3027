"""Booklets of a real build: asked for in the call or beside the recipes, made anew only when something has changed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from printed.bookmarks import bookmarks
from printed.reading import paper_complaints
from printed.same import difference
from workbench.command_line import Done, foldwright

TAG = """---
title: {title}
makes: 1 tag
supplies:
  kraft card: cardstock, sheet A4
pieces:
  tag:
    from: kraft card
    size: 50 x 80 mm
---

## Cut the tag

Cut the tag to 50 x {high} mm.
"""
ASKED = "title: Spring 2027\nrecipes: one, two\npaper: A5\nsaddle: yes\n"
FILES = {"booklet-spring-2027.pdf", "booklet-spring-2027-saddle.pdf"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("one", "two"):
        write(tmp_path, name)
    return tmp_path


def write(folder: Path, name: str, title: str = "", high: int = 80) -> None:
    (folder / "recipes" / name).mkdir(parents=True, exist_ok=True)
    text = TAG.format(title=title or f"Tag {name}", high=high)
    (folder / "recipes" / name / "recipe.md").write_text(text, encoding="utf-8")


def build(folder: Path, *words: str) -> Done:
    return foldwright("build", "recipes", "--out", "out", "--only", "sheet", *words, cwd=folder)


def booklets(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((folder / "out").glob("booklet-*.pdf"))}


def titles(data: bytes) -> list[str]:
    return [one.title for one in bookmarks(data)]


def test_a_call_asks_for_one(folder: Path) -> None:
    done = build(folder, "--booklet", "Spring 2027: two, one", "--paper", "A5")
    assert done.status == 0, done.err
    made = booklets(folder)
    assert set(made) == {"booklet-spring-2027.pdf"}
    data = made["booklet-spring-2027.pdf"]
    assert titles(data)[:4] == ["Spring 2027", "Contents", "Tag two", "Tag one"]
    assert paper_complaints(data, 148, 210, "mm") == []
    assert "pages of A5, in millimetres" in done.out


def test_a_file_beside_the_recipes_asks_for_one_until_it_says_something_else(folder: Path) -> None:
    asks = folder / "recipes" / "booklet.yaml"
    asks.write_text(ASKED, encoding="utf-8")
    assert build(folder).status == 0
    first = booklets(folder)
    assert set(first) == FILES

    again = build(folder)
    assert again.status == 0
    assert "booklet-spring-2027.pdf: nothing has changed" in again.out
    assert booklets(folder) == first

    write(folder, "two", "Tag of another name")
    changed = build(folder)
    assert changed.status == 0
    assert "nothing has changed" not in changed.out
    assert "Tag of another name" in titles(booklets(folder)["booklet-spring-2027.pdf"])

    write(folder, "two")
    assert build(folder).status == 0
    assert [difference(first[name], data) for name, data in booklets(folder).items()] == ["", ""]

    asks.write_text(ASKED.replace("Spring 2027", "Summer").replace("saddle: yes\n", ""), encoding="utf-8")
    assert build(folder).status == 0
    assert set(booklets(folder)) == {"booklet-summer.pdf"}

    asks.unlink()
    assert build(folder).status == 0
    assert booklets(folder) == {}


def test_a_call_and_a_file_may_both_ask_but_not_for_one_file(folder: Path) -> None:
    asks = folder / "recipes" / "booklet.yaml"
    asks.write_text("title: Summer\nrecipes: one\n", encoding="utf-8")
    done = build(folder, "--booklet", "Spring: two")
    assert done.status == 0, done.err
    assert set(booklets(folder)) == {"booklet-spring.pdf", "booklet-summer.pdf"}
    clash = build(folder, "--booklet", "summer!: two")
    assert clash.status == 2
    assert "booklet-summer.pdf" in clash.err
    asks.rename(folder / "recipes" / "autumn.yaml")
    named = build(folder, "--booklet", "recipes/autumn.yaml")
    assert named.status == 0, named.err
    # The one that the file beside the recipes asked for is asked for by another file now; the call's stays.
    assert set(booklets(folder)) == {"booklet-spring.pdf", "booklet-summer.pdf"}


def test_what_an_interrupted_build_left_is_made_anew(folder: Path) -> None:
    """The record names a file as ours before it is written: one that is half there is no stranger's."""
    assert build(folder, "--booklet", "Spring: one").status == 0
    first = booklets(folder)["booklet-spring.pdf"]
    record = folder / "out" / ".foldwright-booklets"
    marked = json.loads(record.read_text(encoding="utf-8"))
    marked["booklet-spring"] |= {"key": "", "files": {"booklet-spring.pdf": [-1, 0, ""]}}
    record.write_text(json.dumps(marked), encoding="utf-8")
    (folder / "out" / "booklet-spring.pdf").write_bytes(first[:1000])
    done = build(folder, "--booklet", "Spring: one")
    assert done.status == 0, done.err
    assert booklets(folder) == {"booklet-spring.pdf": first}


def test_a_recipe_with_an_error_leaves_the_booklet_as_it_was(folder: Path) -> None:
    (folder / "recipes" / "booklet.yaml").write_text(ASKED, encoding="utf-8")
    assert build(folder).status == 0
    first = booklets(folder)
    path = folder / "recipes" / "two" / "recipe.md"
    path.write_text(path.read_text(encoding="utf-8").replace("size: 50 x 80 mm", "size: wide"), encoding="utf-8")
    done = build(folder)
    assert done.status == 1
    assert "was not made" in done.err
    assert "recipes/two/recipe.md" in done.err
    assert booklets(folder) == first


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("Spring: one, twoo", "Did you mean “two”?"),
        ("Spring: one, quilt", "There are one and two."),
        ("Spring: one, one", "is in the booklet twice"),
        ("Spring", "I need a title, a colon, and recipes"),
    ],
)
def test_a_call_that_asks_for_what_is_not_there_does_nothing(folder: Path, said: str, told: str) -> None:
    done = build(folder, "--booklet", said)
    assert done.status == 2
    assert told in " ".join(done.err.split())
    assert "line" not in done.err
    assert not (folder / "out").exists() or list((folder / "out").iterdir()) == []


def test_a_file_that_asks_for_what_is_not_there_is_told_and_all_else_is_made(folder: Path) -> None:
    (folder / "recipes" / "booklet.yaml").write_text(ASKED.replace("two", "twoo"), encoding="utf-8")
    done = build(folder)
    assert done.status == 1
    assert "recipes/booklet.yaml" in done.err
    assert "line 2" in done.err
    assert booklets(folder) == {}
    assert (folder / "out" / "two" / "sheet.json").exists()


def test_a_file_that_is_not_ours_is_left_alone(folder: Path) -> None:
    (folder / "out").mkdir()
    own = folder / "out" / "booklet-spring.pdf"
    own.write_bytes(b"mine")
    done = build(folder, "--booklet", "Spring: one")
    assert done.status == 1
    assert "foldwright did not make it" in done.err
    assert own.read_bytes() == b"mine"


def test_sheets_to_fold_of_nothing_are_a_slip(folder: Path) -> None:
    done = build(folder, "--saddle")
    assert done.status == 2
    assert "--saddle is about a booklet" in done.err
