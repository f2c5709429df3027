"""A whole event made: from what was read of it to the files of its folder and all that is to be told of them.

`read_event` says what there is to plan from; `make_event` plans it, puts it into words and has it set. Neither opens a
file nor speaks to a terminal, so that whoever has the texts may call them.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document
from foldwright.document.spelling import language_of
from foldwright.event.document.beforehand import at_the_event
from foldwright.event.document.cutting_data import cuttings_in
from foldwright.event.document.model import Occasion
from foldwright.event.document.money import currency_of
from foldwright.event.document.papers import occasion_of
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.plan.shelf import sheets_unfit
from foldwright.event.reading import EventNote, ReadEvent, told_of_shelf
from foldwright.event.remarks import event_remarks, no_letters_remarks, no_room
from foldwright.event.render.grids import Overhang
from foldwright.event.setting import Look, PaperHands, Stage, label_grid, set_event, unfit_theme
from foldwright.event.wishes import KitWish
from foldwright.finding import Wrong
from foldwright.pipeline import compose_document
from foldwright.render.paper.papers import default_paper
from foldwright.render.paper.placing import Told
from foldwright.render.photos import prepare_photos
from foldwright.render.themes import DEFAULT_THEME, built_in_themes


class MadeEvent(Struct, frozen=True):
    """`files` by name, none where they cannot be made: `wrong` or `complaints` say why. `remarks` are of the files.

    `lacking`: something is missing or does not fit, so that the folder is not all it should be.
    """

    files: Mapping[str, bytes]
    complaints: tuple[EventNote, ...] = ()
    remarks: tuple[str, ...] = ()
    wrong: tuple[Wrong, ...] = ()
    lacking: bool = False


def silent(_done: int, _all: int) -> None:
    """For who does not want to know how far the work is."""


def make_event(
    read: ReadEvent, wish: KitWish, before: bytes | None, hands: PaperHands, stage: Stage = lambda _name: silent
) -> MadeEvent:
    """Plan it, and set its papers. `before` is the `kit.json` of an earlier run, whose cutting stays where it is best.

    `hands` set papers while others are made; `stage` gives whoever is to hear how far the work of that name is.
    """
    theme = _theme(read, wish)
    unfit = hands.ask(unfit_theme, theme)
    event = plan_read(read, wish, before, stage("cutting"))
    complaints = tuple(told_of_shelf(sheets_unfit(event.sheets), [one.recipe for one in read.recipes], read.stock))
    words = catalogue(language_of(read.recipes[0].recipe.studio, event.wishes.system))
    occasion = occasion_of(wish.called, wish.on, wish.at, words)
    documents = _documents(event, read, occasion, words)
    paper = wish.paper or default_paper(event.wishes.system, documents[0].papers)
    labels = label_grid(wish.labels, event.wishes.system, paper)
    if wrong := unfit():
        return MadeEvent({}, complaints, wrong=(wrong,))
    if isinstance(labels, Overhang):
        over = no_room(labels, wish.options.labels, paper, event.wishes.system)
        return MadeEvent({}, complaints, wrong=(over,))
    look = Look(paper, labels, theme, wish.options.name_line)
    photos = [prepare_photos(one.recipe, one.given.surroundings.read)[0] for one in read.recipes]
    made = set_event(event, documents, photos, look, occasion, hands, stage)
    if made.no_letters:
        return MadeEvent({}, (*complaints, *no_letters_remarks(made.no_letters)))
    remarks = event_remarks(event, made, labels if wish.labels and wish.labels.die_cut else None)
    lacking = event.missing or any(line.lacks for line in event.shopping) or made.lacking or read.slips
    return MadeEvent(made.files, complaints, tuple(remarks), lacking=bool(lacking))


def plan_read(read: ReadEvent, wish: KitWish, before: bytes | None = None, told: Told = silent) -> Event:
    """The plan alone, with nothing in words and nothing set; arguments as those of `make_event`."""
    currency, digits = currency_of(read.money)
    system = wish.system or read.recipes[0].recipe.system
    wishes = replace(wish.plan, system=system, money=currency, digits=digits)
    known = {} if before is None else cuttings_in(before.decode("utf-8", "replace"))
    return plan_event(read.makings, wishes, read.shelf, known, read.guests, told)


def _documents(event: Event, read: ReadEvent, occasion: Occasion, words: Catalogue) -> list[Document]:
    """The recipes' documents at the event, where what is cut beforehand is not told again."""
    documents = []
    for one, making, done in zip(read.recipes, event.makings, event.beforehand, strict=True):
        whole = compose_document(one.understood, one.findings, one.texts.by_name, event.wishes.system)
        documents.append(at_the_event(whole, making.understood, done, occasion.line, words))
    return documents


def _theme(read: ReadEvent, wish: KitWish) -> str:
    """The look that was asked for, else the studio's own if it is one of ours."""
    said = read.recipes[0].recipe.studio.theme
    return wish.options.theme or (said.value if said and said.value in built_in_themes() else DEFAULT_THEME)
