"""What a library knows of one recipe: enough to list, find and compare it without compiling it again."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct, field

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.model import Document, Readiness
from foldwright.document.quote_marks import curled
from foldwright.document.supplies import weight_phrases
from foldwright.document.words import Both, Runs, plain
from foldwright.finding import Place
from foldwright.measure.length import System
from foldwright.measure.weight import grammage, whole_grams
from foldwright.outputs.list_picture import EntryPicture as EntryPicture
from foldwright.outputs.list_picture import PictureSize as PictureSize
from foldwright.outputs.list_picture import list_picture
from foldwright.outputs.model import OutputSource
from foldwright.plan.sheets import grain_of_piece, grain_of_sheet, offcuts_of, sheets_needed
from foldwright.recipe.facts.addresses import slug_of
from foldwright.recipe.model import Amount as SaidAmount
from foldwright.recipe.model import Instead, NamedSheet, Recipe, Said, Supply
from foldwright.recipe.needs import supply_kind
from foldwright.render.themes import built_in_themes
from foldwright.vocabulary import level_of, tool_of
from foldwright.vocabulary.names import plain_words

type ExactMm = str
"""Millimetres as a fraction in lowest terms, as `sheet.json` writes them: `4191/40`, or `105`."""


class Amount(Struct, frozen=True, omit_defaults=True):
    """An amount: of what (`length`, `count`, `area`, `volume`, `mass`), and how many of which unit.

    A length is in millimetres. The unit of something that is counted is empty, of what pieces are cut from it is
    `sheet`.
    """

    dimension: str
    number: str
    """Exact, as a fraction in lowest terms."""
    unit: str


class Need(Struct, frozen=True, omit_defaults=True):
    """A supply or a tool by the name it has in the recipe, and what may stand in for it.

    `key` is the same for all names that a shelf takes for one: small letters, singular, no marks.
    """

    name: str
    instead: tuple[str, ...] = ()
    optional: bool = False
    key: str = ""
    kind: str = ""
    """What it is, by the name of a kind that is known, else as its author said; empty where nobody says."""
    words: Both[str] = Both("", "")
    """How much, in words; empty where that is not said."""
    amount: Amount | None = None
    packs: tuple[Amount, ...] = ()
    """What it is sold in."""
    colours: tuple[str, ...] = ()


class Cut(Struct, frozen=True, omit_defaults=True):
    """A piece as it lies on the sheet, and how many of it. `grain` is the side that has to run with the grain.

    `upright` where a pattern that runs one way lets it lie one way only.
    """

    across: ExactMm
    down: ExactMm
    count: int
    grain: str = ""
    upright: bool = False


class Left(Struct, frozen=True, omit_defaults=True):
    """A rectangle that is left of a sheet after one making, as it lay there, and of how many sheets.

    `grain` is the side the grain runs along; empty where nobody says.
    """

    sheet: str
    across: ExactMm
    down: ExactMm
    count: int
    grain: str = ""


class SheetOf(Struct, frozen=True, omit_defaults=True):
    """A sheet that paper is sold in, by its name or size, across x down; `grain` is the side the grain runs along."""

    name: str
    across: ExactMm
    down: ExactMm
    grain: str = ""


class CutFrom(Struct, frozen=True, omit_defaults=True):
    """Paper or card that pieces are cut from: its kind, its weight (0 and empty: not said), the sheets it is sold in.

    Nothing is said of the `cuts`, and of what is `left`, where the size of any of them is in doubt.
    """

    supply: str
    kind: str
    grams: int
    weight: Both[str]
    sheets: tuple[SheetOf, ...]
    cuts: tuple[Cut, ...] = ()
    left: tuple[Left, ...] = ()


class SizeOf(Struct, frozen=True, omit_defaults=True):
    """One of the sizes a recipe comes in, and the folder of its pages."""

    name: str
    slug: str


class Entry(Struct, frozen=True, omit_defaults=True):
    """One recipe as a library lists it; texts are plain and may be empty.

    `slug` is the folder of its pages. `listed` is false for what is built and not shown, `unlisted` says why: it is a
    `draft`, nobody says the `day` of its publication, or that day has not come (`later`, which only `library` knows).
    """

    slug: str
    title: str
    summary: str = ""
    level: str = ""
    minutes: int = 0
    """Hands-on time for one making and getting ready, rounded up."""
    tags: tuple[str, ...] = ()
    seasons: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    """Of its folded pieces, in words: `tray`, `card`."""
    papers: tuple[str, ...] = ()
    """Kinds of paper it is cut from: `cardstock`, `patterned card`."""
    needs: tuple[Need, ...] = ()
    """Its supplies."""
    picture: EntryPicture | None = None
    published: str = ""
    """The day as ISO 8601 has it."""
    listed: bool = True
    unlisted: str = ""
    revised: str = ""
    """The same; empty for what is no day."""
    was: tuple[str, ...] = ()
    """Names its folder had."""
    rank: int = 0
    """Of a level that is known, from 1, the easiest."""
    audience: str = ""
    makes: str = ""
    tools: tuple[Need, ...] = ()
    cut_from: tuple[CutFrom, ...] = ()
    words: tuple[str, ...] = ()
    """What it is found by: words of its headings, supplies, tools and forms, in small letters, each once."""
    language: str = "en"
    theme: str = ""
    """The look of its page as the studio or the recipe names it; empty where the call says which."""
    address: str = ""
    """Of its page, once the library is published under the studio's address; empty where that is not said."""
    file: str = ""
    """What findings call its text."""
    places: dict[str, Place] = field(default_factory=dict)
    """Where `published`, each tag (`tag spring`) and each old name (`was bird-house`) stand in it."""
    hushed: tuple[str, ...] = ()
    """Codes of thoughts its author does not want to hear again."""
    size: str = ""
    """Which of its sizes this is; empty for the recipe as written."""
    written: str = ""
    """The folder of the recipe as written, which is this one's for that itself."""
    sizes: tuple[SizeOf, ...] = ()
    """The other sizes it comes in."""


