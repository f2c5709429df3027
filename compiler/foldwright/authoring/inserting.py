"""The insert list: what can be put into a recipe with a click, and the putting in.

Each entry writes the right line at the right place, in the recipe's own units, with what is to be typed over selected.
What it is called and what it says of itself is in the catalogue: a form as where one is begun with.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.authoring.around import Around
from foldwright.authoring.pieces_to_put import FORM_PUT, form_of, put_form
from foldwright.authoring.placing import (
    HERE,
    TO_HERE,
    Insertion,
    put_entry,
    put_fact,
    put_in_step,
    put_row,
    put_section,
    put_step,
    put_top,
    replaced,
)
from foldwright.authoring.steps_to_put import STEPS_PUT, put_act
from foldwright.begin.options import SizeOptions
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.finding.changes import Change
from foldwright.measure.length import Length
from foldwright.measure.reading import read_length
from foldwright.recipe.facts.writing import write_cross, write_length
from foldwright.recipe.prose.chapters import section_kind

if TYPE_CHECKING:
    from foldwright.geometry.flat.blank import Blank
    from foldwright.recipe.model import Piece


class InsertEntry(Struct, frozen=True):
    """One thing to put in: what it is called, and what it is, in a line."""

    code: str
    group: str
    heading: str
    line: str


class _Row(Struct, frozen=True):
    group: str
    put: Callable[[Around, str], Insertion | None]


_HALF_AGAIN = "1.5"
GROUPS = ("supplies", "tools", "pieces", "piece", "fitting", "steps", "step", "chapters", "top")
"""In the order in which they are shown."""


@cache
def insert_list() -> tuple[InsertEntry, ...]:
    """Everything that can be put in, group by group."""
    return tuple(_entry(code, row.group) for code, row in _ROWS.items())


def _entry(code: str, group: str) -> InsertEntry:
    form, say = form_of(code), catalogue().say
    if form:
        return InsertEntry(code, group, say(f"desk-begin.form.{form}.name"), say(f"desk-begin.form.{form}.is"))
    return InsertEntry(code, group, say(f"authoring.insert.{code}"), say(f"authoring.told.{code}"))


def is_known(code: str) -> bool:
    """Whether the list has an entry of that name."""
    return code in _ROWS


def insert(code: str, text: str, offset: int) -> Insertion | None:
    """What it takes to put an entry into a text, the caret at an offset.

    None where it has no place there: its section stands in braces, or no piece suits it.
    """
    return _ROWS[code].put(Around.of(text, offset, catalogue()), code)


# --- putting in -------------------------------------------------------------------------------------------------------


def _lines(around: Around, code: str, piece: str = "", **more: str) -> list[str]:
    """The lines the catalogue has for an entry, about the piece of that name."""
    return around.filled(f"authoring.put.{code}", {**around.values(piece), **more}).strip("\n").split("\n")


def _named(section: str) -> Callable[[Around, str], Insertion | None]:
    """A supply, tool or size: its name must be new."""

    def put(around: Around, code: str) -> Insertion | None:
        usual = around.words.say(f"authoring.named.{code}")
        return put_entry(around.page, section, _lines(around, code, name=around.new_name(section, usual)))

    return put


def _size(around: Around, code: str) -> Insertion | None:
    """Another size, worked out half as large again; only its name while nobody can tell how large the pieces are."""
    name = around.new_name("sizes", around.words.say(f"authoring.named.{code}"))
    return put_entry(around.page, "sizes", [*_lines(around, code, name=name), *_half_again(around, name)])


def _half_again(around: Around, name: str) -> Iterator[str]:
    from foldwright.begin.resize.sizing import resize, size_entry
    from foldwright.pipeline import check_recipe

    understood = check_recipe(around.page.text, "", "").understood
    resized = resize(understood, SizeOptions(scale=_HALF_AGAIN)) if understood else None
    if understood and resized and not isinstance(resized, Wrong):
        entry = size_entry(name, understood.recipe, next(resized))
        yield from (line.removeprefix("  ") for line in entry[1:])


def _tool(around: Around, code: str) -> Insertion | None:
    known = f"draft.tool.{code.removeprefix('tool-')}"
    name = around.words.say(known if around.words.has(known) else f"authoring.named.{code}")
    tools = around.recipe.tools if around.recipe else ()
    there = next((tool.name.place for tool in tools if tool.name.value.casefold() == name.casefold()), None)
    if there:
        return Insertion((), (there.start, there.end))
    return put_entry(around.page, "tools", [f"{HERE}{name}{TO_HERE}"])


def _fact(word: str, suits: Callable[[Piece, Blank | None], bool] | None = None) -> Callable[..., Insertion | None]:
    """A fact of the piece the caret stands in, or of the last."""

    def put(around: Around, code: str) -> Insertion | None:
        entry = around.entry(suits) if suits else around.entry()
        return put_fact(around.page, entry, _lines(around, code, entry.name), word) if entry else None

    return put


def _one_more(word: str) -> Callable[[Around, str], Insertion | None]:
    def put(around: Around, code: str) -> Insertion | None:
        entry = around.entry()
        return put_row(around.page, entry, word, _lines(around, code, entry.name)[0]) if entry else None

    return put


def _in_step(word: str) -> Callable[[Around, str], Insertion | None]:
    def put(around: Around, code: str) -> Insertion | None:
        lines = _lines(around, code)
        if around.step is None:
            heading = _lines(around, "step")[0].replace(HERE, "").replace(TO_HERE, "")
            return put_step(
                around.page, around.offset, heading, [line.replace(HERE, "").replace(TO_HERE, "") for line in lines]
            )
        return put_in_step(around.page, around.step, lines, word)

    return put


def _chapter(around: Around, code: str) -> Insertion | None:
    chapter = "\n".join(_lines(around, code))
    heading = chapter.partition("\n")[0].lstrip("# ")
    return put_section(around.page, section_kind(heading), chapter)


def _top(word: str) -> Callable[[Around, str], Insertion | None]:
    return lambda around, code: put_top(around.page, _lines(around, code), word)


def _step(around: Around, code: str) -> Insertion | None:
    heading, words = _lines(around, code)
    return put_step(around.page, around.offset, heading, (), words)


def _glue_flap(around: Around, _code: str) -> Insertion | None:
    """One more panel at the end of a row: the piece grows by it."""
    entry = around.entry(lambda piece, blank: bool(piece.size and blank and _may_have_flap(blank, piece)))
    piece = around.piece(entry.name) if entry else None
    if entry is None or piece is None or piece.size is None:
        return None
    flap = read_length(around.values()["flap"])
    size, row = entry.fact("size"), entry.fact("across")
    if not isinstance(flap, Length) or size is None:
        return None
    across, down = piece.size.value.lengths
    grown = Change(*size.value, write_cross((Length(across.mm + flap.mm, across.unit), down)))
    name = around.words.say("authoring.name.glue-flap")
    if row is None:
        body = f"{entry.inset}across: {write_length(across)} | {HERE}{write_length(flap)}{TO_HERE} {name}\n"
        return replaced(around.page, (entry.whole[1], entry.whole[1]), body, grown)
    return replaced(around.page, (row.value[1], row.value[1]), f" | {HERE}{write_length(flap)}{TO_HERE} {name}", grown)


def _may_have_flap(blank: Blank, piece: Piece) -> bool:
    plain = not blank.made and len(blank.down) == 1 and piece.size is not None and len(piece.size.value.lengths) == 2
    return plain and blank.across[-1].role != "glue flap" and piece.outline is None and not piece.flaps


def _takes_flaps(piece: Piece, blank: Blank | None) -> bool:
    return bool(blank and blank.boxed and not blank.made) and not piece.corners


def _takes_corners(piece: Piece, blank: Blank | None) -> bool:
    return bool(blank and blank.boxed and not blank.made) and not piece.flaps


def _flat(_piece: Piece, blank: Blank | None) -> bool:
    return blank is not None and not blank.made


# --- the list ---------------------------------------------------------------------------------------------------------

_SUPPLIES = """card patterned paper fabric board clear twine ribbon tape wet-glue glue-stick foam ink brad bead magnet
    light bag sweet envelope gift-card"""
_TOOLS = "scoring-trimmer trimmer bone-folder scissors punch knife ruler mat"
_OF_PIECE = {
    "flaps": _Row("piece", _fact("flaps", _takes_flaps)),
    "corners": _Row("piece", _fact("corners", _takes_corners)),
    "glue-flap": _Row("piece", _glue_flap),
    "hole-round": _Row("piece", _one_more("holes")),
    "hole-slot": _Row("piece", _one_more("holes")),
    "hole-window": _Row("piece", _one_more("holes")),
    "hole-notch": _Row("piece", _one_more("holes")),
    "line": _Row("piece", _one_more("lines")),
    "count": _Row("piece", _fact("count")),
    "grain": _Row("piece", _fact("grain")),
    "optional": _Row("piece", _fact("optional")),
    "note": _Row("piece", _fact("note")),
    "goes-on": _Row("fitting", _fact("goes on")),
    "goes-round": _Row("fitting", _fact("goes round", _flat)),
    "fits-over": _Row("fitting", _fact("fits over")),
    "slides-in": _Row("fitting", _fact("slides in")),
    "holds": _Row("fitting", _fact("holds")),
    "stacked": _Row("fitting", _fact("stacked")),
}
_OF_WORDS = {
    "step": _Row("steps", _step),
    **{
        f"step-{word.replace(' ', '-')}": _Row("step", _in_step(word))
        for word in (
            "time",
            "get ready",
            "when",
            "wait",
            "within",
            "with",
            "tip",
            "caution",
            "short",
            "photo",
            "video",
            "share",
            "optional",
        )
    },
    **{
        f"chapter-{name}": _Row("chapters", _chapter)
        for name in ("tips", "notes", "variations", "for-the-teacher", "before-you-start")
    },
    **{
        f"top-{word.replace(' ', '-')}": _Row("top", _top(word))
        for word in ("summary", "makes", "level", "credit", "for", "photo", "video", "keep")
    },
    "size": _Row("top", _size),
}


def _rows() -> Iterator[tuple[str, _Row]]:
    for code in _SUPPLIES.split():
        yield f"supply-{code}", _Row("supplies", _named("supplies"))
    for code in _TOOLS.split():
        yield f"tool-{code}", _Row("tools", _tool)
    for code in FORM_PUT:
        yield code, _Row("pieces", put_form)
    yield from _OF_PIECE.items()
    for code in STEPS_PUT:
        yield code, _Row("steps", put_act)
    yield from _OF_WORDS.items()


_ROWS: Mapping[str, _Row] = dict(_rows())
