"""The page of an SVG file: how its units lie on paper, and how sure that is.

Sources: W3C CSS Values and Units 3 (96 px are an inch), W3C SVG 2, 8.2 (viewBox).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from core.curve import Affine
from core.errors import FileError
from core.files.drawing import Unit
from core.files.svg.document import Document, Node
from core.files.svg.outlines import View
from core.files.svg.transforms import STRETCH_NOTED, ViewBox, fit, view_box
from core.files.svg.units import PX_MM, Length, length
from core.piece.model import Because

# Pixels to the inch that drawing programs have counted.
DENSITIES = (96, 90, 72)
# The version from which on one widespread editor counts 96 instead of 90.
_NEW_COUNT = (0, 92)
_VERSION = re.compile(r"\s*(?:\d+:)?(\d+)\.(\d+)")
_CHECK = "Measure the test square of the pattern before you cut."


@dataclass(frozen=True)
class Page:
    """The root's own statements, and the map from its user units to mm of the page.

    ``size`` is the page in mm, None when the file has none. ``view`` is what percentages
    are parts of.
    """

    matrix: Affine
    unit: Unit
    size: tuple[float, float] | None
    view: View
    box: ViewBox | None
    problems: tuple[str, ...] = ()


@dataclass(frozen=True)
class Stated:
    """What the root says: its viewBox, and width and height where they are lengths; ``styled``
    are those of the two that its style says."""

    box: ViewBox | None
    width: Length | None
    height: Length | None
    styled: frozenset[str] = frozenset()

    @property
    def on_paper(self) -> bool:
        return any(s is not None and s.mm is not None for s in (self.width, self.height))

    @property
    def with_px(self) -> bool:
        return any(s is not None and s.unit not in ("", "%") for s in (self.width, self.height))

    @property
    def extent(self) -> tuple[float, float] | None:
        """The page in user units; None when that is not said."""
        if self.box is not None:
            return self.box.width, self.box.height
        if self.width is None or self.height is None:
            return None
        return self.width.user(0.0), self.height.user(0.0)

    def sides(self, px_mm: float) -> tuple[float, float] | None:
        """Width and height in mm; one that is missing follows from the viewBox."""
        w, h = _in_mm(self.width, px_mm), _in_mm(self.height, px_mm)
        if self.box is not None:
            slope = self.box.height / self.box.width
            if w is None and h is None:
                return self.box.width * px_mm, self.box.height * px_mm
            w = h / slope if w is None and h is not None else w
            h = w * slope if h is None and w is not None else h
        return (w, h) if w is not None and h is not None else None


def _in_mm(side: Length | None, px_mm: float) -> float | None:
    if side is None:
        return None
    return side.mm if side.mm is not None else side.user(0.0) * px_mm


def stated(document: Document) -> Stated:
    """What the root says of its size; FileError for a page without one."""
    root = document.root
    box = view_box(root.get("viewBox"))
    if box is not None and not (box.width > 0.0 and box.height > 0.0):
        raise document.error(
            root, "the viewBox has no size, so the drawing has no scale; set the page up anew."
        )
    sides, styled = [], set[str]()
    for name in ("width", "height"):
        side = length(root.get(name))
        on_paper = _styled(root, name) if side is None or side.unit == "%" else None
        if on_paper is not None:
            side = on_paper
            styled.add(name)
        if side is not None and not side.value > 0.0:
            raise document.error(root, f"the page has no {name}; set the page up anew.")
        sides.append(None if side is None or side.unit == "%" else side)
    return Stated(box, sides[0], sides[1], frozenset(styled))


def side_in_style(style: str, name: str) -> re.Match[str] | None:
    """Where a style says how wide or high the page is; the last such place holds."""
    places = re.finditer(rf"(?:^|;)\s*{name}\s*:\s*([^;!\s]+)", style, re.IGNORECASE)
    return max(places, key=lambda found: found.start(), default=None)


def _styled(root: Node, name: str) -> Length | None:
    """A side in a unit of paper; one in px is how large it is on a screen."""
    said = side_in_style(root.get("style"), name)
    side = length(said[1]) if said else None
    return side if side is not None and side.mm is not None else None


def page_of(document: Document, mm_per_unit: float | None) -> Page | None:
    """The page; None when nothing says, or lets one conclude, how long a unit is."""
    said = stated(document)
    if mm_per_unit is not None:
        return _by_hand(document, said, mm_per_unit)
    if said.on_paper and said.box is not None:
        whole = said.width is not None and said.height is not None
        return _page(document, said, PX_MM, _paper_reason(said, whole), ())
    count = _counted(document.root, said)
    if count is None:
        return None
    density, because = count
    page = _page(document, said, 25.4 / density, because, ())
    if because.sure:
        return page
    return replace(page, problems=(_asked(document, said, page, density), *page.problems))


def _asked(document: Document, said: Stated, page: Page, density: int) -> str:
    """The question whether the count is right, with what it would be by the other counts."""
    why = f"{document.name}: {page.unit.because.why}"
    if said.on_paper or page.size is None:
        return f"{why}. {_CHECK}"
    w, h = (side / 10 for side in page.size)
    others = []
    for other in DENSITIES:
        if other != density:
            k, mm = density / other, page.unit.mm_per_unit * density / other
            unit = f"1/{other}in" if math.isclose(mm, 25.4 / other) else f"{mm:.6g}mm"
            others.append(f"{w * k:.1f} x {h * k:.1f} cm at {other} (--unit {unit})")
    return (
        f"{why}, which makes its page {w:.1f} x {h:.1f} cm. Is that so? It would be "
        f"{' or '.join(others)}. {_CHECK}"
    )


def _paper_reason(said: Stated, whole: bool) -> Because:
    side, name = (said.width, "wide") if said.width is not None else (said.height, "high")
    text = f"the page says it is {side.value:g} {side.unit} {name}" if side else ""
    return Because(True, text) if whole else Because(False, text + ", but not its other side")


def _counted(root: Node, said: Stated) -> tuple[int, Because] | None:
    """How many pixels the file counts to the inch, by what its editor left in it."""
    version = _editor_version(root)
    if version is not None and version < _NEW_COUNT:
        return 90, Because(False, "it comes from an editor of the years that counted 90 px an inch")
    if version is not None:
        return 96, Because(True, "its editor counts 96 px an inch")
    if said.box is not None and "new" in _background(root):
        return 72, Because(False, "it bears the signs of an editor that counts 72 px an inch")
    if said.on_paper:
        return 96, Because(
            False, "the page has a size but no viewBox, so units count as px, 96 to the inch"
        )
    if said.with_px:
        return 96, Because(False, "px are counted 96 to the inch, as the standard has it")
    return None


def _editor_version(root: Node) -> tuple[int, int] | None:
    for name, value in root.attributes.items():
        space, _, local = name.rpartition(" ")
        found = _VERSION.match(value) if local == "version" and "inkscape" in space else None
        if found:
            return int(found[1]), int(found[2])
    return None


def _background(root: Node) -> list[str]:
    """The words of enable-background, by attribute or style."""
    text = root.get("enable-background")
    found = re.search(r"enable-background\s*:([^;]*)", root.get("style"))
    return (text or (found[1] if found else "")).split()


def _page(
    document: Document, said: Stated, px_mm: float, because: Because, problems: tuple[str, ...]
) -> Page:
    size = said.sides(px_mm)
    if said.box is None or size is None:
        matrix = Affine.scale(px_mm)
    else:
        matrix = fit(said.box, *size, document.root.get("preserveAspectRatio"))
        problems += _uneven(document, said.box, size, matrix)
    return Page(matrix, Unit(matrix.a, because), size, _view(said), said.box, problems)


def _uneven(
    document: Document, box: ViewBox, size: tuple[float, float], matrix: Affine
) -> tuple[str, ...]:
    sx, sy = size[0] / box.width, size[1] / box.height
    if abs(sx / sy - 1.0) <= STRETCH_NOTED:
        return ()
    if matrix.a != matrix.d:
        text = "the page stretches the drawing unevenly, width and height by different scales"
    else:
        text = "page and viewBox have different proportions; one scale was used for both"
    return (f"{document.name}: {text}. {_CHECK}",)


def _by_hand(document: Document, said: Stated, mm: float) -> Page:
    if not (math.isfinite(mm) and mm > 0.0):
        raise FileError(f"A unit of {mm:g} mm cannot be; give the length of one unit in mm.")
    box, extent = said.box, said.extent
    problems: tuple[str, ...] = ()
    matrix = Affine.scale(mm)
    if box is not None:
        matrix = matrix @ Affine.move(-box.x, -box.y)
    size = (extent[0] * mm, extent[1] * mm) if extent is not None else None
    if said.on_paper and box is not None:
        problems = _contradiction(document, box, said.sides(PX_MM), mm)
    unit = Unit(mm, Because(True, "the unit was given by hand"))
    return Page(matrix, unit, size, _view(said), box, problems)


def _contradiction(
    document: Document, box: ViewBox, sides: tuple[float, float] | None, mm: float
) -> tuple[str, ...]:
    own = sides[0] / box.width if sides else mm
    if abs(own / mm - 1.0) <= STRETCH_NOTED:
        return ()
    return (
        f"{document.name} says that its unit is {own:.6g} mm; the {mm:.6g} mm given by hand "
        f"were used. {_CHECK}",
    )


def _view(said: Stated) -> View:
    return View(*(said.extent or (0.0, 0.0)))


def unknown_unit(document: Document, extent: tuple[float, float] | None) -> str:
    """The sentence that asks for the unit; `extent` is the page or the drawing in units."""
    text = f"{document.name} does not say how long one of its units is. "
    if extent is not None:
        w, h = extent
        guesses = [
            f"{w * 2.54 / d:.1f} x {h * 2.54 / d:.1f} cm at {d} units to the inch"
            for d in DENSITIES
        ]
        guesses.append(f"{w / 10:.1f} x {h / 10:.1f} cm if a unit is 1 mm")
        text += f"Its {w:.6g} x {h:.6g} units would be {', '.join(guesses)}. "
    return text + (
        "Measure the test square of the pattern and give the unit that fits (--unit, "
        "for instance 1/96in or 1mm)."
    )
