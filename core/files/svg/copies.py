"""Parts that a file draws several times: a copy of its own for the one that is altered.

An element that is drawn once is altered where it stands. Of one that `use` draws several
times, the `use` becomes a group that holds a copy without ids, and the copy is altered.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from core.curve import Affine
from core.files.svg.document import Node
from core.files.svg.placing import put
from core.files.svg.reader import SvgSource
from core.files.svg.tags import (
    Change,
    Patch,
    encoded,
    escaped,
    patches,
    renamed,
    rewritten,
    spliced,
    tag_of,
    whole_end,
)
from core.files.svg.transforms import transform
from core.files.svg.viewports import referenced, use_move, viewport


class Altered(NamedTuple):
    """The way to an element (`use` elements, outermost first, then itself) and what
    becomes of it and its parts; no changes when it only must stay as it is.
    """

    way: tuple[Node, ...]
    changes: dict[Node, Change]


class Copy(NamedTuple):
    """What is altered inside what one `use` draws: ways from there on."""

    use: Node
    inside: tuple[Altered, ...]


def sorted_out(
    source: SvgSource, altered: Iterable[Altered]
) -> tuple[dict[Node, Change], list[Copy]]:
    """What is altered where it stands, and which `use` elements need copies.

    FileError for copies of copies that cannot be told apart.
    """
    in_place: dict[Node, Change] = {}
    inside: dict[Node, list[Altered]] = {}
    for one in _with_others(source, list(altered)):
        at = _own_part(source, one.way)
        if at == len(one.way) - 1:
            in_place |= one.changes
        else:
            inside.setdefault(one.way[at], []).append(Altered(one.way[at + 1 :], one.changes))
    return in_place, [Copy(use, tuple(parts)) for use, parts in inside.items()]


def _own_part(source: SvgSource, way: Sequence[Node]) -> int:
    """The last element of the way that is drawn only once; the first stands on its own."""
    alone = [k for k, node in enumerate(way) if source.visits[node] < 2]
    return alone[-1] if alone else 0


def _with_others(source: SvgSource, altered: list[Altered]) -> list[Altered]:
    """Adds the other appearances of what is altered in place, for these must not change."""
    known = {one.way for one in altered}
    shared = {one.way[0] for one in altered if all(source.visits[node] > 1 for node in one.way)}
    for drawn in source.drawn if shared else ():
        way = (*drawn.uses, drawn.node)
        if way in known or shared.isdisjoint(way[1:]):
            continue
        if all(source.visits[node] > 1 for node in way):
            raise source.document.error(
                way[0],
                "copies of copies share what was altered; turn the clones into plain shapes "
                "in a drawing program and read the file again.",
            )
        known.add(way)
        altered.append(Altered(way, {}))
    return altered


def copied(source: SvgSource, copy: Copy, *, again: bool = False) -> Patch:
    """The patch that puts a group with an altered copy in the place of a `use`.

    `again` is one within a copy: the `use` still stands elsewhere, and keeps its id there.
    """
    document, use = source.document, copy.use
    tag = tag_of(document, use)
    end = whole_end(document, use, tag)
    return Patch(use.start, end, _group(source, copy, again))


def _group(source: SvgSource, copy: Copy, again: bool) -> bytes:
    document, use = source.document, copy.use
    tag = tag_of(document, use)
    target = referenced(document, use)
    assert target is not None, "a use that drew something refers to something"
    own = _own(source, use)
    change = Change(
        {
            **put(use, own @ use_move(use, source.views[use]), source.placed),
            **{
                name: None
                for name in tag.attributes
                if name in ("x", "y", "width", "height") or name.rpartition(":")[2] == "href"
            },
        },
        rename="g",
    )
    if again and "id" in use.attributes:
        change = change.also(_without_id(use))
    start = rewritten(tag, change)
    if tag.empty:
        start = start.rstrip(">").rstrip("/").rstrip() + ">"
    children = b"" if tag.empty else _inner(source, use)
    body = _body(source, target, copy)
    close = f"</{renamed(tag.name, 'g')}>"
    return b"".join((encoded(document, start), children, body, encoded(document, close)))


def _inner(source: SvgSource, node: Node) -> bytes:
    document = source.document
    tag = tag_of(document, node)
    return document.data[node.start + len(encoded(document, tag.text)) : node.end]


def _body(source: SvgSource, target: Node, copy: Copy) -> bytes:
    """The copy of what the `use` draws: without ids, and with the changes made."""
    document = source.document
    changes: dict[Node, Change] = {}
    deeper: dict[Node, list[Altered]] = {}
    for one in copy.inside:
        if len(one.way) == 1:
            changes |= one.changes
        else:
            deeper.setdefault(one.way[0], []).append(Altered(one.way[1:], one.changes))
    parts: list[Patch] = []
    for node in target.all():
        if node in deeper:
            parts.append(copied(source, Copy(node, tuple(deeper[node])), again=True))
            continue
        change = changes.get(node, Change())
        if "id" in node.attributes:
            change = change.also(_without_id(node))
        if node is target and target.name in ("symbol", "svg"):
            change = _as_group(source, target, copy.use, change)
        if change != Change():
            parts += patches(document, node, change)
    end = whole_end(document, target, tag_of(document, target))
    return spliced(document.data, target.start, end, _outermost(parts))


def _without_id(node: Node) -> dict[str, str | None]:
    """An id cannot stand twice; what it says stays readable as a name in data."""
    if "data-name" in node.attributes:
        return {"id": None}
    return {"id": None, "data-name": escaped(node.get("id"))}


def _outermost(parts: list[Patch]) -> list[Patch]:
    """Without patches inside of what another one takes out."""
    out: list[Patch] = []
    for patch in sorted(parts):
        if not out or patch.begin >= out[-1].end:
            out.append(patch)
    return out


def _own(source: SvgSource, node: Node) -> Affine:
    """The element's own map, as it was read."""
    return source.placed.get(node) or transform(node.get("transform")) or Affine()


def _as_group(source: SvgSource, target: Node, use: Node, change: Change) -> Change:
    """A symbol or nested svg becomes a group with the same map."""
    by, _ = viewport(target, source.views[use], use)
    gone = ("viewBox", "preserveAspectRatio", "x", "y", "width", "height", "refX", "refY")
    attributes: dict[str, str | None] = {n: None for n in gone if n in target.attributes}
    attributes |= put(target, _own(source, target) @ by, source.placed)
    # A group hides nothing, so a frame that was opened needs no more.
    kept = {n: v for n, v in change.attributes.items() if n != "overflow"}
    return Change({**attributes, **kept}, rename="g")
