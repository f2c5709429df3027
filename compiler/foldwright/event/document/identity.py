"""What identifies a thing that is bought, in words: what it is, how heavy, how large, in the units of the folder."""

from __future__ import annotations

from foldwright.document.supplies import is_a_sheet_name, weight_phrases
from foldwright.event.document.lengths import LengthWriter
from foldwright.event.facts.agreeing import sheets_used
from foldwright.measure.length import Length
from foldwright.measure.writing import write_readable
from foldwright.recipe.model import NamedSheet, Supply
from foldwright.vocabulary.names import plain_words

FACTS = ("kind", "weight", "thickness", "width", "size", "sheet", "pattern", "grain")
"""In the order in which a shop assistant asks."""


def identity_of(supply: Supply, lengths: LengthWriter) -> dict[str, str]:
    """What its recipes say of it, each of the FACTS in words by itself; empty where no recipe says it."""
    words, system = lengths.words, lengths.system
    kind = supply.kind.value if supply.kind else ""
    sheets = [_sheet(said.value, lengths) for said in sheets_used(supply, system)]
    return {
        "kind": "" if set(plain_words(kind)) <= set(plain_words(supply.name.value)) else kind,
        "weight": weight_phrases(supply.weight.value, words).of(system).plain if supply.weight else "",
        "thickness": _sold((supply.thickness.value,), lengths) if supply.thickness else "",
        "width": _sold((supply.width.value,), lengths) if supply.width else "",
        "size": _sold(supply.size.value.lengths, lengths) if supply.size else "",
        "sheet": words.say("list.or").join(sheets),
        "pattern": supply.pattern.value if supply.pattern and supply.pattern.value != "any way" else "",
        "grain": supply.grain.value if supply.grain and supply.grain.value != "none" else "",
    }


def identified(supply: Supply, lengths: LengthWriter) -> str:
    """`cardstock, 270 g/m², A4 sheets, pattern one way`; empty where nothing is said."""
    facts = identity_of(supply, lengths)
    parts = (lengths.words.say(f"event.identity.{word}", fact=fact) for word, fact in facts.items() if fact)
    return lengths.words.say("list.comma").join(parts)


def _sold(sides: tuple[Length, ...], lengths: LengthWriter) -> str:
    """As written, since so it stands in the shop, and exactly in the folder's own unit."""
    written = _cross(sides, lengths)
    if all(one.unit.system is lengths.system for one in sides):
        return written
    here = _cross(tuple(Length(one.mm, lengths.unit) for one in sides), lengths)
    return lengths.words.say("event.sold", written=written, here=here)


def _cross(sides: tuple[Length, ...], lengths: LengthWriter) -> str:
    """`1 x 5/8 x 1/2 in`: the unit once, where it is that of all."""
    alike = len({one.unit for one in sides}) == 1
    told = [write_readable(one).number if alike else lengths.written(one) for one in sides[:-1]]
    return lengths.words.say("event.cross").join([*told, lengths.written(sides[-1])])


def _sheet(sheet: NamedSheet, lengths: LengthWriter) -> str:
    return sheet.name if is_a_sheet_name(sheet.name) else _sold((sheet.across, sheet.down), lengths)