def entry_of(source: OutputSource) -> Entry:
    """The entry of a compiled recipe."""
    document, recipe = source.document, source.recipe
    head, words = document.head, catalogue(document.language)
    unlisted = "draft" if document.standing is Readiness.DRAFT else "" if recipe.published else "day"
    forms = _forms(source, words)
    needs, tools = tuple(_supplies(source)), tuple(_tools(source))
    return Entry(
        slug=document.slug,
        title=head.title,
        summary=plain(head.summary, document.system),
        level=head.level,
        minutes=_minutes(document),
        tags=head.tags,
        seasons=head.seasons,
        forms=forms,
        papers=tuple(dict.fromkeys(kind for one in recipe.supplies if (kind := _paper_kind(one)))),
        needs=needs,
        picture=list_picture(source).told if source.wish.in_library else None,
        published=head.published,
        listed=not unlisted,
        unlisted=unlisted,
        revised=head.revised,
        was=tuple(said.value for said in recipe.was),
        rank=_rank(recipe),
        audience=head.audience,
        makes=head.makes,
        tools=tools,
        cut_from=tuple(_cut_from(source, words)),
        words=_found_by(document, (*forms, *(f"{one.name} {one.kind}" for one in (*needs, *tools))), words),
        language=document.language,
        theme=_look(source),
        address=head.page_address,
        file=recipe.file,
        places=_places(recipe),
        hushed=tuple(said.value for said in recipe.hushed),
        size=recipe.size,
        written=document.slug.removesuffix(f"-{slug_of(recipe.size)}") if recipe.size else document.slug,
        sizes=tuple(SizeOf(name, f"{document.slug}-{slug_of(name)}") for name in recipe.other_sizes),
    )


def _look(source: OutputSource) -> str:
    """By its name, as what is remembered must not depend on where the folder of a look lies."""
    said = source.recipe.studio.theme
    if source.wish.theme or source.theme in built_in_themes() or said is None:
        return "" if source.wish.theme else source.theme
    return said.value


