"""What goes into each bag, the packer's counts, and the label of each kit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.plan.event.model import Making
from foldwright.plan.event.planning import Event, supplies_in_bag
from foldwright.recipe.hazards import allergens_named, contents_unsaid
from foldwright.recipe.model import Supply, When
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.event.guests import diets_line
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.missing import not_whole
from foldwright.sheet.event.model import EventPaper, EventPart, LabelText, Table, Words
from foldwright.sheet.in_class import class_sheet
from foldwright.sheet.model import Sheet
from foldwright.sheet.wording import number_words
from foldwright.vocabulary import HAZARDS

_PILE = 10
_OF_THE_YOUNG = ("small-parts", "cord")
"""Hazards to children under three, which a label tells in one sentence."""


def kits_paper(event: Event, sheets: Sequence[Sheet], lengths: Lengths, words: Catalogue) -> EventPaper:
    """For each recipe what goes into a bag, and how many of each are counted out."""
    parts: list[EventPart] = [*not_whole(event, words)]
    for making, sheet in zip(event.makings, sheets, strict=True):
        recipe = making.understood.recipe.title.value
        rows = tuple(
            (name, str(each), str(each * making.all_kits), _piles(each * making.all_kits))
            for name, each in _to_pack(making, sheet, lengths, words)
        )
        columns = tuple(words.say(f"event.kits.column-{name}") for name in ("item", "each", "all", "piles"))
        heading = words.say("event.kits.counts", kits=making.all_kits, recipe=recipe)
        parts.append(Table(heading, columns, rows, frozenset({1, 2, 3}), ticked=True))
    if diets := diets_line(event, words):
        parts.insert(0, Words("", (diets,)))
    title, summary = words.say("event.kits.title"), words.say("event.kits.summary")
    return EventPaper("packing", title, summary, tuple(parts))


def _to_pack(making: Making, sheet: Sheet, lengths: Lengths, words: Catalogue) -> Iterator[tuple[str, int]]:
    """The contents with what was done to them, then the label and, where there is a class, the handout."""
    for name, each, done in _contents(making, sheet, lengths, words):
        yield words.say("event.kits.prepared", name=name, done=done) if done else name, each
    yield words.say("event.kits.label"), 1
    if class_sheet(sheet):
        yield words.say("event.kits.handout"), 1


def _piles(count: int) -> str:
    """`20 + 5`: full piles, and what is over."""
    full, over = divmod(count, _PILE)
    return f"{full} + {over}" if over else str(full)


def _contents(making: Making, sheet: Sheet, lengths: Lengths, words: Catalogue) -> Iterator[tuple[str, int, str]]:
    """What one bag holds, how many of it, and what was done to it: pieces, then supplies counted or cut to length."""
    before = [done for step in sheet.steps if step.when is When.BEFORE_CLASS for done in step.done]
    for piece in sheet.pieces:
        done = dict.fromkeys(one.word for one in before if one.piece == piece.name and one.word)
        yield piece.name, piece.count, words.listed(list(done))
    supplies = {supply.name.value: supply for supply in making.understood.recipe.supplies}
    for called in supplies_in_bag(making.understood.recipe):
        yield *_supply(supplies[called], lengths, words), ""


def _supply(supply: Supply, lengths: Lengths, words: Catalogue) -> tuple[str, int]:
    """Things that are counted by their number, everything else by the amount that goes into one bag."""
    assert supply.use is not None
    use = supply.use.value
    if not use.unit and use.number.denominator == 1:
        return supply.name.value, int(use.number)
    amount = lengths.used(use) if use.unit else number_words(use.number, decimal=True)
    return words.say("event.kits.amount", amount=amount, name=supply.name.value), 1


def labels_of(making: Making, sheet: Sheet, lengths: Lengths, words: Catalogue) -> tuple[LabelText, int]:
    """A kit's label and how many: what it is, what is in it, and all that whoever gets it must know."""
    contents = [
        words.say("event.kits.piece", count=number, name=name) if number > 1 else name
        for name, number, _ in _contents(making, sheet, lengths, words)
    ]
    warning = " ".join(_warnings(making, sheet, words))
    return LabelText(sheet.head.title, (words.listed(contents),), warning, sheet.head.studio), making.all_kits


def _warnings(making: Making, sheet: Sheet, words: Catalogue) -> Iterator[str]:
    """The cautions of the whole that are for whoever gets it, a few words each, what it contains first."""
    if allergens := allergens_of(making):
        yield words.say("event.kits.contains", allergens=allergens)
    told = [caution.code for caution in sheet.cautions if caution.code in HAZARDS and HAZARDS[caution.code].labelled]
    unsaid = [supply.name.value for supply in making.understood.recipe.supplies if contents_unsaid(supply)]
    for code in told:
        if code not in ("allergen", *_OF_THE_YOUNG):
            yield words.say(f"hazard.{code}.label", holders=words.listed(unsaid))
    if young := tuple(words.say(f"hazard.{code}.label") for code in _OF_THE_YOUNG if code in told):
        yield words.say("event.kits.young", things=young)


def allergens_of(making: Making) -> tuple[str, ...]:
    """What the supplies are said to contain, in the author's words."""
    supplies = making.understood.recipe.supplies
    return tuple(dict.fromkeys(one for supply in supplies for one in allergens_named(supply)))
