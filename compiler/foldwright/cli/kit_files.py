"""The files of an event's folder."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.progress import Told, silent
from foldwright.cli.workers import Hands
from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document
from foldwright.event.document.compose import compose_event
from foldwright.event.document.data import event_json
from foldwright.event.document.guests import place_cards_of
from foldwright.event.document.lengths import LengthWriter
from foldwright.event.document.model import NO_OCCASION, EventPaper, EventSheet, Occasion
from foldwright.event.document.printing import Printout, printing_paper
from foldwright.event.document.shopping import csv_rows
from foldwright.event.facts.guests import Guest
from foldwright.event.plan.planning import Event
from foldwright.event.render.grids import LabelGrid, LabelSheet, Overhang, grid_of, plain_sheet
from foldwright.event.render.labels import labels_pdf, least_sizes
from foldwright.event.render.page import event_page
from foldwright.event.render.papers import PaperPdf, event_pdf
from foldwright.event.render.place_cards import place_cards_pdf
from foldwright.event.render.specimens import borrowed_fonts, missing_letters
from foldwright.measure.length import System, Unit
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.handout import Handout, NoClass, handout
from foldwright.render.paper.papers import Paper
from foldwright.render.photos import ReadyPhoto

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with, or a spreadsheet reckons instead of showing it (common advice)."""


class SmallLabel(Struct, frozen=True):
    """Labels that do not hold what whoever gets them must know, and the smallest sizes that hold them all, in words.

    `least` is empty where none on the paper does.
    """

    titles: tuple[str, ...]
    asked: str
    least: str


class EventFiles(Struct, frozen=True):
    """Files by name; papers that were to be one page and came out longer, and those that were made shorter for it;
    labels that are too small.

    `no_handout` are recipes of which no step is done in class, `unfit` those whose handout does not go on the paper.
    Where there are texts with letters that no font has (`no_letters`), no file is made at all. `borrowed` are the fonts
    of this machine in which names are set that the bundled faces lack letters for.
    """

    files: Mapping[str, bytes]
    long: tuple[str, ...]
    shortened: tuple[str, ...]
    no_handout: tuple[str, ...]
    unfit: tuple[str, ...]
    small_labels: tuple[SmallLabel, ...]
    no_letters: Mapping[str, str]
    borrowed: tuple[str, ...] = ()


def event_files(
    event: Event,
    sheets: Sequence[Document],
    photos: Sequence[Mapping[str, ReadyPhoto]],
    guests: Sequence[Guest],
    paper: Paper,
    labels: LabelGrid,
    theme: str,
    name_line: bool = False,
    occasion: Occasion = NO_OCCASION,
    stage: Callable[[str], Told] = lambda _name: silent,
    *,
    hands: Hands,
) -> EventFiles:
    """Everything that is written for an event. `sheets` are those at the event; `stage` gives who hears of progress."""
    words, system = catalogue(sheets[0].language), event.wishes.system
    said = compose_event(event, sheets, occasion)
    papers = [hands.ask(event_pdf, said, one, paper, theme) for one in said.papers]
    handouts = [
        hands.ask(handout, sheet, system, theme, pictures, paper)
        for sheet, pictures in zip(sheets, photos, strict=True)
    ]
    texts = dict.fromkeys(_set_by_measure(said, guests))
    if no_letters := missing_letters(texts, said.language, theme):
        return EventFiles({}, (), (), (), (), (), no_letters)
    small = _labels(said, event, labels, theme, name_line, stage("labels"))
    cards = grid_of(paper, plain_sheet(*_CARDS[system]))
    card_files = {}
    if guests and isinstance(cards, LabelGrid):
        card_files = _place_cards(said, event, cards, theme, stage("place-cards"))
    press = _EventFolder(event, paper, stage("papers"), len(papers) + len(handouts) + 3)
    for one, printed in zip(said.papers, papers, strict=True):
        press.paper(one, printed())
    for making, sheet, made in zip(event.makings, sheets, handouts, strict=True):
        press.handout(sheet, made(), making.all_kits + 1)
    if isinstance(small, dict):
        press.places(small, "labels", sum(count for _, count in said.labels), labels)
    if isinstance(cards, LabelGrid):
        press.places(card_files, "place-cards", len(guests), cards)
    printing = printing_paper(press.printouts, paper.name, words, event.makings)
    press.paper(printing, event_pdf(said, printing, paper, theme))
    page = event_page(replace(said, papers=(printing, *said.papers)), theme)
    lengths = LengthWriter(system, words)
    others = {
        "kit.json": event_json(event, occasion).encode("utf-8"),
        "event.html": page,
        "shopping.csv": safe_csv(csv_rows(event, lengths, words)),
    }
    return EventFiles(
        {**press.files, **others},
        tuple(press.long),
        tuple(press.shortened),
        tuple(press.no_class),
        tuple(press.unfit),
        () if isinstance(small, dict) else small,
        {},
        borrowed_fonts(texts, said.language, theme),
    )


