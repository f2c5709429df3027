"""Sums of money and shares as a person of the language writes them."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from msgspec import Struct


class Money(Struct, frozen=True):
    """`currency` is an ISO 4217 code, or empty where the studio has not said; `digits` are those of its minor unit."""

    currency: str
    digits: int
    language: str

    def said(self, sum_of_money: Decimal | None) -> str:
        """`€12.50`; a dash for what is not counted."""
        if sum_of_money is None:
            return "–"
        from babel.numbers import format_currency, format_decimal

        if self.currency:
            return str(format_currency(sum_of_money, self.currency, locale=self.language))
        pattern = "#,##0." + "0" * self.digits if self.digits else "#,##0"
        return str(format_decimal(sum_of_money, format=pattern, locale=self.language))

    def percent(self, share: Fraction) -> str:
        """`32.5%`, rounded down to a tenth, so that no more is promised than there is."""
        from babel.numbers import format_percent

        tenths = Decimal(int(share * 1000 // 1)) / 1000
        return str(format_percent(tenths, format="#,##0.#%", locale=self.language))
