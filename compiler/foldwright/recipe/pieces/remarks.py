"""What may stand after a form's word: `fold: tuck box, reverse, snap-lock bottom`, `fold: tray, good side in`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.known import spellings_in
from foldwright.recipe.facts.phrase import Phrase

_FLAPS = "flaps inside: flaps glued inside; flaps outside: flaps glued outside"
ROSETTE = "rosette"
REMARKS: dict[str, tuple[str, ...]] = {
    "": ("good side in: inside out; good side out",),
    "tuck box": (
        "straight: straight tuck; reverse: reverse tuck",
        """tuck bottom: tucked bottom; snap-lock bottom: snap lock bottom, snap bottom, snap-lock, 1-2-3 bottom;
        automatic bottom: auto bottom, crash-lock bottom, crash lock bottom, crash-lock; glued bottom: plain bottom""",
    ),
    "cone": ("cut off: truncated", "slant: slanting, slant height, along the slant"),
    "accordion": ("first fold up; first fold down", ROSETTE),
    "hexagonal box": (_FLAPS,),
    "octagonal box": (_FLAPS,),
    "pyramid": ("no holes: without holes; holes: tie holes",),
    "prism": ("# sides: # sided, #-sided, #-sides",),
    "gift bag": ("no hem; hem ~: ~ hem", "handles: handle holes; no handles"),
    "pocket": ("thumb notch: notch, half-moon notch, thumb hole; no notch",),
    "turned in": ("turn-in ~: ~, by ~, turn in ~, ~ turn in, ~ turn-in, ~ all round, by ~ all round",),
}
"""By form, those of every form first: of each list one may be said. `#` stands for any number, `~` for any length."""
_BEFORE = re.compile(r"(?:with|and|the|a|an)\s+", re.IGNORECASE)
_LENGTH = re.compile(r"[\d¼½¾⅛⅜⅝⅞][^a-z\"”″]*(?:mm|cm|in(?:ch(?:es)?)?\b|[\"”″])")
_COUNT = re.compile(r"\d+")


def read_remarks(form: str, said: Sequence[Phrase], complaints: Complaints) -> tuple[str, ...]:
    """Each remark by its own word; one that is not known, or says another than one before it, is complained of."""
    lists = [spellings_in(table) for table in (*REMARKS[""], *REMARKS.get(form, ()))]
    found: dict[int, str] = {}
    for phrase in said:
        plain = _plain(phrase.plain)
        length, count = _LENGTH.search(plain), _COUNT.search(plain)
        word, mark, number = plain, "~", ""
        if length or count:
            mark, number = ("~", length[0]) if length else ("#", count[0] if count else "")
            word = plain.replace(number, mark, 1)
        at = next((number for number, spellings in enumerate(lists) if word in spellings), None)
        if at is None:
            _tell_unknown(form, phrase, plain, lists, complaints)
            continue
        meant = lists[at][word].replace(mark, number, 1)
        if found.setdefault(at, meant) != meant:
            complaints.fault("remarks-differ", phrase, form=form, first=found[at])
    return tuple(found.values())


def _plain(text: str) -> str:
    plain = " ".join(text.casefold().split())
    while opening := _BEFORE.match(plain):
        plain = plain[opening.end() :]
    return plain


def _tell_unknown(
    form: str, phrase: Phrase, plain: str, lists: Sequence[dict[str, str]], complaints: Complaints
) -> None:
    """A slip of the keys would silently make another thing; of other words nothing is known to follow."""
    near = nearest(plain, [spelling for spellings in lists for spelling in spellings])
    if near:
        complaints.fault("remark-misspelt", phrase, form=form, nearest=near)
    else:
        known = dict.fromkeys(word for spellings in lists for word in spellings.values())
        complaints.thought("new-remark", phrase, form=form, known=tuple(known))
