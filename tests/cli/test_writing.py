"""A recipe's output appears whole or not at all, and nothing of anybody else's is touched."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldwright.cli import writing
from foldwright.cli.writing import open_output, swap_in
from foldwright.finding import Wrong
from foldwright.outputs.sources import Source


def contents(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file() and path.name != writing.LIST)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def test_a_folder_holds_exactly_what_was_made_last(tmp_path: Path) -> None:
    assert swap_in(tmp_path, "box", {"tutorial.html": b"1", "pictures/plan.png": b"2"}) is None
    assert contents(tmp_path / "box") == {"tutorial.html": b"1", "pictures/plan.png": b"2"}
    swap_in(tmp_path, "box", {"tutorial.html": b"3"})
    assert contents(tmp_path / "box") == {"tutorial.html": b"3"}
    assert sorted(os.listdir(tmp_path)) == ["box"]


def test_a_failure_leaves_the_old_files_as_they_were(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    swap_in(tmp_path, "box", {"tutorial.html": b"old"})
    full = OSError(28, "No space left on device")
    written = Path.write_bytes

    def fills_up(self: Path, data: bytes) -> int:
        if self.name == "b.png":
            raise full
        return written(self, data)

    monkeypatch.setattr(Path, "write_bytes", fills_up)
    answer = swap_in(tmp_path, "box", {"a.png": b"new", "b.png": b"new", "tutorial.html": b"new"})
    assert isinstance(answer, Wrong) and answer.message == "cannot-write-disk-full"
    assert contents(tmp_path / "box") == {"tutorial.html": b"old"}
    assert sorted(os.listdir(tmp_path)) == ["box"]


def test_a_failure_in_the_middle_of_the_swap_puts_the_old_folder_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    swap_in(tmp_path, "box", {"tutorial.html": b"old"})
    renamed = Path.rename

    def refuses_the_new(self: Path, target: Path) -> Path:
        if self.name.endswith(".new"):
            raise OSError(5, "Input/output error")
        return renamed(self, target)

    monkeypatch.setattr(Path, "rename", refuses_the_new)
    assert isinstance(swap_in(tmp_path, "box", {"tutorial.html": b"new"}), Wrong)
    assert contents(tmp_path / "box") == {"tutorial.html": b"old"}


def test_a_build_killed_in_the_middle_of_the_swap_is_mended_by_the_next(tmp_path: Path) -> None:
    swap_in(tmp_path, "box", {"tutorial.html": b"old"})
    dead = _a_number_no_process_has()
    (tmp_path / f".foldwright-at-work-{dead}-box.new").mkdir()
    (tmp_path / "box").rename(tmp_path / f".foldwright-at-work-{dead}-box.old")
    assert open_output(tmp_path, ()) is None
    assert contents(tmp_path / "box") == {"tutorial.html": b"old"}
    assert sorted(os.listdir(tmp_path)) == ["box"]


def test_a_build_that_still_runs_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / f".foldwright-at-work-{os.getppid()}-box.new").mkdir()
    assert open_output(tmp_path, ()) is None
    assert (tmp_path / f".foldwright-at-work-{os.getppid()}-box.new").is_dir()


@pytest.mark.parametrize("kind", ["file", "folder", "link", "added"])
def test_what_foldwright_did_not_make_is_never_replaced(tmp_path: Path, kind: str) -> None:
    target = tmp_path / "box"
    if kind == "file":
        target.write_text("mine")
    elif kind == "folder":
        target.mkdir()
        (target / "notes.txt").write_text("mine")
    elif kind == "link":
        (tmp_path / "mine").mkdir()
        target.symlink_to(tmp_path / "mine")
    else:
        swap_in(tmp_path, "box", {"tutorial.html": b"made"})
        (target / "notes.txt").write_text("mine")
    answer = swap_in(tmp_path, "box", {"tutorial.html": b"new"})
    assert isinstance(answer, Wrong) and answer.message == "output-not-ours"
    kept = target if kind == "file" else target / "notes.txt" if kind != "link" else tmp_path / "mine"
    assert kept.exists()
    assert not (tmp_path / "mine" / "tutorial.html").exists()


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    (tmp_path / "box").mkdir()
    swap_in(tmp_path, "box", {"tutorial.html": b"new"})
    assert contents(tmp_path / "box") == {"tutorial.html": b"new"}


def test_the_output_may_not_lie_where_it_would_swap_a_recipe_away(tmp_path: Path) -> None:
    home = tmp_path / "recipes" / "box"
    home.mkdir(parents=True)
    source = Source(home, "recipe.md", "box", tmp_path / "recipes")
    for out in (tmp_path / "recipes", home, home / "made"):
        answer = open_output(out, [source])
        assert isinstance(answer, Wrong) and answer.message == "output-in-recipe"
    assert open_output(tmp_path / "build", [source]) is None


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file")
    for out in (tmp_path / "file", tmp_path / "file" / "below"):
        answer = open_output(out, ())
        assert isinstance(answer, Wrong) and answer.message == "cannot-write-not-a-folder"
    answer = open_output(Path("/proc/nothing-can-be-made-here"), ())
    assert isinstance(answer, Wrong) and answer.message.startswith("cannot-write-")


def _a_number_no_process_has() -> int:
    number = 4_000_000
    while Path(f"/proc/{number}").exists():
        number += 1
    return number
