"""Themes: folders of templates, style and a short list of faces; a theme's own folder, its parent, the base.

A theme folder holds any of `theme.toml` (`parent`, `fonts`, `composition`, `drawing`, `photographs`), `tutorial.html`,
`page.css` and `in-library.css` (of a page among others) for the web, and for paper `card.html`, `handout.html`,
stylesheets of the same names, and `paper.css` for what both share. Templates are looked for in the user's folder, then
in the built-in theme, then in the base; a user's template that changes one block begins with
`{% extends "theme/tutorial.html" %}`. Styles are added up, the base first; how a page is printed stands in the base's
`print.css`, after a look's style and before a user's own. Themes run in Jinja's
sandbox.
"""

from __future__ import annotations

import base64
import hashlib
import re
import tomllib
from collections.abc import Iterator, Mapping
from enum import Enum
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, ValidationError, convert
from msgspec.structs import replace

from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.pens import STYLES
from foldwright.render.fonts import FACES, face_rule
from foldwright.surroundings import digest_of_look, is_look

if TYPE_CHECKING:
    from jinja2 import Template

DEFAULT_THEME = "harbour"
_BASE = "base"
_ROOT, _COLOUR = re.compile(r":root\{([^}]*)\}"), re.compile(r"--([\w-]+):\s*(#[0-9a-fA-F]{3,8})\b")
_KEPT = 32
"""Themes of each kind that are remembered while we run."""


class Composition(Enum):
    """How a look puts a page together: which room words and pictures take. Colours and letters are the stylesheets'."""

    PICTURE_BOOK = "picture-book"
    """The finished thing on a band at the head; each step has its picture at the left, its words at the right."""
    SHOP_DRAWING = "shop-drawing"
    """A title block at the lower right; steps as numbered panels side by side, the words beneath the picture."""
    HOUSEHOLD_BOOK = "household-book"
    """A centred frontispiece; one column of steps, their pictures as plates in the middle of it."""


class ThemeError(ValueError):
    """A theme that cannot be used: `code` and `facts` as a finding has them."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code)
        self.code = code
        self.facts = facts


class PaperTheme(Struct, frozen=True):
    """A theme's card or handout, or a page without a script: its compiled template, its style, its composition, and in
    which manner it has things drawn."""

    name: str
    page: Template
    style: str
    composition: Composition
    drawing: DrawingManner

    def filled(self, **given: object) -> str:
        """The page with what it was given. Raises ThemeError."""
        return "".join(filled(self.page, self.name, **given))


class Room(Struct, frozen=True):
    """How wide a photograph stands in a page, as CSS has lengths, in a window no narrower than `since`.

    It is no higher than `high` pixels, or fills so many (`fill`) and loses its sides; 0 is no such bound.
    """

    width: str
    since: str = ""
    high: int = 0
    fill: int = 0


class PhotographRooms(Struct, frozen=True):
    """The rooms of a look for photographs, at the head, at a step, in the strip of steps; the widest window first."""

    head: tuple[Room, ...]
    step: tuple[Room, ...]
    strip: tuple[Room, ...]


class Theme(PaperTheme, frozen=True):
    """A theme ready to use: its page, its style with the faces inside, its script, and the hashes of both.

    `shared_style` is the style of a page in a library.
    """

    script: str
    style_hash: str
    script_hash: str
    shared_style: str
    rooms: PhotographRooms

    def policy(self, data: str) -> str:
        """A Content-Security-Policy: the page may show what stands in it, and do what its own script does.

        Nothing comes from outside. `data` is what stands in the page for machines; no browser runs it, but checkers
        of pages ask for its hash as well.
        """
        return (
            "default-src 'none'; img-src data:; font-src data:; "
            f"style-src {self.style_hash}; script-src {self.script_hash} {policy_hash(data)}; "
            "base-uri 'none'; form-action 'none'"
        )


class Look(Struct, frozen=True):
    """What a look is apart from any page: its colours by the names of its page's style, its faces, its two manners."""

    colours: Mapping[str, str]
    fonts: tuple[str, ...]
    composition: Composition
    drawing: DrawingManner


