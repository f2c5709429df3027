"""Runs and passages of a sheet as HTML text. Everything the author wrote is escaped here, once."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape

from markupsafe import Markup as Html

from foldwright.document.words import Both, Figure, MeasureInWords, Part, Passage, Run, Runs, SetMeasure
from foldwright.measure.length import System
from foldwright.measure.writing import FRACTION_SLASH, NARROW_SPACE, TIMES
from foldwright.recipe import words as prose

_NO_BREAK = "\u00a0"
SAFE_SCHEMES = ("http://", "https://", "mailto:", "#")
_FRACTION = re.compile(r"(?:(?<=[0-9]) )?\b([0-9]+)/([0-9]+)\b")
_TIMES = re.compile(rf"(?<=[0-9]) {TIMES} ")
_UNIT = re.compile(r"(?<=[0-9>]) (?=(?:in|mm|cm|m|ft|yd|lb|oz|g|kg|min)\b)")
_CROSS = re.compile(r"(?<=[0-9>]) x (?=[0-9<])")


class Markup:
    """Writes words for a page that shows `systems`, the first first; `heading` is the rank of a minor heading."""

    def __init__(self, systems: tuple[System, ...], heading: int = 4) -> None:
        self._systems = systems
        self._heading = heading

    def both(self, texts: Both[str]) -> str:
        """HTML that differs between the systems, each part in a span the page's switch shows or hides."""
        if len(self._systems) == 1:
            return texts.of(self._systems[0])
        if texts.imperial == texts.metric:
            return texts.imperial
        return "".join(f'<span class="{UNIT_CLASS[system]}">{texts.of(system)}</span>' for system in self._systems)

    def phrases(self, phrases: Both[SetMeasure]) -> str:
        return self.both(Both(spoken_figure(phrases.imperial), spoken_figure(phrases.metric)))

    def runs(self, runs: Runs) -> str:
        return "".join([self._run(run) for run in runs])

    def passage(self, passage: Passage) -> str:
        return "".join([self._part(part) for part in passage])

    def led(self, word: str, passage: Passage) -> str:
        """A passage that begins with a signal word: in its first paragraph, where it begins with one."""
        word, words = f'<p><strong class="signal">{escape(word)}</strong>', self.passage(passage)
        return f"{word} {words.removeprefix('<p>')}" if words.startswith("<p>") else f"{word}</p>{words}"

    def _run(self, run: Run) -> str:
        match run:
            case prose.Text(text):
                return escape(text, quote=False)
            case MeasureInWords(phrases):
                return self.phrases(phrases)
            case prose.Emphasis(children):
                return f"<em>{self.runs(children)}</em>"
            case prose.Strong(children):
                return f"<strong>{self.runs(children)}</strong>"
            case prose.Code(text):
                return f"<code>{escape(text, quote=False)}</code>"
            case prose.Link(href, children):
                return link(href, self.runs(children))
            case prose.Break():
                return "<br>"

    def _part(self, part: Part) -> str:
        match part:
            case prose.Paragraph(runs):
                return f"<p>{self.runs(runs)}</p>"
            case prose.Items(ordered, items):
                tag = "ol" if ordered else "ul"
                return f"<{tag}>{''.join(f'<li>{self._item(item)}</li>' for item in items)}</{tag}>"
            case prose.Quote(passage):
                return f"<blockquote>{self.passage(passage)}</blockquote>"
            case prose.Subheading(level, runs):
                rank = min(self._heading + max(level - prose.HIGHEST, 0), 6)
                return f"<h{rank}>{self.runs(runs)}</h{rank}>"
            case prose.Preformatted(text):
                return f"<pre><code>{escape(text, quote=False)}</code></pre>"
            case prose.Rule():
                return "<hr>"

    def _item(self, item: Passage) -> str:
        if len(item) == 1 and isinstance(item[0], prose.Paragraph):
            return self.runs(item[0].children)
        return self.passage(item)


class PlainMarkup(Markup):
    """Words for where no style and no switch can be counted on: numbers as plain text, the other system in brackets."""

    def phrases(self, phrases: Both[SetMeasure]) -> str:
        first, *others = dict.fromkeys(plain_figures(phrases.of(system)) for system in self._systems)
        return first + "".join(f" ({other})" for other in others)


UNIT_CLASS = {System.IMPERIAL: "u-imperial", System.METRIC: "u-metric"}


def link(href: str, inner: str) -> str:
    """A link, or its words alone when the address is of a kind nothing good comes from."""
    if not href.lower().startswith(SAFE_SCHEMES):
        return inner
    return f'<a href="{escape(href)}" rel="noopener noreferrer">{inner}</a>'


def plain_figures(phrase: SetMeasure) -> str:
    """`5 × 4 1/4 in` in ordinary characters; a number keeps to its fraction, its unit and the number it crosses."""
    parts = (_plain_figure(part) if isinstance(part, Figure) else escape(part) for part in phrase.parts)
    return "".join(parts).replace(f" {TIMES} ", f"{_NO_BREAK}{TIMES}{_NO_BREAK}")


def _plain_figure(figure: Figure) -> str:
    fraction = f"{figure.numerator}/{figure.denominator}" if figure.numerator else ""
    return _NO_BREAK.join(part for part in (figure.whole, fraction, figure.unit) if part)


@lru_cache(maxsize=8192)
def spoken_figure(phrase: SetMeasure) -> str:
    """A measure that the eye sees as figures and the ear hears as words."""
    if phrase.plain == phrase.spoken:
        return set_phrase(phrase)
    return (
        f'<span class="n" aria-hidden="true">{set_phrase(phrase)}</span><span class="vh">{escape(phrase.spoken)}</span>'
    )


def set_phrase(phrase: SetMeasure) -> str:
    """The figures alone: real fractions, narrow no-break spaces."""
    return "".join(_figure(part) if isinstance(part, Figure) else escape(part) for part in phrase.parts)


def _figure(figure: Figure) -> str:
    text = figure.whole
    if figure.numerator:
        opening = f'{NARROW_SPACE}<span class="fr on">' if text else '<span class="fr">'
        text += f"{opening}{figure.numerator}{FRACTION_SLASH}{figure.denominator}</span>"
    return f"{text}{NARROW_SPACE}{figure.unit}" if figure.unit else text


def set_line(text: str) -> Html:
    """A line of plain words as mark-up: real fractions, a cross between measures, no unit alone on the next line."""
    fractions = _FRACTION.sub(rf'<span class="fr">\1{FRACTION_SLASH}\2</span>', escape(text, quote=False))
    return Html(_UNIT.sub("\u00a0", _CROSS.sub(f"\u00a0{TIMES}\u00a0", fractions)))


def plain_line(text: str) -> str:
    """The same as plain text for a setter that makes fractions round a slash; counts and measures stay whole."""
    fractions = _FRACTION.sub(_plain_fraction, text)
    return _TIMES.sub(f"\u00a0{TIMES}\u00a0", _UNIT.sub("\u00a0", _CROSS.sub(f" {TIMES} ", fractions)))


def _plain_fraction(found: re.Match[str]) -> str:
    return f"{NARROW_SPACE if found[0][0] == ' ' else ''}{found[1]}{FRACTION_SLASH}{found[2]}"
