"""What a walk through an SVG found, in the order in which it is drawn."""

from __future__ import annotations

from typing import NamedTuple

from core.curve import Affine, Chain, Point, Ring
from core.files.svg.clips import Clip
from core.files.svg.document import Document, Node
from core.files.svg.figures import Data, Figures, figures
from core.files.svg.outlines import View
from core.files.svg.style import Shown
from core.files.svg.transforms import stretch
from core.piece.gather import surely_small
from core.piece.model import Kind, Shape

# Lines and curves that are followed in one file, all told: a sheet of several MB.
MAX_STEPS = 1_000_000
# Shapes and writings that are read from one file: a sheet of 10 MB, all of it short lines.
MAX_DRAWN = 200_000
MAX_PROBLEMS = 30
# Path data that is read at once (bytes), and how many shapes at most.
AT_ONCE, MOST_WAITING = 1 << 19, 1 << 13


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

    # A file may hold a hundred thousand groups: `_replace` takes three times as long.
    def known(self, shown: Shown, words: tuple[str, ...], clips: tuple[Clip, ...]) -> Around:
        """The same with what else an element says."""
        matrix, long, _, view, _, group, name, uses, _, cloned = self
        return Around(matrix, long, shown, view, words, group, name, uses, clips, cloned)

    def grouped(self, group: int, name: str) -> Around:
        """The same inside a group."""
        matrix, long, shown, view, words, _, _, uses, clips, cloned = self
        return Around(matrix, long, shown, view, words, group, name, uses, clips, cloned)


class _Shape(NamedTuple):
    """An element whose path data waits to be read together with that of others."""

    node: Node
    here: Around
    data: Data


class _Writing(NamedTuple):
    """A piece of writing that waits for what is drawn before it."""

    node: Node
    here: Around
    place: Point
    text: str


class Found:
    """Shapes, where each is drawn, sentences about what could not be read, and how many shapes
    were lost by that. All is there once it is finished.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.shapes: list[Shape] = []
        self.drawn: list[Drawn] = []
        self.problems: list[str] = []
        self.lost = 0
        self._untold = 0
        self._steps_left = MAX_STEPS
        self._clipping: set[Node] = set()
        self._waiting: list[_Shape | _Writing] = []
        self._text = 0

    def shape(self, node: Node, here: Around, data: str) -> None:
        """What the element draws by this path data."""
        self._waiting.append(_Shape(node, here, Data(data, here.matrix, here.stretch[0])))
        self._text += len(data)
        self._settle_many()

    def writing(self, node: Node, here: Around, place: Point, text: str) -> None:
        """Writing, at a place in mm."""
        self._waiting.append(_Writing(node, here, place, text))
        self._settle_many()

    def _settle_many(self) -> None:
        if self._text > AT_ONCE or len(self._waiting) >= MOST_WAITING:
            self._settle()

    def note(self, node: Node, sentence: str) -> None:
        """Adds a located problem, behind those of what was drawn before."""
        if len(self.problems) < MAX_PROBLEMS:
            self._settle()
        self._tell(node, sentence)

    def lose(self, node: Node, sentence: str) -> None:
        """A located problem by which a shape is lost."""
        self.lost += 1
        self.note(node, sentence)

    def finish(self, pictures: int) -> None:
        self._settle()
        if pictures:
            self.problems.append(f"{self.document.name} holds pictures; they were not read.")
        if self._untold:
            self.problems.append(f"{self.document.name} has {self._untold} more such faults.")

    def _tell(self, node: Node, sentence: str) -> None:
        """Adds a located problem; beyond a number that can be read they are only counted."""
        if len(self.problems) >= MAX_PROBLEMS:
            self._untold += 1
            return
        line = self.document.line(node)
        self.problems.append(f"{self.document.name}, line {line}: {sentence}")

    def _settle(self) -> None:
        """Draws what waits, in its order: all path data of it is read at once."""
        waiting, self._waiting, self._text = self._waiting, [], 0
        drawn = iter(figures([w.data for w in waiting if isinstance(w, _Shape)]))
        for one in waiting:
            if isinstance(one, _Shape):
                self._drawn(one, next(drawn))
            else:
                self._add(one.node, 0, one.place, one.here, text=one.text)

    def _drawn(self, one: _Shape, drawn: Figures) -> None:
        node, here = one.node, one.here
        # Lines that are left out count for nothing, unless copied.
        self._steps_left -= sum(f.steps for f in drawn.found if here.uses or not f.fault)
        if self._steps_left < 0:
            raise self.document.error(
                node,
                f"the file draws more than {MAX_STEPS} lines and curves up to here, far more than "
                "a pattern has; take out what is no pattern piece and save it again.",
            )
        if drawn.error is not None:
            broken = one.data.text[drawn.error : drawn.error + 20]
            self._tell(
                node, f"the {node.name} breaks off at “{broken}”; what comes before it was read."
            )
        before = len(self.shapes)
        for number_, figure in enumerate(drawn.found):
            if figure.fault:
                self.lost += 1
                self._tell(node, figure.fault)
            elif figure.geometry is not None:
                self._tell_clipped(node, figure.geometry, here)
                self._add(node, number_, figure.geometry, here)
        if drawn.error is not None and len(self.shapes) == before:
            self.lost += 1

    def _tell_clipped(self, node: Node, geometry: Ring | Chain | Point, here: Around) -> None:
        """Says once of each clip that it hides a part of an outline, or of a longer one would."""
        if not here.clips or not isinstance(geometry, Ring) or here.shown.hidden:
            return
        if surely_small(geometry):
            return
        for clip in here.clips:
            if clip.node in self._clipping or (clip.frame and clip.shows(geometry)):
                continue
            self._clipping.add(clip.node)
            text = "a clip path cuts this outline; all of it was read."
            if clip.frame is clip.node:
                text = "a frame around this outline hides a part of it; all of it was read."
            elif clip.box is None:
                text = "a mask, or a shape of CSS (clip-path: inset() or the like), may hide a part"
                text += " of this outline, or of what is added to it; all of it was read. Take it"
                text += " off in a drawing program."
            elif clip.shows(geometry):
                text = "this outline shows only within a clip path; take that off in a drawing"
                text += " program, or what is added beyond it will not show."
            self._tell(node, text)

    def _add(
        self,
        node: Node,
        subpath: int,
        geometry: Ring | Chain | Point,
        here: Around,
        *,
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
                Kind.TEXT if text else None,
                text,
                here.shown.hidden,
            )
        )
        self.drawn.append(Drawn(node, subpath, here.matrix, here.uses, here.view, here.clips))