def filled(template: Template, theme: str, /, **given: object) -> Iterator[str]:
    """A template filled in, part by part. Raises ThemeError when it asks for what there is not."""
    from jinja2 import TemplateError

    try:
        yield from template.generate(**given)
    except TemplateError as error:
        raise ThemeError("unreadable-theme", theme=theme, why=str(error)) from error


@cache
def built_in_themes() -> tuple[str, ...]:
    """The names of our own themes, in order."""
    found = {file.parent.name for file in themes_folder().glob("*/theme.toml")}
    return tuple(sorted(found - {_BASE}))


@cache
def themes_folder() -> Path:
    """The built-in themes: inside an installed package, or at the top of a checkout."""
    package = Path(__file__).parents[1]
    inside = package / "themes"
    return inside if inside.is_dir() else package.parents[1] / "themes"


def load_theme(name: str) -> Theme:
    """A built-in theme by name, or a user's by the path of its folder. Raises ThemeError."""
    return _theme(name, content_of(name))


def load_paper_theme(name: str, kind: str) -> PaperTheme:
    """What a theme has for a `kind` of paper (card or handout), found as `load_theme` finds it. Raises ThemeError."""
    return _paper_theme(name, kind, content_of(name))


def load_page(name: str, kind: str) -> PaperTheme:
    """Another page for the web: its template, and the tutorial's style with its own added. Raises ThemeError."""
    own = load_own_page(name, kind)
    return replace(own, style=load_theme(name).style + own.style)


def load_own_page(name: str, kind: str) -> PaperTheme:
    """A page for the web that loads the tutorial's style, or a part of one: its template, and its own style alone.
    Raises ThemeError."""
    folders = _folders(name)
    own = [_read(folder, f"{kind}.css") for folder in folders[::-1]]
    page = _template(folders, name, f"{kind}.html")
    return PaperTheme(Path(name).name, page, "".join(own).strip(), *_manners(name, folders))


def load_look(name: str) -> Look:
    """The look of a theme, found as `load_theme` finds it; its colours are those for light pages. Raises ThemeError."""
    folders = _folders(name)
    colours: dict[str, str] = {}
    for folder in reversed(folders):
        if root := _ROOT.search(_read(folder, "page.css")):
            colours |= dict(_COLOUR.findall(root[1]))
    fonts = next((fonts for folder in folders if (fonts := _faces(folder))), ())
    return Look(colours, fonts, *_manners(name, folders))


@cache
def base_template(file: str) -> Template:
    """A template of ours alone, which no theme changes."""
    return _template([themes_folder() / _BASE], _BASE, file)


def content_of(name: str) -> bytes:
    """What a user's theme is known by: a digest of its files, which may change while we run; ours do not."""
    if name in built_in_themes() or not Path(name).is_dir():
        return b""
    return digest_of_look(name)


@lru_cache(maxsize=_KEPT)
def _theme(name: str, _known_by: bytes) -> Theme:
    folders = _folders(name)
    fonts = next((fonts for folder in folders if (fonts := _faces(folder))), ())
    unknown = [face for face in fonts if face not in FACES]
    if unknown:
        raise ThemeError("unknown-face", theme=name, face=unknown[0], faces=tuple(FACES))
    *own, look, base = [_read(folder, "page.css") for folder in folders]
    *own_shared, look_shared, base_shared = [_read(folder, "in-library.css") for folder in folders]
    paper = _read(folders[-1], "print.css")
    ours = [*map(face_rule, fonts), base, STYLES, look]
    # Nothing stands at either end: some checkers of pages trim what they hash, browsers do not.
    style = "".join([*ours, paper, *own]).strip()
    shared = "".join([*ours, base_shared, look_shared, paper, *own, *own_shared]).strip()
    script = _read(folders[-1], "page.js").strip()
    hashes = policy_hash(style), policy_hash(script)
    page = _template(folders, name, "tutorial.html")
    manners = _manners(name, folders)
    return Theme(Path(name).name, page, style, *manners, script, *hashes, shared, _rooms(name, folders))


