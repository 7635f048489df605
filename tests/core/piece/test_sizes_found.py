"""Sizes: told by words where outlines differ by them, and by nothing else."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from core.curve import Affine, Chain, Line, Point, Ring
from core.piece.mates import find_mates
from core.piece.model import Kind, Shape
from core.piece.recognise import recognise
from core.piece.size_words import size_order, spoken, without_size
from tests.core.piece.nests import found, nest, sizes_in, trapezoid
from tests.core.piece.true_pieces import shorts

NUMBERS = ("36", "38", "40")


@pytest.mark.parametrize(
    ("text", "label", "said"),
    [
        ("38", "38", False),
        ("size 38", "38", True),
        ("SIZE_M", "M", True),
        ("SizeM", "M", True),
        ("Size: 38", "38", True),
        ("EU-40", "EU 40", True),
        ("size-eu-40", "EU 40", True),
        ("front_38", "38", False),
        ("front38", "38", False),
        ("Front, size 38", "38", True),
        ("FrontXL", "XL", False),
        ("12", "12", False),
        ("3XL", "3XL", False),
        ("38/40", "38/40", False),
        ("S/M", "S/M", False),
        ("Layer size 38", "38", True),
        ("size-38-2", "38", True),
    ],
)
def test_words_that_may_be_sizes(text: str, label: str, said: bool) -> None:
    assert [(s.label, s.said) for s in spoken(text)] == [(label, said)], text


@pytest.mark.parametrize(
    "text",
    [
        "2 pieces", "cut 2", "Cut-2", "page 3", "Page 2 of 12", "1:1", "1/2", "scale 1:5", "2x",
        "x 2", "100 mm", "5 cm", "test square 100 mm", "2024-03-12", "12.03.24", "03/12/2024",
        "10:38", "path24", "path1024", "g12", "layer 3", "Piece 2", "polygon7", "rect-38", "v2",
        "notch-38", "sizes 34-42", "sizes 34 to 42", "size 34 - 42", "size 34 to 42", "all sizes",
        "font-size-12", "page size 4", "Sample Size: 38", "90°", "front", "", "Quantity: 2", "A4",
    ],
)  # fmt: skip
def test_words_that_are_no_sizes(text: str) -> None:
    assert spoken(text) == (), text


def test_the_size_is_taken_out_of_a_name_and_nothing_else() -> None:
    assert without_size("front_38", "38") == "front"
    assert without_size("Front, size 38", "38") == "Front"
    assert without_size("size-38", "38") == ""
    assert without_size("Front, cut 2", "2") == "Front, cut 2"
    assert without_size("front_40", "38") == "front_40"


def test_sizes_go_from_small_to_large() -> None:
    rising = ["XXS", "XS", "S", "M", "L", "XL", "XXL", "3XL", "4", "8", "12", "38", "EU 40"]
    alphabetic = sorted(rising)
    assert sorted(alphabetic, key=size_order) == rising


@pytest.mark.parametrize(
    ("sizes", "words", "labels"),
    [
        (NUMBERS, lambda name, size: (name, f"size {size}"), NUMBERS),
        (NUMBERS, lambda name, size: (f"{name.lower()}_{size}",), NUMBERS),
        (NUMBERS, lambda name, size: (name, size), NUMBERS),
        (NUMBERS, lambda name, size: (f"{name}-{size}-outline", "Layer 1"), NUMBERS),
        (("S", "M", "L"), lambda name, size: (name, f"SIZE_{size}"), ("S", "M", "L")),
        (("XS", "S"), lambda name, size: (f"{name}{size}",), ("XS", "S")),
        (("8", "10", "12"), lambda name, size: (name, f"UK {size}"), ("UK 8", "UK 10", "UK 12")),
        (("104", "110", "116"), lambda name, size: (name, "outline", size), ("104", "110", "116")),
    ],
)
def test_a_nest_is_told_apart_by_its_words(
    sizes: tuple[str, ...], words: Callable[[str, str], tuple[str, ...]], labels: tuple[str, ...]
) -> None:
    shapes = nest(sizes, words)
    wanted = [(name, label) for label in labels for name in ("Front", "Back")]
    assert sizes_in(shapes) == wanted
    assert all(p.sized is not None and p.sized.sure for p in found(shapes))
    assert all(p.stitching is None for p in found(shapes)), "an inner size is no stitching line"


def test_front_and_back_are_mates_within_their_size_only() -> None:
    shapes = []
    for k, size in enumerate(NUMBERS):
        ring = shorts(length=190.0 + 4.0 * k).ring
        for name, by in (("front", Affine()), ("back", Affine.move(900.0, 0.0))):
            shapes.append(Shape(len(shapes), ring.mapped(by), (f"{name}_{size}",)))
    pieces = found(shapes)
    assert [p.size for p in pieces[::2]] == list(NUMBERS)
    size_of = {p.key: p.size for p in pieces}
    pairs = find_mates(pieces)
    assert len(pairs) == 2 * len(NUMBERS), "inseam and side of each size"
    assert all(size_of[m.first[0]] == size_of[m.second[0]] for m in pairs)


def test_two_bare_numbers_are_taken_for_sizes_but_not_surely() -> None:
    shapes = nest(("38", "40"), lambda name, size: (name, size))
    pieces, problems = recognise(shapes)
    assert {p.size for p in pieces} == {"38", "40"}
    assert all(p.sized is not None and not p.sized.sure for p in pieces)
    assert any("“38” and “40” were taken for sizes" in p for p in problems)


@pytest.mark.parametrize(
    "word",
    [
        lambda k: f"front-{k + 1}",
        lambda k: f"path{24 + 2 * k}",
        lambda k: f"Layer {38 + 2 * k}",
        lambda k: f"cut {2 + 2 * k}",
        lambda k: f"2024-03-{12 + k}",
        lambda k: f"1:{k + 1}",
        lambda k: f"{100 + 20 * k} mm",
        lambda k: "front",
    ],
)
def test_outlines_over_each_other_without_sizes_are_spoken_of(word: Callable[[int], str]) -> None:
    shapes = [
        Shape(k, trapezoid(300.0 + 24.0 * k, 500.0 + 12.0 * k, 20.0), (word(k),)) for k in range(4)
    ]
    pieces, problems = recognise(shapes)
    assert not any(p.size for p in pieces)
    assert all(p.stitching is None for p in pieces), "none of several is sewn along"
    assert any("lie over each other" in p for p in problems), problems


def test_numbers_that_fall_while_the_outlines_grow_are_no_sizes() -> None:
    shapes = nest(("40", "38", "36"), lambda name, size: (f"{name} {size}",), names=("Front",))
    assert {p.size for p in found(shapes)} == {""}


@pytest.mark.parametrize("count", [3, 5])
def test_numbers_stay_sizes_when_one_of_them_was_made_longer(count: int) -> None:
    """A nest of which one size was altered and saved must be known again."""
    sizes = [str(36 + 2 * k) for k in range(count)]
    shapes = nest(sizes, lambda name, size: (f"{name}_{size}",), names=("Front",))
    long = trapezoid(324.0 - 9.0, 900.0, 20.0, x=-9.0)
    shapes[1] = Shape(1, long, shapes[1].words)
    assert sizes_in(shapes) == [("Front", size) for size in sizes]


def test_counted_pieces_beside_each_other_are_no_sizes() -> None:
    shapes = [
        Shape(k, trapezoid(300.0 + 9.0 * k, 500.0, 20.0, x=500.0 * k), (f"panel-{20 + k}",))
        for k in range(3)
    ]
    assert sizes_in(shapes) == [(p.name, "") for p in found(shapes)]


def test_a_cutting_line_and_its_stitching_line_are_one_piece_of_its_size() -> None:
    shapes = []
    for k, size in enumerate(NUMBERS):
        outer = trapezoid(300.0 + 24.0 * k, 500.0 + 12.0 * k, 20.0)
        inner = outer.mapped(_smaller())
        shapes.append(Shape(2 * k, outer, ("front", f"size {size}")))
        shapes.append(Shape(2 * k + 1, inner, ("front", f"size {size}")))
    pieces = found(shapes)
    assert [p.size for p in pieces] == list(NUMBERS)
    assert all(p.stitching is not None for p in pieces)


def _smaller() -> Affine:
    return Affine.move(10.0, 10.0) @ Affine.scale(0.93, 0.96)


def test_layers_by_number_are_no_sizes_where_the_file_says_what_they_are() -> None:
    """Sewn-products interchange: 1 is the boundary, 14 the stitching line."""
    outer, inner = trapezoid(300.0, 500.0, 20.0), trapezoid(300.0, 500.0, 20.0).mapped(_smaller())
    shapes = [
        Shape(0, inner, ("8", "FRONT"), 0, "FRONT", Kind.STITCHING),
        Shape(1, outer, ("14", "FRONT"), 0, "FRONT", Kind.OUTLINE),
    ]
    (piece,) = found(shapes)
    assert (piece.size, piece.stitching is not None) == ("", True)


def test_writing_gives_its_block_the_size() -> None:
    shapes = []
    for k, size in enumerate(NUMBERS):
        ring = trapezoid(300.0 + 24.0 * k, 500.0, 20.0)
        shapes.append(Shape(2 * k, ring, ("1", "FRONT"), k, "FRONT", Kind.OUTLINE))
        at, text = Point(100.0, 100.0), f"Size: {size}"
        shapes.append(Shape(2 * k + 1, at, ("1",), k, "FRONT", Kind.TEXT, text))
    assert sizes_in(shapes) == [("FRONT", size) for size in NUMBERS]


def test_what_is_drawn_once_belongs_to_every_size_on_which_it_lies() -> None:
    shapes = nest(NUMBERS, lambda name, size: (name, f"size {size}"))
    grain = Chain((Line(Point(150.0, 100.0), Point(150.0, 400.0)),))
    outside = Point(2500.0, 100.0)
    pocket = trapezoid(90.0, 60.0, 5.0, x=60.0)
    shapes.append(Shape(90, grain, ("grain",)))
    shapes.append(Shape(91, outside, kind=Kind.TEXT, text="cut 2"))
    shapes.append(Shape(92, pocket, ("pocket",)))
    for piece in found(shapes):
        keys = {m.shape for m in piece.marks}
        assert keys == ({90, 92} if piece.title == "Front" else set())


def test_a_large_nameless_pocket_in_a_sized_piece_is_no_piece() -> None:
    shapes = nest(NUMBERS, lambda name, size: (name, f"size {size}"))
    shapes.append(Shape(90, trapezoid(120.0, 100.0, 5.0, x=60.0), ("path90",)))
    assert len(found(shapes)) == 6


def test_a_frame_around_a_nest_is_no_piece() -> None:
    shapes = nest(NUMBERS, lambda name, size: (name, f"size {size}"))
    corners = [(-50.0, -50.0), (1500.0, -50.0), (1500.0, 900.0), (-50.0, 900.0)]
    shapes.append(Shape(90, Ring.polygon(Point(*c) for c in corners), ("rect90",)))
    pieces, problems = recognise(shapes)
    assert len(pieces) == 6
    assert any("edge of the sheet" in p for p in problems)


def test_loose_lines_of_each_size_make_its_own_outline() -> None:
    """Lines of different sizes that meet in one point are not joined to each other."""
    shapes: list[Shape] = []
    for k, size in enumerate(NUMBERS):
        ring = trapezoid(300.0 + 24.0 * k, 500.0 + 12.0 * k, 20.0 + 3.0 * k)
        for segment in ring:
            shapes.append(Shape(len(shapes), Chain((segment,)), (f"size-{size}",), group=k))
    pieces = found(shapes)
    assert [(p.size, len(p.outline.ring)) for p in pieces] == [(size, 4) for size in NUMBERS]
