"""From compiled recipes to a booklet: its pages in their order, with true numbers, then sheets to fold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain, repeat

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.booklet.wishes import BookletWish
from foldwright.document.booklet_text import BookletText
from foldwright.document.model import Document
from foldwright.document.template_text import TemplateText
from foldwright.document.words import plain
from foldwright.outputs.model import OutputSource
from foldwright.outputs.paper_notes import Lacks, lacks_of
from foldwright.outputs.papers import designs_of
from foldwright.render.paper.booklet.binding import BoundPart, bound_pages, bound_pdf, page_with, saddle_pdf
from foldwright.render.paper.booklet.own_pages import (
    BookletHead,
    BookletPages,
    ContentsEntry,
    ContentsGroup,
    CoverPicture,
    IndexLine,
)
from foldwright.render.paper.booklet.saddle import saddle_sheets
from foldwright.render.paper.bound import BoundPlace
from foldwright.render.paper.card import Misfit, Proof
from foldwright.render.paper.handout import chapter
from foldwright.render.paper.pictures import Captioned, prints_of
from foldwright.render.paper.template.piece import Design
from foldwright.render.paper.template.template import laid_template, unprintable
from foldwright.render.paper.typesetting import Typeset
from foldwright.render.themes import load_paper_theme

_CONTENTS_PAGE = 2
"""The contents stand inside the cover."""


class BookletNote(Struct, frozen=True):
    """What became of a booklet, to be told: on how many pages; what its recipes go without, by their titles; pieces
    over several pages, and those that no reasonable number of pages holds. `sheets` is 0 where none are folded."""

    file: str
    pages: int
    wish: BookletWish
    lacks: tuple[tuple[str, Lacks], ...] = ()
    tiled: tuple[str, ...] = ()
    huge: tuple[str, ...] = ()
    sheets: int = 0


class Unbound(Struct, frozen=True):
    """A recipe that does not go into a booklet, and why: letters no face has, or words too long for the page."""

    title: str
    misfit: Misfit


class MadeBooklet(Struct, frozen=True):
    """Files by name and what to tell of them; no files where a recipe is in the way."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    note: BookletNote | None = None
    unbound: tuple[Unbound, ...] = ()


class _Bound(Struct, frozen=True):
    """The pages of one recipe or one template, and the number of the first."""

    document: Document
    page: int
    laid: Typeset
    lacks: Lacks = Lacks()
    tiled: tuple[str, ...] = ()
    huge: tuple[str, ...] = ()

    @property
    def slug(self) -> str:
        return self.document.slug

    @property
    def title(self) -> str:
        return self.document.head.title


class _Laid(Struct, frozen=True):
    """All recipes and templates, and the page behind them."""

    recipes: tuple[_Bound, ...]
    templates: tuple[_Bound, ...]
    ends: int


def make_booklet(sources: Sequence[OutputSource], wish: BookletWish) -> MadeBooklet:
    """The booklet of these recipes, in this order. The same recipes and wish give the same bytes. Raises ThemeError."""
    return _Binder(sources, wish).made()


