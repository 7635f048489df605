"""The table of pieces on which recognition is measured: what is drawn, by which hand, how."""

from __future__ import annotations

from dataclasses import replace

from core.piece.model import Role
from tests.core.piece.hands import as_cubics, dense, digitised, split_at
from tests.core.piece.hard_rows import hard_rows
from tests.core.piece.hem_rows import hem_rows
from tests.core.piece.rows import (
    MIRRORED,
    UPSIDE_DOWN,
    Case,
    case,
    cutting_line,
    inner_lines,
    labelled,
    sheet_around,
    ticks,
    turned,
    writing,
)
from tests.core.piece.true_pieces import (
    curved_shorts,
    flared_skirt,
    gore,
    shorts,
    sleeve,
    straight_skirt,
    trapezoid,
    trousers,
    whole_flared_skirt,
)
from tests.core.piece.truth import curved_hem, with_corners, with_waist_dart


def cases() -> list[Case]:
    """Every row, in a fixed order."""
    rows = [*_plain(), *_hands(), *_corners(), *_turned(), *_furnished(), *_loose_parts()]
    return [*rows, *hard_rows(), *hem_rows()]


def _plain() -> list[Case]:
    return [
        case("trapezoid leg", trapezoid()),
        case("shorts", shorts()),
        case("shorts with a straight rise", shorts(straight_rise=True)),
        case("shorts that widen", shorts(side=-3.0, inseam=-5.0)),
        case("narrow shorts", shorts(side=10.0, inseam=14.0, length=150.0)),
        case("very short shorts", shorts(length=60.0)),
        case("trousers", trousers()),
        case("trousers flared below the knee", trousers(flare=45.0)),
        case("curved side seam", curved_shorts()),
        case("straight skirt on the fold", straight_skirt()),
        case("flared skirt on the fold", flared_skirt()),
        case("whole flared skirt", whole_flared_skirt(), name="Skirt front"),
        case("whole flared skirt, nameless", whole_flared_skirt()),
        case("gore of ruled lines", gore(), name="Gore"),
        case("gore of ruled lines, nameless", gore()),
        case("sleeve", sleeve()),
        case("sleeve, named, flat cap", sleeve(cap=70.0), name="Sleeve"),
        case("sleeve to the wrist", sleeve(taper=8.0, length=540.0)),
        case("short sleeve", sleeve(length=110.0)),
        case("shorts with a curved hem", curved_hem(shorts(), 12.0)),
        case("shorts with a hollow hem", curved_hem(shorts(), -15.0)),
        case("sleeve with a hollow hem", curved_hem(sleeve(), -12.0), name="Sleeve"),
        case(
            "bell sleeve with a hollow hem", curved_hem(sleeve(taper=-10.0), -18.0), name="Sleeve"
        ),
    ]


def _hands() -> list[Case]:
    round_side = with_corners(shorts(), ("arc", 58.0, 0.0))
    return [
        case("shorts, all cubics", shorts(), as_cubics),
        case("trousers, all cubics", trousers(), as_cubics),
        case("skirt, all cubics", straight_skirt(), as_cubics),
        case("shorts, split in thirds", shorts(), split_at(0.3, 0.7)),
        case("shorts, dense polyline", shorts(), dense(0.01)),
        case("trousers, dense polyline", trousers(), dense(0.01)),
        case("round corner, dense polyline", round_side, dense(0.01)),
        case(
            "round corner below a ruled seam and a bent hip, dense polyline",
            with_corners(shorts(side=7.0), ("cubic", 50.0, 40.0)),
            dense(0.01),
        ),
        case("sleeve, dense polyline", sleeve(), dense(0.01)),
        *(
            case(
                f"{name}, digitised {step} mm, noise {noise}",
                truth,
                digitised(step, noise, seed),
                exact=False,
                plain=noise == 0.0,
            )
            for seed, (name, truth, step, noise) in enumerate(
                [
                    ("shorts", shorts(), 1.0, 0.0),
                    ("shorts", shorts(), 4.0, 0.1),
                    ("shorts", shorts(), 8.0, 0.2),
                    ("trapezoid leg", trapezoid(), 5.0, 0.2),
                    ("trousers", trousers(), 6.0, 0.2),
                    ("trousers", trousers(), 2.0, 0.1),
                    ("trousers", trousers(), 1.0, 0.2),
                    ("curved side", curved_shorts(), 5.0, 0.1),
                    ("straight skirt", straight_skirt(), 5.0, 0.2),
                    ("flared skirt", flared_skirt(), 3.0, 0.2),
                    ("sleeve", sleeve(), 4.0, 0.2),
                    ("round corner R 58", round_side, 1.0, 0.0),
                    ("round corner R 58", round_side, 2.0, 0.1),
                    ("round corner R 58", round_side, 5.0, 0.2),
                    ("round corner R 58", round_side, 8.0, 0.2),
                    ("round corner R 15", with_corners(shorts(), ("arc", 15.0, 0.0)), 2.0, 0.1),
                    ("round corner R 15", with_corners(shorts(), ("arc", 15.0, 0.0)), 5.0, 0.2),
                    ("round corner R 120", with_corners(shorts(), ("arc", 110.0, 0.0)), 4.0, 0.2),
                    (
                        "round corner R 120",
                        with_corners(straight_skirt(), ("arc", 120.0, 0.0)),
                        8.0,
                        0.2,
                    ),
                    (
                        "round corners R 40 on both sides",
                        with_corners(shorts(), ("arc", 40.0, 0.0), ("arc", 40.0, 0.0)),
                        3.0,
                        0.2,
                    ),
                    (
                        "round corner on a curved seam",
                        with_corners(curved_shorts(), ("cubic", 58.0, 58.0)),
                        4.0,
                        0.1,
                    ),
                    (
                        "round corner on a curved seam",
                        with_corners(curved_shorts(), ("cubic", 40.0, 40.0)),
                        8.0,
                        0.2,
                    ),
                    ("elliptic corner", with_corners(shorts(), ("cubic", 90.0, 50.0)), 5.0, 0.1),
                    ("dart", with_waist_dart(shorts(), notched=True), 4.0, 0.1),
                    ("dart", with_waist_dart(trousers(), notched=True), 3.0, 0.2),
                ]
            )
        ),
    ]


