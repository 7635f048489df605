"""Walks an SVG tree as a viewer draws it and collects what is drawn, in mm.

Source: W3C SVG 2, chapters 5 (structure, use, symbol), 8 (transforms, nested viewports).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from functools import lru_cache

from core.curve import Affine
from core.files.svg.clips import Clip, clip_path, frame_clip, hidden_by
from core.files.svg.collect import Around, Found
from core.files.svg.document import MAX_DEPTH, Document, Node
from core.files.svg.naming import group_name, words, writing
from core.files.svg.outlines import GEOMETRY, BadLengthError, View, path_data
from core.files.svg.placing import PLAIN, placing
from core.files.svg.root import Page
from core.files.svg.style import Shown, clip_link, mask_link, sheets_of, shown
from core.files.svg.styled import as_said, said_in_css
from core.files.svg.texts import anchor
from core.files.svg.trace import FARTHEST
from core.files.svg.transforms import stretch
from core.files.svg.viewports import referenced, use_move, viewport

# No drawing is enlarged by so much; beyond it numbers end.
MOST_STRETCH = 1e12
# Elements that `use` may draw again in one file, all told: far beyond any real drawing.
MAX_REPEATED = 50_000
# What stands in those elements (bytes), each time that they are drawn: all is read again.
MAX_REPEATED_TEXT = 16_000_000


# What is inside an element, and what that takes over.
_Inside = tuple[Iterator[Node], Around]


class Walk:
    """Everything drawn is ``found``, in drawing order; ``visits`` counts how often those elements
    are that a `use` draws, ``views`` are those around each `use`, ``placed`` how CSS places those
    that it does, ``styled`` what it says of where shapes lie.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.sheet, self.unread = sheets_of(document)
        self.found = Found(document)
        self.cloned = {referenced(document, use) for use in document.uses}
        self.visits: Counter[Node] = Counter()
        self.views: dict[Node, View] = {}
        self.placed: dict[Node, Affine] = {}
        self.styled: dict[Node, Mapping[str, str]] = {}
        self.groups = 0
        self.repeated = self.repeated_text = 0
        self.known_words: dict[tuple[str, ...], tuple[str, ...]] = {}
        self.known_clips: dict[tuple[str, View], Clip | None] = {}
        self.pictures = 0
        nowhere = Around(Affine(), (1.0, 1.0), Shown(), View(0.0, 0.0))
        self.last: tuple[tuple[str, ...], Around, Around] = ((), nowhere, nowhere)

    def run(self, page: Page) -> None:
        """Collects all that is drawn; FileError for trees that never end."""
        root = self.document.root
        shown_ = shown(root, Shown(), self.sheet)
        top = Around(page.matrix, stretch(page.matrix), shown_, page.view)
        if placing(root, page.view, self.sheet) != PLAIN:
            # Viewers disagree on what it turns about.
            self.found.note(root, "a transform of the whole page was left out of account.")
        # A stack of our own: nested groups must not exhaust the interpreter's.
        if self.unread:
            self.found.problems.append(self.unread)
        rest = [self._insides(root.children, top)]
        while rest:
            inside = next(rest[-1], None)
            if inside is None:
                rest.pop()
            else:
                rest.append(self._insides(*inside))
        self.found.finish(self.pictures)

    def _insides(self, nodes: Iterator[Node], around: Around) -> Iterator[_Inside]:
        """Visits the elements one by one, and gives what is inside them as it comes up."""
        for node in nodes:
            inside = self._visit(node, around)
            if inside is not None:
                yield inside

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
        self.repeated_text += sum(map(len, node.attributes.values())) + len(node.content)
        if node.name == "text":
            self.repeated_text += node.end - node.start
        elif node.content:
            titles = (c for c in node.children if c.name == "title")
            self.repeated_text += sum(c.end - c.start for c in titles)
        if self.repeated_text > MAX_REPEATED_TEXT:
            raise self.document.error(
                node,
                f"clones draw parts of more than {MAX_REPEATED_TEXT // 10**6} MB, all told; turn "
                "the clones into plain shapes and save the file again.",
            )

    def _enter(self, node: Node, around: Around) -> Around | None:
        """The element's own transform, words and visibility; None when it is flattened."""
        if len(around.uses) >= MAX_DEPTH:
            raise self.document.error(
                node, f"clones are nested deeper than {MAX_DEPTH} levels; ungroup the drawing."
            )
        plain = not self.sheet and not node.content and _plain(tuple(node.attributes))
        if not plain and not _is_meant(node):
            self.found.note(
                node,
                f"this {node.name} is drawn for others only, who read another language or have"
                " some program's own extensions; it was left out.",
            )
            return None
        here = around if plain else self._transformed(node, around)
        large, small = here.stretch
        if not (small > 0.0 and large < MOST_STRETCH):
            what = "flattens this part to nothing" if large < MOST_STRETCH else "is beyond all use"
            self.found.note(node, f"a transform {what}; it was left out.")
            return None
        told = words(node, self.known_words)
        if plain:
            return self._called(told, around)
        seen, clips = shown(node, around.shown, self.sheet), self._clips(node, here)
        return here.known(seen, told + around.words if told else around.words, clips)

    def _called(self, told: tuple[str, ...], around: Around) -> Around:
        """Around an element of which no more is said than these words: mostly it has the same
        as the one before."""
        if not told:
            return around
        last_told, last_around, _ = self.last
        if last_told is not told or last_around is not around:
            self.last = told, around, around.known(around.shown, told + around.words, around.clips)
        return self.last[2]

    def _clips(self, node: Node, here: Around) -> tuple[Clip, ...]:
        clips = here.clips
        link = clip_link(node, self.sheet)
        if link:
            key = (link, here.view)
            if key not in self.known_clips:
                self.known_clips[key] = clip_path(self.document, node, *key)
            clip = self.known_clips[key]
            if clip is not None:
                clips = (*clips, clip._replace(by=here.matrix @ clip.by))
        mask = mask_link(node, self.sheet)
        return (*clips, hidden_by(self.document, node, mask)) if mask else clips

    def _transformed(self, node: Node, around: Around) -> Around:
        own = placing(node, around.view, self.sheet)
        if own.by is None:
            self.found.note(node, "this transform cannot be read and was left out of account.")
            return around
        if own.in_css:
            self.placed[node] = own.by
        return around if own is PLAIN else around.mapped(own.by)

    def _group(self, node: Node, here: Around) -> Around:
        self.groups += 1
        return here.grouped(self.groups - 1, group_name(node))

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
        if target.name == "symbol" and not _PLACES.isdisjoint(target.attributes):
            self.found.note(
                target,
                "where this symbol places itself was left out of account, for viewers disagree;"
                " look where its clones lie.",
            )
        inside = self._viewport(target, inside, node)
        inside = self._group(target, inside) if target.name == "symbol" else inside
        return target.children, inside

    def _target(self, node: Node, here: Around) -> Node | None:
        target = referenced(self.document, node)
        if target is None:
            self.found.note(node, f"what is to be drawn here ({node.href}) is not in the file.")
        elif node.within(target) or any(referenced(self.document, u) is target for u in here.uses):
            self.found.note(node, "this clone draws itself; it was left out.")
            target = None
        return target

    def _viewport(self, node: Node, here: Around, use: Node | None) -> Around:
        try:
            by, view = viewport(node, here.view, use)
            clip = frame_clip(node, here.matrix, here.view, use)
        except BadLengthError as error:
            self.found.note(node, f"{error} is no length; this viewport was left out of account.")
            return here
        clips = here.clips if clip is None else (*here.clips, clip)
        return here.mapped(by)._replace(view=view, clips=clips)

    def _shape(self, node: Node, here: Around) -> None:
        seen = node
        if self.sheet or "style" in node.attributes:
            said = said_in_css(node, self.sheet)
            if said:
                self.styled[node] = said
                seen = as_said(node, said)
        try:
            data = path_data(seen, here.view)
        except BadLengthError as error:
            self.found.lose(node, f"{error} is no length; this {node.name} was left out.")
            return
        self.found.shape(node, here, data)

    def _text(self, node: Node, here: Around) -> None:
        text = writing(node)
        place = here.matrix.point(anchor(node, here.view))
        if not text:
            return
        if not (abs(place.x) < FARTHEST and abs(place.y) < FARTHEST):
            self.found.lose(node, "this writing stands beyond 100 m; it was left out.")
            return
        self.found.writing(node, here, place, text)


