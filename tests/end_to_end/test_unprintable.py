"""Characters that no page can hold, typed where the program is called and where it asks."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.command_line import GOOD, contents, foldwright, write

TAG = ("--form", "tag", "--units", "inches", "--size", "2 x 4 in", "--card", "white card")


@pytest.mark.parametrize(
    "words", [("new", "a\x1bb", *TAG), ("recover", "x.txt", "--name", "a\x07b"), ("convert", "4\x9b in")]
)
def test_a_call_with_one_is_a_wrong_call(tmp_path: Path, words: tuple[str, ...]) -> None:
    done = foldwright(*words, cwd=tmp_path)
    assert done.status == 2
    assert "no page can show" in done.err
    assert not {"\x1b", "\x07", "\x9b"} & set(done.err)
    assert contents(tmp_path) == {}


def test_an_answer_with_one_is_asked_for_again(tmp_path: Path) -> None:
    done = foldwright("new", *TAG, cwd=tmp_path, typed="a\x1bb\nTag two\n")
    assert done.status == 0
    assert "no page can show" in done.err
    assert list(contents(tmp_path)) == ["recipes/tag-two/recipe.md"]


def test_who_gives_a_sample_no_name_is_told_so(tmp_path: Path) -> None:
    done = foldwright("recover", cwd=tmp_path)
    assert done.status == 2
    assert "give it a name" in done.err
    assert contents(tmp_path) == {}


def test_names_of_guests_with_one_stop_the_kit(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD)
    (tmp_path / "names.csv").write_bytes("name\nZoë\n\x1b[2JÜmit\n".encode())
    done = foldwright("kit", "card", "--for", "2", "--names", "names.csv", "--out", "out", cwd=tmp_path)
    assert done.status == 1
    assert "U+001B" in done.out + done.err
    assert "\x1b" not in done.out + done.err
    assert contents(tmp_path / "out") == {}
