"""Prose as one tree: blocks of runs, whatever a measure in it is.

Markdown goes in (HTML is never let through) and a tree of each `Measure` found comes out; a document carries the same
tree with what is printed in their places (`document.words`). Nothing here knows a page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Place, Said
from foldwright.measure.length import Length
from foldwright.measure.length import Shape as Shape


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


class Emphasis[M](Struct, frozen=True):
    """Words that stand out a little, as in italics."""

    children: tuple[InlineOf[M], ...]


class Strong[M](Struct, frozen=True):
    """Words that stand out, as in bold type."""

    children: tuple[InlineOf[M], ...]


class Code(Struct, frozen=True):
    """Something to type, letter by letter."""

    text: str


class Link[M](Struct, frozen=True):
    """`href` is http, https, mailto or a fragment; anything else has been dropped before."""

    href: str
    children: tuple[InlineOf[M], ...]


class Break(Struct, frozen=True):
    """A line end the author asked for."""


type InlineOf[M] = Text | M | Emphasis[M] | Strong[M] | Code | Link[M] | Break
type Inline = InlineOf[Measure]


class Paragraph[M](Struct, frozen=True):
    """One paragraph."""

    children: tuple[InlineOf[M], ...]


class Items[M](Struct, frozen=True):
    """A list; each item is a run of blocks."""

    ordered: bool
    items: tuple[tuple[BlockOf[M], ...], ...]


class Quote[M](Struct, frozen=True):
    """Blocks that are quoted."""

    children: tuple[BlockOf[M], ...]


HIGHEST = 3
"""The level of the highest heading below a step's own."""


class Subheading[M](Struct, frozen=True):
    """A heading below the step's own (`###` and deeper); `level` counts its marks."""

    level: int
    children: tuple[InlineOf[M], ...]


class Preformatted(Struct, frozen=True):
    """Lines that stand as they were typed."""

    text: str


class Rule(Struct, frozen=True):
    """A thematic break."""


type BlockOf[M] = Paragraph[M] | Items[M] | Quote[M] | Subheading[M] | Preformatted | Rule
type Block = BlockOf[Measure]


class NotMeasured(Struct, frozen=True):
    """What looked like a measure in the words and was not taken for one; `why` is a code the listing explains."""

    said: str
    place: Place
    why: str


def lines_of[M](blocks: Iterable[BlockOf[M]]) -> Iterator[tuple[InlineOf[M], ...]]:
    """The runs of every paragraph and heading in order, those inside lists and quotations too."""
    for block in blocks:
        match block:
            case Paragraph() | Subheading():
                yield block.children
            case Items():
                for item in block.items:
                    yield from lines_of(item)
            case Quote():
                yield from lines_of(block.children)
            case Preformatted() | Rule():
                pass


def flat_runs[M](children: Iterable[InlineOf[M]]) -> Iterator[Text | M | Code | Break]:
    """Runs in order, taken out of the emphasis and the links they stand in."""
    for child in children:
        if isinstance(child, Emphasis | Strong | Link):
            yield from flat_runs(child.children)
        else:
            yield child


def spoken_text(blocks: Iterable[Block]) -> str:
    """Everything the blocks say, blocks parted by line ends; code and preformatted text say nothing."""
    return "".join([_spoken(run) for line in lines_of(blocks) for run in (*flat_runs(line), None)])


def _spoken(run: Text | Measure | Code | Break | None) -> str:
    match run:
        case Text():
            return run.text
        case Measure():
            return run.said
        case Code() | Break():
            return " "
        case None:
            return "\n"


def changed[M, N](
    blocks: Iterable[BlockOf[M]], change: Callable[[tuple[InlineOf[M], ...]], tuple[InlineOf[N], ...]]
) -> tuple[BlockOf[N], ...]:
    """The same blocks with the runs of every paragraph and heading changed."""
    return tuple([_changed_block(block, change) for block in blocks])


def _changed_block[M, N](
    block: BlockOf[M], change: Callable[[tuple[InlineOf[M], ...]], tuple[InlineOf[N], ...]]
) -> BlockOf[N]:
    match block:
        case Paragraph(children):
            return Paragraph(change(children))
        case Items(ordered, items):
            return Items(ordered, tuple([changed(item, change) for item in items]))
        case Quote(blocks):
            return Quote(changed(blocks, change))
        case Subheading(level, children):
            return Subheading(level, change(children))
        case Preformatted() | Rule():
            return block


def changed_runs[M, N](
    children: tuple[InlineOf[M], ...], change: Callable[[Text | M, str], tuple[InlineOf[N], ...]]
) -> tuple[InlineOf[N], ...]:
    """The same runs with every text and measure changed; `change` is told the plain text that follows, too."""
    runs: list[InlineOf[N]] = []
    for child, after in zip(children, [*children[1:], None], strict=True):
        match child:
            case Emphasis():
                runs.append(Emphasis(changed_runs(child.children, change)))
            case Strong():
                runs.append(Strong(changed_runs(child.children, change)))
            case Link():
                runs.append(Link(child.href, changed_runs(child.children, change)))
            case Code() | Break():
                runs.append(child)
            case _:
                runs += change(child, after.text if isinstance(after, Text) else "")
    return tuple(runs)


class Keep(Enum):
    """What matters most to an author where paper is short: it is left out last."""

    PICTURES = "pictures"
    TIPS = "tips"


class SectionKind(Enum):
    """What a section below the steps is for."""

    TIPS = "tips"
    NOTES = "notes"
    VARIATIONS = "variations"
    TEACHER = "for-the-teacher"
    BEFORE = "before-you-start"


class Section(Struct, frozen=True):
    """A section below the steps: its heading and its words."""

    kind: SectionKind
    heading: Said[str]
    words: tuple[Block, ...]
