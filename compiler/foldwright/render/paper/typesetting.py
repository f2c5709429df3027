"""The one door to the typesetter (WeasyPrint): HTML and style in; boxes to measure and a tagged PDF out.

Only the bundled faces are offered, and only `asset:` addresses from a table are answered: nothing of the machine or the
network can come into a page.
"""

from __future__ import annotations

import atexit
import logging
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache, lru_cache, partial
from shutil import rmtree
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from foldwright.render.fonts import FACES, whole_face
from foldwright.render.paper.sparing import page_class, spare_boxes, spare_drawings, spare_lines, spare_styles
from foldwright.render.themes import ThemeError
from foldwright.render.units import POINTS_PER_PX

if TYPE_CHECKING:
    from weasyprint import CSS, Document
    from weasyprint.text.fonts import FontConfiguration

PDF_VARIANT = "pdf/ua-1"
_SPACE_BEFORE = re.compile(r' ((?:<(?:span|em|strong|code)(?: class="(?!n"|fr)[^"]*")?>)+)(?=[^<])')
_SPACE_BETWEEN = re.compile(r"(</(?:span|em|strong|code)>) (?=<)")
_SPACE_BEFORE_MEASURE = re.compile(r'([^\s<>]+ )(?=(?:<(?:span|em|strong)>)*<span class="(?:n"|fr))')
"""A space before words in elements of a line is put into them, and one that stands alone between two into the first;
one before a measurement, which never breaks, goes with the word before it.
WeasyPrint 70 writes no space that stands alone, so that whoever hears or copies the page would find words run together;
and where a text fits but the space that ends it does not, it parts the text after its first word."""
_LIBRARIES = (
    *("libgobject-2.0.so.0", "libpango-1.0.so.0", "libpangoft2-1.0.so.0"),
    *("libharfbuzz.so.0", "libharfbuzz-subset.so.0", "libfontconfig.so.1"),
)
"""What the typesetter cannot do without, as Linux calls it."""
_LONGEST_SHOWN = 80
"""Letters of an address that are shown of it."""


class Asset(Struct, frozen=True):
    """What an `asset:` address stands for: the bytes and what kind they are (`image/svg+xml`)."""

    data: bytes
    kind: str


class Typeset(Struct, frozen=True):
    """Pages laid out. `boxes` are the typesetter's page boxes; lengths in them are in px."""

    document: Document

    @property
    def boxes(self) -> list[Any]:
        return [page._page_box for page in self.document.pages]

    def pdf(self, read_first: int = 0, finish_more: Callable[[Any], None] | None = None) -> bytes:
        """The pages as a tagged PDF; the same bytes for the same pages. `read_first` is the page, from 0, that has the
        title: who hears the pages begins there. `finish_more` is done last to the objects of the PDF."""
        finish = partial(_finished, read_first=read_first, finish_more=finish_more)
        data: bytes = self.document.write_pdf(pdf_variant=PDF_VARIANT, finisher=finish)
        return data


def typeset(html: str, style: str, page_style: str = "", assets: Mapping[str, Asset] | None = None) -> Typeset:
    """Lay out a page. `style` is kept ready between calls, `page_style` is for this page alone.

    `assets` are what `asset:` addresses in it stand for. Raises ThemeError when a style asks for anything else.
    """
    load_typesetter()
    from weasyprint import CSS
    from weasyprint.urls import FatalURLFetchingError

    spare_styles()
    spare_boxes()
    spare_lines()
    spare_drawings()
    fetcher = _closed_fetcher()(assets or {})
    own = [CSS(string=page_style, font_config=font_configuration(), url_fetcher=fetcher)] if page_style else []
    written = _SPACE_BEFORE_MEASURE.sub(r"<span>\1</span>", _SPACE_BETWEEN.sub(r" \1", _SPACE_BEFORE.sub(r"\1 ", html)))
    page = page_class()(string=written, url_fetcher=fetcher)
    page.styles = style, page_style
    bundled_faces()
    try:
        return Typeset(page.render(font_config=font_configuration(), stylesheets=[_style(style), *own]))
    except FatalURLFetchingError as refused:
        raise ThemeError("theme-fetches", why=str(refused.__cause__ or refused)) from refused


def _finished(document: Document, pdf: Any, read_first: int, finish_more: Callable[[Any], None] | None) -> None:
    _place_figures(document, pdf)
    _say_what_is_a_foot(pdf)
    _begin_with(pdf, pdf.page_references[read_first])
    if finish_more:
        finish_more(pdf)


def _place_figures(document: Document, pdf: Any) -> None:
    """Say of every figure where it is in points from the page's foot, as readers of PDF expect (ISO 32000-1,
    14.8.5.4.3); WeasyPrint 70 says it in px from the head."""
    heights = dict(zip(pdf.page_references, (page.height for page in document.pages), strict=True))
    for element in pdf.objects:
        if isinstance(element, dict) and element.get("S") == "/Figure":
            left, top, right, bottom = element["A"]["BBox"]
            high = heights[element["Pg"]]
            element["A"]["BBox"][:] = [px * POINTS_PER_PX for px in (left, high - bottom, right, high - top)]


