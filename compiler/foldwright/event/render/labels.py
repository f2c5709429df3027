"""Labels and place cards, so many to a sheet: every text as large as its place allows, what must be known always whole.

Beside the texts stands the finished thing, as large as leaves them letters that are read with ease. Where there is no
room for it, the title and the contents of a label give way: first the studio's name goes, then the contents, then the
title is shortened. What whoever gets the bag must know, and the name of who gets it, are never shortened; a label that
does not hold them in the smallest letters is not made. Place cards are folded in half: the name stands on the half
that is seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import islice

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.document.model import CardText, LabelText
from foldwright.event.render.grids import EDGE, LEAST_LABEL, MOST_LABEL, LabelGrid
from foldwright.event.render.heroes import Hero
from foldwright.event.render.label_places import LabelPlace, places_with_picture, plain_place
from foldwright.event.render.lines import plain
from foldwright.render.fonts import FACES
from foldwright.render.paper.placing import (
    BoxFrame,
    PlacedBlock,
    PlacedPanel,
    PlacedRule,
    PlacedWords,
    Specimen,
    Told,
    high_mm,
    placed_pdf,
    second_half,
    specimen_of,
)
from foldwright.render.paper.shaping import Lettering, broken, families_of, shaped, within
from foldwright.render.paper.typesetting import Asset, typeset
from foldwright.render.themes import ThemeError, load_paper_theme

LETTERINGS = frozenset(("name", "title", "contents", "warning", "foot", "guest", "table", "aside"))
FRAMES = frozenset(("label", "card"))
_PLAIN = BoxFrame(2.0, 2.0, 0.0, None)
_MORE_FRAMES = dict.fromkeys(("frame", "hero", "mark"), _PLAIN)
"""What a look may have besides: a frame of its own, a ground for the picture, a mark at a warning."""


def specimen(theme: str, language: str) -> Specimen:
    """The specimen, laid out once for what the theme's files hold now. Raises ThemeError when a text was left out."""
    ready = load_paper_theme(theme, "labels")
    return _laid_out(ready.filled(language=language), ready.style, theme)


@lru_cache(4)
def _laid_out(html: str, style: str, theme: str) -> Specimen:
    found = specimen_of(typeset(html, style, "@page{size:210mm 297mm;margin:0}"))
    if lacking := sorted((LETTERINGS - found.letterings.keys()) | (FRAMES - found.frames.keys())):
        raise ThemeError("unreadable-theme", theme=theme, why=f'labels.html: class="{lacking[0]}"')
    return replace(found, frames={**_MORE_FRAMES, **found.frames})


def missing_letters(texts: Iterable[str], language: str, theme: str) -> Mapping[str, str]:
    """The texts that hold letters of which no font on this machine has any, and those letters."""
    lettering = specimen(theme, language).letterings["guest"]
    found = {text: "".join(shaped(text, lettering).missing) for text in texts if not text.isascii()}
    return {text: letters for text, letters in found.items() if letters}


def borrowed_fonts(texts: Iterable[str], language: str, theme: str) -> tuple[str, ...]:
    """The fonts of this machine in which some of the texts are set, since the bundled faces lack their letters."""
    lettering = specimen(theme, language).letterings["guest"]
    own = {face.family for face in FACES.values()}
    found = (family for text in texts if not text.isascii() for family in families_of(text, lettering))
    return tuple(dict.fromkeys(family for family in found if family not in own))


_TITLES = (26.0, 23.0, 20.0, 18.0, 16.0, 14.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.5)
_TEXTS = (14.0, 13.0, 12.0, 11.0, 10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5)
_SIZES = [(title, text) for text in _TEXTS for title in _TITLES if text < title <= 1.6 * text]
"""Title and text, the largest text first; the title is larger, but not so much that the text must be small for it."""
_SHORTENED = 9.0
"""Points: rather more of a title that is shortened than larger letters."""
_LEAST_WARNING = 7.0
"""Points: what must be known is never smaller. (Its lower-case letters are then about 1.2 mm high, as Regulation (EU)
1169/2011, Article 13 (2), asks of food labels; from memory.)"""
_FOOT = 6.5
_WITH_EASE = 8.0
"""Points: in smaller letters, texts take the room of the picture."""
_NAME_LINES = 2
_ELLIPSIS = "\u2026"


