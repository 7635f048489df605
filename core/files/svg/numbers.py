"""Numbers as SVG writes them."""

from __future__ import annotations

from core.curve import Point

# One number of SVG; atomic, so that "12" is never taken apart into "1" and "2".
NUMBER = r"(?>[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
SPACE = r"[ \t\r\n\f]"
# Between two numbers; possessive, so that long runs of blanks cost their length once.
BETWEEN = rf"{SPACE}*+(?:,{SPACE}*+)?"

# Decimals of what is written: rounding then moves nothing by more than half of 1e-9.
DECIMALS = 9


def short(value: float, *, decimals: int = DECIMALS) -> str:
    """The value to `decimals` places, without an exponent or idle zeros."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def pair(p: Point) -> str:
    """A point as path data writes it."""
    return f"{short(p.x)},{short(p.y)}"
