"""What there is to do before class, of whole recipes: who gets which pieces when, replayed from `kit.json` alone."""

from __future__ import annotations

import json
from collections import Counter
from functools import cache
from typing import Any

import pytest
from msgspec.structs import replace

from foldwright.document.catalogue import catalogue
from foldwright.event.document.cutting import by_helper
from foldwright.event.document.data import event_json
from foldwright.event.document.model import Lanes, PaperTable, PaperWords, Ticks
from foldwright.event.document.preparing import preparing_paper
from foldwright.event.document.writing import EventSource, JobWords
from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.balancing import Balance
from foldwright.event.plan.jobs import CUT_LENGTH, CUT_THROUGH, OPEN_BAG, PUT_IN, SET_STOP, STICK_LABEL
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.plan.preparing import Sharing
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe
from verifiers.preparation import replay, times_of
from workbench.practice_event import one_by_one

BOX = """---
title: Seed box
makes: 1 box
measured in: millimetres
supplies:
  blue card: cardstock, weight 220 g/m2, sheet A4, pack 10 sheets at 2.00
  jute: twine, use 300 mm, pack 20 m at 3.00
  seed packet: paper, use 2, pack 10 at 4.00
pieces:
  base:
    from: blue card
    size: 100 x 80 mm
  band:
    from: blue card
    count: 3
    size: 20 x 140 mm
---

## Cut all

do: cut base and band
time: 5 min
get ready: 3 min
when: before class

## Score the base

do: score base
time: 1 min
get ready: 2 min
when: before class
{share}
## Trim and glue the band

do: cut and glue band
time: 40 s
wait: 5 min
when: before class

## Fold

do: fold base
time: 2 min
"""
TAG = """---
title: Plain tag
makes: 1 tag
measured in: millimetres
supplies:
  red card: cardstock, weight 220 g/m2, sheet A4, pack 10 sheets at 2.00
pieces:
  tag:
    from: red card
    size: 50 x 90 mm
---

## Stamp

do: stamp tag
time: 90 s
when: before class

## Hang up

do: tie
time: 1 min
"""


@cache
def planned(box: int, tag: int, helpers: int, share: str = "", shelf: str = "") -> Event:
    makings = []
    for text, slug, kits in ((BOX.replace("{share}", share), "box", box), (TAG, "tag", tag)):
        understood = check_recipe(text, f"{slug}/recipe.md", slug).understood
        assert understood is not None
        worked = WorkedRecipe(understood.recipe, understood.flat, understood.times)
        makings.append(Making(worked, understood.figures[System.METRIC], kits))
    lines = read_stock(shelf, "stock.yaml")[0].lines if shelf else ()
    owned = {line.name.value.casefold(): line for line in lines}
    return plan_event(makings, Wishes(system=System.METRIC, helpers=helpers), owned, {})


def data_of(event: Event) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(event_json(event))
    return found


@pytest.mark.parametrize(("box", "tag", "helpers"), [(1, 1, 1), (23, 40, 3), (300, 7, 4)])
def test_nobody_takes_up_a_kit_whose_pieces_are_not_cut(box: int, tag: int, helpers: int) -> None:
    data = data_of(planned(box, tag, helpers))
    plan = data["preparation"]
    assert replay(plan) == plan["finish_seconds"] >= plan["bound_seconds"]
    times = times_of(plan)
    came: list[tuple[int, str, int]] = []
    for job in plan["jobs"]:
        if job["what"] != "sheets":
            continue
        cutting = data["cutting"][job["cutting"]]
        layout = cutting["layouts"][job["layout"] - 1]
        for stack, (_, end) in times[job["job"]].items():
            sheets = min(cutting["at_once"], layout["copies"] - (stack - 1) * cutting["at_once"])
            assert sheets > 0
            for piece, each in Counter(place["piece"] for place in layout["places"]).items():
                came.append((end, piece, each * sheets))
    needed = {"box": {"base": 1, "band": 3}, "tag": {"tag": 1}}
    assert sum(number for _, _, number in came) == 4 * box + tag
    for job in plan["jobs"]:
        steps = {("box", 2): {"base": 1}, ("box", 3): {"band": 3}, ("tag", 1): {"tag": 1}}
        per_kit = needed[job["recipe"]] if job["what"] == "bags" else steps.get((job["recipe"], job["step"]), {})
        for kit, (begin, _) in times[job["job"]].items():
            for piece, each in per_kit.items():
                assert sum(number for end, name, number in came if name == piece and end <= begin) >= kit * each


def test_what_there_is_to_do_is_counted_and_nothing_twice() -> None:
    """Four pieces, a length and two packets a bag; the first step is the cutting plan's, the third partly so."""
    data = data_of(planned(20, 30, 2))
    plan = data["preparation"]
    jobs = {(job["what"], job["recipe"], job["step"]): job for job in plan["jobs"] if job["what"] != "sheets"}
    assert plan["cut_already"] == [{"recipe": "box", "step": 1}]
    assert sorted(jobs, key=str) == sorted(
        [
            ("lengths", "box", None),
            ("step", "box", 2),
            ("step", "box", 3),
            ("step", "tag", 1),
            *((what, recipe, None) for what in ("labels", "bags") for recipe in ("box", "tag")),
        ],
        key=str,
    )
    facts = {key: (job["count"], job["seconds"], job["get_ready"], job["wait"]) for key, job in jobs.items()}
    assert facts["lengths", "box", None] == (20, CUT_LENGTH, 0, 0)
    assert facts["step", "box", 2] == (20, 60, 120, 0)
    assert facts["step", "box", 3] == (20, 40, 0, 300)
    assert facts["labels", "tag", None] == (30, STICK_LABEL, 0, 0)
    assert facts["bags", "box", None] == (20, OPEN_BAG + 7 * PUT_IN, 0, 0)
    assert facts["bags", "tag", None] == (30, OPEN_BAG + PUT_IN, 0, 0)
    before = {jobs[key]["job"] for key in jobs if key[1] == "box" and key[0] != "bags"}
    assert set(jobs["bags", "box", None]["after"]) == before


