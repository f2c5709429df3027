"""Events made up at random, and what they cost, reckoned by hand: whole numbers and decimals, none of the program.

How many sheets the cutting plan takes is looked up in it (other tests prove that); all else is reckoned anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Decimal, localcontext
from random import Random
from typing import Any

SMALL = {"ml": 1, "cl": 10, "l": 1000, "g": 1, "kg": 1000, "": 1, "mm": 1, "cm": 10, "m": 1000}
"""How many of the smallest unit of its kind a unit is (SI)."""
SIDES = {"A4": (210, 297), "A3": (297, 420), "A5": (148, 210)}
"""ISO 216."""


@dataclass
class Thing:
    """A supply: how it is sold (amount, unit, price in minor units or none), what each recipe uses, what is owned."""

    name: str
    kind: str
    packs: list[tuple[int, str, int | None]]
    uses: dict[int, tuple[int, str]] = field(default_factory=dict)
    pieces: dict[int, tuple[int, int, int]] = field(default_factory=dict)
    sheets: list[tuple[str, int | None]] = field(default_factory=list)
    owned_packs: int = 0
    owned: tuple[int, str] | None = None
    scraps: tuple[int, int, int] | None = None
    optional: bool = False


@dataclass
class Made:
    """An event: kits, spare ones and samples of each recipe, the things, other costs in minor units."""

    money: str
    digits: int
    kits: list[tuple[int, int, int]]
    things: list[Thing]
    other: list[tuple[str, int, bool]]
    fee: int
    margin: int

    @property
    def all_kits(self) -> list[int]:
        return [sum(counts) for counts in self.kits]


# --- made up ----------------------------------------------------------------------------------------------------------


def made_up(seed: int) -> Made:
    chance = Random(seed)
    money, digits = chance.choice([("EUR", 2), ("JPY", 0), ("KWD", 3), ("CHF", 2)])
    recipes = chance.choice([1, 1, 2, 3])
    kits = [
        (chance.randint(1, 120), chance.choice([0, 0, chance.randint(1, 9)]), chance.choice([0, 0, 1]))
        for _ in range(recipes)
    ]
    most = 2000 if digits else 900
    kinds = [*["counted"] * 4, *["volume"] * 3, "mass", "length", "sheets"]
    things = [
        _thing(f"thing {number}", chance.choice(kinds), recipes, most, chance) for number in range(chance.randint(1, 4))
    ]
    other = [
        (f"cost {number}", chance.randint(1, 9 * most), chance.random() < 0.4)
        for number in range(chance.choice([0, 0, 1, 3]))
    ]
    return Made(money, digits, kits, things, other, chance.randint(1, 5 * most), chance.randint(0, 99))


def _thing(name: str, kind: str, recipes: int, most: int, chance: Random) -> Thing:
    priced = chance.random() < 0.85
    users = sorted(chance.sample(range(recipes), chance.randint(1, recipes)))

    def price() -> int | None:
        return chance.randint(1, most) if priced else None

    def packs(sizes: Sequence[int], units: Sequence[str]) -> list[tuple[int, str, int | None]]:
        return [(size, chance.choice(units), price()) for size in chance.sample(sizes, chance.choice([1, 1, 2]))]

    thing = Thing(name, kind, [], optional=chance.random() < 0.2)
    if kind == "sheets":
        thing.sheets = [(size, None) for size in chance.sample(["A4", "A3"], chance.choice([1, 1, 2]))]
        if priced and chance.random() < 0.5:
            thing.sheets = [(size, chance.randint(1, most // 10)) for size, _ in thing.sheets]
        else:
            thing.packs = packs([1, 5, 8, 10, 25], [""])
        thing.pieces = {
            user: (chance.randint(1, 3), chance.randint(60, 140), chance.randint(60, 200)) for user in users
        }
        if chance.random() < 0.3:
            thing.scraps = chance.randint(1, 4), 148, 210
        return thing
    units = {"counted": [""], "volume": ["ml", "cl"], "mass": ["g"], "length": ["cm", "mm"]}[kind]
    thing.packs = packs([3, 10, 12, 25, 40], {"volume": ["cl", "l"], "mass": ["kg"], "length": ["m"]}.get(kind, [""]))
    if kind in ("volume", "mass"):
        thing.packs = [(size, thing.packs[0][1], cost) for size, _, cost in thing.packs]
    most_used = {"counted": 6, "volume": 30, "mass": 90, "length": 250}[kind]
    same = chance.randint(1, most_used), chance.choice(units)
    for user in users:
        # Different lengths off one spool are a matter of cutting, which is proven elsewhere.
        thing.uses[user] = same if kind == "length" else (chance.randint(1, most_used), chance.choice(units))
    if chance.random() < 0.4:
        thing.owned_packs = chance.randint(1, 2)
    if chance.random() < 0.4:
        thing.owned = chance.randint(1, 9), units[0] if kind != "length" else "m"
    return thing


# --- as text ----------------------------------------------------------------------------------------------------------


def written(made: Made, recipe: int) -> str:
    """The recipe as somebody would type it."""
    mine = [thing for thing in made.things if recipe in thing.uses or recipe in thing.pieces]
    supplies = [line for thing in mine for line in _supply(thing, recipe, made.digits)]
    pieces = [
        f"  part {number}:\n    from: {thing.name}\n    count: {count}\n    size: {wide} x {high} mm"
        for number, thing in enumerate(mine)
        for count, wide, high in [thing.pieces.get(recipe, (0, 0, 0))]
        if count
    ]
    facts = ["---", f"title: Recipe {recipe}", "measured in: millimetres", f"money: {made.money}", "supplies:"]
    facts += [*supplies, "  string: twine"] + (["pieces:", *pieces] if pieces else [])
    return "\n".join([*facts, "---", "", "## Go", "", "Go on.", ""])


def _supply(thing: Thing, recipe: int, digits: int) -> Iterator[str]:
    yield f"  {thing.name}:"
    yield f"    kind: {'cardstock' if thing.kind == 'sheets' else 'trinket'}"
    if thing.sheets:
        sold = (size + (f" at {coins(price, digits)}" if price is not None else "") for size, price in thing.sheets)
        yield f"    sheet: {' or '.join(sold)}"
    if recipe in thing.uses:
        yield f"    use: {thing.uses[recipe][0]} {thing.uses[recipe][1]}".rstrip()
    if thing.packs:
        sold = (
            f"{size} {unit}".strip() + (f" at {coins(price, digits)}" if price is not None else "")
            for size, unit, price in thing.packs
        )
        yield f"    pack: {' or '.join(sold)}"
    if thing.optional:
        yield "    optional: yes"


def stock(made: Made) -> str:
    lines = []
    for thing in made.things:
        said = [f"{thing.owned_packs} packs"] if thing.owned_packs else []
        said += [f"{thing.owned[0]} {thing.owned[1]}".strip()] if thing.owned else []
        said += ["scraps {} of {} x {} mm".format(*thing.scraps)] if thing.scraps else []
        if said:
            lines.append(f"{thing.name}: {', '.join(said)}")
    return "\n".join(lines) + "\n" if lines else ""


def coins(minor: int, digits: int) -> str:
    whole, rest = divmod(minor, 10**digits)
    return f"{whole}.{rest:0{digits}d}" if digits else str(whole)


# --- reckoned ---------------------------------------------------------------------------------------------------------


@dataclass
class Sum:
    """In minor units; used up may have a part of one, as a decimal of very many places. Parts are the recipes'."""

    used_up: Decimal | None
    to_buy: int | None
    parts: dict[int, Decimal]


