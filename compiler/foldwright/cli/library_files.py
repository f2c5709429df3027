"""The library round the recipes' folders: its files at the root of the output, and each page's place about the others.

A record at the root knows which files are ours and what they were made of, so that they are made anew only then, and
written only where their bytes differ. Before any is written it names all that are about to be ours: thus what an
interrupted build left is known for what it is.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import DecodeError, Struct, field, json
from msgspec.structs import replace

from foldwright.cli.inputs import AsBefore, Input, WentIn, digest_of_bytes
from foldwright.cli.library_told import in_words
from foldwright.cli.outcomes import LibraryOutcome
from foldwright.cli.program import library_mark
from foldwright.cli.records import UNLISTED, PartRecord, Record, as_bytes, standing, with_inset
from foldwright.cli.writing import RECORD, FileMark, lies_inside, mark_of, put_file
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Finding, Wrong
from foldwright.library.made_from import MadeFrom
from foldwright.outputs.new_folders import cannot_write
from foldwright.outputs.reading import read_text
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO, studio_of
from foldwright.recipe.facts.addresses import PAGE
from foldwright.surroundings import today

if TYPE_CHECKING:
    from foldwright.library.making import MadeLibrary

ROOT = ".foldwright-library"
STOCK = "stock.yaml"
_NOT_YET = FileMark(-1, 0, "")
"""The mark of a file that is about to be written."""


class RootRecord(Struct, frozen=True):
    """What is remembered of the library: what it was made of, its files, and by slug a digest of each page's inset."""

    made_of: str = ""
    inputs: tuple[Input, ...] = ()
    files: Mapping[str, FileMark] = field(default_factory=dict)
    insets: Mapping[str, str] = field(default_factory=dict)
    told: tuple[Told, ...] = ()
    """What is the matter with the recipes together."""
    program: str = ""
    """What made it, and `made_from` what: thus what stands and would come out the same is not made anew."""
    made_from: MadeFrom = MadeFrom()


class Library(Struct, frozen=True):
    """The library that is being built: of which folder of recipes, to which folder, in which look (empty: its own)."""

    recipes: Path
    out: Path
    theme: str

    def lay(self, records: Mapping[str, Record], sources: Mapping[str, Source]) -> LibraryOutcome:
        """Bring everything round the recipes up to date.

        `records` are theirs by slug, in order; `sources` the recipes by what findings call them.
        """
        old = read_root(self.out)
        made_of = self._made_of(records.values())
        if old.made_of == made_of and self._stands(old, records):
            return LibraryOutcome(told=old.told, stands=True)
        went_in = WentIn(self.recipes)
        made = self._made(list(records.values()), went_in, self._before(old, records))
        if isinstance(made, Wrong):
            return LibraryOutcome((made,))
        if wrong := tuple(in_the_way(self.out, {*made.files, *made.same_files}, old, records)):
            return LibraryOutcome(wrong)
        stock, amiss = self._said(STOCK, went_in)
        told = in_words((*amiss, *made.findings), sources, {STOCK: stock} if stock else {})
        try:
            marks = _written(self.out, made, old)
            said = {**made.insets, **dict.fromkeys(made.unlisted, UNLISTED)}
            insets = {
                slug: record.inset if slug in made.same_insets else said.get(slug, "")
                for slug, record in records.items()
            }
            for slug, record in records.items():
                _put_inset(self.out, slug, record, insets[slug])
            shorts = {slug: _short(inset) for slug, inset in insets.items()}
            root = RootRecord(made_of, went_in.all(), marks, shorts, told, library_mark(), made.made_from)
            _write_root(self.out, root)
        except OSError as trouble:
            return LibraryOutcome((cannot_write(Path(trouble.filename or self.out), trouble),), told)
        return LibraryOutcome(told=told)

    def _said(self, name: str, went_in: WentIn) -> tuple[str | None, tuple[Finding, ...]]:
        """The text of a file beside the recipes, if there is one, and why it cannot be read."""
        text, amiss = read_text(self.recipes, name, name, self.recipes, went_in.opened)
        return text, tuple(one for one in amiss if one.code != "file-missing")

    def _made_of(self, records: Iterable[Record]) -> str:
        mark = hashlib.blake2b(f"{library_mark()} {today()} {self.theme}".encode(), digest_size=16)
        for record in records:
            mark.update(bytes(record.entry))
        return mark.hexdigest()

    def _stands(self, old: RootRecord, records: Mapping[str, Record]) -> bool:
        """Whether all that was made stands, and every page has what it is to have about the others."""
        return (
            all(standing(self.out, name, mark) for name, mark in old.files.items())
            and all(old.insets.get(slug) == _short(record.inset) for slug, record in records.items())
            and AsBefore().inputs(old.inputs, os.path.abspath(self.recipes)) is not None
        )

    def _before(self, old: RootRecord, records: Mapping[str, Record]) -> MadeFrom:
        """The keys of those files and insets that stand as this same program made them."""
        if old.program != library_mark():
            return MadeFrom()
        keys = old.made_from
        stand = {name for name in keys.files if name in old.files and standing(self.out, name, old.files[name])}
        say = {slug for slug, record in records.items() if old.insets.get(slug) == _short(record.inset)}
        return replace(
            keys,
            files={name: key for name, key in keys.files.items() if name in stand},
            insets={slug: key for slug, key in keys.insets.items() if slug in say},
        )

    def _made(self, records: Sequence[Record], went_in: WentIn, before: MadeFrom) -> MadeLibrary | Wrong:
        from foldwright.library.making import LibraryWish, make_library
        from foldwright.outputs.compiling import theme_of
        from foldwright.outputs.entry import Entry
        from foldwright.recipe.model import Studio
        from foldwright.render.themes import ThemeError, built_in_themes

        folder = went_in.opened(self.recipes, self.recipes)
        text, _ = self._said(STUDIO, went_in)
        studio = studio_of(text)[0] if text is not None else Studio()
        look, _ = theme_of(studio, self.theme, ("tutorial",), folder)
        if self.theme:
            went_in.note_look(self.theme)
        looks = {"": look} | {name: name for name in built_in_themes()}
        entries = []
        for record in records:
            if entry := json.decode(record.entry, type=Entry | None):
                if entry.theme not in looks:
                    looks[entry.theme] = folder.theme(entry.theme) or entry.theme
                entries.append(replace(entry, theme=looks[entry.theme]))
        try:
            stock, _ = self._said(STOCK, went_in)
            return make_library(entries, LibraryWish(studio, look, today(), stock), before)
        except ThemeError as trouble:
            return Wrong.of("theme-odd", why=catalogue().say(f"{trouble.code}.says", **trouble.facts))


