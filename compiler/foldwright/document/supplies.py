"""Supplies and tools as lines of a list: how much, of what, cut from which sheet, and what may stand in."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.model import Substitute, SupplyLine, ToolLine
from foldwright.document.quote_marks import curled
from foldwright.document.wording import joined, number_words, sentence
from foldwright.document.words import Both, MeasureInWords, Runs, SetMeasure
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import System
from foldwright.measure.paper import named_sheet
from foldwright.measure.portions import Rounding
from foldwright.measure.weight import METRIC_WORDS, grammage, whole_grams
from foldwright.recipe.model import Amount, Instead, NamedSheet, Said, Supply, Tool, Weight
from foldwright.recipe.words import Text


def supply_line(supply: Supply, sheets: int, measures: Measures, words: Catalogue) -> SupplyLine:
    """A supply in words; `sheets` are enough for what is cut from it, 0 where nobody knows."""
    return SupplyLine(
        name=measures.name(supply.name.value),
        kind=supply.kind.value if supply.kind else "",
        amount=_amount(supply, sheets, measures, words),
        details=joined(list(_details(supply, measures, words)), words.say("list.comma")),
        packs=tuple(_amount_runs(pack.value.amount, measures, Rounding.DOWN) for pack in supply.packs),
        instead=_substitutes(supply.instead, measures),
        colours=words.listed([curled(said.value) for said in supply.colours], "list.or"),
        contains=words.listed([curled(said.value) for said in supply.contains]),
        optional=supply.optional,
        note=measures.text(supply.note.value) if supply.note else (),
        said=supply.name.value,
    )


def tool_line(tool: Tool, measures: Measures) -> ToolLine:
    """A tool in words."""
    name = tool.name.value
    return ToolLine(measures.name(name), _substitutes(tool.instead, measures), tool.optional, name)


def _substitutes(instead: tuple[Said[Instead], ...], measures: Measures) -> tuple[Substitute, ...]:
    """What may stand in for a supply or a tool, in words."""
    return tuple(Substitute(measures.name(one.value.name), measures.text(one.value.remark)) for one in instead)


def _amount_runs(amount: Amount, measures: Measures, rounding: Rounding) -> Runs:
    """`4`, `2 sheets`, `36 in`, `50 ml`: what is counted as written, everything else in both systems."""
    if amount.dimension is not Dimension.COUNT:
        return (measures.amount(amount.number, amount.unit, rounding),)
    return (Text(f"{number_words(amount.number, decimal=False)} {amount.noun}".strip()),)


def _amount(supply: Supply, sheets: int, measures: Measures, words: Catalogue) -> Runs:
    if supply.use is not None:
        return _amount_runs(supply.use.value, measures, Rounding.UP)
    if supply.little:
        return (Text(words.say("page.supply.little")),)
    return (Text(words.say("page.supply.enough", count=sheets)),) if sheets else ()


def _details(supply: Supply, measures: Measures, words: Catalogue) -> Iterator[Runs]:
    """What a buyer needs to know, a few words each."""
    if supply.kind and supply.kind.value.casefold() not in supply.name.value.casefold():
        yield (Text(supply.kind.value),)
    if supply.weight:
        yield (MeasureInWords(weight_phrases(supply.weight.value, words)),)
    if supply.thickness:
        yield sentence(words, "page.supply.thickness", length=measures.thickness(supply.thickness.value))
    if supply.width:
        yield sentence(words, "page.supply.width", length=measures.alone(supply.width.value))
    if supply.size and supply.size.value.round:
        for word, length in zip(("round", "long"), supply.size.value.lengths, strict=False):
            yield sentence(words, f"page.supply.{word}", length=measures.alone(length))
    elif supply.size:
        yield sentence(words, "page.supply.size", size=measures.loose_cross(supply.size.value.lengths).phrases)
    if supply.sheets:
        sheets = [said.value for said in supply.sheets]
        both = Both(*(_sheet(sheets, system, measures) for system in System))
        yield sentence(words, "page.supply.sheets", sheet=both)
    for name, text in (("grain", supply.grain), ("pattern", supply.pattern)):
        if text:
            yield sentence(words, f"page.supply.{name}", way=text.value)


def _sheet(sheets: list[NamedSheet], system: System, measures: Measures) -> SetMeasure:
    """The sheet to use in a system: the first that comes from it, else the first there is."""
    sheet = next((sheet for sheet in sheets if sheet.across.unit.system is system), sheets[0])
    if is_a_sheet_name(sheet.name):
        return SetMeasure.of(sheet.name)
    return measures.loose_cross((sheet.across, sheet.down)).phrases.of(system)


@lru_cache(maxsize=256)
def is_a_sheet_name(sheet: str) -> bool:
    """Whether a sheet is called by a name, such as A4, and not by its size."""
    return named_sheet(sheet) is not None


@lru_cache(maxsize=256)
def weight_phrases(weight: Weight, words: Catalogue) -> Both[SetMeasure]:
    """`100 lb cover` as written for one reader, `270 g/m²` for the other; what was written in grams stays for both."""
    if weight.unit.lower() in METRIC_WORDS:
        grams = SetMeasure.of(words.say("page.supply.grams", number=number_words(weight.number, decimal=True)))
        return Both(grams, grams)
    number = number_words(weight.number, decimal=False)
    written = SetMeasure.of(words.say("page.supply.pounds", number=number, grade=weight.grade).strip())
    exact = grammage(weight.number, weight.unit, weight.grade)
    if exact is None:
        return Both(written, written)
    return Both(written, SetMeasure.of(words.say("page.supply.grams", number=whole_grams(exact))))
