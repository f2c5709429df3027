"""What there is to tell of an event that is made, in sentences: of its papers, labels and letters, supplies, guests."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from itertools import islice

from foldwright.document.catalogue import catalogue
from foldwright.event.document.cutting import known_of, traded_words
from foldwright.event.document.writing import LengthWriter, called, missing_words
from foldwright.event.facts.guests import chosen
from foldwright.event.plan.planning import Event
from foldwright.event.render.grids import LabelGrid, Overhang
from foldwright.event.setting import EventFiles
from foldwright.finding import Wrong
from foldwright.measure.length import System
from foldwright.render.paper.papers import Paper

_MOST_NAMED = 10


def _say(key: str, **facts: object) -> str:
    return catalogue().say(f"command.kit.{key}", **facts)


def event_remarks(event: Event, made: EventFiles, sheet: LabelGrid | None) -> Iterator[str]:
    """Everything, in the order in which it is told. `sheet` is the sheet of labels where it was said by measure."""
    yield from _of_papers(made)
    yield from _of_supplies(event)
    if event.costs.not_counted:
        yield _say("not-counted", names=tuple(dict.fromkeys(event.costs.not_counted)))
    if sheet:
        yield _label_sheet(sheet, event.wishes.system)
    yield from _of_guests(event)


def _of_papers(made: EventFiles) -> Iterator[str]:
    named = {
        "no-handout": made.no_handout,
        "unfit-handout": made.unfit,
        "shortened": made.shortened,
        "longer": made.long,
    }
    yield from (_say(key, names=names) for key, names in named.items() if names)
    if made.borrowed:
        yield _say("borrowed", fonts=made.borrowed)
    for label in made.small_labels:
        key = "small-label" if label.least else "no-label"
        yield _say(key, titles=label.titles, asked=label.asked, least=label.least)


def _of_supplies(event: Event) -> Iterator[str]:
    words = catalogue()
    for plan in event.sheets:
        supply, known = called(plan.supply, plan.colour, words), known_of(plan) or "none-known"
        sheets = words.say("event.cutting.needs", count=plan.bought)
        yield _say(f"sheets-{known}", supply=supply, sheets=sheets, bound=plan.bound, **traded_words(plan, words))
    for line in event.shopping:
        if line.counted:
            yield _say("counted", supply=called(line.supply.name.value, line.colour, words))
    yield from missing_words(event, words)


def _of_guests(event: Event) -> Iterator[str]:
    """What does not agree between the list and the kits that were asked for."""
    counts = chosen(event.guests, len(event.makings))
    if len(event.makings) > 1 and any(counts):
        for making, count in zip(event.makings, counts, strict=True):
            if count != making.kits:
                yield _say("chosen-differ", count=count, title=making.title, kits=making.kits)
    elif event.guests and len(event.guests) != event.people:
        yield _say("names-differ", names=len(event.guests), people=event.people)


# --- labels and letters -----------------------------------------------------------------------------------------------


def no_room(over: Overhang, said: str, paper: Paper, system: System) -> Wrong:
    """The sum that does not come out, as people would write it."""
    lengths = LengthWriter(system, catalogue())
    parts = [_say("sum-labels", count=over.count, each=lengths.length(over.size))]
    if over.margin:
        parts.insert(0, _say("sum-margin", margin=lengths.length(over.margin)))
    if over.gap and over.count > 1:
        parts.append(_say("sum-gaps", count=over.count - 1, each=lengths.length(over.gap)))
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
    return _say(
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
        yield _say("no-letters", text=text, letters=" ".join(letters))
    if len(texts) > _MOST_NAMED:
        yield _say("no-letters-more", count=len(texts) - _MOST_NAMED)
    scripts = dict.fromkeys(_script(letter) for letters in texts.values() for letter in letters)
    yield _say("nothing-written", scripts=tuple(scripts))


def _script(letter: str) -> str:
    """`Devanagari`, `Cjk`: how the names of its characters begin (Unicode, Chapter 4.8), as good as any."""
    return unicodedata.name(letter, f"U+{ord(letter):04X}").split()[0].split("-")[0].title()
