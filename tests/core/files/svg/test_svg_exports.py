"""Files built as drawing programs and CAD programs write them, read and altered whole."""

from __future__ import annotations

import pytest

from core.curve import Chain, Ring, Vector
from core.piece.model import Kind
from tests.core.files.svg.build import (
    assert_drawn,
    edit,
    flat,
    read,
    splice,
    with_corner_moved,
)

# A layered page in mm: user units are mm, layers are groups with a label, relative commands,
# curves from a pen tool, writing in lines.
LAYERED = """<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!-- Created with a drawing program -->
<svg
   width="210mm"
   height="297mm"
   viewBox="0 0 210 297"
   version="1.1"
   id="svg5"
   inkscape:version="1.2.2 (b0a8486541, 2022-12-01)"
   xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
   xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
   xmlns="http://www.w3.org/2000/svg">
  <sodipodi:namedview id="namedview7" inkscape:document-units="mm" showgrid="false" />
  <defs id="defs2" />
  <g inkscape:label="Front" inkscape:groupmode="layer" id="layer1" transform="translate(5,10)">
    <path
       style="fill:none;stroke:#000000;stroke-width:0.264583px"
       d="m 20,30 80,2.5 c 3,40 6,80 4,120 l -70,3 c -6,-40 -14,-80 -14,-125.5 z"
       id="path113"
       inkscape:label="outline" sodipodi:nodetypes="cccccc" />
    <path d="M 60,50 V 130" id="path2" inkscape:label="grain line" />
    <text xml:space="preserve" style="font-size:8px" x="55" y="40" id="text1"><tspan
         sodipodi:role="line" id="tspan1" x="55" y="40">Front</tspan><tspan
         sodipodi:role="line" x="55" y="50" id="tspan2">cut 2</tspan></text>
  </g>
  <g inkscape:groupmode="layer" id="layer2" inkscape:label="Notes" style="display:none">
    <circle cx="5" cy="5" r="2" id="c" />
  </g>
</svg>
"""
# The older count of that family: no viewBox, px at 90 to the inch.
OLDER = """<svg xmlns="http://www.w3.org/2000/svg" width="744.09448" height="1052.3622"
  xmlns:i="http://www.inkscape.org/namespaces/inkscape" i:version="0.48.4 r9939">
  <g transform="translate(0,-52.36)"><g transform="matrix(0,1,-1,0,400,100)">
    <path d="m 90,0 90,0 0,180 -90,0 z"/></g></g></svg>
"""
# An illustration program: points at 72 to the inch, numbered classes, entities, a switch.
ILLUSTRATED = """<?xml version="1.0" encoding="iso-8859-1"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [
	<!ENTITY ns_ext "urn:example:extensions">
]>
<svg version="1.1" id="Layer_1" xmlns:x="&ns_ext;" xmlns="http://www.w3.org/2000/svg"
\t x="0px" y="0px" width="595.28px" height="841.89px" viewBox="0 0 595.28 841.89"
\t style="enable-background:new 0 0 595.28 841.89;" xml:space="preserve">
<style type="text/css">
	.st0{fill:none;stroke:#000000;}
	.st1{display:none;}
</style>
<switch>
	<foreignObject requiredExtensions="&ns_ext;" x="0" y="0" width="1" height="1"></foreignObject>
	<g x:extraneous="self">
<g id="Front_x5F_leg">
	<polygon class="st0" points="72,72 216,72 201.6,360 86.4,360 	"/>
	<path class="st0" d="M144,100.8v216M138,310l6,6.8l6-6.8"/>
	<text transform="matrix(0.9 0 0 1 120 200)"><tspan x="0" y="0">FRONT</tspan>
	<tspan x="0" y="14.4">x 2</tspan></text>
</g>
<g id="hidden" class="st1"><rect width="10" height="10"/></g>
	</g>
</switch>
</svg>
"""
# A CAD program: y up through a mirroring group, polylines in the drawing's own unit, arcs.
MIRRORED = """<svg xmlns="http://www.w3.org/2000/svg" width="30.0cm" height="40.0cm"
 viewBox="0 0 300 400">
<g id="model" transform="translate(0,400) scale(1,-1)" fill="none">
<g id="BACK"><polyline points="50,50 250,50 240,350 60,350 50,50"/>
<path d="M 100 200 A 50 50 0 0 1 200 200"/><circle cx="150" cy="300" r="1.5"/></g>
</g></svg>
"""
# A web drawing: symbols and clones.
CLONED = """<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
 width="20in" height="10in" viewBox="0 0 1440 720"><defs><symbol id="leg" viewBox="0 0 100 200">
 <title>Leg</title><path class="outline" d="M10,10h80l-8,180H18z"/></symbol></defs>
<use xlink:href="#leg" x="20" y="20" width="300" height="600"/>
<use xlink:href="#leg" width="300" height="600" transform="translate(720,20) scale(-1,1)"/></svg>
"""
FILES = {
    "layered": LAYERED,
    "older": OLDER,
    "illustrated": ILLUSTRATED,
    "mirrored": MIRRORED,
    "cloned": CLONED,
}


