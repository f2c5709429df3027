"""The parts of a line of `stock.yaml`: which fact each is, how many it speaks of, and of what."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length
from foldwright.measure.numbers import NUMBER, tidy
from foldwright.measure.paper import named_sheet
from foldwright.measure.reading import read_number
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_amount, read_sheet
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import Known, spellings_in, split_at_commas, unknown_word
from foldwright.recipe.facts.lines import ONE_SPACE_REMARK
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import length_in, lengths_in
from foldwright.recipe.model import Amount, NamedSheet

STOCK_WORDS = Known(
    spellings_in(
        """sheets: sheet; scraps: scrap, offcut, offcuts, off cuts; lengths: length; packs: pack, packet, packets;
        amount; plenty: enough, a lot; trim; same as; price: cost"""
    ),
    unoffered=frozenset({"price"}),
)
"""What may be said of a supply. A price is known only so that it can be told that none is wanted."""

_COUNT = rf"(?P<number>-?\s*{NUMBER}|{WORD_NUMBER}\b|an?\b)"
NOUNS = {
    "sheet": "sheets",
    "scrap": "scraps",
    "offcut": "scraps",
    "off-cut": "scraps",
    "length": "lengths",
    "packet": "packs",
    "pack": "packs",
    "spool": "packs",
    "reel": "packs",
    "roll": "packs",
}
"""What may be counted on the shelf, and the fact it belongs to."""
_NOUN = rf"(?:(?:full|whole|new|unopened)\s+)?(?P<noun>{'|'.join(NOUNS)})s?\b(?:\s+of\b)?"
_COUNTED = re.compile(
    rf"{_COUNT}(?:\s*{_NOUN}|(?:\s+(?P<other>[^\W\d_]+))?\s+of\b|$)\s*(?P<size>.*)", re.IGNORECASE | re.DOTALL
)
"""`6 sheets`, `2 of 20 yd`, `3 scraps 5 x 11 in`, `120`; a number with its unit (`4 yd`) is none of them."""
_DIGIT = re.compile(r"[0-9½⅓⅔¼¾⅕-⅞⅐⅑⅒]")
_CROSS = re.compile(r"[^a-z](?:x|by)\s*[0-9.,½⅓⅔¼¾⅕-⅞⅐⅑⅒]", re.IGNORECASE)
_PART = r"(?:an?\s+)?(?:half|third|quarter|[0-9]+/|[½⅓⅔¼¾⅕-⅞⅐⅑⅒])"
_BETWEEN = re.compile(rf";|\s+(?:or|&|and(?!\s+{_PART}))\s+|\s+(?:or|and)$|^(?:or|and)\s+", re.IGNORECASE)
_LINE_END = re.compile(r"\n")
_REMARK = re.compile(r"\s*\(([^()]*)\)?\s*$")
_OTHER_WORD = re.compile(r"([^\W\d][^:]*):(?:\s|$)")
_MONEY = r"(?:[£$€¥]|\b(?:GBP|USD|EUR|CAD|AUD|NZD|JPY|CHF)\b)"
_SUM = rf"(?:{_MONEY}\s*[0-9][0-9.,]*|[0-9][0-9.,]*\s*{_MONEY})"
_EACH = r"(?:\s*(?:each|apiece|(?:a|per)\s+[a-z]+))"
_PRICE = re.compile(
    rf"\s*(?:(?:\b(?:at|for)\b|@)\s*(?:{_SUM}|[0-9][0-9.,]*)|{_SUM}){_EACH}?$|\s*\b[0-9]+[.,][0-9]{{2}}{_EACH}$",
    re.IGNORECASE,
)
_SAME = re.compile(r"(?:^|[,;])\s*(?P<said>(?:the\s+)?same)\s+as\b\s*:?\s*", re.IGNORECASE)
"""The rest of the line is a name, in which commas may stand: `same as wrap card, rose`."""
_LONGEST_LINE = 2000
_LONGEST_PART = 200
"""Characters; longer ones are no supplies, and would take the patterns long to look through."""


class StockPart(Struct, frozen=True):
    """What stands between two commas. `rest` is what follows the word it begins with, if any.

    `count` and `size` are how many of what, `other` a noun of the author's own between them (`2 boxes of 50`).
    """

    word: str
    said: Phrase
    rest: Phrase
    count: Phrase | None
    size: Phrase
    other: str = ""


def parts_of(whole: Phrase, complaints: Complaints) -> Iterator[StockPart]:
    """The parts of all that is said of one supply; prices and unknown words are complained of and passed over."""
    last: StockPart | None = None
    for line in whole.split(_LINE_END):
        remark = ONE_SPACE_REMARK.search(line.text)  # asked about when the line was read
        bare = line.part(0, remark.start()) if remark else line
        if len(bare.text) > _LONGEST_LINE:
            _too_long(bare, complaints)
            continue
        if bare.text.count("(") > bare.text.count(")"):
            complaints.thought("remark-not-closed", bare.part(bare.text.rindex("(")))
        same = _SAME.search(bare.text)
        for phrase in _between(bare.part(0, same.start()) if same else bare):
            if len(phrase.text) > _LONGEST_PART:
                _too_long(phrase, complaints)
                continue
            said = _without_price(phrase, complaints)
            if not said.text:
                continue
            other_word = _OTHER_WORD.match(said.text)
            if other_word and STOCK_WORDS.opened(said.text) is None:
                unknown_word(said.part(0, other_word.end(1)), STOCK_WORDS.words, STOCK_WORDS.spellings, complaints)
                break
            part = _part_of(said, last)
            _ask_about_size(part, last, complaints)
            last = part
            yield part
        if same:
            name = bare.part(same.end())
            yield StockPart("same as", bare.part(same.start("said")), name, None, name)


def _too_long(said: Phrase, complaints: Complaints) -> None:
    complaints.fault("stock-unclear", said, said=said.plain[:23] + "…")


def _between(line: Phrase) -> Iterator[Phrase]:
    """What stands between commas, semicolons and the words `or` and `and`, without remarks in brackets."""
    for group in split_at_commas(line):
        for phrase in group.split_outside_brackets(_BETWEEN):
            remark = _REMARK.search(phrase.text)
            if remark and not isinstance(lengths_in(remark[1]), Unreadable):
                # `6 sheets (12 x 12 in)` is no remark.
                bare = phrase.text[: remark.start(1) - 1] + " " + remark[1]
                yield Phrase(bare, phrase.file, phrase.start).part(0)
            else:
                yield phrase.part(0, remark.start()) if remark else phrase


def _without_price(part: Phrase, complaints: Complaints) -> Phrase:
    opened = STOCK_WORDS.opened(part.text)
    price = _PRICE.search(part.text)
    begin = 0 if opened and opened[0] == "price" else price.start() if price else None
    if begin is None:
        return part
    complaints.thought("stock-price", part.part(begin))
    return part.part(0, begin)


def _part_of(said: Phrase, last: StockPart | None) -> StockPart:
    opened = STOCK_WORDS.opened(said.text)
    word, begin = opened or ("", 0)
    rest = said.part(begin)
    match = _COUNTED.fullmatch(tidy(rest.text))
    if match is None:
        part = StockPart(word, said, rest, None, rest)
    else:
        size = rest.part(match.start("size"))
        word = word or _counted_as((match["noun"] or "").lower(), size)
        part = StockPart(word, said, rest, rest.part(0, match.end("number")), size, match["other"] or "")
    if not word and last and last.word in ("sheets", "scraps", "lengths"):
        word = last.word
    return replace(part, word=_word_meant(part) if word in ("", "amount") else word)


def _counted_as(noun: str, size: Phrase) -> str:
    """`2 spools of 20 yd` are lengths, `2 spools` are two as the recipe sells them."""
    word = NOUNS.get(noun, "")
    return "lengths" if word == "packs" and isinstance(length_in(size.text), Length) else word


def _word_meant(part: StockPart) -> str:
    """The fact a part is that no word names."""
    lengths = lengths_in(part.size.text)
    several = len(lengths) > 1 if not isinstance(lengths, Unreadable) else bool(_CROSS.search(tidy(part.size.text)))
    if several or named_sheet(part.size.plain):
        return "sheets"
    if part.count and part.size.text and not _DIGIT.search(part.size.text):
        return "sheets"  # of a name that no sheet has
    if part.other and not isinstance(read_number(part.size.text), Unreadable):
        return "packs"
    if part.count and part.size.text:
        return "lengths"
    amount = read_amount(part.rest.text)
    return "lengths" if isinstance(amount, Amount) and amount.dimension is Dimension.LENGTH else "amount"


def _ask_about_size(part: StockPart, last: StockPart | None, complaints: Complaints) -> None:
    """`6 sheets, 12 x 12 in`: one sheet more, or the size of the six?"""
    if last is None or last.count is None or last.size.text or last.word != "sheets":
        return
    alone = part.word == "sheets" and part.count is None and part.rest == part.said
    if alone and isinstance(read_sheet(part.size.text), NamedSheet):
        complaints.thought("stock-size-alone", part.said, count=last.count.plain)
