"""Whether an element is shown, what hides parts of it, and how writing is set, by attribute,
style or style sheet."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from core.files.svg.document import Document, Node
from core.files.svg.outlines import BY_STYLE, PLACES
from core.files.svg.sheets import MOST_TEXT, Said, Sheet, block, outside, written_in

SHOWING = frozenset(
    {
        *("display", "visibility", "clip-path", "mask", "mask-image"),
        *("transform", "transform-origin", "transform-box"),
        *("translate", "rotate", "scale"),
    }
)
SETTING = frozenset({"font-size", "text-anchor"})
_VISIBLE = {"visible": True, "hidden": False, "collapse": False}
_SAYING = frozenset({"style", "display", "visibility"})


class Shown(NamedTuple):
    """``drawn`` is lost for all inside; ``visible`` can be won back further in."""

    drawn: bool = True
    visible: bool = True

    @property
    def hidden(self) -> bool:
        return not (self.drawn and self.visible)


class Sheets(NamedTuple):
    """The file's style sheets, if they say anything; a sentence about what was left out."""

    sheet: Sheet | None
    problem: str = ""


def sheets_of(document: Document, properties: Collection[str] = SHOWING) -> Sheets:
    """What the file's style sheets say of these properties."""
    text = written_in(document)
    elsewhere = outside(document, text)
    problem = ""
    if elsewhere:
        problem = (
            f"{document.name}: the style sheet {elsewhere[:60]} is not in the file and nothing is"
            " fetched; look whether it hides a part of a piece."
        )
    places = properties is SHOWING and PLACES.search(text) is not None
    if not places and not any(p in text.lower() for p in properties):
        return Sheets(None, problem)
    if len(text) > MOST_TEXT:
        return Sheets(
            None,
            f"{document.name} has style sheets of more than {MOST_TEXT // 1000} kB; they were left"
            " out of account, so what they hide was read as if it were seen.",
        )
    asked = frozenset(properties) | BY_STYLE if places else properties
    sheet = Sheet(document, text, asked)
    if sheet.untold:
        problem = (
            f"{document.name}: the style rule for “{sheet.untold[0][:60]}” was not understood and"
            " left out of account; look whether it hides a part of a piece."
        )
    return Sheets(None if sheet.empty else sheet, problem)


def shown(node: Node, around: Shown, sheet: Sheet | None) -> Shown:
    """Is the element shown, inside something that is shown as `around` says?"""
    if not sheet and _SAYING.isdisjoint(node.attributes):
        return around
    display = value(node, "display", sheet).lower()
    visibility = value(node, "visibility", sheet).lower()
    return Shown(
        around.drawn and display != "none",
        # Any other word is none, and as good as not said.
        _VISIBLE.get(visibility, around.visible),
    )


def clip_link(node: Node, sheet: Sheet | None) -> str:
    """What the element says of its clip path; "" for nothing."""
    return _link(node, "clip-path", sheet)


def mask_link(node: Node, sheet: Sheet | None) -> str:
    """What the element says of its mask; "" for nothing."""
    return _link(node, "mask", sheet) or _link(node, "mask-image", sheet)


def _link(node: Node, name: str, sheet: Sheet | None) -> str:
    if not sheet and "style" not in node.attributes:
        said = node.get(name).strip()
    else:
        said = value(node, name, sheet)
    return "" if said == "none" else said


def value(node: Node, name: str, sheet: Sheet | None) -> str:
    """What holds of a property: the attribute, then rules by their weight and order, then the
    style attribute, each of these two first what is not important (CSS Cascade 4, 6.1)."""
    found = in_css(node, name, sheet)
    return node.get(name).strip() if found is None else found


def in_css(node: Node, name: str, sheet: Sheet | None) -> str | None:
    """The same where rules or the style attribute say something of it; None where none does."""
    found: Said | None = None
    if sheet is not None:
        for said in sheet.of(node):
            found = _over(found, said.get(name))
    if "style" in node.attributes:
        found = _over(found, block(node.get("style")).get(name))
    return None if found is None else found.value


def _over(before: Said | None, after: Said | None) -> Said | None:
    if before is None or after is None:
        return before or after
    return before if before.important and not after.important else after