def data_of(name: str) -> bytes:
    return FILES[name].encode("latin-1")


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        # From the numbers in each file, by hand, in mm.
        ("layered", None, None),
        ("older", 180 * 25.4 / 90, 90 * 25.4 / 90),
        ("illustrated", 144 * 25.4 / 72, 288 * 25.4 / 72),
        ("mirrored", 200.0, 300.0),
        ("cloned", 80 * 3 * 25.4 / 72, 180 * 3 * 25.4 / 72),
    ],
)
def test_the_outline_has_its_true_size(name: str, width: float | None, height: float) -> None:
    ring = next(s.geometry for s in read(data_of(name)).shapes if isinstance(s.geometry, Ring))
    box = ring.bounds()
    if width is None:
        assert (ring.start.x, ring.start.y) == (25.0, 40.0)
        return
    assert box.width == pytest.approx(width, rel=1e-9), f"wanted {width}, got {box.width}"
    assert box.height == pytest.approx(height, rel=1e-9), f"wanted {height}, got {box.height}"


def test_layers_and_labels_are_words() -> None:
    shapes = read(data_of("layered")).shapes
    assert shapes[0].words == ("path113", "outline", "layer1", "Front")
    assert shapes[0].group_name == "Front"
    assert shapes[2].text == "Front\ncut 2"
    assert [s.hidden for s in shapes] == [False, False, False, True]


def test_an_illustration_has_its_parts() -> None:
    shapes = read(data_of("illustrated")).shapes
    assert [s.hidden for s in shapes] == [False, False, False, False, True]
    assert shapes[3].kind is Kind.TEXT
    assert shapes[3].text == "FRONT\nx 2"
    assert shapes[0].group_name == "Front_x5F_leg"


def test_a_mirrored_drawing_lies_as_it_is_seen() -> None:
    shapes = read(data_of("mirrored")).shapes
    assert shapes[0].geometry.start.y == pytest.approx(350.0)
    arc = shapes[1].geometry
    # Counter-clockwise in the y-up plane: the arc bulges towards its lower y, lower on the page.
    assert arc.bounds().y1 == pytest.approx(250.0, abs=1e-4)


def test_clones_are_mirror_images() -> None:
    a, b = (s.geometry for s in read(data_of("cloned")).shapes)
    assert a.signed_area() == pytest.approx(-b.signed_area(), rel=1e-9)


@pytest.mark.parametrize("name", FILES)
def test_each_shape_can_be_altered_alone(name: str) -> None:
    data = data_of(name)
    reading = read(data)
    for shape in reading.shapes:
        if not isinstance(shape.geometry, Chain):
            continue
        new = with_corner_moved(shape.geometry, len(shape.geometry) // 2, Vector(0.5, 0.25))
        after = read(splice(data, reading, {shape.key: edit(reading, shape.key, new)}))
        assert len(after.shapes) == len(reading.shapes)
        for was, now in zip(reading.shapes, after.shapes, strict=True):
            # A copy carries what its ids said in another attribute.
            assert set(was.words) <= set(now.words)
            if was.key == shape.key:
                assert_drawn(now.geometry, flat(new))
            elif isinstance(was.geometry, Chain):
                assert_drawn(now.geometry, was.geometry.segments)
