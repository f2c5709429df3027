"""`foldwright kit`: one folder for an event, from recipes and how many of each."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from foldwright.cli.calls import KitCall
from foldwright.cli.progress import ProgressLine
from foldwright.cli.telling import Teller
from foldwright.cli.workers import Hands
from foldwright.cli.writing import open_output, swap_in
from foldwright.event.facts.guests import MOST_GUEST_BYTES
from foldwright.event.making import make_event
from foldwright.event.reading import EventNote, FoundInText, GivenRecipe, ListFile, ReadEvent, read_event, read_recipes
from foldwright.event.wishes import KitWish, read_wish
from foldwright.outputs.reading import AS_WRITTEN, in_sizes, read_texts
from foldwright.outputs.sources import find_sources, twice
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.surroundings import Folder, Refusal

MOST_DATA = 64 * 1024 * 1024
"""Bytes of a `kit.json`: ten thousand kits give some hundred thousand."""


def kit(call: KitCall) -> int:
    """Plan an event and write its folder; the exit status."""
    complaints, out = Teller("stderr"), Path(call.out)
    found, wrong = find_sources([Path(path) for path in call.paths])
    sources, unknown = in_sizes(found, call.size, AS_WRITTEN)
    wrong += (*unknown, *twice(sources))
    wish = read_wish(call, len(sources))
    if isinstance(wish, tuple) and sources:
        wrong += wish
    if not wrong and (trouble := open_output(out, sources)):
        wrong += (trouble,)
    if wrong or isinstance(wish, tuple):
        return complaints.refuse(wrong)
    folders = {source.path: source.slug for source in found}
    given = (GivenRecipe(read_texts(one), one.surroundings, one.path, folders[one.path], one.size) for one in sources)
    recipes, told = read_recipes(given)
    _tell(complaints, told)
    if not recipes:
        return 1
    with Hands() as hands:
        guests = _list_file(call.names, MOST_GUEST_BYTES)
        reading = read_event(recipes, _list_file(call.stock, MOST_BYTES), guests, wish)
        _tell(complaints, reading.told)
        if reading.wrong:
            return complaints.refuse(reading.wrong)
        return _made(reading.event, wish, out, complaints, hands) if reading.event else 1


def _made(event: ReadEvent, wish: KitWish, out: Path, complaints: Teller, hands: Hands) -> int:
    """Have the event made, write it and tell of it; the exit status."""
    progress, folder = ProgressLine(), out / event.slug
    before = None if wish.options.anew else Folder(folder).read("kit.json", MOST_DATA)
    made = make_event(event, wish, before if isinstance(before, bytes) else None, hands, progress.stage)
    progress.wipe()
    _tell(complaints, made.complaints)
    if made.wrong:
        return complaints.refuse(made.wrong)
    if not made.files:
        return 1
    if trouble := swap_in(out, event.slug, made.files):
        return complaints.refuse((trouble,))
    teller = Teller()
    teller.words("build.wrote", folder=str(folder), names=", ".join(sorted(made.files)))
    _tell(teller, made.remarks)
    # What will not fit is planned all the same, and was told; as `check` and `build` do, the command ends with 1.
    return int(made.lacking or event.misfit)


def _tell(teller: Teller, told: Iterable[EventNote]) -> None:
    for one in told:
        if isinstance(one, FoundInText):
            teller.findings(one.findings, one.texts, one.shown)
        else:
            teller.text(one)


def _list_file(path: str, most: int) -> ListFile | None:
    """A file beside the recipes; None where none is named. One that is too large is read as far as it says so."""
    if not path:
        return None
    data = Folder(Path(path).parent).read(Path(path).name, most)
    if data is Refusal.TOO_LARGE and most == MOST_GUEST_BYTES:
        data = bytes(most + 1)
    return ListFile(path, None if isinstance(data, Refusal) else data)
