"""Rows of the table that are hard: corners missed, no help given, hems shaped for looks."""

from __future__ import annotations

from dataclasses import replace

from tests.core.piece.hands import digitised
from tests.core.piece.rows import (
    Case,
    case,
    past_corners,
    turned,
)
from tests.core.piece.true_pieces import (
    flared_skirt,
    shorts,
    sleeve,
    straight_skirt,
    trousers,
    whole_flared_skirt,
)
from tests.core.piece.truth import vented, with_corners


def hard_rows() -> list[Case]:
    """In a fixed order."""
    return [*_missed_corners(), *_unaided(), *_style_lines()]


def _missed_corners() -> list[Case]:
    pieces = [
        ("shorts", shorts()),
        ("trousers", trousers()),
        ("sleeve", sleeve()),
        ("round corner", with_corners(shorts(), ("arc", 58.0, 0.0))),
        ("flared skirt", flared_skirt()),
    ]
    hands = [(1.0, 0.1), (3.0, 0.2), (5.0, 0.2), (8.0, 0.2)]
    return [
        past_corners(name, truth, step, noise, 10 + k)
        for k, (name, truth) in enumerate(pieces)
        for step, noise in hands
    ]


def _unaided() -> list[Case]:
    """Neither upright nor with a grain line: wrong now and then, but never sure."""
    pieces = [
        ("shorts", shorts()),
        ("trousers", trousers()),
        ("sleeve", sleeve()),
        ("flared skirt", flared_skirt()),
    ]
    return [
        replace(
            case(
                f"{name} turned by {angle} without a grain line",
                truth,
                by=turned(angle),
                grain=False,
                plain=False,
            ),
            open=True,
        )
        for name, truth in pieces
        for angle in (20.0, 90.0, 180.0)
    ]


def _style_lines() -> list[Case]:
    tail = with_corners(straight_skirt(), ("cubic", 120.0, 110.0))
    both = with_corners(whole_flared_skirt(), ("cubic", 60.0, 90.0), ("cubic", 60.0, 90.0))
    return [
        case("curved-up side", tail),
        case("curved-up sides, both", both, name="Skirt"),
        case("curved-up sides, nameless", both),
        *(
            replace(
                case(
                    f"long-handled corner {up:.0f} by {along:.0f}",
                    with_corners(shorts(), ("long", up, along)),
                ),
                place=15.0,
            )
            for up, along in ((50.0, 50.0), (90.0, 60.0), (60.0, 110.0))
        ),
        replace(
            case(
                "long-handled corner, digitised",
                with_corners(shorts(), ("long", 60.0, 60.0)),
                digitised(4.0, 0.1, 5),
                exact=False,
                plain=False,
            ),
            place=20.0,
        ),
        case("vent at the side", vented(straight_skirt()), plain=False),
        case("vent at the side of shorts", vented(shorts(), wide=20.0, deep=50.0), plain=False),
    ]
