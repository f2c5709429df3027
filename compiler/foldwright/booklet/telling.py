"""What became of a booklet, and how it is printed and folded, in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.booklet.making import BookletNote, Unbound
from foldwright.booklet.wishes import BookletWish
from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.measure.length import Length, Unit
from foldwright.outputs.paper_notes import tell_lacks
from foldwright.render.paper.booklet.saddle import MOST_SHEETS, PAGES_OF_SHEET

_INDENT = "  "


def tell_note(note: BookletNote, folder: str) -> Iterator[str]:
    """Line by line: the files, what recipes go without, how sheets are folded."""
    words, wish = catalogue(), note.wish
    units = words.say(f"booklet.units.{wish.system.value}")
    facts = {"paper": wish.paper.name, "units": units, "count": note.pages}
    yield words.say("booklet.wrote", file=f"{folder}/{note.file}", **facts)
    for title, lacks in note.lacks:
        yield _INDENT + words.say("booklet.lacks", title=title, lacks=tell_lacks(lacks))
    if note.tiled:
        yield _INDENT + words.say("booklet.tiled", pieces=note.tiled, paper=wish.paper.name, count=len(note.tiled))
    if note.huge:
        yield _INDENT + words.say("booklet.huge", pieces=note.huge, paper=wish.paper.name, count=len(note.huge))
    if wish.saddle:
        yield from _folding(note, folder, words)


def _folding(note: BookletNote, folder: str, words: Catalogue) -> Iterator[str]:
    wish = note.wish
    assert wish.saddle
    file = f"{folder}/{wish.name}-saddle.pdf"
    yield words.say("booklet.wrote-saddle", file=file, count=note.sheets, sheet=wish.saddle.sheet.name)
    yield _INDENT + words.say("booklet.fold")
    if blanks := note.sheets * PAGES_OF_SHEET - note.pages:
        yield _INDENT + words.say("booklet.blank", count=blanks)
    most = (note.sheets - 1) * wish.thickness_mm
    if most:
        yield _INDENT + words.say("booklet.creep", thickness=_mm(wish.thickness_mm), most=_mm(most))
    if most and not wish.thickness_said:
        yield _INDENT + words.say("booklet.thickness-guessed", thickness=_mm(wish.thickness_mm))
    yield _INDENT + words.say("booklet.marked" if wish.saddle.marks else "booklet.unmarked")
    yield _INDENT + words.say("booklet.untagged", file=note.file)
    if note.sheets > MOST_SHEETS:
        yield _INDENT + words.say("booklet.many-sheets", count=note.sheets, most=MOST_SHEETS)


def _mm(length: Fraction) -> Length:
    return Length(length, Unit.MILLIMETRE)


def tell_unbound(unbound: Unbound, wish: BookletWish) -> str:
    """Why there is no booklet."""
    words, misfit = catalogue(), unbound.misfit
    facts = {"booklet": wish.title, "title": unbound.title, "paper": wish.paper.name}
    if misfit.unprintable:
        letters = tuple(dict.fromkeys(one.letter for one in misfit.unprintable))
        return words.say("booklet.no-letters", letters=letters, **facts)
    long = misfit.too_long
    if long and long.too_wide:
        return words.say("booklet.word-too-wide", word=long.wide_word, **facts)
    return words.say("booklet.card-too-long", count=long.over if long else 1, **facts)