@lru_cache(maxsize=_KEPT)
def _paper_theme(name: str, kind: str, _known_by: bytes) -> PaperTheme:
    folders = _folders(name)
    styles = [_read(folder, f"{file}.css") for folder in folders[::-1] for file in ("paper", kind)]
    page = _template(folders, name, f"{kind}.html")
    return PaperTheme(Path(name).name, page, "".join(styles), *_manners(name, folders))


@cache
def page_script(kind: str) -> str:
    """The script of another page for the web: ours alone, no theme changes it."""
    return _read(themes_folder() / _BASE, f"{kind}.js").strip()


def _folders(name: str) -> list[Path]:
    """The folders of a theme, nearest first, ending with the base."""
    home = themes_folder()
    built_in = built_in_themes()
    if name in built_in:
        return [home / name, home / _BASE]
    own = Path(name)
    if not own.is_dir():
        raise ThemeError("no-such-theme", theme=name, themes=built_in)
    if not is_look(own):
        raise ThemeError("no-theme-there", theme=name, themes=built_in)
    parent = _settings(own).get("parent", DEFAULT_THEME)
    if parent not in built_in:
        raise ThemeError("no-such-theme", theme=str(parent), themes=built_in)
    return [own, home / str(parent), home / _BASE]


def _settings(folder: Path) -> dict[str, object]:
    text = _read(folder, "theme.toml")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ThemeError("unreadable-theme", theme=folder.name, why=str(error)) from error


def _faces(folder: Path) -> tuple[str, ...]:
    fonts = _settings(folder).get("fonts", [])
    return tuple(map(str, fonts)) if isinstance(fonts, list) else (str(fonts),)


def _manners(name: str, folders: list[Path]) -> tuple[Composition, DrawingManner]:
    """How a look composes its pages and has things drawn."""
    return _one_of(Composition, "composition", name, folders), _one_of(DrawingManner, "drawing", name, folders)


def _one_of[Kind: Enum](kinds: type[Kind], key: str, name: str, folders: list[Path]) -> Kind:
    """What the nearest folder says that says anything; the base does."""
    said = str(next(said for folder in folders if (said := _settings(folder).get(key))))
    every = {one.value: one for one in kinds}
    if said not in every:
        raise ThemeError(f"unknown-{key}", theme=name, said=said, known=tuple(every))
    return every[said]


def _rooms(name: str, folders: list[Path]) -> PhotographRooms:
    """What the nearest folder says that says anything; the base does."""
    said = next(said for folder in folders if (said := _settings(folder).get("photographs")))
    try:
        return convert(said, PhotographRooms)
    except ValidationError as error:
        raise ThemeError("unreadable-theme", theme=name, why=str(error)) from error


def _read(folder: Path, name: str) -> str:
    file = folder / name
    return file.read_text(encoding="utf-8") if file.is_file() else ""


def _template(folders: list[Path], name: str, file: str) -> Template:
    from jinja2 import ChoiceLoader, FileSystemLoader, PrefixLoader, StrictUndefined, TemplateError

    from foldwright.render.sandbox import Sandbox, compiled_templates

    kept = compiled_templates() if name in (_BASE, *built_in_themes()) else None
    plain = [FileSystemLoader(folder) for folder in folders]
    named = PrefixLoader({"theme": ChoiceLoader(plain[-2:]), "base": plain[-1]})
    environment = Sandbox(
        loader=ChoiceLoader([*plain, named]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        bytecode_cache=kept,
    )
    try:
        return environment.get_template(file)
    except TemplateError as error:
        raise ThemeError("unreadable-theme", theme=name, why=str(error)) from error


def policy_hash(text: str) -> str:
    """The text of a style or a script as a Content-Security-Policy names it."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode('utf-8')).digest()).decode('ascii')}'"
