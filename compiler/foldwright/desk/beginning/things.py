"""Beginning with what goes inside: proposals as pictures, of which one becomes the recipe."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from markupsafe import Markup
from msgspec import Struct
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.authoring.recipe_pictures import draw_made
from foldwright.begin.design.designing import Designed, design
from foldwright.begin.design.drafting import draft_of_proposal, title_of
from foldwright.begin.design.model import FORMS, DesignWish, Proposal
from foldwright.begin.design.page import tell_badge, tell_blanks, tell_facts
from foldwright.begin.design.telling import tell_form, tell_taken, tell_why_not, tell_wish
from foldwright.begin.design.wishing import read_wish
from foldwright.begin.draft.begun import drawings
from foldwright.begin.draft.writing import write_draft
from foldwright.begin.options import DesignOptions
from foldwright.desk.beginning.begun import draft_tried, name_wrong, opened, told
from foldwright.desk.desk import Desk, page
from foldwright.desk.fields import Fields, read_fields
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import system_named
from foldwright.outputs.new_folders import studio_beside
from foldwright.pipeline import check_recipe
from foldwright.recipe.model import Studio

_SHOWN = 3
"""Proposals of each form."""
_TYPED = ("card", "sheet", "numbers", "name")


class ShownProposal(Struct, frozen=True):
    """One proposal as it is chosen by: its form, its picture, and a sentence for each thing that matters."""

    number: int
    form: str
    title: str
    picture: Markup
    badge: str
    facts: tuple[str, ...]
    blanks: tuple[str, ...]


class ThingsLook(Struct, frozen=True):
    """The page as it stands."""

    things: str
    forms: tuple[str, ...]
    units: str
    typed: Mapping[str, str]
    troubles: Mapping[str, str]
    heading: str = ""
    proposals: tuple[ShownProposal, ...] = ()
    why_not: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()


def things_routes(desk: Desk) -> list[BaseRoute]:
    """The address of what goes inside."""

    async def things(request: Request) -> Response:
        fields = await read_fields(request) if request.method == "POST" else Fields({})
        return page("too-much.html", 413) if fields is None else await run_in_threadpool(_answer, fields, desk)

    return [Route("/begin/things", things, methods=["GET", "POST"])]


def _answer(fields: Fields, desk: Desk) -> Response:
    forms = tuple(form for form in FORMS if form in fields.all("form"))
    units = fields.line("units") if system_named(fields.line("units")) else ""
    typed = {name: fields.line(name) for name in _TYPED}
    look = ThingsLook(fields.text("things"), forms, units, typed, {})
    if not fields.line("do") and not fields.line("take"):
        return page("begin-things.html", look=look, forms=FORMS)
    studio = studio_beside(desk.folder)
    asked = DesignOptions(
        things=fields.lines("things"),
        form=", ".join(forms),
        card=typed["card"],
        sheet=typed["sheet"],
        numbers=typed["numbers"],
        units=units,
    )
    wish = read_wish(asked, studio)
    if isinstance(wish, Wrong):
        look = _with(look, {_field_of(wish): told(wish)})
        return page("begin-things.html", look=look, forms=FORMS)
    designed = _designed(wish, studio)
    taken = fields.number("take", 0, 0, len(designed.all))
    if taken:
        done = _begun(wish, designed.all[taken - 1], typed["name"], desk)
        if not isinstance(done, Wrong):
            return done
        look = _with(look, {"name": told(done)})
    words = catalogue()
    look = ThingsLook(
        look.things,
        forms,
        units,
        typed,
        look.troubles,
        words.say("desk-begin.things.heading" if designed.all else "command.design.nothing", **tell_wish(wish)),
        tuple(_shown(number, one, designed, wish) for number, one in enumerate(designed.all, 1)),
        tuple(tell_why_not(designed, words, "desk-begin")),
        tuple(tell_taken(wish, words)),
    )
    return page("begin-things.html", look=look, forms=FORMS)


def _with(look: ThingsLook, troubles: Mapping[str, str]) -> ThingsLook:
    return ThingsLook(look.things, look.forms, look.units, look.typed, troubles)


def _field_of(wrong: Wrong) -> str:
    """The field in which something that could not be read stands."""
    message = wrong.message.rpartition(".")[2]
    if message.startswith("card-"):
        return "card"
    return {"wish-sheet-unknown": "sheet", "wish-length": "numbers"}.get(message, "things")


@lru_cache(maxsize=4)
def _designed(wish: DesignWish, studio: Studio | None) -> Designed:
    """Kept, so that choosing one of the proposals does not work all of them out again."""
    return design(wish, _SHOWN, studio)


def _begun(wish: DesignWish, proposal: Proposal, name: str, desk: Desk) -> Response | Wrong:
    words = catalogue()
    title = name or title_of(wish, proposal, words)
    if wrong := name_wrong(title, desk):
        return wrong
    begun = draft_tried(draft_of_proposal(wish, proposal, words, title), desk)
    if begun.checked.wrong:
        return Wrong.of("design.not-well")
    return opened(title, begun.text, drawings(begun, wish.rules.system), desk)


def _shown(number: int, proposal: Proposal, designed: Designed, wish: DesignWish) -> ShownProposal:
    words = catalogue()
    return ShownProposal(
        number,
        tell_form(proposal.form, words),
        title_of(wish, proposal, words),
        Markup(_picture(wish, proposal)),
        tell_badge(proposal, designed, words),
        tell_facts(proposal, wish, words),
        tell_blanks(proposal),
    )


@lru_cache(maxsize=128)
def _picture(wish: DesignWish, proposal: Proposal) -> str:
    text = write_draft(draft_of_proposal(wish, proposal, catalogue()), catalogue())
    understood = check_recipe(text, "proposal", "proposal").understood
    return draw_made(understood) if understood else ""
