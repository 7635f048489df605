"""Rows of the table whose hems have a shape: waves, scoops, points, slits, steps and vents."""

from __future__ import annotations

from dataclasses import replace

from core.curve import Chain, Vector
from core.piece.model import Role
from tests.core.piece.hands import Hand, digitised
from tests.core.piece.rows import MIRRORED, Case, case, turned
from tests.core.piece.true_pieces import (
    flared_skirt,
    gore,
    shorts,
    sleeve,
    straight_skirt,
    trousers,
    whole_flared_skirt,
)
from tests.core.piece.truth import TrueEdge, Truth, vented, with_corners
from tests.laws.hem_shapes import HemKind, HemShape

WAVES = HemShape(HemKind.WAVES, 0.5, 90.0, 10.0)
SCOOP = HemShape(HemKind.SCOOP, 0.5, 90.0, 35.0)
ASIDE = HemShape(HemKind.ASIDE, 0.6, 90.0, 25.0)
POINT = HemShape(HemKind.POINT, 0.45, 90.0, 30.0)
BOWED_POINT = replace(POINT, curved=True)
SLIT = HemShape(HemKind.SLIT, 0.5, 12.0, 90.0)
STEP = HemShape(HemKind.STEP, 0.5, 90.0, 50.0)


def shaped_hem(true: Truth, shape: HemShape) -> Truth:
    """The piece with its hem drawn in that shape between the same ends.

    The raised half of a step ends higher on its seam.
    """
    hem, rising = true.edges[0].chain, true.edges[1]
    start, end = hem.start, hem.end
    along = (end - start).unit()
    if shape.kind is not HemKind.STEP:
        run = shape.segments(start, end, (along, along))
        return replace(true, edges=(TrueEdge(Role.HEM, Chain(tuple(run))), *true.edges[1:]))
    up = rising.chain.tangent(rising.chain.at_length(0.0))
    length = -shape.deep / up.y
    kept = rising.chain.part(
        rising.chain.at_length(length), rising.chain.at_length(rising.chain.length())
    )
    low = kept.start + Vector(0.0, shape.deep)
    run = shape.segments(start, low, (along, along))
    edges = (
        TrueEdge(Role.HEM, Chain(tuple(run))),
        TrueEdge(rising.role, kept),
        *true.edges[2:],
    )
    return replace(true, edges=edges)


def hem_rows() -> list[Case]:
    return [*_drawn(), *_by_points(), *_vents()]


def _drawn() -> list[Case]:
    """By ruler and curve. Both ends of these pieces can be told apart by other things."""
    round_ = ("arc", 30.0, 0.0)
    return [
        case("waved hem of shorts", shaped_hem(shorts(), WAVES)),
        case("waved hem of a flared skirt", shaped_hem(straight_skirt(), WAVES), by=MIRRORED),
        case("scooped hem of a skirt", shaped_hem(straight_skirt(), SCOOP)),
        case("scooped hem of trousers", shaped_hem(trousers(), SCOOP), by=turned(133.0)),
        case("hem of shorts, lowest aside", shaped_hem(shorts(), ASIDE), backwards=True),
        case("hem of a sleeve, lowest aside", shaped_hem(sleeve(), ASIDE), name="Sleeve"),
        case("pointed hem of a sleeve", shaped_hem(sleeve(), POINT), plain=False),
        case(
            "pointed hem of a skirt",
            shaped_hem(straight_skirt(), POINT),
            by=turned(45.0),
            plain=False,
        ),
        case("bowed point of shorts", shaped_hem(shorts(), BOWED_POINT), plain=False),
        case("bowed point of a gore", shaped_hem(gore(), BOWED_POINT), name="Gore", plain=False),
        case("slit in the hem of a skirt", shaped_hem(straight_skirt(), SLIT), plain=False),
        case("slit in the hem of a sleeve", shaped_hem(sleeve(), SLIT), plain=False),
        case("stepped hem of a skirt", shaped_hem(straight_skirt(), STEP), plain=False),
        case(
            "scoop between round corners",
            shaped_hem(with_corners(whole_flared_skirt()), SCOOP),
            name="Skirt",
            plain=False,
        ),
        case(
            "round corner beside a slit",
            with_corners(shaped_hem(straight_skirt(), SLIT), round_),
            plain=False,
        ),
        case(
            "round corners beside a scoop",
            with_corners(shaped_hem(trousers(), SCOOP), round_, round_),
            by=MIRRORED,
        ),
    ]


def _by_points() -> list[Case]:
    """Points that scatter by 0.2 mm: a wrong answer must not be sure."""
    made: list[tuple[str, Truth, Hand]] = [
        ("waves", shaped_hem(shorts(), WAVES), digitised(4.0, 0.2, 31)),
        ("scoop", shaped_hem(straight_skirt(), SCOOP), digitised(5.0, 0.2, 32)),
        ("lowest aside", shaped_hem(trousers(), ASIDE), digitised(6.0, 0.2, 33)),
        ("point", shaped_hem(shorts(), POINT), digitised(3.0, 0.2, 34)),
        ("slit", shaped_hem(straight_skirt(), SLIT), digitised(4.0, 0.2, 35)),
        ("step", shaped_hem(straight_skirt(), STEP), digitised(5.0, 0.2, 36)),
        (
            "scoop and round corners",
            with_corners(shaped_hem(trousers(), SCOOP), ("arc", 30.0, 0.0), ("arc", 30.0, 0.0)),
            digitised(3.0, 0.2, 37),
        ),
    ]
    return [
        case(f"hem with {name}, points", truth, hand, plain=False, exact=False)
        for name, truth, hand in made
    ]


def _vents() -> list[Case]:
    return [
        case("vent beside a slit", vented(shaped_hem(straight_skirt(), SLIT)), plain=False),
        case("vent beside a point", vented(shaped_hem(flared_skirt(), POINT)), plain=False),
        case("vent beside a scoop", vented(shaped_hem(shorts(), SCOOP), deep=60.0), plain=False),
    ]
