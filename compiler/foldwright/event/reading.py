"""What an event is made from, read: recipes, the studio's shelf and the list of guests, and how many kits of each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.catalogue import catalogue
from foldwright.event.facts.guests import Guest, chosen, read_guests
from foldwright.event.facts.projects import Offered
from foldwright.event.facts.stock import Shelf, ShelfLine, read_stock
from foldwright.event.plan.apart import APART, Planned, recipes_apart, shelf_apart, supplies_apart
from foldwright.event.plan.model import Making, WorkedRecipe
from foldwright.event.plan.planning import kits_needed
from foldwright.event.plan.shelf import met_by
from foldwright.event.plan.supplies import SameAs, SupplyNames, allergens_united, same_names, supplies_of
from foldwright.event.wishes import KitWish
from foldwright.finding import Finding, LineTable, Strength, Wrong
from foldwright.mending.mends import with_mends
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import AS_WRITTEN
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Understood, unhushed
from foldwright.recipe.facts.moneys import first_sign, is_money, moneys_apart
from foldwright.recipe.facts.source import decode
from foldwright.recipe.model import Recipe
from foldwright.surroundings import Surroundings

_NAMED = 5
"""As many guests are named in a message."""


class ListFile(Struct, frozen=True):
    """A shelf or a list of guests as it is called, and its bytes; None where it cannot be read."""

    name: str
    data: bytes | None


class FoundInText(Struct, frozen=True):
    """Findings, the texts they speak of by name, and what files are shown as where that is not their name."""

    findings: tuple[Finding, ...]
    texts: Mapping[str, str]
    shown: Mapping[str, str] = {}


type EventNote = FoundInText | str
"""What is told of an event: findings with their texts, or a sentence."""


class GivenRecipe(Struct, frozen=True):
    """A recipe as it is handed over: its texts, what may be read beside them, and which of its sizes is meant.

    All sizes of a recipe are of one `project`, whose name in addresses is `folder`. As it is written, `size` is empty.
    """

    texts: Texts
    surroundings: Surroundings
    project: str
    folder: str
    size: str = ""


class EventRecipe(Struct, frozen=True):
    """A recipe that may be planned."""

    given: GivenRecipe
    understood: Understood
    findings: tuple[Finding, ...]

    @property
    def texts(self) -> Texts:
        return self.given.texts

    @property
    def recipe(self) -> Recipe:
        return self.understood.recipe


class ReadEvent(Struct, frozen=True):
    """All that an event is planned from. `slips`: somebody in the list of guests was left out or not understood."""

    recipes: tuple[EventRecipe, ...]
    makings: tuple[Making, ...]
    shelf: Mapping[str, ShelfLine]
    stock: Mapping[str, str]
    """The text of the shelf by the name of its file, for what is found in it later."""
    guests: tuple[Guest, ...]
    money: str
    slips: bool

    @property
    def slug(self) -> str:
        """What the folder of the event is called."""
        return "event-" + "-".join(one.texts.slug for one in self.recipes)

    @property
    def misfit(self) -> bool:
        """Whether a recipe has something that will not fit; it is planned all the same."""
        return any(finding.strength > Strength.THOUGHT for one in self.recipes for finding in one.findings)


class EventReading(Struct, frozen=True):
    """`event` is None where nothing can be planned; `told` says why, or `wrong` what is wrong with the call."""

    event: ReadEvent | None
    told: tuple[EventNote, ...] = ()
    wrong: tuple[Wrong, ...] = ()


def read_recipes(recipes: Iterable[GivenRecipe]) -> tuple[tuple[EventRecipe, ...], tuple[EventNote, ...]]:
    """The recipes, none where one cannot be planned; and what is told of them. Thoughts are `check`'s affair."""
    ready: list[EventRecipe] = []
    told: list[EventNote] = []
    broken = False
    for given in recipes:
        found = check_texts(given.texts, given.surroundings, given.size)
        if serious := tuple(one for one in found.findings if one.strength > Strength.THOUGHT):
            told.append(FoundInText(serious, given.texts.by_name, given.texts.shown))
        unplanned = any(one.strength is Strength.FAULT or one.code in APART for one in found.findings)
        if found.understood is None or unplanned:
            broken = True
        else:
            ready.append(EventRecipe(given, found.understood, found.findings))
    return ((), (*told, say("not-planned"))) if broken else (tuple(ready), tuple(told))


