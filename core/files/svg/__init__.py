"""SVG files: read at true scale, written back without disturbing the rest, or fresh."""

from core.files.svg.fresh import fresh_svg
from core.files.svg.reader import SvgSource, read_svg
from core.files.svg.splice import splice_svg

__all__ = ["SvgSource", "fresh_svg", "read_svg", "splice_svg"]