def _corners() -> list[Case]:
    both = ("arc", 30.0, 0.0)
    return [
        *(
            case(f"round corner R {r}", with_corners(shorts(), ("arc", r, 0.0)))
            for r in (15.0, 25.0, 40.0, 80.0, 110.0)
        ),
        *(
            case(
                f"round corners R {r} on both sides",
                with_corners(straight_skirt(), ("arc", r, 0.0), ("arc", r, 0.0)),
            )
            for r in (15.0, 60.0, 120.0)
        ),
        case("round corners on a sleeve", with_corners(sleeve(), both, both)),
        case("round corners on trousers", with_corners(trousers(), both, ("arc", 20.0, 0.0))),
        case("round inner corner", with_corners(shorts(), None, ("arc", 45.0, 0.0))),
        case("elliptic corner", with_corners(shorts(), ("cubic", 90.0, 50.0))),
        case("flat elliptic corner", with_corners(shorts(), ("cubic", 40.0, 100.0))),
        case("round corner of one cubic", with_corners(shorts(), ("cubic", 58.0, 58.0))),
        case("round corner on a curved seam", with_corners(curved_shorts(), ("cubic", 58.0, 58.0))),
        case(
            "round corner into a curved hem",
            with_corners(curved_hem(shorts(), 10.0), ("cubic", 50.0, 50.0)),
        ),
        case("round corner, all cubics", with_corners(shorts(), ("arc", 58.0, 0.0)), as_cubics),
        case("round corner, split", with_corners(shorts(), ("arc", 58.0, 0.0)), split_at(0.37)),
    ]


def _turned() -> list[Case]:
    round_side = with_corners(shorts(), ("arc", 58.0, 0.0))
    dart = with_waist_dart(trousers(), notched=True)
    return [
        case("shorts mirrored", round_side, by=MIRRORED),
        case("shorts backwards", round_side, backwards=True),
        case("shorts mirrored, started elsewhere", round_side, by=MIRRORED, start=5),
        *(
            case(f"shorts turned by {a}", round_side, by=turned(a), start=int(a) % 7)
            for a in (7.0, 45.0, 90.0, 133.0, 180.0, 270.0)
        ),
        case("trousers turned by 180", trousers(), by=turned(180.0)),
        case("trousers with dart turned by 200", dart, by=turned(200.0)),
        case("trousers upside down", trousers(), by=UPSIDE_DOWN, backwards=True),
        case("sleeve turned by 180", sleeve(), by=turned(180.0)),
        case("sleeve turned by 90", sleeve(), by=turned(90.0)),
        case("skirt turned by 180", flared_skirt(), by=turned(180.0), name="Skirt"),
        case(
            "skirt with dart turned by 180",
            with_waist_dart(straight_skirt(), notched=False),
            by=turned(180.0),
        ),
        case(
            "round corner on one side of a sleeve, turned by 180",
            with_corners(sleeve(), ("arc", 50.0, 0.0)),
            by=turned(180.0),
        ),
        case(
            "round corners of a skirt, turned by 180",
            with_corners(straight_skirt(), ("arc", 50.0, 0.0), ("arc", 50.0, 0.0)),
            by=turned(180.0),
        ),
        # Nothing but the turned page speaks here, so an unsure answer is the best there is.
        case("trapezoid turned by 90", trapezoid(), by=turned(90.0), plain=False),
        case("trapezoid turned by 180", trapezoid(), by=turned(180.0), plain=False),
        case("nameless skirt turned by 180", whole_flared_skirt(), by=turned(180.0), plain=False),
        case("nameless gore turned by 180", gore(), by=turned(180.0), plain=False),
        case("nameless gore turned by 270", gore(), by=turned(270.0), plain=False),
        case(
            "round trapezoid turned by 180",
            with_corners(trapezoid(), ("arc", 30.0, 0.0), ("arc", 30.0, 0.0)),
            by=turned(180.0),
            plain=False,
        ),
        case(
            "shorts digitised, turned by 222",
            round_side,
            digitised(4.0, 0.1, 3),
            by=turned(222.0),
            plain=False,
            exact=False,
        ),
        case(
            "trousers digitised, turned by 301",
            dart,
            digitised(5.0, 0.2, 4),
            by=turned(301.0),
            plain=False,
            exact=False,
        ),
        case("shorts without a grain line", shorts(), grain=False),
        case("trousers without a grain line", trousers(), grain=False),
        case("sleeve without a grain line", sleeve(), grain=False),
    ]


