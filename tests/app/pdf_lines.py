"""Reads the straight lines of a PDF's pages, in points (PDF 32000-1, path and matrix operators)."""

from __future__ import annotations

import re
import zlib

Matrix = tuple[float, float, float, float, float, float]
Segment = tuple[float, float, float, float]


def pages(data: bytes) -> list[list[Segment]]:
    """The lines of each content stream that draws any, in the order of the file."""
    found = []
    for raw in re.findall(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
        try:
            text = zlib.decompress(raw).decode("latin-1")
        except (zlib.error, UnicodeDecodeError):
            continue
        if re.search(r"\b(?:l|re)\b", text) and " cm" in text:
            found.append(_lines(text))
    return found


def _times(a: Matrix, b: Matrix) -> Matrix:
    """First a, then b."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _lines(text: str) -> list[Segment]:
    here: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    kept: list[Matrix] = []
    numbers: list[float] = []
    at = start = (0.0, 0.0)
    out: list[Segment] = []

    def mapped(x: float, y: float) -> tuple[float, float]:
        return here[0] * x + here[2] * y + here[4], here[1] * x + here[3] * y + here[5]

    def draw(to: tuple[float, float]) -> None:
        nonlocal at
        out.append((*at, *to))
        at = to

    for word in text.split():
        if re.fullmatch(r"[-+]?\d*\.?\d+", word):
            numbers.append(float(word))
            continue
        if word == "q":
            kept.append(here)
        elif word == "Q" and kept:
            here = kept.pop()
        elif word == "cm":
            a, b, c, d, e, f = numbers[-6:]
            here = _times((a, b, c, d, e, f), here)
        elif word == "m":
            at = start = mapped(*numbers[-2:])
        elif word in {"l", "c"}:
            draw(mapped(*numbers[-2:]))
        elif word == "h":
            draw(start)
        elif word == "re":
            x, y, w, h = numbers[-4:]
            at = start = mapped(x, y)
            for p in ((x + w, y), (x + w, y + h), (x, y + h), (x, y)):
                draw(mapped(*p))
        numbers = []
    return out
