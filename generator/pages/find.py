"""Words and questions that people type, each with the figures at once and the way to their evidence.

Made from the vocabulary, the records and the sizes, so that the site's search has a heading for each.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.results import Results
from generator.model.library import Library
from generator.model.size import Size
from generator.model.subject import Stated, Subject
from generator.model.vocabulary import Quantity
from generator.pages.environment import render, to_root
from generator.pages.labels import rounded, slug

# What people type for a quantity, where its name alone would not be found. Most typed first: it heads the section.
WORDS: Mapping[str, tuple[str, ...]] = {
    "nominal-voltage": ("nominal voltage", "rated voltage", "label voltage", "what voltage is it"),
    "charge-voltage-max": ("max charge voltage", "full charge voltage", "fully charged voltage", "charger voltage", "maximum voltage", "end of charge voltage", "CV voltage"),
    "discharge-cutoff-voltage": ("cutoff voltage", "cut-off voltage", "minimum voltage", "empty voltage", "low voltage cutoff", "LVC", "dead cell", "discharge limit"),
    "storage-voltage": ("storage voltage", "store", "storing", "put away", "winter"),
    "charge-temperature": ("charge temperature", "charging temperature", "cold charging", "charge below freezing", "charge in winter"),
    "discharge-temperature": ("discharge temperature", "use in the cold", "operating temperature"),
    "storage-temperature": ("storage temperature", "fridge", "shelf temperature"),
    "charge-rate-max": ("max charge rate", "maximum charging current", "fast charge", "charge C rate", "charge amps"),
    "charge-rate-standard": ("standard charge rate", "charging current", "charge current"),
    "discharge-rate-max": ("max discharge rate", "maximum current", "amps", "discharge C rate", "CDR", "continuous discharge"),
    "precharge-voltage": ("pre-charge", "precharge", "trickle below", "deeply discharged", "revive"),
    "overdischarge-floor": ("over-discharged", "found at 0 V", "dead lithium cell", "can I revive", "zero volts"),
    "overcharge-detection-voltage": ("BMS overcharge", "BMS high cutoff", "protection board overcharge", "OVP", "HVC"),
    "overdischarge-detection-voltage": ("BMS cutoff", "BMS low cutoff", "BMS undervoltage", "protection board cutoff", "UVP", "LVC of the BMS"),
    "balance-start-voltage": ("balance voltage", "balancing", "BMS balancing"),
    "float-voltage": ("float voltage", "float charge", "standby charge", "maintenance charge"),
    "absorption-voltage": ("absorption voltage", "bulk charge", "boost charge", "cyclic charge"),
    "equalise-voltage": ("equalise voltage", "equalize", "equalization charge"),
    "self-discharge": ("self-discharge", "loses charge", "drain on the shelf"),
    "cycle-life": ("cycle life", "how many cycles", "how long does it last", "lifetime"),
    "calendar-life": ("calendar life", "years", "age"),
    "internal-resistance": ("internal resistance", "impedance", "milliohm", "IR"),
    "specific-energy": ("specific energy", "Wh per kg", "energy per weight"),
    "energy-density": ("energy density", "Wh per litre", "energy per volume"),
    "self-heating-onset": ("self-heating", "how hot is too hot", "thermal runaway start"),
    "thermal-runaway-onset": ("thermal runaway", "fire", "explode"),
    "trickle-rate": ("trickle charge", "overnight charge"),
    "negative-delta-v": ("delta V", "delta peak", "minus delta V", "peak detection"),
    "storage-state-of-charge": ("storage state of charge", "storage charge", "percent for storage"),
    "shelf-life": ("shelf life", "expiry", "how long do they keep"),
    "peukert-exponent": ("Peukert",),
}
# Quantities with a section for each chemistry: what people ask with a chemistry's name beside it.
BY_CHEMISTRY = ("nominal-voltage", "charge-voltage-max", "discharge-cutoff-voltage", "storage-voltage", "charge-temperature", "float-voltage", "charge-rate-max", "self-discharge", "cycle-life")


# What people call a chemistry when they do not know which of its family it is.
FAMILY_WORDS = {"lithium-ion": "Li-ion", "lead-acid": "lead-acid"}


@dataclass(frozen=True, slots=True)
class Answer:
    """One quantity of one chemistry: every variant's stated figure."""

    subject: Subject
    figures: tuple[Stated, ...]

    @property
    def name(self) -> str:
        """The chemistry's abbreviation, with the family's everyday name where that says more."""
        family = FAMILY_WORDS.get(self.subject.family or "")
        short = self.subject.abbreviation
        return short if family is None or family.lower() in short.lower() else f"{short} ({family})"


@dataclass(frozen=True, slots=True)
class Section:
    """One quantity in the words people use, with the answers of all chemistries."""

    quantity: Quantity
    words: tuple[str, ...]
    answers: tuple[Answer, ...]
    by_chemistry: bool

    @property
    def title(self) -> str:
        return f"{self.words[0][:1].upper()}{self.words[0][1:]}" if self.words else self.quantity.name


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page of words and questions by path."""
    path = "find/index.md"
    maxima = [(f"{volts:g}", slug(volts)) for volts, found in results.labels.table.items() if rounded(found)]
    context = {"root": to_root(path), "library": library, "maxima": maxima, "sections": sections(library), "sizes": lithium_sizes(library)}
    return {path: render("find.md.j2", cold=answers(library, "charge-temperature"), **context)}


def sections(library: Library) -> list[Section]:
    """Return one section for each quantity that is stated for some chemistry, those with words first."""
    found = []
    for id, quantity in library.quantities.items():
        own = answers(library, id)
        if own and (id in WORDS or quantity.role not in ("listed",)):
            found.append(Section(quantity, WORDS.get(id, ()), own, id in BY_CHEMISTRY))
    return sorted(found, key=lambda section: not section.words)


def answers(library: Library, quantity: str) -> tuple[Answer, ...]:
    """Return the stated figures of one quantity by chemistry."""
    pairs = ((subject, tuple(s for s in subject.stated if s.quantity.id == quantity)) for subject in library.chemistries.values())
    return tuple(Answer(subject, own) for subject, own in pairs if own and (subject.rechargeable or not quantity.startswith("charge")))


def lithium_sizes(library: Library) -> list[Size]:
    """Return the round lithium-ion sizes, of which people ask for a voltage that a size does not have."""
    return [size for size in library.sizes.values() if size.use == "lithium-ion" and size.shape == "cylinder"]
