"""Splicing: only what must change changes, and reading again gives what was wanted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment, Vector
from core.files.edits import PathEdit
from core.files.svg import splice_svg
from core.files.svg.transforms import written
from tests.core.files.svg.build import (
    Parts,
    assert_drawn,
    d_of,
    edit,
    flat,
    only,
    parts_of,
    read,
    splice,
    spliced,
    svg,
    with_corner_moved,
)

STEP = Vector(0.5, 0.25)


def path(d: str) -> bytes:
    return svg(f'<path d="{d}" id="p"/>')


@pytest.mark.parametrize(
    ("d", "corner", "wanted"),
    [
        # Absolute: only the numbers of the point that moved.
        ("M0 0 L10 0 L10 10 L0 10 Z", 2, "M0 0 L10 0 L10.5,10.25 L0 10 Z"),
        ("M0 0 10 0 10 10 0 10 Z", 2, "M0 0 10 0 L10.5,10.25 0 10 Z"),
        ("M0 0 L10 0 L10 10 L0 10 Z", 0, "M0.5,0.25 L10 0 L10 10 L0 10 Z"),
        # Relative: the moved point and the step after it; then as it was.
        ("m0 0 l10 0 l0 10 l-10 0 z", 1, "m0 0 L10.5,0.25 L10,10 l-10 0 z"),
        ("m0 0 10 0 0 10 -10 0 z", 1, "m0 0 L10.5,0.25 L10,10 l-10 0 z"),
        ("m5 5 h10 v10 h-10 z", 2, "m5 5 h10 L15.5,15.25 L5,15 z"),
        ("M0 0H10V10H0Z", 3, "M0 0H10V10L0.5,10.25Z"),
        # Separators of numbers are kept apart when a letter comes between.
        ("M0,0,10,0,10,10,0,10z", 2, "M0,0,10,0 L10.5,10.25,0,10z"),
        ("M0-0 10-1-5-9z", 1, "M0-0 L10.5,-0.75 -5-9z"),
    ],
)
def test_the_text_of_a_moved_corner(d: str, corner: int, wanted: str) -> None:
    data = path(d)
    new = with_corner_moved(only(data), corner, STEP)
    out = spliced(data, 0, new)
    assert d_of(out) == wanted, f"wanted {wanted}, got {d_of(out)}"
    assert out == data.replace(d.encode(), wanted.encode())
    assert_drawn(only(out), flat(new))


def test_only_the_handle_that_moved_is_written_anew() -> None:
    data = path("M0 0 C1.10 2.20 3.3 4.40 5 5 S9 9 9.90 0")
    a, b = only(data)
    new = [[Cubic(a.start, a.c1 + STEP, a.c2, a.end)], [b]]
    out = spliced(data, 0, new)
    assert d_of(out) == "M0 0 C1.6,2.45 3.3 4.40 5 5 S9 9 9.90 0"


def test_a_shorthand_that_lost_its_handle_is_spelled_out() -> None:
    data = path("M0 0C1 2 3 4 5 5S9 9 9 0S1 1 2 2")
    a, b, c = only(data)
    new = [[Cubic(a.start, a.c1, a.c2 + STEP, a.end)], [b], [c]]
    out = spliced(data, 0, new)
    assert d_of(out) == "M0 0C1 2 3.5,4.25 5 5C7,6 9,9 9,0S1 1 2 2"
    assert_drawn(only(out), flat(new), 1e-9)


def test_a_chain_of_smooth_quadratics_is_spelled_out_after_a_change() -> None:
    data = path("M0 0Q3 9 9 0T18 0T27 0L5 5")
    old = only(data)
    new = [[Line(old.start, old.segments[0].end)], *parts_of(old)[1:]]
    out = spliced(data, 0, new)
    assert d_of(out).endswith("L5 5")
    assert "T" not in d_of(out)
    assert_drawn(only(out), flat(new), 1e-8)


def test_arcs_that_stay_keep_their_text() -> None:
    data = path("M0 0 H50 a25 25 0 0150 0 L100 50 z")
    old = only(data)
    corner = len(old) - 1
    out = spliced(data, 0, with_corner_moved(old, corner, STEP))
    assert d_of(out) == "M0 0 H50 a25 25 0 0150 0 L100.5,50.25 z"


def test_an_arc_that_is_cut_becomes_cubics() -> None:
    data = path("M0 0 H50 A25 25 0 0 1 100 0 V50 z")
    old = only(data)
    new = parts_of(old)
    new[2] = (old.segments[2].part(0.0, 0.5), old.segments[2].part(0.5, 1.0))
    out = spliced(data, 0, new)
    assert "A" not in d_of(out)
    assert d_of(out).startswith("M0 0 H50 C")
    assert d_of(out).endswith(" V50 z")
    assert_drawn(only(out), flat(new), 1e-8)


def test_segments_can_be_put_in_and_taken_out() -> None:
    data = path("m10 10 h20 v20 h-20 z m100 0 h5")
    old = read(data).shapes[0].geometry
    a, b, c, d = old.segments
    peak, low = Point(40, 20), Point(5, 15)
    up, down = [Line(b.start, peak), Line(peak, b.end)], [Line(c.start, low), Line(low, d.end)]
    new = [[a], up, [], down]
    out = spliced(data, 0, new)
    assert_drawn(read(out).shapes[0].geometry, flat(new))
    assert read(out).shapes[1].geometry == read(data).shapes[1].geometry
    assert d_of(out) == "m10 10 h20 L40,20 L30,30 L5,15 z m100 0 h5"


def test_a_new_start_moves_what_leans_on_it() -> None:
    data = path("m10 10 h20 v20 z l5 5 m1 1 h1")
    before = [s.geometry for s in read(data).shapes]
    new = with_corner_moved(before[0], 0, STEP)
    after = [s.geometry for s in read(spliced(data, 0, new)).shapes]
    assert_drawn(after[0], flat(new))
    assert_drawn(after[1], before[1].segments)
    assert_drawn(after[2], before[2].segments)


def test_edits_of_several_subpaths_compose() -> None:
    data = path("m0 0 10 0 0 10z m20 0 10 0 0 10z m20 0 10 0 0 10z")
    reading = read(data)
    geometries = [s.geometry for s in reading.shapes]
    new = {k: with_corner_moved(geometries[k], 1, STEP) for k in (0, 2)}
    out = splice(data, reading, {k: edit(reading, k, n) for k, n in new.items()})
    after = [s.geometry for s in read(out).shapes]
    assert_drawn(after[0], flat(new[0]))
    assert after[1] == geometries[1]
    assert_drawn(after[2], flat(new[2]))


@pytest.mark.parametrize("gone", [0, 1, 2])
def test_a_subpath_without_segments_goes(gone: int) -> None:
    data = path("m0 0 10 0 0 10z m20 0 10 0 0 10z m20 0 10 0 0 10z")
    reading = read(data)
    out = splice(data, reading, {gone: edit(reading, gone, [()] * 3)})
    after = [s.geometry for s in read(out).shapes]
    stay = [s.geometry for k, s in enumerate(reading.shapes) if k != gone]
    assert len(after) == 2
    for got, wanted in zip(after, stay, strict=True):
        assert_drawn(got, wanted.segments)


def test_an_element_without_segments_goes_whole() -> None:
    data = svg('<path d="M0 0h1"/> <path d="M0 0h2"><title>x</title></path>!<path d="M0 0h3" />')
    reading = read(data)
    out = splice(data, reading, {k: edit(reading, k, [()]) for k in (1, 2)})
    assert out == svg('<path d="M0 0h1"/> !')


def test_a_cut_in_the_middle_leaves_two_strokes() -> None:
    data = path("M0 0 L10 0 L20 0 L30 5 L40 0 z")
    new = parts_of(only(data))
    new[1] = ()
    out = spliced(data, 0, new)
    shapes = [s.geometry for s in read(out).shapes]
    assert_drawn(shapes[0], new[0])
    assert_drawn(shapes[1], flat(new[2:]))


def test_steps_without_length_follow_or_vanish() -> None:
    data = path("M0 0L10 0L10 0l0 0L10 10l0 0z")
    old = only(data)
    assert len(old) == 3
    for corner in range(3):
        new = with_corner_moved(old, corner, STEP)
        assert_drawn(only(spliced(data, 0, new)), flat(new))


def test_numbers_written_with_references_are_spelled_out() -> None:
    data = svg('<path d="M0 0&#10;L10 0&#x20;L10 10z" class="a"/>')
    out = spliced(data, 0, with_corner_moved(only(data), 1, STEP))
    assert out == svg('<path d="M0 0\nL10.5,0.25 L10 10z" class="a"/>')


def test_an_edit_that_does_not_fit_is_refused() -> None:
    data = path("M0 0L10 0")
    reading = read(data)
    with pytest.raises(Exception, match="read the file again"):
        splice(data, reading, {0: PathEdit(0, (), ((), ()))})
    with pytest.raises(Exception, match="no shape number 7"):
        splice(data, reading, {7: PathEdit(7, (), ())})
    with pytest.raises(Exception, match="not the file that was read"):
        splice_svg(reading.source, data + b" ", {})


# --- basic shapes -----------------------------------------------------------------------


COORDINATE = st.floats(-90, 90).map(lambda v: round(v, 2))
LETTERS = {"L": 2, "l": 2, "H": 1, "v": 1, "C": 6, "c": 6, "S": 4, "s": 4, "q": 4, "T": 2, "t": 2}


@st.composite
def path_texts(draw: st.DrawFn) -> str:
    out = []
    for first in draw(st.lists(st.sampled_from("Mm"), min_size=1, max_size=3)):
        out.append(f"{first}{draw(COORDINATE)} {draw(COORDINATE)}")
        last = ""
        for letter in draw(st.lists(st.sampled_from([*LETTERS, "a"]), min_size=1, max_size=6)):
            count = LETTERS.get(letter, 0)
            values = [draw(COORDINATE) for _ in range(count)]
            if letter == "a":
                values = [draw(st.floats(5, 60)), 30, 20, 0, 1, draw(COORDINATE), draw(COORDINATE)]
            # Now and then without its letter, as the standard lets one.
            spoken = "" if letter == last and draw(st.booleans()) else letter
            out.append(f"{spoken or ' '}{','.join(map(str, values))}")
            last = letter
        out.append(draw(st.sampled_from(["", "z", " Z "])))
    return "".join(out)


@st.composite
def edits_of(draw: st.DrawFn, chain: Chain) -> Parts:
    """Corners moved, segments split, dropped with their neighbours joined, or bent."""
    new = parts_of(chain)
    if len(chain) > 2 and draw(st.booleans()):
        new = with_corner_moved(chain, draw(st.integers(0, len(chain) - 1)), STEP)
    k = draw(st.integers(0, len(chain) - 1))
    (s,) = new[k]
    match draw(st.sampled_from(["split", "bend", "straight", "keep"])):
        case "split":
            new[k] = (s.part(0.0, 0.5), s.part(0.5, 1.0))
        case "bend":
            new[k] = (Cubic(s.start, s.start + Vector(3, 5), s.end + Vector(-2, 4), s.end),)
        case "straight":
            new[k] = (Line(s.start, s.end),)
    return new


def long_enough(new: Parts) -> bool:
    """Nothing of it would be read as a point or closed by chance."""
    segments: list[Segment] = flat(new)
    return all(s.length() > 1e-3 for s in segments)


# Nothing leaves this page, so nothing makes it grow.
VAST = 'width="40000mm" height="40000mm" viewBox="-20000 -20000 40000 40000"'
MAPS = st.lists(
    st.one_of(
        st.floats(-180, 180).map(lambda v: f"rotate({v!r})"),
        st.tuples(st.floats(0.2, 4), st.floats(-4, -0.2)).map(lambda v: f"scale{v!r}"),
        st.floats(-50, 50).map(lambda v: f"skewX({v!r}) translate({v!r} 7)"),
    ),
    max_size=3,
)


@settings(max_examples=300, deadline=None)
@given(st.data(), path_texts(), MAPS)
def test_any_edit_under_any_map_reads_back(data: st.DataObject, d: str, maps: list[str]) -> None:
    """Law: read(splice(file, edit)) is the edit within 1e-6 mm; the other shapes are as before."""
    groups = "".join(f'<g transform="{m}">' for m in maps)
    file = svg(f'{groups}<path d="{d}"/>' + "</g>" * len(maps), root=VAST)
    reading = read(file)
    chains = [s.key for s in reading.shapes if isinstance(s.geometry, Chain)]
    if not chains:
        return
    keys = data.draw(st.sets(st.sampled_from(chains), min_size=1))
    new = {k: data.draw(edits_of(reading.shapes[k].geometry)) for k in keys}
    new = {k: n for k, n in new.items() if long_enough(n)}
    out = splice(file, reading, {k: edit(reading, k, n) for k, n in new.items()})
    after = read(out)
    assert len(after.shapes) == len(reading.shapes)
    for before, now in zip(reading.shapes, after.shapes, strict=True):
        if before.key in new:
            assert_drawn(now.geometry, flat(new[before.key]))
        elif isinstance(before.geometry, Chain):
            assert_drawn(now.geometry, before.geometry.segments)


@settings(max_examples=60, deadline=None)
@given(path_texts())
def test_edits_that_change_nothing_give_the_identical_bytes(d: str) -> None:
    file = svg(f'<path\td = "{d}" />')
    reading = read(file)
    edits = {
        s.key: edit(reading, s.key, parts_of(s.geometry))
        for s in reading.shapes
        if isinstance(s.geometry, Chain)
    }
    assert splice(file, reading, edits) == file


def test_reversing_twice_changes_nothing() -> None:
    file = path("M0 0C1 2 3 4 5 5Q9 9 8 0z")
    reading = read(file)
    twice = reading.shapes[0].geometry.reversed().reversed()
    assert isinstance(twice, Ring)
    assert splice(file, reading, {0: edit(reading, 0, parts_of(twice))}) == file


def test_the_written_map_is_the_map() -> None:
    by = Affine.turn(0.3) @ Affine.scale(2, -0.5)
    assert by == pytest.approx(by)
    assert written(Affine.move(1.5, 2)) == "translate(1.5,2)"
