"""The supplies (what is bought, how much of it goes into one making) and the tools, with what may stand in for them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping

from foldwright.measure.length import Unit
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.weight import GRADES, WEIGHT_WORD
from foldwright.recipe.facts.amounts import LITTLE, read_amount, read_pack, read_sold_sheet, read_thickness, read_weight
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.entries import first_of_each, named_entries
from foldwright.recipe.facts.known import Known, gather, spellings_in, split_at_commas, unbraced
from foldwright.recipe.facts.moneys import is_money, write_price
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import Node
from foldwright.recipe.facts.values import (
    choice_of,
    dims_of,
    length_of,
    read_with,
    said_row,
    said_value,
    text_of,
    without_bullet,
    yes_of,
)
from foldwright.recipe.model import Dims, Instead, NamedSheet, Pack, Said, Supply, Tool, Weight

_PACK = re.compile(r"(?:pack )?(?:of )?[0-9](?!.* (?:x|by) ).* (?:at|for) [£$€¥]?[0-9]", re.IGNORECASE)
_WEIGHT = re.compile(rf"#?\d+ ?(?:{WEIGHT_WORD})(?![a-z]).*", re.IGNORECASE)
_WIDE = re.compile(r"(.*\S)\s+(?:wide|thick)", re.IGNORECASE | re.DOTALL)
_GRAIN_SAID = ("long grain", "short grain")


def _bare(part: str) -> str:
    """The fact a part means that has no word of its own: `6 mm wide`, `10 m at 3.50`, `80 lb cover`, `a little`."""
    small = part.lower()
    if small in LITTLE:
        return "use"
    if small.endswith(" wide"):
        return "width"
    if small.endswith(" thick"):
        return "thickness"
    if small in _GRAIN_SAID:
        return "grain"
    if _PACK.match(small):
        return "pack"
    return "weight" if _WEIGHT.fullmatch(small) else ""


def _likely(part: str, first: str) -> tuple[str, ...]:
    # Colours are read only here, and a sound recipe need not wait for them.
    from foldwright.recipe.facts.wordless import facts_meant

    return facts_meant(part, first)


SUPPLY_WORDS = Known(
    spellings_in(
        """kind; weight; thickness: thick, calliper, caliper; sheet: sheets; grain; pattern; size; width: wide;
        use: uses; pack: packs; instead: or instead; colour: color, colours, colors; contains; optional; this way up;
        note: notes"""
    ),
    first="kind",
    bare=_bare,
    likely=_likely,
    rows=frozenset({"colour", "contains", "sheet"}),
)
GRAINS = spellings_in("long: long grain; short: short grain; none: any, either, any way")
PATTERNS = spellings_in("one way: one-way, this way up; any way: either way, none, no; two ways: two way, two-way")
_OR = re.compile(r",(?![0-9])|(?<![0-9]),|\s+or\s+|\n", re.IGNORECASE)
_OR_LINE = re.compile(r"\s+or\s+|\n", re.IGNORECASE)
_LINE_END = re.compile(r"\s*\n\s*")
_INSTEAD = re.compile(r"(?:or )?instead\s*:?\s+", re.IGNORECASE)
_OPTIONAL = re.compile(r"optional(?:\s*:?\s*(?P<no>no)|\s*:?\s*yes)?", re.IGNORECASE)
_ROUND = re.compile(r"\b(?:in diameter|diameter|round|dia)\b\.?|[øØ⌀]", re.IGNORECASE)
_LONG = re.compile(r"\b(?:high|tall|long|thick|across|wide)\b", re.IGNORECASE)
_COLON = re.compile(r"\s*:\s+")
_REMARK = re.compile(r"\s*\((?P<bracket>.*)\)[^)]*$|\s*\((?P<open>.*)$|\s*[,;](?![0-9])(?P<rest>.*)", re.DOTALL)


def read_supplies(
    section: Node | None,
    complaints: Complaints,
    unit: Unit | None,
    money: Said[str] | None,
    changes: Mapping[str, Node],
) -> tuple[Supply, ...]:
    """The supplies; `unit` is that of bare numbers, `money` what the studio reckons in, if it has said.

    `changes` are what a size says of them, by name in small letters.
    """
    if section is None:
        return ()
    return first_of_each(
        _read_supply(name, node, changes.get(name.plain.casefold()), unit, money.value if money else "", complaints)
        for name, node in named_entries(section, complaints)
    )


def _read_supply(
    name: Phrase, node: Node, change: Node | None, unit: Unit | None, money: str, complaints: Complaints
) -> Supply:
    facts = gather(node, SUPPLY_WORDS, complaints)
    if change is not None:
        facts |= gather(change, SUPPLY_WORDS, complaints)

    def value(word: str) -> Phrase | None:
        return said_value(facts.get(word), complaints)

    use = value("use")
    little = use is not None and use.plain.lower() in LITTLE
    return Supply(
        name=Said(name.plain, name.place),
        kind=text_of(facts.get("kind"), complaints),
        weight=_weight(value("weight"), complaints),
        thickness=read_with(_bare_measure(value("thickness")), "thickness", read_thickness, complaints),
        sheets=_priced(value("sheet"), "sheet", lambda text: read_sold_sheet(text, unit), money, complaints),
        grain=choice_of(facts.get("grain"), GRAINS, complaints),
        pattern=choice_of(facts.get("pattern"), PATTERNS, complaints),
        size=_size(value("size"), complaints, unit),
        width=length_of(_bare_measure(value("width")), "width", complaints, unit),
        use=None if little else read_with(use, "use", read_amount, complaints),
        little=little,
        packs=_priced(value("pack"), "pack", read_pack, money, complaints),
        instead=read_instead(value("instead")),
        colours=said_row(value("colour")),
        optional=yes_of(facts.get("optional"), complaints),
        contains=said_row(value("contains")),
        upright=yes_of(facts.get("this way up"), complaints),
        note=text_of(facts.get("note"), complaints),
    )


def _size(value: Phrase | None, complaints: Complaints, unit: Unit | None) -> Said[Dims] | None:
    """Two or three sides, or of something round its diameter, and how long it is: `30 mm round x 110 mm`."""
    found = _ROUND.search(value.text) if value else None
    if value is None or found is None:
        return dims_of(value, "size", complaints, (1, 2, 3), unit)
    bare = value
    for words in (_ROUND, _LONG):
        bare = Phrase(words.sub(lambda match: " " * len(match[0]), bare.text), value.file, value.start)
    size = dims_of(bare, "size", complaints, (1, 2), unit)
    return Said(Dims(size.value.lengths, round=True), value.place) if size else None


def _weight(value: Phrase | None, complaints: Complaints) -> Said[Weight] | None:
    weight = read_with(value, "weight", read_weight, complaints)
    if weight is None or value is None or weight.value.unit != "lb":
        return weight
    grade = weight.value.grade
    if not grade:
        complaints.thought("weight-without-grade", value, known=GRADES)
    elif grade not in GRADES:
        complaints.thought("new-grade", value, grade=grade, known=GRADES)
    return weight


def _bare_measure(value: Phrase | None) -> Phrase | None:
    """`6 mm wide` without its last word."""
    match = _WIDE.fullmatch(value.text) if value else None
    return value.part(0, match.end(1)) if value and match else value


def _priced[T: (NamedSheet, Pack)](
    value: Phrase | None, word: str, reader: Callable[[str], T | Unreadable], money: str, complaints: Complaints
) -> tuple[Said[T], ...]:
    """What can be read of it; a price in other money than the studio's is told."""
    found = tuple(said for part in _alternatives(value) if (said := read_with(part, word, reader, complaints)))
    for said in found:
        if money and said.value.money and not is_money(said.value.money, money):
            facts = {"said": write_price(said.value), "sign": said.value.money, "money": money}
            complaints.thought("other-money", said.place, **facts)
    return found


