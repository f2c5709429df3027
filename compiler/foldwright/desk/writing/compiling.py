"""What is made of a text each time it changes, as messages to the browser: problems, parts of the page, plans."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict, replace

from foldwright.authoring.origins import Origin, origins
from foldwright.authoring.plans import Plan, plans_with
from foldwright.authoring.timing import measured_words
from foldwright.desk.offsets import Offsets
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.finding import Finding, Strength, Wrong
from foldwright.measure.length import system_named
from foldwright.outputs.checking import check_every_size
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.live import Live, LivePage
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO, Texts, texts_of
from foldwright.outputs.wishes import wish_of
from foldwright.pipeline import Understood
from foldwright.render.themes import DEFAULT_THEME, built_in_themes
from foldwright.render.web.parts import patch

type Message = dict[str, Any]
_STRENGTHS = {Strength.FAULT: "fault", Strength.MISFIT: "misfit", Strength.THOUGHT: "thought"}


class SheetWish(Struct, frozen=True):
    """How the sheets are wanted: through which look (empty: the studio's), on which paper (the usual one), in which
    units (the recipe's own), in which size (as written)."""

    look: str = ""
    paper: str = ""
    units: str = ""
    size: str = ""

    def of(self, understood: Understood) -> SheetWish:
        """The same with what the recipe says where nobody chose, or chose a size that it has no more."""
        recipe = understood.recipe
        said = recipe.studio.theme.value if recipe.studio.theme else ""
        usual = said if said in built_in_themes() else DEFAULT_THEME
        size = self.size if self.size in recipe.other_sizes else ""
        return SheetWish(self.look or usual, self.paper, self.units or recipe.system.value, size)


class FoundInSize(Struct, frozen=True):
    """What is the matter in the size that is shown, or (`size`, in words) in another and not in that."""

    finding: Finding
    size: str = ""


class Answer(Struct, frozen=True):
    """What came of one text. `live` has no page where there is nothing to make one of, and the last one stays."""

    texts: Texts
    live: LivePage
    marks: Mapping[str, Origin] = {}
    plans: tuple[Plan, ...] = ()
    elsewhere: tuple[FoundInSize, ...] = ()

    @property
    def understood(self) -> Understood | None:
        """The recipe as it is written, if it could be understood."""
        return self.live.understood

    @property
    def faulty(self) -> bool:
        """Whether it has an error, so that nothing is made of it that would be handed on."""
        return any(one.strength is Strength.FAULT for one in self.live.findings)

    @property
    def title(self) -> str:
        """What the recipe is called; empty while it has no title."""
        return self.understood.recipe.title.value if self.understood else ""

    def beneath(self, newer: Answer) -> Answer:
        """This page still, with what was found in a newer text that has none; its numbers stand elsewhere now."""
        return replace(self, texts=newer.texts, live=replace(self.live, findings=newer.live.findings), marks={})

    def since(self, before: Answer | None, number: int) -> Iterator[Message]:
        """What has changed since another answer; all of it since none. The page comes first: it is waited for."""
        if self.live.page is None:
            yield {"is": "page", "number": number, "stale": True}
        else:
            yield page_message(self, before, number)
        yield found_message(self, number)

    def drawn_since(self, before: Answer | None) -> Iterator[Message]:
        """The same of the pieces' plans, and of what in the text their parts come from."""
        offsets = Offsets(self.texts.text or "")
        marks = {
            mark: [[offsets.there(one.start), offsets.there(one.end)] for one in origin.places]
            for mark, origin in self.marks.items()
        }
        yield {"is": "marks", "marks": marks}
        if before is None or before.plans != self.plans:
            plans = [{"piece": one.piece, "title": one.title, "svg": one.svg, "fit": one.fit} for one in self.plans]
            yield {"is": "plans", "plans": plans}


class Compiler:
    """Compiles the texts of one recipe, one after the other."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self.live = Live()

    def whole_page(self, answer: Answer, wish: SheetWish) -> bytes | None:
        """The tutorial as `foldwright build` writes it; None where it cannot be made."""
        asked = wish_of(BuildOptions(only="tutorial", theme=wish.look))
        if isinstance(asked, Wrong):
            return None
        return compile_recipe(answer.texts, asked, self._source.surroundings, wish.size).files.get("tutorial.html")

    def compile(self, text: str, wish: SheetWish) -> Answer:
        """The page, and what is found: what one waits for while one types. Slow enough to be done in a thread."""
        studio = read_texts(self._source).by_name.get(STUDIO)
        texts = texts_of(self._source.slug, text, studio, self._source.name)
        return Answer(texts, self.live.page(texts, self._source.surroundings, wish.look, size=wish.size))

    def drawn(self, answer: Answer, wish: SheetWish) -> Answer:
        """The same with the pieces' plans, and what is found in other sizes, which follow a moment later. Done in the
        same thread."""
        made, text = answer.live, answer.texts.text
        if made.shown is None or made.document is None or text is None:
            return answer
        known = origins(made.shown, text)
        system = system_named(wish.units) or made.shown.recipe.system
        plans = plans_with(known, made.shown, made.document, system)
        return replace(answer, marks=known, plans=plans, elsewhere=tuple(self._elsewhere(answer, wish)))

    def _elsewhere(self, answer: Answer, wish: SheetWish) -> Iterator[FoundInSize]:
        if answer.understood is None or not answer.understood.recipe.other_sizes:
            return
        for size, checked in check_every_size(answer.texts, self._source.surroundings):
            if size != wish.size:
                called = size or catalogue().say("desk.write.size-as-written")
                found = (one for one in checked.findings if one not in answer.live.findings)
                yield from (FoundInSize(one, called) for one in found)


def found_message(answer: Answer, number: int) -> Message:
    """What is found, the worst first, in the program's own words, each at its place as the browser counts."""
    offsets = Offsets(answer.texts.text or "")
    found = (*map(FoundInSize, answer.live.findings), *answer.elsewhere)
    worst_first = sorted(found, key=lambda one: one.finding.strength, reverse=True)
    problems = [_problem(one, answer, offsets) for one in worst_first]
    sizes = answer.understood.recipe.other_sizes if answer.understood else ()
    return {"is": "found", "number": number, "problems": problems, "steps": _steps(answer, offsets), "sizes": sizes}


def _steps(answer: Answer, offsets: Offsets) -> list[Message]:
    """What can be photographed and timed: the finished thing, then each step."""
    recipe, words = answer.understood.recipe if answer.understood else None, catalogue()
    if recipe is None:
        return []
    first = recipe.photo.path.value if recipe.photo else ""
    return [
        {"number": 0, "heading": "", "at": 0, "measured": "", "photo": first},
        *(
            {
                "number": step.number,
                "heading": step.heading.value,
                "at": offsets.there(step.heading.place.start),
                "measured": measured_words(words, [one.value for one in step.measured]),
                "photo": step.photo.path.value if step.photo else "",
            }
            for step in recipe.steps
        ),
    ]


def _problem(found: FoundInSize, answer: Answer, offsets: Offsets) -> Message:
    told = tell(found.finding, answer.texts.by_name)
    says = catalogue().say("desk.write.in-size", size=found.size, says=told.says) if found.size else told.says
    place = found.finding.place
    here = place is not None and place.file == answer.texts.name
    start, end = (offsets.there(place.start), offsets.there(place.end)) if place and here else (0, 0)
    mends = [{"label": one.label, "changes": offsets.changes(one.changes)} for one in told.mends if here]
    return {
        "code": told.code,
        "strength": _STRENGTHS[told.strength],
        "line": told.line if here else 0,
        "where": "" if here else told.where or told.file,
        "start": start,
        "end": end,
        "says": says,
        "understood": told.understood,
        "remedy": told.remedy,
        "mends": mends,
    }


def page_message(answer: Answer, before: Answer | None, number: int) -> Message:
    """The parts of the page that differ from before, its frame and its head where they do."""
    page, known = answer.live.page, before.live.page if before else None
    assert page is not None
    changes = patch(known, page)
    return {"is": "page", "number": number, "stale": False, "title": answer.title, **asdict(changes)}
