"""`foldwright kit`: one folder for an event, from recipes and how many of each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.kit_files import EventFiles, event_files, label_grid
from foldwright.cli.kit_guests import guests_named, kits_of, offered_of, say_guests
from foldwright.cli.kit_label_words import no_room, say_label_sheet, say_no_letters
from foldwright.cli.progress import ProgressLine
from foldwright.cli.telling import Teller
from foldwright.cli.workers import Hands
from foldwright.cli.writing import open_output, swap_in
from foldwright.document.catalogue import catalogue
from foldwright.document.spelling import language_of
from foldwright.event.document.beforehand import at_the_event
from foldwright.event.document.compose import occasion_of
from foldwright.event.document.cutting import known_of, traded_words
from foldwright.event.document.cutting_data import cuttings_in
from foldwright.event.document.jobs import called
from foldwright.event.document.missing import missing_words
from foldwright.event.facts.guests import Guest
from foldwright.event.facts.stock import Shelf, read_stock
from foldwright.event.options import KitOptions
from foldwright.event.plan.apart import APART, Planned, recipes_apart, shelf_apart
from foldwright.event.plan.differences import supplies_apart
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.planning import Event, kits_needed, plan_event
from foldwright.event.plan.shelf import met_by, sheets_unfit
from foldwright.event.plan.supplies import SupplyNames, allergens_united, same_names, supplies_of
from foldwright.event.wishes import KitWish, kit_wish
from foldwright.finding import Finding, LineTable, Strength, Wrong
from foldwright.outputs.checking import check_texts
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sizes import AS_WRITTEN, in_sizes
from foldwright.outputs.sources import Source, find_sources, twice
from foldwright.outputs.texts import Texts
from foldwright.pack.cutting.model import Cutting
from foldwright.pipeline import Understood, compose_document, unhushed
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.moneys import first_sign, is_money, moneys_apart
from foldwright.recipe.facts.source import decode
from foldwright.recipe.model import Recipe
from foldwright.surroundings import Folder, Refusal

MOST_DATA = 64 * 1024 * 1024
"""Bytes of a `kit.json`: ten thousand kits give some hundred thousand."""


class _ReadRecipe(Struct, frozen=True):
    """A recipe that was read and may be planned."""

    source: Source
    texts: Texts
    understood: Understood
    findings: tuple[Finding, ...]


def kit(paths: Sequence[Path], out: Path, asked: KitOptions) -> int:
    """Plan an event and write its folder; the exit status."""
    complaints = Teller("stderr")
    sources, wrong = find_sources(paths)
    sources, unknown = in_sizes(sources, asked.size, AS_WRITTEN)
    wrong += (*unknown, *twice(sources))
    wish = kit_wish(asked, len(sources))
    if isinstance(wish, tuple) and sources:
        wrong += wish
    if not wrong and (trouble := open_output(out, sources)):
        wrong += (trouble,)
    if wrong or isinstance(wish, tuple):
        return _wrong(wrong, complaints)
    ready = _read(sources, complaints)
    if ready is None:
        return 1
    with Hands() as hands:
        status = _plan(ready, wish, asked, out, complaints, hands)
    # What will not fit is planned all the same, and was told; as `check` and `build` do, the command ends with 1.
    return status or int(any(finding.strength > Strength.THOUGHT for one in ready for finding in one.findings))


def _wrong(wrong: Sequence[Wrong], complaints: Teller) -> int:
    for one in wrong:
        complaints.words(f"wrong.{one.message}", **dict(one.facts))
    complaints.words("wrong-call")
    return 2


def _read(sources: Sequence[Source], complaints: Teller) -> list[_ReadRecipe] | None:
    """The recipes; None when one cannot be planned, which is told. Thoughts are `check`'s affair."""
    ready, broken = [], False
    for source in sources:
        texts = read_texts(source)
        found = check_texts(texts, source.surroundings, source.size)
        serious = [one for one in found.findings if one.strength > Strength.THOUGHT]
        if serious:
            complaints.findings(serious, texts.by_name, texts.shown)
        understood = found.understood
        if understood is None or any(one.strength is Strength.FAULT or one.code in APART for one in found.findings):
            broken = True
        else:
            ready.append(_ReadRecipe(source, texts, understood, found.findings))
    if broken:
        complaints.words("kit.not-planned")
    return None if broken else ready


