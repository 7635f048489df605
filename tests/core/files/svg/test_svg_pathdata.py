"""Path data and basic shapes against closed forms and a reference library."""

from __future__ import annotations

import math

import pytest
import svgpathtools
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from svgelements import Path

from core.curve import Affine, Chain, Cubic, Line, Point, Ring
from core.files.svg.pathdata import parse
from core.files.svg.trace import trace
from tests.core.files.svg.build import assert_points, corners, only, read, svg


def path(d: str) -> Chain:
    return only(svg(f'<path d="{d}"/>'))


def count(d: str) -> int:
    return len(read(svg(f'<path d="{d}"/>')).shapes)


@pytest.mark.parametrize(
    "d",
    [
        "M10,20 L30,20 L30,50 Z",
        "m10 20 20 0 0 30z",
        "M10 20H30V50Z",
        "m10 20h20v30z",
        "M 10,20 30,20 30,50 10,20",
        "M1e1 .2e2L30. 20L+30 50Z",
        "M10-0L10 20 30 20 30 50 10 20M10 20",
        "M10 20L10 20L30 20l0 0L30 50Zm0 0",
    ],
)
def test_one_triangle_in_many_spellings(d: str) -> None:
    shapes = read(svg(f'<path d="{d}"/>')).shapes
    found = [s.geometry for s in shapes if isinstance(s.geometry, Ring)]
    wanted = [(10, 20), (30, 20), (30, 50)]
    if not found:
        # Entered by a line from elsewhere.
        assert corners(shapes[0].geometry)[1:] == wanted
        return
    assert corners(found[0]) == wanted, f"wanted {wanted}, got {corners(found[0])}"


def test_numbers_may_run_together() -> None:
    assert corners(path("M1.5.5L-3-4.5.25.75"))[1:] == [(-3.0, -4.5)]
    assert path("M1.5.5L-3-4.5.25.75").end == Point(0.25, 0.75)


def test_flags_of_an_arc_may_run_together() -> None:
    spelled = path("M0 0A25 25 0 0 1 50 0")
    packed = path("M0 0a25 25 0 0150 0")
    assert spelled.segments == packed.segments


def test_a_quadratic_is_elevated_exactly() -> None:
    s = path("M0 0Q30 60 60 0").segments[0]
    assert s == Cubic(Point(0, 0), Point(20, 40), Point(40, 40), Point(60, 0))


def test_shorthand_curves_mirror_the_handle_before() -> None:
    s = path("M0 0C0 10 20 10 20 0S40-10 40 0")
    assert s.segments[1] == Cubic(Point(20, 0), Point(20, -10), Point(40, -10), Point(40, 0))
    t = path("M0 0Q15 30 30 0T60 0")
    assert_points(
        t.segments[1].controls,
        Cubic.from_quadratic(Point(30, 0), Point(45, -30), Point(60, 0)).controls,
        1e-12,
    )


def test_shorthand_after_another_command_mirrors_nothing() -> None:
    s = path("M0 0L10 0S20 10 30 0")
    assert s.segments[1] == Cubic(Point(10, 0), Point(10, 0), Point(20, 10), Point(30, 0))
    t = path("M0 0C0 9 9 9 10 0T20 0")
    assert t.segments[1].at(0.5).distance(Point(12.5, 0)) < 10, "a straight quadratic"
    assert t.segments[1].bounds().height == 0.0


@pytest.mark.parametrize("scale", [0.01, 1.0, 100.0])
@pytest.mark.parametrize("turn", [0.0, 30.0])
def test_arcs_stay_on_their_ellipse_at_any_size(scale: float, turn: float) -> None:
    """Closed form: points of x = rx cos u, y = ry sin u, turned. Tolerance 1e-5 mm."""
    rx, ry = 40.0 * scale, 25.0 * scale
    steps = parse(f"M{rx} 0A{rx} {ry} 0 1 1 0 {-ry}", arc_tolerance=1e-5).subpaths[0]
    by = Affine.turn(math.radians(turn))
    for s in trace(steps, by).segments:
        for k in range(21):
            p = by.inverse().point(s.at(k / 20))
            off = abs(math.hypot(p.x / rx, p.y / ry) - 1.0) * rx
            assert off <= 1.01e-5, f"wanted at most 1e-5 mm, got {off}"


