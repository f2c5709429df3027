"""Every finding about the words of a recipe, and every reason of the listing of measures, has its words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import foldwright.measure.prose as prose_module
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.finding import Finding
from foldwright.recipe.prose.body import read_body

SOURCES = Path(prose_module.__file__).parents[1]
# One text for each finding the words can give rise to, beneath the pieces "base" and "outer mat".
SLIPS = {
    "no-steps": "Just words.",
    "too-many-steps": "## Step\n" * 501,
    "heading-empty": "##\n\nCut it.",
    "single-number-sign": "# Cut the base\n\nCut it.",
    "step-block-not-closed": "## Cut\n```step\ntime: 2 min\n\nCut it.\n\n## Fold",
    "second-step-block": "## Cut\n```step\ntime: 2 min\n```\nCut.\n```step\nwhen: in class\n```\n",
    "step-block-without-heading": "```step\ntime: 2 min\n```\n\n## Cut\n",
    "step-block-in-section": "## Cut\n\n## Tips\n\n```step\ntime: 2 min\n```\n",
    "meanwhile-unknown": "## Cut\nwait: 10 min, meanwhile Zebra\n",
    "meanwhile-unknown-near": "## Cut\nwait: 10 min, meanwhile Fold the sleef\n\n## Fold the sleeve\n",
    "meanwhile-unclear": "## Cut\nwait: 10 min, meanwhile fold\n\n## Fold the lid\n\n## Fold the base\n",
    "share-unreadable": "## Cut\nshare: trimmers\n",
    "unknown-act": "## Cut\ndo: laminate base\n",
    "unknown-piece-in-do": "## Cut\ndo: cut zebra\n",
    "unknown-piece-in-do-near": "## Cut\ndo: cut bsae\n",
    "duration-without-unit": "## Cut\ntime: 2\n",
    "duration-unreadable": "## Cut\ntime: a while\n",
    "duration-unreadable-near": "## Cut\ntime: 3 minuts\n",
    "duration-absurd": "## Cut\nwait: 9999 h\n",
    "hours-or-minutes": "## Cut\ntime: 1:30\n",
    "unit-said-once": "## Cut\n\nCut mats 4 x 5 1/4 and 3 3/4 x 5 in.",
    "unit-forgotten": "## Cut\n\nCut it to 4 1/4 x 5 1/2.",
    "in-or-inches": "## Cut\n\nCut a window 4 x 5 in the lid.",
    "picture-in-words": "## Cut\n\n![the base](base.jpg)",
    "link-dropped": "## Cut\n\nSee [here](javascript:alert(1)).",
    "nested-too-deep": "## Cut\n\n" + "> " * 12 + "deep",
    "fraction-over-nothing": "## Cut\n\nCut it 1/0 in wide.",
    "comma-of-thousands": "## Cut\n\nCut it 1,000 mm wide.",
    "run-together-fraction": "## Cut\n\nCut it 41/8 in wide.",
    "top-heavy-fraction": "## Cut\n\nCut it 4 9/8 in wide.",
    "absurd-number": "## Cut\n\nCut it 99999999 m wide.",
    "unknown-word": "## Cut\n```step\ntmie: 2 min\n```\n",
    "unknown-word-no-near": "## Cut\n```step\nzebra: 2 min\n```\n",
    "said-twice": "## Cut\n```step\ntime: 2 min\ntime: 3 min\n```\n",
    "nothing-said": "## Cut\n```step\ntip:\n```\n",
    "no-colon": "## Cut\n```step\nzebra stripes\n```\n",
    "colon-forgotten": "## Cut\n```step\ntime 2 min\n```\n",
    "one-space-remark": "## Cut\n```step\ntip: Cut it twice # not once\n```\n",
    "yes-or-no": "## Cut\n```step\noptional: perhaps\n```\n",
    "new-word": "## Cut\n```step\nwhen: at midnight\n```\n",
    "photo-shows-without-photo": "## Cut\n```step\nphoto shows: the base\n```\n",
}


def findings_of(text: str) -> tuple[Finding, ...]:
    return read_body(text, "recipe.md", 0, ("base", "outer mat"), ("cotton twine",)).findings


@pytest.mark.parametrize("code", SLIPS)
def test_a_slip_is_told_in_full(code: str) -> None:
    """A missing slot warns, and a warning fails the test."""
    text = SLIPS[code]
    found = {finding.code: finding for finding in findings_of(text)}
    assert code in found
    told = tell(found[code], {"recipe.md": text})
    assert told.says
    assert told.remedy
    assert told.line >= 1


def test_every_finding_made_here_is_among_the_slips() -> None:
    made = re.compile(r"(?:fault|thought|Unreadable)\(\s*\"([a-z-]+)\"")
    sources = [SOURCES / "recipe" / "facts" / "durations.py", *sorted((SOURCES / "recipe" / "prose").glob("*.py"))]
    codes = {code for file in sources for code in made.findall(file.read_text(encoding="utf-8"))}
    # An empty value is told of as `nothing-said` before anybody asks how long it is.
    assert codes - {"no-duration"} <= set(SLIPS)
    assert all(catalogue().has(f"{code}.says") for code in codes)


@pytest.mark.parametrize(("group", "table"), [("FoundMeasure", "believed"), ("PassedOver", "passed")])
def test_every_reason_for_or_against_a_measure_is_explained(group: str, table: str) -> None:
    """The reasons are those its docstring lists, and the phrases of the cases file show no other."""
    listed = set(re.findall(r"[a-z]+(?:-[a-z]+)+|\bunit\b|\bmark\b|\bfraction\b|\bcross\b|\bhyphen\b", _reasons(group)))
    assert listed <= set(catalogue().below(f"measured.{table}"))
    assert _reasons_seen(group) <= set(catalogue().below(f"measured.{table}"))


def _reasons(group: str) -> str:
    doc = getattr(prose_module, group).__doc__ or ""
    return doc[doc.index("is one of") :].split(".")[0]


def _reasons_seen(group: str) -> set[str]:
    cases = Path(__file__).parents[1] / "cases" / "measures-in-prose.txt"
    from foldwright.vocabulary import length_acts

    seen: set[str] = set()
    for line in cases.read_text(encoding="utf-8").split("\n"):
        found = prose_module.find_measures(line.replace("{", "").replace("}", ""), length_acts())
        seen |= {each.why for each in (found.measures if group == "FoundMeasure" else found.passed_over)}
    return seen
