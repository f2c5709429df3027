"""A draft as the text of a recipe: the facts, and steps that leave every number to the program."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from fractions import Fraction

from foldwright.begin.draft.model import Draft, Panels
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.facts.writing import write_cross, write_length, write_panels, write_row

_ROLLED = frozenset({"tube", "cone"})
_TIED = frozenset({"pyramid"})
"""What twine through its tips holds together."""
_TAPED = frozenset({"tray", "lid", "sleeve", "envelope"})
"""Forms that hold together only when something sticks them."""
_FOLDED = frozenset({"card", "accordion", "gate", "tri-fold", "rosette"})
_FIRST = ("from", "count", "size", "across", "down", "flaps", "corners")
"""The facts a piece begins with, as the reference lists them; `holds` comes last."""
_TAPE_WIDTH = {System.IMPERIAL: "1/4 in", System.METRIC: "6 mm"}
_WHOLE_TAPE = {System.IMPERIAL: Length.of(1, Unit.INCH), System.METRIC: Length.of(10, Unit.MILLIMETRE)}
"""Tape is told in whole inches or centimetres, and a little more than is needed."""

STEPS = {
    "cut": ("cut {piece}", 1),
    "cut-and-score": ("cut and score {piece}", 3),
    "flaps": ("slit {piece}", 2),
    "corners": ("slit {piece}", 2),
    "make-tray": ("fold {piece}, tape {piece}", 4),
    "make-corner": ("fold {piece}, tape {piece}", 4),
    "make-sleeve": ("fold {piece}, tape {piece}", 3),
    "make-envelope": ("fold {piece}, tape {piece}", 3),
    "fold-card": ("fold {piece}", 1),
    "fold-accordion": ("fold {piece}", 2),
    "fold-gate": ("fold {piece}", 1),
    "fold-tri-fold": ("fold {piece}", 1),
    "fold-rosette": ("fold {piece}, tape {piece}, press {piece}", 8),
    "fold-any": ("fold {piece}", 2),
    "punch": ("punch {piece}", 1),
    "stick-on": ("stick {piece} to {other}", 1),
    "slide-in": ("slide {piece} into {other}", 1),
    "make": ("fold {piece}, tape {piece}", 5),
    "roll": ("roll {piece}, tape {piece}", 3),
    "wrap": ("wrap {piece}", 2),
    "fill": ("fill {piece}", 1),
    "fill-with": ("fill {piece}", 1),
    "tie": ("tie {piece}", 1),
    "put-on": ("check {piece}", 1),
}
"""What is done in each step, as a recipe says it, and for how many minutes (common practice, no source)."""
WIDE = 118
"""Characters in a line of words."""


def write_draft(draft: Draft, words: Catalogue, sheet: str = "", hush: Sequence[str] = ()) -> str:
    """The whole text of the recipe, on `sheet` (the draft's first when nobody says), with suggestions hushed."""
    facts = "\n".join(_facts(draft, words, sheet or draft.sheets[0], hush))
    intro = draft.intro or words.say("draft.intro.any", card=draft.card)
    tips = f"## {words.say('draft.tips-heading')}", words.say("draft.tips")
    return "\n\n".join((f"---\n{facts}\n---", intro, *_steps(draft, words), *tips)) + "\n"


# --- facts ----------------------------------------------------------------------------------------------------------


def _facts(draft: Draft, words: Catalogue, sheet: str, hush: Sequence[str]) -> Iterator[str]:
    top = (
        ("title", draft.title),
        ("summary", draft.summary),
        ("makes", _makes(draft, words)),
        ("measured in", "inches" if draft.system is System.IMPERIAL else "millimetres"),
        ("level", draft.level),
        ("hush", ", ".join(hush)),
    )
    yield from (f"{word}: {value}" for word, value in top if value)
    yield from ("", "supplies:")
    yield f"  {draft.card}: " + ", ".join(fact for fact in ("cardstock", draft.card_facts, f"sheet {sheet}") if fact)
    if tape := _tape(draft):
        yield "  " + words.say("draft.tape", width=_TAPE_WIDTH[draft.system], use=write_length(tape))
    yield from (f"  {one.name}: {one.facts}" for one in draft.supplies)
    yield from ("", "tools:", *(f"  - {words.say(f'draft.tool.{tool}')}" for tool in _tools(draft)))
    yield from ("", *write_pieces(draft))


def write_pieces(draft: Draft) -> Iterator[str]:
    """The lines under `pieces:`, with that line before them."""
    yield "pieces:"
    for part in draft.parts:
        yield f"  {part.name}:"
        yield from (f"    {word}: {value}" for word, value in _facts_of(part, draft))


def _facts_of(part: Panels, draft: Draft) -> Iterator[tuple[str, str]]:
    facts = {"from": draft.card} if part.is_made else {"from": draft.card, "size": write_cross(part.size)}
    for side, row, names in (("across", part.across, part.across_names), ("down", part.down, part.down_names)):
        if len(row) > 1:
            facts[side] = write_panels(row, names)
    if part.joined:
        trim = f", trimmed {write_length(part.trim)}" if part.trim else ""
        facts["flaps"] = f"joined to {write_row(part.joined)}{trim}"
    facts |= dict(part.facts)
    inside = [one.name for one in draft.supplies if one.step == "fill" and one.piece == part.name]
    if inside:
        facts["holds"] = ", ".join(inside)
    yield from sorted(facts.items(), key=lambda fact: _FIRST.index(fact[0]) if fact[0] in _FIRST else len(_FIRST))


def _makes(draft: Draft, words: Catalogue) -> str:
    """`1 box`: what the first piece is made into."""
    key = f"draft.made.{draft.parts[0].form}"
    return words.say(key if words.has(key) else "draft.made.other")


def _tape(draft: Draft) -> Length | None:
    needed = sum((mm for part in draft.parts for mm in _strips(part)), Fraction(0))
    whole = _WHOLE_TAPE[draft.system]
    return Length(-(-needed // whole.mm) * whole.mm, whole.unit) if needed else None


def _strips(part: Panels) -> Iterator[Fraction]:
    """How long (mm) its strips of tape are: four at the corners of a box, one along a sleeve, two on an envelope."""
    if part.form in _TIED:
        return
    if part.is_made:
        # Along its glue flap, and across its bottom.
        yield from (part.size[1].mm / 2, part.size[0].mm / 4)
    elif part.form in ("tray", "lid"):
        yield from (min(part.across[0], part.down[0]).mm,) * 4
    elif part.form == "rosette":
        # Its ends.
        yield part.size[1].mm
    elif part.form == "sleeve":
        # Along the side that is not scored.
        yield part.size[1 if len(part.across) > 1 else 0].mm
    elif part.form == "envelope":
        yield from (part.down[-1].mm,) * 2
    elif part.form == "band":
        yield part.size[1].mm


def _tools(draft: Draft) -> Iterator[str]:
    scored = any(_is_scored(part) for part in draft.parts)
    yield "scoring-trimmer" if scored else "trimmer"
    if scored:
        yield "bone-folder"
    if any(part.joined or part.fact("flaps") or part.fact("corners") or part.is_made for part in draft.parts):
        yield "scissors"
    if any(part.fact("holes").startswith("round") for part in draft.parts):
        yield "punch"


# --- steps ----------------------------------------------------------------------------------------------------------


def _steps(draft: Draft, words: Catalogue) -> Iterator[str]:
    """The heading, the facts and the words of every step, in turn."""
    for name, slots in _named_steps(draft):
        do, minutes = STEPS[name]
        uses = f"with: {slots['supply']}\n" if "supply" in slots else ""
        form = slots.pop("form", "")
        yield f"## {words.say(f'draft.heading.{name}', **slots)}"
        yield f"```step\ndo: {do.format(**slots)}\ntime: {minutes} min\n{uses}```"
        key = f"draft.text.{form or name}"
        if words.has(key):
            text = textwrap.fill(words.say(key, **slots), WIDE, break_on_hyphens=False)
            trim = words.say("draft.trim", trim=slots["trim"]) if slots.get("trim") else ""
            yield f"{text}\n{trim}".rstrip()


def _named_steps(draft: Draft) -> Iterator[tuple[str, dict[str, str]]]:
    """The steps by name, each with what it is about."""
    for part in draft.parts:
        for name in _steps_of(part):
            trim = {"trim": write_length(part.trim)} if part.trim and name == "flaps" else {}
            way = {"make": "make", "roll": "make", "fold-any": "fold"}.get(name) if part.is_made else None
            made = {"form": f"{way}-{part.form.replace(' ', '-')}"} if way else {}
            yield name, {"piece": part.name, **trim, **made}
    for word, name in (("goes on", "stick-on"), ("slides in", "slide-in")):
        yield from ((name, {"piece": one, "other": other}) for one, other in draft.pairs(word))
    filling = [one.piece for one in draft.supplies if one.step == "fill"]
    for one in draft.supplies:
        # Several kinds go in one after the other, each with a picture of its own.
        name = "fill-with" if one.step == "fill" and filling.count(one.piece) > 1 else one.step
        tips = {"form": "tie-pyramid"} if name == "tie" and one.piece in _TIED else {}
        yield name, {"piece": one.piece, "supply": one.name, "thing": one.called or one.name, **tips}
    yield from (("put-on", {"piece": lid, "other": base}) for lid, base in draft.pairs("fits over"))


def _is_scored(part: Panels) -> bool:
    return part.scored or (part.is_made and part.form not in _ROLLED)


def _steps_of(part: Panels) -> Iterator[str]:
    flaps = bool(part.joined or part.fact("flaps"))
    yield "cut-and-score" if _is_scored(part) else "cut"
    if flaps:
        yield "flaps"
    elif part.fact("corners"):
        yield "corners"
    if part.is_made and part.form not in _TIED:
        yield "roll" if part.form in _ROLLED else "make"
    elif part.form in _TAPED:
        form = "tray" if part.form == "lid" else part.form
        yield "make-corner" if form == "tray" and not flaps else f"make-{form.replace(' ', '-')}"
    elif part.form in _FOLDED:
        yield f"fold-{part.form}"
    elif _is_scored(part) and part.fact("fold"):
        yield "fold-any"
    if part.fact("holes").startswith("round"):
        yield "punch"
