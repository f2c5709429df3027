"""The list of guests of an event: read, told of, and counted."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

from foldwright.cli.telling import Teller
from foldwright.event.facts.guests import MOST_GUEST_BYTES, Guest, chosen, read_guests
from foldwright.event.facts.projects import Offered
from foldwright.event.plan.planning import Event
from foldwright.finding import Strength
from foldwright.outputs.sizes import AS_WRITTEN
from foldwright.outputs.sources import Source, slug_of
from foldwright.recipe.model import Recipe
from foldwright.surroundings import Folder, Refusal


class GuestList(Struct, frozen=True):
    """`unreadable` when there is no list to go on with; `slips` when somebody in it was left out or not understood."""

    guests: tuple[Guest, ...] = ()
    unreadable: bool = False
    slips: bool = False


def offered_of(planned: Sequence[tuple[Source, Recipe]]) -> tuple[Offered, ...]:
    """The names by which guests may ask for what is planned."""
    whole = {source.path: recipe.title.value for source, recipe in planned if not source.size}
    return tuple(_offered(source, recipe, whole.get(source.path, "")) for source, recipe in planned)


def _offered(source: Source, recipe: Recipe, written: str) -> Offered:
    """`written` is the title of the same recipe as it is written: it names every size alike."""
    own = next((size.name.value for size in recipe.sizes if size.as_written), AS_WRITTEN)
    size = source.size or (own if recipe.sizes else "")
    folder = source.slug.removesuffix(f"-{slug_of(source.size)}") if source.size else source.slug
    return Offered(folder, tuple(filter(None, (recipe.title.value, source.slug, folder, written))), size)


def guests_named(path: str, offered: tuple[Offered, ...], complaints: Teller) -> GuestList:
    if not path:
        return GuestList()
    file = Path(path)
    # One byte more than is read of a list, which then says itself that it is too large.
    data = Folder(file.parent).read(file.name, MOST_GUEST_BYTES + 1)
    if data is Refusal.TOO_LARGE:
        data = bytes(MOST_GUEST_BYTES + 1)
    if isinstance(data, Refusal):
        complaints.words("kit.no-file", path=path)
        return GuestList(unreadable=True)
    read = read_guests(data, path, offered)
    if read.findings:
        complaints.findings(read.findings, {path: read.text})
    slips = any(one.strength > Strength.THOUGHT for one in read.findings)
    return GuestList(read.guests.guests, slips=slips) if read.guests else GuestList(unreadable=True)


def kits_of(
    asked: tuple[int, ...], guests: Sequence[Guest], offered: Sequence[Offered], complaints: Teller
) -> tuple[int, ...] | None:
    """How many kits of each recipe: as asked, or as many as guests make it; None when the list does not say that."""
    if asked:
        return asked
    counts = chosen(guests, len(offered))
    without = tuple(guest.name for guest in guests if guest.recipe is None)
    if without:
        complaints.words("kit.guests-without", count=len(without), names=without[:_NAMED])
    unwanted = tuple(one.names[0] for one, count in zip(offered, counts, strict=True) if not count)
    if unwanted and not without:
        complaints.words("kit.guests-unwanted", titles=unwanted)
    return None if without or unwanted else counts


_NAMED = 5
"""As many guests are named in a message."""


def say_guests(event: Event) -> None:
    """What does not agree between the list and the kits that were asked for."""
    if not event.guests:
        return
    teller = Teller()
    counts = chosen(event.guests, len(event.makings))
    if len(event.makings) > 1 and any(counts):
        for making, count in zip(event.makings, counts, strict=True):
            if count != making.kits:
                title = making.understood.recipe.title.value
                teller.words("kit.chosen-differ", count=count, title=title, kits=making.kits)
    elif len(event.guests) != event.people:
        teller.words("kit.names-differ", names=len(event.guests), people=event.people)
