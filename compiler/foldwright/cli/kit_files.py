"""The files of an event's folder."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.progress import Told, silent
from foldwright.measure.length import System, Unit
from foldwright.plan.event.planning import Event
from foldwright.recipe.guests import Guest
from foldwright.render.event.labels import Grid, grid_of, labels_pdf, least_size, place_cards_pdf
from foldwright.render.event.page import event_page
from foldwright.render.event.papers import event_pdf
from foldwright.render.photos import Prepared
from foldwright.render.press.handout import Handout, NoClass, handout
from foldwright.render.press.papers import Paper
from foldwright.sheet.catalogue import Catalogue, catalogue
from foldwright.sheet.event.compose import compose_event
from foldwright.sheet.event.data import event_json
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.model import NO_OCCASION, EventPaper, EventSheet, Occasion
from foldwright.sheet.event.printing import Printout, printing_paper
from foldwright.sheet.event.shopping import csv_rows
from foldwright.sheet.model import Sheet

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with, or a spreadsheet reckons instead of showing it (common advice)."""


class SmallLabel(Struct, frozen=True):
    """A label that does not hold what whoever gets it must know, and the smallest size that does, in words."""

    title: str
    asked: str
    least: str


class EventFiles(Struct, frozen=True):
    """Files by name; papers that were to be one page and came out longer, and those that were made shorter for it;
    labels that are too small.

    `no_handout` are recipes of which no step is done in class, `unfit` those whose handout does not go on the paper.
    """

    files: Mapping[str, bytes]
    long: tuple[str, ...]
    shortened: tuple[str, ...]
    no_handout: tuple[str, ...]
    unfit: tuple[str, ...]
    small_labels: tuple[SmallLabel, ...]


def event_files(
    event: Event,
    sheets: Sequence[Sheet],
    photos: Sequence[Mapping[str, Prepared]],
    guests: Sequence[Guest],
    paper: Paper,
    labels: Sides | None,
    theme: str,
    occasion: Occasion = NO_OCCASION,
    told: Told = silent,
) -> EventFiles:
    """Everything that is written for an event. `sheets` are those at the event; `told` hears of each file."""
    said = compose_event(event, sheets, occasion)
    words = catalogue()
    press = _Press(event, said, paper, theme, told, len(said.papers) + len(sheets) + 3)
    for one in said.papers:
        press.paper(one)
    for making, sheet, pictures in zip(event.makings, sheets, photos, strict=True):
        press.handout(sheet, pictures, making.all_kits + 1)
    small = _labels(said, event, paper, labels, theme)
    cards = _place_cards(said, event, guests, paper, theme)
    if isinstance(small, dict):
        counts = [count for _, count in said.labels]
        press.places(small, "labels", counts, labels or _LABELS[event.wishes.system])
    press.places(cards, "place-cards", [len(guests)], _CARDS[event.wishes.system])
    printing = printing_paper(press.printouts, paper.name, words, event.makings)
    press.paper(printing)
    page = event_page(replace(said, papers=(printing, *said.papers)), theme)
    lengths = Lengths(event.wishes.system, words)
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
    )


