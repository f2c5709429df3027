"""Runs and passages of a sheet as HTML text. Everything the author wrote is escaped here, once."""

from __future__ import annotations

from functools import lru_cache
from html import escape

from foldwright.document.words import Both, Figure, MeasureInWords, Part, Passage, Run, Runs, SetMeasure
from foldwright.measure.length import System
from foldwright.measure.writing import FRACTION_SLASH, NARROW_SPACE
from foldwright.recipe.words import (
    HIGHEST,
    Break,
    Code,
    Emphasis,
    Items,
    Link,
    Paragraph,
    Preformatted,
    Quote,
    Rule,
    Strong,
    Subheading,
    Text,
)

_NO_BREAK = "\u00a0"
SAFE_SCHEMES = ("http://", "https://", "mailto:", "#")


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

    def _run(self, run: Run) -> str:
        match run:
            case Text(text):
                return escape(text, quote=False)
            case MeasureInWords(phrases):
                return self.phrases(phrases)
            case Emphasis(children):
                return f"<em>{self.runs(children)}</em>"
            case Strong(children):
                return f"<strong>{self.runs(children)}</strong>"
            case Code(text):
                return f"<code>{escape(text, quote=False)}</code>"
            case Link(href, children):
                return link(href, self.runs(children))
            case Break():
                return "<br>"

    def _part(self, part: Part) -> str:
        match part:
            case Paragraph(runs):
                return f"<p>{self.runs(runs)}</p>"
            case Items(ordered, items):
                tag = "ol" if ordered else "ul"
                return f"<{tag}>{''.join(f'<li>{self._item(item)}</li>' for item in items)}</{tag}>"
            case Quote(passage):
                return f"<blockquote>{self.passage(passage)}</blockquote>"
            case Subheading(level, runs):
                rank = min(self._heading + max(level - HIGHEST, 0), 6)
                return f"<h{rank}>{self.runs(runs)}</h{rank}>"
            case Preformatted(text):
                return f"<pre><code>{escape(text, quote=False)}</code></pre>"
            case Rule():
                return "<hr>"

    def _item(self, item: Passage) -> str:
        if len(item) == 1 and isinstance(item[0], Paragraph):
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
    """`5 × 4 1/4 in` in ordinary characters; a number keeps to its fraction and its unit."""
    return "".join(_plain_figure(part) if isinstance(part, Figure) else escape(part) for part in phrase.parts)


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
