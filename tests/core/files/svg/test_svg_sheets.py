"""Style sheets: which rule holds (W3C Selectors 3; CSS Cascade 4)."""

from __future__ import annotations

import subprocess
import sys
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import FileError
from core.files.svg import read_svg

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">'
BODY = (
    '<g id="layer" class="cut size"><g class="inner"><path id="p" class="a b" data-kind="seam"'
    ' {more}d="M0 0h100v100h-100z"/></g></g>'
)


def _hidden(css: str, more: str = "", body: str = BODY) -> bool:
    text = f"{HEAD}<style>{css}</style>{body.format(more=more)}</svg>"
    (shape,) = read_svg("x.svg", text.encode()).shapes
    return shape.hidden


@pytest.mark.parametrize(
    "selector",
    [
        "path", ".a", "#p", "path.a.b", "#p.b", ".b.a", "*", "g path", "g > path", "svg path",
        "#layer .a", ".cut > g > .a", ".cut.size path", "[data-kind]", "path[data-kind=seam]",
        '[data-kind^="se"]', "[class~=b]", "rect, .a", "rect,\n#p ,circle", "g>path", "/* x */ .a",
    ],
)  # fmt: skip
def test_a_selector_that_means_the_path(selector: str) -> None:
    assert _hidden(selector + "{fill:red; display:none}")


@pytest.mark.parametrize(
    "selector",
    [
        "rect", ".c", "#layer > path", ".size > .a", "path.a.c", "#p.c", "path g", "[data-other]",
        "[data-kind=hem]", "rect.a", ".A", ".inner.cut path", "circle, rect",
    ],
)  # fmt: skip
def test_a_selector_that_does_not(selector: str) -> None:
    assert not _hidden(selector + "{display:none}")


NONE, INLINE = "{display:none}", "{display:inline}"


@pytest.mark.parametrize(
    ("css", "more", "hidden"),
    [
        (f".a{NONE} path{INLINE}", "", True),
        (f"#p{INLINE} path.a.b{NONE}", "", False),
        (f".a{NONE} .b{INLINE}", "", False),
        (f".b{INLINE} .a{NONE}", "", True),
        (f"g g path{NONE} .a{INLINE}", "", False),
        ("path{display:none !important} #p{display:inline}", "", True),
        ("path{display:none!important} #p{display:inline! important}", "", False),
        (f"#p{NONE}", 'style="display:inline" ', False),
        ("path{display:none !important}", 'style="display:inline" ', True),
        ("#p{display:none !important}", 'style="display:inline !important" ', False),
        (f"path{INLINE}", 'display="none" ', False),
        (f"*{INLINE}", 'display="none" ', False),
        (f"rect{INLINE}", 'display="none" ', True),
        ("path{display:none;display:inline}", "", False),
        ("path{display:none !important;display:inline}", "", True),
        ("path{DISPLAY:none}", "", True),
        (f"@media print {{ path{NONE} }}", "", False),
        (f"@media screen {{ path{NONE} }}", "", True),
        (f"@media not print {{ path{NONE} }}", "", True),
        (f"@media only screen {{ path{NONE} }}", "", True),
        (f"@media not all {{ path{NONE} }}", "", False),
        (f"@media print and (color) {{ path{NONE} }}", "", False),
        ("path{display:NONE}", "", True),
        ("path{visibility:Hidden}", "", True),
        ("path{visibility:bogus}", "", False),
        (f"@media print, all {{ path{NONE} }}", "", True),
        ("@font-face{src:url(data:x;base64,display)} path{visibility:hidden}", "", True),
    ],
)
def test_which_of_several_holds(css: str, more: str, hidden: bool) -> None:
    assert _hidden(css, more) is hidden