class _EventFolder:
    """Takes in one file after another, and keeps count of how often each is to be printed."""

    def __init__(self, event: Event, paper: Paper, told: Told, everything: int) -> None:
        self._event, self._paper = event, paper
        self._told, self._done, self._all = told, 0, everything
        self.files: dict[str, bytes] = {}
        self.printouts: list[Printout] = []
        self.long: list[str] = []
        self.shortened: list[str] = []
        self.no_class: list[str] = []
        self.unfit: list[str] = []
        told(0, everything)

    def keep(self, file: str, data: bytes, kind: str, copies: int, pages: int) -> None:
        self.files[file] = data
        self.printouts.append(Printout(file, kind, copies, pages))
        self._done += 1
        self._told(min(self._done, self._all), self._all)

    def paper(self, paper: EventPaper, made: PaperPdf) -> None:
        helpers = self._event.wishes.helpers
        copies = {"cutting-plan": helpers, "before-class": helpers, "the-day": helpers + 1}.get(paper.slug, 1)
        self.keep(f"{paper.slug}-{self._paper.slug}.pdf", made.pdf, paper.slug, copies, made.pages)
        if paper.one_page and made.pages > 1:
            self.long.append(paper.title)
        elif made.shortened:
            self.shortened.append(paper.title)

    def places(self, files: Mapping[str, bytes], kind: str, count: int, grid: LabelGrid) -> None:
        """Labels or cards, as many to a page as the grid has places."""
        for file, data in files.items():
            self.keep(file, data, kind, 1, -(-count // len(grid.places)))

    def handout(self, document: Document, made: Handout | Misfit | NoClass, copies: int) -> None:
        if isinstance(made, Handout):
            file = f"handout-{document.slug}-{self._paper.slug}.pdf"
            self.keep(file, made.pdf, "handout", copies, made.pages)
        else:
            (self.no_class if isinstance(made, NoClass) else self.unfit).append(document.head.title)


_LABELS = {System.IMPERIAL: (4 * Unit.INCH.mm, 2 * Unit.INCH.mm), System.METRIC: (Fraction(95), Fraction(55))}
_LABEL_STEPS = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(1)}
"""A quarter of an inch and a millimetre: finer nobody buys labels."""
_CARDS = {System.IMPERIAL: (Unit.INCH.mm * 7 / 2, 4 * Unit.INCH.mm), System.METRIC: (Fraction(90), Fraction(110))}
"""Across and down in millimetres: labels of 4 x 2 in, place cards of 3 1/2 x 4 in that are folded in half."""


def label_grid(sheet: LabelSheet | None, system: System, paper: Paper) -> LabelGrid | Overhang:
    """The places of the bag labels; those of the usual size where nobody said one."""
    return grid_of(paper, sheet or plain_sheet(*_LABELS[system]))


def _set_by_measure(said: EventSheet, guests: Sequence[Guest]) -> Iterator[str]:
    """All that stands on labels and cards, and what else is said of guests."""
    for guest in guests:
        yield from (guest.name, guest.table, guest.note, guest.diet)
    for label, _ in said.labels:
        yield from (label.name, label.title, *label.lines, label.warning, label.foot)


def _labels(
    said: EventSheet, event: Event, grid: LabelGrid, theme: str, name_line: bool, told: Told
) -> dict[str, bytes] | tuple[SmallLabel, ...]:
    """The bag labels, or those that are too small."""
    words, system = catalogue(said.language), event.wishes.system
    every = [label for label, count in said.labels for _ in range(count)]
    title = titled("labels", said, words)
    made = labels_pdf(every, grid, title, said.language, theme, name_line=name_line, told=told)
    if isinstance(made, bytes):
        return {f"bag-labels-{grid.paper.slug}.pdf": made}
    lengths, step = LengthWriter(system, words), _LABEL_STEPS[system]
    asked = lengths.size(grid.width, grid.height)
    least = [lengths.size(*size) for size in least_sizes(made, grid, step, theme, name_line=name_line)]
    titles = tuple(dict.fromkeys(label.title for label in made))
    return (SmallLabel(titles, asked, words.say("event.kits.or").join(least)),)


def _place_cards(said: EventSheet, event: Event, grid: LabelGrid, theme: str, told: Told) -> dict[str, bytes]:
    words = catalogue(said.language)
    title = titled("place-cards", said, words)
    data = place_cards_pdf(place_cards_of(event, words), grid, title, said.language, theme, told)
    return {f"place-cards-{grid.paper.slug}.pdf": data}


def titled(kind: str, said: EventSheet, words: Catalogue) -> str:
    """What a PDF of labels or cards is called, with the event's name, day and place."""
    return ": ".join(part for part in (words.say(f"event.kits.{kind}"), said.occasion.line) if part)


def safe_csv(rows: Sequence[Sequence[str]]) -> bytes:
    """Rows as a spreadsheet opens them: UTF-8 with a mark, and no cell that could be taken for a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream)
    for row in rows:
        writer.writerow([f"'{cell}" if cell.startswith(_FORMULA) else cell for cell in row])
    return stream.getvalue().encode("utf-8-sig")
