"""What was chosen for cards and handouts, in words."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.cli.paper_outputs import CardNote
from foldwright.sheet.catalogue import catalogue
from foldwright.sheet.model import Shown


def said(note: CardNote) -> str:
    """A line for one card: `card-imperial-4x6.pdf: 8.5 pt, two columns, without the picture of base`."""
    words = catalogue()
    return words.say("made.line", file=note.file, chosen=words.say("list.comma").join(_parts(note)))


def _parts(note: CardNote) -> Iterator[str]:
    words = catalogue()
    if note.too_long_for:
        yield words.say("made.too-long-for", paper=note.too_long_for)
    if note.on_sheet:
        yield words.say("made.up", number=note.up, sheet=note.on_sheet)
    if note.back_edge:
        yield words.say(f"made.turned-on.{note.back_edge.value}")
    yield words.say("made.size", size=f"{note.size_pt:g}")
    yield words.say(f"made.columns.{note.columns}")
    if note.short_steps:
        yield words.say("made.short", count=note.short_steps)
    if note.left_out:
        pictures = tuple(dict.fromkeys(map(_picture, note.left_out)))
        yield words.say("made.without-pictures", count=len(pictures), pictures=pictures)
    if note.missing or note.headings:
        things = tuple(words.say(f"made.missing.{name}") for name in note.missing)
        yield words.say("made.without", things=(*things, *note.headings))
    for name in note.brief:
        yield words.say(f"made.brief.{name}")


def _picture(shown: Shown) -> str:
    """What a picture shows, in a word or two."""
    if shown.piece:
        return shown.piece
    words = catalogue()
    return words.say("made.picture.step", number=shown.step) if shown.step else words.say("made.picture.finished")
