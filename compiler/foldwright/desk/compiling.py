"""What is made of a text each time it changes, as messages to the browser: problems, parts of the page, plans."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from foldwright.desk.offsets import Offsets
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.finding import Finding, Strength
from foldwright.outputs.checking import check_texts
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO, Texts, texts_of
from foldwright.outputs.wishes import wish_of
from foldwright.pipeline import Understood
from foldwright.render.themes import DEFAULT_THEME, built_in_themes

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


class Part(Struct, frozen=True):
    """A part of the tutorial, by its key."""

    key: str
    html: str


class Answer(Struct, frozen=True):
    """What came of one text. Without `parts` there is no page to show, and the last one stays."""

    texts: Texts
    understood: Understood | None
    findings: tuple[Finding, ...]
    faulty: bool
    head: str = ""
    parts: tuple[Part, ...] = ()
    page: str = ""
    """The whole page, as `foldwright build` writes it."""

    @property
    def title(self) -> str:
        """What the recipe is called; empty while it has no title."""
        return self.understood.recipe.title.value if self.understood else ""

    def beneath(self, newer: Answer) -> Answer:
        """This page still, with what was found in a newer text that has none."""
        return replace(newer, head=self.head, parts=self.parts, page=self.page)

    def since(self, before: Answer | None, number: int) -> Iterator[Message]:
        """What has changed since another answer."""
        yield found_message(self, number)
        yield page_message(self, before, number)


class Compiler:
    """Compiles the texts of one recipe, one after the other."""

    def __init__(self, source: Source) -> None:
        self._source = source

    def texts(self, text: str) -> Texts:
        """The text with the studio as it is on disk now."""
        studio = read_texts(self._source).by_name.get(STUDIO)
        return texts_of(self._source.slug, text, studio, self._source.name)

    def compile(self, text: str, look: SheetWish) -> Answer:
        """Everything that is shown while one types. Slow enough to be done in a thread."""
        texts = self.texts(text)
        wish = wish_of(BuildOptions(only="tutorial", theme=look.look))
        made = compile_recipe(texts, wish, self._source.surroundings)  # type: ignore[arg-type]
        html = made.files.get("tutorial.html", b"").decode()
        head, _, rest = html.partition("<body>")
        body = rest.partition("</body>")[0]
        return Answer(
            texts,
            check_texts(texts, self._source.surroundings).understood,
            made.findings,
            made.faulty,
            head,
            (Part("body", body),) if html else (),
        )


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
    """The page's parts that differ from before, and the order of all; `stale` where there is no page of this text."""
    if not answer.parts:
        return {"is": "page", "number": number, "stale": True}
    known = {part.key: part.html for part in before.parts} if before else {}
    message: Message = {
        "is": "page",
        "number": number,
        "stale": False,
        "title": answer.title,
        "order": [part.key for part in answer.parts],
        "parts": {part.key: part.html for part in answer.parts if known.get(part.key) != part.html},
    }
    if before is None or before.head != answer.head:
        message["head"] = answer.head
    return message
