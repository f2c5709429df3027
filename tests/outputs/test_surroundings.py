"""What the compiler may read: the files of one folder, whatever links and names say."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldwright.surroundings import Folder, Refusal

ENOUGH = 1000


@pytest.fixture
def home(tmp_path: Path) -> Path:
    folder = tmp_path / "recipe"
    (folder / "photos").mkdir(parents=True)
    (folder / "photos" / "score.jpg").write_bytes(b"a picture")
    (tmp_path / "secret.txt").write_bytes(b"a secret")
    return folder


def test_a_file_of_the_folder_is_read(home: Path) -> None:
    assert Folder(home).read("photos/score.jpg", ENOUGH) == b"a picture"
    assert Folder(home).read("photos/../photos/score.jpg", ENOUGH) == b"a picture"


@pytest.mark.parametrize("path", ["../secret.txt", "photos/../../secret.txt", "../nothing.txt", "/etc/hostname"])
def test_a_path_that_leads_out_is_refused(home: Path, path: str) -> None:
    assert Folder(home).read(path, ENOUGH) is Refusal.OUTSIDE


def test_an_absolute_path_is_refused_even_when_the_file_is_there(home: Path) -> None:
    assert Folder(home).read(str(home.parent / "secret.txt"), ENOUGH) is Refusal.OUTSIDE


def test_links_that_lead_out_are_refused(home: Path) -> None:
    (home / "innocent.jpg").symlink_to(home.parent / "secret.txt")
    (home / "album").symlink_to(home.parent)
    (home / "gone.jpg").symlink_to(home.parent / "not-there")
    for path in ("innocent.jpg", "album/secret.txt", "gone.jpg"):
        assert Folder(home).read(path, ENOUGH) is Refusal.OUTSIDE


def test_a_link_that_stays_inside_is_followed(home: Path) -> None:
    (home / "cover.jpg").symlink_to(home / "photos" / "score.jpg")
    assert Folder(home).read("cover.jpg", ENOUGH) == b"a picture"


def test_a_folder_that_is_itself_a_link_is_the_place_it_leads_to(home: Path) -> None:
    (home.parent / "elsewhere").symlink_to(home)
    assert Folder(home.parent / "elsewhere").read("photos/score.jpg", ENOUGH) == b"a picture"


def test_links_in_a_circle_are_refused(home: Path) -> None:
    (home / "one").symlink_to(home / "other")
    (home / "other").symlink_to(home / "one")
    assert isinstance(Folder(home).read("one", ENOUGH), Refusal)


def test_only_ordinary_files_are_read(home: Path) -> None:
    os.mkfifo(home / "pipe")
    assert Folder(home).read("pipe", ENOUGH) is Refusal.NOT_A_FILE
    assert Folder(home).read("photos", ENOUGH) is Refusal.NOT_A_FILE


@pytest.mark.parametrize("path", ["missing.jpg", "photos/score.jpg/more", "bad\0name", "n" * 400])
def test_what_is_not_there_is_refused_without_an_exception(home: Path, path: str) -> None:
    assert Folder(home).read(path, ENOUGH) in (Refusal.MISSING, Refusal.UNREADABLE)


def test_the_limit_is_the_largest_size_that_is_read(home: Path) -> None:
    assert Folder(home).read("photos/score.jpg", 9) == b"a picture"
    assert Folder(home).read("photos/score.jpg", 8) is Refusal.TOO_LARGE
