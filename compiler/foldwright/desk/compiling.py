"""What is made of a text each time it changes, as messages to the browser: problems, parts of the page, plans."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict, replace

from foldwright.desk.offsets import Offsets
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.finding import Finding, Strength, Wrong
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.live import Live
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO, Texts, texts_of
from foldwright.outputs.wishes import wish_of
from foldwright.pipeline import Understood
from foldwright.render.themes import DEFAULT_THEME, built_in_themes
from foldwright.render.web.parts import PageParts, patch

type Message = dict[str, Any]
_STRENGTHS = {Strength.FAULT: "fault", Strength.MISFIT: "misfit", Strength.THOUGHT: "thought"}


class SheetWish(Struct, frozen=True):
    """How the sheets are wanted: through which look (empty: the studio's), on which paper (the usual one), in which
    units (the recipe's own)."""

    look: str = ""
    paper: str = ""
    units: str = ""

    def of(self, understood: Understood) -> SheetWish:
        """The same with what the recipe says where nobody chose."""
        recipe = understood.recipe
        said = recipe.studio.theme.value if recipe.studio.theme else ""
        usual = said if said in built_in_themes() else DEFAULT_THEME
        return SheetWish(self.look or usual, self.paper, self.units or recipe.system.value)


class Answer(Struct, frozen=True):
    """What came of one text. Where there is no `page` to show, the last one stays."""

    texts: Texts
    understood: Understood | None
    findings: tuple[Finding, ...]
    faulty: bool
    page: PageParts | None = None

    @property
    def title(self) -> str:
        """What the recipe is called; empty while it has no title."""
        return self.understood.recipe.title.value if self.understood else ""

    def beneath(self, newer: Answer) -> Answer:
        """This page still, with what was found in a newer text that has none."""
        return replace(newer, page=self.page)

    def since(self, before: Answer | None, number: int) -> Iterator[Message]:
        """What has changed since another answer."""
        yield found_message(self, number)
        yield page_message(self, before, number)


class Compiler:
    """Compiles the texts of one recipe, one after the other."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self.live = Live()

    def texts(self, text: str) -> Texts:
        """The text with the studio as it is on disk now."""
        studio = read_texts(self._source).by_name.get(STUDIO)
        return texts_of(self._source.slug, text, studio, self._source.name)

    def compile(self, text: str, look: SheetWish) -> Answer:
        """Everything that is shown while one types. Slow enough to be done in a thread."""
        texts = self.texts(text)
        made = self.live.page(texts, self._source.surroundings, look.look)
        faulty = any(finding.strength is Strength.FAULT for finding in made.findings)
        return Answer(texts, made.understood, made.findings, faulty, made.page)

    def whole_page(self, answer: Answer, look: SheetWish) -> bytes | None:
        """The tutorial as `foldwright build` writes it."""
        wish = wish_of(BuildOptions(only="tutorial", theme=look.look))
        if isinstance(wish, Wrong):
            return None
        return compile_recipe(answer.texts, wish, self._source.surroundings).files.get("tutorial.html")


def found_message(answer: Answer, number: int) -> Message:
    """What is found, in the program's own words, each at its place as the browser counts."""
    offsets = Offsets(answer.texts.text or "")
    return {"is": "found", "number": number, "problems": [_problem(one, answer, offsets) for one in answer.findings]}


def _problem(finding: Finding, answer: Answer, offsets: Offsets) -> Message:
    told = tell(finding, answer.texts.by_name)
    place = finding.place
    here = place is not None and place.file == answer.texts.name
    start, end = (offsets.there(place.start), offsets.there(place.end)) if place and here else (0, 0)
    mends = [
        {"label": _label(answer.texts.text or "", mend.changes), "changes": offsets.changes(mend.changes)}
        for mend in (finding.mends if here else ())
    ]
    return {
        "code": told.code,
        "strength": _STRENGTHS[told.strength],
        "line": told.line if here else 0,
        "where": "" if here else told.where or told.file,
        "start": start,
        "end": end,
        "says": told.says,
        "understood": told.understood,
        "remedy": told.remedy,
        "mends": mends,
    }


def _label(_text: str, _changes: object) -> str:
    return catalogue().say("desk.write.mend")


def page_message(answer: Answer, before: Answer | None, number: int) -> Message:
    """What of the page differs from before; `stale` where there is no page of this text."""
    if answer.page is None:
        return {"is": "page", "number": number, "stale": True}
    changes = patch(before.page if before else None, answer.page)
    return {"is": "page", "number": number, "stale": False, "title": answer.title, **asdict(changes)}
