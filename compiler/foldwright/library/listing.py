"""Which recipes a library lists on a day, and how its recipes go by their old names."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from urllib.parse import quote

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Strength
from foldwright.outputs.entry import Entry
from foldwright.outputs.model import PAGE
from foldwright.render.web.onward import onward


def as_of(entries: Sequence[Entry], today: date) -> tuple[Entry, ...]:
    """The recipes, each once whatever its sizes, with what is not to be listed on that day marked.

    A recipe that is built in some of its sizes alone goes by the first of them.
    """
    found: dict[str, Entry] = {}
    for entry in entries:
        known = found.get(entry.written or entry.slug)
        if known is None or (known.size and not entry.size):
            found[entry.written or entry.slug] = entry
    return tuple(_on(entry, today) for entry in found.values())


def _on(entry: Entry, today: date) -> Entry:
    later = entry.listed and entry.published > today.isoformat()
    return replace(entry, listed=False, unlisted="later") if later else entry


def unlisted(entries: Sequence[Entry]) -> frozenset[str]:
    """The folders of the pages that no list leads to, those of sizes too."""
    left_out = [entry for entry in entries if not entry.listed]
    return frozenset(slug for entry in left_out for slug in (entry.slug, *(size.slug for size in entry.sizes)))


def updated(entry: Entry) -> str:
    """The day of its last change, as ISO 8601 has it: that of its publication, if it says no other."""
    return max(entry.published, entry.revised)


# --- old names --------------------------------------------------------------------------------------------------------


class OldName(Struct, frozen=True):
    """A name that a folder had, and the recipe it leads to."""

    name: str
    entry: Entry


def old_names(entries: Sequence[Entry], taken: Collection[str]) -> tuple[tuple[OldName, ...], tuple[Finding, ...]]:
    """The old names that lead on, and what is the matter with the others. `taken` are folders of the library's own."""
    slugs = {entry.slug: entry for entry in entries} | {size.slug: entry for entry in entries for size in entry.sizes}
    found: list[OldName] = []
    led: dict[str, Entry] = {}
    findings = []
    for entry in entries:
        for name in entry.was:
            place = entry.places.get(f"was {name}")
            every = [old for old, _ in _ways_on(OldName(name, entry))]
            if theirs := next((one for one in every if one in slugs), ""):
                facts = {"said": theirs, "other": slugs[theirs].title}
                findings.append(Finding.of("was-taken", Strength.MISFIT, place, **facts))
            elif theirs := next((one for one in every if one in taken), ""):
                findings.append(Finding.of("was-of-the-library", Strength.MISFIT, place, said=theirs))
            elif theirs := next((one for one in every if one in led), ""):
                findings.append(Finding.of("was-twice", Strength.MISFIT, place, said=theirs, other=led[theirs].title))
            else:
                found.append(OldName(name, entry))
                led |= dict.fromkeys(every, entry)
    return tuple(found), tuple(findings)


def _ways_on(one: OldName) -> Iterator[tuple[str, str]]:
    """The old and the new name of the folder of the recipe, and of its sizes."""
    entry = one.entry
    for slug in (entry.slug, *(size.slug for size in entry.sizes)):
        yield f"{one.name}{slug.removeprefix(entry.slug)}", slug


def redirects(names: Sequence[OldName]) -> dict[str, bytes]:
    """A page at each old address, of the recipe and of its sizes, that leads to the new one."""
    return dict(page for one in names for page in _redirects(one))


def _redirects(one: OldName) -> Iterator[tuple[str, bytes]]:
    entry = one.entry
    for old, slug in _ways_on(one):
        address = entry.address.replace(f"/{entry.slug}/", f"/{slug}/")
        page = onward(entry.title, f"../{quote(slug)}/{PAGE}", address, entry.language)
        yield f"{old}/index.html", page
        yield f"{old}/{PAGE}", page


def first_names(names: Sequence[OldName]) -> Mapping[str, str]:
    """By slug, the oldest of a recipe's names: the first that is said."""
    found: dict[str, str] = {}
    for one in names:
        found.setdefault(one.entry.slug, one.name)
    return found
