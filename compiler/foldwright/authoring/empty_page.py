"""An empty page: the least that a recipe has, sound as it stands, with one flat piece and one step to begin with."""

from __future__ import annotations

from foldwright.begin.draft.begun import begin
from foldwright.begin.draft.model import SHEETS, UNIT, WEIGHTS, Draft, Panels
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length, System
from foldwright.recipe.model import Studio

_SIZE = {System.IMPERIAL: (3, 4), System.METRIC: (80, 100)}


def empty_page(words: Catalogue, studio: Studio | None, system: System, title: str = "") -> str:
    """Its text, in the units that are wanted, on a sheet that is sold there; it has a title of its own if it is given
    none."""
    across, down = (Length.of(number, UNIT[system]) for number in _SIZE[system])
    said = {name: words.say(f"authoring.page.{name}") for name in ("title", "summary", "piece", "intro")}
    draft = Draft(
        title=title or said["title"],
        summary=said["summary"],
        system=system,
        card=words.say("authoring.named.supply-card"),
        card_facts=f"weight {WEIGHTS[system]}",
        sheets=SHEETS[system],
        parts=(Panels(said["piece"], "", (across,), (down,)),),
        level="beginner",
        intro=said["intro"],
    )
    return begin(draft, "recipe.md", "recipe", studio).text