def _furnished() -> list[Case]:
    darted = with_waist_dart(shorts(), notched=False)
    round_side = with_corners(shorts(), ("arc", 58.0, 0.0))
    two = with_waist_dart(
        with_waist_dart(straight_skirt(), share=0.35, notched=False),
        share=0.7,
        notched=False,
        deep=80.0,
    )
    return [
        case("notched dart", with_waist_dart(shorts(), notched=True)),
        case("notched dart, backwards", with_waist_dart(shorts(), notched=True), backwards=True),
        case("dart of two lines", darted),
        case("dart as a V", darted, v_dart=True),
        case("dart of two nameless lines", darted, dart_words=()),
        case("dart as a nameless V", darted, v_dart=True, dart_words=()),
        case("two darts", two),
        case("two darts as Vs", two, v_dart=True),
        case("notch ticks", round_side, more=ticks),
        case("pocket and hip line", shorts(), more=inner_lines),
        case("cutting line around", shorts(), more=cutting_line),
        case("cutting line around a round corner", round_side, more=cutting_line),
        case(
            "cutting line around a digitised piece",
            round_side,
            digitised(3.0, 0.1, 8),
            more=cutting_line,
            exact=False,
            plain=False,
        ),
        case(
            "cutting line around a notched dart",
            with_waist_dart(trousers(), notched=True),
            more=cutting_line,
        ),
        case(
            "cutting line around a drawn dart",
            with_waist_dart(trousers(), notched=False),
            more=cutting_line,
        ),
        case("cutting line around a sleeve", sleeve(), more=cutting_line, by=turned(160.0)),
        case(
            "cutting line around a digitised dart",
            with_waist_dart(trousers(), notched=True),
            digitised(1.3, 0.1, 2),
            more=cutting_line,
            exact=False,
            plain=False,
        ),
        case("frame and test square", shorts(), more=sheet_around),
        case("writing on it", shorts(), more=writing("Front")),
        case("sleeve by its writing", sleeve(cap=60.0), more=writing("Sleeve, cut 2")),
    ]


def _loose_parts() -> list[Case]:
    words = ("hem", "inseam", "rise", "waist", "side-seam")
    roles = (Role.HEM, Role.INSEAM, Role.WAIST, Role.SIDE)
    told = zip(trapezoid().edges, roles, strict=True)
    leg = replace(trapezoid(), edges=tuple(replace(e, role=role) for e, role in told))
    return [
        case("loose edges", shorts(), loose="edges"),
        case("loose edges with a fold line on one", straight_skirt(), loose="edges"),
        case("loose segments", with_corners(shorts(), ("arc", 58.0, 0.0)), loose="segments"),
        case("loose dense edges", trousers(), dense(0.02), loose="edges"),
        case("loose segments with ticks", shorts(), loose="segments", more=ticks),
        case(
            "loose edges with an inner line at a corner",
            shorts(),
            loose="edges",
            more=lambda sheet, true: sheet.line(
                true.edges[3].chain.start, true.ring.bounds().centre
            ),
        ),
        labelled(shorts(), words, "labelled edges"),
        labelled(shorts(), words, "labelled edges turned by 180", by=turned(180.0)),
        labelled(leg, ("path-hem", "inseam_1", "waistLine", "Side seam"), "labelled trapezoid"),
        labelled(straight_skirt(), ("hem", "fold", "waist", "side"), "labelled skirt on the fold"),
        labelled(
            sleeve(),
            ("hem", "underarm-1", "sleeve cap", "underarm-2"),
            "labelled sleeve",
            by=turned(90.0),
        ),
        labelled(
            with_corners(shorts(), ("arc", 40.0, 0.0)), words, "labelled, round corner", by=MIRRORED
        ),
        labelled(with_waist_dart(shorts(), notched=True), words, "labelled, dart in the waist"),
        labelled(
            leg,
            ("path-hem", "inseam_1", "waistLine", "Side seam"),
            "labelled trapezoid turned by 180",
            by=turned(180.0),
        ),
    ]
