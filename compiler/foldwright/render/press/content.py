"""What stands on a card: its blocks of words in every wording there is, and the versions of it, the fullest first.

A block's name tells its wording: `step-3-short` are the short words of step 3, `needs-line` the supplies run together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec import Struct
from msgspec.structs import replace

from foldwright.measure.length import System
from foldwright.render.markup import Markup, set_phrase
from foldwright.render.press.papers import Paper
from foldwright.sheet.model import CautionText, Sheet, Standing, StepText, Substitute, SupplyLine, ToolLine
from foldwright.sheet.words import Linked, Phrase, Run, Runs

_SMALLEST = 8.0
_LONG_TITLE, _VERY_LONG_TITLE = 28, 70
"""Letters from which a title is set smaller."""
_SCHEMES = ("https://", "http://")


class Version(Struct, frozen=True):
    """One version of a card, and the type size in points that is enough for it.

    `sections` are tips and notes at the end, `full_cautions` say what can happen besides how to avoid it, `listed` has
    the supplies as a list with all that is to be known of them; `pictures` is how many are shown, by their rank.
    """

    enough: float
    pictures: int
    sections: bool = True
    full_cautions: bool = True
    tips: bool = True
    summary: bool = True
    listed: bool = True
    short: bool = False


def versions_for(sheet: Sheet, paper: Paper, pictures: int) -> tuple[Version, ...]:
    """The versions to try on a paper in turn, when `pictures` could be shown: the thinner, the smaller they may be."""
    ease = paper.comfortable_pt
    shown = pictures if paper.most_pictures is None else min(pictures, paper.most_pictures)
    one = Version(ease, shown)
    tried = [one]
    for enough, less in (
        (ease, {"sections": False}),
        (ease - 0.5, {"full_cautions": False}),
        (ease - 0.5, {"tips": False}),
        (ease - 1.0, {"summary": False, "listed": False}),
        (ease - 1.0, {"short": any(len(step.wordings) > 1 for step in sheet.steps)}),
    ):
        one = replace(one, enough=max(_SMALLEST, enough), **less)
        tried.append(one)
    fewer = (replace(one, pictures=count, enough=max(_SMALLEST, ease - 1.5)) for count in range(shown - 1, 0, -1))
    return (*tried, *fewer, replace(one, pictures=0, enough=_SMALLEST))


class PaperMarkup(Markup):
    """Words for paper, in one system: figures alone, without the words for the ear, and no links to follow."""

    def phrases(self, phrases: object) -> str:
        phrase: Phrase = phrases.of(self._systems[0])  # type: ignore[attr-defined]
        return f'<span class="n">{set_phrase(phrase)}</span>'

    def _run(self, run: Run) -> str:
        return self.runs(run.children) if isinstance(run, Linked) else super()._run(run)


class Content:
    """The blocks of one sheet in one unit system."""

    def __init__(self, sheet: Sheet, system: System) -> None:
        self.sheet = sheet
        self.system = system
        self._words = PaperMarkup((system,), heading=3)
        self._label = sheet.labels

    def needed(self, version: Version) -> tuple[str, ...]:
        """The blocks of what is needed and what is to be minded before anything is done."""
        needs = ("needs" if version.listed else "needs-line",) if self.sheet.supplies or self.sheet.tools else ()
        cautions = ("cautions" if version.full_cautions else "cautions-brief",) if self.sheet.cautions else ()
        return (*needs, *cautions)

    def steps(self, version: Version) -> tuple[str, ...]:
        return tuple(self._step_name(step, version) for step in self.sheet.steps)

    def sections(self, version: Version) -> tuple[str, ...]:
        """Tips, notes and the like."""
        return tuple(f"section-{number}" for number, _ in enumerate(self.sheet.sections)) if version.sections else ()

    def _step_name(self, step: StepText, version: Version) -> str:
        short = "-short" if version.short and len(step.wordings) > 1 else ""
        brief = "-brief" if step.cautions and not version.full_cautions else ""
        bare = "-untipped" if step.tip and not version.tips else ""
        return f"step-{step.number}{short}{brief}{bare}"

    def block(self, name: str) -> SimpleNamespace:
        """What a template sets for a block: its `kind` and the words of that kind."""
        kind, _, rest = name.partition("-")
        return SimpleNamespace(name=name, kind=kind, **getattr(self, f"_{kind}")(rest.split("-")))

    # --- head and foot --------------------------------------------------------------------------------------------

    def _head(self, wording: Sequence[str]) -> dict[str, object]:
        head = self.sheet.head
        long = len(head.title)
        return {
            "title": head.title,
            "size": "very-long" if long > _VERY_LONG_TITLE else "long" if long > _LONG_TITLE else "short",
            "studio": head.studio,
            "facts": [text for text in (head.makes, self.sheet.totals.line, head.level, head.audience) if text],
            "summary": self._html(head.summary) if "plain" not in wording else "",
            "draft": self._label["draft"] if self.sheet.standing is Standing.DRAFT else "",
        }

    def _foot(self, _wording: Sequence[str]) -> dict[str, object]:
        head, label = self.sheet.head, self._label
        parts = [
            head.author,
            f"{label['revised']} {head.revised_words}" if head.revised_words else "",
            _plain_address(head.address),
            head.licence,
            label[f"in-{self.system.value}"],
        ]
        return {"parts": [part for part in parts if part], "rules": label["local-rules"] if self._cautioned() else ""}

    def _cautioned(self) -> bool:
        return bool(self.sheet.cautions or any(step.cautions for step in self.sheet.steps))

    # --- what is needed -------------------------------------------------------------------------------------------

    def _needs(self, wording: Sequence[str]) -> dict[str, object]:
        line = "line" in wording
        return {
            "line": line,
            "supplies": [self._supply(supply, line) for supply in self.sheet.supplies],
            "tools": [self._tool(tool, line) for tool in self.sheet.tools],
        }

    def _supply(self, supply: SupplyLine, line: bool) -> SimpleNamespace:
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

    def _tool(self, tool: ToolLine, line: bool) -> SimpleNamespace:
        notes = ([self._label["optional"]] if tool.optional else []) + ([] if line else self._instead(tool.instead))
        return SimpleNamespace(name=self._html(tool.name), amount="", notes=Html(self._label["comma"].join(notes)))

    def _instead(self, instead: Sequence[Substitute]) -> list[str]:
        return [
            f"{self._label['instead']} {self._runs(one.name)}" + (f" ({self._runs(one.remark)})" if one.remark else "")
            for one in instead
        ]

    # --- cautions, pieces, steps, sections ---------------------------------------------------------------------------

    def _cautions(self, wording: Sequence[str]) -> dict[str, object]:
        return {"line": False, "cautions": self._caution_texts(self.sheet.cautions, "brief" in wording)}

    def _caution_texts(self, cautions: Sequence[CautionText], brief: bool) -> list[SimpleNamespace]:
        return [
            SimpleNamespace(
                signal=caution.signal.name.lower(), word=caution.signal_word, words=Html(self._caution(caution, brief))
            )
            for caution in cautions
        ]

    def _caution(self, caution: CautionText, brief: bool) -> str:
        if caution.own:
            return self._words.passage(caution.own).removeprefix("<p>").removesuffix("</p>")
        said = (caution.avoid,) if brief else (caution.hazard, caution.consequence, caution.avoid)
        return escape(" ".join(filter(None, said)), quote=False)

    def _pieces(self, _wording: Sequence[str]) -> dict[str, object]:
        return {"line": False}

    def _step(self, wording: Sequence[str]) -> dict[str, object]:
        number = int(wording[0])
        step = next(step for step in self.sheet.steps if step.number == number)
        words = step.wordings[-1] if "short" in wording else step.words
        return {
            "number": number,
            "heading": self._html(step.heading),
            "meta": list(self._meta(step)),
            "cautions": self._caution_texts(step.cautions, "brief" in wording),
            "words": Html(self._words.passage(words)),
            "tip": Html(self._words.passage(step.tip)) if step.tip and "untipped" not in wording else "",
        }

    def _meta(self, step: StepText) -> Iterator[str]:
        """What stands beside a step's heading: its time, when it is done, whether it may be left out."""
        if step.time.line:
            yield step.time.line
        if step.when_words:
            yield step.when_words
        if step.optional:
            yield self._label["optional"]
        if step.meanwhile:
            yield Html(f"{self._label['meanwhile']} {self._runs(step.meanwhile)}")

    def _section(self, wording: Sequence[str]) -> dict[str, object]:
        section = self.sheet.sections[int(wording[0])]
        return {"heading": self._html(section.heading), "words": Html(self._words.passage(section.words))}

    def _runs(self, runs: Runs) -> str:
        return self._words.runs(runs)

    def _html(self, runs: Runs) -> Html:
        return Html(self._words.runs(runs))


def _plain_address(address: str) -> str:
    """An address as it is read and typed: `harbourstreet.example/birdhouse`."""
    for scheme in _SCHEMES:
        address = address.removeprefix(scheme)
    return address.rstrip("/")
