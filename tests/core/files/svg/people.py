"""One trouser leg in mm, drawn in every common way of SVG; each lies where the plain one lies."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from core.curve import Affine, Point

WIDE, HIGH = 600.0, 900.0
ROOT = 'width="600mm" height="900mm" viewBox="0 0 600 900"'
PX = 25.4 / 96
# Seams that bend a little, a hem with rounded corners.
LEG = (
    "M 100 50 L 300 50 C 302 200 295 400 280 580 C 279 592 272 600 260 600"
    " L 140 600 C 128 600 121 592 120 580 C 105 400 98 200 100 50 Z"
)
STRAIGHT = "M 100 50 L 300 50 L 285 600 L 115 600 Z"
PANEL = "M 100 50 H 300 V 580 A 20 20 0 0 1 280 600 H 120 A 20 20 0 0 1 100 580 V 50 Z"
NAME = 'id="front"'
STILL = Affine()


@dataclass(frozen=True)
class Way:
    """A file: ``body`` in a ``root``. ``plain`` is the same outline as a path in mm.

    ``unit`` (mm) is what a person answers when the file does not say, ``px`` how long a pixel of
    the general library is.
    """

    body: str
    root: str = ROOT
    plain: str = LEG
    unit: float | None = None
    px: float = PX

    @property
    def data(self) -> bytes:
        return svg(self.body, self.root)

    @property
    def plain_data(self) -> bytes:
        return svg(f'<path {NAME} d="{self.plain}"/>')


def svg(body: str, root: str = ROOT) -> bytes:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        f" {root}>\n{body}\n</svg>\n"
    ).encode()


def drawn(by: Affine = STILL, d: str = LEG) -> str:
    """Path data that draws the outline where it is, inside of the map `by`."""
    back = by.inverse()

    def pair(found: re.Match[str]) -> str:
        p = back.point(Point(float(found[1]), float(found[2])))
        return f"{p.x:.9f} {p.y:.9f}"

    return re.sub(r"([-\d.]+) ([-\d.]+)", pair, d)


def path(by: Affine = STILL, more: str = NAME, d: str = LEG) -> str:
    return f'<path {more} d="{drawn(by, d)}"/>'


def scaled(mm: float) -> Affine:
    return Affine.scale(mm)


def _page(unit: str, mm: float, box: str | None = "") -> Way:
    """A page whose units are its own: so many mm long, called `unit`."""
    w, h = WIDE / mm, HIGH / mm
    said = f'viewBox="0 0 {w:.9f} {h:.9f}"' if box is not None else ""
    return Way(path(scaled(mm)), f'width="{w:.9f}{unit}" height="{h:.9f}{unit}" {said}')


def _within(*steps: tuple[str, Affine]) -> Way:
    whole, before = STILL, ""
    for text, by in steps:
        whole, before = whole @ by, before + f'<g transform="{text}">'
    return Way(before + path(whole) + "</g>" * len(steps))


def _fitted(ratio: str, width: float, height: float) -> Way:
    """A viewBox of other proportions than the page (SVG 2, 8.2, worked out by hand)."""
    sx, sy = WIDE / width, HIGH / height
    align, _, meet = ratio.partition(" ")
    if align != "none":
        sx = sy = max(sx, sy) if meet == "slice" else min(sx, sy)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    dx = (WIDE - sx * width) * share.get(align[1:4], 0.0)
    dy = (HIGH - sy * height) * share.get(align[5:8], 0.0)
    by = Affine.move(dx, dy) @ Affine.scale(sx, sy) @ Affine.move(30.0, 20.0)
    box = f'viewBox="-30 -20 {width:g} {height:g}" preserveAspectRatio="{ratio}"'
    return Way(path(by), f'width="600mm" height="900mm" {box}')


def _tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))


MOVED = ("translate(31.5,-7)", Affine.move(31.5, -7.0))
TURNED = ("rotate(7.5)", Affine.turn(math.radians(7.5)))
ABOUT = ("rotate(-12 50 60)", Affine.turn(math.radians(-12.0), Point(50.0, 60.0)))
LARGER = ("scale(2.5)", Affine.scale(2.5))
UNEVEN = ("scale(1.5 .8)", Affine.scale(1.5, 0.8))
MIRROR = ("scale(-1,1)", Affine.scale(-1.0, 1.0))
UPSIDE = ("translate(0 900) scale(1 -1)", Affine.move(0.0, 900.0) @ Affine.scale(1.0, -1.0))
SKEW_X = ("skewX(20)", Affine(c=_tan(20.0)))
SKEW_Y = ("skewY(-15)", Affine(b=_tan(-15.0)))
MATRIX = ("matrix(.9 .2 -.3 1.1 12 -5)", Affine(0.9, 0.2, -0.3, 1.1, 12.0, -5.0))
TWICE = ("translate(10)rotate(30),scale(.5)", Affine.move(10.0, 0.0)
         @ Affine.turn(math.radians(30.0)) @ Affine.scale(0.5))  # fmt: skip

ALIGNS = [f"x{x}Y{y}" for x in ("Min", "Mid", "Max") for y in ("Min", "Mid", "Max")]
OLD_90 = 'xmlns:i="http://www.inkscape.org/namespaces/inkscape" i:version="0.48.4"'
STYLE = "<style>.cut{fill:none;stroke:#123} .gone{display:none}</style>"
# The leg written by hand with short steps, from its top left corner.
SHORT = "m100,50h200c2,150-5,350-20,530-1,12-8,20-20,20h-120c-12,0-19-8-20-20-15-180-22-380-20-530z"
ROUNDED = "M100 50H300V580a20 20 0 01-20 20H120a20 20 0 01-20-20z"

UNITS = {
    "mm": _page("mm", 1.0),
    "cm": _page("cm", 10.0),
    "in": _page("in", 25.4),
    "pt": _page("pt", 25.4 / 72),
    "pc": _page("pc", 25.4 / 6),
    "px": _page("px", PX),
    "px without viewBox": _page("px", PX, None),
    "inches of 1000 units": Way(path(scaled(0.0254)),
        f'width="{WIDE / 25.4:.9f}in" height="{HIGH / 25.4:.9f}in" viewBox="0 0 '
        f'{WIDE / 0.0254:.6f} {HIGH / 0.0254:.6f}"'),
    "the editor of 90 px": Way(
        path(scaled(25.4 / 90)), f'width="{WIDE / 25.4 * 90:.6f}" height="{HIGH / 25.4 * 90:.6f}" '
        + OLD_90, px=25.4 / 90),
    "the editor of 72 px": Way(
        path(scaled(25.4 / 72)), f'width="{WIDE / 25.4 * 72:.6f}px" '
        f'height="{HIGH / 25.4 * 72:.6f}px" viewBox="0 0 {WIDE / 25.4 * 72:.6f} '
        f'{HIGH / 25.4 * 72:.6f}" style="enable-background:new 0 0 9 9"', px=25.4 / 72),
    "bare numbers and an answer": Way(path(), 'viewBox="0 0 600 900"', unit=1.0, px=1.0),
    "per cent of nothing and an answer": Way(
        path(), 'width="100%" height="100%" viewBox="0 0 600 900"', unit=1.0, px=1.0),
}  # fmt: skip
RATIOS = {
    **{f"{a}{m}": _fitted(f"{a}{m}", 1200.0, 950.0) for a in ALIGNS for m in ("", " slice")},
    **{f"{a} tall": _fitted(a, 700.0, 2000.0) for a in ALIGNS},
    "none": _fitted("none", 1200.0, 950.0),
    "meet": _fitted("xMidYMid meet", 1200.0, 950.0),
}
TREES = {
    "moved": _within(MOVED),
    "turned": _within(TURNED),
    "turned about": _within(ABOUT),
    "mirrored": _within(MIRROR),
    "y upwards": _within(UPSIDE),
    "skewed across": _within(SKEW_X),
    "skewed down": _within(SKEW_Y),
    "a matrix": _within(MATRIX),
    "several steps": _within(TWICE),
    "uneven": _within(UNEVEN),
    "nested": _within(MOVED, TURNED, LARGER),
    "nested, skewed and mirrored": _within(MOVED, SKEW_X, MIRROR, ABOUT, UNEVEN, SKEW_Y),
    "on the path itself": Way(
        path(SKEW_X[1] @ MIRROR[1], f'{NAME} transform="skewX(20) scale(-1 1)"')),
    "nested page": Way(
        '<svg x="50" y="20" width="300" height="440" viewBox="10 0 600 900"'
        ' preserveAspectRatio="xMinYMax">'
        + path(Affine.move(50.0, 20.0) @ Affine.scale(440 / 900)
               @ Affine.move(-10.0, 0.0)) + "</svg>"),
    "use": Way(
        f'<defs>{path(Affine.move(40.0, 30.0))}</defs><use xlink:href="#front" x="40" y="30"/>'),
    "use, turned": Way(
        f'<defs>{path(TURNED[1] @ Affine.move(4.0, 3.0))}</defs>'
        '<use href="#front" x="4" y="3" transform="rotate(7.5)"/>'),
    "a group in defs": Way(
        f'<defs><g id="g" transform="scale(2.5)">{path(MIRROR[1] @ LARGER[1])}</g></defs>'
        '<use href="#g" transform="scale(-1,1)"/>'),
    "symbol": Way(
        f'<symbol id="s">{path(Affine.move(3.0, 4.0))}</symbol><use href="#s" x="3" y="4"/>'),
    "classes": Way(STYLE + path(more=f'{NAME} class="cut"')),
    "hidden layer": Way(
        STYLE + f'<g class="gone"><path id="draft" d="{LEG}"/></g>' + path()
        + f'<g id="old" style="display:none"><path d="{LEG}"/></g>'),
}  # fmt: skip
SHAPES = {
    "polygon": Way(
        f'<polygon {NAME} points="100,50 300,50 285,600 115,600"/>', plain=STRAIGHT),
    "polygon of compact numbers": Way(
        f'<polygon {NAME} points="100 50 300 50 2.85e2 6e+2 +115,.6e3"/>', plain=STRAIGHT),
    "polyline": Way(
        f'<polyline {NAME} points="100,50,300,50,285,600,115,600,100,50"/>', plain=STRAIGHT),
    "rect": Way(
        f'<rect {NAME} x="100" y="50" width="200" height="550"/>',
        plain="M 100 50 L 300 50 L 300 600 L 100 600 Z"),
    "rounded rect": Way(
        f'<rect {NAME} x="100" y="50" width="200" height="550" rx="20"/>',
        plain="M 120 50 H 280 A 20 20 0 0 1 300 70 V 580 A 20 20 0 0 1 280 600 H 120"
        " A 20 20 0 0 1 100 580 V 70 A 20 20 0 0 1 120 50 Z"),
    "rect in per cent": Way(
        f'<rect {NAME} x="16.6666666667%" y="50" width="33.3333333333%" height="61.1111111111%"/>',
        plain="M 100 50 L 300 50 L 300 600 L 100 600 Z"),
    "rect in units": Way(
        f'<rect {NAME} x="1in" y="5cm" width="150mm" height="400pt"/>',
        f'width="{WIDE / PX:.9f}px" height="{HIGH / PX:.9f}px"',
        plain="M 25.4 50 L 175.4 50 L 175.4 191.1111111 L 25.4 191.1111111 Z"),
    "circle and ellipse beside": Way(
        path() + '<circle cx="200" cy="90" r="6"/><ellipse cx="200" cy="560" rx="8" ry="5"/>'),
}  # fmt: skip
DATA = {
    "short and relative": Way(f'<path {NAME} d="{SHORT}"/>'),
    "arcs with flags run together": Way(f'<path {NAME} d="{ROUNDED}"/>', plain=PANEL),
    "arcs stretched": Way(
        f'<g transform="scale(2 1)"><path {NAME} d="M50 50H150V580A10 20 0 01140 600H60'
        'A10 20 0 0150 580Z"/></g>', plain=PANEL),
    "arcs turned and mirrored": Way(
        f'<g transform="rotate(90)scale(1-1)"><path {NAME} d="M50 100V300H580A20 20 0 00600 280'
        'V120A20 20 0 00580 100Z"/></g>', plain=PANEL),
    "smooth and quadratic": Way(
        f'<path {NAME} d="M100 50H300Q305 200 290 400T280 600H120S90 300 100 50"/>',
        plain="M100 50H300Q305 200 290 400Q275 600 280 600H120C120 600 90 300 100 50Z"),
    "several subpaths": Way(
        f'<path {NAME} d="{LEG} M 200 100 V 500 m -5 5 5 9 5 -9"/>'),
    "two legs in one path": Way(
        f'<path {NAME} d="{LEG} m 250 0 h 200 l -20 550 h -160 z"/>'),
}  # fmt: skip
# The general library takes no notice of the size that a `use` gives a symbol.
SIZED_SYMBOL = Way(
    f'<symbol id="s" viewBox="0 0 300 450">{path(scaled(2.0))}</symbol>'
    '<use href="#s" width="600" height="900"/>'
)
TWO = '<use id="one" href="#leg"/>\n<use id="two" href="#leg" x="250"/>'
LEG_PATH = f'<path d="{LEG}"/>'
# What two uses share, and whether the first of the two is drawn in its own place.
SHARED = {
    "a path": f'<defs><path id="leg" d="{LEG}"/></defs>{TWO}',
    "a group": f'<defs><g id="leg"><g>{LEG_PATH}</g></g></defs>{TWO}',
    "a symbol": f'<symbol id="leg">{LEG_PATH}</symbol>{TWO}',
    "a use": f'<defs><path id="in" d="{LEG}"/><use id="leg" href="#in"/></defs>{TWO}',
    "a part drawn itself": f'<path id="leg" d="{LEG}"/>\n<use id="two" href="#leg" x="250"/>',
}
