"""The faces pages carry: every sign that is used is in them, the fraction feature works on, the bytes never change."""

from __future__ import annotations

import base64
import io
import re
import shutil
import subprocess
import sys

import pytest
from fontTools.ttLib import TTFont

from foldwright.render.fonts import FACES, face_rule, font_file, subset, whole_face
from foldwright.render.sandbox import compiled_templates
from foldwright.render.themes import _theme

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


@pytest.fixture
def cache(monkeypatch, tmp_path):
    """A cache folder of the test's own, as the XDG base directories name it."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "foldwright"


def test_a_face_is_made_where_no_copy_can_be_kept(cache):
    whole, face = font_file(FACES["serif-italic"]).read_bytes(), FACES["serif-italic"]
    cache.write_text("a file, where a folder would be needed")
    assert face_rule.__wrapped__("serif-italic") == rule(subset(whole, face))
    assert cache.read_text().startswith("a file")


def test_a_copy_is_kept_in_the_users_cache_folder(cache):
    first = face_rule.__wrapped__("serif-italic")
    (copy,) = cache.iterdir()
    assert first == rule(copy.read_bytes())
    copy.write_bytes(b"what is kept is not made again")
    assert face_rule.__wrapped__("serif-italic") == rule(b"what is kept is not made again")


def rule(data: bytes) -> str:
    carried = base64.b64encode(data).decode()
    return (
        '@font-face{font-family:"Foldwright Serif";font-weight:400;font-style:italic;'
        f'src:url(data:font/woff;base64,{carried}) format("woff")}}'
    )


def test_processes_that_keep_the_same_copy_at_once_all_read_it_whole(cache):
    """Eight processes and one name: each has the whole, and one copy remains."""
    program = "import sys; from foldwright.render.kept import kept; print(len(kept('one', lambda: b'x' * 4_000_000)))"
    running = [subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE) for _ in range(8)]
    assert [one.communicate()[0].strip() for one in running] == [b"4000000"] * 8
    assert [(one.name, one.stat().st_size) for one in cache.iterdir()] == [("one", 4_000_000)]


def test_templates_are_kept_there_too_and_compiled_anew_where_they_cannot_be(cache):
    _theme.__wrapped__("harbour", b"")
    assert [copy.suffix for copy in cache.iterdir() if copy.suffix != ".woff"] == [".cache"]
    shutil.rmtree(cache)
    cache.write_text("a file, where a folder would be needed")
    assert compiled_templates() is None
    assert _theme.__wrapped__("harbour", b"").page.name == "tutorial.html"


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
