"""Pieces to put in: one of each form, its blank as `foldwright new` makes it, and those that go with another piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.authoring.around import Around
from foldwright.authoring.placing import HERE, TO_HERE, Insertion, put_entry
from foldwright.begin.draft.writing import write_pieces
from foldwright.begin.forms import EXAMPLES, SIZES, FormAnswers, draft_of_form, read_size
from foldwright.begin.options import FORMS
from foldwright.finding import Wrong
from foldwright.geometry.flat.blank import Blank
from foldwright.recipe.model import Piece

_OWN = ("piece", "mat", "over", "band", "case", "cover", "pop-up")
"""Pieces whose lines the catalogue has."""
_SMALLER = {"tri-fold": "page", "hinged box": "roofed"}
"""Forms whose usual example comes out of few sheets: whose example is taken instead."""
_BOARD = 50
"""Millimetres: nobody covers a board that is narrower."""
_PANELS = 4
"""How many panels a booklet has, and how many sides a prism."""

FORM_PUT = (
    *(f"piece-{name}" for name in _OWN),
    *(f"piece-{form.replace(' ', '-')}" for form in FORMS if form != "lid"),
)
"""Every piece there is to put in. A lid goes over a piece: `piece-over`."""


def form_of(code: str) -> str:
    """The form that `foldwright new` begins with, of the entry that puts in a piece of it; empty for any other."""
    return next((form for form in FORMS if code == f"piece-{form.replace(' ', '-')}"), "")


def _any(_piece: Piece, _blank: Blank | None) -> bool:
    return True


def _is_box(_piece: Piece, blank: Blank | None) -> bool:
    return blank is not None and blank.form == "tray" and blank.boxed


def _is_board(piece: Piece, blank: Blank | None) -> bool:
    """Whether it is a board to cover: a plain rectangle with room for what is turned in."""
    plain = blank is not None and not blank.form and not blank.made and len(blank.across) == len(blank.down) == 1
    return plain and blank is not None and piece.outline is None and min(blank.width, blank.height) >= _BOARD


_UNDER = {"piece-mat": _any, "piece-over": _is_box, "piece-band": _any, "piece-cover": _is_board}
"""What a piece goes with: without such another there is nothing it could be made for."""


def put_form(around: Around, code: str) -> Insertion | None:
    """A piece behind the last, cut from the first sheet among the supplies."""
    supply = around.supply(lambda kind: kind.sheet)
    begun = _own(around, code) if code.removeprefix("piece-") in _OWN else _begun(around, code)
    if begun is None:
        return None
    name, facts = begun
    new = around.new_name("pieces", name)
    facts = [f"from: {supply}", *facts] if supply else facts
    finished = next((number for number, fact in enumerate(facts) if fact.startswith("finished: ")), None)
    if finished is None:
        return put_entry(around.page, "pieces", [f"{HERE}{new}{TO_HERE}:", *facts])
    word, _, value = facts[finished].partition(": ")
    facts[finished] = f"{word}: {HERE}{value}{TO_HERE}"
    return put_entry(around.page, "pieces", [f"{new}:", *facts])


def _own(around: Around, code: str) -> tuple[str, list[str]] | None:
    over = around.entry(_UNDER.get(code, _any))
    if over is None and code in _UNDER:
        return None
    other = over.name if over else around.words.say("authoring.name.base")
    values = around.values() | {"other": other, "on": around.face_of(other)}
    facts = around.filled(f"authoring.put.{code}", values).strip().split("\n")
    return around.words.say(f"authoring.named.{code}"), facts


def _begun(around: Around, code: str) -> tuple[str, list[str]]:
    """Name and facts of the one piece that a new recipe of the form would have."""
    form = form_of(code)
    size = read_size(EXAMPLES[around.system][_SMALLER.get(form, SIZES[form])], form, around.system)
    assert not isinstance(size, Wrong)
    draft = draft_of_form(FormAnswers("", form, size, _PANELS, ""), around.words)
    name, *facts = _bare(list(write_pieces(draft))[1:])
    return name.removesuffix(":"), facts


def _bare(lines: Sequence[str]) -> Iterator[str]:
    return (line.strip() for line in lines if not line.strip().startswith("from:"))
