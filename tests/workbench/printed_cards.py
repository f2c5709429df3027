"""Everything that can be read back from a finished card, as complaints: none when all is well. Not a test."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

from foldwright.document.model import Document, PlacedPicture
from foldwright.document.words import Passage, Runs, plain, plain_passage
from foldwright.measure.length import System
from foldwright.recipe.words import SectionKind
from foldwright.render.paper.card import Card, Proof
from foldwright.render.paper.imposing import Imposition
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.versions import Version
from printed.colours import lost_in_grey, pale_words
from printed.covered import covered
from printed.declared import declared_complaints
from printed.faces import face_complaints
from printed.filled import fill
from printed.headed import alone
from printed.inside import in_margins, off_page
from printed.legible import overlapping, small_type
from printed.order import reading_order
from printed.pictured import astray
from printed.reading import POINTS, Box, Page, paper_complaints, read
from printed.structure import figure_boxes, list_numbering, structure_complaints
from printed.validated import validator_complaints

# The PostScript names of the faces in the package (name table, name 6; OpenType specification).
FACES = frozenset(
    f"{family}-{style}"
    for family, styles in (
        ("SourceSansPro", ("Regular", "It", "Semibold", "Black")),
        ("SourceSerifPro", ("Regular", "It", "Semibold")),
    )
    for style in styles
)
"""Kinds of section."""
LEAST_FILL = 0.85
_HANG = 1.0
"""Points by which a letter may reach over the edge of its column: a title's letters are set a little closer, which the
place of its last one does not tell. Ink is looked for with a finer measure."""

_HOOK = 0.12
"""Ems by which the shape of a letter may reach further than the letter counts for: an f of Source Serif by a tenth."""


class Made(NamedTuple):
    """A card, and what it was made from."""

    card: Card
    document: Document
    proof: Proof
    system: System
    paper: Paper
    back: bool = False
    imposition: Imposition | None = None


def complaints(made: Made) -> list[str]:
    """All that is wrong with a card but how well it is filled."""
    data = made.card.pdf
    pages = read(data)
    whole = made.imposition or made.paper
    wanted = 2 if made.card.back else 1
    return [
        *([] if len(pages) == wanted else [f"there are {len(pages)} pages, not {wanted}"]),
        *paper_complaints(data, float(whole.width_mm), float(whole.height_mm), "mm"),
        *small_type(pages),
        *_off_page(made, pages),
        *overlapping(pages),
        *face_complaints(data, FACES),
        *declared_complaints(data, title=made.document.head.title, language=made.document.language),
        *_structure_complaints(made),
        *figure_boxes(made.card.pdf),
        *list_numbering(made.card.pdf),
        *validator_complaints(data),
        *pale_words(data),
        *lost_in_grey(data),
        *_headings_alone(made),
        *astray(data),
        *covered(data),
        *_out_of_place(made, pages),
        *([] if made.imposition else in_margins(data, float(made.paper.margin_mm), allowed=_hooks(pages))),
        *_order_complaints(made),
        *_figure_complaints(made),
    ]


def _off_page(made: Made, pages: Sequence[Page]) -> list[str]:
    found = off_page(pages)
    # Marks to cut by begin at the edge of the sheet, and the kit counts a stroke half its width beyond its ends.
    return [one for one in found if "a line reaches 0.1 pt" not in one] if made.imposition else found


def _structure_complaints(made: Made) -> list[str]:
    found = structure_complaints(made.card.pdf)
    # Each of several cards on a sheet has its own title.
    titles = f"there are {len(made.imposition.cells)} headings of the first level, not one" if made.imposition else ""
    return [one for one in found if one != titles]


# --- places ----------------------------------------------------------------------------------------------------------


def text_areas(made: Made, back: bool) -> list[Box]:
    """The text area of each card on a page, in points."""
    margin = float(made.paper.margin_mm)
    spots = [(0.0, 0.0)]
    if made.imposition:
        cells = made.imposition.backs if back else made.imposition.cells
        spots = [(float(spot.left), float(spot.top)) for spot in cells]
    wide, high = float(made.paper.width_mm) - 2 * margin, float(made.paper.height_mm) - 2 * margin
    return [
        Box(*(side * POINTS["mm"] for side in (x + margin, y + margin, x + margin + wide, y + margin + high)))
        for x, y in spots
    ]


def _out_of_place(made: Made, pages: Sequence[Page]) -> Iterator[str]:
    """Content that lies in no card's text area; decoration may do so."""
    for page in pages:
        areas = text_areas(made, back=page.number > 1)
        for box in page.content:
            if not any(_within(box, area) for area in areas):
                yield f"page {page.number}: content at {box.x0:.1f}, {box.top:.1f} pt lies in no card's text area"


