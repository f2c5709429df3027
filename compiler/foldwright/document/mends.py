"""A mend in a few words, short enough for a button: what it types, adds or deletes."""

from __future__ import annotations

import re

from foldwright.document.catalogue import Catalogue
from foldwright.finding import Mend, Place
from foldwright.finding.changes import Change, changed
from foldwright.recipe.facts.unprintable import TURNING, UNPRINTABLE, printable

_LONGEST = 48
_GLUED = re.compile(r"[^\s,;|()\[\]{}]")
_UNSEEN = re.compile(f"(?:{UNPRINTABLE.pattern}|{TURNING.pattern})+")
_AROUND = " \t\n,;"


def label(mend: Mend, place: Place, text: str, words: Catalogue) -> str:
    """What a mend does, said to who may have it done. Of a line other than that of the `place` the whole is shown."""
    first, last = min(mend.changes), max(mend.changes)
    old, new = text[first.start : first.end], first.new
    count = len(mend.changes)
    alike = len({(text[one.start : one.end], one.new) for one in mend.changes}) == 1
    if mend.hides:
        return words.say("mend.hush")
    if not new and _UNSEEN.fullmatch(old):
        return words.say("mend.delete-unseen")
    if count == 1 and not (old + new).strip() and not text[: first.start].rpartition("\n")[2]:
        return words.say("mend.begin-at", count=len(new))
    if alike and not old:
        return _added(first, count, text, words)
    if not any(one.new for one in mend.changes):
        return _deleted(old, words)
    line_start, line_end = text.rfind("\n", 0, first.start) + 1, (text + "\n").index("\n", last.end)
    if line_end < place.start or place.end < line_start:
        line = changed(text[:line_end], mend.changes)[line_start:]
        return words.say("mend.type-line", new=_short(line))
    whole = new if alike else changed(text[: last.end], mend.changes)[first.start :]
    return words.say("mend.type", new=_short(whole))


def _added(change: Change, count: int, text: str, words: Catalogue) -> str:
    new = change.new
    if not new.strip():
        return words.say("mend.push-in", count=count) if count > 1 else words.say("mend.add-space")
    if "\n" in new:
        return words.say("mend.add-line", new=_short(new))
    start, end = _glued(change, text)
    if (start, end) != (change.start, change.end):
        return words.say("mend.type", new=_short(text[start : change.start] + new + text[change.end : end]))
    bare = new.strip(_AROUND)
    return words.say("mend.add", new=_short(bare))


def _glued(change: Change, text: str) -> tuple[int, int]:
    """The word that what is added stands in, where nothing parts them."""
    start, end = change.start, change.end
    if _GLUED.match(change.new[0]):
        while start and _GLUED.match(text[start - 1]):
            start -= 1
    if change.new[-1].isalnum() or change.new[-1] in "#\\":
        while end < len(text) and _GLUED.match(text[end]) and (text[end].isalnum() or change.new[-1] in "#\\"):
            end += 1
    return start, end


def _deleted(old: str, words: Catalogue) -> str:
    bare = old.strip(_AROUND)
    if "\n" in bare:
        return words.say("mend.delete-lines", old=_short(bare.partition("\n")[0]))
    if old.endswith("\n"):
        return words.say("mend.delete-line", old=_short(bare))
    return words.say("mend.delete", old=_short(bare))


def _short(text: str) -> str:
    """On one line, and no longer than a button."""
    line = printable(" ".join(text.split()))
    return line if len(line) <= _LONGEST else line[: _LONGEST - 1].rstrip() + "…"
