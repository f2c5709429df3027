"""What may stand at the caret: facts, kinds, names of pieces and panels, forms, acts, papers, units.

Every list is asked of the room below that reads it; none is kept here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.authoring.manual import passage_of
from foldwright.authoring.places import Places, line_start, places_of, with_plain_ends
from foldwright.authoring.whereabouts import Whereabouts, whereabouts
from foldwright.begin.draft.model import SHEETS, UNITS
from foldwright.geometry.flat.panels import names_of
from foldwright.geometry.outlines.shapes import SHAPES
from foldwright.measure.length import Unit
from foldwright.recipe.facts.known import spellings_in
from foldwright.recipe.facts.studio import HANDS, PAPERS, SPELLINGS
from foldwright.recipe.facts.supplies import GRAINS as SHEET_GRAINS
from foldwright.recipe.facts.supplies import PATTERNS
from foldwright.recipe.model import When
from foldwright.recipe.pieces.holes import SHAPES as HOLES
from foldwright.recipe.pieces.piece import CORNERS, FORM_SPELLINGS, FORMS, GRAINS
from foldwright.recipe.pieces.placements import OUTER_PANELS, PlaceNames
from foldwright.recipe.pieces.remarks import REMARKS
from foldwright.recipe.words import Keep
from foldwright.vocabulary import ACTS, ALLERGENS, LEVELS, SUPPLY_KINDS, TOOLS, tool_of
from foldwright.vocabulary.supplies import SupplyKind

if TYPE_CHECKING:
    from foldwright.pipeline import Understood

_WORD = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*$")
_APART = re.compile(r"(?:,|;|\n|\band\b|\bor\b)\s*", re.IGNORECASE)
_FACES = ("outside of ", "inside of ")
_AFTER_NUMBER = re.compile(r"[0-9½¼¾⅛⅜⅝⅞]\s+([a-z]*)$", re.IGNORECASE)
_SHORTEST = 2
"""In the words, nothing is offered for fewer letters: people type sentences there."""
_MOST = 80


class Option(Struct, frozen=True):
    """`text` takes the place of what was typed; `label` is shown, with one `line` about it. `kind` says what it is:
    fact, kind, piece, supply, tool, panel, form, act, unit or word.
    """

    text: str
    label: str
    line: str = ""
    kind: str = "word"


class Completions(Struct, frozen=True):
    """What may stand from `start` up to the caret."""

    start: int
    options: tuple[Option, ...] = ()


def completions(text: str, offset: int, understood: Understood | None = None) -> Completions:
    """What may be typed at an offset. Panels are those of the recipe as it was last understood."""
    text = with_plain_ends(text)
    offset = min(max(offset, 0), len(text))
    here = whereabouts(text, offset)
    begin = line_start(text, offset) if here.room == "words" else here.value
    value = _Value(here, text[begin:offset], offset, places_of(text), understood)
    start, options = _offered(value)
    typed = text[start:offset].casefold()
    fitting = [one for one in options if _begins(one, typed)]
    return Completions(start, tuple({one.text: one for one in fitting}.values())[:_MOST])


def _begins(option: Option, typed: str) -> bool:
    label = option.label.casefold()
    return label.startswith(typed) or f" {typed}" in label


class _Value(Struct, frozen=True):
    """What is typed so far of a word or value, and all that is known beside it."""

    here: Whereabouts
    typed: str
    offset: int
    places: Places
    understood: Understood | None

    def names(self, section: str) -> tuple[str, ...]:
        place = self.places.sections.get(section)
        return tuple(entry.name for entry in place.entries) if place else ()

    def panels(self, piece: str) -> tuple[str, ...]:
        """Its panels as they were last understood; what any piece answers to where that is not known."""
        blanks = self.understood.flat.blanks if self.understood else ()
        blank = next((one for one in blanks if one.piece.casefold() == piece.casefold()), None)
        return names_of(blank) if blank else tuple(sorted(OUTER_PANELS))

    def after(self, pattern: re.Pattern[str]) -> int:
        """Where what is typed begins behind the last match of a pattern."""
        found = list(pattern.finditer(self.typed))
        return self.start_at(found[-1].end() if found else 0)

    def start_at(self, at: int) -> int:
        """An offset into the text, white space passed over."""
        rest = self.typed[at:]
        return self.offset - len(rest.lstrip())


type _Offer = tuple[int, Iterable[Option]]


def _offered(value: _Value) -> _Offer:
    here = value.here
    if here.room == "words":
        return _in_words(value)
    if here.room == "tools":
        return value.after(_APART), _options("tool", (tool.name for tool in TOOLS))
    if here.room == "size":
        return value.start_at(0), [*_pieces(value), *_supplies(value)]
    if here.known is None:
        return here.value, ()
    facts = _facts(value) if here.shared or not here.fact else ()
    if not here.fact:
        start = value.start_at(0)
        loose = here.room == "step" and here.step is not None and not here.step.fenced
        return start, [*facts, *(_in_words(value)[1] if loose else ())]
    unit = _AFTER_NUMBER.search(value.typed)
    if unit:
        return value.offset - len(unit[1]), [*_units(), *facts]
    offer = _OFFERS.get((here.room, here.fact)) or _OFFERS.get(("", here.fact))
    start, options = offer(value) if offer else (value.start_at(0), ())
    return start, [*options, *(facts if start == value.start_at(0) else ())]


# --- facts ------------------------------------------------------------------------------------------------------------


def _facts(value: _Value) -> Iterator[Option]:
    """The facts that are not there yet."""
    here = value.here
    there = _facts_there(value) | {here.fact}
    sign = " " if here.shared else ": "
    for word in here.known.words if here.known else ():
        if word not in there:
            yield Option(word + sign, word, _line(word, here.room), "fact")


def _facts_there(value: _Value) -> set[str]:
    here, places = value.here, value.places
    if here.room == "top":
        facts = places.facts
    elif here.room == "step":
        facts = here.step.facts if here.step else ()
    else:
        section = places.sections.get("supplies" if here.room == "supply" else "pieces")
        entries = section.entries if section else ()
        facts = next((entry.facts for entry in entries if entry.name == here.entry), ())
    return {fact.word for fact in facts}


@lru_cache(maxsize=512)
def _line(word: str, room: str) -> str:
    """The manual's line about a word; none where it only mentions it beside others."""
    passage = passage_of(word, room)
    return passage.line if passage and passage.room == room else ""


