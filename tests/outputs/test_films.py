"""What goes with a video: chapters by the rules of WebVTT, words beside it, clips for search engines."""

from __future__ import annotations

import json
import re
from io import StringIO
from itertools import pairwise
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
import webvtt

from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.model import BuildWish, MadeFiles
from foldwright.outputs.texts import texts_of
from foldwright.surroundings import Folder

RECIPE = """---
title: Ferry tag
summary: A tag 40 x 60 mm for a <parcel> & more.
credit: From our Tuesday table
licence: CC BY 4.0
address: https://harbourstreet.example
measured in: millimetres
{video}
supplies:
  blue card: cardstock, weight 220 g/m2, sheet A4
  ribbon: ribbon, width 6 mm, use 40 cm, optional

tools:
  - craft knife
  - hole punch

pieces:
  tag:
    from: blue card
    size: 40 x 60 mm
---

## Cut the tag --> & keep <it>

do: cut tag
video: {one}

Cut the tag 40 x 60 mm.

## Punch it

do: punch tag
video: {two}

Punch a hole in the tag.
"""
FILM = "video: https://harbourstreet.example/ferry.mp4, 5:00 long"


def made(video: str = FILM, one: str = "0:20", two: str = "3:40", only: tuple[str, ...] = ("video",)) -> MadeFiles:
    text = RECIPE.format(video=video, one=one, two=two)
    return compile_recipe(texts_of("ferry", text), BuildWish(only, tuple(System)), Folder(Path()))


def chapters(files: MadeFiles) -> list[tuple[str, str, str]]:
    """What webvtt-py reads: begin, end, text."""
    read = webvtt.from_buffer(StringIO(files.files["chapters.vtt"].decode("utf-8")))
    return [(cue.start, cue.end, cue.text) for cue in read.captions]


def test_the_chapters_are_read_by_an_independent_reader() -> None:
    assert [(begin, end) for begin, end, _ in chapters(made())] == [
        ("00:00:00.000", "00:00:20.000"),
        ("00:00:20.000", "00:03:40.000"),
        ("00:03:40.000", "00:05:00.000"),
    ]


def test_the_data_of_a_recipe_has_the_same_chapters() -> None:
    files = made(only=("video", "sheet"))
    data = json.loads(files.files["sheet.json"])["chapters"]
    assert [(one["step"], one["start"], one["end"]) for one in data] == [(0, 0, 20), (1, 20, 220), (2, 220, 300)]
    read = webvtt.from_buffer(StringIO(files.files["chapters.vtt"].decode("utf-8"))).captions
    assert [(one["start"], one["end"]) for one in data] == [(cue.start_in_seconds, cue.end_in_seconds) for cue in read]
    assert (
        json.loads(made("video: https://harbourstreet.example/ferry.mp4", only=("sheet",)).files["sheet.json"])[
            "chapters"
        ][-1]["end"]
        is None
    )


# W3C, WebVTT (Candidate Recommendation of 4 April 2019), 4.1: a file begins with WEBVTT and an empty line; a cue's
# timings are hh:mm:ss.ttt with minutes and seconds up to 59, the end after the beginning, each begin no earlier than
# the one before it; neither identifier nor text holds `-->`; `&` and `<` of a text are written as references. From
# memory of the standard.
TIMING = re.compile(r"(\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3}) --> (\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3})")


@pytest.mark.parametrize("video", [FILM, "video: https://harbourstreet.example/ferry.mp4"])
@pytest.mark.parametrize(("one", "two"), [("0:00", "0:01"), ("0:20", "3:40"), ("1:00", "4:59")])
def test_the_chapters_keep_the_rules_of_the_standard(video: str, one: str, two: str) -> None:
    text = made(video, one, two).files["chapters.vtt"].decode("utf-8")
    head, *cues = text.rstrip("\n").split("\n\n")
    assert head == "WEBVTT"
    times = []
    for cue in cues:
        name, timing, said = cue.split("\n")
        found = TIMING.fullmatch(timing)
        assert found
        numbers = list(map(int, found.groups()))
        begin, end = ((h * 60 + m) * 60_000 + s * 1000 + t for h, m, s, t in (numbers[:4], numbers[4:]))
        assert begin < end
        assert "-->" not in name + said
        assert "<" not in said
        assert not re.search(r"&(?!amp;|lt;|gt;)", said)
        times.append((begin, end))
    assert times[0][0] == 0
    assert all(before[1] == after[0] for before, after in pairwise(times))


