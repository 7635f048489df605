"""The same patterns written in other ways: line ends, encodings, numbers, what others add."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import ezdxf

Way = Callable[[bytes], bytes]
COORDINATE = re.compile(rb"(?m)^( *[1-3][01] *\r?\n)(-?\d+\.\d+)(?=\r?$)")
NUMBER = r"-?\d+(?:\.\d+)?"


# -- SVG -----------------------------------------------------------------------------------


def _svg(change: Callable[[str], str]) -> Way:
    return lambda data: change(data.decode("utf-8")).encode("utf-8")


def _utf16(order: str) -> Way:
    mark = b"\xff\xfe" if order == "le" else b"\xfe\xff"

    def done(data: bytes) -> bytes:
        text = data.decode("utf-8").replace('encoding="UTF-8"', 'encoding="UTF-16"')
        return mark + text.replace("Front", "Größe \u2702 \U0001fa73").encode(f"utf-16-{order}")

    return done


def _latin(data: bytes) -> bytes:
    head = '<?xml version="1.0" encoding="ISO-8859-1"?>\n<!-- größer -->\n'
    text = re.sub(r"<\?xml[^>]*\?>\s*", "", data.decode("utf-8"))
    return (head + text).encode("latin-1", "replace")


def _in_places(text: str, change: Callable[[str], str]) -> str:
    """The numbers of the drawn lines, each written otherwise."""
    return re.sub(
        r' (?:points|d)="[^"]*"',
        lambda found: re.sub(NUMBER, lambda n: change(n[0]), found[0]),
        text,
    )


def _relative(text: str) -> str:
    """All path data as compact relative steps; the samples have M, L, C and Z."""

    def path(found: re.Match[str]) -> str:
        out, pen, start = "", (0.0, 0.0), (0.0, 0.0)
        for letter, body in re.findall(r"([MLCZ])([^MLCZ]*)", found[2]):
            numbers = [float(n) for n in re.findall(NUMBER, body)]
            points = list(zip(numbers[::2], numbers[1::2], strict=True))
            steps = [_short(v - o) for p in points for v, o in zip(p, pen, strict=True)]
            out += letter.lower() + "".join(
                s if not k or s.startswith("-") else f" {s}" for k, s in enumerate(steps)
            )
            pen = points[-1] if points else start
            start = pen if letter == "M" else start
        return f'{found[1]}"{out}"'

    return re.sub(r'( d=)"([^"]*)"', path, text)


def _short(x: float) -> str:
    return _bare(f"{x:.6f}".rstrip("0").rstrip(".")) or "0"


def _bare(n: str) -> str:
    return re.sub(r"^(-?)0\.", r"\1.", n)


def _within(text: str, opening: str, closing: str) -> str:
    """All that is drawn in the file between two more tags."""
    text = re.sub(r"(<svg[^>]*>)", lambda m: m[1] + opening, text, count=1)
    return text.replace("</svg>", f"{closing}</svg>")


SVG_WAYS: dict[str, Way] = {
    "as it is": lambda data: data,
    "crlf": _svg(lambda t: t.replace("\n", "\r\n")),
    "old mac ends": _svg(lambda t: t.replace("\n", "\r")),
    "mixed ends": _svg(lambda t: t.replace(">\n  <", ">\r\n  <")),
    "all in one line": _svg(lambda t: re.sub(r">\s+<", "><", t)),
    "byte order mark": lambda data: b"\xef\xbb\xbf" + data,
    "utf-16 little": _utf16("le"),
    "utf-16 big": _utf16("be"),
    "latin-1": _latin,
    "no declaration": _svg(lambda t: re.sub(r"<\?xml[^>]*\?>\s*", "", t)),
    "other scripts": _svg(lambda t: t.replace("cut 2", "裁つ 2 \u2702 \U0001fa73")),
    "comments everywhere": _svg(lambda t: t.replace(">\n", "><!-- & < > x -->\n")),
    "instructions": _svg(lambda t: t.replace(">\n", "><?kept a='<path d=\"M0,0\"/>'?>\n")),
    "cdata": _svg(lambda t: re.sub(
        r"(<style[^>]*>)(.*?)(</style>)", r"\1<![CDATA[\2]]>\3", t, flags=re.DOTALL)),
    "foreign attributes": _svg(lambda t: t.replace(
        "<svg ", '<svg xmlns:o="urn:other" o:kept="&lt;é&gt;" ', 1).replace(
        "<path ", "<path o:mine='1' ")),
    "foreign elements": _svg(lambda t: t.replace(
        "<g ", '<o:path xmlns:o="urn:other" d="M 0,0 L 9,9"/><o:x xmlns:o="urn:other">&amp;'
        "</o:x><g ")),
    "document type": _svg(lambda t: re.sub(
        r"(<svg)", '<!DOCTYPE svg [ <!ENTITY w "urn:w"> ]>\n\\1 xmlns:w="&w;"', t, count=1)),
    "references": _svg(lambda t: t.replace("cut 2", "cut&#160;2 &#x2702;")),
    "numbers as exponents": _svg(lambda t: _in_places(t, lambda n: f"{float(n):+.6e}")),
    "numbers with noughts": _svg(lambda t: _in_places(t, lambda n: f"{float(n):.5f}")),
    "numbers without noughts": _svg(lambda t: _in_places(t, _bare)),
    "relative": _svg(_relative),
    "blanks in tags": _svg(lambda t: re.sub(r'"(/?)>', r'"  \1>', t)),
    "line ends in tags": _svg(lambda t: re.sub(r'" (\w+)="', '"\n\t\\1 = "', t)),
    "single quotes": _svg(lambda t: re.sub(r'(\w)="([^"\']*)"', r"\1='\2'", t)),
    "a group moved and turned": _svg(lambda t: _within(
        t, '<g transform="translate(431.7,2009) rotate(7.3) scale(1.25,-1.25)">', "</g>")),
    "nested pages": _svg(lambda t: _within(
        t, '<svg x="10" y="5" width="500" height="500" viewBox="0 0 900 900">', "</svg>")),
    "a clone": _svg(lambda t: _within(t, '<g id="own"><g>', '</g></g><use href="#own" x="2000"/>')),
}  # fmt: skip


# -- DXF -----------------------------------------------------------------------------------


def as_version(version: str, form: str = "asc") -> Way:
    """Saved anew by a program that writes every version."""

    def saved(data: bytes) -> bytes:
        document = ezdxf.read(io.StringIO(data.decode("cp1252").replace("\r\n", "\n")))
        document.dxfversion = version
        if form == "bin":
            packed = io.BytesIO()
            document.write(packed, fmt="bin")
            return packed.getvalue()
        out = io.StringIO()
        document.write(out)
        return out.getvalue().encode(document.output_encoding)

    return saved


def _numbers(write: Callable[[float], str]) -> Way:
    return lambda data: COORDINATE.sub(lambda m: m[1] + write(float(m[2])).encode(), data)


def _extended(data: bytes) -> bytes:
    """Data of other programs at the end of every entity that may carry it."""
    own = b"1001\nOTHER\n1000\nkept \xe9 ; {}\n1040\n1.50\n1071\n7\n"
    return re.sub(
        rb"(\n *0\r?\n(?:LINE|LWPOLYLINE|POLYLINE|TEXT)\r?\n(?:(?! *0\r?\n) *\d+\r?\n[^\n]*\n)+)",
        lambda m: m[1] + own,
        data,
    )


def _first_entity(more: bytes) -> Way:
    return lambda data: re.sub(rb"(\n *2\r?\nENTITIES\r?\n)", lambda m: m[1] + more, data)


# Light polylines came after R12, so these two are for patterns that have none.
R12_WAYS: dict[str, Way] = {"R12": as_version("R12"), "binary R12": as_version("R12", "bin")}
UNKNOWN = b"  0\nOTHER_THING\n  5\nFFFF1\n  8\n0\n 10\n1.000\n 70\n 7\n310\nAB12\n"

DXF_WAYS: dict[str, Way] = {
    "as it is": lambda data: data,
    "crlf": lambda d: d.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"),
    "old mac ends": lambda d: d.replace(b"\r\n", b"\n").replace(b"\n", b"\r"),
    "byte order mark": lambda d: b"\xef\xbb\xbf" + d,
    "comments": lambda d: re.sub(
        rb"(?m)^ *0\n(LINE|TEXT|INSERT)$", rb"999\n kept ; 0 LINE\n  0\n\1", d),
    "comments in lines": lambda d: re.sub(
        rb"(?m)^ *8\n(?=[^\n]*\n *10\n)", b"999\n kept\n  8\n", d),
    "codes without blanks": lambda d: re.sub(rb"(?m)^ +(\d+)$", rb"\1", d),
    "codes in six columns": lambda d: re.sub(
        rb"([^\n]*)\n([^\n]*\n)", lambda m: m[1].strip().rjust(6) + b"\n" + m[2], d),
    "numbers as exponents": _numbers(lambda x: f"{x:.10E}"),
    "numbers with noughts": _numbers(lambda x: f"{x:.12f}"),
    "numbers after blanks": _numbers(lambda x: f"   {x!r}"),
    "other scripts": lambda d: d.replace(b"cut 2", b"Gr\xf6\xdfe \\U+88C1 2"),
    "data of others": _extended,
    "unknown entities": _first_entity(UNKNOWN),
    "after the end": lambda d: d + b"kept after the end\n",
    **{v: as_version(v) for v in ("R2000", "R2004", "R2007", "R2010", "R2013", "R2018")},
    **{f"binary {v}": as_version(v, "bin") for v in ("R2000", "R2018")},
}  # fmt: skip
