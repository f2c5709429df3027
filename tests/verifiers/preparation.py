"""Replays a preparation from plain data, as `kit.json` has it: written apart from all that makes one.

What it holds the timeline to: everything is done once, nobody does two things at once, who begins a job gets ready for
it, nothing is begun before what it needs is through and dry, no machine has more people at it than there are, and
nobody begins another one after an hour and a half without a break.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Any

type Data = dict[str, Any]
WORK, REST = 5400, 600


class WrongError(Exception):
    """A rule that was not kept."""


def replay(plan: Data) -> int:
    """When all is done and dry. Times of single ones are exact where nothing is set up; else the earliest possible."""
    jobs = {job["job"]: job for job in plan["jobs"]}
    spans = [span for span in plan["timeline"] if span["job"]]
    times = times_of(plan)
    for number, job in jobs.items():
        if sorted(times[number]) != list(range(1, job["count"] + 1)):
            raise WrongError(f"job {number}: {sorted(times[number])} of {job['count']}")
        for one, (begin, _) in times[number].items():
            for earlier, needed in _needed(job, one):
                if earlier in jobs:
                    upto = min(needed, jobs[earlier]["count"])
                    dry = max((times[earlier][at][1] for at in range(1, upto + 1)), default=0) + jobs[earlier]["wait"]
                    if upto and begin < dry:
                        raise WrongError(f"job {number}, {one} at {begin}: {earlier}, {upto} is dry at {dry}")
    _machines(jobs, spans)
    for helper in {span["helper"] for span in plan["timeline"]}:
        _one_helper(jobs, [span for span in plan["timeline"] if span["helper"] == helper])
    return max((span["end"] + jobs[span["job"]]["wait"] for span in spans), default=0)


def times_of(plan: Data) -> dict[int, dict[int, tuple[int, int]]]:
    """For each job when each of it begins and ends."""
    return {
        job["job"]: _times(job, [one for one in plan["timeline"] if one["job"] == job["job"]]) for job in plan["jobs"]
    }


def _times(job: Data, spans: list[Data]) -> dict[int, tuple[int, int]]:
    """When each of a job begins and ends."""
    found: dict[int, tuple[int, int]] = {}
    known: set[int] = set()
    for span in sorted(spans, key=lambda one: one["start"]):
        ready = 0 if span["helper"] in known else job["get_ready"]
        known.add(span["helper"])
        over = span["end"] - span["start"] - ready - job["seconds"] * span["count"]
        # Set up once for each lot; not at all where a lot goes on after a break.
        if over < 0 or (over % job["set_up"] if job["set_up"] else over):
            raise WrongError(f"job {job['job']}: {span} takes {over} more than it should")
        at = span["start"] + ready + (job["set_up"] if over else 0)
        for one in range(span["first"], span["first"] + span["count"]):
            if one in found:
                raise WrongError(f"job {job['job']}: {one} twice")
            found[one] = at, at + job["seconds"]
            at += job["seconds"]
    return found


def _needed(job: Data, one: int) -> list[tuple[int, int]]:
    kit_by_kit = [(earlier, one) for earlier in job["after"]]
    others = [
        (need["job"], max(0, ceil((one - Fraction(need["start"])) / Fraction(need["each"])))) for need in job["needs"]
    ]
    return kit_by_kit + others


def _machines(jobs: dict[int, Data], spans: list[Data]) -> None:
    for number, job in jobs.items():
        if not job["machines"]:
            continue
        alike = {
            other
            for other, one in jobs.items()
            if other == number or (job["machine"] and one["machine"] == job["machine"] and one["machines"])
        }
        changes = sorted(
            change
            for span in spans
            if span["job"] in alike and span["end"] > span["start"]
            for change in ((span["start"], 1), (span["end"], -1))
        )
        at_once = 0
        for when, change in changes:
            at_once += change
            if at_once > job["machines"]:
                raise WrongError(f"{at_once} at job {number} at {when}")


def _one_helper(jobs: dict[int, Data], spans: list[Data]) -> None:
    spans = sorted(spans, key=lambda one: (one["start"], one["end"]))
    if any(before["end"] > after["start"] for before, after in pairwise(spans)):
        raise WrongError(f"helper {spans[0]['helper']} does two things at once")
    worked = last = 0
    for span in spans:
        if span["start"] - last >= REST or not span["job"]:
            worked = 0
        last = span["end"]
        if not span["job"]:
            if span["end"] - span["start"] != REST:
                raise WrongError(f"{span} is no break")
            continue
        length = span["end"] - span["start"]
        worked += length
        # One alone goes with what was got ready for it, the last of several at most with what was set up for it.
        job = jobs[span["job"]]
        if worked - (job["seconds"] + job["set_up"] if span["count"] > 1 else length) >= WORK:
            raise WrongError(f"helper {span['helper']} begins another after {worked} s: {span}")
