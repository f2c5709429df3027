"""A whole event made: from what was read of it to the files of its folder and all that is to be told of them.

`read_event` says what there is to plan from; `make_event` plans it, puts it into words and has it set. Neither opens a
file nor speaks to a terminal, so that whoever has the texts may call them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document
from foldwright.document.spelling import language_of
from foldwright.event.document.beforehand import at_the_event
from foldwright.event.document.cutting import known_of, traded_words
from foldwright.event.document.cutting_data import cuttings_in
from foldwright.event.document.day import Moment, run_of_day
from foldwright.event.document.model import EventDocument, Occasion
from foldwright.event.document.papers import compose_event, occasion_of
from foldwright.event.document.writing import EventSource, LengthWriter, called, currency_of, missing_words
from foldwright.event.facts.guests import chosen
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.plan.shelf import sheets_unfit
from foldwright.event.reading import EventNote, ReadEvent, say, told_of_shelf
from foldwright.event.render.grids import LabelGrid, Overhang
from foldwright.event.setting import EventFiles, Look, PaperHands, Stage, label_grid, set_event, unfit_theme
from foldwright.event.wishes import KitWish
from foldwright.finding import Wrong
from foldwright.measure.length import System
from foldwright.pipeline import compose_document
from foldwright.render.paper.papers import Paper, default_paper
from foldwright.render.paper.placing import Told
from foldwright.render.photos import prepare_photos
from foldwright.render.themes import DEFAULT_THEME, built_in_themes


class MadeEvent(Struct, frozen=True):
    """`files` by name, none where they cannot be made: `wrong` or `complaints` say why. `remarks` are of the files.

    `lacking`: something is missing or does not fit, so that the folder is not all it should be.
    """

    files: Mapping[str, bytes]
    complaints: tuple[EventNote, ...] = ()
    remarks: tuple[str, ...] = ()
    wrong: tuple[Wrong, ...] = ()
    lacking: bool = False


class ToldEvent(Struct, frozen=True):
    """A planned event in words, with nothing set yet: what its papers say, and all that is told of the plan."""

    event: Event
    said: EventDocument
    run: tuple[Moment, ...]
    complaints: tuple[EventNote, ...]
    remarks: tuple[str, ...]
    wrong: tuple[Wrong, ...]


def silent(_done: int, _all: int) -> None:
    """For who does not want to know how far the work is."""


def make_event(
    read: ReadEvent, wish: KitWish, before: bytes | None, hands: PaperHands, stage: Stage = lambda _name: silent
) -> MadeEvent:
    """Plan it, and set its papers. `before` is the `kit.json` of an earlier run, whose cutting stays where it is best.

    `hands` set papers while others are made; `stage` gives whoever is to hear how far the work of that name is.
    """
    theme = _theme(read, wish)
    unfit = hands.ask(unfit_theme, theme)
    plan = _planned(read, wish, before, stage("cutting"))
    event, complaints, labels, paper = plan.event, plan.complaints, plan.labels, plan.paper
    if wrong := unfit():
        return MadeEvent({}, complaints, wrong=(wrong,))
    if isinstance(labels, Overhang):
        return MadeEvent({}, complaints, wrong=(_no_room(labels, wish, plan),))
    look = Look(paper, labels, theme, wish.options.name_line)
    photos = [prepare_photos(one.recipe, one.given.surroundings.read)[0] for one in read.recipes]
    made = set_event(event, plan.documents, photos, look, plan.occasion, hands, stage)
    if made.no_letters:
        return MadeEvent({}, (*complaints, *no_letters_remarks(made.no_letters)))
    remarks = event_remarks(event, made, labels if wish.labels and wish.labels.die_cut else None)
    lacking = event.missing or any(line.lacks for line in event.shopping) or made.lacking or read.slips
    return MadeEvent(made.files, complaints, tuple(remarks), lacking=bool(lacking))


def tell_event(read: ReadEvent, wish: KitWish) -> ToldEvent:
    """Plan it and put it into words: what papers will say, before any is set."""
    plan = _planned(read, wish, None, silent)
    said = compose_event(plan.event, plan.documents, plan.occasion)
    run = run_of_day(EventSource(plan.event, plan.documents, catalogue(said.language)))
    remarks = tuple(event_remarks(plan.event, EventFiles({}), None))
    wrong = (_no_room(plan.labels, wish, plan),) if isinstance(plan.labels, Overhang) else ()
    return ToldEvent(plan.event, said, run, plan.complaints, remarks, wrong)


class _Plan(Struct, frozen=True):
    """An event planned, and what its papers are made of."""

    event: Event
    complaints: tuple[EventNote, ...]
    occasion: Occasion
    documents: Sequence[Document]
    paper: Paper
    labels: LabelGrid | Overhang


def _planned(read: ReadEvent, wish: KitWish, before: bytes | None, told: Told) -> _Plan:
    event = plan_read(read, wish, before, told)
    complaints = tuple(told_of_shelf(sheets_unfit(event.sheets), [one.recipe for one in read.recipes], read.stock))
    words = catalogue(language_of(read.recipes[0].recipe.studio, event.wishes.system))
    occasion = occasion_of(wish.called, wish.on, wish.at, words)
    documents = _documents(event, read, occasion, words)
    paper = wish.paper or default_paper(event.wishes.system, documents[0].papers)
    return _Plan(event, complaints, occasion, documents, paper, label_grid(wish.labels, event.wishes.system, paper))


def _no_room(over: Overhang, wish: KitWish, plan: _Plan) -> Wrong:
    return no_room(over, wish.options.labels, plan.paper, plan.event.wishes.system)


def plan_read(read: ReadEvent, wish: KitWish, before: bytes | None = None, told: Told = silent) -> Event:
    """The plan alone, with nothing in words and nothing set; arguments as those of `make_event`."""
    currency, digits = currency_of(read.money)
    system = wish.system or read.recipes[0].recipe.system
    wishes = replace(wish.plan, system=system, money=currency, digits=digits)
    known = {} if before is None else cuttings_in(before.decode("utf-8", "replace"))
    return plan_event(read.makings, wishes, read.shelf, known, read.guests, told)


def _documents(event: Event, read: ReadEvent, occasion: Occasion, words: Catalogue) -> list[Document]:
    """The recipes' documents at the event, where what is cut beforehand is not told again."""
    documents = []
    for one, making, done in zip(read.recipes, event.makings, event.beforehand, strict=True):
        whole = compose_document(one.understood, one.findings, one.texts.by_name, event.wishes.system)
        documents.append(at_the_event(whole, making.understood, done, occasion.line, words))
    return documents


