"""A small made-up library, for tests that look at its pages. Not a test."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from itertools import cycle, islice
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.finding import Place, Said
from foldwright.library.making import LibraryWish, MadeLibrary, make_library
from foldwright.outputs.entry import Entry, EntryPicture, Need, PictureSize, key_of
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.model import Studio

if TYPE_CHECKING:
    from playwright.sync_api import Page

ADDRESS = "https://harbourstreet.example/library"
TODAY = date(2026, 11, 30)
_STUDIO = f"studio: Harbour Street Paper Studio\npapers: letter, A4\naddress: {ADDRESS}\n"
_PICTURE = EntryPicture((PictureSize("finished.svg", 320, 240),), "The finished thing")
DRAWING = b'<svg xmlns="http://www.w3.org/2000/svg" width="320" height="240"><path d="M9 9H99V99Z"/></svg>'


# Title | summary | level | minutes | tags | seasons | form | paper | needs | day.
_ROWS = """
Birdhouse favour box | Holds three caramels. | easy | 25 | favours, wedding | spring | tray | cardstock | charcoal card, strong tape, cotton twine | 2026-03-01
Twine tag | A tag for a gift. | beginner | 10 | tags, quick | | flat | cardstock | kraft card, cotton twine | 2026-11-20
Pop-up star card | A star stands up in it. | moderate | 75 | cards | winter, Easter | folded card | cardstock | white card, strong tape | 2026-11-27
Bird’s nest basket | Woven of strips. | advanced | 140 | Easter, baskets | spring | tray | vellum | vellum, strong tape, satin ribbon | 2026-04-01
Crème brûlée box | For a little cup. | easy | 40 | favours | | tray | cardstock | white card, cotton twine | 2026-05-05
Lantern | Glows with a small light. | moderate | 60 | lights | autumn | sleeve | vellum | vellum, charcoal card, strong tape | 2026-10-01
Drawer box | Slides open. | moderate | 55 | boxes | | sleeve | patterned card | gingham card, strong tape, satin ribbon | 2026-06-01
Concertina booklet | Six pages from a strip. | easy | 30 | books, quick | | accordion | cardstock | kraft card | 2026-07-01
Gable box | Carries cakes home. | easy | 35 | boxes, favours | summer | gable-top box | cardstock | kraft card, cotton twine | 2026-08-01
Snow star garland | Stars on a line. | beginner | 20 | winter | winter | flat | cardstock | white card, cotton twine, brads | 2026-11-27
Seed packet | Keeps seeds dry. | beginner | 0 | garden | spring | envelope | cardstock | kraft card, strong tape | 2026-02-14
Letter rack | | | 90 | | | case | cardstock | | 2026-01-01
"""  # noqa: E501
_KINDS = {
    "charcoal card": "cardstock",
    "kraft card": "cardstock",
    "white card": "cardstock",
    "gingham card": "patterned card",
    "strong tape": "double-sided tape",
    "cotton twine": "twine",
    "satin ribbon": "ribbon",
}


def entries() -> tuple[Entry, ...]:
    """Twelve that are listed, one of them without a picture, and one that is not."""
    listed = [_entry(*(part.strip() for part in row.split("|"))) for row in _ROWS.strip().splitlines()]
    return (*listed, replace(listed[0], slug="secret", title="Secret box", published="", listed=False))


def many(count: int) -> tuple[Entry, ...]:
    """The same over and over, each under a name of its own."""
    known = cycle(entry for entry in entries() if entry.listed)
    numbered = enumerate(islice(known, count))
    return tuple(replace(entry, slug=f"recipe-{number}", title=f"{entry.title} {number}") for number, entry in numbered)


def hostile(words: Sequence[str]) -> tuple[Entry, ...]:
    """An entry to each of these words, which stand in every text of it."""
    return tuple(
        Entry(
            slug=f"recipe-{number}",
            title=word,
            summary=word,
            level=word,
            minutes=5,
            tags=(word,),
            seasons=(word,),
            forms=(word,),
            papers=(word,),
            needs=(Need(word, (word,), key=key_of(word), kind=word),),
            picture=EntryPicture((PictureSize("finished.svg", 320, 240),), word),
            published="2026-01-01",
        )
        for number, word in enumerate(words)
    )


def _entry(
    title: str,
    summary: str,
    level: str,
    minutes: str,
    tags: str,
    seasons: str,
    form: str,
    paper: str,
    needs: str,
    day: str,
) -> Entry:
    return Entry(
        slug=title.lower().replace(" ", "-").replace("’", ""),
        title=title,
        summary=summary,
        level=level,
        minutes=int(minutes),
        tags=_row(tags),
        seasons=_row(seasons),
        forms=(form,),
        papers=(paper,),
        needs=tuple(map(_need, _row(needs))),
        picture=_PICTURE if title != "Letter rack" else None,
        published=day,
    )


def _need(name: str) -> Need:
    """Tape may be glue, and a ribbon need not be."""
    instead = ("wet glue",) if name == "strong tape" else ()
    return Need(name, instead, optional=name == "satin ribbon", key=key_of(name), kind=_KINDS.get(name, name))


def _row(text: str) -> tuple[str, ...]:
    return tuple(text.split(", ")) if text else ()


def studio(address: str = ADDRESS) -> Studio:
    """The studio of our scenario, published at an address."""
    read, findings = read_studio(_STUDIO, "studio.yaml")
    assert not findings
    return replace(read, address=Said(address, Place("studio.yaml", 0, 0)) if address else None)


def made(
    known: Sequence[Entry], theme: str = "harbour", stock: str | None = None, address: str = ADDRESS
) -> MadeLibrary:
    """Their library."""
    return make_library(known, LibraryWish(studio(address), theme, TODAY, stock))


def written(library: MadeLibrary, known: Sequence[Entry], folder: Path) -> Path:
    """The library in a folder, with a page for each recipe that holds what it says of others."""
    files: dict[str, bytes] = {**library.files, **_recipes(known, library.insets)}
    for path, data in files.items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data)
    return folder


def _recipes(known: Sequence[Entry], insets: Mapping[str, str]) -> dict[str, bytes]:
    found = {}
    for entry in known:
        inset = insets.get(entry.slug, "")
        page = f'<!doctype html><html lang="en"><meta charset="utf-8"><title>A recipe</title><body>{inset}'
        found[f"{entry.slug}/tutorial.html"] = page.encode()
        found[f"{entry.slug}/finished.svg"] = DRAWING
    return found


def titles_seen(page: Page) -> list[str]:
    """The titles of the cards that are seen."""
    return [text for text in page.locator(".cards:visible h3").all_inner_texts() if text]