def read_event(
    recipes: Sequence[EventRecipe], stock: ListFile | None, guests: ListFile | None, wish: KitWish
) -> EventReading:
    """Recipes, shelf and guests as an event that can be planned, and everything that is the matter with them."""
    money = _money([one.recipe for one in recipes], wish)
    if isinstance(money, Wrong):
        return EventReading(None, wrong=(money,))
    reader = _EventReader(recipes, money, wish)
    event = reader.event(stock, guests)
    return EventReading(event, tuple(reader.told if event else [*reader.told, say("not-planned")]))


class _EventReader:
    """Reads one thing after the other, and goes on where something is wrong, so that all of it is told at once."""

    def __init__(self, recipes: Sequence[EventRecipe], money: str, wish: KitWish) -> None:
        self.told: list[EventNote] = []
        self._ready, self._money, self._wish = list(recipes), money, wish
        self._recipes = [one.recipe for one in recipes]
        self._planned = [Planned(one.recipe, LineTable(one.texts.text or "")) for one in recipes]
        self._stock: dict[str, str] = {}

    def event(self, stock: ListFile | None, guests: ListFile | None) -> ReadEvent | None:
        """The event; None where it cannot be planned."""
        shelf = self._shelf(stock)
        same = same_names(shelf.lines) if shelf else {}
        apart = [
            *moneys_apart(self._recipes, self._money),
            *recipes_apart(self._planned, SupplyNames(self._recipes, same).key),
        ]
        self._tell_in_recipes(apart)
        offered = _offered(self._ready)
        invited, slips = self._guests(guests, offered)
        kits = self._kits(invited or (), offered)
        if shelf is None or invited is None or kits is None or apart:
            return None
        makings = self._makings(kits, same)
        lines = self._met(shelf, makings, same)
        if lines is None:
            return None
        return ReadEvent(tuple(self._ready), tuple(makings), lines, self._stock, invited, self._money, slips)

    def _shelf(self, stock: ListFile | None) -> Shelf | None:
        """What is owned; None where the file cannot be read or is wrong."""
        if stock is None:
            return Shelf((), "")
        if stock.data is None:
            self.told.append(say("no-file", path=stock.name))
            return None
        text, findings = decode(stock.data, stock.name)
        self._stock = {stock.name: text or ""}
        shelf, more = read_stock(text, stock.name) if text is not None else (None, ())
        self._tell((*findings, *more), self._stock)
        return None if any(one.strength > Strength.THOUGHT for one in (*findings, *more)) else shelf

    def _guests(self, guests: ListFile | None, offered: tuple[Offered, ...]) -> tuple[tuple[Guest, ...] | None, bool]:
        """Who is invited, None where there is no list to go on with; and whether anybody was left out of it."""
        if guests is None:
            return (), False
        if guests.data is None:
            self.told.append(say("no-file", path=guests.name))
            return None, False
        read = read_guests(guests.data, guests.name, offered)
        self._tell(read.findings, {guests.name: read.text})
        slips = any(one.strength > Strength.THOUGHT for one in read.findings)
        return read.guests, slips

    def _kits(self, guests: Sequence[Guest], offered: Sequence[Offered]) -> tuple[int, ...] | None:
        """How many kits of each recipe: as asked, or as many as guests make it; None if they do not say."""
        if self._wish.kits:
            return self._wish.kits
        counts = chosen(guests, len(offered))
        without = tuple(guest.name for guest in guests if guest.recipe is None)
        if without:
            self.told.append(say("guests-without", count=len(without), names=without[:_NAMED]))
        unwanted = tuple(one.names[0] for one, count in zip(offered, counts, strict=True) if not count)
        if unwanted and not without:
            self.told.append(say("guests-unwanted", titles=unwanted))
        return None if without or unwanted else counts

    def _makings(self, kits: Sequence[int], same: SameAs) -> list[Making]:
        """Each recipe with how many of it are made; of one supply all of them know what any says it contains."""
        wish, system = self._wish, self._wish.system or self._recipes[0].system
        makings = []
        for one, count in zip(self._ready, kits, strict=True):
            worked = WorkedRecipe(one.recipe, one.understood.flat, one.understood.times)
            spare = kits_needed(count, wish.spare)
            makings.append(Making(worked, one.understood.figures[system], count, spare, wish.samples))
        self._tell_in_recipes(supplies_apart(makings, self._planned, same))
        united = allergens_united(self._recipes, same)
        self._ready = [_with(one, recipe) for one, recipe in zip(self._ready, united, strict=True)]
        return [_with(one, recipe) for one, recipe in zip(makings, united, strict=True)]

    def _met(self, shelf: Shelf, makings: Sequence[Making], same: SameAs) -> Mapping[str, ShelfLine] | None:
        """The lines of the shelf by what they are of; None where one cannot be added up with what a recipe says."""
        tools = [tool.name.value for recipe in self._recipes for tool in recipe.tools]
        met = met_by(shelf, supplies_of(makings, same), tools, same)
        uses = [(line, need.recipe, need.supply) for line, one in met.supplies for need in one.needs]
        unmet = shelf_apart(uses, self._planned)
        self.told += told_of_shelf((*met.findings, *unmet), self._recipes, self._stock)
        return None if unmet else met.lines

    def _tell(self, findings: tuple[Finding, ...], texts: Mapping[str, str]) -> None:
        if findings:
            self.told.append(FoundInText(tuple(with_mends(findings, texts)), texts))

    def _tell_in_recipes(self, found: Sequence[tuple[int, Finding]]) -> None:
        """Findings, each by the number of the recipe in whose text it stands."""
        for number, one in enumerate(self._ready):
            if mine := tuple(finding for each, finding in found if each == number):
                mended = with_mends(mine, one.texts.by_name, one.texts.name)
                self.told.append(FoundInText(tuple(mended), one.texts.by_name, one.texts.shown))


