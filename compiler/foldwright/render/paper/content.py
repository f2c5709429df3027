"""What stands on a card: its blocks of words in every wording there is.

A block is what stands together in one column: the head, what is needed, a step. It is made of slots (a step's cautions,
its words, its tip), and a slot holds a part for each wording, or one that is the same in every version.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from html import escape
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document import model
from foldwright.document.address import as_read
from foldwright.document.quote_marks import curled
from foldwright.document.words import Passage, Run, Runs, SetMeasure, plain
from foldwright.measure.length import System
from foldwright.measure.writing import NARROW_SPACE
from foldwright.recipe.words import Link, SectionKind
from foldwright.render.markup import Markup, set_phrase
from foldwright.render.paper.versions import ALWAYS, Version
from foldwright.vocabulary import Signal

_LONG_TITLE, _VERY_LONG_TITLE = 28, 70
"""Letters from which a title is set smaller."""
_BOTH = (False, True)
_FIRST_NUMBER = re.compile(r"[^\s<-]*")
_NO_BREAK = "\u00a0"
_AFTER_NUMBER = re.compile(r"(?<=\d) (?=\w)")
_SPACE_AND_FRACTION = f'{NARROW_SPACE}<span class="fr on">'
_FRACTION_WITH_SPACE = f'<span class="fr on">{NARROW_SPACE}'


class BlockPart(Struct, frozen=True):
    """Words for one slot of a block; `content` is for the template. `always` ones stand in all versions but a strip."""

    name: str
    content: object
    always: bool = False


class Matter(Struct, frozen=True):
    """A block in every wording: what a template sets as it is, and its slots."""

    kind: str
    fixed: Mapping[str, object]
    slots: Mapping[str, tuple[BlockPart, ...]]

    def parts(self, wordings: frozenset[str]) -> tuple[str, ...]:
        """The names of the parts that stand in a version, each with its slot: `words-short`."""
        return tuple(f"{slot}-{part.name}" for slot, parts in self._chosen(wordings) for part in parts)

    def view(self, wordings: frozenset[str] | None = None) -> SimpleNamespace:
        """The block as a template sets it, with the parts of a version, or with all of them."""
        chosen = self.slots.items() if wordings is None else self._chosen(wordings)
        slots = {
            slot: [SimpleNamespace(name=f"{slot}-{part.name}", content=part.content) for part in parts]
            for slot, parts in chosen
        }
        return SimpleNamespace(kind=self.kind, **self.fixed, **slots)

    def _chosen(self, wordings: frozenset[str]) -> Iterator[tuple[str, list[BlockPart]]]:
        for slot, parts in self.slots.items():
            yield slot, [part for part in parts if part.name in wordings or (part.always and ALWAYS in wordings)]


def sections_to_show(document: model.Document, before: bool) -> tuple[model.SectionText, ...]:
    """Sections to be read before the steps, or after them. What is for the teacher goes into nobody else's hands."""
    kept = (section for section in document.sections if section.kind is not SectionKind.TEACHER)
    return tuple(section for section in kept if (section.kind is SectionKind.BEFORE) is before)


class PaperMarkup(Markup):
    """Words for paper, in one system: figures alone, without the words for the ear, and no links to follow."""

    def phrases(self, phrases: object) -> str:
        phrase: SetMeasure = phrases.of(self._systems[0])  # type: ignore[attr-defined]
        # Into the fraction with the space before it: one that stands alone between elements would not be written.
        figures = set_phrase(phrase).replace(_SPACE_AND_FRACTION, _FRACTION_WITH_SPACE)
        # Only the rest is kept from breaking: with what cannot break at all, the typesetter lets no line begin.
        first = len(_FIRST_NUMBER.match(figures)[0])  # type: ignore[index]
        rest = f'<span class="n">{figures[first:]}</span>' if figures[first:] else ""
        return f"<span>{figures[:first]}{rest}</span>"

    def _run(self, run: Run) -> str:
        return self.runs(run.children) if isinstance(run, Link) else super()._run(run)