@pytest.mark.parametrize(
    ("css", "told"),
    [
        ("@media screen and (min-width: 9px) { path{display:none} }", "@media screen and"),
        ("@supports (display:none) { path{display:none} }", "@supports"),
        ("@layer x { path{display:none} }", "@layer x"),
        ("g { fill:none; & path { display:none } }", "& path"),
        ("g { .a { rect { display:none } } }", ".a"),
    ],
)
def test_rules_in_rules_went_without_a_word(css: str, told: str) -> None:
    """One within a rule for a group hid all of that group."""
    text = f"{HEAD}<style><![CDATA[{css}]]></style>{BODY.format(more='')}</svg>"
    reading = read_svg("x.svg", text.encode())
    assert not reading.shapes[0].hidden
    assert any(told in problem and "was not understood" in problem for problem in reading.problems)


FAMILY = (
    '<g id="one"><metadata/><title>t</title><desc/><path class="a" d="M0 0H9"/><rect width="9" '
    'height="9"/><path class="b" d="M0 0H9"/><o:x xmlns:o="urn:o"/><path id="c" d="M0 0H9"/></g>'
    '<g id="two"><path id="d" d="M0 0H9"/></g>'
)


@pytest.mark.parametrize(
    ("selector", "hidden"),
    [
        ("path + rect", {1}), ("title + path", set()), ("desc + path", {0}),
        ("path ~ path", {2, 3}), ("x + path", set()),
        ("rect ~ path", {2, 3}), ("rect ~ *", {2, 3}), ("g + g path", {4}),
        ("#one ~ g > path", {4}),
        ("path:first-child", {4}), ("path:only-child", {4}), ("path:last-child", {3, 4}),
        ("path:nth-child(4)", {0}), ("path:nth-child(even)", {0, 2, 3}),
        ("path:nth-last-child(3)", {2}), ("path:first-of-type", {0, 4}),
        ("path:last-of-type", {3, 4}), ("path:nth-of-type(2)", {2}), ("rect:only-of-type", {1}),
        ("#one path:nth-last-of-type(1)", {3}), ("path:not(.a)", {2, 3, 4}),
        ("path:not(.a, #c)", {2, 4}), (":is(.a, #d)", {0, 4}), (":where(.a, #d)", {0, 4}),
        ("path:not(:first-child)", {0, 2, 3}), ("path:hover", set()), ("svg:root rect", {1}),
        ("path:not(:hover)", {0, 2, 3, 4}),
    ],
)  # fmt: skip
def test_rules_that_go_by_siblings_were_left_out_of_account(
    selector: str, hidden: set[int]
) -> None:
    """What draws nothing, and is of another language, counts among them."""
    text = f"{HEAD}<style>{selector}{{display:none}}</style>{FAMILY}</svg>"
    reading = read_svg("x.svg", text.encode())
    assert {s.key for s in reading.shapes if s.hidden} == hidden
    assert not reading.problems


@pytest.mark.parametrize("count", [3_000, 20_000])
def test_siblings_of_very_many_siblings_end_in_time(count: int) -> None:
    """Three thousand are told apart; twenty thousand would take a minute."""
    lines = '<path d="M0 0H9"/>' * count
    text = f"{HEAD}<style>rect ~ path{{display:none}}</style>{lines}</svg>".encode()
    if count < 10_000:
        assert not any(s.hidden for s in read_svg("x.svg", text).shapes)
        return
    with pytest.raises(FileError, match="more style rules and elements than can be followed"):
        read_svg("x.svg", text)


_WEIGHTS = {"path": 1, ".a": 10, "#p": 100, "g path": 2, "g .a": 11, "path.a.b": 21, ".cut #p": 110}


@given(st.lists(st.tuples(st.sampled_from(sorted(_WEIGHTS)), st.booleans(), st.booleans())))
def test_the_heaviest_rule_holds_and_of_equals_the_last(
    rules: list[tuple[str, bool, bool]],
) -> None:
    """Weight (ids, classes, names) as the standard counts it, importance before weight."""
    css = "".join(
        f"{selector}{{visibility:{'hidden' if hides else 'visible'}{'!important' * loud}}}"
        for selector, hides, loud in rules
    )
    ranked = sorted((loud, _WEIGHTS[selector], k) for k, (selector, _, loud) in enumerate(rules))
    wanted = rules[ranked[-1][2]][1] if rules else False
    assert _hidden(css) is wanted, css


