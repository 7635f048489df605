"""Pieces that CSS moves, turns and mirrors instead of the attribute, and pages that it sizes."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Affine, Point
from core.files import read_bytes, render
from core.piece.model import Piece
from tests.core.files.svg.people import LEG, MATRIX, NAME, ROOT, path, svg
from tests.core.files.svg.test_svg_as_people_have_it import (
    SAME,
    longer,
    nearest,
    outline,
    outline_of,
    seen,
)

TURN = Affine.turn(math.radians(7.5))
CENTRE, CORNER = Point(300.0, 450.0), Point(600.0, 900.0)
EDITORS = (
    ' xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"'
    ' xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
)


def turned(degrees: float, about: Point) -> Affine:
    return Affine.turn(math.radians(degrees), about)


def scaled(by: float, about: Point) -> Affine:
    away = Affine.move(about.x, about.y)
    return away @ Affine.scale(by) @ away.inverse()


# What a group says, and the map that it means, worked out by hand.
PLACED: dict[str, tuple[str, Affine]] = {
    "moved": ('style="transform: translate(31.5px, -7px)"', Affine.move(31.5, -7.0)),
    "moved by mm of 96 px": ('style="transform:translateX(25.4mm)"', Affine.move(96.0, 0.0)),
    "moved by a share": ('style="transform:translate(5%,10%)"', Affine.move(30.0, 90.0)),
    "moved down": ('style="transform:translateY(1%)"', Affine.move(0.0, 9.0)),
    "turned": ('style="fill:none;transform:rotate(7.5deg);stroke:red"', TURN),
    "turned in other units": (
        'style="transform:rotate(0.02turn) rotate(10grad) rotate(.1rad)"',
        Affine.turn(math.radians(7.2 + 9.0) + 0.1),
    ),
    "mirrored": (
        'style="transform:scaleX(-1) scaleY(1.1) scale(.9, 1)"',
        Affine.scale(-1.0, 1.1) @ Affine.scale(0.9, 1.0),
    ),
    "skewed": (
        'style="transform:skew(10deg,5deg) skewX(3deg) skewY(-2deg)"',
        Affine(b=math.tan(math.radians(5.0)), c=math.tan(math.radians(10.0)))
        @ Affine(c=math.tan(math.radians(3.0)))
        @ Affine(b=math.tan(math.radians(-2.0))),
    ),
    "a matrix": ('style="transform:matrix(.9, .2, -.3, 1.1, 12, -5)"', MATRIX[1]),
    "over the attribute": (
        'transform="scale(3)" style="transform:translate(10px,5px)"',
        Affine.move(10.0, 5.0),
    ),
    "none over the attribute": ('transform="scale(3)" style="transform:none"', Affine()),
    "about a point": (
        'transform="rotate(7.5)" transform-origin="50 60"',
        turned(7.5, Point(50.0, 60.0)),
    ),
    "about a point in style": (
        'style="transform:rotate(7.5deg);transform-origin:50px 60px"',
        turned(7.5, Point(50.0, 60.0)),
    ),
    "about the middle": (
        'transform="scale(.9)" style="transform-origin:center"',
        scaled(0.9, CENTRE),
    ),
    "about a share": (
        'style="transform:rotate(7.5deg);transform-origin:50% 25%"',
        turned(7.5, Point(300.0, 225.0)),
    ),
    "about a corner": (
        'transform="scale(.9)" style="transform-origin:bottom right"',
        scaled(0.9, CORNER),
    ),
    "about the middle of the top": (
        'transform="scale(.9)" style="transform-origin:top"',
        scaled(0.9, Point(300.0, 0.0)),
    ),
    "by translate alone": ('style="translate:31.5px -7px"', Affine.move(31.5, -7.0)),
    "by rotate alone": ('style="rotate:7.5deg"', TURN),
    "by scale alone": ('style="scale:-100% 1"', Affine.scale(-1.0, 1.0)),
    "by each alone, before transform": (
        'style="transform:skewX(10deg);scale:1.25 1 1;rotate:z 7.5deg;translate:31.5px"',
        Affine.move(31.5, 0.0)
        @ TURN
        @ Affine.scale(1.25, 1.0)
        @ Affine(c=math.tan(math.radians(10.0))),
    ),
    "alone, about a point": (
        'style="rotate:90deg;transform-origin:200px 300px"',
        Affine.turn(math.pi / 2, Point(200.0, 300.0)),
    ),
    "as in space": (
        'style="transform:translate3d(31.5px,-7px,0) rotateZ(7.5deg) scale3d(1,1,1)"',
        Affine.move(31.5, -7.0) @ TURN,
    ),
    "by a rule": ('class="turned"', Affine.move(31.5, -7.0) @ TURN),
}
RULE = "<style>.turned{transform:translate(31.5px,-7px) rotate(7.5deg)}</style>"


def as_the_plain(data: bytes) -> bytes:
    """Read where the plain file lies and altered as that is; the altered file."""
    plain_old, plain_new = longer(svg(f'<path {NAME} d="{LEG}"/>'))
    old, new = longer(data)
    assert nearest([outline(old)], outline(plain_old)) <= SAME, "as read"
    after = render(new)
    again = read_bytes(Path("leg.svg"), after, mm_per_unit=None)
    assert nearest([outline(again)], outline(plain_new)) <= SAME, "as written"
    return after


@pytest.mark.parametrize("name", PLACED)
def test_a_piece_placed_by_css_was_read_and_written_elsewhere(name: str) -> None:
    said, by = PLACED[name]
    data = svg(f"{RULE}<g {said}>{path(by)}</g>")
    after = as_the_plain(data)
    assert f"<g {said}>".encode() in after
    assert not [p for p in read_bytes(Path("a.svg"), data).problems if "transform" in p]


@pytest.mark.parametrize(
    "said",
    [
        "transform:rotate(7.5)",
        "transform:translate(3,4)",
        "transform:perspective(3px)",
        "transform:scale(1,2,3)",
        "transform:rotate(1e999deg)",
        "transform:scale(2);transform-origin:left left",
        "transform:scale(2);transform-box:fill-box",
    ],
)
def test_css_that_is_not_followed_is_told(said: str) -> None:
    old = read_bytes(Path("a.svg"), svg(f'<g style="{said}">{path()}</g>'))
    assert any("this transform cannot be read" in p for p in old.problems), old.problems


@pytest.mark.parametrize(
    "clones",
    [
        '<defs><path id="leg" d="{leg}"/></defs>'
        '<use href="#leg" style="transform:translate(10px,5px)" x="-10" y="-5"/>'
        '<use href="#leg" x="250"/>',
        '<symbol id="leg" style="transform:translate(10px,5px)"><path d="{leg}"/></symbol>'
        '<use href="#leg" x="-10" y="-5"/><use href="#leg" x="250"/>',
        "<style>use.a{{transform:translate(10px,5px)!important}}</style>"
        '<defs><path id="leg" d="{leg}"/></defs>'
        '<use href="#leg" class="a" style="fill:none;" x="-10" y="-5"/>'
        '<use href="#leg" x="250"/>',
    ],
)
def test_a_copy_of_a_clone_that_css_places_lay_elsewhere(clones: str) -> None:
    data = svg(clones.format(leg=LEG))
    plain_old, plain_new = longer(svg(f'<path {NAME} d="{LEG}"/>'))
    old, new = longer(data)
    assert nearest([outline(old)], outline(plain_old)) <= SAME
    again = read_bytes(Path("leg.svg"), render(new)).pieces
    assert len(again) == len(old.pieces) == 2
    assert nearest([outline_of(again[0])], outline(plain_new)) <= SAME
    assert nearest([outline_of(again[1])], outline_of(old.pieces[1])) <= SAME


@pytest.mark.parametrize("name", ["turned", "about a point", "by a rule"])
def test_writing_and_new_notches_of_a_piece_that_css_places_follow_it(name: str) -> None:
    """Writing without a place of its own can only be moved by its transform."""
    said, by = PLACED[name]
    leg = path(by, f"{NAME} {said}")
    text = f'<text {said} font-size="9"><tspan x="{{}}mm" y="{{}}mm">hem</tspan></text>'
    at = by.inverse().point(Point(200.0, 590.0))
    text = text.format(at.x * 25.4 / 96, at.y * 25.4 / 96)
    old = read_bytes(Path("leg.svg"), svg(RULE + leg + text))
    change = Change(60.0, balance_notch=True)
    (done,) = alter_together(old.pieces, change)
    again = read_bytes(Path("leg.svg"), render(old.with_pieces([done.piece])))
    (piece,) = again.pieces
    assert _places(piece) == _places(done.piece)
    assert any(m.is_added for m in done.piece.marks)


def _places(piece: Piece) -> list[tuple[int, int, str]]:
    """Where each mark begins, to a tenth of a mm, and what is written there."""
    out = []
    for mark in piece.marks:
        p = mark.geometry if isinstance(mark.geometry, Point) else mark.geometry.start
        out.append((round(p.x * 10), round(p.y * 10), mark.text))
    return sorted(out)


@pytest.mark.parametrize(
    "root",
    [
        'style="width:600mm;height:900mm" viewBox="0 0 600 900"',
        'width="100%" height="100%" style="stroke:red; height: 90cm ;width:600mm" '
        'viewBox="0 0 600 900"',
    ],
)
def test_a_page_sized_by_its_style_was_asked_for_its_unit(root: str) -> None:
    as_the_plain(svg(path(), root))


def test_a_page_sized_by_its_style_grows_there() -> None:
    high = LEG.replace("600", "890").replace("592", "882").replace("580", "870")
    data = svg(path(d=high), 'style="width:600mm;height:900mm" viewBox="0 0 600 900"')
    _, new = longer(data)
    after = render(new)
    (style,) = re.findall(rb'style="width:600mm;height:(\d+)mm"', after)
    again = read_bytes(Path("leg.svg"), after)
    assert float(style) >= outline(new).bounds[3]
    assert nearest([outline(again)], outline(new)) <= SAME


def test_a_page_of_px_on_a_screen_says_nothing_of_paper() -> None:
    data = svg(path(), 'style="width:600px;height:900px" viewBox="0 0 600 900"')
    with pytest.raises(Exception, match="does not say how long one of its units is"):
        read_bytes(Path("leg.svg"), data)


def test_of_two_references_the_newer_attribute_holds() -> None:
    data = svg(
        f'<defs><path id="old" d="M 0 0 H 500 V 800 H 0 z"/><path {NAME} d="{LEG}"/></defs>'
        '<use xlink:href="#old" href="#front"/>'
    )
    as_the_plain(data)


IN_CSS = {
    "a path by its style": f"<path style=\"fill:none;d:path('{LEG}')\"/>",
    "a path by a rule": f"<style>.p{{d:path('{LEG}')}}</style><path class='p' d='M0 0H9'/>",
    "a path by a rule over its style": f"<style>path{{d:path(nonzero,'{LEG}')!important}}</style>"
    "<path style='d:none'/>",
}


@pytest.mark.parametrize("name", IN_CSS)
def test_a_path_that_css_draws_was_left_out(name: str) -> None:
    """Read by ourselves alone: the general library takes no notice of such rules."""
    as_the_plain(svg(IN_CSS[name]))


@pytest.mark.parametrize(
    "rect",
    [
        '<rect style="x:100px;y:50px;width:200px;height:550px"/>',
        "<style>rect{x:100px;width:200px}</style><rect x='7' y='50' width='7' height='550'/>",
    ],
)
def test_a_rectangle_that_css_places_was_left_out(rect: str) -> None:
    plain_old, plain_new = longer(svg('<rect x="100" y="50" width="200" height="550"/>'))
    old, new = longer(svg(rect))
    assert nearest([outline(old)], outline(plain_old)) <= SAME
    assert nearest(seen(render(new)), outline(plain_new)) <= SAME


def test_a_length_of_css_that_is_not_followed_is_told() -> None:
    data = svg('<rect style="x:calc(1px + 2px);width:9px;height:9px"/>' + path())
    problems = read_bytes(Path("a.svg"), data).problems
    assert any('x="calc(1px + 2px)" is no length' in told for told in problems), problems


@pytest.mark.parametrize(
    ("live", "stays"),
    [
        (f'sodipodi:type="arc" sodipodi:cx="1" d="{LEG}"', b'sodipodi:cx="1"'),
        (
            f'inkscape:path-effect="#e" inkscape:original-d="M 0 0" sodipodi:nodetypes="cc" '
            f'd="{LEG}"',
            b'sodipodi:nodetypes="cc"',
        ),
    ],
)
def test_an_editor_drew_an_altered_path_as_it_was_before(live: str, stays: bytes) -> None:
    """What it is made from afresh when the editor opens it goes, where the path is altered."""
    data = svg(f'<path {NAME} {live}/><path type="x" d="M 1 1 L 2 2"/>', ROOT + EDITORS)
    old, _ = longer(data)
    after = as_the_plain(data)
    assert render(old) == data
    for name in (b"sodipodi:type", b"path-effect", b"original-d"):
        assert name not in after.partition(b'type="x"')[0]
    assert stays in after
    assert b'<path type="x" d="M 1 1 L 2 2"/>' in after