_HOLDERS = frozenset({"g", "a", "svg"})
_CHANGING = frozenset(
    {
        *("transform", "transform-origin", "style", "display", "visibility", "clip-path", "mask"),
        *("systemLanguage", "requiredExtensions"),
    }
)
# Ways in which a symbol may say where it lies, besides the `use` that draws it.
_PLACES = frozenset({"x", "y", "refX", "refY"})
_DRAWN = frozenset({*GEOMETRY, *_HOLDERS, "text", "switch", "use"})


@lru_cache(maxsize=1024)
def _plain(names: tuple[str, ...]) -> bool:
    """Do attributes of these names say nothing but what the element draws, how, and as what?"""
    return _CHANGING.isdisjoint(names)


def _first_fit(node: Node) -> Iterator[Node]:
    """The one child of a switch that is drawn: the first that is meant for this reader."""
    for child in node.children:
        if child.name in _DRAWN and _is_meant(child):
            yield child
            return


def _is_meant(node: Node) -> bool:
    """Is it drawn for a reader of English who has no program's extensions? (SVG 2, 5.9)"""
    if node.get("requiredExtensions"):
        return False
    said = node.attributes.get("systemLanguage")
    if said is None:
        return True
    return any(tag.strip().lower().split("-")[0] == "en" for tag in said.split(","))