def told_of_shelf(
    findings: Iterable[Finding], recipes: Iterable[Recipe], texts: Mapping[str, str]
) -> Iterator[FoundInText]:
    """What shelf and recipes make of each other, if anything; a thought that any recipe hushes is not told."""
    for recipe in recipes:
        findings = unhushed(findings, recipe)
    if kept := tuple(with_mends(findings, texts)):
        yield FoundInText(kept, texts)


def _money(recipes: Sequence[Recipe], wish: KitWish) -> str | Wrong:
    """What all prices are in, empty where no studio says it; wrong where a fee or a cost is said in other money."""
    moneys = dict.fromkeys(recipe.studio.money.value if recipe.studio.money else "" for recipe in recipes)
    if len(moneys) > 1:
        return Wrong.of("kit-moneys", known=tuple(money or "–" for money in moneys))
    money = next(iter(moneys))
    first = money or first_sign(recipes)
    for option, text, sign in wish.sums:
        first = first or sign
        if sign and not is_money(sign, first):
            return Wrong.of("kit-other-money", option=option, said=text, sign=sign, money=first)
    return money


def _with[T: (EventRecipe, Making)](one: T, recipe: Recipe) -> T:
    """The same of a recipe of which more is known."""
    return replace(one, understood=replace(one.understood, recipe=recipe))


def _offered(recipes: Sequence[EventRecipe]) -> tuple[Offered, ...]:
    """The names by which guests may ask for what is planned."""
    whole = {one.given.project: one.recipe.title.value for one in recipes if not one.given.size}
    return tuple(_offer(one.given, one.recipe, whole.get(one.given.project, "")) for one in recipes)


def _offer(given: GivenRecipe, recipe: Recipe, written: str) -> Offered:
    """`written` is the title of the same recipe as it is written: it names every size alike."""
    own = next((size.name.value for size in recipe.sizes if size.as_written), AS_WRITTEN)
    names = (recipe.title.value, given.texts.slug, given.folder, written)
    return Offered(given.folder, tuple(filter(None, names)), given.size or (own if recipe.sizes else ""))


def say(key: str, **facts: object) -> str:
    """A sentence about an event, in the words of the command."""
    return catalogue().say(f"command.kit.{key}", **facts)
