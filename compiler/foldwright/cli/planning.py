"""What a call of `build` comes to: which recipes, what each folder is made by, and which of them still hold."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, json
from msgspec.structs import asdict, replace

from foldwright.cli.calls import BuildCall
from foldwright.cli.inputs import AsBefore, digest_of_bytes
from foldwright.cli.program import program_mark
from foldwright.cli.records import MadeBy, Record, as_bytes, read_record, unchanged
from foldwright.cli.writing import RECORD, open_output, put_file
from foldwright.finding import Wrong
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.reading import Sizes, in_sizes, read_sizes
from foldwright.outputs.sources import Source, find_sources, twice
from foldwright.outputs.texts import RECIPE

if TYPE_CHECKING:
    from foldwright.outputs.model import BuildWish


class BuildPlan(Struct, frozen=True):
    """What a call comes to: the recipes, what each folder is made by, and the records of those that still hold.

    `library` is the folder of recipes a library is made of. Without a `wish` nothing has to be compiled. `on` is the
    address of a scheduler whose workers compile.
    """

    sources: tuple[Source, ...]
    out: Path
    by: Mapping[str, MadeBy]
    standing: Mapping[str, Record]
    wish: BuildWish | None = None
    library: Path | None = None
    jobs: int = 0
    on: str = ""

    @property
    def fresh(self) -> list[Source]:
        """The recipes that have to be compiled."""
        return [source for source in self.sources if source.slug not in self.standing]


def planned(call: BuildCall) -> BuildPlan | tuple[Wrong, ...]:
    """What the call comes to, or all that is wrong with it; then nothing was written."""
    out, library = Path(call.out), _library_of(call)
    asked = _asked(call, library is not None)
    sources, wrong = find_sources(map(Path, call.paths))
    known = _Known(out, asked)
    sources, unknown = in_sizes(sources, call.size, sizes_of=known.sizes)
    wrong += (*unknown, *twice(sources))
    standing = {source.slug: record for source in sources if (record := known.of(source))}
    wish = None
    if wrong or len(standing) < len(sources):
        # What was built with these options before need not be looked at again: they are good ones.
        wish = wish_of_call(call, library is not None)
    if isinstance(wish, Wrong):
        wrong += (wish,)
        wish = None
    if call.jobs and not (call.jobs.isdecimal() and int(call.jobs)):
        wrong += (Wrong.of("jobs-odd", jobs=call.jobs),)
    if call.on:
        from foldwright.cli.cluster import address_wrong

        wrong += address_wrong(call.on)
    if not wrong and (trouble := open_output(out, sources)):
        wrong += (trouble,)
    if not wrong and library and wish:
        from foldwright.cli.library_files import make_room

        wrong += make_room(out, {source.slug: source for source in sources})
    if wrong:
        return wrong
    by = {source.slug: known.made_by(source) for source in sources}
    return BuildPlan(sources, out, by, standing, wish, library, int(call.jobs or 0), call.on)


def _library_of(call: BuildCall) -> Path | None:
    """The folder of recipes that a library is made of: the only one named, and no recipe's own."""
    folder = Path(call.paths[0])
    one = len(call.paths) == 1 and folder.is_dir() and not os.path.lexists(folder / RECIPE)
    return folder if one and not call.no_library else None


def _asked(call: BuildCall, in_library: bool) -> str:
    """A digest of the options that say what is made, and how."""
    names = set(BuildOptions.__struct_fields__) - {"size"}
    options = {name: value for name, value in asdict(call).items() if name in names}
    return digest_of_bytes(json.encode((in_library, options), order="sorted"))


def wish_of_call(call: BuildCall, in_library: bool) -> BuildWish | Wrong:
    """What is wished for, or what is wrong with it."""
    from foldwright.outputs.wishes import wish_of

    wish = wish_of(call)
    return wish if isinstance(wish, Wrong) else replace(wish, in_library=in_library)


class _Known:
    """The records of a folder of output that still hold, each looked at once.

    Paths are texts here, and what many of them share is worked out once: a library asks for thousands.
    """

    def __init__(self, out: Path, asked: str) -> None:
        self._out = out
        program, out_path = program_mark(), os.path.abspath(out)
        self._absolute = cache(os.path.abspath)
        self._by = cache(lambda home, size: MadeBy(program, asked, home and os.path.relpath(home, out_path), size))
        self._before = AsBefore()
        self._found: dict[tuple[str, str], Record | None] = {}

    def sizes(self, source: Source) -> Sizes:
        """The sizes a recipe comes in, as they are remembered or else read."""
        record = self.of(source)
        return record.sizes if record else read_sizes(source)

    def made_by(self, source: Source) -> MadeBy:
        """What the folder of a recipe is made by now."""
        own = source.text == RECIPE
        return self._by(os.path.dirname(self._place(source)) if own else "", source.size)

    def _place(self, source: Source) -> str:
        """The whole path of its folder."""
        folder = str(source.folder)
        head, name = os.path.split(folder)
        # Of `.` and `..` only the whole path tells what they lie in.
        ordinary = head and name not in ("", ".", "..")
        return f"{self._absolute(head)}{os.sep}{name}" if ordinary else os.path.abspath(folder)

    def of(self, source: Source) -> Record | None:
        """The record of its folder, if it holds."""
        key = source.slug, str(source.folder)
        if key not in self._found:
            self._found[key] = self._of(source)
        return self._found[key]

    def _of(self, source: Source) -> Record | None:
        folder = f"{self._out}{os.sep}{source.slug}"
        record = read_record(folder)
        if record is None:
            return None
        now = unchanged(record, source, self._place(source), folder, self.made_by(source), self._before)
        if now is not None and now is not record:
            # So that next time a look at the files is enough. Where it cannot be written, they are read again.
            with suppress(OSError):
                put_file(self._out, Path(folder, RECORD), as_bytes(now))
        return now