def read_root(out: Path) -> RootRecord:
    """What is remembered of the library in a folder; nothing where there is none."""
    try:
        return json.decode((out / ROOT).read_bytes(), type=RootRecord)
    except (OSError, DecodeError):
        return RootRecord()


def in_the_way(out: Path, files: Iterable[str], old: RootRecord, slugs: Mapping[str, object]) -> Iterator[Wrong]:
    """What keeps files of a library from being written: files of somebody else's, and recipes of the same name."""
    for name in files:
        top = name.partition("/")[0]
        if top in slugs:
            yield Wrong.of("library-same-name", slug=top, file=name)
        elif name not in old.files and os.path.lexists(out / name):
            yield Wrong.of("library-not-ours", path=str(out / name))


def make_room(out: Path, slugs: Mapping[str, object]) -> tuple[Wrong, ...]:
    """Before recipes are written: say what is in the way of the files that every library has, and take away what it
    had where recipes are going to have their folders, such as the address of an old name that is in use again."""
    from foldwright.library.making import LibraryWish, make_library
    from foldwright.recipe.model import Studio
    from foldwright.render.themes import DEFAULT_THEME

    old = read_root(out)
    every = make_library((), LibraryWish(Studio(), DEFAULT_THEME, today()))
    if wrong := tuple(in_the_way(out, every.files, old, slugs)):
        return wrong
    going = [name for name in old.files if name.partition("/")[0] in slugs]
    if going:
        old = replace(old, made_of="", made_from=MadeFrom())
        _write_root(out, old)
        for name in going:
            _take(out, name)
        _write_root(out, replace(old, files={n: m for n, m in old.files.items() if n not in going}))
    return ()


def _written(out: Path, made: MadeLibrary, old: RootRecord) -> dict[str, FileMark]:
    """Write the files that are not there as they should be, take away those that were, and give the marks of all."""
    coming = {name: old.files.get(name, _NOT_YET) for name in made.files}
    _write_root(out, replace(old, made_of="", made_from=MadeFrom(), files={**old.files, **coming}))
    marks = {name: standing(out, name, old.files[name]) or old.files[name] for name in made.same_files}
    for name, data in made.files.items():
        there = standing(out, name, old.files[name]) if name in old.files else None
        if there is None or there.digest != digest_of_bytes(data):
            (out / name).parent.mkdir(parents=True, exist_ok=True)
            put_file(out, out / name, data)
            there = mark_of(out / name, data)
        marks[name] = there
    for name in old.files:
        if name not in marks:
            _take(out, name)
    return marks


def _take(out: Path, name: str) -> None:
    """Remove one of our files, and the folders that are empty then."""
    if not lies_inside(name):
        return
    (out / name).unlink(missing_ok=True)
    for folder in (out / name).relative_to(out).parents:
        if folder.parts and (out / folder).is_dir() and not os.listdir(out / folder):
            (out / folder).rmdir()


def _put_inset(out: Path, slug: str, record: Record, inset: str) -> None:
    """Have a page say this of the others; its folder's record with it."""
    if record.inset == inset:
        return
    folder = out / slug
    parts = dict(record.parts)
    for output, part in parts.items():
        if PAGE in part.files:
            page = with_inset((folder / PAGE).read_bytes(), inset)
            put_file(out, folder / PAGE, page)
            parts[output] = PartRecord(part.key, {**part.files, PAGE: mark_of(folder / PAGE, page)}, part.notes)
    put_file(out, folder / RECORD, as_bytes(replace(record, parts=parts, inset=inset)))


def _write_root(out: Path, root: RootRecord) -> None:
    put_file(out, out / ROOT, json.encode(root))


def _short(inset: str) -> str:
    return digest_of_bytes(inset.encode())