def _plan(
    ready: Sequence[_ReadRecipe], wish: KitWish, asked: KitOptions, out: Path, complaints: Teller, hands: Hands
) -> int:
    recipes = [one.understood.recipe for one in ready]
    moneys = dict.fromkeys(recipe.studio.money.value if recipe.studio.money else "" for recipe in recipes)
    if len(moneys) > 1:
        return _wrong((Wrong.of("kit-moneys", known=tuple(money or "–" for money in moneys)),), complaints)
    money = next(iter(moneys))
    if wrong := _other_money(recipes, wish, asked, money):
        return _wrong((wrong,), complaints)
    shelf = _shelf(asked.stock, complaints)
    same = same_names(shelf.lines) if shelf else {}
    planned = [Planned(recipe, LineTable(one.texts.text or "")) for recipe, one in zip(recipes, ready, strict=True)]
    apart = [*moneys_apart(recipes, money), *recipes_apart(planned, SupplyNames(recipes, same).key)]
    _say_of(ready, apart, complaints)
    offered = offered_of([(one.source, one.understood.recipe) for one in ready])
    list_of = guests_named(asked.names, offered, complaints)
    guests = list_of.guests
    counts = kits_of(wish.kits, guests, offered, complaints)
    if shelf is None or list_of.unreadable or counts is None or apart:
        complaints.words("kit.not-planned")
        return 1
    system = wish.system or recipes[0].system
    makings = [
        Making(
            WorkedRecipe(one.understood.recipe, one.understood.flat, one.understood.times),
            one.understood.figures[system],
            kits,
            kits_needed(kits, wish.spare),
            wish.samples,
        )
        for one, kits in zip(ready, counts, strict=True)
    ]
    _say_of(ready, supplies_apart(makings, planned, same), complaints)
    united = allergens_united(recipes, same)
    ready = [_with(one, recipe) for one, recipe in zip(ready, united, strict=True)]
    makings = [_with(one, recipe) for one, recipe in zip(makings, united, strict=True)]
    met = met_by(shelf, supplies_of(makings, same), [tool.name.value for one in recipes for tool in one.tools], same)
    uses = [(line, need.recipe, need.supply) for line, one in met.supplies for need in one.needs]
    unmet = shelf_apart(uses, planned)
    _say_of_shelf(asked.stock, (*met.findings, *unmet), recipes, complaints)
    if unmet:
        complaints.words("kit.not-planned")
        return 1
    progress = ProgressLine()
    currency, digits = currency_of(money)
    event = plan_event(
        makings,
        Wishes(
            system=system,
            helpers=wish.helpers,
            trim=wish.trim,
            spool_end=wish.spool_end,
            learning=wish.learning,
            fee=wish.fee.amount if wish.fee else None,
            margin=wish.margin,
            per_table=wish.per_table,
            begins=wish.begins,
            effort=wish.effort,
            fewest=wish.fewest,
            money=currency,
            digits=digits,
            costs=tuple(one.cost for one in wish.costs),
        ),
        met.lines,
        {} if asked.anew else _before(out / _slug(ready)),
        guests,
        progress.stage("cutting"),
    )
    _say_of_shelf(asked.stock, sheets_unfit(event.sheets), recipes, complaints)
    status = _write(event, ready, guests, wish, asked, out, complaints, progress, hands)
    return 1 if list_of.slips else status


