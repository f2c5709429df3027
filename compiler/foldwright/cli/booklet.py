"""Booklets of a build: those that a call asks for, and those of a `booklet.yaml` in a folder of recipes.

A record in the output knows what each was made of, so that it is made anew only when something in it has changed; and
which files are ours, so that no others are touched.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from importlib.metadata import version
from pathlib import Path

from msgspec import DecodeError, Struct, field, json
from msgspec.structs import replace

from foldwright.booklet.facts import ON_THE_CALL, read_booklet, text_of_call
from foldwright.booklet.telling import tell_note, tell_unbound
from foldwright.booklet.wishes import BookletWish, booklet_wish
from foldwright.cli.calls import BuildCall
from foldwright.cli.telling import Teller, told_as_shown
from foldwright.document.catalogue import catalogue
from foldwright.finding import Finding, Strength, Wrong
from foldwright.mending.mends import with_mends
from foldwright.outputs.model import BuildWish
from foldwright.outputs.new_folders import cannot_write
from foldwright.outputs.reading import read_studio_file, read_texts
from foldwright.outputs.sources import BOOKLET, Source
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder, Refusal

_RECORD = ".foldwright-booklets"
_AT_WORK = ".foldwright-at-work-"


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
    """A booklet that was made: what of, its files with a digest of each, what was told of it."""

    key: str
    origin: str
    files: Mapping[str, str] = field(default_factory=dict)
    told: tuple[str, ...] = ()


def _files(call: BuildCall) -> Iterator[Path]:
    return (Path(path) / BOOKLET for path in call.paths)


def plan_booklets(call: BuildCall, wish: BuildWish, sources: Sequence[Source]) -> BookletPlans:
    """Read what is asked for, and tell what is wrong with that."""
    complaints = Teller("stderr")
    if call.booklet and not os.path.isfile(call.booklet):
        text = text_of_call(call.booklet)
        if text is None:
            complaints.wrong(Wrong.of("booklet-how", said=call.booklet))
            return BookletPlans(wrong=True)
        plan = _planned(text, ON_THE_CALL, "", call, wish, sources, complaints)
        return BookletPlans((plan,)) if plan else BookletPlans(wrong=True)
    files = [Path(call.booklet)] if call.booklet else [file for file in _files(call) if os.path.lexists(file)]
    if not files:
        complaints.wrong(Wrong.of("saddle-idle"))
        return BookletPlans(wrong=True)
    plans = []
    for file in files:
        data = Folder(file.parent).read(file.name, MOST_BYTES)
        if isinstance(data, Refusal):
            complaints.wrong(Wrong.of("booklet-unread", path=str(file)))
            continue
        text, findings = decode(data, str(file))
        if text is None:
            complaints.findings(findings, {})
        elif plan := _planned(text, str(file), str(file), call, wish, sources, complaints):
            plans.append(plan)
    origins = tuple(map(str, files))
    return BookletPlans(tuple(plans), origins, unmade=len(plans) < len(files))


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


def bind_booklets(plans: BookletPlans, out: Path) -> bool:
    """Make what was planned, and tell of it; whether all of it could be made."""
    known, well = _read_record(out), not plans.unmade
    for plan in plans.plans:
        made = _standing(plan, known, out) or _bound(plan, known, out)
        if isinstance(made, Wrong):
            Teller("stderr").wrong(made)
        if isinstance(made, _Made):
            known = {**known, plan.wish.name: made}
        else:
            well = False
    kept = {plan.wish.name for plan in plans.plans}
    gone = [name for name, made in known.items() if made.origin in plans.origins and name not in kept]
    if not plans.unmade:
        for name in gone:
            _remove(known[name], out)
            known = {other: made for other, made in known.items() if other != name}
    _write(out / _RECORD, json.encode(known))
    return well


def _standing(plan: BookletPlan, known: Mapping[str, _Made], out: Path) -> _Made | None:
    """The booklet as it was made before, if nothing in it has changed since."""
    made = known.get(plan.wish.name)
    if made is None or made.key != _key(plan) or any(_digest(out / name) != mark for name, mark in made.files.items()):
        return None
    Teller().words("build.unchanged-booklet", file=str(out / f"{plan.wish.name}.pdf"))
    return replace(made, origin=plan.origin)


def _bound(plan: BookletPlan, known: Mapping[str, _Made], out: Path) -> _Made | Wrong | None:
    """Make it and write its files; None, and told, where a recipe is in the way."""
    from foldwright.booklet.making import make_booklet
    from foldwright.outputs.compiling import compiled
    from foldwright.render.themes import ThemeError

    wish, complaints = plan.wish, Teller("stderr")
    key, recipes = _key(plan), []
    for source in plan.sources:
        recipe, findings = compiled(read_texts(source), wish.build, source.surroundings, source.size)
        if recipe is None or any(finding.strength is Strength.FAULT for finding in findings):
            return Wrong.of("booklet-recipe-wrong", title=wish.title, recipe=source.shown)
        recipes.append(recipe)
    try:
        made = make_booklet(recipes, wish)
    except ThemeError as trouble:
        why = catalogue().say(f"{trouble.code}.says", **{"theme": wish.theme, **trouble.facts})
        return Wrong.of("theme-odd", why=why)
    for unbound in made.unbound:
        complaints.text(tell_unbound(unbound, wish))
    if made.note is None:
        return None
    ours = known.get(wish.name)
    for name in made.files:
        if os.path.lexists(out / name) and (ours is None or _digest(out / name) != ours.files.get(name)):
            return Wrong.of("booklet-not-ours", file=str(out / name))
    if ours:
        _remove(ours, out, made.files)
    try:
        for name, data in made.files.items():
            _write(out / name, data)
    except OSError as trouble:
        return cannot_write(out, trouble)
    told = tuple(tell_note(made.note, str(out)))
    for line in told:
        Teller().text(line)
    return _Made(key, plan.origin, {name: _digest(out / name) for name in made.files}, told)


# --- what is remembered -----------------------------------------------------------------------------------------------


def _key(plan: BookletPlan) -> str:
    """What a booklet is known by: what was asked, the program, and every file beside its recipes."""
    mark = hashlib.blake2b(digest_size=16)
    mark.update(repr((version(__package__.partition(".")[0]), plan.wish)).encode())
    for source in plan.sources:
        mark.update(repr((source.slug, source.text, source.size)).encode())
        for file in (*_below(source.folder), *([source.studio] if source.studio else [])):
            mark.update(f"\0{file.name}\0{_digest(file)}".encode())
    return mark.hexdigest()


def _below(folder: Path) -> Iterable[Path]:
    return sorted(file for file in folder.rglob("*") if file.is_file() and not file.name.startswith("."))


def _digest(file: Path) -> str:
    """Of what stands in a file; empty where there is none."""
    try:
        return hashlib.blake2b(file.read_bytes(), digest_size=16).hexdigest()
    except OSError:
        return ""


def _read_record(out: Path) -> dict[str, _Made]:
    try:
        return json.decode((out / _RECORD).read_bytes(), type=dict[str, _Made])
    except (OSError, DecodeError):
        return {}


def _remove(made: _Made, out: Path, stays: Iterable[str] = ()) -> None:
    """Take away what we wrote and nobody changed since."""
    for name, mark in made.files.items():
        if name not in stays and _digest(out / name) == mark:
            (out / name).unlink(missing_ok=True)


def _write(path: Path, data: bytes) -> None:
    """Write one file, whole or not at all."""
    fresh = path.parent / f"{_AT_WORK}{os.getpid()}-{path.name}.new"
    try:
        fresh.write_bytes(data)
        fresh.replace(path)
    except OSError:
        fresh.unlink(missing_ok=True)
        raise
