"""Made-up entries, and the studio they belong to. Not a test."""

from __future__ import annotations

from datetime import date
from random import Random

from foldwright.document.words import Both
from foldwright.finding import Place
from foldwright.library.making import LibraryWish
from foldwright.outputs.entry import Cut, CutFrom, Entry, Left, SheetOf
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.model import Studio

TODAY = date(2026, 11, 30)
ADDRESS = "https://harbourstreet.example"


def studio(facts: str = f"address: {ADDRESS}") -> Studio:
    return read_studio(f"studio: Harbour Street Paper Studio\nauthor: The Tuesday table\n{facts}\n", "studio.yaml")[0]


def wish(facts: str = f"address: {ADDRESS}", stock: str | None = None) -> LibraryWish:
    return LibraryWish(studio(facts), "harbour", TODAY, stock)


def entry(slug: str, published: str = "2026-03-20", **more: object) -> Entry:
    """A recipe that says where each of its facts stands: every one at a place of its own in its text."""
    tags, was = more.get("tags", ()), more.get("was", ())
    assert isinstance(tags, tuple) and isinstance(was, tuple)
    names = ["published", *(f"tag {tag}" for tag in tags), *(f"was {name}" for name in was)]
    given: dict[str, object] = {
        "title": slug.replace("-", " ").capitalize(),
        "file": f"{slug}/recipe.md",
        "written": slug,
        "address": f"{ADDRESS}/{slug}/tutorial.html",
        "places": {name: Place(f"{slug}/recipe.md", at * 10, at * 10 + 5) for at, name in enumerate(names)},
    }
    return Entry(slug=slug, published=published, **{**given, **more})  # type: ignore[arg-type]


def paper(cuts: list[Cut], left: list[Left], kind: str = "cardstock", grams: int = 220) -> CutFrom:
    sheets = tuple(SheetOf(one.sheet, "210", "297") for one in left)
    weight = f"{grams} g/m²"
    return CutFrom("blue card", kind, grams, Both(weight, weight), sheets, tuple(cuts), tuple(left))


def library(random: Random, count: int) -> list[Entry]:
    """So many recipes, each cut from one paper, with little numbers that often just fit."""
    return [_one(random, number) for number in range(count)]


def _one(random: Random, number: int) -> Entry:
    def side() -> str:
        return str(random.randint(1, 6))

    def grain() -> str:
        return random.choice(["", "", "across", "down"])

    cuts = [Cut(side(), side(), random.randint(1, 2), grain(), random.random() < 0.2)]
    left = [Left("A4", side(), side(), 1, grain()) for _ in range(random.randint(0, 2))]
    kind, grams = random.choice([("cardstock", 220), ("cardstock", 270), ("paper", 0)])
    return entry(f"box-{number}", cut_from=(paper(cuts, left, kind, grams),))
