"""The files of an event's folder."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.length import System, Unit
from foldwright.plan.event.planning import Event
from foldwright.recipe.guests import Guest
from foldwright.render.event.grids import Grid, LabelSheet, Overhang, grid_of, plain_sheet
from foldwright.render.event.labels import labels_pdf, least_sizes
from foldwright.render.event.page import event_page
from foldwright.render.event.papers import event_pdf
from foldwright.render.event.place_cards import place_cards_pdf
from foldwright.render.event.specimens import borrowed_fonts, missing_letters
from foldwright.render.photos import Prepared
from foldwright.render.press.handout import Handout, NoClass, handout
from foldwright.render.press.papers import Paper
from foldwright.sheet.catalogue import Catalogue, catalogue
from foldwright.sheet.event.compose import compose_event
from foldwright.sheet.event.data import event_json
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.model import CardText, EventSheet
from foldwright.sheet.event.shopping import csv_rows
from foldwright.sheet.model import Sheet

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
    """Files by name; papers that were to be one page and came out longer; labels that are too small.

    `no_handout` are recipes of which no step is done in class, `unfit` those whose handout does not go on the paper.
    Where there are texts with letters that no font has (`no_letters`), no file is made at all. `borrowed` are the fonts
    of this machine in which names are set that the bundled faces lack letters for.
    """

    files: Mapping[str, bytes]
    long: tuple[str, ...]
    no_handout: tuple[str, ...]
    unfit: tuple[str, ...]
    small_labels: tuple[SmallLabel, ...]
    no_letters: Mapping[str, str]
    borrowed: tuple[str, ...] = ()


def event_files(
    event: Event,
    sheets: Sequence[Sheet],
    photos: Sequence[Mapping[str, Prepared]],
    guests: Sequence[Guest],
    paper: Paper,
    labels: Grid,
    theme: str,
    name_line: bool = False,
) -> EventFiles:
    """Everything that is written for an event."""
    said = compose_event(event, sheets)
    texts = dict.fromkeys(_set_by_measure(said, guests))
    if no_letters := missing_letters(texts, said.language, theme):
        return EventFiles({}, (), (), (), (), no_letters)
    files = {"kit.json": event_json(event).encode("utf-8"), "event.html": event_page(said, theme)}
    lengths = Lengths(event.wishes.system, catalogue())
    files["shopping.csv"] = safe_csv(csv_rows(event, lengths, catalogue()))
    long = []
    for one in said.papers:
        data, pages = event_pdf(said, one, paper, theme)
        files[f"{one.slug}-{paper.slug}.pdf"] = data
        if one.one_page and pages > 1:
            long.append(one.title)
    no_class: list[str] = []
    unfit: list[str] = []
    for sheet, pictures in zip(sheets, photos, strict=True):
        made = handout(sheet, event.wishes.system, theme, pictures, paper)
        if isinstance(made, Handout):
            files[f"handout-{sheet.slug}-{paper.slug}.pdf"] = made.pdf
        else:
            (no_class if isinstance(made, NoClass) else unfit).append(sheet.head.title)
    files |= _place_cards(said, event, guests, paper, theme)
    small = _labels(said, event, labels, theme, name_line)
    if isinstance(small, dict):
        files |= small
        small = ()
    return EventFiles(
        files, tuple(long), tuple(no_class), tuple(unfit), small, {}, borrowed_fonts(texts, said.language, theme)
    )


_LABELS = {System.IMPERIAL: (4 * Unit.INCH.mm, 2 * Unit.INCH.mm), System.METRIC: (Fraction(95), Fraction(55))}
_LABEL_STEPS = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(1)}
"""A quarter of an inch and a millimetre: finer nobody buys labels."""
_CARDS = {System.IMPERIAL: (Unit.INCH.mm * 7 / 2, 4 * Unit.INCH.mm), System.METRIC: (Fraction(90), Fraction(110))}
"""Across and down in millimetres: labels of 4 x 2 in, place cards of 3 1/2 x 4 in that are folded in half."""


def label_grid(sheet: LabelSheet | None, system: System, paper: Paper) -> Grid | Overhang:
    """The places of the bag labels; those of the usual size where nobody said one."""
    return grid_of(paper, sheet or plain_sheet(*_LABELS[system]))


def _set_by_measure(said: EventSheet, guests: Sequence[Guest]) -> Iterator[str]:
    """All that stands on labels and cards, and what else is said of guests."""
    for guest in guests:
        yield from (guest.name, guest.table, guest.note)
    for label, _ in said.labels:
        yield from (label.name, label.title, *label.lines, label.warning, label.foot)


def _labels(
    said: EventSheet, event: Event, grid: Grid, theme: str, name_line: bool
) -> dict[str, bytes] | tuple[SmallLabel, ...]:
    """The bag labels, or those that are too small."""
    words, system = catalogue(), event.wishes.system
    every = [label for label, count in said.labels for _ in range(count)]
    made = labels_pdf(every, grid, words.say("event.kits.labels"), said.language, theme, name_line=name_line)
    if isinstance(made, bytes):
        return {f"bag-labels-{grid.paper.slug}.pdf": made}
    lengths, step = Lengths(system, words), _LABEL_STEPS[system]
    asked = lengths.size(grid.width, grid.height)
    least = [lengths.size(*size) for size in least_sizes(made, grid, step, theme, name_line=name_line)]
    titles = tuple(dict.fromkeys(label.title for label in made))
    return (SmallLabel(titles, asked, words.say("event.kits.or").join(least)),)


def _place_cards(said: EventSheet, event: Event, guests: Sequence[Guest], paper: Paper, theme: str) -> dict[str, bytes]:
    words = catalogue()
    grid = grid_of(paper, plain_sheet(*_CARDS[event.wishes.system]))
    if not guests or isinstance(grid, Overhang):
        return {}
    cards = [CardText(guest.name, _table(guest, words)) for guest in guests]
    title = words.say("event.kits.place-cards")
    return {f"place-cards-{paper.slug}.pdf": place_cards_pdf(cards, grid, title, said.language, theme)}


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
