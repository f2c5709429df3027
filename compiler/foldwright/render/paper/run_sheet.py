"""A run sheet as a PDF: pages that lie on their side, a step to each, whole, to be read from two metres.

A step is set in the size that is preferred for reading from there or, where it is long, in smaller ones down to the
least. What is still too long for a page is set smaller, and who prints it is told from how far that can be read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import SimpleNamespace
from typing import Any

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document.model import CautionText, Document, Reminder
from foldwright.document.run_sheet import RunSheet, RunStep
from foldwright.document.words import Runs, plain, plain_passage
from foldwright.measure.length import System
from foldwright.render.paper.content import PaperMarkup
from foldwright.render.paper.galley import Unprintable
from foldwright.render.paper.papers import Paper
from foldwright.render.paper.reading_distance import LEAST, PREFERRED, points_for, read_from_mm
from foldwright.render.paper.typesetting import Typeset, letters_of, typeset
from foldwright.render.themes import load_paper_theme

FROM_MM = 2000.0
"""How far from it one stands."""
_SIZES = (PREFERRED, 18.0, LEAST, 14.0, 12.0, 10.0)
"""Minutes of arc to try. Letters of 5 are the smallest that eyes called normal make out (from memory, no source), and
nobody reads on in letters less than twice as large (a reasoned guess)."""


class RunSheetPdf(Struct, frozen=True):
    """A run sheet set. `near` has the steps that can be read from less than two metres only, by their numbers, and from
    how far in millimetres."""

    pdf: bytes
    pages: int
    near: tuple[tuple[int, float], ...]


class RunMisfit(Struct, frozen=True):
    """Why there is none: letters that no face has, or the first step that is too long for any page."""

    unprintable: tuple[Unprintable, ...] = ()
    too_long: int = 0


def run_sheet_pdf(sheet: RunSheet, system: System, theme: str, paper: Paper) -> RunSheetPdf | RunMisfit:
    """The run sheet on one paper, or why there is none. Raises ThemeError."""
    if missing := tuple(_missing(sheet, system)):
        return RunMisfit(missing)
    return _RunPress(sheet, system, theme, paper).pdf()


class _RunPress:
    def __init__(self, sheet: RunSheet, system: System, theme: str, paper: Paper) -> None:
        self._sheet = sheet
        self._system = system
        self._markup = PaperMarkup((system,), heading=3)
        self._theme = load_paper_theme(theme, "run-sheet")
        self._paper = paper

    def pdf(self) -> RunSheetPdf | RunMisfit:
        sizes: dict[int, float] = {}
        long = [step.number for step in self._sheet.steps]
        for minutes in _SIZES:
            if long:
                sizes |= dict.fromkeys(long, points_for(minutes, FROM_MM))
                long = self._too_long(sizes, long)
        if long:
            return RunMisfit(too_long=long[0])
        made = self._laid(sizes, self._sheet.steps, self._opening())
        least = points_for(LEAST, FROM_MM)
        near = tuple((number, read_from_mm(points)) for number, points in sizes.items() if points < least)
        return RunSheetPdf(made.pdf(), len(made.boxes), near)

    def _too_long(self, sizes: Mapping[int, float], asked: Sequence[int]) -> list[int]:
        """Of some steps those that go over more than one page."""
        pages = _pages_of(self._laid(sizes, [step for step in self._sheet.steps if step.number in asked]))
        return [number for number in asked if pages[number] > 1]

    def _laid(
        self, sizes: Mapping[int, float], steps: Sequence[RunStep], opening: SimpleNamespace | None = None
    ) -> Typeset:
        """Steps on their pages, after the opening."""
        document, label = self._sheet.document, self._sheet.labels
        page = SimpleNamespace(
            language=document.language,
            title=document.head.title,
            author=document.head.author,
            kind=f"run-sheet {self._theme.composition.value}",
            paper=self._paper.slug,
            opening=opening,
            steps=[self._step(step, sizes[step.number]) for step in steps],
        )
        words = SimpleNamespace(**{name.replace("-", "_"): text for name, text in label.items()})
        wide, high, margin = self._paper.page
        foot = _quoted(document.labels["between"].join([label["foot"], document.head.title]))
        numbers = f"counter(page) '{_quoted(document.labels['of-pages'])}' counter(pages)"
        corners = f"@bottom-left{{content:'{foot}'}}@bottom-right{{content:{numbers}}}"
        style = f"@page{{size:{high:.3f}mm {wide:.3f}mm;margin:{margin:.3f}mm;{corners}}}"
        opened = f"body{{font-size:{points_for(LEAST, FROM_MM)}pt}}"
        return typeset(self._theme.filled(page=page, say=words), self._theme.style, style + opened)

    def _opening(self) -> SimpleNamespace:
        sheet = self._sheet
        return SimpleNamespace(
            title=sheet.document.head.title,
            draft=sheet.document.labels["draft"] if sheet.document.standing.value == "draft" else "",
            whole=sheet.whole,
            estimated=sheet.estimated,
            ready=[self._html(line) for line in sheet.ready],
            ready_lasts=sheet.ready_lasts,
            cautions=[_caution(caution) for caution in sheet.cautions],
        )

    def _step(self, step: RunStep, size: float) -> SimpleNamespace:
        return SimpleNamespace(
            number=step.number,
            size=f"font-size:{size}pt",
            heading=self._html(step.heading),
            bookmark=plain(step.heading, self._system),
            clock=step.clock,
            lasts=step.lasts,
            optional=step.optional,
            say=Html(self._markup.passage(step.say)),
            resting=step.resting,
            minds=self._reminder(step.reminder) if step.reminder else None,
            on_the_table=[self._html(name) for name in step.on_the_table],
            cleared=[self._html(name) for name in step.cleared],
            close_ups=[self._html(line) for line in step.close_ups],
        )

    def _html(self, runs: Runs) -> Html:
        return Html(self._markup.runs(runs))

    def _reminder(self, reminder: Reminder) -> SimpleNamespace:
        words = Html(self._markup.passage(reminder.words))
        return SimpleNamespace(signal=reminder.signal.name.lower(), word=reminder.signal_word, words=words)


def _caution(caution: CautionText) -> SimpleNamespace:
    return SimpleNamespace(signal=caution.signal.name.lower(), word=caution.signal_word, words=caution.brief)


def _quoted(text: str) -> str:
    """A text between the quotation marks of a stylesheet."""
    return text.replace("\\", "\\\\").replace("'", "\\'").replace("\n", " ")


def _pages_of(laid: Typeset) -> dict[int, int]:
    """On how many pages each step stands."""
    pages: dict[int, int] = {}
    for box in laid.boxes:
        for number in {int(step) for step in _steps_in(box)}:
            pages[number] = pages.get(number, 0) + 1
    return pages


def _steps_in(box: Any) -> Iterator[str]:
    element = getattr(box, "element", None)
    if element is not None and (step := element.get("data-step")):
        yield step
        return
    for child in getattr(box, "children", ()):
        yield from _steps_in(child)


def _missing(sheet: RunSheet, system: System) -> Iterator[Unprintable]:
    """The letters that one of the faces it may be set in lacks."""
    known = letters_of("sans") & letters_of("serif") & letters_of("sans-semibold") & letters_of("serif-semibold")
    seen: set[str] = set()
    for block, text in _texts(sheet, sheet.document, system):
        for letter in text:
            if ord(letter) not in known and not letter.isspace() and letter not in seen:
                seen.add(letter)
                yield Unprintable(letter, block)


def _texts(sheet: RunSheet, document: Document, system: System) -> Iterator[tuple[str, str]]:
    yield "head", document.head.title
    for step in sheet.steps:
        reminder = plain_passage(step.reminder.words, system) if step.reminder else ""
        names = (*step.on_the_table, *step.cleared, *step.close_ups)
        lines = (plain(step.heading, system), plain_passage(step.say, system), reminder)
        yield f"step-{step.number}", "".join((*lines, *(plain(name, system) for name in names)))
