"""Which panel of a blank a name means, and where it lies."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache

from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Strip
from foldwright.geometry.lengths import Ledger, LengthId

_FACES = ("inside of ", "outside of ", "the ")
_NUMBER = re.compile(r"(?:panels?|strips?)?\s*(\d+)")


ROWS_WANTED = {
    "card": (2, 2),
    "gate": (3, 3),
    "tri-fold": (3, 3),
    "accordion": (2, None),
    "sleeve": (3, None),
    "case": (3, 3),
}
"""How many panels a form of one row has: at least, at most; a glue flap is none of them."""


def fits_form(blank: Blank) -> bool:
    """Whether a blank has the rows its form wants. Where not, that is told, and nothing that follows from it."""
    if blank.form in ("tray", "lid"):
        return blank.boxed
    if blank.form not in ROWS_WANTED or blank.made:
        return True
    least, most = ROWS_WANTED[blank.form]
    strips = blank.across if len(blank.across) > 1 else blank.down
    walls = sum(strip.role != "glue flap" for strip in strips)
    return min(len(blank.across), len(blank.down)) == 1 and walls >= least and (most is None or walls <= most)


def whole_face(blank: Blank) -> BlankFace:
    """A blank without folds as one face: all of it."""
    across, down = LengthId(blank.piece, "across", "size"), LengthId(blank.piece, "down", "size")
    return BlankFace(Fraction(0), blank.width, Fraction(0), blank.height, across, down)


def faces_meant(blank: Blank, name: str) -> tuple[BlankFace, ...]:
    """The faces of a name; where none is named the whole piece, or the front of a form that knows which that is."""
    return faces_called(blank, name) if name else (blank.faces[0] if blank.faces else whole_face(blank),)


def every_panel(blank: Blank) -> tuple[BlankFace, ...]:
    """Every panel of a blank; none where those of a form that is worked out are not alike, so that nobody can know
    which are meant.
    """
    if blank.made:
        panels = tuple(face for face in blank.faces if face.name != GLUE_FLAP)
        return panels if len({(face.wide, face.high) for face in panels}) == 1 < len(panels) else ()
    if len(blank.across) == 1 and len(blank.down) == 1:
        return (whole_face(blank),)
    # The corners of a boxed blank are no panels: these lie in the middle row or column.
    crossings = ((row, column) for row in enumerate(blank.down) for column in enumerate(blank.across))
    return tuple(
        BlankFace(one.start, one.end, other.start, other.end, one.length, other.length)
        for (y, other), (x, one) in crossings
        if not blank.boxed or 1 in (x, y)
    )


def faces_called(blank: Blank, name: str) -> tuple[BlankFace, ...]:
    """Every face the name means, in order; empty when there is none of that name.

    A name shared by several panels means all of them. A panel that is named in both rows is where the two cross; one
    of a boxed blank reaches from score to score, not into the corners.
    """
    wanted = plain_name(name)
    whole_name = tuple(face for face in blank.faces if plain_name(face.name) == wanted)
    named = whole_name or tuple(face for face in blank.faces if _answers(face.name, wanted))
    across, down = _called(blank.across, name), _called(blank.down, name)
    if named or not (across or down):
        return named
    whole = whole_face(blank)
    columns: Sequence[Strip | None] = across or (blank.across[1] if blank.boxed else None,)
    rows: Sequence[Strip | None] = down or (blank.down[1] if blank.boxed else None,)
    return tuple(_face(whole, column, row) for column in columns for row in rows)


def _face(whole: BlankFace, across: Strip | None, down: Strip | None) -> BlankFace:
    if across:
        whole = replace(whole, left=across.start, right=across.end, across=across.length)
    return replace(whole, top=down.start, bottom=down.end, down=down.length) if down else whole


def _answers(name: str, wanted: str) -> bool:
    """`front` is called front, `left roof` answers to its last word as well."""
    known = plain_name(name)
    return wanted in (known, known.rsplit(" ", 1)[-1])


def _called(strips: Sequence[Strip], name: str) -> tuple[Strip, ...]:
    """The strips of one row that answer to the name: by their own name, by place and last word, by role, by number."""
    if len(strips) < 2:
        return ()
    wanted = plain_name(name)
    own = [(strip, plain_name(strip.name)) for strip in strips]
    found = (
        tuple(strip for strip, known in own if known and known == wanted),
        tuple(strip for strip, known in own if known and f"{strip.role} {known}" == wanted)[:1],
        tuple(strip for strip, known in own if " " in known and known.rsplit(" ", 1)[1] == wanted),
        tuple(strip for strip in strips if strip.role and strip.role == wanted),
    )
    if first := next(filter(None, found), None):
        return first
    number = _NUMBER.fullmatch(wanted)
    if number and 0 < int(number[1]) <= len(strips):
        return (strips[int(number[1]) - 1],)
    return ()


@lru_cache(maxsize=4096)
def plain_name(name: str) -> str:
    """A panel's name as it is compared: small letters, without `the` and a trailing `panel`."""
    plain = " ".join(name.casefold().split())
    plain = plain.removeprefix("the ")
    return plain.removesuffix(" panels").removesuffix(" panel") or plain


def names_of(blank: Blank) -> tuple[str, ...]:
    """Every name a panel of the blank may be called by, the author's own first."""
    strips = [*blank.across, *blank.down] if len(blank.across) + len(blank.down) > 2 else []
    own = [strip.name for strip in strips if strip.name]
    faces = [face.name for face in blank.faces]
    return tuple(dict.fromkeys([*own, *faces, *(strip.role for strip in strips if strip.role)]))


def tell_no_panel(blank: Blank, panel: str, place: Place, ledger: Ledger, strength: Strength = Strength.MISFIT) -> None:
    """A panel is named that the blank has not: with the nearest name if one is near, with all there are otherwise.

    Nothing is told of a blank some of whose facts could not be read or are missing: the panel may be among them.
    """
    if blank.unsure or not fits_form(blank):
        return
    known = names_of(blank)
    if not known:
        ledger.findings.append(Finding.of("no-panels", strength, place, piece=blank.piece, panel=panel))
        return
    near = nearest(panel, known)
    code = "no-such-panel" if near else "no-such-panel-at-all"
    ledger.findings.append(Finding.of(code, strength, place, piece=blank.piece, panel=panel, nearest=near, known=known))


def tell_which_panels(blank: Blank, place: Place, ledger: Ledger) -> None:
    """`on every panel` is said of a form whose panels are not alike."""
    if not blank.unsure:
        known = tuple(name for name in names_of(blank) if name != GLUE_FLAP)
        ledger.misfit("every-panel-unclear", place, piece=blank.piece, said="on every panel", known=known)


def split_place(text: str, pieces: Iterable[str]) -> tuple[str, str] | None:
    """`outside of base front` as (`base`, `front`): the longest piece name it begins with; None when there is none."""
    plain = " ".join(text.casefold().split())
    for head in _FACES:
        plain = plain.removeprefix(head)
    best = ""
    for name in pieces:
        known = " ".join(name.casefold().split())
        if (plain == known or plain.startswith(known + " ")) and len(known) > len(best):
            best, found = known, name
    if not best:
        return None
    return found, plain[len(best) :].strip()


def nearest(word: str, known: Iterable[str]) -> str:
    """The known name most like the word, or nothing."""
    from difflib import get_close_matches

    by_plain = {name.casefold(): name for name in known}
    close = get_close_matches(word.casefold(), by_plain, 1, 0.5)
    return by_plain[close[0]] if close else ""