def reckoned(made: Made, cutting: Mapping[str, Any]) -> dict[str, Any]:
    """What `kit.json` has to say of the costs. `cutting` are its cutting plans by supply."""
    with localcontext() as context:
        context.prec = 60
        sums = {thing.name: _of(thing, made, cutting.get(thing.name)) for thing in made.things}
        people = sum(kits for kits, _, _ in made.kits)
        used = sum((one.used_up for one in sums.values() if one.used_up is not None), Decimal(0))
        paid = sum(one.to_buy for one in sums.values() if one.to_buy is not None)
        other = [cost * (sum(made.all_kits) if each else 1) for _, cost, each in made.other]
        each = Decimal(paid + sum(other)) / people
        fee = each * 100 / (100 - made.margin)
        return {
            "lines": {
                name: (_said(one.used_up, made), None if one.to_buy is None else coins(one.to_buy, made.digits))
                for name, one in sums.items()
            },
            "used_up": _said(used, made),
            "to_buy": coins(paid, made.digits),
            "used_up_each": _said(used / people, made),
            "to_buy_each": _said(Decimal(paid) / people, made),
            "recipes": [_recipe(number, sums, made) for number in range(len(made.kits))],
            "whole": coins(paid + sum(other), made.digits),
            "whole_each": _said(each, made),
            "fee": _said(fee.quantize(Decimal("1e-40")).quantize(Decimal(1), ROUND_CEILING), made),
            "margin": (made.fee - each) / made.fee,
        }


def _recipe(number: int, sums: Mapping[str, Sum], made: Made) -> tuple[str, str]:
    kits = made.kits[number][0]
    used = sum(
        (one.used_up * one.parts.get(number, Decimal(0)) for one in sums.values() if one.used_up is not None),
        Decimal(0),
    )
    paid = sum(
        (one.to_buy * one.parts.get(number, Decimal(0)) for one in sums.values() if one.to_buy is not None), Decimal(0)
    )
    return _said(used / kits, made), _said(paid / kits, made)


def _said(minor: Decimal | None, made: Made) -> str | None:
    """Rounded once, half to even; sixty places are kept, so that a half is a half."""
    if minor is None:
        return None
    return coins(int(minor.quantize(Decimal("1e-40")).quantize(Decimal(1), ROUND_HALF_EVEN)), made.digits)