class _Wording(Struct, frozen=True):
    """What is said of a label: contents and foot, and in how many lines the title must stand (None: in any number)."""

    contents: tuple[str, ...]
    foot: str
    title_lines: int | None = None


_BAREST = _Wording((), "", 1)


def labels_pdf(
    labels: Sequence[LabelText],
    grid: LabelGrid,
    title: str,
    language: str,
    theme: str,
    *,
    name_line: bool = False,
    told: Told | None = None,
    heroes: Sequence[Hero] = (),
) -> bytes | tuple[LabelText, ...]:
    """The labels one after the other, page by page; or those that do not hold what they must.

    With a `name_line`, a label without a name has a line to write one on. `heroes` are the pictures of what is in them.
    """
    look = specimen(theme, language)
    pictured = {hero.slug: hero for hero in heroes}
    distinct = tuple(dict.fromkeys(labels))
    blocks = {}
    for number, label in enumerate(distinct):
        place = plain_place(label, look, (grid.width, grid.height), grid.lined, name_line)
        hero = pictured.get(label.slug)
        blocks[label] = (hero and _with_picture(label, place, hero)) or _fitted(label, place)
        if told:
            told(number + 1, 2 * len(distinct))
    if unfit := tuple(label for label, block in blocks.items() if block is None):
        return unfit
    ready = [block for label in labels if (block := blocks[label])]
    pictures = {hero.slug: Asset(hero.data, hero.kind) for hero in heroes}
    return placed_pdf(ready, grid.places, grid.page, look, title, second_half(told), pictures)