def _other_money(recipes: Sequence[Recipe], wish: KitWish, asked: KitOptions, money: str) -> Wrong | None:
    """A fee or a cost that is said in other money than the prices."""
    fee = [("fee", asked.fee, wish.fee.money)] if wish.fee else []
    said = [*fee, *(("cost", one.said, one.money) for one in wish.costs)]
    first = money or first_sign(recipes)
    for option, text, sign in said:
        first = first or sign
        if sign and not is_money(sign, first):
            return Wrong.of("kit-other-money", option=option, said=text, sign=sign, money=first)
    return None


def _with[T: (_ReadRecipe, Making)](one: T, recipe: Recipe) -> T:
    """The same of a recipe of which more is known."""
    return replace(one, understood=replace(one.understood, recipe=recipe))


def _slug(ready: Sequence[_ReadRecipe]) -> str:
    return "event-" + "-".join(one.source.slug for one in ready)


def _before(folder: Path) -> Mapping[str, Cutting]:
    """How an earlier run cut the same, as its `kit.json` says."""
    data = Folder(folder).read("kit.json", MOST_DATA)
    return {} if isinstance(data, Refusal) else cuttings_in(data.decode("utf-8", "replace"))


def currency_of(money: str) -> tuple[str, int]:
    """The code of the money as ISO 4217 has it, and the digits of its minor unit; empty for what is no code."""
    from babel import Locale
    from babel.numbers import get_currency_precision

    code = money.strip().upper()
    known = code in Locale("en").currencies
    return (code, get_currency_precision(code)) if known else ("", 2)


def _shelf(path: str, complaints: Teller) -> Shelf | None:
    """What is owned; None when the file cannot be read or is wrong."""
    if not path:
        return Shelf((), "")
    text, findings = _text_of(path, complaints)
    if text is None and not findings:
        return None
    shelf, more = read_stock(text or "", path) if text is not None else (Shelf((), path), ())
    findings = (*findings, *more)
    if findings:
        complaints.findings(findings, {path: text or ""})
    return None if any(one.strength > Strength.THOUGHT for one in findings) else shelf


def _text_of(path: str, complaints: Teller) -> tuple[str | None, tuple[Finding, ...]]:
    """The text of a file and what is the matter with it; a file that cannot be read is told."""
    file = Path(path)
    data = Folder(file.parent).read(file.name, MOST_BYTES)
    if isinstance(data, Refusal):
        complaints.words("kit.no-file", path=path)
        return None, ()
    return decode(data, path)


def _say_of_shelf(path: str, findings: Iterable[Finding], recipes: Sequence[Recipe], complaints: Teller) -> None:
    """What the shelf and the recipes make of each other; a thought that any of them hushes is not told."""
    for recipe in recipes:
        findings = unhushed(findings, recipe)
    if findings:
        text, _ = _text_of(path, complaints)
        complaints.findings(tuple(findings), {path: text or ""})


def _say_of(ready: Sequence[_ReadRecipe], told: Sequence[tuple[int, Finding]], complaints: Teller) -> None:
    """Findings, each by the number of the recipe in whose text it stands."""
    for number, one in enumerate(ready):
        if mine := [finding for each, finding in told if each == number]:
            complaints.findings(mine, one.texts.by_name, one.texts.shown)


