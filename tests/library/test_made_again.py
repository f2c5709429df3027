"""A library made again: what comes of changes is what is made from nothing, and no page that stays the same is set."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from random import Random

from msgspec.structs import replace

from foldwright.library import offcuts
from foldwright.library.made_from import MadeFrom
from foldwright.library.making import LibraryWish, MadeLibrary, make_library
from foldwright.outputs.entry import Entry, EntryPicture, Need, PictureSize
from library.made_up import TODAY, entry, library, studio
from workbench.long import tries

type Changed = tuple[list[Entry], LibraryWish]
_TAGS = ("gift", "Gift", "spring", "box", "crème", "creme")


def _shown(dice: Random) -> EntryPicture:
    width = dice.choice((320, 640))
    return EntryPicture((PictureSize(f"photo-{width}.jpg", width, 240),), f"A box, {dice.randrange(9)}")


def _one(known: list[Entry], dice: Random, **facts: object) -> list[Entry]:
    at = dice.randrange(len(known))
    return [replace(one, **facts) if place == at else one for place, one in enumerate(known)]


def _renamed(known: list[Entry], dice: Random) -> list[Entry]:
    at, name = dice.randrange(len(known)), f"name-{dice.randrange(10**6)}"
    one = known[at]
    address = one.address.replace(f"/{one.slug}/", f"/{name}/")
    known[at] = replace(one, slug=name, written=name, address=address, was=(one.slug, *one.was))
    return known


CHANGES: Mapping[str, Callable[[list[Entry], Random], list[Entry]]] = {
    "a word": lambda known, dice: _one(known, dice, summary=f"A word: {dice.randrange(99)}."),
    "a title": lambda known, dice: _one(known, dice, title=f"Box {dice.randrange(99)}"),
    "tags": lambda known, dice: _one(known, dice, tags=tuple(dice.sample(_TAGS, dice.randint(0, 3)))),
    "a season": lambda known, dice: _one(known, dice, seasons=dice.choice(((), ("spring",), ("winter",)))),
    "a level": lambda known, dice: _one(known, dice, level=dice.choice(("", "easy", "some practice"))),
    "minutes": lambda known, dice: _one(known, dice, minutes=dice.randrange(200)),
    "a supply": lambda known, dice: _one(known, dice, needs=(Need(f"thread {dice.randrange(5)}"),)),
    "a picture": lambda known, dice: _one(known, dice, picture=_shown(dice)),
    "a day": lambda known, dice: _one(known, dice, published=str(TODAY + timedelta(dice.randint(-90, 9)))),
    "unlisted": lambda known, dice: _one(known, dice, listed=False, unlisted="draft"),
    "listed": lambda known, dice: _one(known, dice, listed=True, unlisted=""),
    "a piece": lambda known, dice: _one(known, dice, cut_from=library(dice, 1)[0].cut_from),
    "another name": _renamed,
    "a new one": lambda known, dice: [*known, entry(f"new-{dice.randrange(10**6)}", str(TODAY))],
    "one less": lambda known, dice: [*known[:3], *known[4:]],
    "an order": lambda known, dice: dice.sample(known, len(known)),
    "places": lambda known, dice: _one(known, dice, places={}),
    "words": lambda known, dice: _one(known, dice, words=(f"glitter{dice.randrange(9)}",)),
}
WISHES: Mapping[str, Callable[[LibraryWish, Random], LibraryWish]] = {
    "a look": lambda wish, dice: replace(wish, theme=dice.choice(("harbour", "almanac"))),
    "the studio": lambda wish, dice: replace(wish, studio=studio(dice.choice(("", "address: https://paper.example")))),
    "another day": lambda wish, _dice: replace(wish, today=wish.today + timedelta(1)),
    "a shelf": lambda wish, dice: replace(wish, stock=dice.choice((None, "blue card: 3 sheets\n"))),
}


def _again(made: MadeLibrary, last: MadeLibrary) -> MadeLibrary:
    """What stands once this was laid where the last one stood."""
    files = {**{path: last.files[path] for path in made.same_files}, **made.files}
    insets = {**{slug: last.insets[slug] for slug in made.same_insets}, **made.insets}
    return replace(made, files=files, insets=insets, same_files=frozenset(), same_insets=frozenset())


def test_after_any_changes_it_is_what_is_made_from_nothing() -> None:
    dice = Random(31)
    known, wish = library(dice, 40), LibraryWish(studio(), "harbour", date(2026, 11, 30))
    last, done = make_library(known, wish), list[str]()
    for _ in range(tries(25, 1000)):
        for name in dice.sample([*CHANGES, *WISHES], dice.randint(1, 2)):
            done.append(name)
            if name in CHANGES:
                known = CHANGES[name](known, dice)
            else:
                wish = WISHES[name](wish, dice)
        made, whole = make_library(known, wish, last.made_from), make_library(known, wish)
        assert made.same_files.isdisjoint(made.files)
        last = _again(made, last)
        assert last.files == whole.files, done
        assert last.insets == whole.insets, done
        assert (last.findings, last.made_from) == (whole.findings, whole.made_from), done


def test_only_pages_that_come_out_otherwise_are_set() -> None:
    """A page and an inset are set where their bytes differ, and nowhere else."""
    dice = Random(32)
    wish = LibraryWish(studio(), "harbour", TODAY)
    known = [replace(one, tags=(f"tag {at % 7}",)) for at, one in enumerate(library(dice, 60))]
    first = make_library(known, wish)
    pages = first.made_from.files.keys()
    known[20] = replace(known[20], summary="Another word.")
    made, whole = make_library(known, wish, first.made_from), make_library(known, wish)
    otherwise = {path for path in pages if whole.files[path] != first.files[path]}
    assert pages & made.files.keys() == otherwise
    assert {"tags/tag-6/index.html"} < otherwise < set(pages)
    assert made.insets.keys() == {slug for slug, inset in whole.insets.items() if inset != first.insets[slug]}
    assert make_library(known, wish, whole.made_from).insets == {}


def test_offcuts_are_tried_again_only_where_a_recipe_names_or_cuts_something_else() -> None:
    dice = Random(33)
    known = library(dice, 30)
    found, key, uses = offcuts.same_sheets_as(known, MadeFrom())
    assert any(found.values())
    before = MadeFrom(sheets_key=key, sheets=uses)
    reworded = [replace(one, summary="Another word.") for one in known]
    again, same, kept = offcuts.same_sheets_as(reworded, before)
    assert (same, kept) == (key, uses)
    assert again == offcuts.same_sheets(reworded)
    other = [replace(known[0], cut_from=()), *known[1:]]
    assert offcuts.same_sheets_as(other, before)[0] == offcuts.same_sheets(other)
