"""The files of an event's folder: papers, handouts, labels, place cards, the page, the list to shop by, the data."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Protocol

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document
from foldwright.event.document.data import event_json
from foldwright.event.document.diary import diary_of
from foldwright.event.document.guests import place_cards_of
from foldwright.event.document.model import EventDocument, EventPaper, Occasion
from foldwright.event.document.papers import PrintedOn, Printout, compose_event, printing_paper
from foldwright.event.document.shopping import csv_rows
from foldwright.event.document.writing import EventSource, LengthWriter
from foldwright.event.facts.guests import Guest
from foldwright.event.plan.planning import Event
from foldwright.event.render.diary import diary_file
from foldwright.event.render.grids import LabelGrid, LabelSheet, Overhang, grid_of, plain_sheet
from foldwright.event.render.heroes import Hero, heroes_of
from foldwright.event.render.labels import (
    borrowed_fonts,
    labels_pdf,
    least_sizes,
    missing_letters,
    place_cards_pdf,
    specimen,
)
from foldwright.event.render.papers import PaperPdf, event_page, event_pdf
from foldwright.finding import Wrong
from foldwright.measure.length import System, Unit
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.handout import Handout, NoClass, handout
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.placing import Told
from foldwright.render.photos import ReadyPhoto
from foldwright.render.themes import ThemeError, load_page, load_paper_theme

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with, or a spreadsheet reckons instead of showing it (common advice)."""
_LABELS = {System.IMPERIAL: (4 * Unit.INCH.mm, 2 * Unit.INCH.mm), System.METRIC: (Fraction(95), Fraction(55))}
_LABEL_STEPS = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(1)}
"""A quarter of an inch and a millimetre: finer nobody buys labels."""
_CARDS = {System.IMPERIAL: (Unit.INCH.mm * 7 / 2, 4 * Unit.INCH.mm), System.METRIC: (Fraction(90), Fraction(110))}
"""Across and down in millimetres: labels of 4 x 2 in, place cards of 3 1/2 x 4 in that are folded in half."""

type Stage = Callable[[str], Told]
"""From the name of some work to whoever hears how much of it is done, and how much there is."""


class PaperHands(Protocol):
    """Who sets papers: beside this process or in it."""

    def ask[**P, T](self, work: Callable[P, T], *facts: P.args, **more: P.kwargs) -> Callable[[], T]:
        """Have something done; what comes back waits for it."""


class Look(Struct, frozen=True):
    """What the papers are set on and in which theme; whether labels have a line for a name."""

    paper: Paper
    labels: LabelGrid
    theme: str
    name_line: bool = False


class SmallLabel(Struct, frozen=True):
    """Labels that do not hold what whoever gets them must know, and the smallest sizes that hold them all, in words.

    `least` is empty where none on the paper does.
    """

    titles: tuple[str, ...]
    asked: str
    least: str


class EventFiles(Struct, frozen=True):
    """Files by name; labels that are too small; `titles` of what is to be told of, by what is told.

    `longer` are papers that were to be one page, `shortened` those that were made shorter for it; `no-handout` recipes
    of which no step is done in class, `unfit-handout` those whose handout does not go on the paper.
    Where there are texts with letters that no font has (`no_letters`), no file is made at all. `borrowed` are the fonts
    of this machine in which names are set that the bundled faces lack letters for.
    """

    files: Mapping[str, bytes]
    titles: Mapping[str, tuple[str, ...]] = {}
    small_labels: tuple[SmallLabel, ...] = ()
    no_letters: Mapping[str, str] = {}
    borrowed: tuple[str, ...] = ()

    @property
    def lacking(self) -> bool:
        """Whether something is not as it should be."""
        return bool(self.small_labels or self.titles.keys() & {"unfit-handout", "longer"})


def label_grid(sheet: LabelSheet | None, system: System, paper: Paper) -> LabelGrid | Overhang:
    """The places of the bag labels; those of the usual size where nobody said one."""
    return grid_of(paper, sheet or plain_sheet(*_LABELS[system]))


