"""Which money a price is in: the sign or code beside it, against what a studio calls its money."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.finding import Finding, Strength
from foldwright.recipe.model import NamedSheet, Pack, Recipe, Said

_DOLLARS = frozenset({"USD", "CAD", "AUD", "NZD"})
_CODES = {
    "£": frozenset({"GBP"}),
    "POUND": frozenset({"GBP"}),
    "€": frozenset({"EUR"}),
    "EURO": frozenset({"EUR"}),
    "$": _DOLLARS,
    "DOLLAR": _DOLLARS,
    "¥": frozenset({"JPY", "CNY"}),
    "YEN": frozenset({"JPY"}),
    "YUAN": frozenset({"CNY"}),
}
"""What signs and words for money, in capital letters, may stand for (ISO 4217)."""


def is_money(sign: str, money: str) -> bool:
    """Whether a sign, code or word (`€`, `EUR`, `euros`) may stand beside a price where `money` is reckoned in."""
    return not _codes(sign).isdisjoint(_codes(money))


def _codes(money: str) -> frozenset[str]:
    whole = money.strip().upper()
    return next((codes for word, codes in _CODES.items() if word in whole), frozenset({whole[:3]}))


def moneys_apart(recipes: Sequence[Recipe], money: str) -> list[tuple[int, Finding]]:
    """Prices that cannot be added up, by the number of the recipe: in other money than the studio's.

    Where no money is said, all signs have to go with the first.
    """
    first = money
    found = []
    for number, recipe in enumerate(recipes):
        for price in _prices(recipe):
            sign = price.value.money
            first = first or sign
            if sign and not is_money(sign, first):
                code = "other-money" if money else "moneys-apart"
                facts = {"said": write_price(price.value), "sign": sign, "money": first}
                found.append((number, Finding.of(code, Strength.MISFIT, price.place, **facts)))
    return found


def first_sign(recipes: Sequence[Recipe]) -> str:
    """The first sign or code that stands beside a price; empty where none does."""
    signs = (price.value.money for recipe in recipes for price in _prices(recipe))
    return next(filter(None, signs), "")


def write_price(sold: NamedSheet | Pack) -> str:
    """`8.40`, `£8.40`, `GBP 8.40`; empty without a price."""
    return "" if sold.price is None else f"{sold.money}{' ' if sold.money.isalpha() else ''}{sold.price}"


def _prices(recipe: Recipe) -> Iterator[Said[NamedSheet] | Said[Pack]]:
    for supply in recipe.supplies:
        yield from supply.sheets
        yield from supply.packs
