"""Walks an SVG tree as a viewer draws it and collects what is drawn, in mm.

Source: W3C SVG 2, chapters 5 (structure, use, symbol), 8 (transforms, nested viewports).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from core.curve import Affine, Chain, Point, Ring
from core.files.svg.clips import Clip, clip_path, frame_clip
from core.files.svg.document import MAX_DEPTH, Document, Node
from core.files.svg.figures import Figures, figures
from core.files.svg.naming import group_name, telling, words, writing
from core.files.svg.outlines import GEOMETRY, BadLengthError, View, path_data
from core.files.svg.root import Page
from core.files.svg.style import Shown, clip_link, sheet_of, shown
from core.files.svg.texts import anchor
from core.files.svg.trace import FARTHEST
from core.files.svg.transforms import stretch, transform
from core.files.svg.viewports import referenced, use_move, viewport
from core.piece.gather import surely_small
from core.piece.model import Kind, Shape

# No drawing is enlarged by so much; beyond it numbers end.
MOST_STRETCH = 1e12
# Elements that `use` may draw again in one file, all told: far beyond any real drawing.
MAX_REPEATED = 50_000
# Lines and curves that are followed in one file, all told: a sheet of several MB.
MAX_STEPS = 1_000_000
# Shapes and writings that are read from one file: a sheet of 10 MB, all of it short lines.
MAX_DRAWN = 200_000
MAX_PROBLEMS = 30


class Drawn(NamedTuple):
    """Where a shape stands in the file, and the map from its own units to mm.

    ``subpath`` counts the subpaths of a path from 0. ``uses`` are the `use` elements that
    led to it, outermost first.
    """

    node: Node
    subpath: int
    matrix: Affine
    uses: tuple[Node, ...]
    view: View
    clips: tuple[Clip, ...]


class Around(NamedTuple):
    """What an element takes over from those around it.

    ``stretch`` is by how much the matrix lengthens, at most and at least; ``cloned`` is what a
    `use` draws, or may draw once more.
    """

    matrix: Affine
    stretch: tuple[float, float]
    shown: Shown
    view: View
    words: tuple[str, ...] = ()
    group: int | None = None
    group_name: str = ""
    uses: tuple[Node, ...] = ()
    clips: tuple[Clip, ...] = ()
    cloned: bool = False

    def mapped(self, matrix: Affine) -> Around:
        """The same, but inside of a further map."""
        whole = self.matrix @ matrix
        return self._replace(matrix=whole, stretch=stretch(whole))


# What is inside an element, and what that takes over.
_Inside = tuple[Iterator[Node], Around]


class Walk:
    """Everything drawn, in drawing order; ``visits`` counts how often those elements are that
    a `use` draws, ``views`` are those around each `use`.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.sheet = sheet_of(document)
        self.shapes: list[Shape] = []
        self.drawn: list[Drawn] = []
        self.cloned = {referenced(document, use) for use in document.uses}
        self.visits: Counter[Node] = Counter()
        self.views: dict[Node, View] = {}
        self.problems: list[str] = []
        self.untold = 0
        self.groups = 0
        self.repeated = 0
        self.steps_left = MAX_STEPS
        self.known_words: dict[tuple[str, ...], tuple[str, ...]] = {}
        self.known_clips: dict[tuple[str, Affine, View], Clip | None] = {}
        self.pictures = 0
        self.lost = 0
        self.clipping: set[Node] = set()

    def run(self, page: Page) -> None:
        """Collects all that is drawn; FileError for trees that never end."""
        root = self.document.root
        shown_ = shown(root, Shown(), self.sheet)
        top = Around(page.matrix, stretch(page.matrix), shown_, page.view)
        if "transform" in root.attributes:
            # Viewers disagree on what it turns about.
            self.note(root, "a transform of the whole page was left out of account.")
        # A stack of our own: nested groups must not exhaust the interpreter's.
        rest: list[_Inside] = [(root.children, top)]
        while rest:
            nodes, around = rest[-1]
            inside = next(filter(None, (self._visit(n, around) for n in nodes)), None)
            if inside is None:
                rest.pop()
            else:
                rest.append(inside)
        if self.pictures:
            self.problems.append(f"{self.document.name} holds pictures; they were not read.")
        if self.untold:
            self.problems.append(f"{self.document.name} has {self.untold} more such faults.")

    def note(self, node: Node, sentence: str) -> None:
        """Adds a located problem; beyond a number that can be read they are only counted."""
        if len(self.problems) >= MAX_PROBLEMS:
            self.untold += 1
            return
        line = self.document.line(node)
        self.problems.append(f"{self.document.name}, line {line}: {sentence}")

    def _visit(self, node: Node, around: Around) -> _Inside | None:
        """Draws an element, or gives what is inside it to be drawn next."""
        if node.name not in _DRAWN:
            self.pictures += node.name == "image"
            return None
        if node.name in _HOLDERS and not node.content:
            return None
        if around.uses:
            self._count_repeated(node)
        here = self._enter(node, self._counted(node, around))
        if here is None:
            return None
        match node.name:
            case "text":
                self._text(node, here)
            case "use":
                return self._use(node, here)
            case "switch":
                return _first_fit(node), here
            case "svg":
                return node.children, self._viewport(node, here, None)
            case "g":
                return node.children, self._group(node, here)
            case "a":
                return node.children, here
            case _:
                self._shape(node, here)
        return None

    def _counted(self, node: Node, around: Around) -> Around:
        if around.cloned or node in self.cloned:
            self.visits[node] += 1
            return around if around.cloned else around._replace(cloned=True)
        return around

    def _count_repeated(self, node: Node) -> None:
        self.repeated += 1
        if self.repeated > MAX_REPEATED:
            raise self.document.error(
                node,
                f"copies of copies draw more than {MAX_REPEATED} parts; turn the clones into "
                "plain shapes and save the file again.",
            )

    def _enter(self, node: Node, around: Around) -> Around | None:
        """The element's own transform, words and visibility; None when it is flattened."""
        if len(around.uses) >= MAX_DEPTH:
            raise self.document.error(
                node, f"clones are nested deeper than {MAX_DEPTH} levels; ungroup the drawing."
            )
        silent = not self.sheet and not node.content and _silent(tuple(node.attributes))
        here = around if silent else self._transformed(node, around)
        large, small = here.stretch
        if not (small > 0.0 and large < MOST_STRETCH):
            what = "flattens this part to nothing" if large < MOST_STRETCH else "is beyond all use"
            self.note(node, f"a transform {what}; it was left out.")
            return None
        if silent:
            return here
        return here._replace(
            shown=shown(node, around.shown, self.sheet),
            words=words(node, self.known_words) + around.words,
            clips=self._clips(node, here),
        )

    def _clips(self, node: Node, here: Around) -> tuple[Clip, ...]:
        link = clip_link(node, self.sheet)
        if not link:
            return here.clips
        key = (link, here.matrix, here.view)
        if key not in self.known_clips:
            self.known_clips[key] = clip_path(self.document, *key)
        clip = self.known_clips[key]
        return here.clips if clip is None else (*here.clips, clip)

    def _transformed(self, node: Node, around: Around) -> Around:
        if "transform" in node.attributes.get("style", ""):
            self.note(node, "a transform in a style was left out of account; check the size.")
        if "transform" not in node.attributes:
            return around
        own = transform(node.get("transform"))
        if own is None:
            self.note(node, "this transform cannot be read and was left out of account.")
            return around
        return around.mapped(own)

    def _group(self, node: Node, here: Around) -> Around:
        self.groups += 1
        return here._replace(group=self.groups - 1, group_name=group_name(node))

    def _use(self, node: Node, here: Around) -> _Inside | None:
        target = self._target(node, here)
        if target is None:
            return None
        self.views.setdefault(node, here.view)
        here = here.mapped(use_move(node, here.view))._replace(uses=(*here.uses, node))
        if target.name not in ("symbol", "svg"):
            return iter((target,)), here
        inside = self._enter(target, self._counted(target, here))
        if inside is None:
            return None
        inside = self._viewport(target, inside, node)
        inside = self._group(target, inside) if target.name == "symbol" else inside
        return target.children, inside

    def _target(self, node: Node, here: Around) -> Node | None:
        target = referenced(self.document, node)
        if target is None:
            self.note(node, f"what is to be drawn here ({node.href}) is not in the file.")
        elif node.within(target) or any(referenced(self.document, u) is target for u in here.uses):
            self.note(node, "this clone draws itself; it was left out.")
            target = None
        return target

    def _viewport(self, node: Node, here: Around, use: Node | None) -> Around:
        try:
            by, view = viewport(node, here.view, use)
            clip = frame_clip(node, here.matrix, here.view, use)
        except BadLengthError as error:
            self.note(node, f"{error} is no length; this viewport was left out of account.")
            return here
        clips = here.clips if clip is None else (*here.clips, clip)
        return here.mapped(by)._replace(view=view, clips=clips)

    def _shape(self, node: Node, here: Around) -> None:
        try:
            data = path_data(node, here.view)
        except BadLengthError as error:
            self._lose(node, f"{error} is no length; this {node.name} was left out.")
            return
        found = self._followed(node, data, here)
        if found.error is not None:
            broken = data[found.error : found.error + 20]
            self.note(
                node, f"the {node.name} breaks off at “{broken}”; what comes before it was read."
            )
        before = len(self.shapes)
        for number_, figure in enumerate(found.found):
            if figure.fault:
                self._lose(node, figure.fault)
            elif figure.geometry is not None:
                self._tell_clipped(node, figure.geometry, here)
                self._add(node, number_, figure.geometry, here)
        if found.error is not None and len(self.shapes) == before:
            self.lost += 1

    def _followed(self, node: Node, data: str, here: Around) -> Figures:
        """What the data draws; lines that are left out count for nothing, unless copied."""
        found = figures(data, here.matrix, stretch=here.stretch[0])
        self.steps_left -= sum(f.steps for f in found.found if here.uses or not f.fault)
        if self.steps_left < 0:
            raise self.document.error(
                node,
                f"the file draws more than {MAX_STEPS} lines and curves up to here, far more than "
                "a pattern has; take out what is no pattern piece and save it again.",
            )
        return found

    def _tell_clipped(self, node: Node, geometry: Ring | Chain | Point, here: Around) -> None:
        """Says once of each clip that it hides a part of an outline, or of a longer one would."""
        if not here.clips or not isinstance(geometry, Ring) or here.shown.hidden:
            return
        if surely_small(geometry):
            return
        for clip in here.clips:
            if clip.node in self.clipping or (clip.frame and clip.shows(geometry)):
                continue
            self.clipping.add(clip.node)
            text = "a clip path cuts this outline; all of it was read."
            if clip.frame is clip.node:
                text = "a frame around this outline hides a part of it; all of it was read."
            elif clip.shows(geometry):
                text = "this outline shows only within a clip path; take that off in a drawing"
                text += " program, or what is added beyond it will not show."
            self.note(node, text)

    def _lose(self, node: Node, sentence: str) -> None:
        self.lost += 1
        self.note(node, sentence)

    def _text(self, node: Node, here: Around) -> None:
        text = writing(node)
        place = here.matrix.point(anchor(node, here.view))
        if not text:
            return
        if not (abs(place.x) < FARTHEST and abs(place.y) < FARTHEST):
            self._lose(node, "this writing stands beyond 100 m; it was left out.")
            return
        self._add(node, 0, place, here, kind=Kind.TEXT, text=text)

    def _add(
        self,
        node: Node,
        subpath: int,
        geometry: Ring | Chain | Point,
        here: Around,
        *,
        kind: Kind | None = None,
        text: str = "",
    ) -> None:
        if len(self.shapes) >= MAX_DRAWN:
            raise self.document.error(
                node,
                f"the file draws more than {MAX_DRAWN} things up to here, far more than a pattern "
                "has; take out what is no pattern piece and save it again.",
            )
        self.shapes.append(
            Shape(
                len(self.shapes),
                geometry,
                here.words,
                here.group,
                here.group_name,
                kind,
                text,
                here.shown.hidden,
            )
        )
        self.drawn.append(Drawn(node, subpath, here.matrix, here.uses, here.view, here.clips))


_HOLDERS = frozenset({"g", "a", "svg"})
_CHANGING = frozenset({"transform", "style", "display", "visibility", "clip-path"})
_DRAWN = frozenset({*GEOMETRY, *_HOLDERS, "text", "switch", "use"})


@lru_cache(maxsize=1024)
def _silent(names: tuple[str, ...]) -> bool:
    """Do attributes of these names say nothing but what the element itself draws, and how?"""
    return not telling(names) and _CHANGING.isdisjoint(names)


def _first_fit(node: Node) -> Iterator[Node]:
    """The one child of a switch that is drawn: the first that asks for no extension."""
    for child in node.children:
        if child.name in _DRAWN and not child.get("requiredExtensions"):
            yield child
            return