def _of(thing: Thing, made: Made, plan: Mapping[str, Any] | None) -> Sum:
    if thing.kind == "sheets":
        assert plan is not None
        return _of_sheets(thing, made, plan)
    needs = {user: use * SMALL[unit] * made.all_kits[user] for user, (use, unit) in thing.uses.items()}
    needed = sum(needs.values())
    parts = {user: Decimal(need) / needed for user, need in needs.items()}
    offers = [(size * SMALL[unit], price) for size, unit, price in thing.packs]
    if thing.kind == "length":
        return _of_lengths(thing, made, offers, needed, parts)
    had = thing.owned_packs * offers[0][0] + (thing.owned[0] * SMALL[thing.owned[1]] if thing.owned else 0)
    bought = cheapest(max(0, needed - had), [(amount, amount, price) for amount, price in offers])
    return Sum(_used(needed, bought, offers), _paid(bought, offers), parts)


def _of_lengths(
    thing: Thing, made: Made, offers: Sequence[tuple[int, int | None]], needed: int, parts: dict[int, Decimal]
) -> Sum:
    use, unit = next(iter(thing.uses.values()))
    length = use * SMALL[unit]
    wanted = sum(made.all_kits[user] for user in thing.uses)
    owned = [offers[0][0]] * thing.owned_packs + ([thing.owned[0] * SMALL[thing.owned[1]]] if thing.owned else [])
    wanted = max(0, wanted - sum(spool // length for spool in owned))
    bought = cheapest(wanted, [(spool // length, spool, price) for spool, price in offers])
    return Sum(_used(needed, bought, offers), _paid(bought, offers), parts)


def _of_sheets(thing: Thing, made: Made, plan: Mapping[str, Any]) -> Sum:
    taken = {(int(one["across"]), int(one["down"]), one["owned"]): one["used"] for one in plan["sheets"]}
    used, paid = Decimal(0), 0
    known_used = known_paid = True
    first: Decimal | None = None
    for number, (size, price) in enumerate(thing.sheets):
        count = taken[(*SIDES[size], False)]
        offers = [(1, price)] if price is not None else [(amount, cost) for amount, _, cost in thing.packs]
        bought = cheapest(count, [(amount, amount, cost) for amount, cost in offers])
        one = _used(1, bought, offers)
        first = one if number == 0 else first
        paid_here = _paid(bought, offers)
        known_used, known_paid = known_used and not (count and one is None), known_paid and paid_here is not None
        used, paid = used + (one or Decimal(0)) * count, paid + (paid_here or 0)
    if thing.scraps:
        _, wide, high = thing.scraps
        scraps = taken[(wide, high, True)]
        across, down = SIDES[thing.sheets[0][0]]
        known_used = known_used and not (scraps and first is None)
        used += (first or Decimal(0)) * scraps * wide * high / (across * down)
    areas = {user: count * wide * high * made.all_kits[user] for user, (count, wide, high) in thing.pieces.items()}
    parts = {user: Decimal(area) / sum(areas.values()) for user, area in areas.items()}
    return Sum(used if known_used else None, paid if known_paid else None, parts)


def cheapest(wanted: int, offers: Sequence[tuple[int, int, int | None]]) -> list[int]:
    """How many of each offer (what it gives, what it holds, its price): the least price, then the least held."""
    most = [-(-wanted // gives) if gives else 0 for gives, _, _ in offers]
    tries = (
        ([first] for first in range(most[0] + 1))
        if len(offers) == 1
        else ([first, max(0, -(-(wanted - first * offers[0][0]) // offers[1][0]))] for first in range(most[0] + 1))
    )
    enough = (one for one in tries if sum(n * gives for n, (gives, _, _) in zip(one, offers, strict=True)) >= wanted)
    return min(
        enough,
        key=lambda one: (
            sum(n * (price or 0) for n, (_, _, price) in zip(one, offers, strict=True)),
            sum(n * holds for n, (_, holds, _) in zip(one, offers, strict=True)),
            sum(one),
        ),
    )


def _paid(bought: Sequence[int], offers: Sequence[tuple[int, int | None]]) -> int | None:
    if any(count and price is None for count, (_, price) in zip(bought, offers, strict=True)):
        return None
    return sum(count * (price or 0) for count, (_, price) in zip(bought, offers, strict=True))


def _used(needed: int, bought: Sequence[int], offers: Sequence[tuple[int, int | None]]) -> Decimal | None:
    """At the price of what is bought, else of the cheapest that is sold."""
    if any(price is None for _, price in offers):
        return None
    if any(bought):
        held = sum(count * amount for count, (amount, _) in zip(bought, offers, strict=True))
        return (
            Decimal(sum(count * (price or 0) for count, (_, price) in zip(bought, offers, strict=True))) * needed / held
        )
    return min(Decimal(price or 0) * needed / amount for amount, price in offers)