class Content:
    """The blocks of one sheet in one unit system; of the `bare` ones a template knows all that stands in them."""

    bare: frozenset[str] = frozenset()

    def __init__(self, document: model.Document, system: System) -> None:
        self.document = document
        self.system = system
        self._words = PaperMarkup((system,), heading=3)
        self._label = document.labels
        self._blocks: dict[str, Matter] = {}

    def needs(self) -> tuple[str, ...]:
        """The blocks of supplies and tools, where there are any."""
        there = {"supplies": self.document.supplies, "tools": self.document.tools}
        return tuple(name for name, things in there.items() if things)

    @property
    def sized(self) -> bool:
        """Whether any piece has a size to tell."""
        return any(piece.size for piece in self.document.pieces)

    def opening(self, version: Version | None = None) -> tuple[str, ...]:
        """What is to be read before the steps, in a version: cautions, and what the author says before one starts."""
        name = "minded" if version and version.strip else "cautions"
        there = self.minds if name == "minded" else bool(self.document.cautions)
        if there and version:
            there = any(self.block(name).parts(version.wordings))
        return (*((name,) if there else ()), *self._sections(before=True))

    @property
    def minds(self) -> bool:
        """Whether there is anything to be minded."""
        return any((*self.document.cautions, *(one for step in self.document.steps for one in step.cautions)))

    def steps(self) -> tuple[str, ...]:
        return tuple(f"step-{step.number}" for step in self.document.steps)

    def closing(self) -> tuple[str, ...]:
        """Tips, notes and the like, after the steps."""
        return self._sections(before=False)

    def _sections(self, before: bool) -> tuple[str, ...]:
        """Sections by their number."""
        chosen = sections_to_show(self.document, before)
        return tuple(f"section-{number}" for number, one in enumerate(self.document.sections) if one in chosen)

    def block(self, name: str) -> Matter:
        """A block by its name: `head`, `supplies`, `tools`, `cautions`, `pieces-1`, `step-3`, `section-0` or `foot`."""
        if name not in self._blocks:
            kind, _, number = name.partition("-")
            made = Matter(kind, {}, {}) if kind in self.bare else getattr(self, f"_{kind}")(int(number or 0))
            self._blocks[name] = made
        return self._blocks[name]

    def _head(self, _number: int) -> Matter:
        head = self.document.head
        long = len(head.title)
        audience = f"{self._label['made-for']} {head.audience}" if head.audience else ""
        level = f"{self._label['level-is']} {head.level}" if head.level else ""
        facts = {"makes": head.makes, "time": self.document.totals.line, "level": head.level}
        # A number and what it counts stay on one line.
        named = [
            SimpleNamespace(name=self._label[name], text=_AFTER_NUMBER.sub(_NO_BREAK, text))
            for name, text in facts.items()
            if text
        ]
        fixed = {
            "title": head.title,
            "size": "very-long" if long > _VERY_LONG_TITLE else "long" if long > _LONG_TITLE else "short",
            "facts": [text for text in (head.makes, facts["time"], level, audience) if text],
            "named_facts": named,
            "audience": audience,
            "draft": self._label["draft"] if self.document.standing is model.Readiness.DRAFT else "",
        }
        summary = (BlockPart("summary", self._html(head.summary)),) if head.summary else ()
        studio = (BlockPart("summary", head.studio),) if head.studio else ()
        return Matter("head", fixed, {"studio": studio, "summary": summary})

    def _foot(self, _number: int) -> Matter:
        head, label = self.document.head, self._label
        parts = [
            head.occasion,
            head.author,
            self._together(f"{label['revised']} {head.revised_words}") if head.revised_words else "",
            as_read(head.address),
            head.licence,
            self._together(label[f"in-{self.system.value}"]),
        ]
        rules = label["local-rules"] if self.document.cautioned else ""
        return Matter("foot", {"parts": [part for part in parts if part], "rules": rules}, {})

    def _together(self, text: str) -> str:
        """A few words that no line end is to part."""
        return text.replace(" ", _NO_BREAK)

    def _supplies(self, _number: int) -> Matter:
        listed, run_in = ([self._supply(one, line) for one in self.document.supplies] for line in _BOTH)
        return self._needed("supplies", listed, run_in)

    def _tools(self, _number: int) -> Matter:
        listed, run_in = ([self._tool(one, line) for one in self.document.tools] for line in _BOTH)
        return self._needed("tools", listed, run_in)

    def _needed(self, name: str, listed: list[SimpleNamespace], run_in: list[SimpleNamespace]) -> Matter:
        """Supplies or tools, as a list with all that is to be known of them, or one after another on a line."""
        parts = (BlockPart("list", listed), BlockPart("line", run_in))
        return Matter("needs", {"heading": self._label[name], "group": name}, {"things": parts})

    def _sizes(self, _number: int) -> Matter:
        """The pieces with their sizes, one after another on a line."""
        things = [
            SimpleNamespace(name=escape(piece_and_count(piece)), amount=Html(self._words.phrases(piece.size)), notes="")
            for piece in self.document.pieces
            if piece.size
        ]
        return Matter(
            "needs", {"heading": self._label["pieces"], "group": "sizes"}, {"things": (BlockPart("heading", things),)}
        )

    def _supply(self, supply: model.SupplyLine, line: bool) -> SimpleNamespace:
        label = self._label
        amount = [self._runs(supply.amount)] if supply.amount else []
        contains = [f"{label['contains']} {escape(supply.contains)}"] if supply.contains else []
        optional = [label["optional"]] if supply.optional else []
        more = [] if line else [self._runs(runs) for runs in (supply.details, supply.note) if runs]
        colours = [f"{label['colour']} {escape(supply.colours)}"] if supply.colours and not line else []
        notes = [*more, *colours, *contains, *([] if line else self._instead(supply.instead))]
        return SimpleNamespace(
            name=self._html(supply.name),
            amount=Html(label["comma"].join([*amount, *optional])),
            notes=Html(label["comma"].join(notes)),
        )

    def _tool(self, tool: model.ToolLine, line: bool) -> SimpleNamespace:
        notes = ([self._label["optional"]] if tool.optional else []) + ([] if line else self._instead(tool.instead))
        return SimpleNamespace(name=self._html(tool.name), amount="", notes=Html(self._label["comma"].join(notes)))

    def _instead(self, instead: Sequence[model.Substitute]) -> list[str]:
        return [
            f"{self._label['instead']} {self._runs(one.name)}"
            + (f" ({_AFTER_NUMBER.sub(_NO_BREAK, self._runs(one.remark))})" if one.remark else "")
            for one in instead
        ]

    def _cautions(self, _number: int) -> Matter:
        cautions = self.document.cautions
        full = [
            _signalled(one.signal, one.signal_word, escape(f"{one.hazard} {one.consequence} {one.avoid}", quote=False))
            for one in cautions
        ]
        # Where there is little room, what lies in the finished thing: of tools and materials steps have reminders.
        made = [one for one in cautions if not one.reminder]
        brief = (
            (BlockPart("brief", [_run_in([(one.signal, one.signal_word, one.brief) for one in made])]),) if made else ()
        )
        return Matter("cautions", {}, {"cautions": (BlockPart("full", full), *brief)})

    def _minded(self, _number: int) -> Matter:
        """All cautions of a strip, whose steps have no words, in one paragraph."""
        made = [(one.signal, one.signal_word, one.brief) for one in self.document.cautions if not one.reminder]
        rest = [one for one in self.document.cautions if one.reminder]
        told = [(rest[0].signal, rest[0].signal_word, " ".join(one.reminder for one in rest))] if rest else []
        paragraphs = [_run_in([*made, *told])] if made or told else []
        own = (one for step in self.document.steps for one in step.cautions if one.own)
        paragraphs += [_signalled(one.signal, one.signal_word, self._one_line(one.own)) for one in own]
        return Matter("minded", {}, {"cautions": (BlockPart("heading", paragraphs),)})

    def _reminder(self, step: model.StepText) -> tuple[BlockPart, ...]:
        """One paragraph of what to mind in a step."""
        if (one := step.reminder) is None:
            return ()
        words = self._one_line(one.words)
        return (BlockPart("reminder", [_signalled(one.signal, one.signal_word, words)], always=True),)

    def _one_line(self, words: Passage) -> str:
        return self._words.passage(words).removeprefix("<p>").removesuffix("</p>")

    def _pieces(self, number: int) -> Matter:
        """A place for plans that belong to no step; the first of several has the heading."""
        return Matter("pieces", {"headed": not number}, {})

    def _step(self, number: int) -> Matter:
        step = next(step for step in self.document.steps if step.number == number)
        bookmark = f"{number} {plain(step.heading, self.system)}"
        fixed = {"number": number, "heading": self._html(step.heading), "bookmark": bookmark}
        full, *short = [Html(self._words.passage(wording)) for wording in step.wordings]
        slots = {
            "meta": (
                BlockPart("timed", list(self._meta(step))),
                BlockPart("briefly", list(self._brief_meta(step))),
                BlockPart("heading", []),
            ),
            "cautions": self._reminder(step),
            "words": (BlockPart("words", full, always=not short), *(BlockPart("short", one) for one in short)),
            "tip": (BlockPart("tip", self._asides(step)),) if step.tip or step.trials else (),
        }
        return Matter("step", fixed, slots)

    def _asides(self, step: model.StepText) -> Html:
        """What to measure, then the tip."""
        trials = "".join(f"<p>{self._runs(line)}</p>" for line in step.trials)
        return Html(trials + (self._words.led(self._label["tip"], step.tip) if step.tip else ""))

    def _meta(self, step: model.StepText) -> Iterator[str]:
        """What stands beside a step's heading: its time, when it is done, whether it may be left out."""
        if step.time.line:
            yield self._times(step.time.line)
        if step.when_words:
            yield self._together(step.when_words)
        if step.optional:
            yield self._label["optional"]
        if step.meanwhile:
            yield Html(f"{self._label['meanwhile']} {self._runs(step.meanwhile)}")

    def _brief_meta(self, step: model.StepText) -> Iterator[str]:
        """The same where there is little room: what is done beforehand anyway is left out."""
        if step.time.in_hand:
            yield self._times(step.time.in_hand)
        if step.optional:
            yield self._label["optional"]

    def _times(self, line: str) -> str:
        """Times in a line that may be broken between them alone: `about 15 s` stays whole."""
        comma = self._label["comma"]
        return comma.join(map(self._together, line.split(comma)))

    def _section(self, number: int) -> Matter:
        section = self.document.sections[number]
        words = Html(self._words.passage(section.words))
        fixed = {
            "heading": self._html(section.heading),
            "bookmark": plain(section.heading, self.system),
            "words": words,
            "first": section.kind is SectionKind.BEFORE,
        }
        return Matter("section", fixed, {})

    def _runs(self, runs: Runs) -> str:
        return self._words.runs(runs)

    def _html(self, runs: Runs) -> Html:
        return Html(self._runs(runs))


def piece_and_count(piece: model.PieceLine) -> str:
    """`wrapper × 3`."""
    said = curled(piece.name)
    return f"{said}{_NO_BREAK}×{_NO_BREAK}{piece.count}" if piece.count > 1 else said


def _signalled(signal: Signal, word: str, words: str) -> SimpleNamespace:
    """A paragraph that begins with a signal word."""
    return SimpleNamespace(signal=signal.name.lower(), word=word, words=Html(words))


def _run_in(said: Sequence[tuple[Signal, str, str]]) -> SimpleNamespace:
    """One paragraph of several cautions, each with its signal word."""
    (signal, word, words), *more = said
    told = escape(words, quote=False)
    for _, one, after in more:
        told += f' <strong class="signal">{escape(one)}</strong> {escape(after, quote=False)}'
    return _signalled(signal, word, told)
