"""The versions of a card, the fullest first: what is left out where paper is short, and in which order."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from foldwright.document.model import Document
from foldwright.recipe.words import Keep
from foldwright.render.paper.papers import Paper

_ROOMY, _FAIR = 0.22, 0.18
"""The share of the page that pictures have where all is said, and where little is left out."""
ALWAYS = "always"
"""What a version wants that has words."""


class Version(Struct, frozen=True):
    """One version of a card, and the share of the page that pictures have to take for it to be good enough.

    `sections` are tips and notes at the end, `full_cautions` say what can happen besides how to avoid it, `listed` has
    the supplies as a list with all that is to be known of them. `pictures` is how many are shown, by their rank; the
    finished thing is the first. Of a `strip` the steps are pictures with their headings, and `sizes` are those of the
    pieces, which its words would tell. A step without a picture has its words there, unless it is `bare`. The `code` of
    the address is put to the version that was chosen, if it has room: nothing else is left out for it.
    """

    enough: float
    pictures: int
    sections: bool = True
    full_cautions: bool = True
    tips: bool = True
    summary: bool = True
    listed: bool = True
    tools: bool = True
    supplies: bool = True
    foot: bool = True
    sizes: bool = False
    short: bool = False
    strip: bool = False
    bare: bool = False
    code: bool = False

    @property
    def wordings(self) -> frozenset[str]:
        """The names of the parts it wants."""
        names = (
            "full" if self.full_cautions else "brief",
            *(("heading",) if self.strip else (ALWAYS, *(("short", "briefly") if self.short else ("words", "timed")))),
            "list" if self.listed else "line",
            *(("tip",) if self.tips else ()),
            *(("summary",) if self.summary else ()),
        )
        return frozenset(names)


def versions_for(document: Document, paper: Paper, pictures: int, strips: bool = True) -> tuple[Version, ...]:
    """The versions to try on a paper in turn, when `pictures` can be shown, each thinner than the one before.

    Words give way before pictures: first what is said besides, then on a small paper the lists and the foot. Then
    pictures go, the one needed least first, but never the finished thing. A paper for strips that cannot hold words
    and a picture of every step that has one has a strip of pictures instead, unless it may have no `strips`. Tips an
    author wants to keep go after the pictures.
    """
    tips_last = Keep.TIPS in document.keep and Keep.PICTURES not in document.keep
    fewer = list(_fewer_words(document, paper))
    late = [less for less in fewer if less.keys() & _TIPS] if tips_last else []
    tried = [one := Version(_ROOMY, pictures)]
    for less in fewer:
        if less not in late:
            one = replace(one, enough=_FAIR if one.listed and less.keys() & _FIRST else 0.0, **less)
            tried.append(one)
    leads = len({shown.step for shown in document.shown if shown.step})
    strips = strips and paper.strips and pictures > 1 and leads * 2 >= len(document.steps)
    first = leads + any(not shown.step and not shown.piece for shown in document.shown) if strips else 1
    tried += [one := replace(one, pictures=count) for count in range(pictures - 1, first - 1, -1)]
    stripped = list(_strips(replace(one, pictures=first))) if strips else []
    tried += stripped
    tried += [one := replace(one, **less) for less in late]
    tried += [replace(one, pictures=count) for count in range(one.pictures - 1, 0, -1)]
    # Rather a strip that lacks a picture than no card.
    return (*tried, *(replace(stripped[-1], pictures=count) for count in range(first - 1, 0, -1) if stripped))


_TIPS = {"sections", "tips"}
_FIRST = {"sections", "full_cautions"}
"""What goes while pictures may still be small."""


def _fewer_words(document: Document, paper: Paper) -> Iterator[dict[str, bool]]:
    """What goes one after another."""
    yield {"sections": False}
    yield {"full_cautions": False}
    yield {"tips": False}
    yield {"summary": False, "listed": False}
    if any(len(step.wordings) > 1 for step in document.steps):
        yield {"short": True}
    if paper.small:
        yield from ({"foot": False}, {"tools": False}, {"supplies": False})


def _strips(one: Version) -> Iterator[Version]:
    """Strips of pictures, the fullest first."""
    full = replace(
        one, strip=True, sizes=True, short=False, tips=False, sections=False, foot=True, supplies=True, tools=True
    )
    lean = replace(full, foot=False, supplies=False, tools=False)
    yield full
    yield replace(lean, supplies=True)
    yield lean
    yield (last := replace(lean, sizes=False))
    yield replace(lean, bare=True)
    yield replace(last, bare=True)
