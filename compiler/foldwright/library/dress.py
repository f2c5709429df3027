"""What all pages of a library are made with: the studio's name and address, its look, words, and files they share."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup as Html
from msgspec import Struct, field

from foldwright.document.catalogue import Catalogue
from foldwright.library.cards import Card, CardPicture, card_of
from foldwright.library.finder import FACETS, words_script
from foldwright.library.made_from import key_of
from foldwright.outputs.entry import Entry
from foldwright.recipe.facts.addresses import FEED
from foldwright.render.themes import PaperTheme, content_of, load_own_page, page_script, policy_hash
from foldwright.render.web.shared import asset_named, shared_look

_POLICY = (
    "default-src 'none'; img-src 'self' file: data:; font-src data:; style-src {style}; script-src {script}; "
    "base-uri 'none'; form-action 'none'"
)
_OURS = "'self' file:"
"""What lies in the library, and nothing from elsewhere. `file:` says the same as 'self' to browsers that take a page
from a file for nobody's own."""
_FROM_TUTORIALS = ("library", "all-projects")
ROOT = Html("<root>")
"""No text of an author's can be that: its brackets are escaped."""
_SLOT = "·"
_NO_PICTURE = Html("data:image/svg+xml;base64,PHN2Zy8+")
_EMPTY = Card(
    address=Html("#"),
    title=_SLOT,
    summary=_SLOT,
    level=_SLOT,
    time=_SLOT,
    needs=_SLOT,
    picture=CardPicture(_NO_PICTURE, Html(""), 1, 1, "", ""),
    lacks=_SLOT,
)
"""A card of which the script fills every part."""


class LibraryDress(Struct, frozen=True):
    """`styles`, `script` and `finder` are paths under the library's folder; `files` has all the pages load."""

    words: Catalogue
    label: Mapping[str, str]
    studio: str
    address: str
    list_page: PaperTheme
    card_part: PaperTheme
    inset_part: PaperTheme
    lost_page: PaperTheme
    styles: tuple[str, ...]
    script: str
    finder: str
    files: Mapping[str, bytes]
    key: str
    """The same for a dress in which the same pages come out the same."""
    cards: dict[str, str] = field(default_factory=dict)
    """Cards that are set already, by slug; `ROOT` stands in them for the way to the library's folder."""
    card_keys: dict[str, str] = field(default_factory=dict)

    def card(self, entry: Entry, root: str) -> Html:
        """An entry in a list, on a page from which `root` leads to the library's folder. It is set once for all."""
        if entry.slug not in self.cards:
            self.cards[entry.slug] = self._card(card_of(entry, ROOT, self.words))
        return Html(self.cards[entry.slug].replace(ROOT, root))

    def card_key(self, entry: Entry) -> str:
        """What a card of this entry is made from, and what stands of it in a list for machines."""
        if entry.slug not in self.card_keys:
            self.card_keys[entry.slug] = key_of(card_of(entry, ROOT, self.words), entry.slug, entry.address)
        return self.card_keys[entry.slug]

    def page(self, page: object, root: str, data: str, searched: bool) -> bytes:
        """A page with a list, which stands in it as `data` too; only one that is `searched` knows of the finder."""
        return self.list_page.filled(
            page=page,
            root=root,
            language=self.words.language,
            label=self.label,
            styles=[root + style for style in self.styles],
            script=root + self.script,
            finder=root + self.finder if searched else "",
            facets=[*FACETS, "up-to"],
            empty=Html(self._card(_EMPTY)),
            feed=f"{root}{FEED}" if self.address else "",
            policy=_POLICY.format(style=_OURS, script=f"{_OURS} {policy_hash(data)}" if data else _OURS),
        ).encode()

    def inset(self, **given: object) -> str:
        """What a tutorial says of other recipes."""
        return self.inset_part.filled(label=self.label, **given)

    def lost(self) -> bytes:
        """The page for addresses that lead nowhere. A server shows it at any depth, so all it needs stands in it."""
        style = "".join(self.files[path].decode() for path in self.styles).strip()
        return self.lost_page.filled(
            language=self.words.language,
            said=self.words.below("library.lost"),
            studio=self.studio,
            home=f"{self.address}/",
            style=Html(style),
            policy=_POLICY.format(style=policy_hash(style), script="'none'"),
        ).encode()

    def _card(self, card: Card) -> str:
        return self.card_part.filled(card=card, label=self.label)


def library_dress(finder: bytes, words: Catalogue, studio: str, address: str, theme: str) -> LibraryDress:
    """The dress of a library in which the script `finder` knows what can be found. Raises ThemeError."""
    look = shared_look(theme)
    list_page = load_own_page(theme, "library")
    style = list_page.style.encode()
    script = words_script(words.unfilled("library.script"), page_script("library"))
    style_at, script_at = asset_named("library", style, "css"), asset_named("library", script, "js")
    # Called after the script that reads it: so new words to search for change no page, and a page that a browser has
    # kept finds them.
    finder_at = asset_named("search", script, "js")
    label = {**words.below("library.label"), **{name: words.say(f"page.label.{name}") for name in _FROM_TUTORIALS}}
    known_by = theme, content_of(theme).hex(), words.language, studio, address, look.style, style_at, script_at
    return LibraryDress(
        words=words,
        label=label,
        studio=studio,
        address=address.rstrip("/"),
        list_page=list_page,
        card_part=load_own_page(theme, "library-card"),
        inset_part=load_own_page(theme, "library-inset"),
        lost_page=load_own_page(theme, "lost"),
        styles=(look.style, style_at),
        script=script_at,
        finder=finder_at,
        key=key_of(*known_by),
        files={**look.files, style_at: style, script_at: script, finder_at: finder},
    )
