"""Parts drawn several times: only the appearance that is altered changes."""

from __future__ import annotations

import pytest

from core.curve import Chain, Vector
from core.errors import FileError
from core.files.edits import PointEdit
from tests.core.files.svg.build import (
    assert_drawn,
    assert_points,
    edit,
    flat,
    read,
    splice,
    svg,
    with_corner_moved,
)

PART = '<path id="p" class="outline" d="M10 10h20v20z"/>'
STEP = Vector(0.5, 0.25)


def check(body: str, keys: set[int]) -> bytes:
    """Alters some shapes; those read back altered, all others as they were."""
    data = svg(body)
    reading = read(data)
    edits, new = {}, {}
    for key in keys:
        geometry = reading.shapes[key].geometry
        if isinstance(geometry, Chain):
            new[key] = with_corner_moved(geometry, 1, STEP)
            edits[key] = edit(reading, key, new[key])
        else:
            edits[key] = PointEdit(key, geometry, geometry + STEP)
    out = splice(data, reading, edits)
    after = read(out)
    assert len(after.shapes) == len(reading.shapes)
    for was, now in zip(reading.shapes, after.shapes, strict=True):
        if not isinstance(was.geometry, Chain):
            wanted = was.geometry + (STEP if was.key in keys else Vector(0, 0))
            assert_points([now.geometry], [wanted], 1e-9)
        else:
            wanted = flat(new[was.key]) if was.key in new else was.geometry.segments
            assert_drawn(now.geometry, wanted)
    return out


def test_a_part_used_once_is_altered_where_it_stands() -> None:
    out = check(f'<defs>{PART}</defs><use href="#p" x="5"/>', {0})
    assert b'<use href="#p" x="5"/>' in out


def test_one_of_two_uses_becomes_a_group_of_its_own() -> None:
    uses = '<use href="#p" x="5"/><use id="u" xlink:href="#p" y="50" class="k"/>'
    body = f"<defs>{PART}</defs>{uses}"
    out = check(body, {1})
    assert svg(body).split(b'<use id="u"')[0] in out
    assert b'<g id="u" class="k" transform="translate(0,50)"><path class="outline" d="' in out
    assert b' data-name="p"/></g>' in out
    assert out.count(b'id="p"') == 1


def test_both_of_two_uses() -> None:
    body = f'<defs>{PART}</defs><use href="#p"/><use href="#p" transform="rotate(20)" y="50"/>'
    assert b"<use" not in check(body, {0, 1})


def test_the_original_is_altered_and_its_clone_is_not() -> None:
    out = check(f'{PART}<use href="#p" x="50"/>', {0})
    assert out.count(b"<path") == 2
    assert b"<use" not in out


def test_the_clone_is_altered_and_its_original_is_not() -> None:
    out = check(f'{PART}<use href="#p" x="50"/>', {1})
    assert PART.encode() in out


@pytest.mark.parametrize("keys", [{0}, {1}, {2}, {5}, {0, 4}, {0, 1, 2}, {1, 5}, set(range(6))])
def test_groups_with_several_parts(keys: set[int]) -> None:
    part = '<g id="g"><path id="a" d="M1 1h9v9z m20 0h5v5z"/><text id="t" x="3" y="4">a</text></g>'
    uses = '<use href="#g" x="9"/><use href="#g" transform="scale(2)"><title>two</title></use>'
    check(f"<defs>{part}</defs>{uses}", keys)


@pytest.mark.parametrize("keys", [{0}, {1}, {0, 1}])
@pytest.mark.parametrize("share", ["", 'preserveAspectRatio="xMinYMax"'])
def test_symbols_with_viewboxes(keys: set[int], share: str) -> None:
    symbol = f'<symbol id="s" viewBox="0 0 50 50" {share}><title>Leg</title>{PART}</symbol>'
    uses = '<use href="#s" x="9" width="100" height="70"/><use href="#s" width="50%" height="90"/>'
    check(symbol + uses, keys)


@pytest.mark.parametrize("keys", [{0}, {1}, {2}, {3}, {0, 3}])
def test_clones_of_clones(keys: set[int]) -> None:
    pair = '<g id="two"><use href="#p"/><use href="#p" x="40"/></g>'
    check(f'<defs>{PART}{pair}</defs><use href="#two"/><use href="#two" y="99"/>', keys)


def test_an_id_within_clones_of_clones_does_not_stand_twice() -> None:
    """Viewers that took the later one drew the altered part for the other clone too."""
    out = check(
        f'<defs>{PART}<use id="in" href="#p"/></defs><use href="#in"/><use href="#in" y="99"/>', {0}
    )
    assert out.count(b' id="in"') == 1
    assert b'data-name="in"' in out


def test_an_original_under_clones_of_clones() -> None:
    check(f'<g id="two">{PART}<use href="#p" x="40"/></g><use href="#two" y="99"/>', {2})


def test_what_cannot_be_parted_is_refused() -> None:
    data = svg(f'<g id="two">{PART}<use id="u" href="#p" x="40"/></g><use href="#two" y="99"/>')
    reading = read(data)
    new = with_corner_moved(reading.shapes[0].geometry, 1, STEP)
    with pytest.raises(FileError, match="clones"):
        splice(data, reading, {0: edit(reading, 0, new)})


def test_a_clone_that_is_taken_out() -> None:
    data = svg(f'<defs>{PART}</defs><use href="#p"/><use href="#p" x="50"/>')
    reading = read(data)
    out = splice(data, reading, {0: edit(reading, 0, [()] * 3)})
    assert_drawn(read(out).shapes[0].geometry, reading.shapes[1].geometry.segments)
    assert len(read(out).shapes) == 1


SVG = 'xmlns:s="http://www.w3.org/2000/svg"'
CLONES = (
    f'<s:defs {SVG}><s:path id="p" d="M1 1h9v9z"/></s:defs>'
    f'<s:use {SVG} href="#p"/><s:use {SVG} href="#p" x="9"></s:use>'
)


def test_prefixed_names_stay_prefixed() -> None:
    out = check(CLONES, {1})
    assert b"<s:g " in out
    assert out.count(b"</s:g>") == 1


def test_a_copy_that_would_lose_its_prefix_is_refused() -> None:
    data = svg(CLONES.replace(f"<s:use {SVG}", "<use").replace("</s:use>", "</use>"))
    reading = read(data)
    new = with_corner_moved(reading.shapes[1].geometry, 1, STEP)
    with pytest.raises(FileError, match="clones"):
        splice(data, reading, {1: edit(reading, 1, new)})