def _minutes(document: Document) -> int:
    totals = document.totals
    seconds = totals.hands_on.seconds + (totals.get_ready.seconds if totals.get_ready else 0)
    return -(-seconds // 60)


def _rank(recipe: Recipe) -> int:
    level = level_of(recipe.level.value) if recipe.level else None
    return level.rank if level else 0


def _forms(source: OutputSource, words: Catalogue) -> tuple[str, ...]:
    """Forms of its pieces, each once; `flat` where none is folded."""
    forms = (blank.form for blank in source.understood.flat.blanks if blank.form and not blank.bought)
    names = tuple(dict.fromkeys(forms)) or ("flat",)
    known = words.below("entry.form")
    return tuple(known.get(form, form) for form in names)


def _places(recipe: Recipe) -> dict[str, Place]:
    found = {"published": recipe.published.place} if recipe.published else {}
    found |= {f"tag {curled(said.value)}": said.place for said in recipe.tags}
    return found | {f"was {said.value}": said.place for said in recipe.was}


# --- what it needs ----------------------------------------------------------------------------------------------------


def _supplies(source: OutputSource) -> Iterator[Need]:
    sheets = sheets_needed(source.recipe, source.understood.sheets)
    for supply, line in zip(source.recipe.supplies, source.document.supplies, strict=True):
        kind = supply_kind(supply)
        yield Need(
            name=plain(line.name, source.document.system),
            instead=_names(supply.instead),
            optional=supply.optional,
            key=key_of(supply.name.value),
            kind=kind.name if kind else supply.kind.value if supply.kind else "",
            words=_both(line.amount),
            amount=_amount(supply, sheets.get(supply.name.value, 0)),
            packs=tuple(_exact(said.value.amount) for said in supply.packs),
            colours=tuple(said.value for said in supply.colours),
        )


def _tools(source: OutputSource) -> Iterator[Need]:
    for tool, line in zip(source.recipe.tools, source.document.tools, strict=True):
        kind = tool_of(tool.name.value)
        yield Need(
            name=plain(line.name, source.document.system),
            instead=_names(tool.instead),
            optional=tool.optional,
            key=key_of(tool.name.value),
            kind=kind.name if kind else "",
        )


def _names(instead: tuple[Said[Instead], ...]) -> tuple[str, ...]:
    return tuple(said.value.name for said in instead)


def key_of(name: str) -> str:
    """What a name comes to: small and capital letters, plurals and marks do not matter."""
    return " ".join(plain_words(name)) or name.casefold()


def _amount(supply: Supply, sheets: int) -> Amount | None:
    if supply.use is None:
        return Amount("count", str(sheets), "sheet") if sheets else None
    return _exact(supply.use.value)


def _exact(amount: SaidAmount) -> Amount:
    if amount.length:
        return Amount("length", str(amount.length.mm), "mm")
    return Amount(amount.dimension.value, str(amount.number), amount.unit)


def _both(runs: Runs) -> Both[str]:
    return Both(plain(runs, System.IMPERIAL), plain(runs, System.METRIC))


# --- what it is cut from ----------------------------------------------------------------------------------------------


def _paper_kind(supply: Supply) -> str:
    """The kind of a supply that pieces may be cut from; empty for any other."""
    kind = supply_kind(supply)
    return kind.name if kind and kind.sheet else ""


def _cut_from(source: OutputSource, words: Catalogue) -> Iterator[CutFrom]:
    recipe, sheets = source.recipe, source.understood.sheets
    left = offcuts_of(recipe, sheets)
    for supply in recipe.supplies:
        kind, name = _paper_kind(supply), supply.name.value
        if not kind:
            continue
        weight = supply.weight.value if supply.weight else None
        grams = grammage(weight.number, weight.unit, weight.grade) if weight else None
        told = weight_phrases(weight, words) if weight else None
        cuts = _cuts(source, supply)
        yield CutFrom(
            supply=name,
            kind=kind,
            grams=whole_grams(grams) if grams else 0,
            weight=Both(told.imperial.plain, told.metric.plain) if told else Both("", ""),
            sheets=tuple(_sheet(supply, said.value) for said in supply.sheets),
            cuts=cuts or (),
            left=tuple(
                Left(one.sheet.name, str(one.across), str(one.down), one.count, one.grain)
                for one in left
                if one.supply == name and cuts is not None
            ),
        )


def _sheet(supply: Supply, sheet: NamedSheet) -> SheetOf:
    return SheetOf(sheet.name, str(sheet.across.mm), str(sheet.down.mm), grain_of_sheet(supply, sheet))


def _cuts(source: OutputSource, supply: Supply) -> tuple[Cut, ...] | None:
    """Its pieces, but those one can do without; None where any of them is in doubt."""
    upright = supply.pattern is not None and "one" in supply.pattern.value.casefold().split()
    found: list[Cut] = []
    for piece in source.recipe.pieces:
        if piece.optional or piece.supply is None or piece.supply.value.casefold() != supply.name.value.casefold():
            continue
        blank = source.understood.flat.blank(piece.name.value)
        if blank is None or blank.unsure or blank.doubtful or min(blank.width, blank.height) <= Fraction(0):
            return None
        grain = grain_of_piece(blank, piece)
        count = piece.count.value if piece.count else 1
        found.append(Cut(str(blank.width), str(blank.height), count, grain, upright))
    return tuple(found)


# --- what it is found by ----------------------------------------------------------------------------------------------


def _found_by(document: Document, names: tuple[str, ...], words: Catalogue) -> tuple[str, ...]:
    """Words of its headings and of all that has a name in it, without those that stand in every text."""
    headings = [plain(step.heading, document.system) for step in document.steps]
    headings += [plain(section.heading, document.system) for section in document.sections]
    idle = frozenset(words.say("entry.idle").split())
    found = (word for text in (*headings, *names) for word in text.casefold().replace("’", "'").split())
    bare = (word.strip(".,;:!?()[]\"“”'‘…-–—&+/") for word in found)
    return tuple(dict.fromkeys(word for word in bare if len(word) > 1 and word not in idle))
