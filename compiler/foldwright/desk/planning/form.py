"""The form of an event: its fields are the options of an event, each shown by its kind, and what was typed into them as
those options."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import fields

from foldwright.document.catalogue import catalogue
from foldwright.event.options import KitOptions
from foldwright.finding import Wrong
from foldwright.render.paper.papers import PAPERS
from foldwright.render.themes import built_in_themes

PARTS = {
    "making": ("spare", "sample"),
    "day": ("called", "on", "begins", "at"),
    "people": ("helpers", "learning", "per-table"),
    "money": ("fee", "margin", "cost"),
    "stock": ("stock", "trim", "ends"),
    "guests": ("names", "name-line"),
    "papers": ("units", "paper", "labels", "theme", "fewest", "effort"),
}
"""Which fields stand together. How many of each recipe, and in which size, is asked before them."""
_KINDS = {
    "on": "date",
    "stock": "lines",
    "names": "lines",
    "name-line": "tick",
    "units": "choice",
    "paper": "choice",
    "theme": "choice",
    "fewest": "choice",
}
_USUAL_KITS = "12"
"""So many are planned until something else is typed, as a plan shows best what may be changed."""
STOCK_FILE, GUESTS_FILE = "stock.yaml", "guests.csv"
"""What findings call the two lists."""
_LISTS = {"stock": STOCK_FILE, "names": GUESTS_FILE}
_TYPED = re.compile('"([^"]*)"')

type Typed = Mapping[str, str]
"""What stands in each field, by its name."""


class FormField(Struct, frozen=True):
    """A field as it is shown. `choices` are values, each with its words."""

    name: str
    kind: str
    value: str
    label: str
    remark: str = ""
    choices: tuple[tuple[str, str], ...] = ()


class AskedRecipe(Struct, frozen=True):
    """A recipe that can be planned: its title, and the names of its other sizes."""

    slug: str
    title: str
    sizes: tuple[str, ...] = ()

    @property
    def kits(self) -> str:
        """The name of the field for how many."""
        return f"for-{self.slug}"

    @property
    def size(self) -> str:
        return f"size-{self.slug}"


def form_of(recipes: Sequence[AskedRecipe], typed: Typed) -> dict[str, list[FormField]]:
    """All fields by the part in which they stand, filled with what was typed."""
    parts = {"kits": list(_of_recipes(recipes, typed))}
    for part, names in PARTS.items():
        parts[part] = [_field(name, typed) for name in names]
    return parts


def field_names(recipes: Sequence[AskedRecipe]) -> frozenset[str]:
    """Every field of the form."""
    of_recipes = (name for one in recipes for name in (one.kits, one.size))
    return frozenset((*of_recipes, *(name for names in PARTS.values() for name in names)))


def _of_recipes(recipes: Sequence[AskedRecipe], typed: Typed) -> Iterator[FormField]:
    words = catalogue()
    for one in recipes:
        label = words.say("desk-plan.kits", recipe=one.title)
        yield FormField(one.kits, "number", typed.get(one.kits, _USUAL_KITS), label)
        if one.sizes:
            choices = (("", words.say("desk-plan.choice.size")), *((size, size) for size in one.sizes))
            label = words.say("desk-plan.size", recipe=one.title)
            yield FormField(one.size, "choice", typed.get(one.size, ""), label, choices=choices)


def _field(name: str, typed: Typed) -> FormField:
    words = catalogue()
    own = f"desk-plan.remark.{name}"
    remark = in_fields(words.say(own if words.has(own) else f"command.kit.{name}"))
    value, kind = typed.get(name, ""), _KINDS.get(name, "text")
    return FormField(name, kind, value, label_of(name), remark, _choices(name) if kind == "choice" else ())


def label_of(name: str) -> str:
    """What a field is called; empty where there is none of the name."""
    return catalogue().below("desk-plan.label").get(name, "")


def _choices(name: str) -> tuple[tuple[str, str], ...]:
    words = catalogue()
    values = {
        "units": ("imperial", "metric"),
        "paper": tuple(paper.name for paper in PAPERS if not paper.small),
        "theme": built_in_themes(),
        "fewest": ("sheets", "cuts"),
    }[name]
    worded = words.below("desk-plan.choice")
    none = words.say(f"desk-plan.choice.{name}")
    return (("", none), *((value, worded.get(f"{name}-{value}".replace(" ", "-"), value)) for value in values))


# --- what was typed ---------------------------------------------------------------------------------------------------


def options_of(typed: Typed, kits: str) -> KitOptions:
    """The same as options; lists are told by the names of their files."""
    said: dict[str, str | bool] = {"kits": kits}
    for option in fields(KitOptions):
        name = option.encode_name.replace("_", "-")
        value = typed.get(name, "").strip()
        if value and any(name in names for names in PARTS.values()):
            said[option.name] = True if _KINDS.get(name) == "tick" else _LISTS.get(name, value)
    return KitOptions(**said)  # type: ignore[arg-type]


def complaint_of(wrong: Wrong) -> tuple[str, str]:
    """The field that something wrong belongs to, and the words of the command without what was typed; no field where
    it belongs to none."""
    facts = dict(wrong.facts)
    text = catalogue().say(f"command.wrong.{wrong.message}", **facts)
    option, colon, rest = text.partition(":")
    name = option.removeprefix("--").split(" ")[0]
    if not (option.startswith("--") and colon):
        return "", text
    heads = (f"--{name} {facts.get('said', '')}: ", f"--{name}: ")
    rest = next((text.removeprefix(head) for head in heads if text.startswith(head)), rest.strip())
    return name, in_fields(rest[:1].upper() + rest[1:])


def in_fields(text: str) -> str:
    """Words of the command that speak of its options, for who sees fields instead and types no quotes round words."""
    words = catalogue()
    for name in sorted(words.below("desk-plan.label"), key=len, reverse=True):
        text = text.replace(f"--{name}", words.say("desk-plan.field", label=label_of(name)))
    return _TYPED.sub("“\\1”", text)
