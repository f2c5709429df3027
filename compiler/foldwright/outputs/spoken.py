"""A recipe checked against the captions of its video: those it names, or those a caller brings."""

from __future__ import annotations

import os
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Checked, check_captions, in_text_order
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder, Refusal, Surroundings

_REFUSED = {Refusal.MISSING: "captions-missing", Refusal.TOO_LARGE: "captions-too-large"}


class CaptionsFile(Struct, frozen=True):
    """A file of captions: what findings call it, its bytes or why there are none, and where that is told."""

    name: str
    data: bytes | Refusal
    place: Place


def heard(texts: Texts, checked: Checked, surroundings: Surroundings, captions: str = "") -> tuple[Texts, Checked]:
    """The same with what the captions say, if there are any: those a caller brings, else those the recipe names."""
    understood = checked.understood
    if understood is None:
        return texts, checked
    named = understood.recipe.captions
    if captions:
        path = Path(captions)
        file = CaptionsFile(captions, Folder(path.parent).read(path.name, MOST_BYTES), Place(captions, 0, 0))
    elif named:
        name = os.path.join(os.path.dirname(texts.name), named.value)
        file = CaptionsFile(name, surroundings.read(named.value, MOST_BYTES), named.place)
    else:
        return texts, checked
    text, found = _read(file)
    if text is not None:
        texts = replace(texts, by_name={**texts.by_name, file.name: text})
        found = check_captions(understood, text, file.name, texts.by_name[texts.name])
    return texts, replace(checked, findings=in_text_order((*checked.findings, *found)))


def _read(file: CaptionsFile) -> tuple[str | None, tuple[Finding, ...]]:
    if not isinstance(file.data, Refusal):
        return decode(file.data, file.name)
    code = _REFUSED.get(file.data, "captions-unread")
    facts = {"file": file.name, "limit": MOST_BYTES // 1024 // 1024}
    return None, (Finding.of(code, Strength.MISFIT, file.place, **facts),)
