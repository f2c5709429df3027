"""What a sentence speaks of that can hurt. Which things do is common practice of the trade, no source."""

from __future__ import annotations

import pytest

from foldwright.vocabulary import HAZARDS, SUPPLY_KINDS, TOOLS
from foldwright.vocabulary.dangers import dangers_in


@pytest.mark.parametrize(
    ("sentence", "codes"),
    [
        ("Stick the ends down with the glue-gun.", {"hot-glue"}),
        ("A dab of hot melt at each corner holds them.", {"hot-glue"}),
        ("Use hot-glue sticks in the hot glue gun.", {"hot-glue"}),
        ("A drop of superglue will do.", {"super-glue"}),
        ("Fix it with cyanoacrylate", {"super-glue"}),
        ("Brush on two thin layers of varnish.", {"solvent"}),
        ("Wipe the marks off with nail-varnish remover or white spirit.", {"solvent"}),
        ("Pour the UV resin in.", {"resin"}),
        ("Spray the back lightly and lay it down.", {"spray"}),
        ("Mounting spray holds best.", {"spray"}),
        ("Heat the embossing powder until it shines.", {"heat"}),
        ("Press with a warm iron.", {"heat"}),
        ("Light the candles.", {"flame"}),
        ("Stand a tealight inside.", {"flame"}),
        ("Slip in a button cell.", {"cell", "small-parts"}),
        ("Tape the coin batteries to the base", {"cell", "small-parts"}),
        ("Glue two magnets in.", {"magnet", "small-parts"}),
        ("Blow up a balloon.", {"balloon"}),
        ("Solder the two leads.", {"solder"}),
        ("Cut the doors on the cutting machine.", {"cutting-machine"}),
        ("Laser-cut the doors.", {"laser"}),
        ("Sand the edges smooth.", {"dust"}),
        ("Rub with fine sandpaper.", {"dust"}),
        ("Bend the wire into a hook.", {"sharp-ends"}),
        ("Push a pin through.", {"sharp-ends", "small-parts"}),
        ("Staple it.", {"pinch", "sharp-ends"}),
        ("Sprinkle glitter on.", {"glitter"}),
        ("Thread the ribbon through.", {"cord"}),
    ],
)
def test_a_sentence_brings_what_it_speaks_of(sentence, codes):
    assert set(dangers_in(sentence)) == codes


@pytest.mark.parametrize(
    "sentence",
    [
        "No hot glue needed.",
        "You need no glue gun.",
        "Use tape instead of hot glue.",
        "Wet glue, rather than super glue, leaves time to move it.",
        "Never use super glue here.",
        "It holds without a pin.",
        "No knife, iron or glue gun is needed.",
        "A craft knife is not needed.",
        "The hot glue gun isn't needed.",
    ],
)
def test_what_is_not_needed_is_no_danger(sentence):
    assert dangers_in(sentence) == ()


@pytest.mark.parametrize(
    ("sentence", "code"),
    [
        ("Do not touch the nozzle of the glue gun.", "hot-glue"),
        ("Pull it off without touching the hot glue.", "hot-glue"),
        ("Never leave the candle burning.", "flame"),
        ("No child uses the craft knife.", "blade"),
        ("Use no tape: hot glue is better.", "hot-glue"),
        ("No tape, hot glue is better.", "hot-glue"),
    ],
)
def test_a_warning_is_not_taken_for_a_no(sentence, code):
    assert code in dangers_in(sentence)


@pytest.mark.parametrize(
    "sentence",
    [
        "Trim 1 mm off and seal it.",
        "Cut the sand card.",
        "Print it on a laser printer.",
        "Stamp a balloon card.",
        "Cut out the paper candle.",
        "The hot air balloon goes on top.",
        "Rub every fold down with the bone folder.",
        "A sweet treat with a nice tea.",
        "Make a pin wheel of the glitter card.",
        "",
    ],
)
def test_what_only_sounds_like_it_is_none(sentence):
    assert dangers_in(sentence, ("sand card",)) == ()


def test_a_piece_called_like_a_danger_is_a_piece():
    assert dangers_in("Fold the candle, then the magnets.", ("Candle", "magnet")) == ()
    assert dangers_in("Fold the candle beside the hot glue.", ("candle",)) == ("hot-glue",)


def test_an_electric_light_is_no_flame():
    assert "flame" not in dangers_in("Use an LED tea light instead of a candle.")
    assert "cell" in dangers_in("Use an LED tea light instead of a candle.")


@pytest.mark.parametrize("thing", [*TOOLS, *SUPPLY_KINDS], ids=lambda thing: thing.name)
def test_every_name_of_a_dangerous_thing_is_heard_in_a_sentence(thing):
    grave = {code for code in thing.hazards if code in HAZARDS and "food" not in code}
    for name in (thing.name, *thing.forms):
        heard = set(dangers_in(f"Now take the {name} and go on."))
        # To thread, staple or lace is no thing; as acts they have hazards of their own.
        assert grave <= heard or name in ("thread", "lace", "trim", "staple"), name
