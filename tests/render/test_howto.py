"""JSON-LD: terms and where they may stand after schema.org, durations after RFC 3339, safe inside a script element."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import isodate
import pytest
from msgspec.structs import replace

from foldwright.measure.length import System
from foldwright.render.web.howto import as_how_to, duration, how_to
from workbench.handmade import birdhouse

# Properties by type, their own and inherited, as far as they are used here: schema.org, read in the typings of npm
# schema-dts 2.1.0 (HowTo, HowToSupply and so on); those of CreativeWork and Thing likewise.
THING = {"name", "description", "url", "image"}
WORK = THING | {
    "author",
    "publisher",
    "license",
    "creditText",
    "dateModified",
    "datePublished",
    "keywords",
    "inLanguage",
    "educationalLevel",
    "text",
    "video",
    "hasPart",
}
TERMS = {
    "HowTo": WORK | {"step", "supply", "tool", "yield", "prepTime", "performTime", "totalTime", "estimatedCost"},
    "HowToSupply": THING | {"requiredQuantity", "estimatedCost", "position", "item"},
    "HowToTool": THING | {"position", "item"},
    "HowToStep": WORK | {"position", "itemListElement", "item"},
    "HowToDirection": WORK | {"prepTime", "performTime", "totalTime", "position", "duringMedia", "supply", "tool"},
    "HowToTip": WORK | {"position"},
    "VideoObject": WORK | {"contentUrl", "duration"},
    "Clip": WORK | {"startOffset", "endOffset"},
    "Person": THING,
    "Organization": THING,
    "ItemList": THING | {"itemListElement", "itemListOrder", "numberOfItems"},
    "ListItem": THING | {"item", "position", "nextItem", "previousItem"},
}

# RFC 3339, appendix A: dur-time = "T" (dur-hour / dur-minute / dur-second), each with the next smaller unit at most.
DURATION = re.compile(r"PT(?:\d+H(?:\d+M(?:\d+S)?)?|\d+M(?:\d+S)?|\d+S)")


def check(node: object) -> None:
    if isinstance(node, list):
        for one in node:
            check(one)
    if isinstance(node, dict):
        unknown = node.keys() - TERMS[node["@type"]] - {"@type", "@context"}
        assert not unknown, (node["@type"], unknown)
        for value in node.values():
            check(value)


def test_terms_stand_where_the_vocabulary_has_them():
    data = as_how_to(birdhouse(), System.IMPERIAL)
    check(data)
    assert data["@context"] == "https://schema.org"
    assert [step["position"] for step in data["step"]] == [1, 2, 3]
    assert data["supply"][2] == {"@type": "HowToSupply", "name": "cotton twine", "requiredQuantity": "36 in"}


def test_a_video_and_its_clips_have_the_terms_of_the_vocabulary():
    sheet = birdhouse()
    head = replace(sheet.head, video="https://harbourstreet.example/birdhouse.mp4", video_seconds=0)
    steps = tuple(replace(step, moment=60 * step.number) for step in sheet.steps)
    data = as_how_to(replace(sheet, head=head, steps=steps), System.IMPERIAL)
    check(data)
    clips = data["video"]["hasPart"]
    assert [clip["startOffset"] for clip in clips] == [0, 60, 120, 180]
    # Nobody says how long the video is: the last clip has no end.
    assert [clip.get("endOffset") for clip in clips] == [60, 120, 180, None]


@pytest.mark.parametrize("moments", [(60, 60, 70), (60, 30, 70)])
def test_moments_that_do_not_go_together_make_no_clips(moments):
    sheet = birdhouse()
    head = replace(sheet.head, video="https://harbourstreet.example/birdhouse.mp4")
    steps = tuple(replace(step, moment=at) for step, at in zip(sheet.steps, moments, strict=True))
    assert "hasPart" not in as_how_to(replace(sheet, head=head, steps=steps), System.IMPERIAL)["video"]


def test_the_check_notices_a_term_out_of_place():
    with pytest.raises(AssertionError):
        check({"@type": "HowToStep", "supply": []})


def test_times_add_up_and_are_durations():
    data = as_how_to(birdhouse(), System.METRIC)
    assert (data["prepTime"], data["performTime"], data["totalTime"]) == ("PT3M", "PT20M", "PT23M")
    for step in data["step"]:
        assert DURATION.fullmatch(step["itemListElement"][0]["performTime"])


@pytest.mark.parametrize("seconds", [0, 1, 45, 60, 61, 3599, 3600, 3605, 5700, 36_000, 90_061])
def test_durations_keep_the_grammar_and_mean_what_they_say(seconds):
    text = duration(seconds)
    assert DURATION.fullmatch(text)
    assert isodate.parse_duration(text).total_seconds() == seconds


def test_examples_of_the_reference():
    # 95 minutes may be PT1H35M; PT1H5S leaves a gap that RFC 3339 does not allow.
    assert duration(95 * 60) == "PT1H35M"
    assert duration(3605) == "PT1H0M5S"


class Scripts(HTMLParser):
    """Collects what stands in script elements, as a browser would cut it out."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.inside = False

    def handle_starttag(self, tag, attrs):
        self.inside = tag == "script"
        if self.inside:
            self.found.append("")

    def handle_endtag(self, tag):
        self.inside = False

    def handle_data(self, data):
        if self.inside:
            self.found[-1] += data


def test_nothing_an_author_writes_ends_the_script():
    hostile = "</script><script>alert(1)</script><!-- \u2028 & ]]>"
    sheet = birdhouse()
    sheet = replace(sheet, head=replace(sheet.head, title=hostile))
    text = how_to(sheet, System.IMPERIAL)
    parser = Scripts()
    parser.feed(f"<script>{text}</script>")
    assert parser.found == [text]
    assert json.loads(text)["name"] == hostile
