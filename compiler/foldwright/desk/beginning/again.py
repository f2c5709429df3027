"""Beginning with an old recipe: a copy of it under a new name, as it is or with another size besides."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field
from msgspec.structs import replace
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.options import SizeOptions
from foldwright.begin.resize.sizing import NewSize, resize, size_name_wrong, what_works, with_new_size
from foldwright.begin.resize.telling import tell_note
from foldwright.desk.beginning.begun import name_wrong, opened, told
from foldwright.desk.desk import Desk, page
from foldwright.desk.fields import Fields, read_fields
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told, tell
from foldwright.finding import Strength, Wrong
from foldwright.finding.changes import Change, changed
from foldwright.outputs.checking import check_every_size, check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Understood
from foldwright.surroundings import Folder, Refusal

_TYPED = ("name", "how", "scale", "holds", "numbers", "called")


class AgainLook(Struct, frozen=True):
    """The page as it stands: what is in its fields, what is wrong at which, the new size if one was asked for."""

    slug: str
    title: str
    typed: Mapping[str, str]
    troubles: Mapping[str, str]
    entry: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    found: tuple[Told, ...] = ()
    broken: tuple[str, ...] = ()
    """What else is wrong with the new size, and which one would do."""


class Reached(Struct):
    """A recipe's folder that remembers which of its files were asked for and are there."""

    folder: Folder
    files: dict[str, bytes] = field(default_factory=dict)

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        data = self.folder.read(path, at_most)
        if isinstance(data, bytes):
            self.files[path] = data
        return data

    def theme(self, name: str) -> str | None:
        return self.folder.theme(name)


def again_routes(desk: Desk) -> list[BaseRoute]:
    """The addresses of what is begun with an old recipe."""

    async def again(request: Request) -> Response:
        source = desk.recipe(request.path_params["slug"])
        if source is None:
            return page("missing.html", 404)
        fields = await read_fields(request) if request.method == "POST" else Fields({})
        return page("too-much.html", 413) if fields is None else await run_in_threadpool(_answer, source, fields, desk)

    return [Route("/begin/again/{slug}", again, methods=["GET", "POST"])]


def _answer(source: Source, fields: Fields, desk: Desk) -> Response:
    texts = read_texts(source)
    understood = check_texts(texts, source.surroundings).understood
    typed = {name: fields.line(name) for name in _TYPED} | {"how": fields.line("how", "as-it-is")}
    title = understood.recipe.title.value if understood else source.slug
    if understood is None:
        broken = {"name": catalogue().say("desk-begin.old.broken")}
        return page("begin-again.html", look=AgainLook(source.slug, title, typed, broken))
    # What nobody has begun to say is no mistake, until it is begun with.
    said = typed["scale"] or typed["holds"] or fields.line("do") == "begin"
    new = _new_size(texts, source, understood, typed) if typed["how"] == "size" and said and fields.line("do") else None
    if isinstance(new, Wrong):
        troubles = {_field_of(new, typed): told(new)}
        return page("begin-again.html", look=AgainLook(source.slug, title, typed, troubles))
    look = AgainLook(source.slug, title, typed, {})
    look = _sized(look, new, _what_works(texts, source, understood, new, typed)) if new else look
    if fields.line("do") != "begin" or look.found or look.broken:
        return page("begin-again.html", look=look)
    done = name_wrong(typed["name"], desk) or _copied(texts, source, understood, new, typed["name"], desk)
    if isinstance(done, Wrong):
        look = AgainLook(source.slug, title, typed, {"name": told(done)}, look.entry, look.notes)
        return page("begin-again.html", look=look)
    return done


def _new_size(texts: Texts, source: Source, understood: Understood, typed: Mapping[str, str]) -> NewSize | Wrong:
    if bool(typed["scale"]) == bool(typed["holds"]):
        return Wrong.of("again.scale-or-holds")
    called = _called(typed)
    if any(size.name.value.casefold() == called.casefold() for size in understood.recipe.sizes):
        return Wrong.of("again.size-there", size=called)
    if size_name_wrong(texts, source.surroundings, called, understood):
        return Wrong.of("again.size-name", size=called)
    resized = resize(understood, _asked(typed))
    if isinstance(resized, Wrong):
        return resized
    new = with_new_size(texts, source.surroundings, called, understood, resized)
    return new if len(new.entry) > 1 else Wrong.of("again.nothing-differs")


def _asked(typed: Mapping[str, str]) -> SizeOptions:
    return SizeOptions(scale=typed["scale"], holds=typed["holds"], numbers=typed["numbers"])


def _what_works(
    texts: Texts, source: Source, understood: Understood, new: NewSize, typed: Mapping[str, str]
) -> DraftNote | None:
    """The nearest scale that can be made, where the new size cannot."""
    return what_works(texts, source.surroundings, _called(typed), understood, _asked(typed)) if new.wrong else None


def _called(typed: Mapping[str, str]) -> str:
    return typed["called"].replace(":", " ").strip() or catalogue().say("command.design.size-called")


def _field_of(wrong: Wrong, typed: Mapping[str, str]) -> str:
    message = wrong.message.rpartition(".")[2]
    fields = {
        "wish-length": "numbers",
        "numbers-in-other-units": "numbers",
        "size-there": "called",
        "size-name": "called",
        "nothing-differs": "numbers",
        "scale-odd": "scale",
    }
    return fields.get(message, "holds" if typed["holds"] else "scale")


def _sized(look: AgainLook, new: NewSize, works: DraftNote | None) -> AgainLook:
    words = catalogue()
    notes = tuple(tell_note(one, words, "desk-begin") for one in new.notes)
    broken = tuple(tell_note(one, words, "desk-begin") for one in (*new.broken, *((works,) if works else ())))
    texts = {finding.place.file: new.text for finding in new.checked.findings if finding.place}
    wrong = tuple(tell(one, texts) for one in new.checked.findings if one.strength > Strength.THOUGHT)
    return replace(look, entry=new.entry, notes=notes, found=wrong, broken=broken)


def _copied(
    texts: Texts, source: Source, understood: Understood, new: NewSize | None, name: str, desk: Desk
) -> RedirectResponse | Wrong:
    """The copy, with every file of its folder that the recipe speaks of."""
    text = new.text if new else texts.text
    assert text is not None
    place = understood.recipe.title.place
    reached = Reached(source.surroundings)
    for _ in check_every_size(texts, reached):
        pass
    return opened(name, changed(text, [Change(place.start, place.end, name)]), reached.files, desk)