def _hooks(pages: Sequence[Page]) -> list[Box]:
    """Where the hook of an f or the like may hang over at the end of its line."""
    return [
        Box(glyph.box.x1, glyph.box.top, glyph.box.x1 + _HOOK * glyph.size, glyph.box.bottom)
        for page in pages
        for glyph in page.glyphs
    ]


def _within(box: Box, area: Box) -> bool:
    return (
        box.x0 >= area.x0 - _HANG
        and box.x1 <= area.x1 + _HANG
        and box.top >= area.top - _HANG
        and box.bottom <= area.bottom + _HANG
    )


# --- what is said, and in which order --------------------------------------------------------------------------------


def _order_complaints(made: Made) -> Iterator[str]:
    """Whether every word of the sheet's version is read, in the sheet's order; what else is read does not matter."""
    said = _bare("".join(text for role, text in reading_order(made.card.pdf) if role != "Figure"))
    at = 0
    for what, words in _wanted(made):
        found = said.find(_bare(words), at)
        if found < 0:
            before = said.rfind(_bare(words), 0, at) >= 0
            yield f"{what} “{words[:60]}” is {'read before its turn' if before else 'not read'}"
        else:
            at = found + len(_bare(words))


def _wanted(made: Made) -> Iterator[tuple[str, str]]:
    up = len(made.imposition.cells) if made.imposition else 1
    card = made.card
    # A back has the title, so it is read first.
    if card.back is not None:
        for _ in range(up):
            yield from _before(made, card.back)
            yield from _after(made, card.back)
    for _ in range(up):
        if card.back is None:
            yield from _before(made, card.version)
        yield from _steps(made)
        if card.back is None:
            yield from _after(made, card.version)


def _before(made: Made, version: Version) -> Iterator[tuple[str, str]]:
    document = made.document
    yield "the title", document.head.title
    if version.summary:
        yield from _told("the summary", document.head.summary, made)
    yield from _needed(made, version)
    yield from _cautions(document, version, made)
    yield from _sections(made, (SectionKind.BEFORE,))


def _steps(made: Made) -> Iterator[tuple[str, str]]:
    version = made.card.version
    for step in made.document.steps:
        yield "the number of a step", str(step.number)
        yield from _told(f"the heading of step {step.number}", step.heading, made)
        if version.strip:
            continue
        if step.reminder:
            yield "a signal word", step.reminder.signal_word
            yield from _passage("a reminder", step.reminder.words, made)
        yield from _passage(f"step {step.number}", step.wordings[-1 if version.short else 0], made)
        if version.tips:
            for line in step.trials:
                yield from _told("what to measure", line, made)
            yield from _passage(f"the tip of step {step.number}", step.tip, made)


def _needed(made: Made, version: Version) -> Iterator[tuple[str, str]]:
    document = made.document
    for supply in document.supplies if version.supplies else ():
        yield from _told("a supply", supply.name, made)
        yield from _told("an amount", supply.amount, made)
        if supply.contains:
            yield "an allergen", supply.contains
    for tool in document.tools if version.tools else ():
        yield from _told("a tool", tool.name, made)
    for piece in document.pieces if version.sizes else ():
        if piece.size:
            yield "a piece", piece.name


def _sections(made: Made, kinds: Collection[str]) -> Iterator[tuple[str, str]]:
    """What is to be read before the steps stands on every card; what is for the teacher on none."""
    for section in made.document.sections:
        if section.kind in kinds:
            yield from _told("a heading", section.heading, made)
            yield from _passage("a section", section.words, made)


def _after(made: Made, version: Version) -> Iterator[tuple[str, str]]:
    if version.sections:
        yield from _sections(made, {*SectionKind} - {SectionKind.BEFORE, SectionKind.TEACHER})
    if version.foot:
        if made.document.head.revised_words:
            yield "the date", made.document.head.revised_words
        yield "the address", made.document.head.address.removeprefix("https://")


def _cautions(document: Document, version: Version, made: Made) -> Iterator[tuple[str, str]]:
    """In full; in brief those of the finished thing, since every step has its own; a strip reminds of all of them."""
    for caution in document.cautions:
        if version.full_cautions and not version.strip:
            yield "a signal word", caution.signal_word
            yield "a hazard", f"{caution.hazard} {caution.consequence}"
            yield "how to avoid it", caution.avoid
        elif not caution.reminder:
            yield "a signal word", caution.signal_word
            yield "how to avoid it", caution.brief
    if version.strip:
        for caution in document.cautions:
            yield "a reminder", caution.reminder
        for step in document.steps:
            for caution in step.cautions:
                yield from _passage("an author's caution", caution.own, made)