def unfit_theme(theme: str) -> Wrong | None:
    """What is the matter with a look, if it cannot dress an event."""
    try:
        load_page(theme, "event")
        for kind in ("event-paper", "labels", "handout"):
            load_paper_theme(theme, kind)
        specimen(theme, catalogue().language)
    except ThemeError as trouble:
        return Wrong.of("kit-theme", why=catalogue().say(f"{trouble.code}.says", **trouble.facts))
    return None


def set_event(
    event: Event,
    documents: Sequence[Document],
    photos: Sequence[Mapping[str, ReadyPhoto]],
    look: Look,
    occasion: Occasion,
    hands: PaperHands,
    stage: Stage,
) -> EventFiles:
    """Everything that is written for an event. `documents` are those of its recipes at the event, with `photos`."""
    said = compose_event(event, documents, occasion)
    heroes = heroes_of(documents, event.wishes.system, photos)
    papers = [hands.ask(event_pdf, said, one, look.paper, look.theme, heroes) for one in said.papers]
    handouts = [
        hands.ask(handout, one, event.wishes.system, look.theme, pictures, look.paper)
        for one, pictures in zip(documents, photos, strict=True)
    ]
    texts = tuple(dict.fromkeys(_set_by_measure(said, event.guests)))
    if no_letters := missing_letters(texts, said.language, look.theme):
        return EventFiles({}, no_letters=no_letters)
    labels = _labels(said, event, look, heroes, stage("labels"))
    cards = _place_cards(said, event, look, stage("place-cards"))
    words = catalogue(said.language)
    folder = _EventFolder(event, look, words, stage("papers"), len(papers) + len(handouts) + 3)
    for one, printed in zip(said.papers, papers, strict=True):
        folder.paper(one, printed())
    for document, made in zip(documents, handouts, strict=True):
        folder.handout(document, made())
    folder.places(labels, PrintedOn.LABELS, sum(count for _, count in said.labels), look.labels)
    folder.places(cards, PrintedOn.CARDS, len(event.guests), _card_grid(event, look))
    printing = printing_paper(folder.printouts, look.paper.name, words, event.makings)
    folder.paper(printing, event_pdf(said, printing, look.paper, look.theme, heroes))
    page = event_page(replace(said, papers=(printing, *said.papers)), look.theme, heroes)
    source = EventSource(event, documents, words)
    others = {
        "kit.json": event_json(event, occasion).encode("utf-8"),
        "event.html": page,
        "shopping.csv": safe_csv(csv_rows(source)),
    }
    if entries := diary_of(source, occasion):
        others["diary.ics"] = diary_file(entries)
    small = (labels,) if isinstance(labels, SmallLabel) else ()
    return folder.made(others, small, borrowed_fonts(texts, said.language, look.theme))


