"""What goes into each bag, the packer's counts, and the label of each kit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.in_class import class_document
from foldwright.document.model import Document
from foldwright.document.wording import number_words
from foldwright.event.document.guests import diets_line
from foldwright.event.document.model import EventPart, LabelText, Occasion, PaperTable, PaperText, PaperWords
from foldwright.event.document.writing import EventSource, LengthWriter, not_whole
from foldwright.event.plan.jobs import Bags, bags_of, supplies_in_bag
from foldwright.event.plan.model import Making
from foldwright.recipe.hazards import allergens_named, contents_unsaid
from foldwright.recipe.model import Supply, When
from foldwright.vocabulary import HAZARDS

_PILE = 10
_OF_THE_YOUNG = ("small-parts", "cord")
"""Hazards to children under three, which a label tells in one sentence."""


class _Packed(Struct, frozen=True):
    """Something in a bag: what it is called, how many, which supply it is or is cut from, what was done, how large."""

    name: str
    each: int
    supply: str
    done: str = ""
    size: str = ""


def kits_paper(source: EventSource) -> PaperText:
    """For each recipe what goes into a bag, and how many of each are counted out; what goes into all bags once."""
    event, words = source.event, source.words
    parts: list[EventPart] = [*not_whole(event, words)]
    columns = tuple(words.say(f"event.kits.column-{name}") for name in ("item", "each", "all", "piles"))
    for making, document in zip(event.makings, source.documents, strict=True):
        recipe = making.title
        bags = _bags(making)
        if len(bags) > 1:
            parts.append(_kinds(bags, recipe, words))
        more = making.spare + making.samples
        heading = words.say("event.kits.counts", kits=making.all_kits, recipe=recipe)
        heading += words.say("event.kits.counts-more", people=making.kits, more=more) if more else ""
        rows = tuple(_rows(making, document, bags, source.lengths, words))
        alone = () if len(event.makings) > 1 else _in_every_bag(source)
        if rows or alone:
            parts.append(PaperTable(heading, columns, (*rows, *alone), frozenset({1, 2, 3}), ticked=True))
    if len(event.makings) > 1:
        heading = words.say("event.kits.every", kits=sum(making.all_kits for making in event.makings))
        parts.append(PaperTable(heading, columns, _in_every_bag(source), frozenset({1, 2, 3}), ticked=True))
    if diets := diets_line(event, words):
        parts.insert(0, PaperWords("", (diets,)))
    return PaperText(words.say("event.kits.summary"), tuple(parts))


def _bags(making: Making) -> tuple[Bags, ...]:
    recipe = making.recipe
    pieces = (piece.supply.value for piece in recipe.pieces if piece.supply)
    return bags_of(making, frozenset((*supplies_in_bag(recipe), *pieces)))


def _kinds(bags: Sequence[Bags], recipe: str, words: Catalogue) -> PaperTable:
    """How many bags of each colour."""
    rows = tuple((_in_colours(one.colours, words), str(one.count)) for one in bags)
    columns = tuple(words.say(f"event.kits.column-{name}") for name in ("colours", "bags"))
    return PaperTable(words.say("event.kits.colours", recipe=recipe), columns, rows, frozenset({1}), ticked=True)


def _in_colours(colours: Mapping[str, str], words: Catalogue) -> str:
    return words.listed([words.say("event.kits.in-colour", name=name, colour=one) for name, one in colours.items()])


def _rows(
    making: Making, document: Document, bags: Sequence[Bags], lengths: LengthWriter, words: Catalogue
) -> Iterator[tuple[str, str, str, str]]:
    """The contents with what was done to them."""
    for one in _contents(making, document, lengths, words):
        counts: dict[str, int] = {}
        for kind in bags:
            colour = kind.colours.get(one.supply, "")
            counts[colour] = counts.get(colour, 0) + kind.count
        for colour, count in counts.items():
            yield _row(_told(one, colour, words), one.each, count)


def _in_every_bag(source: EventSource) -> tuple[tuple[str, str, str, str], ...]:
    """The label and, where there is a class, the handout."""
    words, makings = source.words, source.event.makings
    taught = [one.all_kits for one, said in zip(makings, source.documents, strict=True) if class_document(said)]
    rows = (("label", sum(making.all_kits for making in makings)), ("handout", sum(taught)))
    return tuple(_row(words.say(f"event.kits.{name}"), 1, count) for name, count in rows if count)


def _told(one: _Packed, colour: str, words: Catalogue) -> str:
    """`wrap, cut (wrap card, rose, 60 x 90 mm)`, `bead, red`."""
    name = words.say("event.kits.prepared", name=one.name, done=one.done) if one.done else one.name
    if not one.size:
        return words.say("event.kits.in-colour", name=name, colour=colour) if colour else name
    supply = words.say("event.kits.in-colour", name=one.supply, colour=colour) if colour else one.supply
    return words.say("event.kits.sized", name=name, supply=supply, size=one.size)


def _row(name: str, each: int, bags: int) -> tuple[str, str, str, str]:
    return name, str(each), str(each * bags), _piles(each * bags)


def _piles(count: int) -> str:
    """`20 + 5`: full piles, and what is over."""
    full, over = divmod(count, _PILE)
    return f"{full} + {over}" if over else str(full)


def _contents(making: Making, document: Document, lengths: LengthWriter, words: Catalogue) -> Iterator[_Packed]:
    """Pieces with what was done to them before class, then supplies counted or cut to length; each thing once."""
    before = [done for step in document.steps if step.when is When.BEFORE_CLASS for done in step.done]
    for piece in document.pieces:
        done = dict.fromkeys(one.word for one in before if one.piece == piece.name and one.word)
        size = piece.size.of(lengths.system).plain if piece.size else ""
        yield _Packed(piece.name, piece.count, piece.supply, words.listed(list(done)), size)
    supplies = {supply.name.value: supply for supply in making.recipe.supplies}
    told = {(piece.name, piece.supply) for piece in document.pieces}
    for called in supplies_in_bag(making.recipe):
        if (called, called) not in told:
            yield _supply(supplies[called], lengths, words)


def _supply(supply: Supply, lengths: LengthWriter, words: Catalogue) -> _Packed:
    """Things that are counted by their number, everything else by the amount that goes into one bag."""
    assert supply.use is not None
    use, name = supply.use.value, supply.name.value
    if not use.unit and use.number.denominator == 1:
        return _Packed(name, int(use.number), name)
    amount = lengths.used(use) if use.unit else number_words(use.number, decimal=True)
    return _Packed(words.say("event.kits.amount", amount=amount, name=name), 1, name)


def labels_of(source: EventSource, recipe: int, occasion: Occasion) -> Iterator[tuple[LabelText, int]]:
    """The label of each kind of bag and how many: what it is, what is in it, all that whoever gets it must know."""
    making, document, words = source.event.makings[recipe], source.documents[recipe], source.words
    warning = " ".join(_warnings(making, document, words))
    contents = tuple(_contents(making, document, source.lengths, words))
    foot = words.say("event.between").join(
        part for part in (document.head.studio, occasion.called, occasion.date) if part
    )
    for bags in _bags(making):
        told = words.listed([_on_label(one, bags, words) for one in contents])
        yield LabelText(document.head.title, (told,), warning, foot, slug=document.slug), bags.count


def _on_label(one: _Packed, bags: Bags, words: Catalogue) -> str:
    name = words.say("event.kits.piece", count=one.each, name=one.name) if one.each > 1 else one.name
    colour = bags.colours.get(one.supply)
    return words.say("event.kits.label-colour", name=name, colour=colour) if colour else name


def _warnings(making: Making, document: Document, words: Catalogue) -> Iterator[str]:
    """The cautions of the whole that are for whoever gets it, a few words each, what it contains first."""
    if allergens := allergens_of(making):
        yield words.say("event.kits.contains", allergens=allergens)
    told = [caution.code for caution in document.cautions if caution.code in HAZARDS and HAZARDS[caution.code].labelled]
    unsaid = [supply.name.value for supply in making.recipe.supplies if contents_unsaid(supply)]
    for code in told:
        if code not in ("allergen", *_OF_THE_YOUNG):
            yield words.say(f"hazard.{code}.label", holders=words.listed(unsaid))
    if young := tuple(words.say(f"hazard.{code}.label") for code in _OF_THE_YOUNG if code in told):
        yield words.say("event.kits.young", things=young)


def allergens_of(making: Making) -> tuple[str, ...]:
    """What the supplies are said to contain, in the author's words."""
    supplies = making.recipe.supplies
    return tuple(dict.fromkeys(one for supply in supplies for one in allergens_named(supply)))
