"""How a library lists a recipe: its tags and seasons, the day it is published, what its folder was called before."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from foldwright.recipe.facts.addresses import address_of, slug_of
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.days import day_of, only_day_in
from foldwright.recipe.facts.known import Fact
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import row_of, said_value, text_of, without_bullet
from foldwright.recipe.model import Said
from foldwright.vocabulary.seasons import season_of

LISTING_WORDS = "tags: tag; season: seasons; published: publish; was: formerly, used to be"
_LONGEST_NAME = 200
"""Bytes. File systems take 255 for a name, of which a size and what is hidden while it is written need some."""
_BETWEEN_TAGS = re.compile(r"\s*[,;\n]\s*")


class Listing(Struct, frozen=True):
    """What a recipe says of its place in a library."""

    tags: tuple[Said[str], ...] = ()
    seasons: tuple[Said[str], ...] = ()
    published: Said[date] | None = None
    was: tuple[Said[str], ...] = ()


def listing_of(facts: Mapping[str, Fact], slug: str, complaints: Complaints) -> Listing:
    """The facts of a recipe whose folder is `slug`."""
    return Listing(
        tags=_tags(said_value(facts.get("tags"), complaints), complaints),
        seasons=_seasons(said_value(facts.get("season"), complaints)),
        published=_day(text_of(facts.get("published"), complaints), complaints),
        was=_old_names(said_value(facts.get("was"), complaints), slug, complaints),
    )


def _row(value: Phrase | None) -> tuple[Phrase, ...]:
    """What stands between commas, or on lines of its own; `and` may be part of a name here."""
    parts = value.split_outside_brackets(_BETWEEN_TAGS) if value else ()
    return tuple(without_bullet(part) for part in parts if part.text)


def _tags(value: Phrase | None, complaints: Complaints) -> tuple[Said[str], ...]:
    """The tags by their names, each once; `#spring` is `spring`."""
    found: dict[str, Said[str]] = {}
    for part in _row(value):
        name = " ".join(part.plain.lstrip("#").split())
        if not address_of(name):
            complaints.thought("tag-without-letters", part)
            continue
        found.setdefault(name.casefold(), Said(name, part.place))
    return tuple(found.values())


def _seasons(value: Phrase | None) -> tuple[Said[str], ...]:
    """Seasons of the year by one name, feasts as they are written."""
    found: dict[str, Said[str]] = {}
    for part in row_of(value):
        name = season_of(part.plain)
        found.setdefault(name.casefold(), Said(name, part.place))
    return tuple(found.values())


def _day(said: Said[str] | None, complaints: Complaints) -> Said[date] | None:
    """The day; what is none is asked about, and then the recipe is listed on no day."""
    if said is None:
        return None
    if day := day_of(said.value):
        return Said(day, said.place)
    if meant := only_day_in(said.value):
        complaints.thought("published-meant", said.place, said=said.value, meant=meant.isoformat())
    else:
        complaints.thought("published-no-day", said.place, said=said.value)
    return None


def _old_names(value: Phrase | None, slug: str, complaints: Complaints) -> tuple[Said[str], ...]:
    """Names of the folder it had, as they stand in addresses."""
    found: dict[str, Said[str]] = {}
    for part in _row(value):
        name = part.plain.strip("/")
        if not address_of(name) or "/" in name or "\\" in name or len(name.encode()) > _LONGEST_NAME:
            complaints.thought("was-no-name", part)
        elif slug_of(name) == slug:
            complaints.thought("was-itself", part)
        else:
            found.setdefault(slug_of(name), Said(slug_of(name), part.place))
    return tuple(found.values())
