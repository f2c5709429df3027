"""`foldwright new`: a few questions, and a recipe that is right as it stands."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from foldwright.begin.draft.card import plain_name
from foldwright.begin.forms import (
    EXAMPLES,
    SIZES,
    STARTS,
    FormAnswers,
    draft_of_form,
    read_form,
    read_panels,
    read_sides,
    read_size,
    read_units,
    units_of,
)
from foldwright.begin.options import FORMS
from foldwright.cli.beginning import AnswerError, ask, begin_in, new_title, tell_wrong, write_begun
from foldwright.cli.calls import NewCall
from foldwright.document.catalogue import catalogue
from foldwright.outputs.new_folders import studio_beside


def new(call: NewCall) -> int:
    """Ask for what the call leaves open, check the recipe that makes, write it; the exit status."""
    into = Path(call.into)
    try:
        title = ask(call.name, "new.ask-name", "", partial(new_title, into=into))
        form = ask(call.form, "new.ask-form", FORMS[0], read_form, forms=FORMS)
        if form in STARTS:
            return _from_something(title, form, into)
        answers = _answers(title, form, call)
    except AnswerError as stopped:
        return tell_wrong(stopped.wrong)
    draft = draft_of_form(answers, catalogue(), studio_beside(into))
    return write_begun(*begin_in(draft, into), not_well="new.not-well")


def _answers(title: str, form: str, call: NewCall) -> FormAnswers:
    system = ask(call.units or units_of(call.size), "new.ask-units", "inches", read_units)
    kind = SIZES[form]
    read = partial(read_size, form=form, system=system)
    size = ask(call.size, f"new.ask-size-{kind}", EXAMPLES[system][kind], read)
    panels = 0
    if form == "booklet":
        panels = ask(call.panels, "new.ask-panels", "4", read_panels)
    elif form == "prism":
        panels = ask(call.panels, "new.ask-sides", "3", read_sides)
    return FormAnswers(title, form, size, panels, ask(call.card, "new.ask-card", "white card", plain_name))


def _from_something(title: str, start: str, into: Path) -> int:
    """Go on with the questions of who has a sample, or a treat; the exit status."""
    if start == "sample":
        from foldwright.cli.recover import ask_and_recover

        return ask_and_recover(title, None, into)
    from foldwright.cli.design import ask_and_design

    return ask_and_design(title, into)
