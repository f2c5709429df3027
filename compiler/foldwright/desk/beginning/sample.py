"""Beginning with a sample: readings are typed at the panels of the taken-apart piece, or notes are pasted."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup
from msgspec import Struct
from msgspec.structs import replace
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from foldwright.authoring.recipe_pictures import draw_recovered
from foldwright.begin.draft.begun import Begun, drawings
from foldwright.begin.draft.card import plain_name
from foldwright.begin.recover.measured import (
    TypedPiece,
    TypedSample,
    TypedSide,
    field_found,
    field_of,
    notes_of,
    sample_typed,
)
from foldwright.begin.recover.model import SIDES, Sample
from foldwright.begin.recover.notes.marks import read_habit
from foldwright.begin.recover.notes.reading import LONE_PIECE, read_sample
from foldwright.begin.recover.recovering import Doubt, Recovered, given_way, recover
from foldwright.begin.recover.telling import ToldList, draft_of_sample, tell_doubt, tell_length, tell_recovered
from foldwright.desk.beginning.begun import draft_tried, name_wrong, opened, told, told_findings
from foldwright.desk.desk import Desk, page
from foldwright.desk.fields import Fields, read_fields
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told, tell
from foldwright.finding import Wrong
from foldwright.measure.length import Length, System, system_named
from foldwright.measure.reading import read_length

_MOST_PIECES, _MOST_PANELS = 6, 12
_NOTES = "readings.txt"
_FOLDS = ("tray", "lid", "sleeve", "card", "gate", "tri-fold", "accordion", "envelope")
_READ_TO = {System.IMPERIAL: ("1/8", "1/16", "1/32"), System.METRIC: ("1", "0.5")}
_USUAL = {System.IMPERIAL: "1/16", System.METRIC: "1"}
"""How a ruler is marked: what may be chosen, and what most of them are."""
_MADE_IN = {
    "": "unknown", "inches": "inches", "quarters": "quarters", "eighths": "eighths", "sixteenths": "sixteenths",
    "millimetres": "millimetres", "whole millimetres": "whole-millimetres", "5 mm": "five", "1 cm": "ten",
}  # fmt: skip
"""What a maker may be known to cut to, as notes say it, and its word on the page."""


class SampleAnswer(Struct, frozen=True):
    """What the readings come to: the plan of each piece, what is to be said of it, and the recipe that was begun.

    `nearest` is when these plans are only what would come of some sides giving way.
    """

    plans: tuple[tuple[str, Markup], ...] = ()
    lists: tuple[ToldList, ...] = ()
    doubt: str = ""
    doubted: frozenset[str] = frozenset()
    nearest: bool = False
    begun: Begun | None = None
    wrong: tuple[Told, ...] = ()


class GivingWay(Struct, frozen=True):
    """The sides (piece and side) whose numbers may be off by a bound, as somebody agreed to; none at first."""

    sides: tuple[tuple[str, str], ...] = ()
    bound: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """`base across`."""
        return tuple(f"{piece} {side}" for piece, side in self.sides)


class SampleLook(Struct, frozen=True):
    """The page as it stands. `elsewhere` is what was found at no field of its own."""

    typed: TypedSample
    title: str
    card: str
    notes: str
    troubles: Mapping[str, str]
    elsewhere: tuple[Told, ...] = ()
    answer: SampleAnswer | None = None
    wide: GivingWay = GivingWay()


def sample_routes(desk: Desk) -> list[BaseRoute]:
    """The address of samples."""

    async def sample(request: Request) -> Response:
        fields = await read_fields(request) if request.method == "POST" else Fields({})
        return page("too-much.html", 413) if fields is None else await run_in_threadpool(_answer, fields, desk)

    return [Route("/begin/sample", sample, methods=["GET", "POST"])]


def _answer(fields: Fields, desk: Desk) -> Response:
    look = _look(fields, desk)
    begun = look.answer.begun if look.answer else None
    recipe = begun.checked.recipe if begun else None
    if fields.line("do") == "begin" and begun and recipe and not begun.checked.wrong and "name" not in look.troubles:
        system, notes = recipe.system, look.notes or notes_of(look.typed, look.wide.sides, look.wide.bound)
        done = opened(look.title, begun.text, {_NOTES: notes.encode(), **drawings(begun, system)}, desk)
        if not isinstance(done, Wrong):
            return done
        look = replace(look, troubles={"name": told(done)}, elsewhere=())
    return page(
        "begin-sample.html",
        look=look,
        sides=SIDES,
        folds=_FOLDS,
        read_to=_READ_TO,
        field_of=field_of,
        most=_MOST_PANELS,
        usual=_USUAL,
        made_in=_MADE_IN,
    )


def _look(fields: Fields, desk: Desk) -> SampleLook:
    typed = _typed(fields)
    title, card, notes = fields.line("name"), fields.line("card"), fields.text("notes").strip()
    look = SampleLook(typed, title, card, notes, {})
    if fields.line("do") not in ("answer", "widen", "begin"):
        return look
    troubles: dict[str, str] = {}
    if notes:
        read = read_sample(notes, "notes")
        elsewhere = tuple(tell(one, {"notes": notes}) for one in read.findings)
        sample = read.sample
        if sample and not sample.made_in:
            sample = replace(sample, made_in=read_habit(typed.made_in))
    else:
        sample, wrong = sample_typed(typed)
        troubles, elsewhere = {field: told(one) for field, one in wrong.items()}, ()
    if sample is None:
        return replace(look, troubles=troubles, elsewhere=elsewhere)
    if fields.line("do") == "begin" and (unnamed := name_wrong(title, desk)):
        troubles["name"] = told(unnamed)
    wide = _giving_way(fields)
    bound = read_length(wide.bound)
    if isinstance(bound, Length):
        look, sample = replace(look, wide=wide), given_way(sample, wide.sides, bound)
    return _recovered(look, sample, troubles, elsewhere, desk)


def _giving_way(fields: Fields) -> GivingWay:
    """What was agreed to give way: only for the answer that stands there, not for one that is worked out anew."""
    if fields.line("do") not in ("widen", "begin"):
        return GivingWay()
    sides = (tuple(said.rpartition(" ")[::2]) for said in fields.all("wide-side"))
    return GivingWay(tuple((piece, side) for piece, side in sides), fields.line("wide"))


def _recovered(
    look: SampleLook, sample: Sample, troubles: dict[str, str], elsewhere: tuple[Told, ...], desk: Desk
) -> SampleLook:
    found = recover(sample)
    for one in found.findings:
        said = tell(one, {"notes": look.notes})
        if look.notes:
            elsewhere = (*elsewhere, said)
        else:
            troubles[field_found(one)] = " ".join(filter(None, (said.says, said.understood, said.remedy)))
    answer = None
    if found.recovered:
        answer = _told(sample, found.recovered, look, desk)
    elif found.nearest and found.read_to:
        plans = draw_recovered(found.nearest, catalogue())
        marked = tuple((name, Markup(svg)) for name, svg in plans)
        answer = SampleAnswer(marked, nearest=True)
        look = replace(look, wide=GivingWay(found.sides, tell_length(found.read_to)))
    return replace(look, troubles=troubles, elsewhere=elsewhere, answer=answer)


def _told(sample: Sample, recovered: Recovered, look: SampleLook, desk: Desk) -> SampleAnswer:
    words = catalogue()
    title = look.title or sample.fact("title") or words.say("desk-begin.sample.name")
    draft, assumed = draft_of_sample(sample, recovered, title)
    begun = draft_tried(draft, desk)
    plans = tuple((name, Markup(svg)) for name, svg in draw_recovered(recovered, words))
    wrong = told_findings(begun.checked.findings, begun) if begun.checked.wrong else ()
    # Each stands folded up under its heading, which no list follows before it is opened.
    lists = tuple(replace(one, heading=one.heading.rstrip(":")) for one in tell_recovered(recovered, assumed, words))
    doubt = tell_doubt(recovered.doubt, words) if recovered.doubt else ""
    return SampleAnswer(plans, lists, doubt, frozenset(_doubted(recovered.doubt, look.typed)), begun=begun, wrong=wrong)


def _doubted(doubt: Doubt | None, typed: TypedSample) -> list[str]:
    """The fields of the panels that are to be measured again."""
    pieces = [piece for piece in typed.pieces if doubt and piece.name == doubt.piece]
    return [
        field_of(piece, doubt.side.side, at)
        for piece in pieces
        if doubt
        for at in range(doubt.start + 1, doubt.end + 1)
    ]


# --- fields ---------------------------------------------------------------------------------------------------------


def _typed(fields: Fields) -> TypedSample:
    """What is in the fields, with a piece more or less when that was asked for."""
    system = system_named(fields.line("units")) or System.IMPERIAL
    do = fields.line("do")
    numbers = list(range(fields.number("pieces", 1, 1, _MOST_PIECES)))
    if do == "add" and len(numbers) < _MOST_PIECES:
        numbers.append(len(numbers))
    if do.startswith("remove-") and len(numbers) > 1:
        numbers = [number for number in numbers if do != f"remove-{number}"]
    pieces = (_piece(fields, number, f"piece-{place}") for place, number in enumerate(numbers))
    card = plain_card(fields.line("card"))
    facts = (("title", fields.line("name")), ("card", card))
    said = fields.line("read-to")
    read_to = said if said in _READ_TO[system] else _USUAL[system]
    made_in = fields.line("made-in")
    told = tuple(fact for fact in facts if fact[1])
    return TypedSample(tuple(pieces), system, read_to, told, made_in if made_in in _MADE_IN else "")


def plain_card(said: str) -> str:
    """A card as notes say it: its name, and behind a comma what it weighs."""
    return ", ".join(filter(None, map(plain_name, said.split(","))))


def _piece(fields: Fields, number: int, field: str) -> TypedPiece:
    old = f"piece-{number}"
    name = plain_name(fields.line(f"{old}-name", LONE_PIECE if not number else "")) or f"{LONE_PIECE} {number + 1}"
    fold = fields.line(f"{old}-fold")
    across, down = (_side(fields, old, side) for side in SIDES)
    return TypedPiece(field, name, (across, down), fold if fold in _FOLDS else "")


def _side(fields: Fields, piece: str, side: str) -> TypedSide:
    count = fields.number(f"{piece}-{side}-count", 3, 1, _MOST_PANELS)
    numbers = tuple(fields.line(f"{piece}-{side}-{number}") for number in range(1, count + 1))
    return TypedSide(
        side, numbers, fields.line(f"{piece}-{side}-whole"), fields.line(f"{piece}-{side}-way") == "running"
    )
