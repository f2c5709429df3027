"""What the word under the pointer means: the manual's entry, and what was understood here."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.authoring.manual import Passage, passage_of
from foldwright.authoring.places import Span, line_after, line_start, with_plain_ends
from foldwright.authoring.whereabouts import Whereabouts, whereabouts
from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.meant import tell_meant
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length
from foldwright.measure.reading import UNIT_WORDS
from foldwright.recipe.facts.writing import write_cross
from foldwright.recipe.model import Piece
from foldwright.recipe.pieces.piece import FORM_SPELLINGS
from foldwright.recipe.pieces.placements import PlaceNames
from foldwright.recipe.prose.chapters import section_kind
from foldwright.vocabulary import act_of, kind_of

if TYPE_CHECKING:
    from foldwright.finding import Place
    from foldwright.pipeline import Understood

_WORD = re.compile(r"[^\W_]+(?:['’/.-][^\W_]+)*|[\"”″]")
_HEADING = re.compile(r" {0,3}##?\s+(?P<text>.*?)\s*#*\s*$")
_FORM_ENDS = re.compile(r"\s*(?:,|$)", re.MULTILINE)


class Explanation(Struct, frozen=True):
    """About the `word` between two offsets: Markdown of the manual, a picture of it, and what was understood here."""

    word: str
    start: int
    end: int
    title: str
    text: str = ""
    picture: str = ""
    pictured: str = ""
    understood: str = ""


class _Meant(Struct, frozen=True):
    """What a word is: what it is called, where it stands, and what the manual has on it."""

    title: str
    span: Span
    passage: Passage | None


def explain(text: str, offset: int, understood: Understood | None = None) -> Explanation | None:
    """What is to be said of the word at an offset; None where there is nothing. `understood` is of this very text."""
    text = with_plain_ends(text)
    word = _word_at(text, offset)
    if word is None:
        return None
    meant = _meant(text, word)
    known = _understood(text, word[0], understood) if understood else ""
    if meant is None and understood and not known:
        word, known = _named(text, word, understood)
    if meant is None:
        if not known:
            return None
        meant = _Meant(text[slice(*word)], word, None)
    passage = meant.passage
    picture, pictured, says = (passage.picture, passage.pictured, passage.text) if passage else ("", "", "")
    return Explanation(text[slice(*meant.span)], *meant.span, meant.title, says, picture, pictured, known)


def _word_at(text: str, offset: int) -> Span | None:
    if not 0 <= offset <= len(text):
        return None
    start = line_start(text, offset)
    words = _WORD.finditer(text, start, line_after(text, offset))
    return next((word.span() for word in words if word.start() <= offset <= word.end()), None)


def _meant(text: str, word: Span) -> _Meant | None:
    here = whereabouts(text, word[0])
    if here.room == "words":
        return _heading(text, word) or _unit(text, word) or _act(text, word)
    if here.known and (not here.fact or here.shared) and (fact := _fact_at(text, word, here)):
        return fact
    return _value(text, word, here) if here.fact else None


def _fact_at(text: str, word: Span, here: Whereabouts) -> _Meant | None:
    """The fact whose own word it is, or part of it."""
    assert here.known is not None
    line = text[here.value : line_after(text, word[0])]
    blank = len(line) - len(line.lstrip())
    found = here.known.opening.match(line, blank)
    if found is None or not here.value + found.start(1) <= word[0] < here.value + found.end(1):
        return None
    fact = here.known.word_of(found[1]) or ""
    return _Meant(fact, (here.value + found.start(1), here.value + found.end(1)), passage_of(fact, here.room))


def _value(text: str, word: Span, here: Whereabouts) -> _Meant | None:
    """A form or a kind as a whole; an act or a unit; else the fact it is the value of."""
    ends = _FORM_ENDS.search(text, here.value)
    first = (here.value, ends.start() if ends else len(text))
    said = text[slice(*first)]
    if here.fact == "fold" and word[0] < first[1] and (form := FORM_SPELLINGS.get(said.strip().casefold())):
        return _Meant(form, first, passage_of(form, "form"))
    if here.fact == "kind" and word[0] < first[1] and (kind := kind_of(said)):
        return _Meant(kind.name, first, passage_of("kind", "supply"))
    act = _act(text, word) if here.fact == "do" else None
    return act or _unit(text, word) or _Meant(here.fact, word, passage_of(here.fact, here.room))


def _unit(text: str, word: Span) -> _Meant | None:
    """A unit behind a number."""
    unit = UNIT_WORDS.get(text[slice(*word)].casefold())
    behind = text[: word[0]].rstrip(" -")[-1:].isnumeric()
    return _Meant(unit.symbol, word, passage_of("measured in", "top")) if unit and behind else None


def _act(text: str, word: Span) -> _Meant | None:
    act = act_of(text[slice(*word)])
    return _Meant(act.name, word, passage_of("do", "step")) if act else None


def _heading(text: str, word: Span) -> _Meant | None:
    start = line_start(text, word[0])
    heading = _HEADING.match(text[start : line_after(text, word[0])].rstrip("\n"))
    if heading is None or not heading["text"]:
        return None
    span = (start + heading.start("text"), start + heading.end("text"))
    kind = section_kind(heading["text"])
    return _Meant(heading["text"], span, passage_of(kind.value.replace("-", " ") if kind else "steps", "step"))


# --- what was understood ----------------------------------------------------------------------------------------------


def _understood(text: str, at: int, understood: Understood) -> str:
    """What the number at an offset was taken for, in the words `check --measures` has for it.

    Nothing where the text has changed about it since it was understood.
    """
    words = catalogue()
    for explained in understood.binding.explained:
        if _holds(explained.place, at):
            return tell_meant(explained, words) if _is_said(text, explained.place, explained.said) else ""
    pieces = (piece for piece in understood.recipe.pieces if _is_said(text, piece.name.place, piece.name.value))
    return next((one for piece in pieces for one in _of_piece(piece, at, understood, words)), "")


def _is_said(text: str, place: Place, said: str) -> bool:
    return text[place.start : place.end].split() == said.split()


def _named(text: str, word: Span, understood: Understood) -> tuple[Span, str]:
    """The piece whose name begins with a word, and how large it is."""
    names = PlaceNames.of({piece.name.value: frozenset() for piece in understood.recipe.pieces}, ())
    found = names.opening(text[word[0] : line_after(text, word[0])])
    lengths = understood.flat.lengths.by_id
    size = [lengths.get(LengthId(found[0], side, "size")) for side in ("across", "down")] if found else []
    if found is None or None in size:
        return word, ""
    what = catalogue().say("understood-whole-size.says", piece=found[0])
    return (word[0], word[0] + found[1]), _told(catalogue(), what, *filter(None, size))


def _of_piece(piece: Piece, at: int, understood: Understood, words: Catalogue) -> Iterator[str]:
    """A panel, the size or a hole of a piece, with how long it is."""
    name, lengths = piece.name.value, understood.flat.lengths.by_id
    for side, row in (("across", piece.across), ("down", piece.down)):
        for number, panel in enumerate(row, 1):
            length = lengths.get(LengthId(name, side, "panel", number))
            if _holds(panel.place, at) and length:
                code = "named-panel" if panel.name else "panel"
                what = words.say(f"understood-{code}.says", piece=name, side=side, number=number, panel=panel.name)
                yield _told(words, what, length)
    size = [lengths.get(LengthId(name, side, "size")) for side in ("across", "down")]
    if piece.size and _holds(piece.size.place, at):
        yield _told(words, words.say("understood-whole-size.says", piece=name), *filter(None, size))
    for number, hole in enumerate(piece.holes, 1):
        if _holds(hole.place, at) and hole.value.size:
            yield _told(words, words.say("understood-whole-hole.says", piece=name, number=number), *hole.value.size)


def _told(words: Catalogue, what: str, *lengths: Length) -> str:
    return words.say("authoring.understood.is", what=what, length=write_cross(lengths))


def _holds(place: Place, at: int) -> bool:
    return place.start <= at < place.end
