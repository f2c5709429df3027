"""A recipe's new folder is there whole, or not at all."""

from __future__ import annotations

from pathlib import Path

from foldwright.outputs.new_folders import folder_for, write_new_folder


def test_it_has_all_its_files_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    files = {"recipe.md": b"text", "photos/one.jpg": b"picture"}
    assert write_new_folder(tmp_path / "deep" / "box", files) is None
    folder = tmp_path / "deep" / "box"
    assert {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*.*")} == files
    assert [one.name for one in (tmp_path / "deep").iterdir()] == ["box"]


def test_what_is_there_stays_as_it_is(tmp_path: Path) -> None:
    assert write_new_folder(tmp_path / "box", {"recipe.md": b"first"}) is None
    wrong = write_new_folder(tmp_path / "box", {"recipe.md": b"second"})
    assert wrong is not None and wrong.message == "new.there-already"
    assert (tmp_path / "box" / "recipe.md").read_bytes() == b"first"
    (tmp_path / "nowhere").symlink_to(tmp_path / "gone")
    assert write_new_folder(tmp_path / "nowhere", {"recipe.md": b"third"}) is not None


def test_of_a_folder_that_cannot_be_whole_nothing_is_left(tmp_path: Path) -> None:
    wrong = write_new_folder(tmp_path / "box", {"recipe.md": b"text", "x" * 300: b"picture"})
    assert wrong is not None and wrong.message == "cannot-write-name-too-long"
    assert list(tmp_path.iterdir()) == []


def test_a_title_never_leads_out_of_its_folder(tmp_path: Path) -> None:
    for title in ("../../etc", "/etc/passwd", "..", "a/b\\c", "\x00"):
        source = folder_for(title, tmp_path)
        assert source.folder.parent == tmp_path and source.folder.name not in ("", ".", "..")
