"""The drawn SVG pieces keep what a pattern maker would measure on them.

The files are read with a general-purpose path library, not with the readers of this house.
"""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import svgpathtools

from sample_pieces import draw
from sample_pieces.drawing import shorts, skirt, sleeve
from sample_pieces.drawing.part import Part

FOLDER = Path(draw.__file__).resolve().parent
SVG = "{http://www.w3.org/2000/svg}"
# Half a step of the last decimal over the shortest handle is far below this.
SMOOTH = 1e-3
# The flattest corner meant as one.
CORNER = 0.2
INCH_MM = 25.4


def _root(name: str) -> ElementTree.Element:
    return ElementTree.parse(FOLDER / name).getroot()


def _found(name: str, key: str) -> ElementTree.Element:
    (found,) = (e for e in _root(name).iter() if e.get("id") == key)
    return found


def _path(name: str, key: str) -> Any:
    return svgpathtools.parse_path(_found(name, key).get("d"))


def _edges(name: str, part: Part) -> dict[str, Any]:
    """The written outline, divided as the piece's edges are."""
    steps = list(_path(name, f"{part.name.lower()}-outline"))
    counts = [len(e.chain) for e in part.edges]
    assert sum(counts) == len(steps), f"wanted {sum(counts)} segments, got {len(steps)}"
    out, at = {}, 0
    for edge, count in zip(part.edges, counts, strict=True):
        out[edge.name] = svgpathtools.Path(*steps[at : at + count])
        at += count
    return out


def _turn(before: Any, after: Any) -> float:
    """The angle between the end of one segment and the start of another."""
    return abs(cmath.phase(after.unit_tangent(0.0) / before.unit_tangent(1.0)))


def _front() -> dict[str, Any]:
    return _edges("allotment_shorts.svg", shorts.front())


def _back() -> dict[str, Any]:
    return _edges("allotment_shorts.svg", shorts.back())


def _close(got: float, wanted: float, tolerance: float, what: str) -> None:
    assert abs(got - wanted) <= tolerance, f"{what}: wanted {wanted}, got {got} (+-{tolerance})"


OUTLINES = [
    ("allotment_shorts.svg", "front-outline", 4),
    ("allotment_shorts.svg", "back-outline", 7),
    ("potting_skirt.svg", "front-outline", 4),
    ("watering_sleeve.svg", "sleeve-outline", 4),
]


@pytest.mark.parametrize(("name", "key", "corners"), OUTLINES)
def test_every_joint_is_smooth_or_a_plain_corner(name: str, key: str, corners: int) -> None:
    steps = list(_path(name, key))
    turns = [_turn(steps[k - 1], s) for k, s in enumerate(steps)]
    between = [t for t in turns if SMOOTH < t < CORNER]
    assert not between, f"{key}: neither smooth nor a corner: {between} rad"
    got = sum(t >= CORNER for t in turns)
    # The rounded corner of the shorts is none; the dart of the back has three.
    assert got == corners, f"{key}: wanted {corners} corners, got {got}: {turns}"


@pytest.mark.parametrize(("name", "key", "corners"), OUTLINES)
def test_no_outline_is_written_finer_than_its_decimals(name: str, key: str, corners: int) -> None:
    decimals = 3 if name == "allotment_shorts.svg" else 4
    data = str(_found(name, key).get("d")).replace(",", " ").split()
    longest = max(len(word.partition(".")[2]) for word in data)
    assert longest <= decimals, f"{key}: wanted {decimals} decimals, got {longest}"


def test_side_seams_and_inseams_of_the_shorts_match() -> None:
    front, back = _front(), _back()
    for name, length in (("side", shorts.SIDE_SEAM), ("inseam", shorts.INSEAM)):
        _close(front[name].length(error=1e-9), length, 0.005, f"front {name}")
        _close(back[name].length(error=1e-9), length, 0.005, f"back {name}")


def test_the_rounded_corner_leaves_the_side_seam_and_reaches_the_hem_smoothly() -> None:
    for edges in (_front(), _back()):
        assert _turn(edges["side"][-1], edges["corner"][0]) < SMOOTH
        assert _turn(edges["corner"][-1], edges["hem"][0]) < SMOOTH


def test_the_rounded_corner_is_an_arc_of_its_radius() -> None:
    for edges, side in ((_front(), 1j), (_back(), -1j)):
        (arc,) = edges["corner"]
        centre = arc.start + arc.unit_tangent(0.0) * side * shorts.CORNER_RADIUS
        for k in range(11):
            # One cubic over a quarter turn leaves its circle by at most 2.73e-4 of the radius.
            away = abs(arc.point(k / 10) - centre)
            _close(away, shorts.CORNER_RADIUS, 3e-4 * shorts.CORNER_RADIUS, "corner radius")


def test_the_fit_line_above_the_taper_point_is_straight_and_narrows() -> None:
    for edges, inwards in ((_front(), -1.0), (_back(), 1.0)):
        last = edges["side"][-1]
        assert isinstance(last, svgpathtools.Line)
        assert last.length() > 100.0, f"the straight fit line is only {last.length()} mm long"
        assert (last.end - last.start).real * inwards > 5.0, "the side seam does not narrow"


def test_front_and_back_flow_into_each_other_at_the_inseam_and_the_waist() -> None:
    for edges in (_front(), _back()):
        for before, after in (("hem", "inseam"), ("inseam", "rise"), ("rise", "waist")):
            turn = _turn(edges[before][-1], edges[after][0])
            _close(math.degrees(turn), 90.0, 0.05, f"{before} to {after}")