def _write(
    event: Event,
    ready: Sequence[_ReadRecipe],
    guests: Sequence[Guest],
    wish: KitWish,
    asked: KitOptions,
    out: Path,
    complaints: Teller,
    progress: ProgressLine,
    hands: Hands,
) -> int:
    from foldwright.event.render.grids import Overhang
    from foldwright.render.paper.papers import default_paper
    from foldwright.render.photos import prepare_photos

    theme = _theme(asked, ready)
    unfit_theme = hands.ask(_unfit_theme, theme)
    words = catalogue(language_of(ready[0].understood.recipe.studio, event.wishes.system))
    occasion = occasion_of(wish.called, wish.on, wish.at, words)
    sheets, photos = [], []
    for one, making, done in zip(ready, event.makings, event.beforehand, strict=True):
        whole = compose_document(one.understood, one.findings, one.texts.by_name, event.wishes.system)
        sheets.append(at_the_event(whole, making.understood, done, occasion.line, words))
        photos.append(prepare_photos(one.understood.recipe, Folder(one.source.folder).read)[0])
    paper = wish.paper or default_paper(event.wishes.system, sheets[0].papers)
    if wrong := unfit_theme():
        return _wrong((wrong,), complaints)
    labels = label_grid(wish.labels, event.wishes.system, paper)
    if isinstance(labels, Overhang):
        return _wrong((no_room(labels, asked.labels, paper, event.wishes.system),), complaints)
    stage = progress.stage
    made = event_files(
        event, sheets, photos, guests, paper, labels, theme, wish.name_line, occasion, stage, hands=hands
    )
    progress.wipe()
    if made.no_letters:
        say_no_letters(made.no_letters, complaints)
        return 1
    slug = _slug(ready)
    if trouble := swap_in(out, slug, made.files):
        return _wrong((trouble,), complaints)
    _say(event, made, out / slug)
    if wish.labels and wish.labels.die_cut:
        say_label_sheet(labels, event.wishes.system)
    say_guests(event)
    lacking = event.missing or any(line.lacks for line in event.shopping)
    return 1 if lacking or made.small_labels or made.unfit or made.long else 0


def _theme(asked: KitOptions, ready: Sequence[_ReadRecipe]) -> str:
    """The look that was asked for, else the studio's own if it is one of ours."""
    from foldwright.render.themes import DEFAULT_THEME, built_in_themes

    said = ready[0].understood.recipe.studio.theme
    return asked.theme or (said.value if said and said.value in built_in_themes() else DEFAULT_THEME)


def _unfit_theme(theme: str) -> Wrong | None:
    """What is the matter with a look, if it cannot dress an event."""
    from foldwright.event.render.specimens import specimen
    from foldwright.render.themes import ThemeError, load_page, load_paper_theme

    try:
        load_page(theme, "event")
        for kind in ("event-paper", "labels", "handout"):
            load_paper_theme(theme, kind)
        specimen(theme, catalogue().language)
    except ThemeError as trouble:
        return Wrong.of("kit-theme", why=catalogue().say(f"{trouble.code}.says", **trouble.facts))
    return None


def _say(event: Event, made: EventFiles, folder: Path) -> None:
    teller = Teller()
    teller.words("build.wrote", folder=str(folder), names=", ".join(sorted(made.files)))
    if made.no_handout:
        teller.words("kit.no-handout", names=made.no_handout)
    if made.unfit:
        teller.words("kit.unfit-handout", names=made.unfit)
    if made.shortened:
        teller.words("kit.shortened", names=made.shortened)
    if made.long:
        teller.words("kit.longer", names=made.long)
    if made.borrowed:
        teller.words("kit.borrowed", fonts=made.borrowed)
    for label in made.small_labels:
        message = "kit.small-label" if label.least else "kit.no-label"
        teller.words(message, titles=label.titles, asked=label.asked, least=label.least)
    _say_supplies(event, teller)
    if event.costs.not_counted:
        teller.words("kit.not-counted", names=tuple(dict.fromkeys(event.costs.not_counted)))


def _say_supplies(event: Event, teller: Teller) -> None:
    words = catalogue()
    for plan in event.sheets:
        supply, known = called(plan.supply, plan.colour, words), known_of(plan) or "none-known"
        sheets = words.say("event.cutting.needs", count=plan.bought)
        teller.words(f"kit.sheets-{known}", supply=supply, sheets=sheets, bound=plan.bound, **traded_words(plan, words))
    for line in event.shopping:
        if line.counted:
            teller.words("kit.counted", supply=called(line.supply.name.value, line.colour, words))
    for sentence in missing_words(event, words):
        teller.text(sentence)
