"""Amounts in running words are said in both systems; what only looks like one stays as it is."""

from __future__ import annotations

import pytest

from foldwright.document.amounts_in_words import set_amounts
from foldwright.document.typeset import typesetter
from foldwright.document.words import MeasureInWords, plain
from foldwright.measure.length import System

IMPERIAL, METRIC = System.IMPERIAL, System.METRIC
SET = typesetter("en")


def said(text: str, system: System) -> str:
    return plain(set_amounts(text, SET), system)


# 21 CFR 101.9 (b)(5)(viii), from memory: tsp 5 ml, tbsp 15 ml, fl oz 30 ml. 250 °F are 121.1 °C, 190 °C are 374 °F,
# 120 °C are 248 °F (the definition of the scales), to the nearest five degrees.
@pytest.mark.parametrize(
    ("text", "imperial", "metric"),
    [
        ("Stir 30 ml of varnish.", "Stir 1 fl oz of varnish.", "Stir 30 ml of varnish."),
        ("A 30-ml bottle", "A 1 fl oz bottle", "A 30-ml bottle"),
        ("Add 1 fl. oz glue", "Add 1 fl. oz glue", "Add 30 ml glue"),
        ("Heat to 250 °F, then wait.", "Heat to 250 °F, then wait.", "Heat to 120 °C, then wait."),
        ("190°C at most", "375 °F at most", "190°C at most"),
        ("Set 120 degrees Celsius", "Set 250 °F", "Set 120 degrees Celsius"),
        ("2 tsp of paint, 1 ½ cups of water", "2 tsp of paint, 1 ½ cups of water", "10 ml of paint, 355 ml of water"),
        ("100 g of clay", "3 1/2 oz of clay", "100 g of clay"),
    ],
)
def test_an_amount_in_words(text: str, imperial: str, metric: str) -> None:
    assert (said(text, IMPERIAL), said(text, METRIC)) == (imperial, metric)


@pytest.mark.parametrize(
    "text",
    [
        "220 g card", "100 lb cover", "2 cups, nested", "3 l", "1.30 ml2", "a C grade", "120 Copies", "step 2 of 3",
        "120 °C (250 °F)", "30 ml / 1 fl oz", "1 fl oz or 30 ml", "no figures", "", "5 to 10",
    ],
)  # fmt: skip
def test_what_stays_as_it_is(text: str) -> None:
    assert said(text, IMPERIAL) == said(text, METRIC) == text


def test_an_amount_is_said_aloud_and_set_as_a_figure() -> None:
    (run,) = set_amounts("45 ml", SET)
    assert isinstance(run, MeasureInWords)
    phrase = run.phrases.of(IMPERIAL)
    assert phrase.spoken == "1 and 1 half fluid ounces"
    assert run.said == "45 ml"
