"""What is drawn: transforms, nested viewports, use, symbols, hidden parts, words, writing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Line, Point
from core.files.svg.transforms import transform
from core.piece.model import Kind, Shape
from tests.core.files.svg.build import assert_points, corners, only, read, svg

PATH = '<path d="M1 2L3 5"/>'


def end(data: bytes) -> Point:
    return only(data).end


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        # W3C SVG 2 and CSS Transforms: each function's own formula at (3, 5).
        ("translate(10)", (13, 5)),
        ("translate(10,20)", (13, 25)),
        ("scale(2)", (6, 10)),
        ("scale(-1 2)", (-3, 10)),
        ("rotate(90)", (-5, 3)),
        ("rotate(90, 3 0)", (-2, 0)),
        ("skewX(45)", (8, 5)),
        ("skewY(45)", (3, 8)),
        ("matrix(1 2 3 4 5 6)", (1 * 3 + 3 * 5 + 5, 2 * 3 + 4 * 5 + 6)),
        ("translate(10) , scale(2)rotate(90)", (0, 6)),
        ("", (3, 5)),
    ],
)
def test_transforms_by_their_formulas(text: str, wanted: tuple[float, float]) -> None:
    got = end(svg(f'<g transform="{text}">{PATH}</g>'))
    assert_points([got], [Point(*wanted)], 1e-12)


@pytest.mark.parametrize("text", ["rotate(5", "spin(3)", "scale(1 2 3)", "translate(a)", "x"])
def test_a_transform_that_cannot_be_read_is_said(text: str) -> None:
    assert transform(text) is None
    assert any("transform" in p for p in read(svg(f'<g transform="{text}">{PATH}</g>')).problems)


STEPS = st.one_of(
    st.tuples(st.just("translate"), st.tuples(st.floats(-50, 50), st.floats(-50, 50))),
    st.tuples(st.just("rotate"), st.tuples(st.floats(-360, 360))),
    st.tuples(st.just("scale"), st.tuples(st.floats(0.2, 3), st.floats(-3, -0.2))),
    st.tuples(st.just("skewX"), st.tuples(st.floats(-60, 60))),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(STEPS, max_size=5))
def test_nested_groups_are_one_transform_list(steps: list[tuple[str, tuple[float, ...]]]) -> None:
    texts = [f"{name}({','.join(map(repr, v))})" for name, v in steps]
    nested = "".join(f'<g transform="{t}">' for t in texts) + PATH + "</g>" * len(texts)
    listed = f'<g transform="{" ".join(texts)}">{PATH}</g>'
    assert_points([end(svg(nested))], [end(svg(listed))], 1e-8)


def test_a_transform_of_the_whole_page_is_said() -> None:
    reading = read(svg(PATH).replace(b"<svg ", b'<svg transform="rotate(5)" '))
    assert reading.shapes[0].geometry.end == Point(3, 5)
    assert any("whole page" in p for p in reading.problems)


def test_a_flattened_part_is_left_out_and_said() -> None:
    reading = read(svg(f'<g transform="scale(1 0)">{PATH}</g>{PATH}'))
    assert len(reading.shapes) == 1
    assert any("flattens" in p for p in reading.problems)


def test_a_prefixed_attribute_is_not_the_plain_one() -> None:
    # A widely used library moved a rectangle by an attribute of another language.
    body = '<rect xmlns:x="urn:else" x:x="14" x="1" y="2" width="5" height="5"/>'
    assert only(svg(body)).start == Point(1, 2)


def test_nested_viewports() -> None:
    inner = '<svg x="100" y="50" width="40" height="20" viewBox="0 0 20 10">'
    assert end(svg(f"{inner}{PATH}</svg>")) == Point(106, 60)
    after = read(svg(f"{inner}{PATH}</svg>{PATH}")).shapes[1]
    assert after.geometry.end == Point(3, 5), "x and y of a nested svg end with it"
    share = '<line x1="0" x2="50%" y1="0" y2="50%"/>'
    assert end(svg(f"{inner}{share}</svg>")) == Point(120, 60)


def test_use_moves_what_it_draws() -> None:
    body = f'<defs><g id="a">{PATH}</g></defs><use href="#a" x="10" y="20" transform="scale(2)"/>'
    assert end(svg(body)) == Point(26, 50)
    assert end(svg(body.replace("href", "xlink:href"))) == Point(26, 50)


def test_a_symbol_is_drawn_only_by_use_and_fits_its_viewbox() -> None:
    symbol = f'<symbol id="s" viewBox="0 0 10 10">{PATH}</symbol>'
    assert read(svg(symbol)).shapes == ()
    use = '<use href="#s" x="100" width="20" height="20"/>'
    assert end(svg(symbol + use)) == Point(106, 10)


@pytest.mark.parametrize(
    "holder",
    ["defs", "clipPath", "mask", "marker", "pattern", "symbol", "metadata", "foreignObject"],
)
def test_what_is_not_drawn_is_no_shape(holder: str) -> None:
    assert len(read(svg(f"<{holder}>{PATH}</{holder}>{PATH}")).shapes) == 1


def test_elements_of_other_languages_are_not_drawn() -> None:
    body = f'<o:g xmlns:o="urn:else">{PATH}</o:g><o:path xmlns:o="urn:else" d="M0 0h9"/>'
    assert read(svg(body)).shapes == ()


def test_a_switch_draws_its_first_fit() -> None:
    body = f'<switch><foreignObject requiredExtensions="urn:e"/><g>{PATH}</g><g>{PATH}</g></switch>'
    assert len(read(svg(body)).shapes) == 1


@pytest.mark.parametrize(("asks", "drawn"), [("en", 1), ("de, en-GB", 1), ("de", 0), ("", 0)])
def test_what_is_for_readers_of_another_language_is_left_out_and_told(
    asks: str, drawn: int
) -> None:
    found = read(svg(f'<g systemLanguage="{asks}">{PATH}</g><g>{PATH}</g>'))
    assert len(found.shapes) == 1 + drawn
    assert any("another language" in p for p in found.problems) == (not drawn)


def test_a_switch_of_languages_draws_the_english_one() -> None:
    german, english = "M0 0h9", "M0 0h7"
    body = (
        f'<switch><path systemLanguage="de" d="{german}"/><path systemLanguage="en" d="{english}"/>'
        f'<path d="M0 0h5"/></switch>'
    )
    assert end(svg(body)) == Point(7, 0)


@pytest.mark.parametrize("place", ['x="5"', 'refY="5"'])
def test_a_symbol_that_places_itself_is_told(place: str) -> None:
    found = read(svg(f'<symbol id="s" {place}>{PATH}</symbol><use href="#s"/>'))
    assert any("symbol places itself" in p for p in found.problems)
    plain = read(svg(f'<symbol id="s">{PATH}</symbol><use href="#s" x="5"/>'))
    assert not plain.problems


@pytest.mark.parametrize(
    ("head", "style", "told"),
    [
        ("", "@import url('far.css');", "far.css"),
        ("", '@import "http://far/away.css" screen; .a{fill:none}', "http://far/away.css"),
        ('<?xml-stylesheet type="text/css" href="beside.css"?>', "", "beside.css"),
        ("", "@import url(https://far/fonts?family=Plain);", ""),
        ("", "/* @import url(far.css); */", ""),
    ],
)
def test_a_style_sheet_outside_the_file_is_told(head: str, style: str, told: str) -> None:
    data = head.encode() + svg(f"<style>{style}</style>{PATH}")
    found = read(data)
    assert len(found.shapes) == 1
    assert [p for p in found.problems if "nothing is fetched" in p] == [
        f"test.svg: the style sheet {told} is not in the file and nothing is fetched; look whether"
        " it hides a part of a piece."
    ] * bool(told)


@pytest.mark.parametrize(
    ("body", "hidden"),
    [
        (PATH, False),
        (f'<g style="fill:red; display : none">{PATH}</g>', True),
        (f'<g display="none"><g display="inline">{PATH}</g></g>', True),
        (f'<g visibility="hidden">{PATH}</g>', True),
        ('<g visibility="hidden"><path visibility="visible" d="M0 0h1"/></g>', False),
        (f"<style>.off, .gone{{fill:none;display:none}}</style><g class='off'>{PATH}</g>", True),
        (f"<style>/* .a{{display:none}} */</style><g class='a'>{PATH}</g>", False),
        (f"<style>#h{{visibility:hidden}}</style><g id='h'>{PATH}</g>", True),
        (f"<style>.a .b{{display:none}}</style><g class='b'>{PATH}</g>", False),
    ],
)
def test_hidden_shapes_are_read_and_marked(body: str, hidden: bool) -> None:
    (shape,) = read(svg(body)).shapes
    assert shape.hidden is hidden


def test_words_come_nearest_first() -> None:
    body = (
        '<g id="outer" xmlns:k="urn:k" k:label="Front leg"><title>Sheet  1</title>'
        '<g class="layer piece" data-name="Front"><path id="hem" class="outline"'
        ' aria-label="edge" d="M0 0h1"><title>The hem</title></path></g></g>'
    )
    (shape,) = read(svg(body)).shapes
    assert shape.words == (
        "hem", "outline", "The hem", "edge",
        "layer", "piece", "Front",
        "outer", "Front leg", "Sheet 1",
    )  # fmt: skip
    assert shape.group == 1
    assert shape.group_name == "Front"


def test_groups_that_draw_something_are_counted_by_appearance() -> None:
    body = f'<g id="a">{PATH}{PATH}</g><use href="#a"/>{PATH}<g/><g><title>T</title>{PATH}</g>'
    shapes = read(svg(body)).shapes
    assert [s.group for s in shapes] == [0, 0, 1, 1, None, 2]
    assert [s.group_name for s in shapes] == ["a", "a", "a", "a", "", "T"]


def test_keys_are_the_order_of_drawing() -> None:
    shapes = read(svg(f'<path d="M0 0h1m5 5h1"/><g>{PATH}<text>a</text></g>{PATH}')).shapes
    assert [s.key for s in shapes] == [0, 1, 2, 3, 4]


def text_shape(body: str) -> Shape:
    (shape,) = read(svg(body)).shapes
    return shape


@pytest.mark.parametrize(
    ("body", "place", "text"),
    [
        ('<text x="3" y="4">Cut  2</text>', (3, 4), "Cut 2"),
        ('<text transform="matrix(1 0 0 1 30 40)">Cut</text>', (30, 40), "Cut"),
        ('<text x="1 2 3" y="4">abc</text>', (1, 4), "abc"),
        ('<text><tspan x="5" y="6">Front</tspan><tspan x="5" y="9">cut 2</tspan></text>',
         (5, 6), "Front\ncut 2"),
        ('<text x="1" y="2">Fr<tspan x="9" y="2">ont</tspan></text>', (1, 2), "Front"),
        ('<text x="1" y="2">A<tspan x="1" dy="1.2em">B</tspan></text>', (1, 2), "A\nB"),
        ('<text x="1" y="2"><title>no</title>&lt;&#65;&gt;<![CDATA[ & ]]></text>', (1, 2), "<A> &"),
    ],
)  # fmt: skip
def test_writing_stands_at_its_anchor(body: str, place: tuple[float, float], text: str) -> None:
    shape = text_shape(body)
    assert shape.kind is Kind.TEXT
    assert shape.geometry == Point(*place)
    assert shape.text == text


def test_empty_writing_is_nothing() -> None:
    assert read(svg('<text x="1" y="1"> <tspan/></text>')).shapes == ()


def test_a_mirrored_group_mirrors() -> None:
    chain = only(svg(f'<g transform="scale(-1,1) translate(-100 0)">{PATH}</g>'))
    assert chain.segments == (Line(Point(99, 2), Point(97, 5)),)


def test_everything_at_once_against_the_product_of_maps() -> None:
    body = (
        '<g transform="rotate(20)"><svg x="7" y="9" width="60" height="30" viewBox="2 3 30 30">'
        f'<symbol id="s" viewBox="0 0 4 2">{PATH}</symbol>'
        '<use href="#s" x="4" y="1" width="8" height="8" transform="skewX(10)"/></svg></g>'
    )
    by = (
        Affine.turn(math.radians(20))
        @ Affine.move(7, 9) @ Affine.move(15, 0) @ Affine.move(-2, -3)
        @ Affine(c=math.tan(math.radians(10))) @ Affine.move(4, 1)
        @ Affine.move(0, 2) @ Affine.scale(2)
    )  # fmt: skip
    assert_points([end(svg(body))], [by.point(Point(3, 5))], 1e-12)


def test_corners_of_a_rectangle_under_skew() -> None:
    body = '<rect width="10" height="10" transform="skewX(45)"/>'
    got = corners(only(svg(body)))
    assert got == [pytest.approx(p, abs=1e-12) for p in [(0, 0), (10, 0), (20, 10), (10, 10)]]