@pytest.mark.parametrize(
    "selector",
    [
        "g:has(path)", "path:lang(de)", "path::before", "path:nth-child(1 of .a)", ":", "+ path",
        ":not(:not(:not(:not(:not(:not(:not(:not(:not(:not(a))))))))))", "path:no-such",
        "x|path", "~ ~", "|", "path,*|", "path," + "g>" * 90,
    ],
)  # fmt: skip
def test_a_rule_that_is_not_understood_is_told(selector: str) -> None:
    text = f"{HEAD}<style>{selector}{{display:none}}</style>{BODY.format(more='')}</svg>"
    reading = read_svg("x.svg", text.encode())
    assert not reading.shapes[0].hidden
    assert any("was not understood" in told for told in reading.problems), reading.problems
    text = text.replace("display:none", "fill:none")
    assert not read_svg("x.svg", text.encode()).problems


@pytest.mark.parametrize(
    "said",
    [
        'clip-path="inset(5px)"',
        'style="clip-path: polygon(0 0, 9px 0, 9px 9px)"',
        'clip-path="circle(50%)"',
        'style="clip-path: border-box ellipse(4px 5px)"',
        'mask="url(#m)"',
        'style="mask:url(#m) luminance"',
        'style="mask-image: linear-gradient(black, white)"',
    ],
)
@pytest.mark.parametrize("around", [True, False])
def test_what_hides_a_part_and_is_not_followed_is_told_once(said: str, around: bool) -> None:
    path = '<path d="M0 0h100v100h-100z"/>'
    body = f"<g {said}>{path}{path}</g>" if around else path.replace("<path", f"<path {said}")
    reading = read_svg("x.svg", f'{HEAD}<mask id="m"/>{body}</svg>'.encode())
    (told,) = reading.problems
    assert "may hide a part" in told
    assert "line 1" in told


@pytest.mark.parametrize("said", ['mask="none"', 'clip-path="none"', 'style="mask:none"'])
def test_what_hides_nothing_is_not_told(said: str) -> None:
    reading = read_svg("x.svg", f'{HEAD}<path {said} d="M0 0h100v100h-100z"/></svg>'.encode())
    assert reading.problems == ()


@pytest.mark.parametrize(
    "css",
    [
        "g " * 3000 + "{display:none}",
        "g " * 61 + "{display:none}",
        "g " * 60 + "{display:none}",
        "{" * 20_000 + "display:none",
        "[a]" * 5000 + "{display:none}",
        "(" * 20_000 + "{display:none}",
        "a{" + "(" * 20_000 + "display:none}",
        "@media screen{" * 5_000 + "a{display:none}",
        "a{display:none}" * 1900,
    ],
)
def test_endless_rules_end(css: str) -> None:
    began = time.process_time()
    _hidden(css)
    assert time.process_time() - began < 10.0


@pytest.mark.parametrize(("rules", "elements"), [(1_900, 3_000), (2_100, 1)])
def test_too_many_rules_for_too_many_elements_are_refused(rules: int, elements: int) -> None:
    css = "".join(f"[a{k}]{{display:none}}" for k in range(rules))
    paths = '<path d="M0 0h1"/>' * elements
    text = f"{HEAD}<style>{css}</style>{paths}</svg>"
    with pytest.raises(Exception, match="more style rules and elements"):
        read_svg("x.svg", text.encode())


def test_a_file_without_such_rules_loads_no_library_for_them() -> None:
    text = f"{HEAD}<style>.a{{fill:none}}</style><path class='a' d='M0 0h9'/></svg>"
    run = (
        "import sys; from core.files.svg import read_svg;"
        f"read_svg('x.svg', {text.encode()!r});"
        "print([m for m in sys.modules if 'css' in m])"
    )
    done = subprocess.run([sys.executable, "-c", run], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(("kind", "hides"), [("text/less", False), ("Text/CSS ", True)])
def test_rules_in_another_language_hid_a_piece(kind: str, hides: bool) -> None:
    rule = f'<style type="{kind}">.a{{display:none}}</style>'
    text = f"{HEAD}{rule}{BODY.format(more='')}</svg>"
    (shape,) = read_svg("x.svg", text.encode()).shapes
    assert shape.hidden == hides
