"""Instructions read in one sweep are those pdfminer reads letter by letter, in our own papers and in awkward ones."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import pytest
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfpage import PDFPage
from pdfminer.pdfparser import PDFParser
from pdfminer.pdftypes import PDFStream, stream_value
from pdfminer.psparser import PSEOF

from foldwright.measure.length import System
from foldwright.render.paper.papers import PAPERS
from printed.tokens import PATIENT, Instructions
from workbench.compiled import DEMOS
from workbench.papers_of_demos import LOOKED_AT, well_made_card

SWEPT = [
    b"q 1 0 0 -1 0 792 cm /GS0 gs BT /F1 9.5 Tf [<0012><0034> -12.5 <00>] TJ ET Q",
    b"/Span <</MCID 3 /Lang (en)>> BDC\n.5 -.25 +3. 0 re f* % a remark\nB* EMC",
    b"[[1 2] 0] 0 d (plain words) Tj",
    b"/P <</A <</B [1 (two) /Three]>>>> BDC EMC",
    b"",
    b"T*",
]
LEFT = [
    b"(a \\(bracket\\)) Tj",
    b"(one (within) another) Tj",
    b"<012> Tj",
    b"/A#20B gs",
    b"true false null",
    b"BI /W 1 /H 1 /BPC 8 /CS /G ID \x00 EI Q",
    b"[1 2",
]


def every(parser: Any) -> Iterator[Any]:
    while True:
        try:
            yield parser.nextobject()[1]
        except PSEOF:
            return


def streams_of(data: bytes) -> Iterator[list[PDFStream]]:
    """What is drawn on each page, and within it."""
    document = PDFDocument(PDFParser(io.BytesIO(data)))
    for page in PDFPage.create_pages(document):
        yield [stream_value(one) for one in page.contents]
    for number in {number for table in document.xrefs for number in table.get_objids()}:
        one = document.getobj(number)
        if isinstance(one, PDFStream) and getattr(one.attrs.get("Subtype"), "name", "") == "Form":
            yield [one]


@pytest.mark.parametrize(("name", "system", "theme"), LOOKED_AT[:3])
def test_our_own_papers(name: str, system: System, theme: str) -> None:
    """One in each look."""
    made = well_made_card(name, system, theme, PAPERS[DEMOS.index(name)])
    told = 0
    for streams in streams_of(made.pdf):
        swept = Instructions(streams)
        assert swept.swept
        assert list(every(swept)) == list(every(PATIENT(streams)))
        told += 1
    assert told > 5, "a page, and the pictures on it"


@pytest.mark.parametrize("data", [*SWEPT, *LEFT])
def test_awkward_ones(data: bytes) -> None:
    streams = [PDFStream({}, data), PDFStream({}, b"0.5 w")]
    swept = Instructions(streams)
    assert swept.swept is (data in SWEPT)
    # A picture is a thing of its own: two with all the same are not one.
    patient = PATIENT([PDFStream({}, data), PDFStream({}, b"0.5 w")])
    assert list(map(repr, every(swept))) == list(map(repr, every(patient)))
