"""Notes as people scribble them: every number is read as meant, or asked about at its place."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from foldwright.begin.recover.model import Sample
from foldwright.begin.recover.notes.reading import read_sample
from foldwright.document.catalogue import catalogue

CASES: dict[str, list[dict[str, Any]]] = tomllib.loads(
    (Path(__file__).parents[2] / "cases/notes.toml").read_text(encoding="utf-8")
)
IN_MM = {"in": Fraction(254, 10), "mm": Fraction(1), "cm": Fraction(10)}
USUAL = {"in": Fraction(254, 320), "mm": Fraction(1, 2), "cm": Fraction(1, 2)}
"""Half of a sixteenth of an inch, and of a millimetre: what a ruler so marked leaves open."""
READ = re.compile(r"(?P<start>\d+)-(?P<end>\d+) (?P<number>[\d ./]+) (?P<unit>in|mm|cm)(?: ± (?P<off>[\d ./]+))?")

type Spans = dict[str, list[tuple[int, int, Fraction, Fraction]]]


def number(said: str) -> Fraction:
    return sum((Fraction(part) for part in said.split()), Fraction(0))


def meant(lines: str) -> Spans:
    """What a case says of each side, in millimetres."""
    spans: Spans = {}
    for line in lines.strip().splitlines():
        side, _, row = line.partition(": ")
        for said in row.split(", "):
            match = READ.fullmatch(said)
            assert match, said
            mm = IN_MM[match["unit"]]
            off = number(match["off"]) * mm if match["off"] else USUAL[match["unit"]]
            spans.setdefault(side, []).append(
                (int(match["start"]), int(match["end"]), number(match["number"]) * mm, off)
            )
    return {side: sorted(row) for side, row in spans.items()}


def found(sample: Sample) -> Spans:
    return {
        f"{piece.name} {side.side}": sorted((one.start, one.end, one.length.mm, one.bound.mm) for one in side.readings)
        for piece in sample.pieces
        for side in piece.sides
    }


@pytest.mark.parametrize("case", CASES["note"], ids=lambda case: case["says"])
def test_every_number_is_read_as_it_was_meant(case: dict[str, Any]) -> None:
    read = read_sample(case["text"].strip("\n"), "notes")
    assert read.sample is not None, read.findings
    assert found(read.sample) == meant(case["read"])
    codes = {one.code for one in read.sample.assumed}
    assert codes >= set(case.get("assumed", ()))
    # Nothing is taken for granted that is not in the notes: what else is said is of units and of the ruler.
    assert codes - set(case.get("assumed", ())) <= {"fractions-are-inches", "ruler-marks", "unit-as-elsewhere"}
    for note in read.sample.assumed:
        assert catalogue().say(f"command.recover.assumed.{note.code}", **dict(note.facts))
    if "names" in case:
        side, _, names = case["names"].partition(":")
        sides = {f"{piece.name} {one.side}": one.names for piece in read.sample.pieces for one in piece.sides}
        assert sides[side] == tuple(name.strip() for name in names.split("|"))
    if "made_in" in case:
        system, mark = case["made_in"].split()
        assert read.sample.made_in is not None
        assert (read.sample.made_in.system.value, read.sample.made_in.mark) == (system, Fraction(mark))


@pytest.mark.parametrize("case", CASES["asked"], ids=lambda case: case["text"])
def test_what_may_mean_two_things_is_asked_about_at_its_place(case: dict[str, Any]) -> None:
    text = case["text"] + ("" if case.get("alone") else "\nbase down: 4 in")
    read = read_sample(text, "notes")
    assert read.sample is None
    finding = read.findings[0]
    assert finding.code == case["code"], read.findings
    assert finding.place is not None
    assert text[finding.place.start : finding.place.end] == case["at"]
    for part in ("says", "remedy"):
        assert catalogue().say(f"{finding.code}.{part}", **dict(finding.facts))


@pytest.mark.parametrize(
    ("row", "panels"),
    [
        ("1 3/4 front | 3/4 floor; whole 4 1/4 in", "7/4 3/4 7/4"),
        ("left 5/8, right 5/8; whole 4 1/8 in", "5/8 23/8 5/8"),
        ("2 of 1 1/2; whole 3 5/8 in", "3/2 3/2 5/8"),
    ],
)
def test_the_text_to_type_for_a_missing_panel_is_understood(row: str, panels: str) -> None:
    (finding,) = read_sample(f"base across: {row}\nbase down: 4 in", "notes").findings
    remedy = catalogue().say(f"{finding.code}.remedy", **dict(finding.facts))
    typed = remedy.partition(":  ")[2].partition("  (")[0]
    whole = row.partition("whole ")[2]
    read = read_sample(f"{typed}\nbase across whole: {whole}\nbase down: 4 in", "notes")
    assert read.sample is not None, read.findings
    lengths = [one.length.mm / IN_MM["in"] for one in read.sample.pieces[0].sides[0].readings]
    assert lengths[:-1] == [Fraction(panel) for panel in panels.split()]
    assert lengths[-1] == sum(lengths[:-1])


def test_all_that_the_guide_says_may_be_written_is_understood() -> None:
    """Every way of writing in the guide's table, as a line about a side or (where it names both) about a piece."""
    guide = files("foldwright").joinpath("guide/samples.md").read_text(encoding="utf-8")
    table = guide.partition("| --- | --- |\n")[2].partition("\n\n")[0]
    phrases = [phrase.replace("\\|", "|") for row in table.splitlines() for phrase in re.findall("`([^`]+)`", row)]
    numbered = [phrase for phrase in phrases if re.search("[0-9]", phrase)]
    assert len(numbered) > 20
    for phrase in numbered:
        line = f"base {phrase}" if re.match("size|105", phrase) else f"base across: {phrase.removeprefix('= ')}"
        more = "base across: 5/8 | 2 7/8 | 5/8 in\n" if re.match("panel 2|floor|.*\\(floor", phrase) else ""
        read = read_sample(f"{more}{line}\nbase down: 4 in\nmeasured in: inches", "notes")
        assert read.sample is not None, (phrase, read.findings)