def test_a_chapter_is_called_as_its_step_is() -> None:
    assert [said for _, _, said in chapters(made())][1:] == ["Cut the tag --&gt; &amp; keep &lt;it&gt;", "Punch it"]


def test_the_words_beside_a_video_have_chapters_supplies_and_sizes_in_both_systems() -> None:
    lines = made().files["video-description.txt"].decode("utf-8").splitlines()
    assert lines[0] == "Ferry tag"
    assert "0:00 What we make" in lines
    assert "0:20 Cut the tag --> & keep <it>" in lines
    assert "3:40 Punch it" in lines
    # 40 mm is 1.575 in, 60 mm is 2.362 in; to the sixteenth below or above: 1 9/16 (39.69 mm) and 2 3/8 (60.33 mm).
    assert "tag: 40 x 60 mm (1 9/16 x 2 3/8 in)" in lines
    # 40 cm is 15.748 in; what is bought and used up is rounded for people, and never down.
    assert "ribbon: 40 cm (16 in), if you like" in lines
    assert "The whole tutorial: https://harbourstreet.example/ferry/" in lines
    # A recipe in millimetres is for readers who spell so.
    assert "Licence: CC BY 4.0, https://creativecommons.org/licenses/by/4.0/" in lines
    assert any(line.startswith("Caution: ") for line in lines)
    said = [line for line in lines if line]
    assert len(said) == len({*said})


def test_clips_open_the_video_at_their_moment() -> None:
    page = made(only=("tutorial",)).files["tutorial.html"].decode("utf-8")
    data = re.search(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    assert data
    film = json.loads(data[1])["video"]
    assert (film["@type"], film["contentUrl"], film["duration"]) == (
        "VideoObject",
        "https://harbourstreet.example/ferry.mp4",
        "PT5M",
    )
    clips = [(clip["startOffset"], clip["endOffset"], clip["url"]) for clip in film["hasPart"]]
    assert [clip[:2] for clip in clips] == [(0, 20), (20, 220), (220, 300)]
    for start, _, url in clips:
        # W3C, Media Fragments URI 1.0, 4.2.1: the fragment is a list of name=value, `t` in seconds (npt).
        assert parse_qs(urlsplit(url).fragment) == {"t": [str(start)]}
    links = re.findall(r'<a href="(https://harbourstreet.example/ferry.mp4#[^"]*)">([^<]*)</a>', page)
    assert links == [
        ("https://harbourstreet.example/ferry.mp4#t=20", "In the video at 0:20"),
        ("https://harbourstreet.example/ferry.mp4#t=220", "In the video at 3:40"),
    ]


def codes(files: MadeFiles) -> list[str]:
    return [one.code for one in files.findings if isinstance(one, Finding) and one.code.startswith("video-")]


def test_moments_that_do_not_go_together_make_no_files() -> None:
    files = made(one="3:40", two="0:20")
    assert not files.files
    assert codes(files) == ["video-moment-before"]


def test_a_page_is_no_video_file_and_that_is_told() -> None:
    files = made("video: https://harbourstreet.example/watch/ferry")
    assert codes(files) == ["video-on-page"]
    assert len(files.files) == 2


@pytest.mark.parametrize(
    ("only", "found"), [(("video",), ["video-unnamed"]), (("tutorial", "video"), [])], ids=["alone", "with others"]
)
def test_a_recipe_without_a_video_is_told_of_only_where_its_chapters_are_asked_for(
    only: tuple[str, ...], found: list[str]
) -> None:
    text = RECIPE.replace("{video}\n", "").replace("video: {one}\n", "").replace("video: {two}\n", "")
    files = compile_recipe(texts_of("ferry", text), BuildWish(only, tuple(System)), Folder(Path()))
    assert codes(files) == found
    assert "chapters.vtt" not in files.files
