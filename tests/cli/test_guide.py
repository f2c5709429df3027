"""The manual in the terminal: every page is listed and shown whole; a page that is not there is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldwright.guide import FOLDER, PAGES, read_page, title_of
from workbench.command_line import foldwright


def test_the_list_names_every_page_there_is(tmp_path: Path) -> None:
    assert {f"{name}.md" for name in PAGES} == {path.name for path in FOLDER.glob("*.md")}
    done = foldwright("guide", cwd=tmp_path)
    assert done.status == 0
    assert all(f"foldwright guide {name}" in done.out and title_of(read_page(name)) in done.out for name in PAGES)


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_shown_whole_with_its_pictures_in_words(name: str, tmp_path: Path) -> None:
    done = foldwright("guide", name, cwd=tmp_path)
    assert done.status == 0
    headings = [line for line in read_page(name).splitlines() if line.startswith("#")]
    assert [line for line in done.out.splitlines() if line in headings] == headings
    assert "![" not in done.out
    assert "<!--" not in done.out


def test_a_page_that_is_not_there_is_told_with_those_that_are(tmp_path: Path) -> None:
    done = foldwright("guide", "cooking", cwd=tmp_path)
    assert (done.status, done.out) == (2, "")
    assert "cooking" in done.err
    assert all(name in done.err for name in PAGES)
