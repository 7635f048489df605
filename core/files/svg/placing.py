"""How an element lies in what is around it: by its transform, which CSS may say instead, and the
point about which that turns.

Sources: W3C CSS Transforms 1, 5 (transform), 6 (transform-origin; an SVG element is turned about
the corner of its page), 7 (transform-box) and 8 (the attribute); W3C CSS Values 3, 6.1 (angles).
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import NamedTuple

from core.curve import Affine
from core.files.svg.document import Node
from core.files.svg.numbers import NUMBER
from core.files.svg.outlines import View
from core.files.svg.sheets import Sheet
from core.files.svg.style import in_css, value
from core.files.svg.tags import restyled
from core.files.svg.transforms import transform, written
from core.files.svg.units import length

_STEP = re.compile(r"\s*+([a-z]+(?:3d)?)\(([^()]*)\)", re.IGNORECASE)
_ANGLE = re.compile(rf"({NUMBER})(deg|grad|rad|turn|)", re.IGNORECASE)
_NUMBER = re.compile(NUMBER)
# Properties that each do one step of a transform, in the order in which they hold.
_ALONE = ("translate", "rotate", "scale")
_PLACED = re.compile("transform|translate|rotate|scale", re.IGNORECASE)
# A rule may hold for very many elements; what stands in it is a few words.
_MOST_TEXT = 2_000
_RADIANS = {"deg": math.pi / 180, "grad": math.pi / 200, "rad": 1.0, "turn": 2 * math.pi}
_SIDES = {"left": 0.0, "right": 1.0}
_HEIGHTS = {"top": 0.0, "bottom": 1.0}
_NOTHING = frozenset({"none", "initial", "unset"})
# Boxes that are the page's (CSS Transforms 1, 7); any other is that of the shape itself.
_PAGE_BOXES = frozenset({"", "view-box", *_NOTHING})


# Elements that are drawn many times say the same each time.
_transform = lru_cache(maxsize=64)(transform)


class Placing(NamedTuple):
    """``by`` maps from inside the element to around it; None where that cannot be read.

    ``in_css`` when more than the attribute ``transform`` says so, which alone would then not do
    to say otherwise.
    """

    by: Affine | None
    in_css: bool = False


PLAIN = Placing(Affine())


def placing(node: Node, view: View, sheet: Sheet | None) -> Placing:
    """How the element is placed, inside of a page of the size `view`."""
    attribute = node.attributes.get("transform")
    styled = sheet is not None or _PLACED.search(node.get("style")) is not None
    if not styled and "transform-origin" not in node.attributes:
        return PLAIN if attribute is None else Placing(_transform(attribute))
    said = in_css(node, "transform", sheet)
    by = _transform(attribute or "") if said is None else _by_css(said, view)
    may = _PLACED.search(node.get("style")) or (sheet and not sheet.says.isdisjoint(_ALONE))
    alone = [in_css(node, name, sheet) for name in _ALONE] if may else []
    if any(alone):
        first = _alone(alone, view)
        by = None if by is None or first is None else first @ by
        said = said or ""
    if by is None or by == Affine():
        return Placing(by, said is not None)
    origin = value(node, "transform-origin", sheet)
    if value(node, "transform-box", sheet).lower() not in _PAGE_BOXES:
        return Placing(None, True)
    if not origin or origin in _NOTHING:
        return Placing(by, said is not None)
    about = _origin(origin.lower(), view)
    return Placing(about @ by @ about.inverse() if about is not None else None, True)


def _alone(said: list[str | None], view: View) -> Affine | None:
    """The map of the properties translate, rotate and scale (CSS Transforms 2, 5), which come
    before that of transform."""
    by = Affine()
    for name, text in zip(_ALONE, said, strict=True):
        words = (text or "none").lower().split()
        if len(words) > 3:
            return None
        if words[0] in _NOTHING:
            continue
        words = words[1:] if name == "rotate" and words[0] == "z" else words
        if name == "scale":
            words = [_share(word) for word in words]
        step = _step(name, words[:2], view)
        if step is None or (len(words) > 2 and not _is_flat(name, words[2])):
            return None
        by = by @ step
    return by


def _share(word: str) -> str:
    """A factor, also where it is said in per cent."""
    number = _bare(word.removesuffix("%")) if word.endswith("%") else None
    return word if number is None else repr(number / 100.0)


def _is_flat(name: str, word: str) -> bool:
    """Does the third word, which is for space, change nothing in the plane?"""
    return name == "scale" or (name == "translate" and length(word) is not None)


def put(node: Node, by: Affine, placed: Mapping[Node, Affine]) -> dict[str, str | None]:
    """The attributes that place the element by this map; `placed` are those that CSS places."""
    if node not in placed:
        return {"transform": written(by)}
    matrix = ",".join(f"{v:.15g}" for v in (by.a, by.b, by.c, by.d, by.e, by.f))
    said = f"transform:matrix({matrix})!important;transform-origin:0 0!important"
    said += "".join(f";{name}:none!important" for name in _ALONE)
    return {"style": restyled(node, said)}


def _by_css(text: str, view: View) -> Affine | None:
    """The map of a list of steps as CSS spells them; None when it is not one."""
    by, at = Affine(), 0
    if len(text) > _MOST_TEXT:
        return None
    if text.lower() in _NOTHING:
        return by
    while at < len(text):
        found = _STEP.match(text, at)
        step = _step(found[1].lower(), found[2].split(","), view) if found else None
        if found is None or step is None:
            return None
        by, at = by @ step, found.end()
    return by


def _step(name: str, words: list[str], view: View) -> Affine | None:
    known = _STEPS.get(name)
    if known is None or len(words) not in known.counts:
        return None
    if known.read is _far:
        wholes = (view.height,) if name == "translatey" else (view.width, view.height, 0.0)
        told = [_far(word, whole) for word, whole in zip(words, wholes, strict=False)]
    else:
        told = [known.read(word) for word in words]
    numbers = [t for t in told if t is not None]
    return known.by(*numbers) if len(numbers) == len(words) else None


def _bare(word: str) -> float | None:
    found = _NUMBER.fullmatch(word.strip())
    number = float(found[0]) if found else math.inf
    return number if math.isfinite(number) else None


def _angle(word: str) -> float | None:
    """Radians; only nought may do without a unit."""
    found = _ANGLE.fullmatch(word.strip())
    number = float(found[1]) if found else math.inf
    if found is None or not math.isfinite(number) or (number and not found[2]):
        return None
    return number * _RADIANS[found[2].lower() or "deg"]


def _far(word: str, whole: float, *, bare: bool = False) -> float | None:
    """A length in user units; without a unit only where it may be `bare`, and nought."""
    found = length(word)
    if found is None or (found.value and not found.unit and not bare):
        return None
    return found.user(whole)


def _origin(text: str, view: View) -> Affine | None:
    """The move from the page's corner to the point about which it turns."""
    words = text.replace(",", " ").split()[:2]
    if words[0] in _HEIGHTS or (len(words) == 2 and words[1] in _SIDES):
        words.reverse()
        words = words if len(words) == 2 else ["center", *words]
    across, down, *_ = *words, "center"
    x, y = _place(across, _SIDES, view.width), _place(down, _HEIGHTS, view.height)
    return Affine.move(x, y) if x is not None and y is not None else None


