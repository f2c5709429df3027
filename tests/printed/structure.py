"""Our own check of a tagged PDF's structure. It finds faults; it does not show that a file conforms to PDF/UA.

Clauses are those of ISO 14289-1 (PDF/UA-1) and ISO 32000-1, cited from memory.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable

from printed.content import ARTIFACT
from printed.reading import bounds, read
from printed.tagged import NOTHING, Element, Id, Piece, Tagged, tagged

STANDARD = frozenset(
    # Grouping, block, inline and illustration elements: ISO 32000-1, 14.8.4.2 to 14.8.4.5.
    "Document Part Art Sect Div BlockQuote Caption TOC TOCI Index NonStruct Private P H H1 H2 H3 H4 H5 H6 L LI Lbl "
    "LBody Table TR TH TD THead TBody TFoot Span Quote Note Reference BibEntry Code Link Annot Ruby RB RT RP Warichu "
    "WT WP Figure Formula Form".split()
)
_HEADING = re.compile(r"H([1-6])$")


def structure_complaints(data: bytes) -> list[str]:
    """All that is wrong by the checks of this module but `list_numbering` and `figure_boxes`."""
    found = tagged(data)
    if not found.tops:
        return ["the file has no structure"]
    checks: list[Callable[[Tagged], list[str]]] = [
        figures,
        headings,
        lists,
        content_once,
        parent_tree,
        roles,
        annotations,
    ]
    return [complaint for check in checks for complaint in check(found)]


def figures(file: Tagged) -> list[str]:
    """Every Figure says in words what it shows (ISO 14289-1, 7.3)."""
    bare = [element for element in file.elements() if element.role == "Figure" and not element.alt.strip()]
    return [f"figure {element.id[0]} has no words in its place" for element in bare]


def headings(file: Tagged) -> list[str]:
    """There is one H1, it comes first, and no level is skipped on the way down (ISO 14289-1, 7.4.2)."""
    levels = [int(match[1]) for element in file.elements() if (match := _HEADING.match(element.role))]
    found = [] if levels.count(1) == 1 else [f"there are {levels.count(1)} headings of the first level, not one"]
    for before, level in zip([0, *levels], levels, strict=False):
        if level > before + 1:
            found.append(
                f"a heading of level {level} follows one of level {before}" if before else f"H{level} comes first"
            )
    return found


def lists(file: Tagged) -> list[str]:
    """An L holds LI, at its head a Caption, and inner L; an LI holds Lbl and one LBody at least, and nothing else; both
    stand nowhere else (ISO 32000-1, 14.8.4.3.3; ISO 14289-1, 7.6)."""
    found: list[str] = []
    for element in file.elements():
        inside = [kid.role if isinstance(kid, Element) else "content" for kid in element.kids]
        if element.role == "L":
            found += [f"list {element.id[0]} holds {role}" for role in inside if role not in ("LI", "Caption", "L")]
            found += [] if "LI" in inside else [f"list {element.id[0]} has no entries"]
        elif element.role == "LI":
            found += [f"list entry {element.id[0]} holds {role}" for role in inside if role not in ("Lbl", "LBody")]
            found += [] if "LBody" in inside else [f"list entry {element.id[0]} has no LBody"]
        else:
            found += [f"{role} stands in {element.tag} {element.id[0]}" for role in inside if role in ("LI", "LBody")]
    return found


def content_once(file: Tagged) -> list[str]:
    """All that is painted is an artifact or stands in the structure once (ISO 14289-1, 7.1; ISO 32000-1, 14.7.4.3).
    An artifact stands in no content and no content in an artifact. Content within a form XObject would have to be
    numbered there and not as the page's own, which is refused."""
    in_tree = Counter(kid for element in file.elements() for kid in element.kids if isinstance(kid, Piece))
    marked = Counter(Piece(mark.page, mark.mcid) for mark in file.marks if mark.mcid is not None)
    found = [f"page {page}: {what} is painted outside all marks" for page, what in file.loose]
    for piece in sorted(in_tree.keys() | marked.keys()):
        if in_tree[piece] != 1:
            found.append(f"page {piece.page}: content {piece.mcid} stands in the structure {in_tree[piece]} times")
        if marked[piece] != 1:
            found.append(f"page {piece.page}: content {piece.mcid} is on the page {marked[piece]} times")
    for mark in file.marks:
        counts = mark.mcid is not None or mark.tag == ARTIFACT
        if counts and mark.inside:
            found.append(f"page {mark.page}: {mark.tag} stands inside {mark.inside}")
        if mark.mcid is not None and mark.in_form:
            found.append(f"page {mark.page}: content {mark.mcid} is numbered in a form as if it were the page's")
    return found