class _Press:
    """Sets one file after another, and keeps count of how often each is to be printed."""

    def __init__(self, event: Event, said: EventSheet, paper: Paper, theme: str, told: Told, everything: int) -> None:
        self._event, self._said, self._paper, self._theme = event, said, paper, theme
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

    def paper(self, paper: EventPaper) -> None:
        made = event_pdf(self._said, paper, self._paper, self._theme)
        helpers = self._event.wishes.helpers
        copies = {"cutting-plan": helpers, "before-class": helpers, "the-day": helpers + 1}.get(paper.slug, 1)
        self.keep(f"{paper.slug}-{self._paper.slug}.pdf", made.pdf, paper.slug, copies, made.pages)
        if paper.one_page and made.pages > 1:
            self.long.append(paper.title)
        elif made.shortened:
            self.shortened.append(paper.title)

    def places(self, files: Mapping[str, bytes], kind: str, counts: Sequence[int], sides: Sides) -> None:
        """Labels or cards: of very many alike one page is set, to be printed again and again."""
        grid = grid_of(self._paper, *sides)
        if grid is None:
            return
        for file, data in files.items():
            sets = [_set_of(count, grid) for count in counts] if kind == "labels" else list(counts)
            again = counts[0] if len(counts) == 1 and sets != list(counts) else 0
            self.keep(file, data, kind, max(1, -(-again // grid.places)), -(-sum(sets) // grid.places))

    def handout(self, sheet: Sheet, pictures: Mapping[str, Prepared], copies: int) -> None:
        made = handout(sheet, self._event.wishes.system, self._theme, pictures, self._paper)
        if isinstance(made, Handout):
            file = f"handout-{sheet.slug}-{self._paper.slug}.pdf"
            self.keep(file, made.pdf, "handout", copies, made.pages)
        else:
            (self.no_class if isinstance(made, NoClass) else self.unfit).append(sheet.head.title)


MOST_LABELS = 1000
"""As many labels of a kit are set one by one: a hundred pages, which take a few seconds."""
type Sides = tuple[Fraction, Fraction]
_LABELS = {System.IMPERIAL: (4 * Unit.INCH.mm, 2 * Unit.INCH.mm), System.METRIC: (Fraction(95), Fraction(55))}
_LABEL_STEPS = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(1)}
"""A quarter of an inch and a millimetre: finer nobody buys labels."""
_CARDS = {System.IMPERIAL: (Unit.INCH.mm * 7 / 2, 4 * Unit.INCH.mm), System.METRIC: (Fraction(90), Fraction(110))}
"""Across and down in millimetres: labels of 4 x 2 in, place cards of 3 1/2 x 4 in that are folded in half."""


def _labels(
    said: EventSheet, event: Event, paper: Paper, labels: Sides | None, theme: str
) -> dict[str, bytes] | tuple[SmallLabel, ...]:
    """The labels, or those that are too small. A size of which none goes on the paper was asked about before."""
    words, system = catalogue(), event.wishes.system
    width, height = labels or _LABELS[system]
    grid = grid_of(paper, width, height)
    if grid is None:
        return {}
    every = [label for label, count in said.labels for _ in range(_set_of(count, grid))]
    made = labels_pdf(every, grid, titled("labels", said, words), said.language, theme)
    if isinstance(made, bytes):
        return {f"labels-{paper.slug}.pdf": made}
    lengths, step = Lengths(system, words), _LABEL_STEPS[system]
    asked = lengths.size(width, height)
    return tuple(SmallLabel(one.title, asked, lengths.size(*least_size(one, width, step))) for one in made)


def _place_cards(said: EventSheet, event: Event, guests: Sequence[Guest], paper: Paper, theme: str) -> dict[str, bytes]:
    words = catalogue()
    cards = grid_of(paper, *_CARDS[event.wishes.system])
    if not guests or cards is None:
        return {}
    names = [(guest.name, _table(guest, words)) for guest in guests]
    title = titled("place-cards", said, words)
    return {f"place-cards-{paper.slug}.pdf": place_cards_pdf(names, cards, title, said.language, theme)}


def titled(kind: str, said: EventSheet, words: Catalogue) -> str:
    """What a PDF of labels or cards is called, with the event's name, day and place."""
    return ": ".join(part for part in (words.say(f"event.kits.{kind}"), said.occasion.line) if part)


def _set_of(count: int, grid: Grid) -> int:
    """All labels of a kit, or of very many one page to be printed again and again."""
    return count if count <= MOST_LABELS else grid.places


def _table(guest: Guest, words: Catalogue) -> str:
    """`Table 4` for a number, a table's name as it is."""
    return words.say("event.kits.table", number=guest.table) if guest.table.isdecimal() else guest.table


def safe_csv(rows: Sequence[Sequence[str]]) -> bytes:
    """Rows as a spreadsheet opens them: UTF-8 with a mark, and no cell that could be taken for a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream)
    for row in rows:
        writer.writerow([f"'{cell}" if cell.startswith(_FORMULA) else cell for cell in row])
    return stream.getvalue().encode("utf-8-sig")