# --- values -----------------------------------------------------------------------------------------------------------


def _options(kind: str, names: Iterable[str]) -> list[Option]:
    return [Option(name, name, "", kind) for name in names]


def _chosen(kind: str, names: Iterable[str]) -> Callable[[_Value], _Offer]:
    """A row of words from a list."""
    options = _options(kind, dict.fromkeys(names))
    return lambda value: (value.after(_APART), options)


def _kind(kind: SupplyKind) -> Option:
    return Option(kind.name, kind.name, ", ".join(kind.forms[:4]), "kind")


def _pieces(value: _Value) -> list[Option]:
    return _options("piece", (name for name in value.names("pieces") if name != value.here.entry))


def _supplies(value: _Value) -> list[Option]:
    return _options("supply", value.names("supplies"))


def _units() -> list[Option]:
    return _options("unit", (unit.symbol for unit in Unit))


def _placed(value: _Value) -> _Offer:
    """A face, a piece or supply, and behind a piece one of its panels."""
    start = value.after(_APART)
    typed = value.typed[len(value.typed) - (value.offset - start) :]
    face = next((face for face in _FACES if typed.startswith(face)), "")
    rest = typed[len(face) :]
    names = PlaceNames.of({name: frozenset() for name in value.names("pieces")}, value.names("supplies"))
    found = names.opening(rest)
    if found and rest[found[1] :][:1].isspace():
        behind = rest[found[1] :].lstrip()
        return value.offset - len(behind), _options("panel", value.panels(found[0]))
    faces = [] if face else _options("word", _FACES)
    return value.offset - len(rest), [*faces, *_pieces(value), *_supplies(value)]


def _form(value: _Value) -> _Offer:
    """A form, and behind a comma what may be said of it."""
    form, comma, _ = value.typed.partition(",")
    if not comma:
        return value.start_at(0), [Option(one, one, _line(one, "form"), "form") for one in FORMS]
    meant = FORM_SPELLINGS.get(form.strip().casefold(), "")
    tables = (*REMARKS[""], *REMARKS.get(meant, ()))
    remarks = dict.fromkeys(word for table in tables for word in spellings_in(table).values())
    return value.after(_APART), _options("word", (one for one in remarks if not set(one) & {"~", "#"}))


def _joined(value: _Value) -> _Offer:
    joined = re.compile(r"(?:,|\band\b|\bto\b)\s*", re.IGNORECASE)
    if not joined.search(value.typed):
        return value.start_at(0), [Option("joined to ", "joined to", _line("flaps", "piece"))]
    return value.after(joined), _options("panel", value.panels(value.here.entry))


