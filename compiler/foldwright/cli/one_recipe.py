"""One recipe compiled and written: what must be made is made, what still stands stays, and it is remembered."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from msgspec import Raw, Struct, field, json

from foldwright.cli.inputs import NotedFolder, WentIn
from foldwright.cli.outcomes import Became, Outcome
from foldwright.cli.records import (
    DRAFT,
    MadeBy,
    PartRecord,
    Record,
    State,
    as_bytes,
    as_they_stand,
    read_record,
    with_inset,
)
from foldwright.cli.writing import FileMark, swap_in
from foldwright.document.findings import Told, tell
from foldwright.outputs.compiling import MadeRecipe, compile_recipe
from foldwright.outputs.model import Before, BuildWish
from foldwright.outputs.paper_notes import tell_note
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import Texts
from foldwright.recipe.facts.addresses import PAGE


class _Laid(Struct, frozen=True):
    """What is to stand in a recipe's folder: files to write, outputs that stay, those of a draft beside good pages."""

    made: MadeRecipe
    files: Mapping[str, bytes]
    stays: Mapping[str, PartRecord] = field(default_factory=dict)
    kept: bool = False


class Begun(Struct, frozen=True):
    """A recipe that was read and is to be compiled: its texts, its world, and what stands of it from a build before."""

    source: Source
    by: MadeBy
    wish: BuildWish
    out: Path
    went_in: WentIn
    texts: Texts
    old: Record | None
    there: Mapping[str, PartRecord]

    @property
    def world(self) -> NotedFolder:
        """What may be read while it is compiled; what is read is noted."""
        own = self.source.surroundings
        return self.went_in.opened(own.root, own.themes)

    @property
    def before(self) -> Before:
        """The outputs whose files still stand as they were made."""
        return Before(self.by.program, {name: part.key for name, part in self.there.items() if part.key})


def build_one(source: Source, by: MadeBy, wish: BuildWish, out: Path) -> Outcome:
    """Read one recipe, make what has to be made, swap it in. Runs in a process of its own when there are many."""
    begun = begin(source, by, wish, out)
    return finish(begun, compile_recipe(begun.texts, wish, begun.world, source.size, begun.before))


def begin(source: Source, by: MadeBy, wish: BuildWish, out: Path) -> Begun:
    """Read a recipe's texts, and see what stands of it."""
    went_in = WentIn(source.folder)
    texts = read_texts(source, went_in.opened)
    folder = out / source.slug
    old = read_record(folder)
    return Begun(source, by, wish, out, went_in, texts, old, as_they_stand(old, folder) if old else {})


def finish(begun: Begun, made: MadeRecipe) -> Outcome:
    """Swap in what was made, and remember it."""
    source, old = begun.source, begun.old
    told = tuple(tell(finding, begun.texts.by_name) for finding in made.findings)
    laid = _laid(made, old, begun.there)
    if not laid.files and not laid.stays:
        return Outcome(source, Became.NOTHING, told)
    inset = old.inset if old and begun.wish.in_library else ""
    files = {name: with_inset(data, inset) if name == PAGE else data for name, data in laid.files.items()}
    stays = [name for part in laid.stays.values() for name in part.files]
    sealed: list[Record] = []

    def seal(marks: Mapping[str, FileMark]) -> bytes:
        sealed.append(_record(laid, begun.by, begun.went_in, told, marks, old, inset))
        return as_bytes(sealed[0])

    if trouble := swap_in(begun.out, source.slug, files, stays, seal):
        return Outcome(source, Became.NOTHING, told, trouble=trouble)
    notes = tuple(tell_note(note) for note in made.notes)
    became = Became.KEPT if laid.kept else Became.MADE
    gone = _gone(begun, {*files, *stays})
    return Outcome(source, became, told, tuple(sorted(files)), len(stays), gone, record=sealed[0], notes=notes)


def _gone(begun: Begun, left: Collection[str]) -> tuple[str, ...]:
    """What stood there of a build with other options, and is not among what is left."""
    if begun.old is None or begun.old.made_by.asked == begun.by.asked:
        return ()
    return tuple(sorted(name for part in begun.there.values() for name in part.files if name not in left))


def _laid(made: MadeRecipe, old: Record | None, there: Mapping[str, PartRecord]) -> _Laid:
    """What is to stand in the folder. Good pages are kept when there is an error, the draft laid beside them."""
    if made.faulty and made.files and old and old.state != "draft":
        kept = {name for part in there.values() for name in part.files}
        page = made.parts[PAGE.partition(".")[0]].files if PAGE in made.files else ()
        beside = {
            DRAFT if name == PAGE else name: made.files[name] for name in page if name == PAGE or name not in kept
        }
        return _Laid(made, beside, there, kept=True)
    return _Laid(made, made.files, {name: there[name] for name, part in made.parts.items() if part.stays})


def _record(
    laid: _Laid,
    by: MadeBy,
    went_in: WentIn,
    told: tuple[Told, ...],
    marks: Mapping[str, FileMark],
    old: Record | None,
    inset: str,
) -> Record:
    """What is remembered; of kept pages the entry stays the one they have."""
    made = laid.made
    if laid.kept and old:
        parts, beside, entry = laid.stays, marks, old.entry
    else:
        parts, beside = {name: _part(name, laid, marks) for name in made.parts}, {}
        entry = Raw(json.encode(made.entry))
    state: State = "kept" if laid.kept else "draft" if made.faulty else "good"
    return Record(by, state, went_in.all(), parts, told, made.sizes, entry, inset, beside)


def _part(name: str, laid: _Laid, marks: Mapping[str, FileMark]) -> PartRecord:
    if name in laid.stays:
        return laid.stays[name]
    part = laid.made.parts[name]
    notes = tuple(tell_note(note) for note in part.notes)
    return PartRecord(part.key, {file: marks[file] for file in part.files}, notes)
