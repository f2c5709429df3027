"""Words as a sheet carries them: like the author's, with every measure resolved to what is printed in both systems."""

from __future__ import annotations

from msgspec import Struct

from foldwright.measure.length import System


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


class Plain(Struct, frozen=True):
    text: str


class MeasureInWords(Struct, frozen=True):
    """A measure in running words. `said` is what the author wrote, empty when the program wrote the words."""

    phrases: Both[SetMeasure]
    said: str = ""


class Slanted(Struct, frozen=True):
    children: tuple[Run, ...]


class Heavy(Struct, frozen=True):
    children: tuple[Run, ...]


class Typed(Struct, frozen=True):
    """Something to type, letter by letter."""

    text: str


class Linked(Struct, frozen=True):
    href: str
    children: tuple[Run, ...]


class LineEnd(Struct, frozen=True):
    """A line end the author asked for."""


type Run = Plain | MeasureInWords | Slanted | Heavy | Typed | Linked | LineEnd
type Runs = tuple[Run, ...]


class Para(Struct, frozen=True):
    runs: Runs


class Listing(Struct, frozen=True):
    ordered: bool
    items: tuple[Passage, ...]


class Quoted(Struct, frozen=True):
    passage: Passage


class Minor(Struct, frozen=True):
    """A heading inside the words of a step or section; `depth` is 1 for the highest of them."""

    depth: int
    runs: Runs


class Verbatim(Struct, frozen=True):
    text: str


class Parting(Struct, frozen=True):
    """A break between two thoughts."""


type Part = Para | Listing | Quoted | Minor | Verbatim | Parting
type Passage = tuple[Part, ...]


def plain(runs: Runs, system: System) -> str:
    """Runs as one line of plain text in one unit system."""
    return "".join(_plain(run, system) for run in runs)


def _plain(run: Run, system: System) -> str:
    match run:
        case Plain(text) | Typed(text):
            return text
        case MeasureInWords(phrases):
            return phrases.of(system).plain
        case LineEnd():
            return " "
        case Slanted(children) | Heavy(children) | Linked(children=children):
            return plain(children, system)


def plain_passage(passage: Passage, system: System) -> str:
    """A passage as plain text, its parts set apart by spaces."""
    return " ".join(text for part in passage if (text := _plain_part(part, system)))


def _plain_part(part: Part, system: System) -> str:
    match part:
        case Para(runs) | Minor(runs=runs):
            return plain(runs, system)
        case Listing(items=items):
            return " ".join(plain_passage(item, system) for item in items)
        case Quoted(passage):
            return plain_passage(passage, system)
        case Verbatim(text):
            return text
        case Parting():
            return ""
