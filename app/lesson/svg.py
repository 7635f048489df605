"""A step of the lesson as SVG: its lines as curves, one user unit to the mm. Knows no Qt."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from xml.sax.saxutils import escape

from app.lesson.script import DASHED, ORANGE, Laid, Lesson, lines_of
from core.alter.model import Step, StepKind
from core.curve import Point
from core.files.svg.fresh import path_text
from core.files.svg.numbers import short
from core.paper.free_place import free_place

CAUTION = "test square before cutting, try cheap cloth first."
NOT_FOR_CUTTING = f"A lesson, not for cutting: {CAUTION}"
# In mm, so that it can be read from afar when the sheet fills a screen.
MARGIN, TYPE, LINE = 30.0, 16.0, 22.0
# Width of a letter as a share of its height, on the average of a plain face.
LETTER = 0.55
_STYLE = """\
    path { fill: none; stroke-linecap: round; stroke-linejoin: round }
    .before { stroke: #8A867C; stroke-width: 1; stroke-dasharray: 6 4 }
    .earlier { stroke: #A29E94; stroke-width: 1.5 }
    .step { stroke: #0072B2; stroke-width: 3.5 }
    .point { stroke: #009E73; stroke-width: 9 }
    text { font-family: sans-serif; fill: #2B2A27 }
    .name { text-anchor: middle; fill: #6B675D }
"""
# The line of a step, and the colours of what is carried on and of what is cut off (Okabe-Ito).
STEP_WIDTH, CARRIED, CUT_OFF = 3.5, "#E69F00", "#D55E00"


def frame_svg(lesson: Lesson, number: int, caption: str) -> bytes:
    """The step with its caption above and the caution below, in UTF-8."""
    box = lesson.box
    width = max(box.width, 400.0) + 2 * MARGIN
    rows = textwrap.wrap(caption, int((width - 2 * MARGIN) / (TYPE * LETTER))) or [""]
    head = MARGIN + len(rows) * LINE
    left, top = box.centre.x - width / 2, box.y0 - head
    height = head + box.height + 2 * MARGIN
    sheet = f"{short(left)} {short(top)} {short(width)} {short(height)}"
    size = f'width="{short(width)}mm" height="{short(height)}mm" viewBox="{sheet}"'
    words = [
        _text(row, Point(left + MARGIN, top + MARGIN + k * LINE), TYPE)
        for k, row in enumerate(rows)
    ]
    note = _text(NOT_FOR_CUTTING, Point(left + MARGIN, top + height - 10.0), TYPE / 2)
    groups = [_laid(laid, lesson, k, number) for k, laid in enumerate(lesson.laid)]
    body = "\n".join([*words, *groups, note])
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<svg xmlns="http://www.w3.org/2000/svg" {size}>\n'
        f"  <title>{escape(caption)}</title>\n  <style>\n{_STYLE}  </style>\n{body}\n</svg>\n"
    ).encode()


def _laid(laid: Laid, lesson: Lesson, index: int, number: int) -> str:
    move = f"translate({short(laid.spot.x)} {short(laid.spot.y)})"
    lines = "\n".join(_lines(laid, [f.steps[index] for f in lesson.frames[: number + 1]]))
    name = escape(laid.altered.before.name)
    return f'  <g transform="{move}">\n    <title>{name}</title>\n{lines}\n  {_name(laid)}\n  </g>'


def _name(laid: Laid) -> str:
    """On the piece, where no step draws a line."""
    before = laid.altered.before
    wide = (len(before.name) + 2) * TYPE * LETTER
    at = free_place(before.outline.ring, lines_of(laid), wide, LINE)
    return _text(before.name, Point(at.x, at.y + TYPE / 3), TYPE, kind="name")


def _lines(laid: Laid, steps: list[Step | None]) -> Iterator[str]:
    yield _path("before", path_text(laid.altered.before.outline.ring))
    for k, step in enumerate(steps):
        now = k == len(steps) - 1
        for line in step.lines if step else ():
            look = _own_look(step.kind) if step and now else ""
            yield _path("step" if now else "earlier", path_text(line), look)
        for point in step.points if step else ():
            yield _path("point" if now else "earlier", path_text(point))


def _own_look(kind: StepKind) -> str:
    """The colour and the dashes of a step, as on the screen; nothing where they are the usual."""
    colour = CUT_OFF if kind is StepKind.TRIM else CARRIED if kind in ORANGE else ""
    dashes = " ".join(short(d * STEP_WIDTH) for d in DASHED.get(kind, ()))
    told = [f"stroke: {colour}"] if colour else []
    told += [f"stroke-dasharray: {dashes}", "stroke-linecap: butt"] if dashes else []
    return f' style="{"; ".join(told)}"' if told else ""


def _path(kind: str, data: str, look: str = "") -> str:
    return f'    <path class="{kind}" d="{data}"{look}/>'


def _text(words: str, at: Point, size: float, *, kind: str = "") -> str:
    place = f'x="{short(at.x)}" y="{short(at.y)}" font-size="{short(size)}"'
    named = f' class="{kind}"' if kind else ""
    return f"  <text{named} {place}>{escape(words)}</text>"
