"""What is remembered of a recipe's folder: what went in, what came of it, what was told. It lies beside the pages.

While it holds, nothing of the recipe has to be compiled again.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Literal

from msgspec import DecodeError, Raw, Struct, field, json
from msgspec.structs import replace

from foldwright.cli.inputs import AsBefore, Input, digest_of_bytes
from foldwright.cli.writing import RECORD, FileMark, lies_inside, mark_of
from foldwright.document.findings import Told
from foldwright.outputs.sources import Source
from foldwright.surroundings import lies_in

DRAFT = "draft.html"
"""The page of a recipe with an error, where good pages are kept."""
OPENS, CLOSES = "<!--of the library-->", "<!--/of the library-->"
"""What stands between them in a page is about the others in the library."""
UNLISTED = "<!--not listed-->"
"""What stands there on a page that no list leads to."""
_TO_ROBOTS, _TOLD = "<!--for robots-->", "<!--/for robots-->"
_NO_INDEX = '<meta name="robots" content="noindex">'
"""What search engines read in the head of a page that they are to leave out."""
_FORMAT = 1
"""Grows when a record says the same in another way."""


type State = Literal["good", "draft", "kept"]


class MadeBy(Struct, frozen=True):
    """What a folder was made by, besides what the recipe holds: the program, the options, its own place and size."""

    program: str
    asked: str
    home: str
    """The folder of recipes it came of, from the output folder; empty where it is a text by itself."""
    size: str
    format: int = _FORMAT


class PartRecord(Struct, frozen=True):
    """One output: what it was made from (empty where nobody knows that), its files, what was told of them."""

    key: str = ""
    files: Mapping[str, FileMark] = field(default_factory=dict)
    notes: tuple[str, ...] = ()


class Record(Struct, frozen=True):
    """All that is remembered of one recipe, or one of its sizes.

    Its pages are `good`; or all there is, is a `draft`, as the recipe has an error; or good ones were `kept` as they
    were, with the draft beside them.
    """

    made_by: MadeBy
    state: State
    inputs: tuple[Input, ...]
    parts: Mapping[str, PartRecord]
    told: tuple[Told, ...]
    sizes: tuple[tuple[str, bool], ...] = ()
    entry: Raw = Raw(b"null")
    """What a library knows of it (`outputs.entry.Entry`); read only where a library is made."""
    inset: str = ""
    """What stands in its page about the others in the library."""
    beside: Mapping[str, FileMark] = field(default_factory=dict)
    """The files of a draft beside good pages."""

    @property
    def files(self) -> Iterator[tuple[str, FileMark]]:
        """Every file of the folder."""
        for part in self.parts.values():
            yield from part.files.items()
        yield from self.beside.items()


_READER = json.Decoder(Record)


def read_record(folder: str | Path) -> Record | None:
    """The record of a folder; None where there is none that we can read."""
    try:
        with open(f"{folder}/{RECORD}", "rb", buffering=0) as file:
            return _READER.decode(file.read())
    except (OSError, DecodeError):
        return None


def as_bytes(record: Record) -> bytes:
    """The record as it is written."""
    return json.encode(record)


def unchanged(record: Record, source: Source, home: str, folder: str, by: MadeBy, look: AsBefore) -> Record | None:
    """The record, brought up to date, if compiling the recipe again would change nothing; else None.

    `home` is the whole path of the recipe's folder, `folder` that of what was made of it.
    """
    made = record.made_by
    if made != by and replace(made, home=by.home) != by:
        return None
    if (standing_now := _all_standing(record, folder)) is None:
        return None
    if os.path.islink(home) and not lies_in(home, source.within):
        return None
    inputs = look.inputs(record.inputs, home)
    if inputs is None:
        return None
    same = made == by and inputs == record.inputs
    return standing_now if same else replace(standing_now, made_by=by, inputs=inputs)


def _all_standing(record: Record, folder: str) -> Record | None:
    """The record with its marks as they are now, if every file is as we wrote it; else None."""
    place = f"{folder}{os.sep}"
    differ = []
    # A library of a thousand recipes has fifty thousand files: what is as it was is seen here, as fast as may be.
    for marks in (*(part.files for part in record.parts.values()), record.beside):
        for name, mark in marks.items():
            try:
                facts = os.lstat(place + name)
            except OSError:
                return None
            if facts.st_mtime_ns != mark.time or facts.st_size != mark.size:
                differ.append((name, mark))
    for name, mark in differ:
        now = standing(folder, name, mark)
        if now is None:
            return None
        record = _with_mark(record, name, now)
    return record


def _with_mark(record: Record, name: str, mark: FileMark) -> Record:
    """The record with another mark of one of its files."""

    def marked(marks: Mapping[str, FileMark]) -> Mapping[str, FileMark]:
        return {**marks, name: mark} if name in marks else marks

    parts = {output: replace(part, files=marked(part.files)) for output, part in record.parts.items()}
    return replace(record, parts=parts, beside=marked(record.beside))


def standing(folder: str | Path, name: str, mark: FileMark) -> FileMark | None:
    """The mark of a file as it stands, if it is the one we wrote; None where it is gone, or was altered.

    One of another time is read, and of another content when it is altered.
    """
    try:
        facts = os.stat(f"{folder}/{name}", follow_symlinks=False)
        if facts.st_size != mark.size:
            return None
        if facts.st_mtime_ns == mark.time:
            return mark
        with open(f"{folder}/{name}", "rb") as file:
            same = digest_of_bytes(file.read()) == mark.digest
    except OSError:
        return None
    return replace(mark, time=facts.st_mtime_ns) if same else None


def as_they_stand(record: Record, folder: Path) -> dict[str, PartRecord]:
    """Every output with those of its files that stand there; without a key where not all are as we wrote them."""
    found = {}
    for name, part in record.parts.items():
        marks = {file: lies_inside(file) and standing(folder, file, mark) for file, mark in part.files.items()}
        there = {file: now for file, mark in marks.items() if (now := mark or _of_another(folder, file))}
        found[name] = PartRecord(part.key if all(marks.values()) else "", there, part.notes)
    return found


def _of_another(folder: Path, name: str) -> FileMark | None:
    """The mark of a file that somebody altered; None where there is none."""
    path = folder / name
    return mark_of(path, path.read_bytes()) if lies_inside(name) and path.is_file() and not path.is_symlink() else None


def with_inset(page: bytes, inset: str) -> bytes:
    """A page with what stands in it about the others in the library; as it is, where it has no place for that. Where no
    list leads to it, its head asks search engines to leave it out."""
    asked = _between(page, _TO_ROBOTS, _TOLD, _NO_INDEX if inset == UNLISTED else "")
    return _between(asked, OPENS, CLOSES, inset)


def _between(page: bytes, opens: str, closes: str, said: str) -> bytes:
    head, mark, rest = page.partition(opens.encode())
    _, end, tail = rest.partition(closes.encode())
    return head + mark + said.encode() + end + tail if end else page
