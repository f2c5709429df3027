"""What a process beside the server does for an event: plans it and tells of it, or makes its whole folder.

Recipes are read from the disk each time: the text that is being written, where there is a draft of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.desk.planning.form import GUESTS_FILE, STOCK_FILE, Typed, complaint_of, in_fields, options_of
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.event.document.day import Moment
from foldwright.event.document.model import For
from foldwright.event.making import make_event, tell_event
from foldwright.event.reading import (
    EventNote,
    FoundInText,
    GivenRecipe,
    ListFile,
    ReadEvent,
    read_event,
    read_recipes,
    say,
)
from foldwright.event.render.papers import paper_insides
from foldwright.event.wishes import GUESTS, MOST_KITS, KitWish, read_wish
from foldwright.finding import Strength, Wrong
from foldwright.outputs.reading import in_size, read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import DRAFT, RECIPE, STUDIO, Texts, texts_of
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder


class EventAsked(Struct, frozen=True):
    """An event as it is asked for: its recipes, and what stands in each field."""

    recipes: tuple[Source, ...]
    typed: Typed


class Said(Struct, frozen=True):
    """Something told: at a field, or of the whole where that is empty. `wrong` keeps the event from being planned."""

    field: str
    text: str
    wrong: bool = False


class PlannedPaper(Struct, frozen=True):
    """A paper as the page shows it. `own`: it has prices, which are nobody else's affair."""

    slug: str
    title: str
    summary: str
    own: bool
    html: str


class PlannedEvent(Struct, frozen=True):
    """The plan as the page shows it; without papers where there is none."""

    told: tuple[Said, ...]
    title: str = ""
    summary: str = ""
    papers: tuple[PlannedPaper, ...] = ()
    run: tuple[Moment, ...] = ()


class EventFolder(Struct, frozen=True):
    """The files of an event by name, none where they cannot be made; `told` says why, or what to know of them."""

    slug: str
    told: tuple[Said, ...]
    files: dict[str, bytes] = field(default_factory=dict)


def plan(asked: EventAsked) -> PlannedEvent:
    """The plan of an event, in words."""
    event, wish, said = _read(asked)
    if event is None or wish is None:
        return PlannedEvent(tuple(said))
    told = tell_event(event, wish)
    said += [*_notes((*told.complaints, *told.remarks)), *map(_wrong, told.wrong)]
    insides = paper_insides(told.said)
    papers = tuple(
        PlannedPaper(one.slug, one.title, one.summary, one.whose is For.STUDIO, insides[one.slug])
        for one in told.said.papers
    )
    return PlannedEvent(tuple(said), told.said.title, told.said.summary, papers, told.run)


def make(asked: EventAsked) -> EventFolder:
    """The folder of an event, as the command writes it."""
    event, wish, said = _read(asked)
    if event is None or wish is None:
        return EventFolder("", tuple(said))
    made = make_event(event, wish, None, _OwnHands())
    said += [*_notes((*made.complaints, *made.remarks)), *map(_wrong, made.wrong)]
    return EventFolder(event.slug, tuple(dict.fromkeys(said)), dict(made.files))


class _OwnHands:
    """Sets a paper when it is waited for: this process is beside the server already."""

    def ask[**P, T](self, work: Callable[P, T], *facts: P.args, **more: P.kwargs) -> Callable[[], T]:
        return lambda: work(*facts, **more)


# --- reading ----------------------------------------------------------------------------------------------------------


def _read(asked: EventAsked) -> tuple[ReadEvent | None, KitWish | None, list[Said]]:
    """The event, and what is told of what was typed and of the recipes."""
    kits, said = _kits(asked)
    wish = read_wish(options_of(asked.typed, kits), len(asked.recipes))
    if isinstance(wish, tuple):
        told = [_wrong(one) for one in wish]
        # How many kits is told at the field of its recipe.
        return None, None, said + [one for one in told if one.field != "for"]
    if said:
        return None, None, said
    given = [_given(one, asked) for one in asked.recipes]
    recipes, notes = read_recipes(given)
    said += _notes(notes)
    if not recipes:
        return None, None, said
    reading = read_event(recipes, _list("stock", STOCK_FILE, asked), _list("names", GUESTS_FILE, asked), wish)
    said += [*_notes(reading.told), *map(_wrong, reading.wrong)]
    return reading.event, wish, said


def _kits(asked: EventAsked) -> tuple[str, list[Said]]:
    """How many of each recipe as the option has it, and what is wrong with the numbers, each at its field. Where there
    is a list of guests and no number, it is theirs to say."""
    typed = {f"for-{one.slug}": asked.typed.get(f"for-{one.slug}", "").strip() for one in asked.recipes}
    if asked.typed.get("names", "").strip() and not any(typed.values()):
        return GUESTS, []
    numbers, said = [], []
    for name, text in typed.items():
        wish = read_wish(options_of({}, text), 1) if text else (Wrong.of("kit-for", said="", most=MOST_KITS),)
        if isinstance(wish, tuple):
            said += [replace(_wrong(one), field=name) for one in wish]
        else:
            numbers += [str(kits) for kits in wish.kits]
    return ",".join(numbers), said


def _given(source: Source, asked: EventAsked) -> GivenRecipe:
    size = asked.typed.get(f"size-{source.slug}", "")
    texts = _texts(in_size(source, size) if size else source)
    return GivenRecipe(texts, source.surroundings, source.path, source.slug, size)


def _texts(source: Source) -> Texts:
    """The draft where there is one."""
    texts = read_texts(source)
    draft = draft_of(source)
    if draft is None:
        return texts
    return texts_of(source.slug, draft, texts.by_name.get(STUDIO), source.name)


def draft_of(source: Source) -> str | None:
    """The text that is being written, if it is another than that of the recipe."""
    if source.text != RECIPE:
        return None
    draft, recipe = (source.surroundings.read(file, MOST_BYTES) for file in (DRAFT, RECIPE))
    if not isinstance(draft, bytes):
        return None
    text = decode(draft, source.name)[0]
    return None if isinstance(recipe, bytes) and text == decode(recipe, source.name)[0] else text


def _list(name: str, file: str, asked: EventAsked) -> ListFile | None:
    text = asked.typed.get(name, "")
    return ListFile(file, text.encode()) if text.strip() else None


# --- telling ----------------------------------------------------------------------------------------------------------


def _wrong(wrong: Wrong) -> Said:
    return Said(*complaint_of(wrong), wrong=True)


def _notes(notes: Sequence[EventNote]) -> Iterator[Said]:
    for note in notes:
        if isinstance(note, FoundInText):
            yield from _findings(note)
        elif note != say("not-planned"):
            yield Said("", in_fields(note))


def _findings(found: FoundInText) -> Iterator[Said]:
    """Each at the field in which its text was typed, with its line there; those of a recipe with its name."""
    words = catalogue()
    for finding in found.findings:
        told = tell(finding, found.texts)
        name = {STOCK_FILE: "stock", GUESTS_FILE: "names"}.get(told.file, "")
        says = " ".join(filter(None, (told.says, told.understood, told.remedy)))
        if told.line and name:
            says = words.say("desk-plan.at-line", line=told.line, says=says)
        elif told.where:
            says = words.say("desk-plan.at", where=told.where, says=says)
        yield Said(name, says, finding.strength is Strength.FAULT)


def stock_in(folder: Path) -> str:
    """The studio's own list, if it lies among the recipes and can be read."""
    data = Folder(folder).read(STOCK_FILE, MOST_BYTES)
    return (decode(data, STOCK_FILE)[0] or "") if isinstance(data, bytes) else ""