def test_a_layout_takes_its_stops_and_its_cuts() -> None:
    """220 g/m2 are three sheets at once (800 g); stops are set once, and every stack goes through each cut."""
    data = data_of(planned(20, 30, 2))
    for job in data["preparation"]["jobs"]:
        if job["what"] == "sheets":
            cutting = data["cutting"][job["cutting"]]
            layout = cutting["layouts"][job["layout"] - 1]
            strokes = sum(cut["times"] * cut["count"] for cut in layout["cuts"])
            assert cutting["at_once"] == 3
            assert job["count"] == -(-layout["copies"] // 3)
            assert job["set_up"] == len(layout["cuts"]) * SET_STOP
            assert job["seconds"] * layout["copies"] == strokes * CUT_THROUGH
            assert (job["machine"], job["machines"]) == ("trimmer", 1)


@pytest.mark.parametrize(
    ("share", "shelf", "trimmers"),
    [("", "", 1), ("share: 2 trimmers\n", "", 2), ("share: 2 paper trimmers\n", "paper trimmers: 3", 3)],
)
def test_trimmers_are_those_of_the_shelf_or_of_a_step(share: str, shelf: str, trimmers: int) -> None:
    event = planned(20, 30, 4, share, shelf)
    assert event.jobs.trimmers == trimmers
    assert event.jobs.trimmers_said == bool(share or shelf)
    at_it = [job.task.machines for job in event.jobs.jobs if job.task.machine == "trimmer"]
    assert set(at_it) == {trimmers}


def test_papers_say_who_does_what() -> None:
    event = planned(20, 30, 2)
    assert event.preparation is not None
    paper = preparing_paper(EventSource(event, (), catalogue()))
    assert paper is not None
    lists = [part for part in paper.parts if isinstance(part, Ticks)]
    assert [part.heading.split(",")[0] for part in lists] == ["Helper 1", "Helper 2"]
    lines = [line.text for part in lists for line in part.lines]
    assert any("Cut blue card, layout 1, sheet" in line for line in lines)
    assert any("Stamp (Plain tag, step 1), kits" in line for line in lines)
    assert any("Pack the bags (Seed box), bags" in line for line in lines)
    told = _words(event)
    assert "take no extra time: Cut all (Seed box, step 1)." in told
    assert "may go faster: Trim and glue the band (Seed box, step 3)." in told
    assert "Start by 1" in told
    (more,) = (part for part in one_by_one(paper.parts) if isinstance(part, PaperTable))
    assert [row[0] for row in more.rows] == ["1", "2", "3", "4"]
    (cutters,) = by_helper(EventSource(event, (), catalogue()))
    assert isinstance(cutters, PaperTable)
    stacks = sum(int(row[4]) for row in cutters.rows)
    assert stacks == sum(job.task.count for job in event.jobs.jobs if job.task.set_up)


def test_stations_are_named_with_their_helpers_and_much_work_begins_the_day_before() -> None:
    """The jobs of each station by their names; 3,000 kits are more than fits before two in the afternoon."""
    event = planned(3000, 7, 3)
    plan = event.preparation
    assert plan is not None
    balance = Balance(((1, 2), (3,)), (200, 90), (2, 1))
    told = _words(replace(event, preparation=replace(plan, way=Sharing.STATIONS, balance=balance)))
    one, two, three = (JobWords(EventSource(event, (), catalogue())).name(number) for number in (1, 2, 3))
    assert f"station 1 (helpers 1 and 2): {one} and {two}; station 2 (helper 3): {three}." in told
    assert "Nobody has more than 2\u202fmin of work, and no other line has less." in told
    assert "Start the day before, to be ready at 14:00." in told


def test_the_timeline_names_every_job_in_the_order_in_which_they_begin() -> None:
    """Each run of a helper is one bar of its job's lane; all of it is what the plan says."""
    event = planned(20, 30, 2)
    assert event.preparation is not None
    source = EventSource(event, (), catalogue())
    paper = preparing_paper(source)
    assert paper is not None
    (lanes,) = (part for part in paper.parts if isinstance(part, Lanes))
    begins = [lane[0].start for lane in lanes.lanes]
    assert begins == sorted(begins)
    jobs = {span.task for span in event.preparation.timeline.spans if span.task}
    assert {JobWords(source).name(job) for job in jobs} == set(lanes.names) - {"Break"}
    worked = sum(span.end - span.start for lane in lanes.lanes for span in lane)
    assert worked >= sum(span.end - span.start for span in event.preparation.timeline.spans)
    assert {span.helper for lane in lanes.lanes for span in lane} == {1, 2}


def test_with_nothing_to_do_before_class_there_is_no_paper_of_it() -> None:
    event = replace(planned(20, 30, 2), preparation=None)
    assert preparing_paper(EventSource(event, (), catalogue())) is None


def _words(event: Event) -> str:
    paper = preparing_paper(EventSource(event, (), catalogue()))
    assert paper is not None
    return " ".join(
        text for part in one_by_one(paper.parts) if isinstance(part, PaperWords) for text in part.paragraphs
    )
