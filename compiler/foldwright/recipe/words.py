"""Prose as data: blocks of runs, in which measures have been found.

Markdown goes in (HTML is never let through); these frozen trees come out. Nothing here knows a page.
"""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Place
from foldwright.measure.length import Length
from foldwright.measure.shape import Shape as Shape


class Bare(Struct, frozen=True):
    """Where numbers without a unit stand, and what they are: lengths, if a piece of the step has them."""

    place: Place
    shape: Shape
    values: tuple[Fraction, ...]
    joiners: tuple[str, ...]


class Text(Struct, frozen=True):
    """Plain words; `bare` when they are numbers that stand where a length would."""

    text: str
    bare: Bare | None = None


class Measure(Struct, frozen=True):
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


class Emphasis(Struct, frozen=True):
    children: tuple[Inline, ...]


class Strong(Struct, frozen=True):
    children: tuple[Inline, ...]


class Code(Struct, frozen=True):
    text: str


class Link(Struct, frozen=True):
    """`href` is http, https, mailto or a fragment; anything else has been dropped before."""

    href: str
    children: tuple[Inline, ...]


class Break(Struct, frozen=True):
    """A line end the author asked for."""


type Inline = Text | Measure | Emphasis | Strong | Code | Link | Break


class Paragraph(Struct, frozen=True):
    children: tuple[Inline, ...]


class Items(Struct, frozen=True):
    """A list; each item is a run of blocks."""

    ordered: bool
    items: tuple[tuple[Block, ...], ...]


class Quote(Struct, frozen=True):
    children: tuple[Block, ...]


class Subheading(Struct, frozen=True):
    """A heading below the step's own (`###` and deeper)."""

    level: int
    children: tuple[Inline, ...]


class Preformatted(Struct, frozen=True):
    text: str


class Rule(Struct, frozen=True):
    """A thematic break."""


type Block = Paragraph | Items | Quote | Subheading | Preformatted | Rule


class NotMeasured(Struct, frozen=True):
    """What looked like a measure in the words and was not taken for one; `why` is a code the listing explains."""

    said: str
    place: Place
    why: str