def _theme(read: ReadEvent, wish: KitWish) -> str:
    """The look that was asked for, else the studio's own if it is one of ours."""
    said = read.recipes[0].recipe.studio.theme
    return wish.options.theme or (said.value if said and said.value in built_in_themes() else DEFAULT_THEME)


_MOST_NAMED = 10


def event_remarks(event: Event, made: EventFiles, sheet: LabelGrid | None) -> Iterator[str]:
    """Everything, in the order in which it is told. `sheet` is the sheet of labels where it was said by measure."""
    yield from _of_papers(made)
    yield from _of_supplies(event)
    if event.costs.not_counted:
        yield say("not-counted", names=tuple(dict.fromkeys(event.costs.not_counted)))
    if sheet:
        yield _label_sheet(sheet, event.wishes.system)
    yield from _of_guests(event)


def _of_papers(made: EventFiles) -> Iterator[str]:
    yield from (say(key, names=titles) for key, titles in made.titles.items())
    if made.borrowed:
        yield say("borrowed", fonts=made.borrowed)
    for label in made.small_labels:
        key = "small-label" if label.least else "no-label"
        yield say(key, titles=label.titles, asked=label.asked, least=label.least)


def _of_supplies(event: Event) -> Iterator[str]:
    words = catalogue()
    for plan in event.sheets:
        supply, known = called(plan.supply, plan.colour, words), known_of(plan) or "none-known"
        sheets = words.say("event.cutting.needs", count=plan.bought)
        yield say(f"sheets-{known}", supply=supply, sheets=sheets, bound=plan.bound, **traded_words(plan, words))
    for line in event.shopping:
        if line.counted:
            yield say("counted", supply=called(line.supply.name.value, line.colour, words))
    yield from missing_words(event, words)


