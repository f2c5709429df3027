"""What `kit` says of label sheets and of letters that no font has."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from itertools import islice

from foldwright.cli.telling import Teller
from foldwright.document.catalogue import catalogue
from foldwright.event.document.lengths import LengthWriter
from foldwright.event.render.grids import LabelGrid, Overhang
from foldwright.finding import Wrong
from foldwright.measure.length import System
from foldwright.render.paper.papers import Paper

_MOST_NAMED = 10


def no_room(over: Overhang, said: str, paper: Paper, system: System) -> Wrong:
    """The sum that does not come out, as people would write it."""
    words = catalogue()
    lengths = LengthWriter(system, words)
    parts = [words.say("command.kit.sum-labels", count=over.count, each=lengths.length(over.size))]
    if over.margin:
        parts.insert(0, words.say("command.kit.sum-margin", margin=lengths.length(over.margin)))
    if over.gap and over.count > 1:
        parts.append(words.say("command.kit.sum-gaps", count=over.count - 1, each=lengths.length(over.gap)))
    return Wrong.of(
        "kit-labels-across" if over.across else "kit-labels-down",
        said=said,
        sum=" + ".join(parts),
        total=lengths.length(over.total),
        paper=paper.name,
        extent=lengths.length(over.extent),
    )


def say_label_sheet(grid: LabelGrid, system: System) -> None:
    """What was understood of a sheet by measure, with what is left at its other edges."""
    lengths = LengthWriter(system, catalogue())
    columns, rows = grid.columns, grid.rows
    Teller().words(
        "kit.label-sheet",
        paper=grid.paper.name,
        across=len(columns.starts),
        down=len(rows.starts),
        size=lengths.size(columns.size, rows.size),
        top=lengths.length(rows.starts[0]),
        left=lengths.length(columns.starts[0]),
        right=lengths.length(grid.paper.width_mm - columns.starts[-1] - columns.size),
        foot=lengths.length(grid.paper.height_mm - rows.starts[-1] - rows.size),
    )


def say_no_letters(texts: Mapping[str, str], complaints: Teller) -> None:
    """Which texts no font on this machine can set, and in what script their letters are."""
    scripts = dict.fromkeys(_script(letter) for letters in texts.values() for letter in letters)
    for text, letters in islice(texts.items(), _MOST_NAMED):
        complaints.words("kit.no-letters", text=text, letters=" ".join(letters))
    if len(texts) > _MOST_NAMED:
        complaints.words("kit.no-letters-more", count=len(texts) - _MOST_NAMED)
    complaints.words("kit.nothing-written", scripts=tuple(scripts))


def _script(letter: str) -> str:
    """`Devanagari`, `Cjk`: how the names of its characters begin (Unicode, Chapter 4.8), as good as any."""
    return unicodedata.name(letter, f"U+{ord(letter):04X}").split()[0].split("-")[0].title()
