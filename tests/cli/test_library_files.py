"""What stands round the recipes in a library: written when it differs, removed when it goes, nobody else's touched."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import pytest
from msgspec import Raw, json
from msgspec.structs import replace

from foldwright.cli import library_files
from foldwright.cli.library_files import ROOT, Library, make_room, read_root
from foldwright.cli.records import MadeBy, PartRecord, Record, as_bytes, as_they_stand, read_record
from foldwright.cli.writing import FileMark, mark_of, swap_in
from foldwright.library import making
from foldwright.library.made_from import MadeFrom
from foldwright.library.making import LibraryWish, MadeLibrary
from foldwright.outputs.entry import Entry

PAGE = b"<p>Box<!--of the library--><!--/of the library--></p>"


class Stated:
    """A library whose files and insets the test says; it counts how often it is made."""

    def __init__(self) -> None:
        self.files: dict[str, bytes] = {"index.html": b"all", "tags/spring.html": b"spring"}
        self.insets: dict[str, str] = {"box": "next: tag"}
        self.made = 0
        self.wish: LibraryWish | None = None

    def make(self, entries: tuple[Entry, ...], wish: LibraryWish, _before: MadeFrom | None = None) -> MadeLibrary:
        self.made += bool(entries)
        self.wish = wish
        return MadeLibrary(self.files, self.insets)


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> Stated:
    found = Stated()
    monkeypatch.setattr(making, "make_library", found.make)
    return found


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """An output folder with two recipes in it, as a build leaves them before the library is laid."""
    (tmp_path / "recipes").mkdir()
    (tmp_path / "out").mkdir()
    for slug in ("box", "tag"):
        laid(tmp_path / "out", slug)
    return tmp_path / "out"


def laid(out: Path, slug: str, title: str = "Box") -> None:
    def seal(marks: Mapping[str, FileMark]) -> bytes:
        entry = Raw(json.encode(Entry(slug, title)))
        parts = {"tutorial": PartRecord("key", dict(marks))}
        return as_bytes(Record(MadeBy("", "", "../recipes", ""), "good", (), parts, (), entry=entry))

    assert swap_in(out, slug, {"tutorial.html": PAGE}, seal=seal) is None


def lay(out: Path) -> list[str]:
    records = {slug: record for slug in ("box", "tag") if (record := read_record(out / slug))}
    return [wrong.message for wrong in Library(out.parent / "recipes", out, "").lay(records, {}).troubles]


def at_root(out: Path) -> dict[str, bytes]:
    files = {path.relative_to(out).as_posix(): path for path in out.rglob("*") if path.is_file()}
    return {name: path.read_bytes() for name, path in files.items() if not name.startswith(("box/", "tag/", ROOT))}


def test_it_is_made_once_and_again_when_an_entry_its_studio_or_its_shelf_changes(out: Path, library: Stated) -> None:
    assert [lay(out), lay(out)] == [[], []]
    assert library.made == 1
    assert at_root(out) == {"index.html": b"all", "tags/spring.html": b"spring"}
    laid(out, "tag", "Another title")
    lay(out)
    assert library.made == 2
    (out.parent / "recipes/studio.yaml").write_text("studio: Harbour Street Paper Studio\n")
    lay(out)
    assert library.made == 3
    (out.parent / "recipes/stock.yaml").write_text("white card: 3 sheets\n")
    lay(out)
    assert library.made == 4
    assert library.wish and library.wish.stock == "white card: 3 sheets\n"
    assert library.wish.studio.name and library.wish.studio.name.value == "Harbour Street Paper Studio"
    lay(out)
    assert library.made == 4


def test_a_record_that_names_what_lies_outside_has_nothing_removed_or_brought_in(out: Path, library: Stated) -> None:
    lay(out)
    theirs = out.parent / "theirs.txt"
    theirs.write_bytes(b"theirs")
    mark = mark_of(theirs, b"theirs")
    names = ("../theirs.txt", "tags/../../theirs.txt", str(theirs))
    root = read_root(out)
    (out / ROOT).write_bytes(json.encode(replace(root, made_of="", files={**root.files, **dict.fromkeys(names, mark)})))
    library.files["index.html"] = b"anew"
    assert lay(out) == []
    assert (out / "index.html").read_bytes() == b"anew"
    assert theirs.read_bytes() == b"theirs"
    record = read_record(out / "box")
    assert record
    part = PartRecord("key", {"../../theirs.txt": mark, **record.parts["tutorial"].files})
    there = as_they_stand(replace(record, parts={"tutorial": part}), out / "box")["tutorial"]
    assert (there.key, list(there.files)) == ("", ["tutorial.html"])


def test_it_is_made_again_on_another_day(out: Path, library: Stated, monkeypatch: pytest.MonkeyPatch) -> None:
    for day, made in (("0", 1), ("86399", 1), ("86400", 2)):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", day)
        lay(out)
        assert library.made == made


def test_only_files_whose_bytes_differ_are_written(out: Path, library: Stated) -> None:
    lay(out)
    for path in (out / "index.html", out / "tags/spring.html"):
        os.utime(path, ns=(1, 1))
    library.files["index.html"] = b"all of them"
    laid(out, "tag", "Another title")
    lay(out)
    assert (out / "index.html").read_bytes() == b"all of them"
    assert (out / "index.html").stat().st_mtime_ns > 1
    assert (out / "tags/spring.html").stat().st_mtime_ns == 1


def test_what_it_has_no_more_goes_with_its_folder(out: Path, library: Stated) -> None:
    lay(out)
    (out / "mine").mkdir()
    library.files = {"index.html": b"all"}
    laid(out, "tag", "Another title")
    lay(out)
    assert at_root(out) == {"index.html": b"all"}
    assert not (out / "tags").exists()
    assert (out / "mine").is_dir()


def test_somebody_elses_file_is_named_and_nothing_is_written(out: Path, library: Stated) -> None:
    (out / "tags").mkdir()
    (out / "tags/spring.html").write_bytes(b"mine")
    assert lay(out) == ["library-not-ours"]
    assert [wrong.message for wrong in make_room(out, {})] == ["library-not-ours"]
    assert at_root(out) == {"tags/spring.html": b"mine"}
    assert (out / "box/tutorial.html").read_bytes() == PAGE


def test_a_recipe_of_a_name_the_library_needs_is_named(out: Path, library: Stated) -> None:
    library.files["box/index.html"] = b"old name"
    assert lay(out) == ["library-same-name"]
    assert at_root(out) == {}


def test_an_old_name_that_is_in_use_again_is_given_back(out: Path, library: Stated) -> None:
    """The library led from an old name to the new one; now there is a recipe of that name again."""
    library.files["bird-house/tutorial.html"] = b"moved"
    lay(out)
    del library.files["bird-house/tutorial.html"]
    assert make_room(out, {"bird-house": None}) == ()
    assert not (out / "bird-house").exists()
    assert "bird-house/tutorial.html" not in read_root(out).files


def test_a_file_somebody_altered_or_took_is_put_right(out: Path, library: Stated) -> None:
    lay(out)
    (out / "index.html").write_bytes(b"not")
    (out / "tags/spring.html").unlink()
    lay(out)
    assert at_root(out) == library.files


def test_a_page_says_what_it_is_to_say_of_the_others(out: Path, library: Stated) -> None:
    lay(out)
    assert (out / "box/tutorial.html").read_bytes() == PAGE.replace(b"--><!--", b"-->next: tag<!--")
    assert (out / "tag/tutorial.html").read_bytes() == PAGE
    library.insets = {"tag": "before: box"}
    laid(out, "tag", "Another title")
    lay(out)
    assert (out / "box/tutorial.html").read_bytes() == PAGE
    assert b"before: box" in (out / "tag/tutorial.html").read_bytes()
    record = read_record(out / "tag")
    assert record and record.inset == "before: box"
    assert record.parts["tutorial"].files["tutorial.html"].size == (out / "tag/tutorial.html").stat().st_size


@pytest.mark.parametrize("writes", range(5))
def test_a_build_that_ends_in_the_middle_is_taken_up_by_the_next(
    out: Path, library: Stated, monkeypatch: pytest.MonkeyPatch, writes: int
) -> None:
    """Ended after so many files: what it had written is known to be ours, and in the end all is as it should be."""
    put = library_files.put_file
    left = writes

    class Ended(BaseException):
        pass

    def ends(*facts: object) -> None:
        nonlocal left
        if not left:
            raise Ended
        left -= 1
        put(*facts)  # type: ignore[arg-type]

    monkeypatch.setattr(library_files, "put_file", ends)
    with pytest.raises(Ended):
        lay(out)
    monkeypatch.setattr(library_files, "put_file", put)
    assert make_room(out, {"box": None, "tag": None}) == ()
    assert lay(out) == []
    assert at_root(out) == library.files
    assert b"next: tag" in (out / "box/tutorial.html").read_bytes()


@pytest.mark.parametrize(
    ("stock", "code"), [(b"\xff\xfe1\x00", "UTF-16"), (b"caf\xe9: 3 sheets\n", "UTF-8"), (b"#" * 1_100_000, "larger")]
)
def test_a_shelf_that_cannot_be_read_is_told(out: Path, library: Stated, stock: bytes, code: str) -> None:
    (out.parent / "recipes/stock.yaml").write_bytes(stock)
    records = {slug: record for slug in ("box", "tag") if (record := read_record(out / slug))}
    outcome = Library(out.parent / "recipes", out, "").lay(records, {})
    assert [(one.file, code in one.says) for one in outcome.told] == [("stock.yaml", True)]
    assert library.wish and library.wish.stock is None