def _told(what: str, runs: Runs, made: Made) -> Iterator[tuple[str, str]]:
    if runs:
        yield what, plain(runs, made.system)


def _passage(what: str, passage: Passage, made: Made) -> Iterator[tuple[str, str]]:
    """A passage part by part: between two of them may stand what marks an entry of a list."""
    for part in passage:
        items = getattr(part, "items", None)
        if items is not None:
            for item in items:
                yield from _passage(what, item, made)
        else:
            yield what, plain_passage((part,), made.system)


def _bare(text: str) -> str:
    """Letters and figures alone: how fractions are written, hyphens at line ends and capitals do not matter here."""
    return re.sub(r"\W", "", text.replace("×", "x")).casefold()


# --- pictures --------------------------------------------------------------------------------------------------------


def _figure_complaints(made: Made) -> Iterator[str]:
    up = len(made.imposition.cells) if made.imposition else 1
    sides = [[_alt(shown, made) for shown in _front_pictures(made)]]
    if made.card.back is not None:
        sides.insert(0, [_alt(shown, made) for shown in _back_pictures(made, made.card.back)])
    # The foot, with the code of the address, is on the back of a card that has one.
    if (made.card.back or made.card.version).code:
        address = made.document.head.address.removeprefix("https://").rstrip("/")
        sides[0].append(f"{made.document.labels['address-code']}: {address}")
    wanted = [alt for side in sides for _ in range(up) for alt in side]
    found = [text for role, text in reading_order(made.card.pdf) if role == "Figure"]
    if found != wanted:
        yield f"the pictures are {found}, not {wanted}"


def _front_pictures(made: Made) -> list[PlacedPicture]:
    """In the order in which they are met: the finished thing in the head, plans of no step, then step by step."""
    kept = [shown for shown in _printable(made) if shown not in made.card.left_out]
    if made.card.back is not None:
        kept = [shown for shown in kept if shown.step]
    return sorted(kept, key=lambda shown: (shown.step, bool(shown.piece) if not shown.step else False))


def _back_pictures(made: Made, version: Version) -> list[PlacedPicture]:
    """The finished thing and the flat pieces, as many as the back has room for."""
    whole = [shown for shown in _printable(made) if not shown.step and not shown.piece]
    flat = [PlacedPicture(0, piece.name) for piece in made.document.pieces if piece.picture]
    return [shown for shown in (*whole, *flat) if shown in made.proof.at_back][: version.pictures]


def _printable(made: Made) -> list[PlacedPicture]:
    """What can be printed; for a photograph of the finished thing that cannot be, its drawing."""
    return [
        shown
        for one in made.document.shown
        if (shown := _drawn_instead(one, made) if one in made.proof.unfit else one)
        and (shown.photo is not None or made.document.picture(shown) is not None)
    ]


def _drawn_instead(shown: PlacedPicture, made: Made) -> PlacedPicture | None:
    finished = made.document.finished
    if finished is None or shown.photo is None or shown.step or shown.piece:
        return None
    return PlacedPicture(0, drawing=finished.name)


def _alt(shown: PlacedPicture, made: Made) -> str:
    if shown.photo:
        return shown.photo.shows
    picture = made.document.picture(shown)
    assert picture is not None
    return f"{plain(picture.title, made.system).rstrip('.')}. {picture.describes.of(made.system)}".strip()


def _headings_alone(made: Made) -> Iterator[str]:
    """Of a bare strip, a step without a picture is its heading and nothing else."""
    pictured = {shown.step for shown in _front_pictures(made)}
    bare = [one for one in made.document.steps if made.card.version.bare and one.number not in pictured]
    whole = [_bare(plain(step.heading, made.system)) for step in bare]
    for complaint in alone(made.card.pdf):
        heading = _bare(complaint.partition("“")[2].rpartition("”")[0])
        if not any(text.startswith(heading) for text in whole):
            yield complaint


# --- how well it is filled -------------------------------------------------------------------------------------------


def filled(made: Made) -> list[float]:
    """The share of the text area that the box around all ink covers, of each side; of several on a sheet, the first."""
    return [fill(page, text_areas(made, back=page.number > 1)[0]) for page in read(made.card.pdf)]
