"""Questions of somebody who has a treat and wants something to put it in: they end in one of the proposals."""

from __future__ import annotations

from pathlib import Path

from foldwright.begin.design.designing import design
from foldwright.begin.design.model import FORMS, DesignWish
from foldwright.begin.design.wishing import DesignOptions, Unclear, read_wish
from foldwright.cli.asking import Asking
from foldwright.cli.design import SHOWN, begin_recipe
from foldwright.cli.saying_designed import say_none, say_table
from foldwright.cli.telling import Teller
from foldwright.finding import Wrong
from foldwright.outputs.reading import read_studio_file
from foldwright.recipe.model import Studio

_EXAMPLE = "3 caramels of 1 1/8 x 3/4 x 1/2 in"
_CARD = "white card, 270 g/m2"
_ALL = "all"


def begin_from_treat(title: str, studio_file: Path | None, into: Path) -> int:
    """Ask what goes inside, show what would hold it, begin a recipe of the one that is chosen; the exit status."""
    complaints = Teller("stderr")
    studio = read_studio_file(studio_file)
    asking = Asking()

    def understood(said: str) -> str | Wrong:
        return _wrong(read_wish(DesignOptions((said,)), studio)) or said

    things = asking.ask("", "new.ask-things", _EXAMPLE, understood)
    card = asking.ask("", "design.ask-card", _CARD, lambda said: _wrong(_wish(str(things), said, "", studio)) or said)
    form = asking.ask(
        "",
        "design.ask-form",
        _ALL,
        lambda said: _wrong(_wish(str(things), str(card), said, studio)) or said,
        forms=FORMS,
    )
    for answer in (things, card, form):
        if isinstance(answer, Wrong):
            complaints.words(answer.message, **dict(answer.facts))
            return 2
    wish = _wish(str(things), str(card), str(form), studio)
    assert not isinstance(wish, Unclear)
    designed = design(wish, SHOWN, studio)
    if not designed.all:
        say_none(complaints, designed, wish)
        return 1
    say_table(Teller(), designed, wish, closing=False)
    most = len(designed.all)
    number = asking.ask("", "design.ask-which", "1", lambda said: _number(said, most))
    if isinstance(number, Wrong):
        complaints.words(number.message, **dict(number.facts))
        return 2
    return begin_recipe(wish, designed.all[number - 1], title, into, complaints)


def _wish(things: str, card: str, form: str, studio: Studio | None) -> DesignWish | Unclear:
    return read_wish(DesignOptions((things,), forms="" if form.casefold() == _ALL else form, card=card), studio)


def _wrong(read: object) -> Wrong | None:
    return Wrong.of(f"design.{read.code}", **read.facts) if isinstance(read, Unclear) else None


def _number(said: str, most: int) -> int | Wrong:
    number = int(said) if said.isascii() and said.isdecimal() and len(said) < 4 else 0
    return number if 1 <= number <= most else Wrong.of("design.take-which", said=said, most=most)
