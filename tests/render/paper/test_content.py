"""The words of a card before they are laid out."""

from __future__ import annotations

from typing import Any

from foldwright.measure.length import System
from foldwright.render.paper.content import Content
from workbench.compiled import small

STEP = "## Close it\n\n```step\nget ready: 2 min\nwithin: 90 sec\n```\n\nClose it.\n"


def facts_of(facts: str = "") -> Any:
    return Content(small(facts, STEP), System.METRIC).block("head").fixed["facts"]


def test_times_are_parted_only_at_their_commas():
    full, brief, none = Content(small(words=STEP), System.METRIC).block("step-1").slots["meta"]
    assert none.content == []
    for part in (full, brief):
        assert isinstance(part.content, list)
        (line,) = part.content
        assert line.count(", ") >= 1
        assert all(" " not in time for time in line.split(", ")), line
    assert isinstance(full.content, list) and isinstance(brief.content, list)
    assert "plus\u00a02\u202fmin\u00a0to\u00a0set\u00a0up" in full.content[0]
    assert "set\u00a0up" not in brief.content[0]


def test_whom_it_is_for_is_said_as_such():
    assert facts_of("for: children of six\n")[-1] == "for children of six"
    assert not any(fact.startswith("for ") for fact in facts_of())
