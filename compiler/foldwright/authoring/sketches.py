"""A small picture of each thing on the insert list, drawn by the house from a sample recipe with that thing in it."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.authoring.empty_page import empty_page
from foldwright.authoring.form_pictures import form_picture
from foldwright.authoring.inserting import insert
from foldwright.authoring.pieces_to_put import form_of
from foldwright.authoring.places import places_of, step_at
from foldwright.begin.draft.begun import begin
from foldwright.begin.forms import EXAMPLES, SIZES, FormAnswers, draft_of_form, read_size
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.finding.changes import changed
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe, compose_document
from foldwright.render.drawing.svg import draw
from foldwright.vocabulary import ACTS, kind_of, tools_in

if TYPE_CHECKING:
    from foldwright.document.model import Document, Picture

_FILE = "recipe.md"
_WIDE_MM, _TEXT_PT = 60.0, 8.0
_SYSTEM = System.METRIC
"""The pictures have no figures: either system would do."""
_SHOWS = {
    "goes-on": "piece-mat",
    "goes-round": "piece-band",
    "fits-over": "piece-lid",
    "piece-over": "piece-lid",
    "act-put-on": "piece-lid",
    "slides-in": "act-slide-in",
    "holds": "supply-sweet",
    "act-fill": "supply-sweet",
}
"""Things that another entry, or the form of that name, shows."""
_ON_PLAN = frozenset({"piece-piece", "piece-case", "piece-cover", "corners", "flaps", "glue-flap", "line"})
_FLAT_WORK = frozenset({"act-stamp", "act-colour", "act-roll", "act-glue", "act-stick-on", "act-punch"})
"""Work that is done on a flat piece; all other is shown on a box."""
_SLIT = frozenset({"act-cut", "act-score", "act-cut-and-score", "act-flaps", "act-corners", "act-fold-any", "act-make"})
"""Work on a box before it stands."""


@cache
def sketch(code: str) -> str:
    """The picture of an entry as SVG; empty where there is nothing to draw."""
    code = _SHOWS.get(code, code)
    if form := form_of(code):
        return form_picture(form, catalogue())
    picture = _picture(code)
    if picture is None:
        return ""
    wide = _WIDE_MM * min(1.0, picture.scene.width / picture.scene.height)
    return draw(picture.scene, {}, wide, _TEXT_PT, words=picture.words, largest=picture.largest)


def _picture(code: str) -> Picture | None:
    if code in ("piece-mat", "piece-band", "piece-pop-up", "act-wrap"):
        return _going_with(code)
    if code.startswith("act-"):
        return _at_work(code)
    if code.startswith("supply-"):
        return _in_use(code)
    if code.startswith("tool-"):
        return _with_tool(code)
    return _on_plan(code) if code in _ON_PLAN or code.startswith("hole-") else None


# --- samples ----------------------------------------------------------------------------------------------------------


@cache
def _new(form: str) -> str:
    """A recipe of a form as it is begun."""
    size = read_size(EXAMPLES[_SYSTEM][SIZES[form]], form, _SYSTEM)
    assert not isinstance(size, Wrong)
    return begin(draft_of_form(FormAnswers("", form, size, 0, "card"), catalogue()), _FILE, "").text


@cache
def _flat() -> str:
    return empty_page(catalogue(), None, _SYSTEM)


def _document(text: str) -> Document | None:
    understood = check_recipe(text, _FILE, "").understood
    return compose_document(understood, (), {_FILE: text}) if understood else None


def _of_step(text: str, at: int) -> Picture | None:
    """The last picture of the step that stands at an offset. Which fold comes second says nothing where the first is
    not shown."""
    step, document = step_at(text, at), _document(text)
    pictures = document.steps[step.number - 1].pictures if step and document else ()
    return replace(pictures[-1], scene=replace(pictures[-1].scene, captions=())) if pictures else None


# --- what each is shown by --------------------------------------------------------------------------------------------


def _at_work(code: str) -> Picture | None:
    text = _flat() if code in _FLAT_WORK else _new("lid")
    steps = places_of(text).steps
    before = steps[0] if code in _SLIT or code in _FLAT_WORK else steps[-2]
    insertion = insert(code, text, before.start)
    return _of_step(changed(text, insertion.changes), insertion.select[0]) if insertion else None


def _in_use(code: str) -> Picture | None:
    """A sheet as it lies, a cord tied, what sticks at work, anything else put in."""
    name, text = _put(code, _new("lid"))
    kind = kind_of(text.partition(f"  {name}: ")[2].partition(",")[0])
    if kind is None:
        return None
    if kind.sheet or kind.adhesive:
        name, text = _put(code, _flat())
    if kind.sheet:
        document = _document(text.replace(f"from: {catalogue().say('authoring.named.supply-card')}", f"from: {name}"))
        return document.pieces[0].picture if document else None
    if kind.adhesive:
        return _doing(text, "tape panel" if "tape" in kind.name else "glue panel", name)
    return _doing(text, f"tie {name} around base" if "cord" in kind.hazards else f"put {name} in base")


def _put(code: str, text: str) -> tuple[str, str]:
    """A sample with an entry put in, and the name it has there."""
    insertion = insert(code, text, text.find("  base:") + 1)
    if insertion is None:
        return "", text
    text = changed(text, insertion.changes)
    return text[slice(*insertion.select)].strip(" -\n"), text


def _going_with(code: str) -> Picture | None:
    """A layer stuck on, a band laid round, a pop-up half open."""
    if code == "piece-mat":
        name, text = _put(code, _flat())
        return _doing(text, f"stick {name} to panel")
    if code == "piece-pop-up":
        name, text = _put(code, _flat())
        return _doing(text, f"fold {name}")
    name, text = _put("piece-band", _new("lid"))
    return _doing(text, f"wrap {name} around base")


def _with_tool(code: str) -> Picture | None:
    """The act that the tool is first of all for."""
    name, text = _put(code, _flat())
    tool = next(reversed(tools_in(name)), None)
    act = next((one for one in ACTS if tool and tool.name in one.tools[:1]), None)
    return _doing(text, f"{act.name} panel", name) if act else None


def _doing(text: str, do: str, uses: str = "") -> Picture | None:
    """A step of its own, before the last."""
    steps = places_of(text).steps
    at = steps[-1].start if len(steps) > 1 else steps[-1].end
    new = f"## -\n\n```step\ndo: {do}\n" + (f"with: {uses}\n" if uses else "") + "```\n\n"
    return _of_step(text[:at] + new + text[at:], at)


def _on_plan(code: str) -> Picture | None:
    """A piece as it lies."""
    text = {"flaps": _new("box"), "corners": _new("box"), "glue-flap": _new("card")}.get(code, _flat())
    if code == "corners":
        text = "\n".join(line for line in text.split("\n") if not line.strip().startswith("flaps:"))
    insertion = insert(code, text, 0)
    document = _document(changed(text, insertion.changes)) if insertion else None
    return document.pieces[-1].picture if document and document.pieces else None
