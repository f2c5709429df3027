"""The faces pages carry: every sign that is used is in them, the fraction feature works on, the bytes never change."""

from __future__ import annotations

import base64
import io
import re

import pytest
from fontTools.ttLib import TTFont

from foldwright.render.fonts import FACES, face_rule, font_file, subset, whole_face

USED = "×⁄\u202f–—‘’“”€°²0123456789½⅛éüßłžçøåñ"


def carried(name: str) -> TTFont:
    data = re.search(r"base64,([A-Za-z0-9+/=]+)\)", face_rule(name))
    assert data
    return TTFont(io.BytesIO(base64.b64decode(data[1])))


@pytest.mark.parametrize("name", FACES)
def test_every_sign_that_is_used_is_there(name):
    missing = [sign for sign in USED if ord(sign) not in carried(name).getBestCmap()]
    assert missing == []


@pytest.mark.parametrize("name", FACES)
def test_fractions_and_figures_can_be_set(name):
    features = {record.FeatureTag for record in carried(name)["GSUB"].table.FeatureList.FeatureRecord}
    # Lining figures are what the faces have by default.
    assert {"frac", "onum"} <= features


@pytest.mark.parametrize("name", FACES)
def test_the_narrow_space_is_narrow(name):
    font = carried(name)
    glyph = font.getBestCmap()[0x202F]
    assert 0 < font["hmtx"][glyph][0] < font["hmtx"][font.getBestCmap()[0x20]][0] * 1.3
    assert font["hmtx"][glyph][0] <= font["head"].unitsPerEm / 4


def test_a_face_is_made_where_no_copy_can_be_kept(monkeypatch, tmp_path):
    from foldwright.render import fonts

    face = FACES["serif-italic"]
    locked = tmp_path / "locked" / "fonts.py"
    locked.parent.write_text("a file, where a folder would be needed")
    kept = fonts._kept("serif-italic", face, "woff", subset)
    monkeypatch.setattr(fonts, "__file__", str(locked))
    assert fonts._kept("serif-italic", face, "woff", subset) == kept


def test_a_copy_is_kept_beside_the_compiled_modules(monkeypatch, tmp_path):
    from foldwright.render import fonts

    monkeypatch.setattr(fonts, "__file__", str(tmp_path / "fonts.py"))
    face = FACES["serif-italic"]
    made = fonts._kept("serif-italic", face, "woff", subset)
    (copy,) = (tmp_path / "__pycache__").iterdir()
    assert copy.read_bytes() == made
    assert fonts._kept("serif-italic", face, "woff", refuse) == made


def refuse(*_: object) -> bytes:
    raise AssertionError("a face that is kept is not made again")


def test_a_whole_face_has_every_character_of_its_file_and_the_narrow_space():
    face = FACES["serif"]
    whole = set(TTFont(font_file(face)).getBestCmap())
    named = TTFont(io.BytesIO(whole_face("serif")))
    assert set(named.getBestCmap()) == whole | {0x202F}
    assert {record.toUnicode() for record in named["name"].names if record.nameID == 1} == {"Foldwright Serif"}


def test_the_face_has_a_name_of_ours():
    names = {record.toUnicode() for record in carried("sans")["name"].names if record.nameID == 1}
    assert names == {"Foldwright Sans"}


def test_the_same_bytes_every_time_and_small():
    face = FACES["sans-italic"]
    whole = font_file(face).read_bytes()
    assert subset(whole, face) == subset(whole, face)
    assert len(subset(whole, face)) < len(whole) / 4
