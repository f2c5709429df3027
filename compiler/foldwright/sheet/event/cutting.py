"""The cutting plan in words: sheets to take, layouts with their pictures, cuts in working order, what to keep."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from foldwright.measure.length import System
from foldwright.pack.cutting.model import Row
from foldwright.plan.event.cuts import Cut, Left
from foldwright.plan.event.cutting import SheetPlan, SheetSize, SheetWork
from foldwright.plan.event.planning import Event
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.event.lengths import Lengths
from foldwright.sheet.event.model import CutWork, EventPaper, EventPart, SheetPicture, Table, Tick, Words


def cutting_paper(event: Event, lengths: Lengths, words: Catalogue) -> EventPaper:
    """All supplies that come in sheets, one after the other."""
    total = sum(work.layout.copies for plan in event.sheets for work in plan.work)
    units = "imperial" if lengths.system is System.IMPERIAL else "metric"
    parts: list[EventPart] = [Words("", (words.say("event.safety"), words.say(f"event.units-{units}")))]
    for plan in event.sheets:
        parts += _Told(event, plan, lengths, words).parts()
    summary = words.say("event.cutting.summary", sheets=words.say("event.cutting.needs", count=total))
    return EventPaper("cutting-plan", words.say("event.cutting.title"), summary, tuple(parts))


def called(supply: str, colour: str, words: Catalogue) -> str:
    """A supply, with its colour where it comes in several."""
    return words.say("event.shopping.colour", supply=supply, colour=colour) if colour else supply


class _Told:
    """One supply's plan in words."""

    def __init__(self, event: Event, plan: SheetPlan, lengths: Lengths, words: Catalogue) -> None:
        self._event, self._plan, self._lengths, self._words = event, plan, lengths, words
        beds = (making.understood.recipe.studio.trimmer.bed for making in event.makings)
        self._bed = next((said.value for said in beds if said), None)
        many = len({one.recipe for one in plan.wanted}) > 1
        self._names = tuple(
            f"{one.piece} ({event.makings[one.recipe].understood.recipe.title.value})" if many else one.piece
            for one in plan.wanted
        )

    def _say(self, key: str, **facts: object) -> str:
        return self._words.say(f"event.cutting.{key}", **facts)

    def parts(self) -> Iterator[EventPart]:
        plan = self._plan
        heading = called(plan.supply, plan.colour, self._words)
        told = [*self._sheets(), *self._missing()]
        if len(plan.work):
            told.append(self._say("at-once", count=plan.at_once))
        yield Words(heading, tuple(told))
        rows = tuple(
            (name, self._lengths.size(one.width, one.height), str(one.count))
            for name, one in zip(self._names, plan.wanted, strict=True)
        )
        columns = (self._say("column-piece"), self._say("column-size"), self._say("column-count"))
        yield Table("", columns, rows, frozenset({2}))
        for number, work in enumerate(plan.work, 1):
            yield self._layout(number, work)
        kept = Counter(size for work in plan.work for size in self._kept(work))
        if kept:
            lines = [
                self._say("offcut", count=count, size=self._lengths.size(*size))
                for size, count in sorted(kept.items(), key=lambda one: -one[0][0] * one[0][1])
            ]
            yield Words(self._say("offcuts"), (self._words.listed(lines),))

    def _size(self, size: SheetSize) -> str:
        return self._lengths.size(size.width, size.height)

    def _sheets(self) -> Iterator[str]:
        plan = self._plan
        bound = plan.bound
        sold = [size for size in plan.sizes if not size.owned]
        for number, size in enumerate(plan.sizes):
            used = plan.cutting.sheets(number)
            if not used:
                continue
            facts = {"sheets": self._say("needs", count=used), "size": self._size(size)}
            if size.owned:
                yield self._say("owned", **facts)
            elif (traded := plan.cutting.traded) and len(sold) == 1:
                more = self._say("needs", count=traded.sheets)
                yield self._say("traded", more=more, layouts=self._say("layouts", count=traded.layouts), **facts)
            elif len(sold) > 1 or bound is None:
                yield self._say("taken", **facts)
            else:
                yield self._say("proven" if plan.cutting.proven else "unproven", bound=bound, **facts)
        if len(sold) > 1 and not plan.cutting.traded:
            yield self._say("cost-proven" if plan.cutting.proven else "cost-unproven")

    def _missing(self) -> Iterator[str]:
        for number in self._plan.cutting.too_large:
            one = self._plan.wanted[number]
            yield self._say("too-large", piece=self._names[number], size=self._lengths.size(one.width, one.height))
        for number, count in self._plan.cutting.short:
            yield self._say("short", piece=self._names[number], count=count)

    def _layout(self, number: int, work: SheetWork) -> CutWork:
        size = self._plan.sizes[work.layout.stock]
        sheets = self._say("needs", count=work.layout.copies)
        heading = self._say("layout", number=number, sheets=sheets, size=self._size(size))
        held = Counter(work.layout.whole.pieces())
        pieces = [self._say("picture-piece", count=count, name=self._names[kind]) for kind, count in held.items()]
        picture = SheetPicture(
            size.width,
            size.height,
            size.trim,
            work.layout.whole,
            self._names,
            (self._lengths.length(size.width), self._lengths.length(size.height)),
            self._say("picture", sheet=self._size(size), pieces=self._words.listed(pieces)),
        )
        cuts = tuple(self._cuts(work)) or (Tick(self._say("whole")),)
        return CutWork(heading, picture, cuts)

    def _cuts(self, work: SheetWork) -> Iterator[Tick]:
        row: Row | None = None
        for cut in work.cuts:
            turn = self._say("turned") if row is not None and cut.row is not row else ""
            row = cut.row
            times = self._say("times", count=cut.times)
            of = self._of(cut.of, cut.count)
            text = self._say("cut", turn=turn, stop=self._lengths.length(cut.stop), times=times, of=of)
            yield Tick(text[0].upper() + text[1:], self._comes_of(cut))

    def _of(self, name: str, count: int) -> str:
        if name == "sheet" or name.startswith("trimmed sheet"):
            return self._say("of-sheets", count=count)
        return self._say("of-part", count=count, name=self._part(name))

    def _part(self, name: str) -> str:
        """A part by its letter, the rest of one, a trimmed sheet."""
        base, comma, _ = name.partition(", rest")
        if base.startswith(("sheet", "trimmed sheet")):
            base = self._say("name-sheet")
        return self._say("name-rest", name=base) if comma else base

    def _comes_of(self, cut: Cut) -> str:
        told = []
        size = self._lengths.size(cut.width, cut.height)
        if cut.piece is not None:
            told.append(self._say("gives-piece", each=cut.each * cut.count, name=self._names[cut.piece]))
        elif not cut.trim:
            told.append(self._say("gives", each=cut.each * cut.count, name=cut.name, size=size))
        told += self._leaves(cut.left)
        long = cut.height if cut.row is Row.ACROSS else cut.width
        if self._bed is not None and long > self._bed.mm:
            told.append(self._say("longer-than-the-bed", bed=self._bed))
        return "; ".join(told)

    def _leaves(self, left: Left) -> Iterator[str]:
        if not left.name:
            yield self._say("nothing-left")
            return
        size = self._lengths.size(left.width, left.height)
        if left.offcut:
            yield self._say("falls-off-keep" if left.kept else "falls-off", size=size)
        elif left.piece is not None:
            yield self._say("left-piece", name=self._names[left.piece])
        else:
            yield self._say("left-part", name=self._part(left.name), size=size)

    @staticmethod
    def _kept(work: SheetWork) -> Iterator[tuple[Fraction, Fraction]]:
        for cut in work.cuts:
            if cut.left.kept:
                for _ in range(cut.count):
                    yield cut.left.width, cut.left.height
