"""Sums of money and shares as a person of the language writes them."""

from __future__ import annotations

import re
from decimal import Decimal, localcontext
from fractions import Fraction

from msgspec import Struct

from foldwright.event.plan.money import rounded

_SPACE = re.compile(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])")
"""Where letters of a currency meet a figure, a space that does not break goes between (UTS 35, currencySpacing)."""


class Money(Struct, frozen=True):
    """`currency` is an ISO 4217 code, or empty where the studio has not said; `digits` are those of its minor unit."""

    currency: str
    digits: int
    language: str

    def said(self, exact: Fraction | None) -> str:
        """`€12.50`: to the minor unit, half to even; a dash for what is not counted."""
        return "–" if exact is None else self._written(rounded(exact, self.digits))

    def as_written(self, price: Decimal | None) -> str:
        """A price with all its figures: `€0.125`; a dash where none is said."""
        if price is None:
            return "–"
        exact = Fraction(price)
        digits = self.digits
        while (exact * 10**digits).denominator > 1:
            digits += 1
        return self._written(rounded(exact, digits))

    def _written(self, sum_of_money: Decimal) -> str:
        with localcontext() as exact:
            exact.prec = max(exact.prec, len(sum_of_money.as_tuple().digits) + 2)
            return self._by_babel(sum_of_money)

    def _by_babel(self, sum_of_money: Decimal) -> str:
        from babel.numbers import format_currency, format_decimal

        digits = -int(sum_of_money.as_tuple().exponent)
        if not self.currency:
            pattern = "#,##0." + "0" * digits if digits else "#,##0"
            return str(format_decimal(sum_of_money, format=pattern, locale=self.language))
        usual = digits == self.digits
        own = None if usual else f"¤#,##0.{'0' * digits}"
        return _SPACE.sub("\u00a0", format_currency(sum_of_money, self.currency, own, self.language, usual))

    def percent(self, share: Fraction) -> str:
        """`32.5%`, rounded down to a tenth, so that no more is promised than there is."""
        from babel.numbers import format_percent

        tenths = Decimal(int(share * 1000 // 1)) / 1000
        return str(format_percent(tenths, format="#,##0.#%", locale=self.language))


def currency_of(money: str) -> tuple[str, int]:
    """The code of the money as ISO 4217 has it, and the digits of its minor unit; empty for what is no code."""
    from babel import Locale
    from babel.numbers import get_currency_precision

    code = money.strip().upper()
    known = code in Locale("en").currencies
    return (code, get_currency_precision(code)) if known else ("", 2)