def _place(word: str, ends: Mapping[str, float], whole: float) -> float | None:
    share = 0.5 if word == "center" else ends.get(word)
    return share * whole if share is not None else _far(word, whole, bare=True)


class _Step(NamedTuple):
    """A step of a transform: how each of its words is read, and how many there may be."""

    read: Callable[..., float | None]
    counts: tuple[int, ...]
    by: Callable[..., Affine]


def _skew(across: float, down: float = 0.0) -> Affine:
    return Affine(b=math.tan(down), c=math.tan(across))


_STEPS: dict[str, _Step] = {
    "translate": _Step(_far, (1, 2), lambda x, y=0.0: Affine.move(x, y)),
    "translatex": _Step(_far, (1,), lambda x: Affine.move(x, 0.0)),
    "translatey": _Step(_far, (1,), lambda y: Affine.move(0.0, y)),
    "translate3d": _Step(_far, (3,), lambda x, y, z: Affine.move(x, y)),
    "scale": _Step(_bare, (1, 2), Affine.scale),
    "scale3d": _Step(_bare, (3,), lambda x, y, z: Affine.scale(x, y)),
    "scalex": _Step(_bare, (1,), lambda s: Affine.scale(s, 1.0)),
    "scaley": _Step(_bare, (1,), lambda s: Affine.scale(1.0, s)),
    "rotate": _Step(_angle, (1,), Affine.turn),
    "rotatez": _Step(_angle, (1,), Affine.turn),
    "skew": _Step(_angle, (1, 2), _skew),
    "skewx": _Step(_angle, (1,), _skew),
    "skewy": _Step(_angle, (1,), lambda down: _skew(0.0, down)),
    "matrix": _Step(_bare, (6,), Affine),
}