def test_an_arc_under_turn_and_uneven_scale_stays_an_ellipse() -> None:
    # A widely used library is 39.8 mm off here: it maps the arc before it makes cubics.
    body = '<g transform="rotate(30) scale(2 .5)"><circle r="100"/></g>'
    by = Affine.turn(math.radians(30)) @ Affine.scale(2, 0.5)
    for s in only(svg(body)):
        for k in range(11):
            p = by.inverse().point(s.at(k / 10))
            off = abs(math.hypot(p.x, p.y) - 100.0) * 2
            assert off <= 2e-5, f"wanted at most 2e-5 mm, got {off}"


def test_radii_too_small_grow_as_the_standard_says() -> None:
    # W3C SVG 2, B.2.5: the ellipse is scaled up until it just reaches; here r = 50.
    chain = path("M0 0A1 1 0 0 1 100 0")
    assert chain.length() == pytest.approx(50 * math.pi, abs=1e-4)


@pytest.mark.parametrize("sweep", [0, 1])
@pytest.mark.parametrize("large", [0, 1])
def test_grown_radii_agree_with_svgelements(sweep: int, large: int) -> None:
    data = f"M3 1.38A5 30 20 {large} {sweep} 5 50.26"
    arc = Path(data)[1]
    for k in range(11):
        x, y = arc.point(k / 10)
        off = path(data).nearest(Point(float(x), float(y))).distance
        assert off < 1e-4, f"wanted svgelements' point {k} on the arc, {off} mm off"


def test_a_rounding_at_an_end_moves_an_arc_of_too_small_radii_by_no_more() -> None:
    """It moved by a micrometre: the centre was the root of a rounding away from the middle."""
    one = path("M20000 20065.76A5 30 20 0 1 20002 20114.64").segments
    other = path("M20000 20065.760000000002A5 30 20 0 1 20002 20114.64").segments
    for a, b in zip(one, other, strict=True):
        assert_points(a.controls, b.controls, 1e-10)


def test_an_arc_without_radius_is_a_line_and_without_ends_nothing() -> None:
    assert path("M0 0A0 5 0 0 1 9 0").segments == (Line(Point(0, 0), Point(9, 0)),)
    assert count("M5 5A9 9 0 1 1 5 5") == 1, "a dot"


COORDINATE = st.floats(-200, 200).map(lambda v: round(v, 3))


@st.composite
def path_texts(draw: st.DrawFn) -> str:
    numbers = {"L": 2, "l": 2, "H": 1, "v": 1, "C": 6, "c": 6, "S": 4, "s": 4, "Q": 4, "t": 2}
    out = [f"M{draw(COORDINATE)} {draw(COORDINATE)}"]
    for letter in draw(st.lists(st.sampled_from([*numbers, "A", "a"]), min_size=1, max_size=8)):
        if letter in "Aa":
            r = draw(st.tuples(st.floats(1, 90), st.floats(1, 90), st.integers(0, 180)))
            flags = draw(st.tuples(st.integers(0, 1), st.integers(0, 1)))
            values = [*r, *flags, draw(COORDINATE), draw(COORDINATE)]
        else:
            values = [draw(COORDINATE) for _ in range(numbers[letter])]
        out.append(letter + " ".join(map(str, values)))
    return "".join(out)


@settings(max_examples=60, deadline=None)
@given(path_texts())
def test_points_agree_with_a_general_library(d: str) -> None:
    """Reference: svgpathtools, every command's own end and middle."""
    found = parse(d, arc_tolerance=1e-5)
    assert found.error is None
    steps = found.subpaths[0][1:]
    # The reference refuses an arc from a point to itself.
    assume(all(len(s.coords) > 2 for s in steps))
    theirs = svgpathtools.parse_path(d)
    ends = [complex(*s.coords[-2:]) for s in steps]
    for end, segment in zip(ends, theirs, strict=True):
        assert abs(end - segment.end) <= 1e-9, f"wanted {segment.end}, got {end}"
    ours = sum(
        Cubic(*(Point(*s.coords[j : j + 2]) for j in range(k, k + 8, 2))).length()
        if len(s.coords) > 4
        else math.dist(s.coords[:2], s.coords[2:])
        for s in steps
        for k in (range(0, len(s.coords) - 2, 6) if len(s.coords) > 4 else (0,))
    )
    # Lengths to 5e-3: theirs of an arc is numeric to about that.
    wanted = theirs.length(error=1e-6)
    assert ours == pytest.approx(wanted, abs=5e-3, rel=1e-6), f"wanted {wanted}, got {ours}"


