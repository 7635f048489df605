"""Pieces with a cutting line only and allowances told are checked where they are sewn."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from core.alter.model import Change, Finding
from core.alter.together import alter_together
from core.check import Wearer, check_all, with_partners
from core.curve import Chain, Line, Point
from core.files.read import read_bytes
from core.piece.model import Piece
from tests.laws.outer import cutting_line
from tests.laws.sketch import Garment, SeamPlan, Sketch

SEAM, HEM = 10.0, 30.0
LEGS = [
    ("front", Sketch(Garment.LEG, 500.0, 240.0, SeamPlan(-0.03), SeamPlan(-0.06))),
    ("back", Sketch(Garment.LEG, 500.0, 280.0, SeamPlan(-0.05), SeamPlan(-0.06))),
]


def path(chain: Chain) -> str:
    def at(p: Point) -> str:
        return f"{p.x:.9f} {p.y:.9f}"

    steps = [
        f"L{at(s.end)}" if isinstance(s, Line) else f"C{' '.join(at(p) for p in s.controls[1:])}"
        for s in chain
    ]
    return f"M{at(chain.start)}{''.join(steps)}Z"


def legs(*, cut: bool) -> tuple[Piece, ...]:
    """Front and back as a file has them: where they are sewn, or the cutting lines alone."""
    drawn = []
    for k, (name, sketch) in enumerate(LEGS):
        piece = sketch.piece()
        assert piece.hem is not None
        parts = [
            (HEM if e.role.value == "hem" else SEAM, list(piece.edge_chain(e))) for e in piece.edges
        ]
        downs = piece.hem.first.down, piece.hem.last.down
        ring = cutting_line(parts, piece.hem, downs)[0] if cut else piece.ring
        drawn.append(
            f'<g id="{name}" transform="translate({500 + 1000 * k} 100)"><path d="{path(ring)}"/>'
            '<path class="grain" d="M0 150V400"/></g>'
        )
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="2000mm" height="900mm"'
    text = f'{head} viewBox="0 0 2000 900">{"".join(drawn)}</svg>'
    return tuple(read_bytes(Path("legs.svg"), text.encode()).pieces)


def told(pieces: tuple[Piece, ...], change: Change) -> list[Finding]:
    wearer = Wearer(leg_mm=450.0)
    return list(check_all(alter_together(pieces, change), wearer=wearer))


@pytest.mark.parametrize("by", [60.0, -40.0])
def test_seams_and_girth_are_those_of_the_line_that_is_sewn(by: float) -> None:
    """The allowances were in them: a leg of 48 cm was told as 52, and had ease that it has not."""
    as_sewn = told(legs(cut=False), Change(by))
    change = Change(by, allowance_mm=SEAM, hem_allowance_mm=HEM)
    as_cut = told(legs(cut=True), change)
    cloth = "All hem edges"
    wanted = [f.sentence for f in as_sewn if not f.sentence.startswith(cloth)]
    assert any("cm around" in s for s in wanted)
    assert any("ease" in s for s in wanted)
    got = [f.sentence for f in as_cut if not f.sentence.startswith(cloth)]
    assert got == wanted


def test_a_partner_that_stays_as_it_is_is_walked_where_it_is_sewn_too() -> None:
    front, back = legs(cut=True)
    change = Change(60.0, allowance_mm=SEAM, hem_allowance_mm=HEM)
    both = with_partners(alter_together((front,), change), (front, back))
    lengths = {a.before.name: a.change.allowance_mm for a in both}
    assert set(lengths.values()) == {SEAM}
    walked = [
        f.sentence for f in check_all(both) if "inseam" in f.sentence and "longer" in f.sentence
    ]
    assert walked, "wanted it told that only the front became longer"


def test_what_cannot_be_drawn_from_the_allowances_is_told() -> None:
    """A hem dart, of which it is not known where its legs are sewn: the figures with the
    allowances in them were told without a word."""
    dart = "M100 150C150 40 290 40 340 150L330 500H230L220 400L210 500H110Z"
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="4cm" height="6cm" viewBox="0 0 40 60">'
        f'<g id="sleeve"><path d="{dart}"/><path class="grain" d="M280 150V400"/></g></svg>'
    )
    (piece,) = read_bytes(Path("sleeve.svg"), text.encode()).pieces
    found = told((piece,), Change(60.0, allowance_mm=SEAM))
    assert any("along the cutting line" in f.sentence for f in found)
    assert not any("along the cutting line" in f.sentence for f in told((piece,), Change(60.0)))


@pytest.mark.parametrize("allowance", [8.0, 15.0])
def test_a_digitised_rounding_has_a_stitching_line_inside_it_too(allowance: float) -> None:
    """Its line turns a little at the taper point as at each joint, and the two lines inside it
    ended half a millimetre apart: so it was changed, and measured, by its cutting line."""
    steps = [math.radians(a) for a in range(0, 91, 5)]
    far = 60.0 + allowance
    arc = [(340.0 - far + far * math.cos(a), 440.0 + far * math.sin(a)) for a in steps]
    corners = [(100.0, 50.0), (340.0, 50.0), *arc, (100.0, 440.0 + far)]
    d = "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in corners) + "Z"
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="5cm" height="7cm" viewBox="0 0 50 70">'
        f'<g id="skirt front"><path d="{d}"/><path class="grain" d="M180 150V400"/></g></svg>'
    )
    (piece,) = read_bytes(Path("skirt.svg"), text.encode()).pieces
    change = replace(Change(60.0), allowance_mm=allowance)
    found = told((piece,), change)
    assert not any("along the cutting line" in f.sentence for f in found)
    width = 240.0 - 2.0 * allowance
    assert any(f"hem is {width / 10.0:.1f} cm" in f.sentence for f in found), found
