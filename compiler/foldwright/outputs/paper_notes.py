"""What was chosen for cards and handouts, and what they go without for want of room: as data, and in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document, PlacedPicture
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.render.paper.content import sections_to_show
from foldwright.render.paper.imposing import FlipEdge
from foldwright.render.paper.versions import Version


class Lacks(Struct, frozen=True):
    """What a sheet has and paper had no room for.

    `headings` are those of sections left out; `missing` and `brief` are plain names of what else was left out, and of
    what was said shortly.
    """

    pictures: tuple[PlacedPicture, ...] = ()
    headings: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    brief: tuple[str, ...] = ()
    short_steps: int = 0
    strip: Literal["", "pictured", "bare"] = ""
    """`pictured` where it is a strip: steps with a picture have no words; `bare` where no step has any."""


class CardNote(Struct, frozen=True):
    """How a card was set.

    `too_long_for` names the smaller paper it was meant for, `on_sheet` the sheet that several are printed on; the
    sheet is turned on `back_edge` to print its back.
    """

    file: str
    size_pt: float
    columns: int
    lacks: Lacks
    too_long_for: str = ""
    up: int = 1
    on_sheet: str = ""
    back_edge: FlipEdge | None = None


class HandoutNote(Struct, frozen=True):
    """How a handout was set."""

    file: str
    size_pt: float
    pages: int
    lacks: Lacks


class TemplateNote(Struct, frozen=True):
    """On how many pages a template is, and which pieces go over several."""

    file: str
    pages: int
    tiled: tuple[str, ...] = ()


class RunSheetNote(Struct, frozen=True):
    """How a run sheet was set: `near` has the steps in smaller type, and from how many millimetres each can be read."""

    file: str
    pages: int
    near: tuple[tuple[int, float], ...] = ()


type Note = CardNote | HandoutNote | TemplateNote | RunSheetNote


def lacks_of(
    document: Document,
    system: System,
    version: Version,
    pictures: tuple[PlacedPicture, ...],
    back: Version | None = None,
) -> Lacks:
    """What a version leaves out of a sheet. With a `back`, sections and supplies stand there in its own version."""
    steps, after = document.steps, sections_to_show(document, before=False)
    return Lacks(
        pictures=pictures,
        headings=() if (back or version).sections else tuple(plain(one.heading, system) for one in after),
        missing=tuple(_missing(document, version, back or version)),
        brief=tuple(_brief(document, version, back or version)),
        short_steps=sum(len(step.wordings) > 1 for step in steps) if version.short else 0,
        strip="bare" if version.bare else "pictured" if version.strip else "",
    )


def _missing(document: Document, version: Version, needed: Version) -> Iterator[str]:
    if not version.summary and document.head.studio:
        yield "studio"
    if not version.summary and document.head.summary:
        yield "summary"
    if not version.tips and not version.strip and any(step.tip for step in document.steps):
        yield "tips"
    if not version.tips and not version.strip and any(step.trials for step in document.steps):
        yield "checks"
    if not needed.supplies and document.supplies:
        yield "supplies"
    if not needed.tools and document.tools:
        yield "tools"
    if not version.foot:
        yield "foot"
    if document.head.address and not needed.code:
        yield "code"


def _brief(document: Document, version: Version, needed: Version) -> Iterator[str]:
    if not version.full_cautions and document.cautions:
        yield "cautions"
    if not needed.listed and ((document.supplies and needed.supplies) or (document.tools and needed.tools)):
        yield "supplies"


# --- in words ---------------------------------------------------------------------------------------------------------


def tell_note(note: Note) -> str:
    """A line for one file: `card-imperial-4x6.pdf: 8.5 pt, two columns, without the picture of base`."""
    words = catalogue()
    parts = _on_card(note, words) if isinstance(note, CardNote) else _on_pages(note, words)
    return words.say("made.line", file=note.file, chosen=words.say("list.comma").join(parts))


def tell_lacks(lacks: Lacks) -> str:
    """What a page goes without, in one line."""
    words = catalogue()
    return words.say("list.comma").join(_lacking(lacks, words))


def _on_card(note: CardNote, words: Catalogue) -> Iterator[str]:
    if note.too_long_for:
        yield words.say("made.too-long-for", paper=note.too_long_for)
    if note.on_sheet:
        yield words.say("made.up", number=note.up, sheet=note.on_sheet)
    if note.back_edge:
        yield words.say(f"made.turned-on.{note.back_edge.value}")
    yield words.say("made.size", size=f"{note.size_pt:g}")
    yield words.say(f"made.columns.{note.columns}")
    yield from _lacking(note.lacks, words)


def _on_pages(note: HandoutNote | TemplateNote | RunSheetNote, words: Catalogue) -> Iterator[str]:
    yield words.say("made.pages", count=note.pages)
    if isinstance(note, HandoutNote):
        yield words.say("made.size", size=f"{note.size_pt:g}")
        yield from _lacking(note.lacks, words)
    elif isinstance(note, RunSheetNote):
        by_distance: dict[str, list[int]] = {}
        for number, distance in note.near:
            # Never said to be farther than it is.
            by_distance.setdefault(f"{distance // 100 / 10:.1f}", []).append(number)
        for metres, steps in sorted(by_distance.items()):
            yield words.say("made.near", count=len(steps), steps=tuple(steps), metres=metres)
    elif note.tiled:
        yield words.say("made.in-parts", pieces=note.tiled)


def _lacking(lacks: Lacks, words: Catalogue) -> Iterator[str]:
    if lacks.strip:
        yield words.say(f"made.strip.{lacks.strip}")
    if lacks.short_steps:
        yield words.say("made.short", count=lacks.short_steps)
    if lacks.pictures:
        pictures = tuple(dict.fromkeys(_picture(one, words) for one in lacks.pictures))
        yield words.say("made.without-pictures", count=len(pictures), pictures=pictures)
    if lacks.missing or lacks.headings:
        things = tuple(words.say(f"made.missing.{name}") for name in lacks.missing)
        yield words.say("made.without", things=(*things, *lacks.headings))
    for name in lacks.brief:
        yield words.say(f"made.brief.{name}")


def _picture(shown: PlacedPicture, words: Catalogue) -> str:
    """What a picture shows, in a word or two."""
    if shown.piece and not (shown.drawing and shown.step):
        return shown.piece
    return words.say("made.picture.step", number=shown.step) if shown.step else words.say("made.picture.finished")
