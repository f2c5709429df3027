"""Small PDFs for the tests of the kit: made by WeasyPrint from HTML, then perhaps spoilt with pikepdf. Not a test."""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache
from pathlib import Path

import font_source_sans_pro
import pikepdf

FACES = frozenset(("SourceSansPro-Regular", "SourceSansPro-It", "SourceSansPro-Bold"))
_FILES = Path(font_source_sans_pro.__file__).parent / "files"
_CSS = f"""
@font-face{{font-family:Face;src:url("{(_FILES / "SourceSansPro-Regular.ttf").as_uri()}")}}
@font-face{{font-family:Face;font-style:italic;src:url("{(_FILES / "SourceSansPro-It.ttf").as_uri()}")}}
@font-face{{font-family:Face;font-weight:bold;src:url("{(_FILES / "SourceSansPro-Bold.ttf").as_uri()}")}}
@page{{size:A6;margin:8mm}}
html{{font:10pt/1.3 Face}}
h1{{font-size:14pt;margin:0 0 4pt}}h2{{font-size:11pt;margin:0}}p{{margin:0 0 4pt}}
ol,ul{{list-style:none;margin:0;padding:0}}
"""
DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="4cm" height="2cm" viewBox="0 0 40 20">'
    "<title>A square and its size</title>"
    '<rect x="1" y="1" width="38" height="18" fill="none" stroke="black"/>'
    '<text x="6" y="12" font-family="Face" font-size="4">40 mm</text></svg>'
)
GOOD = f"""
<h1>Paper boat</h1>
<p>A boat in <em>half</em> an hour.</p>
<ol style="position:relative;height:5cm">
<li style="position:absolute;left:0;top:0;width:4.2cm"><span>1</span> Cut the sheet to 4 1/2 in.</li>
<li style="position:absolute;left:4.6cm;top:0;width:4.2cm"><h2>Hull</h2><p>Fold it.</p>{DRAWING}</li>
</ol>
<p style="border-top:1pt solid;background:#eee">See <a href="https://example.org/boat">the page</a>.</p>
"""


@cache
def made(body: str = GOOD, css: str = "", *, title: str = "Paper boat", tags: bool = True) -> bytes:
    """The page as a PDF of A6 paper with margins of 8 mm, tagged unless told otherwise."""
    from weasyprint import HTML

    page = f'<!doctype html><html lang="en"><title>{title}</title><style>{_CSS}{css}</style>{body}</html>'
    return HTML(string=page).write_pdf(pdf_variant="pdf/ua-1" if tags else None)


def spoilt(data: bytes, change: Callable[[pikepdf.Pdf], object]) -> bytes:
    """The file after `change`."""
    with pikepdf.open(io.BytesIO(data)) as file:
        change(file)
        out = io.BytesIO()
        file.save(out)
    return out.getvalue()


def element(file: pikepdf.Pdf, tag: str) -> pikepdf.Object:
    """The first structure element with this tag that hangs in the tree."""
    waiting = list(file.Root.StructTreeRoot.K)
    while waiting:
        node = waiting.pop(0)
        if isinstance(node, pikepdf.Dictionary) and "/S" in node:
            if str(node.S) == f"/{tag}":
                return node
            waiting = list(node.K) + waiting
    raise LookupError(tag)


def add_content(content: bytes) -> Callable[[pikepdf.Pdf], object]:
    """A change that paints something on the first page before all else, in points from its lower left corner."""
    return lambda file: file.pages[0].contents_add(b"q " + content + b" Q", prepend=True)
