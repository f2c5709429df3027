"""What a tagged PDF must say of itself (ISO 14289-1, clauses 5, 7.1 and 7.2, cited from memory)."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import pikepdf
from msgspec import Struct

_UA = "{http://www.aiim.org/pdfua/ns/id/}"
_DC = "{http://purl.org/dc/elements/1.1/}"
_RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"


class Declared(Struct, frozen=True):
    """`part` is the part of PDF/UA the file says it follows; `title` the one of its metadata, `shown` whether a window
    bears it; `dates` what it says of when it was made."""

    part: str
    marked: bool
    suspects: bool
    language: str
    title: str
    shown: bool
    structured: bool
    dates: tuple[str, ...]


def declared(data: bytes) -> Declared:
    with pikepdf.open(io.BytesIO(data)) as file:
        root = file.Root
        part, title = _metadata(root.Metadata.read_bytes()) if "/Metadata" in root else ("", "")
        mark = root.get("/MarkInfo", pikepdf.Dictionary())
        info = file.trailer.get("/Info", pikepdf.Dictionary())
        return Declared(
            part=part,
            marked=bool(mark.get("/Marked", False)),
            suspects=bool(mark.get("/Suspects", False)),
            language=str(root.get("/Lang", "")),
            title=title,
            shown=bool(root.get("/ViewerPreferences", pikepdf.Dictionary()).get("/DisplayDocTitle", False)),
            structured="/StructTreeRoot" in root,
            dates=tuple(str(info[key]) for key in ("/CreationDate", "/ModDate") if key in info),
        )


def declared_complaints(data: bytes, *, title: str | None = None, language: str | None = None) -> list[str]:
    """What is missing; with `title` or `language`, also whether it is that one."""
    said = declared(data)
    wrong = {
        f"the metadata says part {said.part or 'none'} of PDF/UA, not 1": said.part != "1",
        "the file does not say that it is tagged": not said.marked,
        "the file says its tags are suspect": said.suspects,
        "there is no structure tree": not said.structured,
        "the file has no language": not said.language.strip(),
        "the metadata has no title": not said.title.strip(),
        "the title is not to be shown": not said.shown,
        f"the language is {said.language!r}, not {language!r}": language is not None and said.language != language,
        f"the title is {said.title!r}, not {title!r}": title is not None and said.title != title,
    }
    return [complaint for complaint, is_so in wrong.items() if is_so]


def _metadata(packet: bytes) -> tuple[str, str]:
    """The part of PDF/UA and the title, from an XMP packet; a simple property may be an attribute or an element."""
    tree = ElementTree.fromstring(packet)
    part = tree.findtext(f".//{_UA}part", "") or next(
        (node.attrib[f"{_UA}part"] for node in tree.iter() if f"{_UA}part" in node.attrib), ""
    )
    return part.strip(), tree.findtext(f".//{_DC}title/{_RDF}Alt/{_RDF}li", "").strip()
