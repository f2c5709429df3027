"""Straight marks become printed ones, in words and in runs; those of feet and inches stay."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.document.quote_marks import curled, curled_runs
from foldwright.document.words import Both, MeasureInWords, SetMeasure, plain
from foldwright.measure.length import System
from foldwright.recipe.words import Code, Emphasis, Strong, Text
from workbench.compiled import compiled

# After the Chicago Manual of Style (17th ed., 6.115-6.118) as its readers quote it: apostrophes close, also where a
# letter is left out at the beginning; marks of feet and inches are straight.
SAID = {
    "the box's lid": "the box’s lid",
    "the makers' rules": "the makers’ rules",
    "don't, it's": "don’t, it’s",
    'say "yes"': "say “yes”",
    '"Yes," she said.': "“Yes,” she said.",
    '("so")': "(“so”)",
    "call it 'done' then": "call it ‘done’ then",
    "\"the 'good' side\"": "“the ‘good’ side”",
    "'tis the season": "’tis the season",
    "the 1990's": "the 1990’s",
    'a 5" wide strip': 'a 5" wide strip',
    '5" x 7"': '5" x 7"',
    "6' 2\" tall": "6' 2\" tall",
    'ask for "5" wide card" there': 'ask for “5" wide card” there',
    'the "size 5" and the "size 6"': "the “size 5” and the “size 6”",
    "no marks": "no marks",
    "already ’ and “so”": "already ’ and “so”",
    "": "",
}


@pytest.mark.parametrize("typed", SAID)
def test_as_a_printer_would_set_it(typed):
    assert curled(typed) == SAID[typed]


@given(st.text(alphabet="ab '\"5x-.(“’", max_size=30))
def test_nothing_but_straight_marks_is_touched_and_twice_is_once(text):
    made = curled(text)
    assert len(made) == len(text)
    assert all(new == old or (old in "'\"" and new in "‘’“”") for old, new in zip(text, made, strict=True))
    assert curled_runs((Text(text),)) == (Text(made),)


def test_a_mark_is_seen_among_what_stands_around_it():
    size = MeasureInWords(Both(SetMeasure.of("5 in"), SetMeasure.of("127 mm")))
    runs = (Text('The "'), Strong((Text("kid"),)), Text("'s\" box, "), size, Text("' own, "), Code('"5"'))
    made = curled_runs((*runs, Emphasis((Text("'so'"),))))
    assert plain(made, System.IMPERIAL) == 'The “kid’s” box, 5 in’ own, "5"’so’'


RECIPE = """---
title: The baker's "best" tag
measured in: inches
summary: Nobody's first tag.
makes: a dozen, a baker's
supplies:
  baker's card: cardstock, use 1 sheet, colour "kid's blue" or red, sheet letter
  baker's twine: twine, use 6 in
tools:
  - the cutter's knife
pieces:
  kid's tag:
    from: baker's card
    size: 5" x 7"
---

## Cut it, don't tear it

```step
do: cut kid's tag
tip: It's "easy".
```

Cut the kid's tag to 5" x 7" and add the baker's twine. It's *"done"*.
"""


def test_an_authors_page_has_printed_marks_and_its_inches_stay_inches():
    document, checked = compiled(RECIPE)
    assert checked.understood is not None
    head, step = document.head, document.steps[0]
    assert (head.title, head.makes) == ("The baker’s “best” tag", "a dozen, a baker’s")
    assert plain(head.summary, System.IMPERIAL) == "Nobody’s first tag."
    assert plain(step.heading, System.IMPERIAL) == "Cut it, don’t tear it"
    (para,) = step.words
    assert (
        plain(para.children, System.IMPERIAL) == "Cut the kid’s tag to 5 x 7 in and add the baker’s twine. It’s “done”."
    )
    # What the step needs is still found by the names as they are typed.
    assert "baker's twine" in step.needs
