"""Booklets of a build: those that a call asks for, and those of a `booklet.yaml` in a folder of recipes.

A record in the output knows what each was made of, so that it is made anew only when something in it has changed; and
which files are ours, so that no others are touched.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Container, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import DecodeError, Struct, json
from msgspec.structs import replace

from foldwright.booklet.facts import ON_THE_CALL, read_booklet, text_of_call
from foldwright.booklet.wishes import BookletWish, booklet_wish
from foldwright.cli.calls import BuildCall
from foldwright.cli.inputs import digest_of_bytes
from foldwright.cli.program import booklet_mark
from foldwright.cli.records import Record, standing
from foldwright.cli.telling import Teller, told_as_shown
from foldwright.cli.writing import BOOKLETS, FileMark, lies_inside, mark_of, put_file
from foldwright.document.catalogue import catalogue
from foldwright.finding import Finding, Strength, Wrong
from foldwright.mending.mends import with_mends
from foldwright.outputs.model import BuildWish
from foldwright.outputs.new_folders import cannot_write
from foldwright.outputs.reading import read_studio_file, read_texts
from foldwright.outputs.sources import BOOKLET, Source
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder, Refusal, digest_of_look

if TYPE_CHECKING:
    from foldwright.booklet.making import MadeBooklet

_NOT_YET = FileMark(-1, 0, "")
"""The mark of a file that is about to be written."""


class BookletPlan(Struct, frozen=True):
    """A booklet that is to be made: of which file it was asked (empty: of the call), and of which recipes."""

    origin: str
    wish: BookletWish
    sources: tuple[Source, ...]


class BookletPlans(Struct, frozen=True):
    """All booklets of a call. `wrong` is what is wrong with the call, `unmade` files that ask for what cannot be."""

    plans: tuple[BookletPlan, ...] = ()
    origins: tuple[str, ...] = ()
    unmade: bool = False
    wrong: bool = False


class _Made(Struct, frozen=True):
    """A booklet that was made: what of, for whom, and its files."""

    key: str
    origin: str
    files: Mapping[str, FileMark]


def plan_booklets(call: BuildCall, wish: BuildWish, sources: Sequence[Source]) -> BookletPlans:
    """Read what is asked for, and tell what is wrong with that."""
    complaints = Teller("stderr")
    beside = [Path(path) / BOOKLET for path in call.paths if os.path.isdir(path)]
    named = [Path(call.booklet)] if call.booklet and os.path.isfile(call.booklet) else []
    files = [*named, *(file for file in beside if os.path.lexists(file) and file not in named)]
    plans: list[BookletPlan] = []
    if call.booklet and not named:
        text = text_of_call(call.booklet)
        if text is None:
            complaints.wrong(Wrong.of("booklet-how", said=call.booklet))
        plan = _planned(text, ON_THE_CALL, "", call, wish, sources, complaints) if text else None
        if plan is None:
            return BookletPlans(wrong=True)
        plans.append(plan)
    if call.saddle and not plans and not files:
        complaints.wrong(Wrong.of("saddle-idle"))
        return BookletPlans(wrong=True)
    asked = [_asked_by(file, call, wish, sources, complaints) for file in files]
    plans += filter(None, asked)
    for name, count in Counter(plan.wish.name for plan in plans).items():
        if count > 1:
            complaints.wrong(Wrong.of("booklet-twice", file=f"{name}.pdf"))
            return BookletPlans(wrong=True)
    origins = tuple(_origin(file, call) for file in (*named, *beside))
    return BookletPlans(tuple(plans), origins, unmade=None in asked)


def _origin(file: Path, call: BuildCall) -> str:
    """What a file is remembered by: the way to it from the output."""
    return os.path.relpath(os.path.abspath(file), os.path.abspath(call.out))


def _asked_by(
    file: Path, call: BuildCall, wish: BuildWish, sources: Sequence[Source], complaints: Teller
) -> BookletPlan | None:
    """What a file asks for; None, and told, where it cannot be read or made."""
    data = Folder(file.parent).read(file.name, MOST_BYTES)
    if isinstance(data, Refusal):
        complaints.wrong(Wrong.of("booklet-unread", path=str(file)))
        return None
    text, findings = decode(data, str(file))
    if text is None:
        complaints.findings(findings, {})
        return None
    return _planned(text, str(file), _origin(file, call), call, wish, sources, complaints)


def _planned(
    text: str,
    name: str,
    origin: str,
    call: BuildCall,
    wish: BuildWish,
    sources: Sequence[Source],
    complaints: Teller,
) -> BookletPlan | None:
    """What a text asks for; None, and told, where anything is wrong with it."""
    facts, findings = read_booklet(text, name)
    by_slug = {source.slug: source for source in sources}
    planned: BookletWish | tuple[Finding, ...] = findings
    if facts:
        first = by_slug.get(facts.recipes[0].value) or next(iter(sources))
        planned = booklet_wish(facts, tuple(by_slug), wish, read_studio_file(first.studio), call.saddle)
    if isinstance(planned, BookletWish):
        return BookletPlan(origin, planned, tuple(by_slug[slug] for slug in planned.slugs))
    told = told_as_shown(with_mends(planned, {name: text}), {name: text}, {})
    # What was typed in a call has no lines.
    complaints.told([one if origin else replace(one, line=0) for one in told])
    return None


def bind_booklets(plans: BookletPlans, records: Mapping[str, Record], out: Path, watching: bool = False) -> bool:
    """Make what was planned, and tell of it; whether all of it could be made. `records` are the recipes' by slug.

    Who is `watching` is told of nothing but what changed.
    """
    known, well = _read_record(out), not plans.unmade
    for plan in plans.plans:
        made = _standing_or_made(plan, records, known, out, watching)
        if isinstance(made, Wrong):
            Teller("stderr").wrong(made)
        if isinstance(made, _Made):
            known[plan.wish.name] = made
        else:
            well = False
    if not plans.unmade:
        kept = {plan.wish.name for plan in plans.plans}
        for name in [name for name, one in known.items() if one.origin in plans.origins and name not in kept]:
            _remove(known.pop(name), out)
    _write_record(out, known)
    return well


def _standing_or_made(
    plan: BookletPlan, records: Mapping[str, Record], known: dict[str, _Made], out: Path, watching: bool
) -> _Made | Wrong | None:
    """The booklet as it was made before, if nothing in it has changed since; or made anew."""
    wish = plan.wish
    for source in plan.sources:
        record = records.get(source.slug)
        if record is None or record.state != "good":
            return Wrong.of("booklet-recipe-wrong", title=wish.title, recipe=source.shown)
    key, before = _key(plan, records), known.get(wish.name)
    if before and before.key == key and all(standing(out, *one) for one in before.files.items()):
        if not watching:
            Teller().words("build.unchanged-booklet", file=str(out / f"{wish.name}.pdf"))
        return replace(before, origin=plan.origin)
    return _made_anew(plan, key, known, out)


def _made_anew(plan: BookletPlan, key: str, known: Mapping[str, _Made], out: Path) -> _Made | Wrong | None:
    """Made and written; None, and told, where a recipe does not go into a booklet."""
    from foldwright.booklet.telling import tell_note, tell_unbound

    made = _bound(plan)
    if isinstance(made, Wrong):
        return made
    for unbound in made.unbound:
        Teller("stderr").text(tell_unbound(unbound, plan.wish))
    if made.note is None:
        return None
    before = known.get(plan.wish.name, _Made("", "", {}))
    for name in made.files:
        if os.path.lexists(out / name) and not _ours(before, name, out):
            return Wrong.of("booklet-not-ours", file=str(out / name))
    try:
        # Known for ours before they are written, so that what an interrupted build leaves is no stranger.
        claimed = _Made("", plan.origin, {**before.files, **dict.fromkeys(made.files, _NOT_YET)})
        _write_record(out, {**known, plan.wish.name: claimed})
        _remove(before, out, made.files)
        for name, data in made.files.items():
            put_file(out, out / name, data)
        marks = {name: mark_of(out / name, data) for name, data in made.files.items()}
    except OSError as trouble:
        return cannot_write(out, trouble)
    for line in tell_note(made.note, str(out)):
        Teller().text(line)
    return _Made(key, plan.origin, marks)


def _bound(plan: BookletPlan) -> MadeBooklet | Wrong:
    from foldwright.booklet.making import make_booklet
    from foldwright.outputs.compiling import compiled
    from foldwright.render.themes import ThemeError

    wish, recipes = plan.wish, []
    for source in plan.sources:
        recipe, findings = compiled(read_texts(source), wish.build, source.surroundings, source.size)
        if recipe is None or any(finding.strength is Strength.FAULT for finding in findings):
            return Wrong.of("booklet-recipe-wrong", title=wish.title, recipe=source.shown)
        recipes.append(recipe)
    try:
        return make_booklet(recipes, wish)
    except ThemeError as trouble:
        why = catalogue().say(f"{trouble.code}.says", **{"theme": wish.theme, **trouble.facts})
        return Wrong.of("theme-odd", why=why)


# --- what is remembered -----------------------------------------------------------------------------------------------


def _key(plan: BookletPlan, records: Mapping[str, Record]) -> str:
    """What a booklet is known by: the program, what was asked, and all that went into its recipes."""
    theme = plan.wish.theme
    look = digest_of_look(theme).hex() if os.path.isdir(theme) else ""
    went_in = [
        (source.slug, [(one.folder, one.path, one.digest) for one in records[source.slug].inputs])
        for source in plan.sources
    ]
    return digest_of_bytes(repr((booklet_mark(), plan.wish, look, went_in)).encode())


def _read_record(out: Path) -> dict[str, _Made]:
    try:
        return json.decode((out / BOOKLETS).read_bytes(), type=dict[str, _Made])
    except (OSError, DecodeError):
        return {}


def _write_record(out: Path, known: Mapping[str, _Made]) -> None:
    put_file(out, out / BOOKLETS, json.encode(known))


def _ours(made: _Made, name: str, out: Path) -> bool:
    """Whether we wrote a file, and nobody changed it since."""
    mark = made.files.get(name)
    return mark is not None and lies_inside(name) and (mark == _NOT_YET or standing(out, name, mark) is not None)


def _remove(made: _Made, out: Path, stays: Container[str] = ()) -> None:
    """Take away what we wrote and nobody changed since."""
    for name in made.files:
        if name not in stays and _ours(made, name, out):
            (out / name).unlink(missing_ok=True)