def parent_tree(file: Tagged) -> list[str]:
    """From each piece of content, and each annotation, the parent tree leads to the element that holds it, and to none
    that is not in the structure (ISO 32000-1, 14.7.4.4). A place without content may be null."""
    found: list[str] = []
    known = {NOTHING, *(element.id for element in file.elements())}
    for element in file.elements():
        wrong = [kid for kid in element.kids if isinstance(kid, Piece) and _parent(file, kid) != element.id]
        found += [f"page {kid.page}: the parent of content {kid.mcid} is not {element.tag}" for kid in wrong]
    for key, ids in file.parents.items():
        lost = [id_[0] for id_ in ids if id_ not in known]
        found += [f"entry {key} of the parent tree leads to {id_}, which is not in the structure" for id_ in lost]
    return found


def roles(file: Tagged) -> list[str]:
    """Every tag is a standard one or stands for one by the role map (ISO 14289-1, 7.1)."""
    strange = {element.tag for element in file.elements() if element.role not in STANDARD}
    return [f"{tag} is no standard tag and stands for none" for tag in sorted(strange)]


def annotations(file: Tagged) -> list[str]:
    """Links and other annotations say where they lead, stand in the structure, and are visited in its order
    (ISO 14289-1, 7.18.1 to 7.18.5). A file without annotations is well."""
    found: list[str] = []
    holders = {
        kid: element for element in file.elements() for kid in element.kids if not isinstance(kid, Element | Piece)
    }
    for note in file.annotations:
        holder = holders.get(note.id)
        name = f"page {note.page}: the {note.kind} annotation {note.id[0]}"
        if not note.contents.strip() and not (holder and holder.alt.strip()):
            found.append(f"{name} does not say what it is")
        if holder is None or note.parent is None or file.parents.get(note.parent) != (holder.id,):
            found.append(f"{name} is not in the structure")
        elif note.kind == "Link" and holder.role != "Link":
            found.append(f"{name} stands in {holder.tag}")
        if file.orders[note.page] != "S":
            found.append(f"page {note.page}: its annotations are not visited in the order of the structure")
    return found


def list_numbering(data: bytes) -> list[str]:
    """A list whose entries have a Lbl says how it is numbered (ISO 14289-1, 7.6). WeasyPrint 70 does not write it, so
    this can hold only for a file that was finished by hand."""
    labelled = [
        element
        for element in tagged(data).elements()
        if element.role == "L" and any(part.role == "Lbl" for entry in element.elements for part in entry.elements)
    ]
    return [f"list {element.id[0]} does not say how it is numbered" for element in labelled if not element.numbering]


def figure_boxes(data: bytes, slack: float = 1.0) -> list[str]:
    """A Figure's BBox lies around its ink, in points from the lower left corner (ISO 32000-1, 14.8.5.4.3).
    WeasyPrint 70 writes CSS pixels from the upper left, so this can hold only for a file that was finished by hand."""
    file, pages = tagged(data), read(data)
    found: list[str] = []
    for figure in (element for element in file.elements() if element.role == "Figure"):
        for piece in (kid for kid in figure.kids if isinstance(kid, Piece)):
            page = pages[piece.page - 1]
            boxes = [thing.box for thing in (*page.glyphs, *page.inks) if thing.mcid == piece.mcid]
            if not boxes or not figure.box:
                found.append(f"figure {figure.id[0]} has no {'box' if boxes else 'ink'}")
                continue
            ink, (x0, y0, x1, y1) = bounds(boxes), figure.box
            over = max(x0 - ink.x0, ink.x1 - x1, (page.height - y1) - ink.top, ink.bottom - (page.height - y0))
            if over > slack:
                found.append(f"figure {figure.id[0]}: its ink reaches {over:.1f} pt out of its box")
    return found


def _parent(file: Tagged, piece: Piece) -> Id | None:
    key = file.keys.get(piece.page)
    ids = file.parents.get(key, ()) if key is not None else ()
    return ids[piece.mcid] if piece.mcid < len(ids) else None
