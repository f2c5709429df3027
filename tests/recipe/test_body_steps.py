"""The words of a recipe: which heading is a step, what stands beneath it, what is left as words."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.finding import Strength
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.structure import read_structure
from foldwright.recipe.model import Doing, Step, When
from foldwright.recipe.prose.body import ReadBody, _entries, read_body
from foldwright.recipe.words import SectionKind
from recipe.prose_shown import measures, shown
from workbench.long import tries

PIECES = ("base", "outer mat", "inner mat", "birdhouse front", "tag", "sleeve")
SUPPLIES = ("satin ribbon", "cotton twine", "pins and needles")


def read(text: str, offset: int = 0) -> ReadBody:
    return read_body(text, "recipe.md", offset, PIECES, SUPPLIES)


def step(facts: str) -> Step:
    return read(f"## Cut\n```step\n{facts}\n```\n").steps[0]


def codes(body: ReadBody) -> list[str]:
    return [finding.code for finding in body.findings]


# --- headings ------------------------------------------------------------------------------------------------------


def test_steps_sections_and_what_stands_before_them() -> None:
    body = read(
        "Before it all.\n\nMore.\n\n## Cut the base\n\nCut it.\n\n### A detail\n\nFine.\n\n"
        "## Tips\n\nThin.\n\n## Fold it\n"
        "## Notes:\nA note.\n## VARIATIONS\n## for the teacher\n## Before you start\nWash.\n"
    )
    assert shown(body.intro) == "Before it all.\nMore."
    assert [(each.number, each.heading.value) for each in body.steps] == [(1, "Cut the base"), (2, "Fold it")]
    assert shown(body.steps[0].words) == "Cut it.\n### A detail\nFine."
    assert [section.kind for section in body.sections] == list(SectionKind)
    assert body.findings == ()


@pytest.mark.parametrize(
    ("heading", "kind"),
    [
        ("Tips", SectionKind.TIPS), ("tip", SectionKind.TIPS), ("TIPS:", SectionKind.TIPS),
        ("*Tips*", SectionKind.TIPS),
        ("Note", SectionKind.NOTES), ("Notes.", SectionKind.NOTES), ("Variation", SectionKind.VARIATIONS),
        ("For the teacher", SectionKind.TEACHER), ("For the teachers:", SectionKind.TEACHER),
        ("For teachers", SectionKind.TEACHER), ("Before you start", SectionKind.BEFORE),
        ("Before  you start:", SectionKind.BEFORE),
    ],
)  # fmt: skip
def test_headings_that_are_no_steps(heading: str, kind: SectionKind) -> None:
    body = read(f"## One\n\n## {heading}\n\nWords.\n")
    assert [section.kind for section in body.sections] == [kind]
    assert len(body.steps) == 1


@pytest.mark.parametrize(
    "heading", ["Tip the box over", "Notes for the lid", "Vary it", "Teacher", "Start", "Tips and tricks"]
)
def test_headings_that_are_steps_all_the_same(heading: str) -> None:
    assert read(f"## {heading}\n").steps[0].heading.value == heading


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("## Cut the base", "Cut the base"), ("##Cut the base", "Cut the base"),
        ("##  Cut *the* base ##", "Cut the base"),
        ("   ## Cut", "Cut"), ("##\tCut", "Cut"), ("## Cut 3 in off", "Cut 3 in off"),
        ("## `Cut` &amp; fold", "Cut & fold"),
        ("## C#", "C#"), ("## Step 1: cut", "Step 1: cut"), ("## A [link](https://x.example) to", "A link to"),
    ],
)  # fmt: skip
def test_what_a_heading_says(line: str, said: str) -> None:
    (one,) = read(f"{line}\n\nWords.").steps
    assert one.heading.value == said


@pytest.mark.parametrize("line", ["##110 cover", "#110 cover", "### Cut", "\\## Cut", "    x ## Cut", "a ## b"])
def test_what_is_no_heading_of_a_step(line: str) -> None:
    body = read(f"{line}\n")
    assert body.steps == ()
    assert codes(body) == ["no-steps"]


def test_the_place_of_a_heading_is_its_words() -> None:
    text = "Intro.\n\n## Cut the *base* ##\n"
    (one,) = read(text, 50).steps
    assert text[one.heading.place.start - 50 : one.heading.place.end - 50] == "Cut the *base*"


def test_a_recipe_whose_steps_have_single_signs_is_understood_and_told() -> None:
    body = read("# Cut\n\nCut it 3 mm wide.\n\n# Fold\n\n# Tips\n\nThin.\n")
    assert [each.heading.value for each in body.steps] == ["Cut", "Fold"]
    assert [section.kind for section in body.sections] == [SectionKind.TIPS]
    assert codes(body) == ["single-number-sign"] * 3


def test_a_title_said_again_is_kept_as_a_heading_in_the_words() -> None:
    body = read("# Birdhouse box\n\nA box.\n\n## Cut\n")
    assert shown(body.intro) == "# Birdhouse box\nA box."
    assert len(body.steps) == 1
    assert [(finding.code, finding.strength) for finding in body.findings] == [("single-number-sign", Strength.THOUGHT)]


def test_a_heading_inside_a_block_of_text_is_none() -> None:
    body = read("## Cut\n\n```\n## not a step\n```\n\n~~~~\n## nor this\n~~~\n~~~~\n\n## Fold\n")
    assert [each.heading.value for each in body.steps] == ["Cut", "Fold"]


def test_an_unclosed_block_of_text_swallows_no_step() -> None:
    body = read("## Cut\n\n```\nsome text\n\n## Fold\n\n~~~\n\n## Glue\n")
    assert [each.heading.value for each in body.steps] == ["Cut", "Fold", "Glue"]


def test_many_unclosed_blocks_take_no_time() -> None:
    text = "## Cut\n" + "".join(f"{'`' * (3 + number % 40)}x\n" for number in range(20_000))
    assert len(read(text).steps) == 1


def test_five_hundred_steps_and_no_more() -> None:
    assert len(read("## Step\n" * 500).steps) == 500
    body = read("## Step\n" * 600)
    assert len(body.steps) == 500
    assert codes(body) == ["too-many-steps"]


@pytest.mark.parametrize("text", ["", "\n", "Words only.", "## Tips\n\nThin."])
def test_a_recipe_without_steps_is_told(text: str) -> None:
    assert codes(read(text)) == ["no-steps"]


# --- the facts of a step -------------------------------------------------------------------------------------------

WHOLE = """do: cut and score base
time: 2 min              # hands-on, for one
get ready: 3 min         # once
when: before class       # or: in class
wait: 10 min
within: 90 sec
photo: score.jpg
photo shows: The charcoal blank in the trimmer: short edge against the fence
video: 3:40
tip: Score 3 in from the end: *twice* "if need be".
caution: Mind the blade.
short: Cut 5 x 4 in.
share: 3 trimmers
with: satin ribbon, glue
optional: yes"""


@pytest.mark.parametrize(
    "text",
    [
        f"## Cut\n\n```step\n{WHOLE}\n```\n\nCut it 3 mm wide.",
        f"## Cut\n```step\n{WHOLE}\n```\nCut it 3 mm wide.",
        f"## Cut\n\n~~~ Step\n{WHOLE}\n~~~\n\nCut it 3 mm wide.",
        f"## Cut\n{WHOLE}\n\nCut it 3 mm wide.",
        f"## Cut\n\n{WHOLE}\nCut it 3 mm wide.",
        f"## Cut\n\nCut it 3 mm wide.\n\n```step\n{WHOLE}\n```\n",
        f"## Cut\r\n{WHOLE}\r\n\r\nCut it 3 mm wide.".replace("\n", "\r\n").replace("\r\r", "\r"),
    ],
)
def test_every_fact_in_a_block_or_in_plain_lines(text: str) -> None:
    body = read(text, 9)
    (one,) = body.steps
    assert body.findings == ()
    assert one.do
    assert one.do.value == "cut and score base"
    assert one.doings == (Doing("cut", ("base",)), Doing("score", ("base",)))
    assert [one.time and one.time.value, one.get_ready and one.get_ready.value] == [120, 180]
    assert [one.within and one.within.value, one.wait and one.wait.value.seconds] == [90, 600]
    assert one.when is When.BEFORE_CLASS
    assert one.photo
    assert one.photo.shows
    assert one.photo.path.value == "score.jpg"
    assert one.photo.shows.value == "The charcoal blank in the trimmer: short edge against the fence"
    assert one.video
    assert one.video.value == "3:40"
    assert one.tip
    assert shown(one.tip.value) == 'Score {3 in} from the end: <i>twice</i> "if need be".'
    assert one.caution
    assert shown(one.caution.value) == "Mind the blade."
    assert one.short
    assert shown(one.short.value) == "Cut {5 x 4 in}."
    assert one.share
    assert one.share.value == (3, "trimmers")
    assert [use.value for use in one.uses] == ["satin ribbon", "glue"]
    assert one.optional
    assert shown(one.words) == "Cut it {3 mm} wide."
    for measure in measures((*one.tip.value, *one.short.value, *one.words)):
        assert text[measure.place.start - 9 : measure.place.end - 9] == measure.said
    assert text[one.time.place.start - 9 : one.time.place.end - 9] == "2 min" if one.time else False


def test_a_step_without_facts_has_only_words() -> None:
    (one,) = read("## Cut\n\nCut it.").steps
    assert (one.do, one.doings, one.time, one.when, one.optional) == (None, (), None, When.IN_CLASS, False)


@pytest.mark.parametrize(
    "words",
    [
        "Note: the card is thick.",
        "Remember: score first.",
        "A word: and more.",
        "See https://x.example/a",
        "Cut the card: it is 3 mm wide.",
        "Cut it.\ntime: 2 min",
    ],
)
def test_prose_with_a_colon_is_prose(words: str) -> None:
    body = read(f"## Cut\n\n{words}\n")
    assert shown(body.steps[0].words) == words.replace("3 mm", "{3 mm}").replace("\n", " ")
    assert body.steps[0].time is None
    assert body.findings == ()


def test_a_misspelt_plain_line_is_named_and_no_prose() -> None:
    body = read("## Cut\n\ntmie: 2 min\n\nCut it.")
    assert codes(body) == ["unknown-word"]
    assert dict(body.findings[0].facts)["nearest"] == "time"
    assert shown(body.steps[0].words) == "Cut it."


def test_one_slip_in_a_block_hides_no_other_fact() -> None:
    body = read(
        "## Cut\n```step\ntmie: 2 min\nget ready: soon\nwhen: before class\noptional: maybe\ntip: Slowly.\n```\n"
    )
    (one,) = body.steps
    assert sorted(codes(body)) == ["duration-unreadable", "unknown-word", "yes-or-no"]
    assert one.when is When.BEFORE_CLASS
    assert one.tip
    assert shown(one.tip.value) == "Slowly."


def test_a_block_that_is_not_closed_ends_where_its_facts_do() -> None:
    body = read(
        "## Cut\n```step\ntime: 2 min\ntip: Slowly.\n\nCut it 3 mm wide.\n\n"
        "## Fold\n\n```step\ntime: 1 min\n```\nFold it.\n"
    )
    assert codes(body) == ["step-block-not-closed"]
    assert [each.time and each.time.value for each in body.steps] == [120, 60]
    assert [shown(each.words) for each in body.steps] == ["Cut it {3 mm} wide.", "Fold it."]


def test_a_value_may_go_on_in_deeper_lines() -> None:
    text = "## Cut\n```step\ntip: Score 1\n  1/2 in from\n  the end.\ntime: 2 min\n```\n"
    (one,) = read(text).steps
    assert one.tip
    assert shown(one.tip.value) == "Score {1 1/2 in} from the end."
    (measure,) = measures(one.tip.value)
    assert text[measure.place.start : measure.place.end].split() == ["1", "1/2", "in"]


def test_a_list_beneath_with() -> None:
    assert [use.value for use in step("with:\n  - cotton twine\n  - Satin ribbons\ntime: 2 min").uses] == [
        "cotton twine",
        "satin ribbon",
    ]


def test_a_supply_whose_name_holds_and_is_one() -> None:
    assert [use.value for use in step("with: pins and needles").uses] == ["pins and needles"]
    assert [use.value for use in step("with: glue and cotton twine").uses] == ["glue", "cotton twine"]


def test_a_tip_in_the_words_counts_as_one() -> None:
    (one,) = read("## Cut\n\nCut it.\n\nTip: score 3 mm in.\n\n**Caution:** it is sharp.\n\nDone.").steps
    assert one.tip
    assert one.caution
    assert shown(one.tip.value) == "score {3 mm} in."
    assert shown(one.caution.value) == "it is sharp."
    assert shown(one.words) == "Cut it.\nDone."


def test_a_second_tip_stays_in_the_words() -> None:
    (one,) = read("## Cut\ntip: Slowly.\n\nTip: twice.").steps
    assert shown(one.words) == "Tip: twice."


# --- waiting -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["Fold the sleeve", "fold the sleeve", "Sleeve", "sleeves", "the sleeve", "Fold the  Sleeve."]
)
def test_a_wait_names_the_step_done_meanwhile(name: str) -> None:
    body = read(f"## Glue\nwait: 10 min, meanwhile {name}\n\n## Fold the sleeve\n")
    assert body.findings == ()
    assert body.steps[0].wait
    assert body.steps[0].wait.value.meanwhile == "Fold the sleeve"


def test_a_wait_overnight() -> None:
    wait = step("wait: overnight").wait
    assert wait
    assert (wait.value.seconds, wait.value.meanwhile) == (12 * 3600, "")


def test_a_step_is_not_done_during_its_own_wait() -> None:
    assert codes(read("## Glue it\nwait: 10 min, meanwhile Glue it\n\n## Fold\n")) == ["meanwhile-unknown"]


def test_an_unreadable_wait_with_a_good_name_is_told_of_once() -> None:
    body = read("## Glue\nwait: a while, meanwhile Fold\n\n## Fold\n")
    assert codes(body) == ["duration-unreadable"]
    assert body.steps[0].wait is None


# --- nothing trips it ----------------------------------------------------------------------------------------------

PARTS = (
    "## Cut", "##", "# One", "```step", "```", "~~~", "do: cut base", "do: cut and", "time: 2 min", "time:",
    "tip: 3 in *x", "when: now",
    "wait: 1 min, meanwhile Cut", "share: 3", "with: a, b", "optional", "photo shows: x", "Tip: twice",
    "  deeper", "- item", "# x",
    "", " ", "Cut 1/2 in off.", "## Tips", "short: \\3 in", "\t- x", "x:y", "do: ", "\ufeff", "\r",
)  # fmt: skip


@settings(max_examples=tries(100, 300))
@given(st.lists(st.sampled_from(PARTS), max_size=25).map("\n".join))
def test_any_lines_are_read_and_every_place_is_true(text: str) -> None:
    _check(text)


@settings(max_examples=tries(100, 200))
@given(st.text(max_size=200).map(lambda text: f"## Cut\n{text}"))
def test_any_text_is_read_and_every_place_is_true(text: str) -> None:
    _check(text)


def _check(text: str) -> None:
    body = read(text, 11)
    for finding in body.findings:
        assert finding.place is not None
        assert 11 <= finding.place.start <= finding.place.end <= 11 + len(text)
    passages = [body.intro, *(section.words for section in body.sections)]
    for one in body.steps:
        passages += [one.words, *(said.value for said in (one.tip, one.caution, one.short) if said)]
    for measure in measures(tuple(passages)):
        assert text[measure.place.start - 11 : measure.place.end - 11].split() == measure.said.split()
    assert [each.number for each in body.steps] == list(range(1, len(body.steps) + 1))


FACT_LINES = st.lists(
    st.sampled_from(
        (
            "do: cut base",
            "time: 2 min  ",
            "tip: a: b, 3 in",
            "wait:  1 min",
            "when: {x",
            "a b: c",
            "x: |",
            "y: \u00a0z",
            "z: y\u00a0",
            'a: "b"',
            "a: 'b' c",
            "a: b 'c'",
            "a: &b c",
            "a: [b]",
        )
    ),
    min_size=1,
    max_size=6,
).map("\n".join)


@settings(max_examples=tries(100, 200))
@given(FACT_LINES, st.sampled_from(("", "\n")))
def test_simple_lines_are_read_as_the_lines_of_the_facts_are(text: str, ending: str) -> None:
    lines = Phrase(text + ending, "recipe.md", 7)
    assert _entries(lines, Complaints()) == read_structure(lines.text, lines.file, lines.start, Complaints())


def test_a_long_line_of_facts_is_read_in_no_time() -> None:
    assert read("## Cut\n```step\ntip: " + "a  " * 100_000 + "# x\n```\n").steps[0].tip