def _say_what_is_a_foot(pdf: Any) -> None:
    """What stands in the margins comes again on every page: an artifact (ISO 14289-1, 7.8). WeasyPrint 70 numbers it as
    content of elements that hang nowhere."""
    root = referred(pdf, pdf.catalog["StructTreeRoot"])
    held = set(_under(pdf, root))
    numbers = referred(pdf, root["ParentTree"])["Nums"]
    for page, parents in zip(pdf.page_references, numbers[1::2], strict=False):
        loose = {at for at, parent in enumerate(parents) if parent not in held}
        parents[:] = ["null" if at in loose else parent for at, parent in enumerate(parents)]
        written = referred(pdf, referred(pdf, page)["Contents"]).stream
        for at, mark in enumerate(written):
            if isinstance(mark, dict) and mark.get("MCID") in loose:
                written[at - 1 : at + 1] = "/Artifact", type(mark)({"Type": "/Pagination"})


def _begin_with(pdf: Any, page: bytes) -> None:
    """Put what stands on the page first in the structure: levels of headings begin with the first (ISO 14289-1,
    7.4.2)."""
    elements = referred(pdf, referred(pdf, pdf.catalog["StructTreeRoot"])["K"][0])["K"]
    elements.sort(key=lambda element: referred(pdf, element)["Pg"] != page)


def _under(pdf: Any, element: Any) -> Iterator[bytes]:
    """The references of all elements below one."""
    for kid in element.get("K", ()):
        if isinstance(kid, bytes):
            yield kid
            yield from _under(pdf, referred(pdf, kid))


def referred(pdf: Any, reference: bytes) -> Any:
    """The object of a PDF that a reference names."""
    return pdf.objects[int(reference.split()[0])]


@cache
def load_typesetter() -> None:
    """Load its code now, so that processes forked from this one share it.

    Fonts each of them loads for itself: what serves them may run threads, and those do not outlive a fork.
    """
    import ctypes.util
    import ssl

    search, context = ctypes.util.find_library, ssl._create_default_https_context
    # While it is loaded it makes ready to fetch from the network, which it never does here, and has linkers and
    # compilers asked for libraries by four names each before it tries the one they have on Linux.
    ssl._create_default_https_context = lambda *_, **__: ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    if all(map(_loads, _LIBRARIES)):
        ctypes.util.find_library = lambda name: None  # noqa: ARG005
    try:
        import weasyprint  # noqa: F401
    finally:
        ctypes.util.find_library, ssl._create_default_https_context = search, context


def _loads(library: str) -> bool:
    from ctypes import CDLL

    try:
        CDLL(library)
    except OSError:
        return False
    return True


@cache
def font_configuration() -> FontConfiguration:
    """The faces the typesetter knows, one set for the whole process."""
    load_typesetter()
    from weasyprint.text.fonts import FontConfiguration

    # What it has to say is about style sheets of ours, which tests read; a page's own reader gets findings instead.
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    logging.getLogger("fontTools").setLevel(logging.ERROR)
    fonts = FontConfiguration()
    # It clears up itself, but at the end of a process too late.
    atexit.register(clear_away)
    return fonts


def leave_faces_to_parent() -> None:
    """In a forked process: its parent goes on needing the faces it was forked with, and deletes them when it ends."""
    if font_configuration.cache_info().currsize:
        font_configuration()._folder = None


def clear_away() -> None:
    """Delete the folder in which this process keeps the faces the typesetter was given, if it has one."""
    fonts = font_configuration() if font_configuration.cache_info().currsize else None
    if fonts and fonts._folder:
        rmtree(fonts._folder, ignore_errors=True)
        fonts._folder = None


@cache
def bundled_faces() -> CSS:
    """The bundled faces, known to every page from here on; there is no rule among them that a page would need."""
    from weasyprint import CSS

    rules = "".join(face.rule(f"url(asset:{name})") for name, face in FACES.items())
    files = {name: Asset(whole_face(name), "font/ttf") for name in FACES}
    return CSS(string=rules, font_config=font_configuration(), url_fetcher=_closed_fetcher()(files))


@lru_cache(maxsize=64)
def _style(text: str) -> CSS:
    from weasyprint import CSS

    return CSS(string=text, font_config=font_configuration(), url_fetcher=_closed_fetcher()({}))


@cache
def _closed_fetcher() -> Any:
    """The class that answers from a table; made on first use, since its parent is slow to load."""
    from ssl import PROTOCOL_TLS_CLIENT, SSLContext

    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    bare = SSLContext(PROTOCOL_TLS_CLIENT)

    class Closed(URLFetcher):  # type: ignore[misc]
        def __init__(self, assets: Mapping[str, Asset]) -> None:
            # Any error is to stop the work: the typesetter would leave a hole in the page and go on.
            # The bare context spares it looking for certificates, which takes longer than a page.
            super().__init__(ssl_context=bare, allowed_protocols=("asset",), fail_on_errors=True)
            self._assets = assets

        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:  # noqa: ARG002
            scheme, _, name = url.partition(":")
            if scheme != "asset" or name not in self._assets:
                raise FatalURLFetchingError(url[:_LONGEST_SHOWN])
            asset = self._assets[name]
            return URLFetcherResponse(url, asset.data, {"Content-Type": asset.kind})

    return Closed


@cache
def letters_of(face: str) -> frozenset[int]:
    """Every character a bundled face has a letter for."""
    import io

    from fontTools.ttLib import TTFont

    return frozenset(TTFont(io.BytesIO(whole_face(face)), lazy=True).getBestCmap())