def test_the_dart_has_equal_legs_and_its_intake_and_depth() -> None:
    first, second = _back()["dart"]
    _close(first.length(), second.length(), 0.002, "legs")
    middle = (first.start + second.end) / 2
    _close(abs(first.start - second.end), shorts.DART_INTAKE, 0.002, "intake")
    _close(abs(first.end - middle), shorts.DART_DEPTH, 0.002, "depth")


def test_the_waist_runs_smooth_over_the_closed_dart() -> None:
    back = _back()
    leg, other = back["dart"]
    for what, turn in (
        ("near leg", _turn(back["waist"][-1], leg)),
        ("far leg", _turn(other, back["waist beyond dart"][0])),
    ):
        _close(math.degrees(turn), 90.0, 0.05, what)


def test_the_hole_lies_just_above_the_point_of_the_dart() -> None:
    hole = _found("allotment_shorts.svg", "back-drill")
    at = complex(float(hole.attrib["cx"]), float(hole.attrib["cy"]))
    apex = _back()["dart"][0].end
    _close(abs(at - apex), shorts.DRILL_ABOVE_APEX, 0.002, "hole above the point")
    assert at.imag < apex.imag
    assert hole.attrib["r"] == "3"


def test_the_shorts_are_drawn_at_true_size_with_a_square_to_measure() -> None:
    root = _root("allotment_shorts.svg")
    width, height = (root.attrib[k].removesuffix("mm") for k in ("width", "height"))
    assert root.attrib["viewBox"] == f"0 0 {width} {height}"
    square = _found("allotment_shorts.svg", "test-square")
    assert (square.tag, square.get("width"), square.get("height")) == (f"{SVG}rect", "100", "100")


def test_the_pieces_of_the_shorts_face_each_other_with_their_side_seams() -> None:
    front, back = _front()["side"].bbox(), _back()["side"].bbox()
    gap = back[0] - front[1]
    assert 60.0 < gap < 200.0, f"the gap between the side seams is {gap} mm"


@pytest.mark.parametrize("part", [shorts.front(), shorts.back()], ids=lambda p: str(p.name))
def test_each_piece_has_a_title_a_grain_line_and_notches(part: Part) -> None:
    name, key = "allotment_shorts.svg", part.name.lower()
    title = _found(name, key).find(f"{SVG}title")
    assert title is not None
    assert title.text == part.name
    grain = _found(name, f"{key}-grain")
    assert grain.get("class") == "grain"
    (line,) = svgpathtools.parse_path(grain[0].get("d"))
    assert line.start.real == line.end.real, "the grain is not upright"
    notches = [e for e in _found(name, key) if e.get("class") == "notch"]
    assert len(notches) == (2 if key == "front" else 3)


def test_the_skirt_hem_meets_fold_and_side_squarely() -> None:
    edges = _edges("potting_skirt.svg", skirt.front())
    for before, after in (("side", "hem"), ("hem", "centre"), ("centre", "waist")):
        turn = _turn(edges[before][-1], edges[after][0])
        _close(math.degrees(turn), 90.0, 0.05, f"{before} to {after}")
    (fold,) = edges["centre"]
    assert fold.start.real == fold.end.real, "the fold is not straight with the grain"


def test_the_skirt_is_drawn_in_tenths_of_an_inch() -> None:
    root = _root("potting_skirt.svg")
    width, height = (float(root.attrib[k].removesuffix("in")) for k in ("width", "height"))
    assert root.attrib["viewBox"] == f"0 0 {width * 10:g} {height * 10:g}"
    _close(skirt.PEN.unit_mm, INCH_MM / 10, 0.0, "unit")


def test_the_skirt_dart_is_two_equal_legs_from_a_plain_waist_edge() -> None:
    legs = [svgpathtools.parse_path(e.get("d"))[0] for e in _found("potting_skirt.svg", "dart")]
    assert legs[0].end == legs[1].end, "the legs do not meet in one point"
    _close(legs[0].length(), legs[1].length(), 0.001, "legs")
    _close(abs(legs[0].start - legs[1].start), skirt.DART_INTAKE, 0.005, "intake")
    waist = _edges("potting_skirt.svg", skirt.front())["waist"]
    assert len(waist) == 1
    for leg in legs:
        away = waist.radialrange(leg.start)[0][0]
        _close(away, 0.0, 0.001, "leg off the waist")


def test_the_sleeve_has_equal_underarm_seams_and_a_square_hem_and_cap() -> None:
    edges = _edges("watering_sleeve.svg", sleeve.sleeve())
    back, front = edges["underarm back"], edges["underarm front"]
    _close(back.length(), front.length(), 0.0002, "underarm seams")
    order = ["cap", "underarm front", "hem", "underarm back", "cap"]
    for before, after in pairwise(order):
        turn = _turn(edges[before][-1], edges[after][0])
        _close(math.degrees(turn), 90.0, 0.05, f"{before} to {after}")


def test_the_sleeve_lies_askew_on_its_sheet() -> None:
    root = _root("watering_sleeve.svg")
    assert root.attrib["width"] == f"{root.attrib['viewBox'].split()[2]}cm"
    nested = [e.attrib["transform"] for e in root.iter(f"{SVG}g") if "transform" in e.attrib]
    assert nested == [sleeve.MOVED, "rotate(12)"]
    grain = _found("watering_sleeve.svg", "sleeve-grain")
    (line,) = svgpathtools.parse_path(grain[0].get("d"))
    assert line.start.real == line.end.real == 0.0
