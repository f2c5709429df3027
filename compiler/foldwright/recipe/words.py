"""Prose as data: blocks of runs, in which measures have been found.

Markdown goes in (HTML is never let through); these frozen trees come out. Nothing here knows a page.
"""

from __future__ import annotations

from dataclasses import dataclass

from foldwright.finding import Place
from foldwright.measure.length import Length
from foldwright.measure.shape import Shape as Shape


@dataclass(frozen=True, slots=True)
class Text:
    text: str


@dataclass(frozen=True, slots=True)
class Measure:
    """A measure found in prose. `said` is the author's spelling; `lengths` are its lengths in order.

    `hyphenated` when it stands as an adjective (`5 1/2-inch strip`). `joiners` are the author's words between the
    lengths (one fewer than the lengths): ` x `, ` to `, ` and `, `, `. `why` is the code of the reason it was believed.
    """

    said: str
    place: Place
    shape: Shape
    lengths: tuple[Length, ...]
    joiners: tuple[str, ...] = ()
    hyphenated: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class Emphasis:
    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Strong:
    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Code:
    text: str


@dataclass(frozen=True, slots=True)
class Link:
    """`href` is http, https, mailto or a fragment; anything else has been dropped before."""

    href: str
    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Break:
    """A line end the author asked for."""


type Inline = Text | Measure | Emphasis | Strong | Code | Link | Break


@dataclass(frozen=True, slots=True)
class Paragraph:
    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Items:
    """A list; each item is a run of blocks."""

    ordered: bool
    items: tuple[tuple[Block, ...], ...]


@dataclass(frozen=True, slots=True)
class Quote:
    children: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Subheading:
    """A heading below the step's own (`###` and deeper)."""

    level: int
    children: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class Preformatted:
    text: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A thematic break."""


type Block = Paragraph | Items | Quote | Subheading | Preformatted | Rule


@dataclass(frozen=True, slots=True)
class NotMeasured:
    """What looked like a measure in the words and was not taken for one; `why` is a code the listing explains."""

    said: str
    place: Place
    why: str
