"""Cell sizes to one scale, standing side by side on a line. Classes only; colours come from the style sheet."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from generator.model.size import Size

GAP_MM = 8.0
TEXT_MM = 7.5  # height of a line of text at the drawing's scale
_CAP_MM = 1.2
_MARGIN_MM = 3.0


def sizes_svg(sizes: Sequence[Size], *, id: str, title: str) -> str:
    """Return inline SVG of the outlines in millimetres of the drawing, each with its name and largest dimensions.

    A round cell is drawn from its side; a block from its broad side. ``id`` is unique in the page. Raises ValueError
    for no size.
    """
    if not sizes:
        raise ValueError("a drawing needs at least one size")
    tallest = max(size.length_mm for size in sizes)
    base = _MARGIN_MM + tallest
    left, shapes = _MARGIN_MM, []
    for size in sizes:
        room = max(size.across_mm, _text_mm(size))
        shapes.append(_shape(size, left + (room - size.across_mm) / 2, base, left + room / 2))
        left += room + GAP_MM
    width, height = left - GAP_MM + _MARGIN_MM, base + 2.6 * TEXT_MM
    words = "; ".join(f"{size.name}: {_dimensions(size)} mm" for size in sizes)
    return (
        f'<svg class="sizes" role="group" aria-labelledby="{escape(id)}-t {escape(id)}-d" viewBox="0 0 {width:.1f} {height:.1f}" '
        f'width="{width * 2.4:.0f}" height="{height * 2.4:.0f}">\n'
        f'<title id="{escape(id)}-t">{escape(title)}</title>\n<desc id="{escape(id)}-d">{escape(words)}</desc>\n'
        f'<line class="size-ground" x1="0" x2="{width:.1f}" y1="{base:.1f}" y2="{base:.1f}"/>\n' + "\n".join(shapes) + "\n</svg>"
    )


def _text_mm(size: Size) -> float:
    longest = max(len(size.name), len(_dimensions(size)))
    return longest * TEXT_MM * 0.5


def _dimensions(size: Size) -> str:
    sides = (size.stated.thickness_mm[1], size.across_mm, size.length_mm) if size.shape == "block" else (size.across_mm, size.length_mm)
    return " \u00d7 ".join(f"{side:g}" for side in sides)


def _shape(size: Size, left: float, base: float, middle: float) -> str:
    top, radius = base - size.length_mm, min(size.across_mm / 12, 1.2)
    body = f'<rect class="size-body {size.use}" x="{left:.2f}" y="{top:.2f}" width="{size.across_mm:.2f}" height="{size.length_mm:.2f}" rx="{radius:.2f}"/>'
    cap = ""
    if size.shape == "cylinder":  # the positive end, so that a reader sees which way a cell stands
        cap = f'<line class="size-cap" x1="{middle - size.across_mm / 6:.2f}" x2="{middle + size.across_mm / 6:.2f}" y1="{top + _CAP_MM:.2f}" y2="{top + _CAP_MM:.2f}"/>'
    name = f'<text class="size-name" x="{middle:.2f}" y="{base + TEXT_MM:.2f}">{escape(size.name)}</text>'
    measure = f'<text class="size-measure" x="{middle:.2f}" y="{base + 2.1 * TEXT_MM:.2f}">{escape(_dimensions(size))}</text>'
    return f'<g><a href="#{escape(size.id)}">{body}{cap}{name}{measure}</a></g>'
