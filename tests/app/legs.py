"""A front and a back leg as files: they narrow evenly, and one corner of the hem is round."""

from __future__ import annotations

LEG = (
    "M {60},0 L {240},0 L {225},600 C {224},625 {210},640 {190},640"
    " L {30},640 L {0},200 C {30},190 {50},180 {50},130 Z"
)
MM = 'width="600mm" height="700mm" viewBox="0 0 600 700"'


def leg_path(*, mirrored: bool) -> str:
    """The outline's path data; the back faces the front."""
    out = LEG
    for x in (0, 30, 50, 60, 190, 210, 224, 225, 240):
        out = out.replace(f"{{{x}}}", str(600 - x if mirrored else x))
    return out


def leg_svg(name: str, *, mirrored: bool, root: str) -> str:
    """One leg as a file; `root` holds the attributes that say the page's size."""
    grain = 450 if mirrored else 150
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {root}>\n'
        f'<g id="{name}"><title>{name.capitalize()}</title>\n'
        f'<path id="{name}-outline" d="{leg_path(mirrored=mirrored)}"/>\n'
        f'<path class="grain" d="M {grain},250 L {grain},500"/>\n'
        "</g></svg>\n"
    )
