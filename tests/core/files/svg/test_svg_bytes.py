"""Bytes: encodings, marks, line ends, quotes, comments; all that is not altered stays."""

from __future__ import annotations

import codecs

import pytest

from core.curve import Point, Vector
from core.files.edits import PointEdit
from tests.core.files.svg.build import assert_drawn, edit, flat, read, splice, with_corner_moved

TEXT = """<?xml version='1.0' encoding='{encoding}'?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [
  <!ENTITY ns_svg "http://www.w3.org/2000/svg">
  <!ENTITY red "#f00">
]>
<!-- Größe: 1 > 0 & "so" -->
<?keep this?>
<svg xmlns='&ns_svg;' width="200mm"
     height="100mm" viewBox="0 0 200 100"  >
  <g id='Größe' style="stroke:&red;" data-x="a &gt; b">
    <path  class = 'é'
\td='M0 0 L10 0
 L10 10 z'   id="ä>b"/><![CDATA[ <path d="M0 0"> ]]>
    <text x='1' y='2'>Größe</text>
  </g>
</svg>
<!-- end -->
"""


def encoded(encoding: str, *, bom: bytes = b"", newline: str = "\n") -> bytes:
    codec = {"UTF-16LE": "utf-16-le", "UTF-16BE": "utf-16-be"}.get(encoding, encoding)
    named = "UTF-16" if encoding.startswith("UTF-16") else encoding
    return bom + TEXT.format(encoding=named).replace("\n", newline).encode(codec)


FILES = {
    "utf-8": encoded("UTF-8"),
    "utf8, misspelled": encoded("utf8"),
    "utf-8 with mark": encoded("UTF-8", bom=codecs.BOM_UTF8),
    "crlf": encoded("UTF-8", newline="\r\n"),
    "cr": encoded("UTF-8", newline="\r"),
    "latin-1": encoded("ISO-8859-1"),
    "windows": encoded("windows-1252"),
    "utf-16 little": encoded("UTF-16LE", bom=codecs.BOM_UTF16_LE),
    "utf-16 big": encoded("UTF-16BE", bom=codecs.BOM_UTF16_BE),
    "utf-16 crlf": encoded("UTF-16LE", bom=codecs.BOM_UTF16_LE, newline="\r\n"),
    "no doctype": encoded("UTF-8").replace(b"&ns_svg;", b"http://www.w3.org/2000/svg").replace(
        encoded("UTF-8")[encoded("UTF-8").index(b"<!DOC") : encoded("UTF-8").index(b"]>") + 2], b""
    ).replace(b"&red;", b"red"),
}  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_one_corner_moves_and_all_other_bytes_stay(name: str) -> None:
    data = FILES[name]
    reading = read(data)
    path, text = reading.shapes
    assert path.words[:2] == ("ä>b", "é")
    assert text.text == "Größe"
    new = with_corner_moved(path.geometry, 1, Vector(0.5, 0.25))
    out = splice(data, reading, {0: edit(reading, 0, new)})
    codec = reading.source.document.codec
    wanted = data.replace("L10 0".encode(codec), "L10.5,0.25".encode(codec))
    assert out == wanted
    assert out != data
    assert_drawn(read(out).shapes[0].geometry, flat(new))


@pytest.mark.parametrize("name", FILES)
def test_nothing_altered_is_the_identical_file(name: str) -> None:
    data = FILES[name]
    reading = read(data)
    new = [(s,) for s in reading.shapes[0].geometry]
    place = reading.shapes[1].geometry
    edits = {0: edit(reading, 0, new), 1: PointEdit(1, place, place)}
    assert splice(data, reading, edits) == data
    assert splice(data, reading, {}) == data


@pytest.mark.parametrize("name", FILES)
def test_elements_go_to_the_byte(name: str) -> None:
    data = FILES[name]
    reading = read(data)
    out = splice(data, reading, {1: PointEdit(1, Point(1, 2), None)})
    codec = reading.source.document.codec
    gone = "<text x='1' y='2'>Größe</text>".encode(codec)
    assert out == data.replace(gone, b"")


def test_a_part_from_an_entity_is_read_but_not_altered() -> None:
    data = (
        b"<!DOCTYPE svg [<!ENTITY p '<path d=\"M0 0h1\"/>'>]>"
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">\n'
        b'&p;<path d="M0 0h2"/></svg>'
    )
    reading = read(data)
    assert [s.geometry.end.x for s in reading.shapes] == [1, 2]
    assert splice(data, reading, {1: edit(reading, 1, [()])}) == data.replace(
        b'<path d="M0 0h2"/>', b""
    )
    with pytest.raises(Exception, match=r"line 2: .* entity"):
        splice(data, reading, {0: edit(reading, 0, [()])})


def test_a_file_without_the_namespace_is_read() -> None:
    data = b'<svg width="9mm" height="9mm" viewBox="0 0 9 9"><path d="M0 0h2"/></svg>'
    assert len(read(data).shapes) == 1


def test_an_undeclared_prefix_is_forgiven_and_said() -> None:
    data = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
        b'<path id="a" d="M0 0h2" k:label="hem"/><use xlink:href="#a"/><k:x/></svg>'
    )
    reading = read(data)
    assert len(reading.shapes) == 2
    assert reading.shapes[0].words == ("a", "hem")
    assert any("prefix" in p for p in reading.problems)
