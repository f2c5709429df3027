"""The files of an event's folder."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence

from msgspec import Struct

from foldwright.plan.event.planning import Event
from foldwright.recipe.guests import Guest
from foldwright.render.event.page import event_page
from foldwright.render.event.papers import event_pdf
from foldwright.render.photos import Prepared
from foldwright.render.press.handout import Handout, handout
from foldwright.render.press.papers import Paper
from foldwright.sheet.catalogue import catalogue
from foldwright.sheet.event.compose import compose_event
from foldwright.sheet.event.data import event_json
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.shopping import csv_rows
from foldwright.sheet.model import Sheet

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell must not begin with, or a spreadsheet reckons instead of showing it (common advice)."""


class EventFiles(Struct, frozen=True):
    """Files by name; papers that were to be one page and came out longer."""

    files: Mapping[str, bytes]
    long: tuple[str, ...]
    no_handout: tuple[str, ...]


def event_files(
    event: Event,
    sheets: Sequence[Sheet],
    photos: Sequence[Mapping[str, Prepared]],
    guests: Sequence[Guest],
    paper: Paper,
    theme: str,
) -> EventFiles:
    """Everything that is written for an event."""
    said = compose_event(event, sheets)
    files = {"kit.json": event_json(event).encode("utf-8"), "event.html": event_page(said, theme)}
    lengths = Lengths(event.wishes.system, catalogue())
    files["shopping.csv"] = safe_csv(csv_rows(event, lengths, catalogue()))
    long = []
    for one in said.papers:
        data, pages = event_pdf(said, one, paper, theme)
        files[f"{one.slug}-{paper.slug}.pdf"] = data
        if one.one_page and pages > 1:
            long.append(one.title)
    missing = []
    for sheet, pictures in zip(sheets, photos, strict=True):
        made = handout(sheet, event.wishes.system, theme, pictures, paper)
        if isinstance(made, Handout):
            files[f"handout-{sheet.slug}-{paper.slug}.pdf"] = made.pdf
        else:
            missing.append(sheet.head.title)
    return EventFiles(files, tuple(long), tuple(missing))


def safe_csv(rows: Sequence[Sequence[str]]) -> bytes:
    """Rows as a spreadsheet opens them: UTF-8 with a mark, and no cell that could be taken for a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream)
    for row in rows:
        writer.writerow([f"'{cell}" if cell.startswith(_FORMULA) else cell for cell in row])
    return stream.getvalue().encode("utf-8-sig")
