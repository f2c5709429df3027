"""Beginning with a form: its sizes are typed beside a drawing of it, which follows them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from markupsafe import Markup
from msgspec import Struct
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.authoring.form_pictures import draw_form, form_picture
from foldwright.begin.draft.begun import Begun
from foldwright.begin.draft.card import plain_name
from foldwright.begin.draft.model import UNIT
from foldwright.begin.forms import EXAMPLES, SIZES, FormAnswers, draft_of_form, read_panels, read_sides
from foldwright.begin.options import FORMS
from foldwright.desk.beginning.begun import draft_tried, name_wrong, opened, told, told_findings
from foldwright.desk.desk import Desk, page
from foldwright.desk.fields import Fields, read_fields
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Wrong
from foldwright.measure.length import Length, System, system_named
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.outputs.new_folders import studio_beside

GROUPS = {
    "boxes": ("box", "lid", "hinged box", "tuck box", "hexagonal box", "octagonal box", "pillow box", "gable-top"),
    "wraps": ("sleeve", "gift bag", "envelope", "pocket"),
    "cards": ("card", "gate", "tri-fold", "booklet", "tag"),
    "shapes": ("cube", "prism", "pyramid", "tube", "cone", "rosette"),
}
"""The forms as they lie on the page, alike ones together."""
INSTEAD = {
    "drawer": "box",
    "band": "lid",
    "case": "box",
    "turned-in": "box",
    "woven": "card",
    "mat": "card",
    "accordion": "booklet",
    "snap": "tuck box",
}
"""What the manual has besides, and what to begin with to come to it."""
_COUNTED = {"booklet": ("panels", "4"), "prism": ("sides", "3")}
_COUNTS = {"panels": tuple(range(4, 13, 2)), "sides": tuple(range(3, 13))}


class FormLook(Struct, frozen=True):
    """The page of a form as it stands: what is in its fields, what is wrong at which, its drawing, what was found."""

    form: str
    typed: Mapping[str, str]
    troubles: Mapping[str, str]
    drawing: Markup
    found: tuple[Told, ...] = ()
    begun: Begun | None = None

    @property
    def kind(self) -> str:
        """Which size it is asked for."""
        return SIZES[self.form]

    @property
    def sizes(self) -> range:
        """The numbers of its size."""
        return range(len(EXAMPLES[System.IMPERIAL][self.kind].split(" x ")))


def form_routes(desk: Desk) -> list[BaseRoute]:
    """The addresses of forms."""

    async def every(_request: Request) -> Response:
        return page("begin-forms.html", groups=GROUPS, instead=INSTEAD)

    async def one(request: Request) -> Response:
        form = request.path_params["form"].replace("_", " ")
        if form not in FORMS:
            return page("missing.html", 404)
        fields = await read_fields(request) if request.method == "POST" else Fields({})
        return page("too-much.html", 413) if fields is None else await run_in_threadpool(_answer, form, fields, desk)

    async def picture(request: Request) -> Response:
        form = request.path_params["form"].replace("_", " ")
        if form not in FORMS:
            return page("missing.html", 404)
        svg = await run_in_threadpool(_picture, form)
        return Response(svg, media_type="image/svg+xml", headers={"cache-control": "private, max-age=3600"})

    return [
        Route("/begin/form", every),
        Route("/begin/form/{form}.svg", picture),
        Route("/begin/form/{form}", one, methods=["GET", "POST"]),
    ]


@lru_cache(maxsize=len(FORMS))
def _picture(form: str) -> str:
    return form_picture(form, catalogue())


def _answer(form: str, fields: Fields, desk: Desk) -> Response:
    look = form_look(form, fields, desk)
    if fields.line("do") != "begin" or look.troubles or look.begun is None or look.begun.checked.wrong:
        return page("begin-form.html", look=look, counts=_COUNTS)
    done = opened(look.typed["name"], look.begun.text, {}, desk)
    if isinstance(done, Wrong):
        return page("begin-form.html", look=_with(look, name=told(done)), counts=_COUNTS)
    return done


def _with(look: FormLook, **troubles: str) -> FormLook:
    return FormLook(look.form, look.typed, {**look.troubles, **troubles}, look.drawing, look.found, look.begun)


def form_look(form: str, fields: Fields, desk: Desk) -> FormLook:
    """What the page shows for what is in its fields."""
    typed = _typed(form, fields)
    system = System(typed["units"])
    troubles: dict[str, str] = {}
    sizes: list[Length] = []
    unknown: set[int] = set()
    examples = _examples(form, system)
    for number, example in enumerate(examples):
        length = read_length(typed[f"size-{number}"], UNIT[system])
        if isinstance(length, Unreadable) or length.mm <= 0:
            said = typed[f"size-{number}"]
            key = "size" if said else "no-size"
            troubles[f"size-{number}"] = catalogue().say(f"desk-begin.wrong.{key}", said=said, example=example)
            length = read_length(example, UNIT[system])
            unknown.add(number)
        assert isinstance(length, Length)
        sizes.append(Length(length.mm, UNIT[system]))
    name, read = typed["name"], {"panels": read_panels, "sides": read_sides}
    counted, _ = _COUNTED.get(form, ("", ""))
    count = read[counted](typed["count"]) if counted else 0
    if isinstance(count, Wrong):
        troubles["count"] = told(count)
    if fields.line("do") == "begin" and (wrong := name_wrong(name, desk)):
        troubles["name"] = told(wrong)
    if isinstance(count, Wrong):
        return FormLook(form, typed, troubles, Markup(""))
    card = plain_name(typed["card"]) or catalogue().say("desk-begin.card")
    title = name or catalogue().say(f"desk-begin.form.{form}.name")
    answers = FormAnswers(title, form, tuple(sizes), count, card)
    begun = draft_tried(draft_of_form(answers, catalogue(), studio_beside(desk.folder)), desk)
    drawing = Markup(draw_form(begun, answers, catalogue(), unknown))
    found = told_findings(begun.checked.findings, begun) if begun.checked.wrong else ()
    return FormLook(form, typed, troubles, drawing, found, begun)


def _examples(form: str, system: System) -> list[str]:
    return EXAMPLES[system][SIZES[form]].rsplit(" ", 1)[0].split(" x ")


def _typed(form: str, fields: Fields) -> dict[str, str]:
    """What is in the fields. Sizes that nobody has touched are those suggested in the units that are chosen."""
    system = system_named(fields.line("units")) or System.IMPERIAL
    old = _examples(form, system_named(fields.line("before")) or system)
    typed = {"units": system.value, "name": fields.line("name"), "card": fields.line("card")}
    for number, example in enumerate(_examples(form, system)):
        said = fields.line(f"size-{number}", example)
        typed[f"size-{number}"] = example if said == old[number] else said
    typed["counted"], usual_count = _COUNTED.get(form, ("", ""))
    typed["count"] = fields.line("count", usual_count)
    return typed