def least_sizes(
    labels: Sequence[LabelText], grid: LabelGrid, step: Fraction, theme: str, *, name_line: bool = False
) -> tuple[tuple[Fraction, Fraction], ...]:
    """The smallest sizes that hold every one of the labels, found by trying: as wide as asked and higher, and the other
    way round.

    Where neither will do, the narrowest that will at all. Sizes are multiples of `step`, so that they print exactly.
    """
    look = specimen(theme, "en")
    hardest_first = list(dict.fromkeys(labels))

    def holds(width: Fraction, height: Fraction) -> bool:
        for number, label in enumerate(hardest_first):
            place = plain_place(label, look, (width, height), grid.lined, name_line)
            if _stacked(label, _BAREST, _TITLES[-1], _TEXTS[-1], place) is None:
                hardest_first.insert(0, hardest_first.pop(number))
                return False
        return True

    def least(fixed: Fraction, begin: Fraction, most: Fraction, upright: bool) -> Fraction | None:
        sizes = (step * number for number in range(int(begin // step), int(most // step) + 1))
        return next((one for one in sizes if (holds(fixed, one) if upright else holds(one, fixed))), None)

    smallest = -(-LEAST_LABEL // step) * step
    width, height = (max(side // step * step, smallest) for side in (grid.width, grid.height))
    widest, highest = (
        min(Fraction(MOST_LABEL), side - 2 * EDGE) for side in (grid.paper.width_mm, grid.paper.height_mm)
    )
    found = []
    if high := least(width, height, highest, True):
        found.append((width, high))
    if wide := least(height, width, widest, False):
        found.append((wide, height))
    if not found and (wide := least(highest, width, widest, False)) and (high := least(wide, height, highest, True)):
        found.append((wide, high))
    return tuple(dict.fromkeys(found))


# --- fitting ---------------------------------------------------------------------------------------------------------


def _with_picture(label: LabelText, plain: LabelPlace, hero: Hero) -> PlacedBlock | None:
    """Everything that is said beside the largest picture that leaves room for it; None where there is too little."""
    for place in places_with_picture(plain, hero.slug, hero.ratio):
        for wording in islice(_wordings(label), 2 if label.foot else 1):
            for title, text in _SIZES:
                if text >= _WITH_EASE and (words := _stacked(label, wording, title, text, place)):
                    return _block(place, words, label)
    return None


def _block(place: LabelPlace, words: tuple[PlacedWords, ...], label: LabelText) -> PlacedBlock:
    """The label; a theme that marks what must be known has a mark beside it."""
    mark, frame = place.look.frames["mark"], place.frame
    warnings = [one for one in words if one.lettering is place.look.letterings["warning"]]
    marks = [
        PlacedPanel(frame.inset_across + place.left - mark.margin, one.top, mark.inset_across, one.high, mark)
        for one in warnings
        if mark.ground is not None and label.warning
    ]
    return PlacedBlock(
        place.width,
        place.height,
        frame,
        words,
        place.rules,
        frame.centred,
        (*place.panels, *marks),
        place.picture,
        place.left,
        place.right,
    )


def _fitted(label: LabelText, place: LabelPlace) -> PlacedBlock | None:
    """The fullest wording in the largest letters that fit; None where not even the barest does in the smallest."""
    for wording in _wordings(label):
        for title, text in _SIZES:
            wanted = wording.title_lines is None or title <= _SHORTENED
            if wanted and (words := _stacked(label, wording, title, text, place)):
                return _block(place, words, label)
    return None


def _wordings(label: LabelText) -> Iterator[_Wording]:
    contents = tuple(map(plain, label.lines))
    yield _Wording(contents, label.foot)
    if label.foot:
        yield _Wording(contents, "")
    if contents:
        yield _Wording((), label.foot)
        yield _Wording((), "")
    yield _Wording((), "", 2)
    yield _BAREST


def _stacked(
    label: LabelText, wording: _Wording, title: float, text: float, place: LabelPlace
) -> tuple[PlacedWords, ...] | None:
    """The texts one under the other in these sizes; None where they are too wide or too high."""
    of, room = place.look.letterings, place.room
    under = max((size for size in _TITLES if size < title), default=title) if label.name else title
    named, name = _name_lines(label.name, of["name"], title, room)
    warned = max(text, _LEAST_WARNING)
    called = plain(label.title)
    asked = [
        (label.name, of["name"], named, name),
        (called, of["title"], under, _title_lines(called, of["title"], under, room, wording.title_lines)),
        *((line, of["contents"], text, broken(line, of["contents"], text, room)) for line in wording.contents),
        (label.warning, of["warning"], warned, broken(plain(label.warning), of["warning"], warned, room)),
    ]
    foot = broken(wording.foot, of["foot"], _FOOT, room)
    if foot is None or any(said and lines is None for said, _, _, lines in asked):
        return None
    top = place.top
    bottom = place.height - place.frame.inset_down - high_mm(len(foot), of["foot"], _FOOT)
    words = []
    for _, lettering, size, lines in asked:
        if lines:
            words.append(PlacedWords(lines, lettering, size, top))
            top += words[-1].high + lettering.below
    if words and words[-1].top + words[-1].high > bottom:
        return None
    if label.warning:
        # What must be known stands at the foot, by itself.
        words[-1] = replace(words[-1], top=bottom - words[-1].high - (of["foot"].below if foot else 0.0))
    if foot:
        words.append(PlacedWords(foot, of["foot"], _FOOT, bottom))
    return tuple(words) if all(within(one.lines, one.lettering, one.size, room) for one in words) else None


def _name_lines(name: str, lettering: Lettering, most: float, room: float) -> tuple[float, tuple[str, ...] | None]:
    """A name whole in at most two lines; in the smallest letters in any number, and there within a word if need be."""
    for size in (size for size in _TITLES if size <= most):
        lines = broken(name, lettering, size, room)
        if lines is not None and len(lines) <= _NAME_LINES:
            return size, lines
    return _TITLES[-1], broken(name, lettering, _TITLES[-1], room, True)


def _title_lines(
    title: str, lettering: Lettering, size: float, room: float, most: int | None
) -> tuple[str, ...] | None:
    """The title whole, or shortened to so many lines: after a word, or after a letter where no word fits."""
    lines = broken(title, lettering, size, room)
    if most is None or (lines is not None and len(lines) <= most):
        return lines
    for after_letter in (False, True):
        for length in range(len(title) - 1, 0, -1):
            if after_letter or title[length].isspace():
                cut = broken(title[:length].rstrip(" ,;:-") + _ELLIPSIS, lettering, size, room)
                if cut is not None and len(cut) <= most:
                    return cut
    return None


_NAMES = (*(float(size) for size in range(38, 12, -2)), 12.0, 11.0, 10.0, 9.0, 8.0)
_WHOLE = 14.0
"""Points: only in smaller letters is a name broken within a word."""
_TABLE, _LEAST = 11.0, 6.0
_ASIDE = 8.0


def place_cards_pdf(
    cards: Sequence[CardText], grid: LabelGrid, title: str, language: str, theme: str, told: Told | None = None
) -> bytes:
    """A card for each, with the table under the name and what else to know in small letters at the foot."""
    look = specimen(theme, language)
    blocks = []
    for number, card in enumerate(cards):
        blocks.append(_card(card, float(grid.width), float(grid.height), look))
        if told and number % len(grid.places) == 0:
            told(number + 1, 2 * len(cards))
    return placed_pdf(blocks, grid.places, grid.page, look, title, second_half(told))


def _card(card: CardText, width: float, height: float, look: Specimen) -> PlacedBlock:
    frame, half = look.frames["card"], height / 2
    room, bottom = width - 2 * frame.inset_across, height - frame.inset_down
    aside = _smaller(card.aside, look.letterings["aside"], _ASIDE, room)
    table = _smaller(card.table, look.letterings["table"], _TABLE, room)
    foot = bottom - sum(one.high for one in aside)
    high = foot - half - frame.inset_down - sum(one.high for one in table)
    lettering = look.letterings["guest"]
    gap = lettering.below if table else 0.0
    lines, size = _name(card.name, lettering, room, high - gap)
    text = high_mm(len(lines), lettering, size)
    top = half + frame.inset_down + max(0.0, (high - gap - text) / 2)
    words = [PlacedWords(lines, lettering, size, top)]
    words += [PlacedWords(one.lines, one.lettering, one.size, top + text + gap) for one in table]
    words += [PlacedWords(one.lines, one.lettering, one.size, foot) for one in aside]
    return PlacedBlock(width, height, frame, tuple(words), (PlacedRule(0.0, half, width, dashed=True),), centred=True)


def _name(name: str, lettering: Lettering, room: float, high: float) -> tuple[tuple[str, ...], float]:
    """The name in the largest letters in which it fits whole; in the smallest where it fits in none."""
    found: tuple[str, ...] | None = ()
    for by_letter in (False, True):
        for size in _NAMES:
            if by_letter and size > _WHOLE:
                continue
            found = broken(name, lettering, size, room, by_letter)
            if found and high_mm(len(found), lettering, size) <= high and within(found, lettering, size, room):
                return found, size
    return found or (name,), _NAMES[-1]


def _smaller(text: str, lettering: Lettering, size: float, room: float) -> tuple[PlacedWords, ...]:
    """One line of what stands under the name, set smaller where it is too wide, then broken."""
    if not text:
        return ()
    while size > _LEAST and (broken(text, lettering, size, room) or ("", ""))[1:]:
        size -= 0.5
    lines = broken(text, lettering, size, room) or broken(text, lettering, size, room, True) or (text,)
    return (PlacedWords(lines, lettering, size, 0.0),)
