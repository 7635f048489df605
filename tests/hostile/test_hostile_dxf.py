"""Hostile and broken DXF, through the same door as a person's: each ends in a sentence or a
stated repair, within 10 s of the processor and 1 GiB, and writes nothing but the file asked for.
"""

from __future__ import annotations

import math
import random
from pathlib import Path

import pytest

from tests.hostile.running import ROOT, Case, ends_in_a_sentence

SAMPLE = (ROOT / "sample_pieces" / "digging_trousers.dxf").read_bytes()


def line(a: object, b: object, c: object, d: object) -> str:
    return f"0\nLINE\n8\n0\n10\n{a}\n20\n{b}\n11\n{c}\n21\n{d}\n"


SQUARE = (
    line(100, 650, 300, 650)
    + line(300, 650, 280, 100)
    + line(280, 100, 120, 100)
    + line(120, 100, 100, 650)
)


def dxf(entities: str, blocks: str = "") -> bytes:
    text = (
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n"
        f"{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
    return text.encode()


def inserted(inside: str) -> bytes:
    """A piece, and a block of this drawn 15,000 times."""
    rows = (insert("A").replace("10\n0", f"10\n{1000 + k % 500}") for k in range(15_000))
    return dxf(SQUARE + "".join(rows), block("A", inside))


def spline(count: int) -> str:
    knots = [0] * 4 + list(range(1, count - 3)) + [count - 3] * 4
    text = f"0\nSPLINE\n8\n0\n70\n8\n71\n3\n72\n{count + 4}\n73\n{count}\n"
    text += "".join(f"40\n{k}\n" for k in knots)
    return text + "".join(f"10\n{k * 0.01:.2f}\n20\n{k % 7}\n30\n0\n" for k in range(count))


def block(name: str, inside: str) -> str:
    return f"0\nBLOCK\n8\n0\n2\n{name}\n70\n0\n10\n0\n20\n0\n{inside}0\nENDBLK\n"


def insert(name: str, more: str = "") -> str:
    return f"0\nINSERT\n8\n0\n2\n{name}\n10\n0\n20\n0\n{more}"


def oval(count: int) -> list[str]:
    """Points round an ellipse, each as its two pairs."""
    turn = 2 * math.pi / count
    return [
        f"10\n{250 + 200 * math.cos(turn * k):.4f}\n20\n{350 + 300 * math.sin(turn * k):.4f}\n"
        for k in range(count)
    ]


def light(count: int) -> str:
    return f"0\nLWPOLYLINE\n8\n1\n90\n{count}\n70\n1\n" + "".join(oval(count))


def heavy(count: int) -> str:
    rows = "".join(f"0\nVERTEX\n8\n1\n{p}" for p in oval(count))
    return f"0\nPOLYLINE\n8\n1\n66\n1\n70\n1\n{rows}0\nSEQEND\n"


def many_lines(count: int) -> str:
    return "".join(line(k % 500, k // 500, k % 500 + 0.5, k // 500) for k in range(count))


def many_squares(count: int) -> str:
    return "".join(
        line(x, y, x + 0.6, y)
        + line(x + 0.6, y, x + 0.6, y + 0.6)
        + line(x + 0.6, y + 0.6, x, y + 0.6)
        + line(x, y + 0.6, x, y)
        for x, y in ((1000 + k % 200, k // 200) for k in range(count))
    )


def soup(count: int) -> str:
    """One outline of so many lines."""
    places = [p.split("\n") for p in oval(count)]
    pairs = zip(places, [*places[1:], places[0]], strict=True)
    return "".join(line(a[1], a[3], b[1], b[3]) for a, b in pairs)


def each(entity: str, count: int = 100_000) -> bytes:
    """A piece, and so many of an entity, which has its place at X, Y."""
    places = ((str(1000 + k % 500), str(k // 500)) for k in range(count))
    return dxf(SQUARE + "".join(entity.replace("X", x).replace("Y", y) for x, y in places))


# Each in so many lines that a hundred thousand of it took up to four minutes.
ROUND = "0\nCIRCLE\n8\n0\n10\nX\n20\nY\n40\n1\n"
PART = "0\nELLIPSE\n8\n0\n10\nX\n20\nY\n11\n1\n21\n0\n40\n.5\n41\n0\n42\n3\n"
BOW = "0\nARC\n8\n0\n10\nX\n20\nY\n40\n1\n50\n0\n51\n90\n"
STEP = "0\nLWPOLYLINE\n8\n0\n90\n3\n70\n0\n10\nX\n20\nY\n10\nX.5\n20\nY\n10\nX.5\n20\nY.5\n"
OLD_STEP = (
    "0\nPOLYLINE\n8\n0\n66\n1\n70\n0\n0\nVERTEX\n8\n0\n10\nX\n20\nY\n"
    "0\nVERTEX\n8\n0\n10\nX.5\n20\nY\n0\nSEQEND\n8\n0\n"
)
KNOTS = "".join(f"40\n{k}\n" for k in (0, 0, 0, 0, 1, 1, 1, 1))
WAVE = f"0\nSPLINE\n8\n0\n70\n8\n71\n3\n{KNOTS}" + "10\nX\n20\nY\n10\nX.5\n20\nY.5\n" * 2
THROUGH = "0\nSPLINE\n8\n0\n70\n8\n71\n3\n11\nX\n21\nY\n11\nX.5\n21\nY\n11\nX.5\n21\nY.5\n"
WEIGHED = WAVE + "41\n1\n41\n.5\n41\n.5\n41\n1\n"


def wild(count: int) -> str:
    """A spline whose weights pull it from one point to the next."""
    return spline(count) + "".join(f"41\n1e{(k % 2) * 8}\n" for k in range(count))


def bomb() -> bytes:
    blocks = block("B0", line(0, 0, 1, 1))
    blocks += "".join(block(f"B{k + 1}", insert(f"B{k}") * 10) for k in range(9))
    return dxf(SQUARE + insert("B9"), blocks)


def nested(depth: int) -> bytes:
    blocks = block("D0", SQUARE)
    blocks += "".join(block(f"D{k + 1}", insert(f"D{k}")) for k in range(depth))
    return dxf(insert(f"D{depth}"), blocks)


CASES = {
    "empty": Case(lambda: b"", "is empty"),
    "blank": Case(lambda: b" \r\n\n", "is empty"),
    "noise": Case(lambda: random.Random(1).randbytes(5000), "line 1"),
    "words": Case(lambda: b"dear cutter\nplease\n" * 20, "group code"),
    "two bytes a letter": Case(lambda: SAMPLE.decode().encode("utf-16"), "plain text DXF"),
    "cut in half": Case(lambda: SAMPLE[: len(SAMPLE) // 2], "breaks off"),
    "no end": Case(lambda: SAMPLE.replace(b"EOF", b""), "repaired", works=True),
    "byte order mark": Case(lambda: b"\xef\xbb\xbf" + SAMPLE, works=True),
    "blank line first": Case(lambda: b"\n" + SAMPLE, "blank lines were left out", works=True),
    "blank lines within": Case(
        lambda: SAMPLE.replace(b"\n  0\nLWPOLYLINE", b"\n\n  0\nLWPOLYLINE"), works=True
    ),
    "wrong group code": Case(lambda: SAMPLE.replace(b"\n 10\n", b"\nabc\n", 1), "abc"),
    "decimal commas": Case(lambda: SAMPLE.replace(b".", b","), "decimal comma"),
    "nan": Case(lambda: dxf(line("nan", 0, 1, 1) + SQUARE), "not a usable coordinate"),
    "infinite": Case(lambda: dxf(line(0, "-inf", 1, 1) + SQUARE), "not a usable coordinate"),
    "1e300": Case(lambda: dxf(line(0, 0, "1e300", 1) + SQUARE), "not a usable coordinate"),
    "huge whole number": Case(lambda: dxf(line(0, 0, "9" * 400, 1) + SQUARE), "not a usable"),
    "huge name": Case(lambda: dxf(SQUARE.replace("8\n0", "8\n" + "x" * 2_000_000, 1)), works=True),
    "huge text": Case(
        lambda: dxf(SQUARE + f"0\nTEXT\n8\n0\n10\n5\n20\n5\n40\n1\n1\n{'y' * 5_000_000}\n"),
        works=True,
    ),
    "block in itself": Case(lambda: dxf(insert("A"), block("A", insert("A"))), "into itself"),
    "two blocks in each other": Case(
        lambda: dxf(insert("A"), block("A", insert("B")) + block("B", insert("A"))), "into itself"
    ),
    "blocks that multiply": Case(bomb, "blocks within"),
    "a grid of a billion": Case(
        lambda: dxf(insert("A", "70\n30000\n71\n30000\n44\n1\n45\n1\n"), block("A", SQUARE)),
        "blocks within",
    ),
    "nested 20 deep": Case(lambda: nested(20), works=True),
    "nested 5,000 deep": Case(lambda: nested(5000), "nested too deeply"),
    "100,000 entities": Case(lambda: dxf(SQUARE + many_lines(100_000)), works=True),
    "100,000 arcs": Case(lambda: each(BOW), works=True),
    "100,000 circles": Case(lambda: each(ROUND), works=True),
    "100,000 ellipses": Case(lambda: each(PART), works=True),
    "100,000 polylines": Case(lambda: each(STEP), works=True),
    "100,000 old polylines": Case(lambda: each(OLD_STEP), works=True),
    "100,000 splines": Case(lambda: each(WAVE), works=True),
    "100,000 splines through points": Case(
        lambda: each(THROUGH), "92000 x SPLINE with weights or fit points", works=True
    ),
    "100,000 weighed splines": Case(
        lambda: each(WEIGHED), "SPLINE with weights or fit points", works=True
    ),
    "lines drawn once more, 5,000 times": Case(lambda: dxf(SQUARE * 5_000), works=True),
    "lines that meet in one point": Case(
        lambda: dxf(SQUARE + "".join(line(200, 400, 150 + k * 0.01, 300) for k in range(10_000))),
        works=True,
    ),
    "a spline that turns without end": Case(
        lambda: dxf(SQUARE + wild(15_000)), "no more than 20000 are read", works=True
    ),
    "20,000 small squares": Case(lambda: dxf(SQUARE + many_squares(20_000)), works=True),
    "outline of a million points": Case(lambda: dxf(light(1_000_000)), "has 1000000 points"),
    "old outline of 500,000 points": Case(lambda: dxf(heavy(500_000)), "has 500000 points"),
    "a long writing drawn by 15,000 INSERTs": Case(
        lambda: inserted(f"0\nTEXT\n8\n0\n10\n0\n20\n0\n40\n1\n1\n{'word ' * 40_000}\n"),
        "draw far more than any pattern holds",
    ),
    "a long line drawn by 15,000 INSERTs": Case(
        lambda: inserted(
            "0\nLWPOLYLINE\n8\n0\n90\n15000\n70\n0\n"
            + "".join(f"10\n{k * 0.001:.3f}\n20\n{k % 7}\n" for k in range(15_000))
        ),
        "draw far more than any pattern holds",
    ),
    "a long spline drawn by 15,000 INSERTs": Case(
        lambda: inserted(spline(5_000)), "draw far more than any pattern holds"
    ),
    "too long beside a good one": Case(
        lambda: dxf(SQUARE + light(30_000)), "has 30000 points", works=True
    ),
    "outline of 20,000 points": Case(lambda: dxf(light(20_000)), works=True),
    "outline of 10,000 lines": Case(lambda: dxf(soup(10_000)), works=True),
    "no length": Case(
        lambda: dxf(SQUARE + line(7, 7, 7, 7) + line(300, 650, 300, 650)), works=True
    ),
    "doubled points": Case(
        lambda: dxf(
            "0\nLWPOLYLINE\n8\n1\n90\n8\n70\n1\n"
            + "".join(
                f"10\n{x}\n20\n{y}\n" * 2
                for x, y in ((100, 650), (300, 650), (280, 100), (120, 100))
            )
        ),
        works=True,
    ),
    "open outline": Case(lambda: dxf(SQUARE[: SQUARE.rindex("0\nLINE")]), "550.4 mm apart"),
    "self-crossing outline": Case(
        lambda: dxf(
            line(100, 650, 300, 650)
            + line(300, 650, 120, 100)
            + line(120, 100, 280, 100)
            + line(280, 100, 100, 650)
        ),
        "crosses itself at",
    ),
    "empty spline": Case(
        lambda: dxf(SQUARE + "0\nSPLINE\n8\n0\n70\n8\n71\n3\n72\n8\n73\n4\n10\n0\n20\n0\n"),
        "empty SPLINE",
        works=True,
    ),
    "spline of degree 9 and no knots": Case(
        lambda: dxf(SQUARE + "0\nSPLINE\n8\n0\n71\n9\n10\n0\n20\n0\n10\n5\n20\n5\n"), works=True
    ),
    "arc of no radius": Case(
        lambda: dxf(SQUARE + "0\nARC\n8\n0\n10\n5\n20\n5\n40\n0\n50\n0\n51\n90\n"), works=True
    ),
    "insert scaled to nothing": Case(
        lambda: dxf(SQUARE + insert("A", "41\n1e-300\n"), block("A", SQUARE)), works=True
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_hostile_file_ends_in_a_sentence(name: str, tmp_path: Path) -> None:
    ends_in_a_sentence(CASES[name], tmp_path / "hostile file é.dxf")


def test_cut_off_at_any_pair_it_ends_in_a_sentence(tmp_path: Path) -> None:
    """In one process, for each group: thousands of them."""
    from core.errors import HemwardError
    from core.files.dxf import read_dxf

    path = ROOT / "sample_pieces" / "digging_trousers.dxf"
    lines = path.read_bytes().splitlines(keepends=True)
    ended = 0
    for k in range(1, len(lines) - 2, 3):
        try:
            reading = read_dxf("cut.dxf", b"".join(lines[:k]))
        except HemwardError as trouble:
            ended += "cut.dxf" in str(trouble)
        else:
            ended += any("repaired" in p for p in reading.problems)
    assert ended == len(range(1, len(lines) - 2, 3))