def test_several_subpaths_are_several_shapes() -> None:
    shapes = read(svg('<path d="M0 0h9v9z m20 0h5 M50 50"/>')).shapes
    assert [type(s.geometry) for s in shapes] == [Ring, Chain]
    assert shapes[1].geometry.start == Point(20, 0)


def test_after_a_close_the_next_subpath_starts_where_that_one_did() -> None:
    shapes = read(svg('<path d="M5 5h9v9z l1 0"/>')).shapes
    assert shapes[1].geometry.segments == (Line(Point(5, 5), Point(6, 5)),)


def test_a_close_adds_a_line_only_over_a_gap() -> None:
    assert len(path("M0 0H9V9Z")) == 3
    assert len(path("M0 0H9V9L0 0Z")) == 3
    assert len(path("M0 0H9V9L0 5e-7Z")) == 3
    assert isinstance(path("M0 0H9V9L5e-7 0"), Ring)
    assert not isinstance(path("M0 0H9V9L5e-6 0"), Ring)


def test_a_stroke_without_length_is_a_point() -> None:
    (shape,) = read(svg('<path d="M5 6h0"/>')).shapes
    assert shape.geometry == Point(5, 6)


@pytest.mark.parametrize(
    "d", ["M0 0H9V9 X 5", "M0 0H9V9L5", "M0 0H9V9LNaN 5", "M0 0H9V9 L 5,,5", "M0 0H9V9 10 e"]
)
def test_before_an_error_all_is_kept_and_the_error_said(d: str) -> None:
    reading = read(svg(f'<path d="{d}"/>'))
    assert corners(reading.shapes[0].geometry)[:2] == [(0, 0), (9, 0)]
    assert any("breaks off" in p and "line 1" in p for p in reading.problems)


def test_path_data_must_begin_with_a_move() -> None:
    reading = read(svg('<path d="L5 5"/><path d="M0 0h1"/>'))
    assert len(reading.shapes) == 1
    assert reading.problems


@pytest.mark.parametrize(
    ("element", "wanted"),
    [
        ('<rect x="1" y="2" width="10" height="20"/>', [(1, 2), (11, 2), (11, 22), (1, 22)]),
        ('<polygon points="1,2 11,2,11 22 1,22"/>', [(1, 2), (11, 2), (11, 22), (1, 22)]),
        ('<polyline points="1,2 11,2 11,22 1,2"/>', [(1, 2), (11, 2), (11, 22)]),
    ],
)
def test_basic_shapes_close(element: str, wanted: list[tuple[float, float]]) -> None:
    ring = only(svg(element))
    assert isinstance(ring, Ring)
    assert corners(ring) == wanted


def test_lengths_of_round_shapes() -> None:
    """Closed forms: 2 pi r; a rounded rectangle; an ellipse with axes swapped has the same."""
    assert only(svg('<circle cx="9" cy="9" r="50"/>')).length() == pytest.approx(
        100 * math.pi, abs=1e-4
    )
    rect = only(svg('<rect width="100" height="60" rx="10"/>'))
    assert rect.length() == pytest.approx(2 * (80 + 40) + 20 * math.pi, abs=1e-4)
    capped = only(svg('<rect width="100" height="60" rx="90" ry="500"/>'))
    assert capped.bounds().width == pytest.approx(100, abs=1e-9)
    a = only(svg('<ellipse rx="70" ry="20"/>')).length()
    b = only(svg('<ellipse rx="20" ry="70"/>')).length()
    assert a == pytest.approx(b, abs=1e-4)


def test_one_path_of_very_many_points_takes_linear_time() -> None:
    """A quadratic reader would need minutes here."""
    d = "M0 0" + "l.001 .002-.001-.001" * 25_000
    reading = read(svg(f'<path d="{d}"/>'))
    assert len(reading.shapes[0].geometry) == 50_000


@pytest.mark.parametrize(
    "text", [" " * 300_000 + "x", "1" * 300_000, "1," * 50 + "x", "-" * 99_999]
)
def test_odd_text_takes_no_time(text: str) -> None:
    assert parse("M0 0L" + text, arc_tolerance=1e-5).error is not None
