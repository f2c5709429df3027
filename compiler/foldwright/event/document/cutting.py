"""The cutting plan in words: sheets to take, layouts with their pictures, cuts in working order, what to keep."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from foldwright.document.catalogue import Catalogue
from foldwright.document.supplies import weight_phrases
from foldwright.document.wording import since_words, span_words
from foldwright.event.document.model import CutWork, EventPart, PaperTable, PaperText, PaperWords, SheetPicture, Tick
from foldwright.event.document.spools import spool_parts, spools_to_cut
from foldwright.event.document.writing import EventSource, JobWords, SectionWriter, called, named
from foldwright.event.facts.agreeing import runs_one_way
from foldwright.event.plan.cuts import CutPart, Left, NumberedCut
from foldwright.event.plan.cutting import SheetPlan, SheetSize, SheetWork
from foldwright.event.plan.jobs import What
from foldwright.event.plan.planning import Event
from foldwright.event.plan.timeline import runs
from foldwright.measure.length import System
from foldwright.measure.paper import named_sheet
from foldwright.measure.steps import nearest
from foldwright.recipe.model import Supply


def cutting_paper(source: EventSource) -> PaperText | None:
    """All supplies that come in sheets, one after the other; then what is cut from spools. None where nothing is."""
    event, words = source.event, source.words
    if not event.sheets and not spools_to_cut(event):
        return None
    units = "imperial" if event.wishes.system is System.IMPERIAL else "metric"
    parts: list[EventPart] = [PaperWords("", (words.say("event.safety"), words.say(f"event.units-{units}")))]
    if any(plan.work for plan in event.sheets):
        told = [words.say(f"event.cutting.reading-{what}") for what in ("picture", "stop", "turn", "count")]
        parts.append(PaperWords(words.say("event.cutting.reading"), tuple(told)))
    for plan in event.sheets:
        parts += _CuttingPaper(source, plan).parts()
    parts += spool_parts(source)
    parts += by_helper(source)
    return PaperText(_summary(event, words), tuple(parts))


def _summary(event: Event, words: Catalogue) -> str:
    total = sum(work.layout.copies for plan in event.sheets for work in plan.work)
    sheets, spools = words.say("event.cutting.needs", count=total), spools_to_cut(event)
    return words.say("event.cutting.summary-spools" if spools else "event.cutting.summary", sheets=sheets, count=spools)


def known_of(plan: SheetPlan) -> str:
    """What is known of how few sheets there can be, as the name of a sentence; empty where that cannot be told."""
    sizes = sum(not size.owned for size in plan.sizes)
    if not plan.bought:
        return "" if plan.cutting.short or plan.cutting.too_large else "none-bought"
    what = "traded" if plan.cutting.traded else "proven" if plan.cutting.proven else "unproven"
    return f"cost-{what}" if sizes > 1 or (what == "unproven" and plan.bound is None) else what


def traded_words(plan: SheetPlan, words: Catalogue) -> dict[str, str]:
    """How many sheets more are taken, and how many layouts that saves, as facts for a sentence."""
    traded = plan.cutting.traded
    if traded is None:
        return {}
    return {
        "more": words.say("event.cutting.needs", count=traded.sheets),
        "layouts": words.say("event.cutting.layouts", count=traded.layouts),
    }


class _CuttingPaper(SectionWriter):
    """One supply's plan in words."""

    section = "cutting"

    def __init__(self, source: EventSource, plan: SheetPlan) -> None:
        super().__init__(source)
        self._plan, event = plan, source.event
        beds = (making.recipe.studio.trimmer.bed for making in event.makings)
        self._bed = next((said.value for said in beds if said), None)
        self._many = len({one.recipe for one in plan.wanted}) > 1
        bought = {(line.supply.name.value, line.colour): line.supply for line in event.shopping}
        self._supply = bought[plan.supply, plan.colour]

    def _name(self, piece: int, count: int = 1) -> str:
        """What so many of a piece are called: with their recipe, where pieces of several are cut."""
        one = self._plan.wanted[piece]
        name = named(one.piece, count)
        return self._say("piece-of", name=name, recipe=self._recipe(one.recipe)) if self._many else name

    def parts(self) -> Iterator[EventPart]:
        plan = self._plan
        told = [*self._sheets(), *self._missing()]
        if len(plan.work):
            told.append(self._say("at-once", count=plan.at_once))
        yield PaperWords(called(plan.supply, plan.colour, self._words), tuple(told))
        rows = tuple(
            (self._name(number), self._lengths.size(one.width, one.height), str(one.count))
            for number, one in enumerate(plan.wanted)
        )
        yield PaperTable("", self._columns("piece", "size", "count"), rows, frozenset({2}))
        for number, work in enumerate(plan.work, 1):
            yield self._layout(number, work)
        kept = Counter[tuple[Fraction, Fraction]]()
        for cut in (cut for work in plan.work for cut in work.cuts if cut.left.kept):
            kept[cut.left.width, cut.left.height] += cut.count
        if kept:
            lines = [
                self._say("offcut", count=count, size=self._about(*size))
                for size, count in sorted(kept.items(), key=lambda one: -one[0][0] * one[0][1])
            ]
            yield PaperWords(self._say("offcuts"), (self._words.listed(lines),))

    # --- what to take -------------------------------------------------------------------------------------------------

    def _sheets(self) -> Iterator[str]:
        plan = self._plan
        paper = self._words.say("list.comma").join(_paper(self._supply, self._lengths.system, self._words))
        for number, size in enumerate(plan.sizes):
            if not (used := plan.cutting.sheets(number)):
                continue
            facts = {"sheets": self._say("needs", count=used), "size": self._size(size)}
            if size.owned:
                yield self._say("take-owned", **facts)
            else:
                yield self._say("take-paper", paper=paper, **facts) if paper else self._say("take", **facts)
        if known := known_of(plan):
            yield self._say(known, bound=plan.bound, **traded_words(plan, self._words))

    def _missing(self) -> Iterator[str]:
        for number in self._plan.cutting.too_large:
            one = self._plan.wanted[number]
            yield self._say("too-large", piece=self._name(number), size=self._lengths.size(one.width, one.height))
        for number, one in enumerate(self._plan.wanted):
            if one.slant:
                way = "right" if one.slant > 0 else "left"
                yield self._say(f"slanted-{way}", piece=self._name(number), angle=f"{abs(one.slant):g}")
        for number, count in self._plan.cutting.short:
            yield self._say("short", piece=self._name(number, count), count=count)

    def _size(self, size: SheetSize) -> str:
        """A sheet by its name or as it is sold; one measured in the other units, in those of the folder too."""
        step = self._plan.step
        here = self._lengths.size(nearest(size.width, step), nearest(size.height, step))
        exact = not (size.width % step or size.height % step)
        if not size.name or (exact and not named_sheet(size.name)):
            return here
        return self._words.say("event.sold", written=size.name, here=here)

    def _about(self, width: Fraction, height: Fraction) -> str:
        """The size of what nobody measures: rounded down to what the scale shows."""
        return self._lengths.size(*(max(side // self._plan.step, 1) * self._plan.step for side in (width, height)))

    # --- layouts ------------------------------------------------------------------------------------------------------

    def _layout(self, number: int, work: SheetWork) -> CutWork:
        size = self._plan.sizes[work.layout.stock]
        copies = work.layout.copies
        heading = self._say("layout", number=number, sheets=self._say("needs", count=copies), size=self._size(size))
        held = Counter(work.layout.whole.pieces())
        sides = nearest(size.width, self._plan.step), nearest(size.height, self._plan.step)
        picture = SheetPicture(
            size.width,
            size.height,
            size.trim,
            work.layout.whole,
            work.worked,
            tuple(map(self._name, range(len(self._plan.wanted)))),
            self._say("keep"),
            self._say("waste"),
            self._say("fence"),
            self._say("stop"),
            (self._lengths.length(sides[0]), self._lengths.length(sides[1])),
            self._say("picture", sheet=self._size(size), pieces=self._counted(held)),
        )
        cuts = tuple(self._cuts(work, size)) or (Tick(self._say("whole")),)
        check = self._say("check", pieces=self._counted({kind: each * copies for kind, each in held.items()}))
        return CutWork(heading, picture, cuts, check)

    def _counted(self, held: Counter[int] | dict[int, int]) -> str:
        return self._words.listed(
            [
                self._say("count-piece", count=count, name=self._name(kind, count))
                for kind, count in sorted(held.items())
            ]
        )

    def _cuts(self, work: SheetWork, size: SheetSize) -> Iterator[Tick]:
        before: NumberedCut | None = None
        for cut in work.cuts:
            yield Tick(self._does(cut, before, size), self._comes_of(cut))
            before = cut

    def _does(self, cut: NumberedCut, before: NumberedCut | None, size: SheetSize) -> str:
        """How it lies, then what the stop is set to."""
        of, side = self._part(cut.of, cut.count), self._side(cut, before, size)
        if cut.trim:
            key = "square" if before is None else "square-next"
            return self._say(key, of=of, side=side, trim=self._lengths.plainest(size.trim, self._plan.step))
        again = before is not None and not before.trim and before.stop == cut.stop
        stop = self._lengths.length(cut.stop)
        told = self._say("cut-again" if again else "cut", stop=stop, count=cut.times)
        if before is not None and before.trim:
            return self._say("square-turn", of=of, cut=told)
        return self._say("lay" if before is None else "turn" if cut.turn else "go-on", of=of, side=side, cut=told)

    def _side(self, cut: NumberedCut, before: NumberedCut | None, size: SheetSize) -> str:
        """The edge that lies along the fence: by its length, or by how the pattern runs where all are as long."""
        width, height = (size.width, size.height) if before is None else self._whole_of(cut)
        if width != height:
            return self._say("side", length=self._lengths.length(nearest(cut.fence, self._plan.step)))
        if before is not None:
            return self._say("side-square")
        if not runs_one_way(self._supply):
            return self._say("side-any")
        return self._say("side-upright" if cut.fence_is_top else "side-level")

    @staticmethod
    def _whole_of(cut: NumberedCut) -> tuple[Fraction, Fraction]:
        """What one of the parts measures before it is cut."""
        return (cut.fence, cut.height) if cut.fence_is_top else (cut.width, cut.fence)

    def _part(self, part: CutPart, count: int = 1) -> str:
        """Parts by their letter, the rest of them, or the sheets."""
        key = "of-part" if part.letter else "of-sheets"
        whole = self._say(f"{key}-both" if count == 2 else key, count=count, name=part.letter)
        return self._say("name-rest", name=whole) if part.rest else whole

    def _comes_of(self, cut: NumberedCut) -> str:
        if cut.trim:
            return ""
        told = []
        each, size = cut.each * cut.count, self._about(cut.width, cut.height)
        if cut.piece is not None:
            told.append(self._say("gives-piece", count=each, name=self._name(cut.piece, each)))
        elif cut.part is not None:
            told.append(self._say("gives", count=each, name=cut.part.letter, size=size))
        told.append(self._leaves(cut.left, cut.count))
        long = cut.height if cut.fence_is_top else cut.width
        if self._bed is not None and long > self._bed.mm:
            told.append(self._say("longer-than-the-bed", bed=self._bed))
        if not cut.on_scale:
            told.append(self._say("off-scale", step=self._lengths.length(self._plan.step)))
        return "; ".join(told)

    def _leaves(self, left: Left, count: int) -> str:
        if left.nothing:
            return self._say("nothing-left", count=count)
        size = self._about(left.width, left.height)
        if left.sliver:
            return self._say("sliver")
        if left.piece is not None:
            return self._say("left-piece", count=count, name=self._name(left.piece))
        if left.part is not None and left.part.rest:
            return self._say("left-rest", count=count, size=size)
        if left.part is not None:
            return self._say("left-part", count=count, name=self._part(left.part), size=size)
        return self._say("falls-off-keep" if left.kept else "falls-off", size=size)


def _paper(supply: Supply, system: System, words: Catalogue) -> Iterator[str]:
    """What tells one paper from another: its kind, weight, grain and pattern."""
    if supply.kind and supply.kind.value.casefold() not in supply.name.value.casefold():
        yield supply.kind.value
    if supply.weight:
        yield weight_phrases(supply.weight.value, words).of(system).plain
    for name, said in (("grain", supply.grain), ("pattern", supply.pattern)):
        if said:
            yield words.say(f"page.supply.{name}", way=said.value)


def by_helper(source: EventSource) -> Iterator[EventPart]:
    """A table, by helper in the order of their work; nothing where no sheet is cut."""
    event, words, jobs = source.event, source.words, JobWords(source)
    if event.preparation is None:
        return
    timeline = event.preparation.timeline
    rows = tuple(
        (
            str(helper),
            since_words(words, run[0].start),
            jobs.name(run[0].task),
            jobs.part(run),
            str(sum(span.count for span in run)),
            span_words(words, -(-(run[-1].end - run[0].start) // 60) * 60),
        )
        for helper in range(1, event.wishes.helpers + 1)
        for run in runs(timeline, helper)
        if run[0].task and jobs.job(run[0].task).what is What.SHEETS
    )
    if rows:
        names = ("helper", "from", "what", "sheets", "stacks", "takes")
        columns = tuple(words.say(f"event.by-helper.column-{name}") for name in names)
        yield PaperTable(words.say("event.by-helper.heading"), columns, rows, frozenset({0, 1, 4}), ticked=True)
