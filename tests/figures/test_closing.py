"""The closing of single groups, worked out by hand beside each."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from figures.hard_rules import broken
from figures.made_up import panel_row
from foldwright.figures.closing import close
from foldwright.figures.model import Figures, Note
from foldwright.geometry.lengths import AtLeast, Clearance, Equal, LengthId, Lengths, Relation, Sum, Within
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_length

IMPERIAL, METRIC = System.IMPERIAL, System.METRIC


def length(text: str) -> Length:
    read = read_length(text)
    assert isinstance(read, Length)
    return read


def name(place: str, piece: str = "base") -> LengthId:
    return LengthId(piece, "across", place)


def lengths(*relations: Relation, **written: str) -> Lengths:
    """`lengths(size="5 in", left="1 in")`: one piece, its places named by the keywords."""
    return Lengths({name(place): length(text) for place, text in written.items()}, relations)


def plain(figures: Figures) -> dict[str, str]:
    return {f"{one.place} {one.number or ''}".strip(): printed.plain for one, printed in figures.printed.items()}


def note(figures: Figures, code: str) -> Note:
    (found,) = [one for one in figures.notes if one.code == code]
    return found


# --- what needs no search ---------------------------------------------------------------------------------------


def test_a_length_written_in_the_system_stands_as_written() -> None:
    figures = close(lengths(a="4 1/8 in", b="20 yd", c="4.1 in", d="3 1/64 in"), IMPERIAL)
    assert plain(figures) == {"a": "4 1/8 in", "b": "20 yd", "c": "4.1 in", "d": "3 1/64 in"}
    assert figures.steps == {}
    assert figures.notes == ()


def test_a_length_alone_takes_the_nearest_mark_of_the_coarsest_ruler() -> None:
    figures = close(lengths(a="4 1/8 in", b="10,5 cm", c="1/4 in"), METRIC)
    assert plain(figures) == {"a": "105 mm", "b": "10.5 cm", "c": "6 mm"}  # 104.775 and 6.35 mm
    assert figures.steps.get(name("a")) == 1
    assert figures.steps.get(name("b")) is None


def test_millimetres_to_inches_takes_sixteenths() -> None:
    # 60 / 25.4 = 2.362 in = 37.8 sixteenths; 22 mm = 13.86 sixteenths; 2 mm is 1.26 sixteenths.
    assert plain(close(lengths(a="60 mm", b="22 mm", c="2 mm"), IMPERIAL)) == {
        "a": "2 3/8 in",
        "b": "7/8 in",
        "c": "1/16 in",
    }


def test_nothing_is_ever_printed_as_nothing() -> None:
    # 1/64 in is 0.397 mm: the nearest whole millimetre is none, and one whole millimetre is too far.
    assert plain(close(lengths(a="1/64 in"), METRIC)) == {"a": "0.5 mm"}


def test_what_is_cut_by_the_yard_is_printed_in_metres() -> None:
    assert plain(close(lengths(a="20 yd", b="1 ft"), METRIC)) == {"a": "18.288 m", "b": "305 mm"}


# --- rows of panels ---------------------------------------------------------------------------------------------


def row(*panels: str, side: str = "down") -> Lengths:
    by_id: dict[LengthId, Length] = {}
    relations: list[Relation] = []
    panel_row(by_id, relations, "base", side, [length(panel) for panel in panels])
    return Lengths(by_id, tuple(relations))


def test_panels_keep_their_places_and_the_whole_moves_with_them() -> None:
    # 44.45 + 19.05 + 44.45 = 107.95: each panel is nearest to a whole millimetre, and together they come to 107.
    figures = close(row("1 3/4 in", "3/4 in", "1 3/4 in"), METRIC)
    assert plain(figures) == {
        "size": "107 mm",
        "panel 1": "44 mm",
        "panel 2": "19 mm",
        "panel 3": "44 mm",
        "score 1": "44 mm",
        "score back 1": "63 mm",
        "score 2": "63 mm",
        "score back 2": "44 mm",
    }
    assert {figures.steps.get(one) for one in figures.printed} == {Fraction(1)}
    assert figures.notes == ()


def test_panels_that_add_up_at_once_stay_on_whole_millimetres() -> None:
    # 19.05 + 88.9 + 19.05 = 127 and 19 + 89 + 19 = 127.
    assert plain(close(row("3/4 in", "3 1/2 in", "3/4 in"), METRIC))["size"] == "127 mm"


def test_three_equal_panels_are_on_whole_millimetres_and_so_is_the_blank() -> None:
    # 3 1/8 in = 79.375 mm, which is 0.375 from 79; three are 238.125 mm, and print as 237.
    figures = close(row("3 1/8 in", "3 1/8 in", "3 1/8 in"), METRIC)
    assert [figures[LengthId("base", "down", "panel", n)].plain for n in (1, 2, 3)] == ["79 mm"] * 3
    assert figures[LengthId("base", "down", "size")].plain == "237 mm"
    assert figures.notes == ()


def test_metric_panels_in_inches() -> None:
    # The drawer of our drawer box: 20 mm = 0.787 in = 12.6 sixteenths, 60 mm = 2.362 in = 37.8 sixteenths.
    figures = close(row("20 mm", "60 mm", "20 mm"), IMPERIAL)
    assert [figures[LengthId("base", "down", "panel", n)].plain for n in (1, 2, 3)] == [
        "13/16 in",
        "2 3/8 in",
        "13/16 in",
    ]
    assert figures[LengthId("base", "down", "size")].plain == "4 in"


def test_a_row_is_on_one_ruler() -> None:
    # A lid of 2 1/64 in = 51.197 mm over 50.8 mm needs halves; what lies beside it in the row takes them as well.
    lid = row("3/4 in", "2 1/64 in", "3/4 in")
    by_id = {**lid.by_id, name("tray"): length("2 in")}
    related = Lengths(by_id, (*lid.relations, Clearance(LengthId("base", "down", "panel", 2), name("tray"))))
    figures = close(related, METRIC)
    # 19.05 is nearer to 19 than to 19.5 anyhow.
    assert figures[LengthId("base", "down", "panel", 1)].plain == "19 mm"
    assert figures.steps.get(LengthId("base", "down", "panel", 1)) == Fraction(1, 2)
    assert (figures[LengthId("base", "down", "panel", 2)].plain, figures[name("tray")].plain) == ("51 mm", "50.5 mm")
    assert figures[LengthId("base", "down", "size")].plain == "89 mm"


def test_a_length_of_the_other_system_in_the_middle_of_a_row() -> None:
    mixed = lengths(
        Sum(name("size"), (name("left"), name("floor"), name("right"))),
        size="5 in",
        left="20 mm",
        floor="87 mm",
        right="20 mm",
    )
    assert plain(close(mixed, METRIC)) == {"size": "127 mm", "left": "20 mm", "floor": "87 mm", "right": "20 mm"}
    # The size stands as written, 5 in: 0.787 + 3.425 + 0.787 in are 25/32 + 3 7/16 + 25/32.
    imperial = close(mixed, IMPERIAL)
    assert plain(imperial) == {"size": "5 in", "left": "25/32 in", "floor": "3 7/16 in", "right": "25/32 in"}
    assert list(broken(mixed, imperial)) == []


def test_a_total_that_was_written_gives_where_equal_parts_cannot_come_to_it() -> None:
    # Three equal parts of 100 mm: 33.5 makes 100.5 and tenths 99.9, so the whole is 3 x 33.
    third = Length(Fraction(100, 3), Unit.MILLIMETRE)
    names = [name(f"p{n}") for n in range(3)]
    by_id = {name("size"): length("100 mm"), **dict.fromkeys(names, third)}
    relations = (Sum(name("size"), tuple(names)), Equal(names[0], names[1]), Equal(names[0], names[2]))
    related = Lengths(by_id, relations, worked_out=frozenset(names))
    figures = close(related, METRIC)
    assert plain(figures) == {"size": "99 mm", "p0": "33 mm", "p1": "33 mm", "p2": "33 mm"}
    told = note(figures, "total-gives")
    assert told.lengths == (name("size"),)


def test_lengths_nobody_wrote_are_rounded_in_their_own_system_too() -> None:
    by_id = {name("size"): Length(Fraction("76.84"), Unit.MILLIMETRE), name("floor"): length("60 mm")}
    figures = close(Lengths(by_id, (), frozenset({name("size")})), METRIC)
    assert plain(figures) == {"size": "77 mm", "floor": "60 mm"}


# --- mats, lids, sheets -----------------------------------------------------------------------------------------


def test_a_mat_keeps_its_border_equal_on_all_sides() -> None:
    by_id = {
        LengthId("card", "across", "size"): length("4 1/4 in"),
        LengthId("card", "down", "size"): length("5 1/2 in"),
        LengthId("mat", "across", "border"): length("1/8 in"),
        LengthId("mat", "down", "border"): length("1/8 in"),
        LengthId("mat", "across", "size"): length("4 in"),
        LengthId("mat", "down", "size"): length("5 1/4 in"),
    }
    relations: list[Relation] = [
        Sum(
            LengthId("card", side, "size"),
            (LengthId("mat", side, "border"), LengthId("mat", side, "size"), LengthId("mat", side, "border")),
            held=True,
        )
        for side in ("across", "down")
    ]
    relations.append(Equal(LengthId("mat", "across", "border"), LengthId("mat", "down", "border")))
    mat = Lengths(by_id, tuple(relations))
    figures = close(mat, METRIC)
    assert list(broken(mat, figures)) == []
    # 107.95 and 139.7 mm, 3.175 mm, 101.6 and 133.35 mm: 108 = 102 + 2 x 3, and 139.5 = 133.5 + 2 x 3.
    assert [printed.plain for printed in figures.printed.values()] == [
        "108 mm",
        "139.5 mm",
        "3 mm",
        "3 mm",
        "102 mm",
        "133.5 mm",
    ]


def test_a_lid_still_goes_on() -> None:
    # Lid 2 1/32 in = 51.59375 mm over 2 in = 50.8 mm: whole millimetres give 52 over 51, a gap of 1 for 0.79.
    figures = close(lengths(Clearance(name("lid"), name("base")), lid="2 1/32 in", base="2 in"), METRIC)
    assert plain(figures) == {"lid": "52 mm", "base": "51 mm"}


def test_a_gap_never_prints_as_nothing() -> None:
    # 2 1/64 in = 51.196875 mm over 50.8 mm: both are 51 on whole millimetres, so the group takes a finer step.
    figures = close(lengths(Clearance(name("lid"), name("base")), lid="2 1/64 in", base="2 in"), METRIC)
    assert plain(figures) == {"lid": "51 mm", "base": "50.5 mm"}


def test_a_wide_gap_keeps_all_but_half_a_step() -> None:
    # 3.5 mm of play: 101 - 98 = 3 is just enough at a step of 1 (3.5 - 0.5).
    by_id = {name("lid"): length("101.49 mm"), name("base"): length("97.99 mm")}
    related = Lengths(by_id, (Clearance(name("lid"), name("base")),), frozenset(by_id))
    assert plain(close(related, METRIC)) == {"lid": "101 mm", "base": "98 mm"}


def test_no_piece_prints_larger_than_its_sheet() -> None:
    # A 12 in strip from a 12 in sheet is 304.8 mm: not 305.
    figures = close(lengths(Within(name("size"), Fraction("304.8")), size="12 in"), METRIC)
    assert plain(figures) == {"size": "304.5 mm"}


# --- what had to give -------------------------------------------------------------------------------------------


def test_what_no_ruler_shows_is_taken_for_a_fit_alone_and_told() -> None:
    by_id = {name(f"n{i}"): Length(Fraction(508 + i, 10), Unit.INCH) for i in range(4)}
    ids = list(by_id)
    other = name("strip", "strip")
    by_id[other] = length("1 1/8 in")
    related = Lengths(by_id, tuple(Clearance(outer, inner) for inner, outer in pairwise(ids)))
    # 50.8, 50.9, 51 and 51.1 mm, each over the one before: halves within 0.5 mm are 50.5, 51, 51.5 and no fourth.
    figures = close(related, METRIC)
    assert list(plain(figures).values()) == ["50.8 mm", "50.9 mm", "51 mm", "51.1 mm", "29 mm"]
    told = note(figures, "finer-for-fit")
    assert told.lengths == (ids[3], ids[2])
    assert dict(told.facts) == {"step": Length(Fraction(1, 10), Unit.MILLIMETRE)}


def test_a_sheet_that_no_ruler_can_hold_is_told() -> None:
    # A lid of 127.3 mm from a sheet of 127.4 mm goes over a tray that may not print below 127.2 mm: in halves the lid
    # may be 127 at most, the tray 127.5 at least.
    big, small = Length(Fraction("127.3"), Unit.INCH), Length(Fraction("127.2"), Unit.INCH)
    by_id = {name("lid"): big, name("base"): small}
    floor = AtLeast(name("base"), small.mm)
    related = Lengths(by_id, (floor, Within(name("lid"), Fraction("127.4")), Clearance(name("lid"), name("base"))))
    figures = close(related, METRIC)
    assert plain(figures) == {"lid": "127.3 mm", "base": "127.2 mm"}
    assert list(broken(related, figures)) == []
    assert note(figures, "finer-for-fit").lengths == (name("lid"), name("base"))


def test_many_equal_panels_are_on_the_ruler_and_the_whole_follows() -> None:
    # Forty panels of 3.175 mm: 3 mm each, and the strip is 120 instead of 127 mm.
    parts = Sum(name("size"), (name("p"),) * 40)
    figures = close(lengths(parts, size="5 in", p="1/8 in"), METRIC)
    assert plain(figures) == {"size": "120 mm", "p": "3 mm"}
    assert figures.notes == ()


def test_what_moves_further_than_usual_even_on_the_finest_step_is_told() -> None:
    # Forty borders of 3.175 mm on a panel of 127: tenths give 3.2 and 128 (1 mm off) or 3.1 and 124.
    parts = Sum(name("size"), (name("p"),) * 40, held=True)
    figures = close(lengths(parts, size="5 in", p="1/8 in"), METRIC)
    assert plain(figures) == {"size": "128 mm", "p": "3.2 mm"}
    told = note(figures, "moved-further")
    assert told.lengths == (name("size"),)
    assert dict(told.facts)["most"] == Length(Fraction(1), Unit.MILLIMETRE)


def test_room_asked_for_is_never_printed_smaller() -> None:
    # Walls of 15.165 mm for 15 mm of room: 15 would be too low, 16 is 0.835 off, so 15.5; in inches 0.597 is 5/8.
    wall = Length(Fraction("15.165"), Unit.MILLIMETRE)
    asked = Lengths({name("wall"): wall}, (AtLeast(name("wall"), wall.mm),), frozenset({name("wall")}))
    assert plain(close(asked, METRIC)) == {"wall": "15.5 mm"}
    assert plain(close(asked, IMPERIAL)) == {"wall": "5/8 in"}


def test_what_the_recipe_itself_contradicts_is_told_and_the_rest_closes() -> None:
    wrong = lengths(
        Sum(name("size"), (name("a"), name("b"))),
        Equal(name("a"), name("c")),
        size="5 in",
        a="2 in",
        b="2 in",
        c="2 in",
    )
    figures = close(wrong, METRIC)
    assert plain(figures) == {"size": "127 mm", "a": "51 mm", "b": "51 mm", "c": "51 mm"}
    told = note(figures, "disagree-as-written")
    assert told.lengths == (name("size"), name("a"), name("b"))
    assert dict(told.facts) == {"relation": "sum"}


def test_a_lid_that_cannot_go_on_inside_its_sheet_is_told() -> None:
    # Worked out to 100.04 mm, from a sheet of 100.05, over a base written as 100 mm: tenths leave only 100.
    by_id = {name("lid"): Length(Fraction("100.04"), Unit.INCH), name("base"): length("100 mm")}
    relations = (Clearance(name("lid"), name("base")), Within(name("lid"), Fraction("100.05")))
    figures = close(Lengths(by_id, relations), METRIC)
    assert plain(figures) == {"lid": "100 mm", "base": "100 mm"}
    told = note(figures, "cannot-close")
    assert told.lengths == (name("lid"), name("base"))
    assert dict(told.facts) == {"relation": "clearance"}


# --- the studio's trimmer ---------------------------------------------------------------------------------------


def test_a_trimmer_of_whole_millimetres_keeps_its_step_and_says_what_gave() -> None:
    # A wall for 15 mm of room is 15.165: on whole millimetres it has to be 16.
    wall = Length(Fraction("15.165"), Unit.MILLIMETRE)
    box = Lengths({name("wall"): wall}, (AtLeast(name("wall"), wall.mm),), frozenset({name("wall")}))
    figures = close(box, METRIC, reads=length("1 mm"))
    assert plain(figures) == {"wall": "16 mm"}
    told = note(figures, "trimmer-step-kept")
    assert dict(told.facts)["reads"] == length("1 mm")
    assert dict(told.facts)["most"] == Length(Fraction("0.835"), Unit.MILLIMETRE)


def test_the_step_an_author_asks_for_is_kept_whatever_it_costs() -> None:
    # On whole millimetres a lid of 51.197 mm over 50.8 mm has a gap as 52 over 51 (0.803 off) or 51 over 50 (0.8 off).
    lid = lengths(Clearance(name("lid"), name("base")), lid="2 1/64 in", base="2 in")
    figures = close(lid, METRIC, numbers=length("1 mm"))
    assert plain(figures) == {"lid": "51 mm", "base": "50 mm"}
    told = note(figures, "numbers-step-kept")
    assert told.lengths == (name("base"),)
    # In the other system nothing was asked.
    assert close(lid, IMPERIAL, numbers=length("1 mm")).notes == ()


def test_the_step_asked_for_goes_before_the_trimmer() -> None:
    written = lengths(a="44.5 mm")
    assert plain(close(written, METRIC, reads=length("1/2 mm"), numbers=length("1 mm"))) == {"a": "44 mm"}
    assert note(close(written, METRIC, numbers=length("1 mm")), "numbers-rounded").lengths == (name("a"),)
    assert plain(close(written, METRIC, reads=length("1 mm"), numbers=length("1/10 mm"))) == {"a": "44.5 mm"}


def test_a_length_the_trimmer_cannot_read_is_told_with_what_is_printed_instead() -> None:
    figures = close(lengths(a="3 1/32 in", b="2 1/16 in"), IMPERIAL, reads=length("1/16 in"))
    assert plain(figures) == {"a": "3 in", "b": "2 1/16 in"}
    told = note(figures, "trimmer-cannot-read")
    assert told.lengths == (name("a"),)
    facts = dict(told.facts)
    assert facts["reads"] == length("1/16 in")
    assert [getattr(facts[key], "plain", None) for key in ("written", "printed")] == ["3 1/32 in", "3 in"]


def test_a_row_the_trimmer_cannot_read_still_adds_up() -> None:
    box = row("1 1/32 in", "3 in", "1 1/32 in")
    figures = close(box, IMPERIAL, reads=length("1/16 in"))
    assert list(broken(box, figures)) == []
    assert figures[LengthId("base", "down", "size")].plain == "5 1/16 in"
    assert all(printed.mm % (Unit.INCH.mm / 16) == 0 for printed in figures.printed.values())


def test_a_trimmer_in_inches_does_not_bind_millimetres_nor_what_only_the_words_say() -> None:
    said = LengthId("words", "step", "1", 1)
    both = Lengths({name("a"): length("3 1/32 in"), said: length("1/32 in")}, ())
    assert plain(close(both, METRIC, reads=length("1/16 in")))["a"] == "77 mm"
    figures = close(both, IMPERIAL, reads=length("1/16 in"))
    assert figures[said].plain == "1/32 in"
    assert list(figures.printed) == list(both.by_id)
