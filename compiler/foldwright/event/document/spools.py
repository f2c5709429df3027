"""What is cut from spools for the bags, in words: spool by spool, and how long lengths are measured."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from foldwright.event.document.model import EventPart, PaperWords, Tick, Ticks
from foldwright.event.document.writing import EventSource, SectionWriter, called
from foldwright.event.plan.jobs import supplies_in_bag
from foldwright.event.plan.planning import Event
from foldwright.event.plan.shopping import LengthWanted, ShoppingLine
from foldwright.event.plan.taken import SpoolWork, spool_work
from foldwright.measure.portions import Rounding

_RULER = Fraction(300)
"""As long as an ordinary ruler, in millimetres; what is longer is measured on a table (common practice, no source)."""
_TABLE = Fraction(1500)
"""As long as a table that one person can reach along (common practice, no source)."""


def spool_parts(source: EventSource) -> Iterator[EventPart]:
    """A part for each supply that goes into the bags cut to length; then what is taken off its roll in class."""
    event, words = source.event, source.words
    for line in _to_cut(event):
        told = _SpoolsPaper(source, line)
        name = called(line.supply.name.value, line.colour, words)
        yield Ticks(words.say("event.spools.title", supply=name), tuple(told.lines()))
    used = [line.supply.name.value for line in event.shopping if line.spools and not _in_bags(event, line)]
    for name in dict.fromkeys(used):
        yield PaperWords("", (words.say("event.spools.as-used", name=name),))


def spools_to_cut(event: Event) -> int:
    """How many spools lengths are cut from."""
    return sum(work.spools for line in _to_cut(event) for work in spool_work(line))


def _to_cut(event: Event) -> list[ShoppingLine]:
    return [line for line in event.shopping if line.spools and _in_bags(event, line)]


def _in_bags(event: Event, line: ShoppingLine) -> bool:
    return any(need.supply.name.value in supplies_in_bag(event.makings[need.recipe].recipe) for need in line.needs)


class _SpoolsPaper(SectionWriter):
    """One supply."""

    section = "spools"

    def __init__(self, source: EventSource, line: ShoppingLine) -> None:
        super().__init__(source)
        self._line, self._many = line, len(source.event.makings) > 1

    def lines(self) -> Iterator[Tick]:
        works = list(spool_work(self._line))
        for length in sorted({one.length for work in works for one in work.lengths}, reverse=True):
            yield Tick(self._measuring(length))
        if works and self._event.wishes.spool_end:
            yield Tick(self._say("ends", end=self._lengths.length(self._event.wishes.spool_end)))
        for work in works:
            yield Tick(self._spool(work))
        for number in self._line.spools.too_long if self._line.spools else ():
            yield Tick(self._say("too-long", length=self._lengths.length(self._line.lengths[number].length)))
        if works:
            all_cut = [
                LengthWanted(one.recipes, one.length, one.count * work.spools) for work in works for one in work.lengths
            ]
            yield Tick(self._say("check", lengths=self._counted(all_cut)))

    def _measuring(self, length: Fraction) -> str:
        said = self._lengths.length(length)
        if length <= _RULER:
            return self._say("ruler", length=said)
        if length <= _TABLE:
            return self._say("mark", length=said)
        return self._say("mark-half", half=self._lengths.length(length / 2), length=said)

    def _spool(self, work: SpoolWork) -> str:
        key = ("one" if work.spools == 1 else "several") + ("-owned" if work.owned else "")
        left = self._lengths.reckoned(work.left, "mm", Rounding.DOWN)
        return self._say(
            key,
            numbers=self._numbers(work.first, work.first + work.spools - 1),
            length=self._sold(work.length),
            lengths=self._counted(work.lengths),
            left=self._say("left", left=left) if left else self._say("nothing-left"),
        )

    def _numbers(self, first: int, last: int) -> str:
        """`3`, `3 and 4`, `3 to 5`."""
        if last - first < 2:
            return self._words.listed([str(number) for number in range(first, last + 1)])
        return self._say("numbers", first=first, last=last)

    def _sold(self, length: Fraction) -> str:
        """A spool as the pack is labelled; another by its length."""
        packs = (pack.value.amount for pack in self._line.supply.packs)
        pack = next((amount for amount in packs if amount.length and amount.length.mm == length), None)
        return self._lengths.sold(pack) if pack else self._lengths.reckoned(length, "mm", Rounding.DOWN)

    def _counted(self, wanted: Sequence[LengthWanted]) -> str:
        """`20 of 36 in`, told for which recipe where there are several."""
        counts: dict[tuple[Fraction, tuple[int, ...]], int] = {}
        for one in wanted:
            key = one.length, one.recipes if self._many else ()
            counts[key] = counts.get(key, 0) + one.count
        told = []
        for (length, recipes), count in counts.items():
            facts = {"count": count, "length": self._lengths.length(length)}
            titles = self._words.listed(list(map(self._recipe, recipes)))
            told.append(self._say("length-for", recipe=titles, **facts) if recipes else self._say("length", **facts))
        return self._words.listed(told)
