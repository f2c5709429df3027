"""Every hazard has its caution, and the cautions keep the rules for signal words.

ANSI Z535.4-2007, 4.14 (as quoted on safetylabel.com): CAUTION could result in minor or moderate injury, so its text
never speaks of death or serious injury; WARNING could result in either; NOTICE has nothing to do with injury.
"""

from __future__ import annotations

import re

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.vocabulary import ACTS, HAZARDS, SUPPLY_KINDS, TOOLS, Signal

GRAVE = re.compile(r"\b(?:death|die[sd]?|kill|fatal|serious|severe|strangle|choke|suffocate)", re.IGNORECASE)
HARM = re.compile(r"\b(?:cut|prick|burn|hurt|pinch|injur|wound|bruise|sting)", re.IGNORECASE)
TEXTS = ("hazard", "consequence", "avoid")
POINTS_BACK = re.compile(r"\b(?:it|they|them|both|neither,)(?=\W)", re.IGNORECASE)


@pytest.mark.parametrize("code", HAZARDS)
def test_it_says_what_can_hurt_what_comes_of_it_and_how_to_avoid_it(code):
    words = catalogue()
    for part in TEXTS:
        text = words.say(f"hazard.{code}.{part}", holders="caramel (milk)")
        assert text.endswith("."), text
        assert len(text) > 15


@pytest.mark.parametrize("code", HAZARDS)
def test_the_signal_word_fits_what_can_come_of_it(code):
    words = catalogue()
    text = " ".join(words.say(f"hazard.{code}.{part}", holders="caramel (milk)") for part in TEXTS[:2])
    signal = HAZARDS[code].signal
    if signal is not Signal.WARNING:
        assert not GRAVE.search(text), text
    if signal is Signal.NOTICE:
        assert not HARM.search(text), text


@pytest.mark.parametrize("code", HAZARDS)
def test_how_to_avoid_it_is_understood_alone(code):
    """A small card says no more of a caution: "point them away" is of no use to who has not read what."""
    begins = catalogue().say(f"hazard.{code}.avoid", holders="caramel (milk)").split()[:5]
    assert not POINTS_BACK.search(" ".join(begins) + " "), begins


@pytest.mark.parametrize("code", [code for code, hazard in HAZARDS.items() if not hazard.made])
def test_a_reminder_is_one_short_sentence_that_is_understood_alone(code):
    reminder = catalogue().say(f"hazard.{code}.reminder")
    # As long as a line beside a sign on the smallest card: by eye, no source.
    assert len(reminder) <= 46
    assert reminder.endswith(".") and reminder.count(".") == 1
    assert not POINTS_BACK.search(reminder), reminder


def test_no_caution_stands_there_for_nothing():
    words = catalogue()
    written = {key.split(".")[1] for key in words.names() if key.startswith("hazard.")}
    assert written == set(HAZARDS)


def test_every_hazard_somebody_names_is_known():
    named = {code for thing in (*ACTS, *TOOLS, *SUPPLY_KINDS) for code in thing.hazards}
    assert named <= set(HAZARDS)


def test_local_rules_come_first_is_said_somewhere():
    assert "rules" in catalogue().say("caution.local")