def _alternatives(value: Phrase | None) -> tuple[Phrase, ...]:
    """What stands between commas, line ends and the word `or`."""
    return tuple(part for part in value.split(_OR) if part.text) if value else ()


def read_instead(value: Phrase | None) -> tuple[Said[Instead], ...]:
    """`wet glue (let it dry 10 min) or adhesive dots`: names, each with its remark in brackets or after a comma."""
    found = []
    for part in value.split_outside_brackets(_OR_LINE) if value else ():
        remark = _REMARK.search(part.text)
        name = part.part(0, remark.start()) if remark else part
        words = (remark["bracket"] or remark["open"] or remark["rest"] or "") if remark else ""
        if name.text:
            found.append(Said(Instead(name.plain, " ".join(words.split())), part.place))
    return tuple(found)


def read_tools(section: Node | None, complaints: Complaints) -> tuple[Tool, ...]:
    """The tools of the section, each once. What cannot be read goes to `complaints`."""
    if section is None:
        return ()
    return first_of_each(tool for line in _tool_lines(section, complaints) for tool in _read_line(line, complaints))


def _tool_lines(section: Node, complaints: Complaints) -> Iterator[Phrase]:
    if section.value is not None:
        yield from unbraced(section.value, complaints).split(_LINE_END)
    for below in (*section.entries, *section.items):
        yield below.whole


def _read_line(line: Phrase, complaints: Complaints) -> Iterator[Tool]:
    """`craft knife, metal ruler` are two tools; `instead` and `optional` belong to the tool before them."""
    tool: Tool | None = None
    for part in _parts(line):
        instead = _INSTEAD.match(part.text)
        optional = _OPTIONAL.fullmatch(part.text)
        if not instead and not optional:
            if tool:
                yield tool
            tool = Tool(Said(part.plain, part.place))
        elif tool is None:
            complaints.fault("tool-without-name", part)
        elif instead:
            tool = Tool(tool.name, (*tool.instead, *read_instead(part.part(instead.end()))), tool.optional)
        else:
            tool = Tool(tool.name, tool.instead, optional is not None and optional["no"] is None)
    if tool:
        yield tool


def _parts(line: Phrase) -> Iterator[Phrase]:
    for stretch in without_bullet(line).split(_LINE_END):
        for part in split_at_commas(stretch):
            # `knife: instead scissors`, and a name with its facts on lines beneath.
            colon = _COLON.search(part.text) if not _INSTEAD.match(part.text) else None
            if colon and (_INSTEAD.match(part.text, colon.end()) or _OPTIONAL.fullmatch(part.text, colon.end())):
                yield part.part(0, colon.start())
                part = part.part(colon.end())
            if part.text:
                yield part.part(0, -1) if part.text.endswith(":") else part
