"""What ids, labels and classes say, and what only looks as if it said something."""

from __future__ import annotations

import pytest

from core.curve import Chain, Point, Ring
from core.piece.model import Kind, Role, Shape
from core.piece.naming import name_piece, unique
from core.piece.words import Side, is_sleeve, kind_in, plain, role_in, side_of


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("sideSeam_1", "side seam"),
        ("SIDE-SEAM", "side seam"),
        ("SideSeam2b", "side seam b"),
        ("cf", "cf"),
        ("path1234", "path"),
        ("hemLine", "hem line"),
        ("CFFold", "cf fold"),
        ("", ""),
    ],
)
def test_ids_are_taken_apart_into_words(text: str, words: str) -> None:
    assert plain(text) == words


@pytest.mark.parametrize(
    ("text", "role"),
    [
        ("hem", Role.HEM),
        ("Hem_2", Role.HEM),
        ("hemline", Role.HEM),
        ("front-inseam", Role.INSEAM),
        ("inside leg", Role.INSEAM),
        ("in-seam", Role.INSEAM),
        ("side", Role.SIDE),
        ("sideSeam_1", Role.SIDE),
        ("out-seam", Role.SIDE),
        ("waistLine", Role.WAIST),
        ("waist-line", Role.WAIST),
        ("centre front", Role.CENTRE_FRONT),
        ("Center-Back", Role.CENTRE_BACK),
        ("CB", Role.CENTRE_BACK),
        ("crotchCurve", Role.RISE),
        ("sleeve cap", Role.CAP),
        ("underarm seam", Role.UNDERARM),
        ("under-arm", Role.UNDERARM),
        ("fold", Role.FOLD),
    ],
)
def test_words_of_edges(text: str, role: Role) -> None:
    assert role_in([text]) is role


@pytest.mark.parametrize(
    "text",
    [
        "backside",
        "sidewalk",
        "chemise",
        "theme",
        "wrist",
        "escape",
        "capital",
        "waistband",
        "outside",
        "inside",
        "right side",
        "wrong side",
        "path1234",
        "scaffold",
        "sunrise",
        "hem allowance",
        "unfold",
        "hemp cloth",
    ],
)
def test_words_that_only_hold_an_edge_s_letters_are_no_edge(text: str) -> None:
    assert role_in([text]) is None, f"{text} was taken for {role_in([text])}"


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("grainline", Kind.GRAIN),
        ("Grain-Line", Kind.GRAIN),
        ("grain_line_3", Kind.GRAIN),
        ("notch", Kind.NOTCH),
        ("dart-2", Kind.DART),
        ("drill hole", Kind.DRILL),
        ("stitchingLine", Kind.STITCHING),
        ("seam line", Kind.STITCHING),
        ("sewLine", Kind.STITCHING),
        ("cutting line", Kind.OUTLINE),
        ("fold line", Kind.FOLD),
        ("pocket placement", Kind.INNER),
        ("buttonholes", Kind.INNER),
        ("test square", Kind.ASIDE),
    ],
)
def test_words_of_kinds(text: str, kind: Kind) -> None:
    assert kind_in([text]) is kind


@pytest.mark.parametrize(
    "text",
    [
        "grainy",
        "darted",
        "notched collar",
        "framework",
        "textile",
        "whole",
        "holes in one",
        "path1234",
        "landscape",
        "homepage",
        "reptile",
        "sewing room",
    ],
)
def test_words_that_only_hold_a_kind_s_letters_are_no_kind(text: str) -> None:
    assert kind_in([text]) is None, f"{text} was taken for {kind_in([text])}"


def test_the_nearest_word_goes_first() -> None:
    assert role_in(["hem", "waist"]) is Role.HEM
    assert kind_in(["notch", "cutting line"]) is Kind.NOTCH
    assert kind_in(["inner", "grain lines"]) is Kind.GRAIN


@pytest.mark.parametrize(
    ("name", "side"),
    [
        ("Front", Side.FRONT),
        ("BACK", Side.BACK),
        ("front-leg 2", Side.FRONT),
        ("Backside", Side.UNKNOWN),
        ("Frontier", Side.UNKNOWN),
        ("front and back", Side.UNKNOWN),
        ("Leg", Side.UNKNOWN),
        ("", Side.UNKNOWN),
    ],
)
def test_front_or_back_by_the_name(name: str, side: Side) -> None:
    assert side_of(name) is side


def test_sleeves_by_name() -> None:
    assert is_sleeve("Sleeve 2")
    assert not is_sleeve("Sleeveless front")


def _shape(*words: str, text: str = "", group: str = "", kind: Kind | None = None) -> Shape:
    chain = Chain.through([Point(0, 0), Point(1, 0)])
    return Shape(0, chain, words, group_name=group, text=text, kind=kind)


@pytest.mark.parametrize(
    "word",
    [
        "path1234",
        "path-7",
        "polygon12",
        "rect",
        "g5",
        "Layer 1",
        "outline",
        "svg8",
        "use3",
        "polyline42",
        "shape_9",
        "Group 3",
        "object17",
        "compound path",
        "x1",
        "_2",
        "...",
    ],
)
def test_ids_that_programs_put_on_everything_are_no_names(word: str) -> None:
    assert name_piece([_shape(word)], []) == ""


@pytest.mark.parametrize(
    ("drawn", "inner", "name"),
    [
        ([_shape("path1", group="Back leg")], [], "Back leg"),
        ([_shape("front_leg")], [], "Front leg"),
        ([_shape("path1234")], [_shape(kind=Kind.TEXT, text="Sleeve")], "Sleeve"),
        (
            [_shape("path1234")],
            [_shape(kind=Kind.TEXT, text="cut 2 of cloth"), _shape(kind=Kind.TEXT, text="Back")],
            "Back",
        ),
        ([_shape("front outline")], [], "Front"),
        ([_shape("x" * 90)], [], "X" + "x" * 39),
    ],
)
def test_the_best_name_wins(drawn: list[Shape], inner: list[Shape], name: str) -> None:
    assert name_piece(drawn, inner) == name


def test_names_are_unique_and_the_nameless_are_numbered() -> None:
    got = unique(["Front", "front", "", "Front", "", "Piece 3"])
    assert got == ["Front", "front 2", "Piece 3", "Front 3", "Piece 5", "Piece 3 2"]
    assert len({n.lower() for n in got}) == len(got)


def test_a_ring_is_no_different_for_its_name() -> None:
    ring = Ring.polygon([Point(0, 0), Point(100, 0), Point(0, 100)])
    assert name_piece([Shape(0, ring, ("back",))], []) == "Back"


@pytest.mark.parametrize(
    "name", ["skirt_back_cutting", "Skirt back cutting line", "skirt-back outline"]
)
def test_a_piece_is_not_called_after_its_line(name: str) -> None:
    square = Ring.polygon([Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100)])
    assert name_piece([Shape(0, square, (name,))], []) == "Skirt back"
