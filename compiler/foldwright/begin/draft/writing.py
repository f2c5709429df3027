"""A draft as the text of a recipe: the facts, and steps that leave every number to the program."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.begin.draft.model import Draft, DraftPiece
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import System

_FOLDED_AND_TAPED = frozenset({"tray", "lid", "sleeve", "envelope"})
"""Forms that hold together only when something sticks them."""
_FOLDED = frozenset({"card", "accordion", "gate", "tri-fold"})
_UNITS = {System.IMPERIAL: "inches", System.METRIC: "millimetres"}


def write_draft(draft: Draft, words: Catalogue) -> str:
    """The whole text of the recipe."""
    steps = "\n\n".join(_steps(draft, words))
    intro = words.say("draft.intro", card=draft.card)
    return f"---\n{_facts(draft, words)}---\n\n{intro}\n\n{steps}\n\n{words.say('draft.tips')}\n"


# --- facts ----------------------------------------------------------------------------------------------------------


def _facts(draft: Draft, words: Catalogue) -> str:
    top = (
        ("title", draft.title),
        ("summary", draft.summary),
        ("makes", draft.makes or _makes(draft, words)),
        ("measured in", _UNITS[draft.system]),
        ("hush", ", ".join(draft.hush)),
    )
    lines = [f"{word}: {value}" for word, value in top if value]
    lines += ["", "supplies:", f"  {draft.card}: {draft.card_facts}"]
    if draft.tape:
        lines.append("  " + words.say("draft.tape", width=draft.tape_width, use=draft.tape))
    lines += [f"  {one.name}: {one.facts}" for one in draft.supplies]
    lines += ["", "tools:", *(f"  - {tool}" for tool in _tools(draft, words))]
    lines += ["", "pieces:"]
    for part in draft.parts:
        lines += [f"  {part.name}:", *(f"    {word}: {value}" for word, value in part.facts)]
    return "\n".join(lines) + "\n"


def _makes(draft: Draft, words: Catalogue) -> str:
    """`1 box`: what the first piece is made into."""
    key = f"draft.made.{draft.parts[0].form}"
    return words.say(key if words.has(key) else "draft.made.other")


def _tools(draft: Draft, words: Catalogue) -> Iterator[str]:
    scored = any(part.scored for part in draft.parts)
    yield words.say("draft.tool.scoring-trimmer" if scored else "draft.tool.trimmer")
    if any(part.scored for part in draft.parts):
        yield words.say("draft.tool.bone-folder")
    if any(_has_corners(part) for part in draft.parts):
        yield words.say("draft.tool.scissors")


def _has_corners(part: DraftPiece) -> bool:
    return bool(part.fact("flaps") or part.fact("corners"))


# --- steps ----------------------------------------------------------------------------------------------------------


def _steps(draft: Draft, words: Catalogue) -> Iterator[str]:
    for part in draft.parts:
        yield from _steps_of(part, words)
    for part in draft.parts:
        under = next((one.name for one in draft.parts if one is not part and one.name in part.fact("goes on")), "")
        if under:
            yield _step("stick-on", words, piece=part.name, other=under)
    for inner, outer in draft.into:
        yield _step("slide-in", words, piece=inner, other=outer)
    for holder in dict.fromkeys(one.into for one in draft.supplies if one.into):
        things = ", ".join(one.name for one in draft.supplies if one.into == holder)
        yield _step("fill", words, piece=holder, thing=things)
    for lid, base in draft.over:
        yield _step("put-on", words, piece=lid, other=base)


def _steps_of(part: DraftPiece, words: Catalogue) -> Iterator[str]:
    yield _step("cut-and-score" if part.scored else "cut", words, piece=part.name)
    if part.fact("flaps"):
        trim = " " + words.say("draft.trim", trim=part.trim) if part.trim else ""
        yield _step("flaps", words, piece=part.name, trim=trim)
    elif part.fact("corners"):
        yield _step("corners", words, piece=part.name)
    if part.form in _FOLDED_AND_TAPED:
        form = "tray" if part.form == "lid" else part.form
        own = "corner" if form == "tray" and not part.fact("flaps") else form
        yield _step(f"make-{own}", words, piece=part.name)
    elif part.form in _FOLDED:
        yield _step(f"fold-{part.form}", words, piece=part.name)
    elif part.scored and part.fact("fold"):
        yield _step("fold-any", words, piece=part.name)


def _step(name: str, words: Catalogue, **slots: str) -> str:
    return words.say(f"draft.step.{name}", **slots).strip()