def _of_guests(event: Event) -> Iterator[str]:
    """What does not agree between the list and the kits that were asked for."""
    counts = chosen(event.guests, len(event.makings))
    if len(event.makings) > 1 and any(counts):
        for making, count in zip(event.makings, counts, strict=True):
            if count != making.kits:
                yield say("chosen-differ", count=count, title=making.title, kits=making.kits)
    elif event.guests and len(event.guests) != event.people:
        yield say("names-differ", names=len(event.guests), people=event.people)


# --- labels and letters -----------------------------------------------------------------------------------------------


def no_room(over: Overhang, said: str, paper: Paper, system: System) -> Wrong:
    """The sum that does not come out, as people would write it."""
    lengths = LengthWriter(system, catalogue())
    parts = [say("sum-labels", count=over.count, each=lengths.length(over.size))]
    if over.margin:
        parts.insert(0, say("sum-margin", margin=lengths.length(over.margin)))
    if over.gap and over.count > 1:
        parts.append(say("sum-gaps", count=over.count - 1, each=lengths.length(over.gap)))
    return Wrong.of(
        "kit-labels-across" if over.across else "kit-labels-down",
        said=said,
        sum=" + ".join(parts),
        total=lengths.length(over.total),
        paper=paper.name,
        extent=lengths.length(over.extent),
    )


def _label_sheet(grid: LabelGrid, system: System) -> str:
    """What was understood of a sheet by measure, with what is left at its other edges."""
    lengths = LengthWriter(system, catalogue())
    columns, rows = grid.columns, grid.rows
    return say(
        "label-sheet",
        paper=grid.paper.name,
        across=len(columns.starts),
        down=len(rows.starts),
        size=lengths.size(columns.size, rows.size),
        top=lengths.length(rows.starts[0]),
        left=lengths.length(columns.starts[0]),
        right=lengths.length(grid.paper.width_mm - columns.starts[-1] - columns.size),
        foot=lengths.length(grid.paper.height_mm - rows.starts[-1] - rows.size),
    )


def no_letters_remarks(texts: Mapping[str, str]) -> Iterator[str]:
    """Which texts no font on this machine can set, and in what script their letters are."""
    for text, letters in islice(texts.items(), _MOST_NAMED):
        yield say("no-letters", text=text, letters=" ".join(letters))
    if len(texts) > _MOST_NAMED:
        yield say("no-letters-more", count=len(texts) - _MOST_NAMED)
    missing = dict.fromkeys(letter for letters in texts.values() for letter in letters)
    # Letters and the marks that go on them; all else are signs.
    scripts = tuple(dict.fromkeys(_script(one) for one in missing if unicodedata.category(one)[0] in "LM"))
    signs = tuple(one for one in missing if unicodedata.category(one)[0] not in "LM")
    remedies = [say("install-letters", scripts=scripts)] if scripts else []
    remedies += [say("leave-signs", signs=signs)] if signs else []
    yield say("nothing-written", remedies=" ".join(remedies))


def _script(letter: str) -> str:
    """`Devanagari`, `CJK`: how the names of its characters begin (Unicode, Chapter 4.8), as good as any."""
    name = unicodedata.name(letter, f"U+{ord(letter):04X}").split()[0].split("-")[0]
    return name if name == "CJK" else name.title()