class _Binder:
    """Makes one booklet. Each part is laid out where the one before it ends, so that its feet have its numbers."""

    def __init__(self, sources: Sequence[OutputSource], wish: BookletWish) -> None:
        self._sources, self._wish = sources, wish
        self._documents = [source.spelled[wish.system] for source in sources]
        first = self._documents[0]
        self._theme = wish.theme or sources[0].theme
        self._text = BookletText(first.language)
        foreword = (wish.foreword,) if wish.foreword else ()
        head = BookletHead(
            wish.title, first.head.studio, first.head.author, tuple(_imprint(first, self._text, wish)), foreword
        )
        self._pages = BookletPages(head, self._text, wish.system, self._theme, wish.paper)

    def made(self) -> MadeBooklet:
        drawn = {document.slug for document, source in self._pairs() if self._designs(document, source)}
        pages = len(self._contents(dict.fromkeys(drawn, 0), {}).boxes)
        while True:
            laid = self._all_laid(_CONTENTS_PAGE + pages)
            if isinstance(laid, Unbound):
                return MadeBooklet(unbound=(laid,))
            templates, recipes = ({one.slug: one.page for one in ones} for ones in (laid.templates, laid.recipes))
            contents = self._contents(templates, recipes, laid.ends)
            # A template that turns out to have no page takes its line away: seldom, and seldomer a page.
            if len(contents.boxes) == pages:
                return self._bound(laid, contents)
            pages = len(contents.boxes)

    def _all_laid(self, page: int) -> _Laid | Unbound:
        """Every recipe, then every template, from a page on."""
        found: list[list[_Bound]] = [[], []]
        for ones, lay in zip(found, (self._recipe, self._template), strict=True):
            for document, source in self._pairs():
                one = lay(document, source, self._place(page))
                if isinstance(one, Unbound):
                    return one
                if one:
                    ones.append(one)
                    page += len(one.laid.boxes)
        return _Laid(tuple(found[0]), tuple(found[1]), page)

    def _bound(self, laid: _Laid, contents: Typeset) -> MadeBooklet:
        wish, say = self._wish, self._text.say
        index = self._pages.index(tuple(_index(laid.recipes)), self._place(laid.ends))
        parts = [
            BoundPart("cover", self._cover(), ((1, wish.title),)),
            BoundPart("contents", contents, ((1, say("contents")),)),
            *(BoundPart(f"recipe-{one.slug}", one.laid, ((1, one.title),)) for one in laid.recipes),
            *(
                BoundPart(f"template-{one.slug}", one.laid, (*above, (2, one.title)))
                for one, above in zip(laid.templates, chain([((1, say("templates")),)], repeat(())), strict=False)
            ),
            BoundPart("supplies", index, ((1, say("supplies")),)),
            BoundPart("back", self._pages.back(), ((1, say("back")),)),
        ]
        bound = bound_pages(parts)
        pages = len(bound.boxes)
        files = {f"{wish.name}.pdf": bound_pdf(bound, parts)}
        sheets = saddle_sheets(pages, wish.thickness_mm) if wish.saddle else ()
        if wish.saddle:
            files[f"{wish.name}-saddle.pdf"] = saddle_pdf(bound, sheets, wish.saddle)
        note = BookletNote(
            file=f"{wish.name}.pdf",
            pages=pages,
            wish=wish,
            lacks=tuple((one.title, one.lacks) for one in laid.recipes if one.lacks != Lacks()),
            tiled=tuple(piece for one in laid.templates for piece in one.tiled),
            huge=tuple(piece for one in laid.templates for piece in one.huge),
            sheets=len(sheets),
        )
        return MadeBooklet(files, note)

    def _cover(self) -> Typeset:
        heroes = (self._hero(document, source) for document, source in self._pairs())
        return self._pages.cover([hero for hero in heroes if hero])

    def _pairs(self) -> Iterator[tuple[Document, OutputSource]]:
        return zip(self._documents, self._sources, strict=True)

    def _place(self, page: int) -> BoundPlace:
        return BoundPlace(page, self._wish.title, self._text)

    def _hero(self, document: Document, source: OutputSource) -> CoverPicture | None:
        whole = replace(document, shown=tuple(one for one in document.shown if not one.step and not one.piece))
        manner = load_paper_theme(self._theme, "booklet").drawing
        prints = prints_of(whole, self._wish.system, source.photos, manner=manner).values()
        picture = next((one for one in prints if isinstance(one, Captioned)), None)
        return CoverPicture(picture, document.head.title) if picture else None

    def _recipe(self, document: Document, source: OutputSource, place: BoundPlace) -> _Bound | Unbound:
        wish, page = self._wish, place.first
        if wish.as_cards:
            proof = Proof(document, wish.system, self._theme, source.photos)
            card = proof.bound(wish.paper, place)
            if isinstance(card, Misfit):
                return Unbound(document.head.title, card)
            lacks = lacks_of(document, wish.system, card.front, proof.left_out(card))
            return _Bound(document, page, card.laid, lacks)
        made = chapter(document, wish.system, self._theme, source.photos, wish.paper, place)
        if isinstance(made, Misfit):
            return Unbound(document.head.title, made)
        return _Bound(document, page, made.laid, lacks_of(document, wish.system, made.version, made.left_out))

    def _designs(self, document: Document, source: OutputSource) -> tuple[Design, ...]:
        """The pieces that have a true size."""
        words = TemplateText(document, self._wish.system)
        return tuple(designs_of(document, source.understood, words)) if self._wish.templates else ()

    def _template(self, document: Document, source: OutputSource, place: BoundPlace) -> _Bound | Unbound | None:
        designs = self._designs(document, source)
        if not designs:
            return None
        if missing := unprintable(document, designs):
            return Unbound(document.head.title, Misfit(missing))
        words = TemplateText(document, self._wish.system)
        made = laid_template(document, designs, words, self._theme, self._wish.paper, place=place)
        if made.pages == 0:
            return None
        return _Bound(document, place.first, made.laid, tiled=made.tiled, huge=made.huge)

    def _contents(self, templates: Mapping[str, int], recipes: Mapping[str, int], index: int = 0) -> Typeset:
        """The contents with these numbers, by the recipes' names; before there are any, with none."""
        say = self._text.say
        own = tuple(
            ContentsEntry(f"recipe-{one.slug}", one.head.title, recipes.get(one.slug, 0), _facts(one, self._text))
            for one in self._documents
        )
        true_size = tuple(
            ContentsEntry(f"template-{one.slug}", one.head.title, templates[one.slug])
            for one in self._documents
            if one.slug in templates
        )
        groups = [
            ContentsGroup("", own),
            *([ContentsGroup(say("templates"), true_size, say("copy-first"))] if true_size else []),
            ContentsGroup(say("index"), (ContentsEntry("supplies", say("supplies"), index),)),
        ]
        return self._pages.contents(groups, self._place(_CONTENTS_PAGE))


def _facts(document: Document, text: BookletText) -> str:
    """What a line of the contents says of a recipe: what it makes, how long it takes, how hard it is."""
    said = (document.head.makes, document.totals.line, document.head.level)
    return text.say("between").join(part for part in said if part)


def _index(recipes: Sequence[_Bound]) -> Iterator[IndexLine]:
    """Every supply, in the order of the alphabet, with the pages it is listed on; one that a page had no room for is
    not there."""
    pages: dict[str, list[tuple[str, int]]] = {}
    shown: dict[str, str] = {}
    for one in recipes:
        listed = page_with(one.laid, "supplies")
        for supply in one.document.supplies if listed else ():
            name = plain(supply.name, one.document.system)
            shown.setdefault(name.casefold(), name)
            found = (f"recipe-{one.slug}", one.page + listed - 1)
            if found not in pages.setdefault(name.casefold(), []):
                pages[name.casefold()].append(found)
    for name in sorted(pages):
        yield IndexLine(shown[name], tuple(pages[name]))


def _imprint(document: Document, text: BookletText, wish: BookletWish) -> Iterator[str]:
    """What stands on the back: whose it is, where to find them, how it may be used; in which units its numbers are."""
    head = document.head
    address = head.address.removeprefix("https://").removeprefix("http://").partition("/")[0]
    yield from filter(None, (head.studio or head.author, address, head.licence))
    yield document.labels[f"in-{wish.system.value}"]
    if wish.templates:
        yield text.say("true-size")
