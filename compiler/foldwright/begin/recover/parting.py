"""Where in a line of notes one number ends and the next begins: at bars, commas, dashes, arrows, line ends."""

from __future__ import annotations

import re
from collections.abc import Iterator

from foldwright.measure.numbers import FRACTION, VULGAR, tidy
from foldwright.measure.reading import UNIT_WORDS
from foldwright.recipe.facts.phrase import Phrase

UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
_END = re.compile(r"\s*;\s*|\s*(?==(?!>))")
_BETWEEN = re.compile(
    r"\s*\|\s*|\s+\+\s+|,(?![0-9])\s*|(?<![0-9]),\s*|\s+/\s+|\s+and\s+(?![0-9]+/[0-9])"
    rf"|\s*\n\s*+(?!(?:{UNIT})(?![a-z]))",
    re.IGNORECASE,
)
_CROSS = re.compile(r"\s+(?:x|by)\s+", re.IGNORECASE)
_A_NUMBER = f"(?=[0-9{''.join(VULGAR)}]|\\.[0-9])"
_ARROW = re.compile(r"\s*(?:-+>|=+>|[→⟶⇒➔➞▸>])\s*")
_DASH = re.compile(rf"(?<![/\s])(?P<blank>\s*)-+(?P<blanks>\s*){_A_NUMBER}")
_WHOLE_BEFORE = re.compile(r"(?:^|[^0-9./])[0-9]+$")
_FRACTION_AFTER = re.compile(f"{FRACTION}(?![0-9])")


def parts_of(value: Phrase, cross: bool) -> Iterator[Phrase]:
    """The parts of a line at everything but dashes and arrows. `whole` and `read to` may stand behind any of them."""
    for one in value.split(_END):
        yield from one.split(_CROSS if cross else _BETWEEN)


def at_arrows(part: Phrase) -> list[Phrase]:
    """The parts between arrows (`5/8 -> 2 7/8`)."""
    return [one for one in part.split(_ARROW) if one.text]


def at_dashes(part: Phrase) -> list[Phrase] | None:
    """The parts between the dashes that part numbers; None when a dash may as well belong to one number.

    `5/8 - 2 7/8 - 5/8` is three numbers, `1-1/2` is one; `1 - 1/2` and `3-4` alone may be either.
    """
    text = tidy(part.text)
    sure: list[re.Match[str]] = []
    unsure: list[re.Match[str]] = []
    for dash in _DASH.finditer(text):
        tight = not dash["blank"] and not dash["blanks"]
        whole = _WHOLE_BEFORE.search(text[: dash.start()]) is not None
        fraction = _FRACTION_AFTER.match(text, dash.end()) is not None
        if whole and fraction and tight:
            continue
        (unsure if whole and (fraction or tight) else sure).append(dash)
    if len(unsure) == 1 and not sure:
        return None
    parts: list[Phrase] = []
    start = 0
    for dash in sorted((*sure, *unsure), key=re.Match.start):
        parts.append(part.part(start, dash.start()))
        start = dash.end()
    return [*parts, part.part(start)]
