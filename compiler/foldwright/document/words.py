"""Words as a document carries them: the tree of the author's, each measure as it is printed in both systems."""

from __future__ import annotations

from msgspec import Struct

from foldwright.measure.length import System
from foldwright.recipe import words as prose


class Both[T](Struct, frozen=True):
    """One thing as it stands on an imperial sheet and on a metric one."""

    imperial: T
    metric: T

    def of(self, system: System) -> T:
        return self.imperial if system is System.IMPERIAL else self.metric


class Figure(Struct, frozen=True):
    """A number to set: `whole` (with its decimals), a fraction in parts, and a unit when it stands behind this number.

    `4 1/8 in` is ("4", "1", "8", "in"); parts that are not there are empty.
    """

    whole: str
    numerator: str = ""
    denominator: str = ""
    unit: str = ""


class SetMeasure(Struct, frozen=True):
    """One measure, ready to set: figures and what stands between them (or words alone, as in the name of a sheet).

    `plain` is the same in ordinary characters (`5 x 4 1/4 in`), `spoken` what a screen reader should say
    ("5 by 4 and 1 quarter inches").
    """

    parts: tuple[Figure | str, ...]
    plain: str
    spoken: str

    @classmethod
    def of(cls, text: str) -> SetMeasure:
        """Words that are read as they stand."""
        return cls((text,), text, text)


class MeasureInWords(Struct, frozen=True):
    """A measure in running words. `said` is what the author wrote, empty when the program wrote the words."""

    phrases: Both[SetMeasure]
    said: str = ""


type Run = prose.InlineOf[MeasureInWords]
type Runs = tuple[Run, ...]
type Part = prose.BlockOf[MeasureInWords]
type Passage = tuple[Part, ...]


def plain(runs: Runs, system: System) -> str:
    """Runs as one line of plain text in one unit system."""
    return "".join([_plain(run, system) for run in prose.flat_runs(runs)])


def _plain(run: prose.Text | MeasureInWords | prose.Code | prose.Break, system: System) -> str:
    match run:
        case prose.Text() | prose.Code():
            return run.text
        case MeasureInWords():
            return run.phrases.of(system).plain
        case prose.Break():
            return " "


def plain_passage(passage: Passage, system: System) -> str:
    """A passage as plain text, its blocks set apart by spaces."""
    return " ".join([text for block in passage if (text := _plain_block(block, system))])


def _plain_block(block: Part, system: System) -> str:
    match block:
        case prose.Paragraph() | prose.Subheading():
            return plain(block.children, system)
        case prose.Items():
            return " ".join([plain_passage(item, system) for item in block.items])
        case prose.Quote():
            return plain_passage(block.children, system)
        case prose.Preformatted():
            return block.text
        case prose.Rule():
            return ""