class _EventFolder:
    """Takes in one file after another, and keeps count of how often each is to be printed."""

    def __init__(self, event: Event, look: Look, words: Catalogue, told: Told, everything: int) -> None:
        self._event, self._paper, self._words = event, look.paper, words
        self._told, self._all = told, everything
        self._files: dict[str, bytes] = {}
        self.printouts: list[Printout] = []
        self._titles: dict[str, list[str]] = {key: [] for key in ("no-handout", "unfit-handout", "shortened", "longer")}
        told(0, everything)

    def _keep(self, data: bytes, printout: Printout) -> None:
        self._files[printout.file] = data
        self.printouts.append(printout)
        self._told(min(len(self.printouts), self._all), self._all)

    def paper(self, paper: EventPaper, made: PaperPdf) -> None:
        file = f"{paper.slug}-{self._paper.slug}.pdf"
        self._keep(made.pdf, Printout(file, paper.copies, made.pages, paper.whom))
        if paper.one_page and made.pages > 1:
            self._titles["longer"].append(paper.title)
        elif made.shortened:
            self._titles["shortened"].append(paper.title)

    def handout(self, document: Document, made: Handout | Misfit | NoClass) -> None:
        """One for each bag, and one for the teacher."""
        if isinstance(made, Handout):
            kits = next(one.all_kits for one in self._event.makings if one.recipe.slug == document.slug)
            file = f"handout-{document.slug}-{self._paper.slug}.pdf"
            self._keep(made.pdf, Printout(file, kits + 1, made.pages, self._words.say("event.print.whom-handout")))
        else:
            self._titles["no-handout" if isinstance(made, NoClass) else "unfit-handout"].append(document.head.title)

    def places(self, data: bytes | SmallLabel | None, on: PrintedOn, count: int, grid: LabelGrid) -> None:
        """Labels or cards, as many to a page as the grid has places; nothing where there are none."""
        if isinstance(data, bytes):
            file, whom = f"{on.file}-{self._paper.slug}.pdf", self._words.say(f"event.print.whom-{on.kind}")
            self._keep(data, Printout(file, 1, -(-count // len(grid.places)), whom, on))

    def made(self, others: Mapping[str, bytes], small: tuple[SmallLabel, ...], borrowed: tuple[str, ...]) -> EventFiles:
        """All that was taken in, with the files that are not printed."""
        titles = {key: tuple(told) for key, told in self._titles.items() if told}
        return EventFiles({**self._files, **others}, titles, small, borrowed=borrowed)


def _set_by_measure(said: EventDocument, guests: Sequence[Guest]) -> Iterator[str]:
    """All that stands on labels and cards, and what else is said of guests."""
    for guest in guests:
        yield from (guest.name, guest.table, guest.note, guest.diet)
    for label, _ in said.labels:
        yield from (label.name, label.title, *label.lines, label.warning, label.foot)


def _labels(said: EventDocument, event: Event, look: Look, heroes: Sequence[Hero], told: Told) -> bytes | SmallLabel:
    """The bag labels, or those that are too small."""
    words, system, grid, lined = catalogue(said.language), event.wishes.system, look.labels, look.name_line
    every = [label for label, count in said.labels for _ in range(count)]
    title = _titled("labels", said)
    made = labels_pdf(every, grid, title, said.language, look.theme, name_line=lined, told=told, heroes=heroes)
    if isinstance(made, bytes):
        return made
    lengths, step = LengthWriter(system, words), _LABEL_STEPS[system]
    least = [lengths.size(*size) for size in least_sizes(made, grid, step, look.theme, name_line=lined)]
    titles = tuple(dict.fromkeys(label.title for label in made))
    return SmallLabel(titles, lengths.size(grid.width, grid.height), words.say("event.kits.or").join(least))


def _card_grid(event: Event, look: Look) -> LabelGrid:
    grid = grid_of(look.paper, plain_sheet(*_CARDS[event.wishes.system]))
    assert isinstance(grid, LabelGrid)
    return grid


def _place_cards(said: EventDocument, event: Event, look: Look, told: Told) -> bytes | None:
    """A card for each guest; None without guests."""
    if not event.guests:
        return None
    cards, title = place_cards_of(event, catalogue(said.language)), _titled("place-cards", said)
    return place_cards_pdf(cards, _card_grid(event, look), title, said.language, look.theme, told)


def _titled(kind: str, said: EventDocument) -> str:
    """What a PDF of labels or cards is called, with the event's name, day and place."""
    return ": ".join(part for part in (catalogue(said.language).say(f"event.kits.{kind}"), said.occasion.line) if part)


def safe_csv(rows: Sequence[Sequence[str]]) -> bytes:
    """Rows as a spreadsheet opens them: UTF-8 with a mark, and no cell that could be taken for a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream)
    for row in rows:
        writer.writerow([f"'{cell}" if cell.startswith(_FORMULA) else cell for cell in row])
    return stream.getvalue().encode("utf-8-sig")