def _hole(value: _Value) -> _Offer:
    """A shape; behind `centred on` a panel."""
    on = re.compile(r"\bon\s+", re.IGNORECASE)
    if on.search(value.typed):
        return value.after(on), _options("panel", value.panels(value.here.entry))
    return value.after(re.compile(r"[;\n]\s*")), _options("word", dict.fromkeys(HOLES.values()))


def _line_kind(value: _Value) -> _Offer:
    from foldwright.recipe.pieces.drawn import KINDS

    return value.after(re.compile(r"[;\n]\s*")), _options("word", KINDS)


def _done(value: _Value) -> _Offer:
    """What is done: an act, then what it is done to."""
    start, named = _named_in(value)
    clause = not value.typed[: len(value.typed) - (value.offset - start)].rstrip().rstrip(",")
    acts = _options("act", (act.name for act in ACTS))
    return start, [*acts, *named] if clause else [*named, *acts]


def _used(value: _Value) -> _Offer:
    lines = (part for name in value.names("tools") for part in _APART.split(name))
    return value.after(_APART), [*_supplies(value), *_options("tool", (one for one in lines if tool_of(one)))]


def _meanwhile(value: _Value) -> _Offer:
    meanwhile = re.compile(r"\bmeanwhile:?\s+", re.IGNORECASE)
    if meanwhile.search(value.typed):
        headings = (step.heading for step in value.places.steps if step != value.here.step)
        return value.after(meanwhile), _options("word", headings)
    return value.after(_APART), [Option("meanwhile ", "meanwhile", _line("wait", "step"))]


def _looks(value: _Value) -> _Offer:
    from foldwright.render.themes import built_in_themes

    return value.start_at(0), _options("word", built_in_themes())


def _sold(value: _Value) -> _Offer:
    sheets = (sheet for sheets in SHEETS.values() for sheet in sheets)
    return value.start_at(0), _options("word", (*sheets, *PAPERS))


def _named_in(value: _Value) -> _Offer:
    word = _WORD.search(value.typed)
    return value.offset - len(word[0]) if word else value.offset, [*_pieces(value), *_supplies(value)]


def _in_words(value: _Value) -> _Offer:
    """A name or an act, once its first letters are typed."""
    start, names = _named_in(value)
    if value.offset - start < _SHORTEST:
        return start, ()
    return start, [*names, *_options("act", (act.name for act in ACTS))]


_YES = _chosen("word", ("yes",))
_OFFERS: Mapping[tuple[str, str], Callable[[_Value], _Offer]] = {
    ("top", "level"): _chosen("word", (level.name for level in LEVELS)),
    ("top", "measured in"): _chosen("unit", {unit: word for word, unit in reversed(UNITS.items())}.values()),
    ("top", "keep"): _chosen("word", (keep.value for keep in Keep)),
    ("top", "theme"): _looks,
    ("top", "papers"): _chosen("word", PAPERS),
    ("top", "hand"): _chosen("word", HANDS.values()),
    ("top", "spelling"): _chosen("word", SPELLINGS.values()),
    ("supply", "kind"): lambda value: (value.start_at(0), [_kind(kind) for kind in SUPPLY_KINDS]),
    ("supply", "sheet"): _sold,
    ("supply", "grain"): _chosen("word", SHEET_GRAINS.values()),
    ("supply", "pattern"): _chosen("word", PATTERNS.values()),
    ("supply", "use"): _chosen("word", ("a little",)),
    ("supply", "contains"): _chosen("word", (*(one.name for one in ALLERGENS), "nothing to declare")),
    ("piece", "from"): lambda value: (value.start_at(0), _supplies(value)),
    **{("piece", word): _placed for word in ("goes on", "goes round", "fits over", "slides in", "woven with", "glued")},
    ("piece", "holds"): lambda value: (value.after(_APART), [*_supplies(value), *_pieces(value)]),
    ("piece", "fold"): _form,
    ("piece", "flaps"): _joined,
    ("piece", "corners"): _chosen("word", CORNERS.values()),
    ("piece", "grain"): _chosen("word", GRAINS.values()),
    ("piece", "outline"): _chosen("word", SHAPES),
    ("piece", "holes"): _hole,
    ("piece", "lines"): _line_kind,
    ("step", "do"): _done,
    ("step", "when"): _chosen("word", (when.value for when in When)),
    ("step", "with"): _used,
    ("step", "share"): _used,
    ("step", "wait"): _meanwhile,
    ("", "optional"): _YES,
    ("", "this way up"): _YES,
}
"""What a value may be, by the room and the word of its fact."""
