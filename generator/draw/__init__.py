"""Figures: one function a figure, each returning SVG text or the bytes of a picture."""

from __future__ import annotations

from collections.abc import Mapping

from generator.address import label_picture, picture
from generator.cache import NO_CACHE, Cache
from generator.compute.label import likely
from generator.compute.results import Results
from generator.draw.card import card_pdf
from generator.draw.card_data import card_of
from generator.draw.curves import figures
from generator.draw.files import plotted
from generator.draw.preview import preview_png
from generator.draw.preview_data import label_preview, preview_of
from generator.model.library import Library


def draw_all(library: Library, results: Results, cache: Cache = NO_CACHE) -> Mapping[str, str | bytes]:
    """Return every figure file by its path in the site; ``cache`` keeps pictures that take long to draw."""
    chemistries = library.chemistries.values()
    plots = {path: text for figure in figures(library, results) for path, text in plotted(figure, cache).items()}
    cards = {f"assets/cards/{subject.id}.pdf": card_pdf(card_of(subject), cache) for subject in chemistries}
    previews = {picture(subject): preview_png(preview_of(subject), cache) for subject in chemistries}
    return {**plots, **cards, **previews, **_label_previews(library, results, cache)}


def _label_previews(library: Library, results: Results, cache: Cache) -> dict[str, bytes]:
    found = ((volts, likely(explanations)) for volts, explanations in results.labels.table.items())
    return {label_picture(volts): preview_png(label_preview(volts, packs, library.chemistries), cache) for volts, packs in found if packs}
