"""Which stated figure stands in which section of a subject's page: each exactly once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.model.subject import Remark, Stated, Subject, Value

# Limits by what one is doing; a quantity stands under its first task.
TASKS = {
    "charge": "While charging",
    "discharge": "While discharging",
    "store": "In storage",
    "hot": "In the heat",
    "cold": "In the cold",
    "product": "Currents of single products",
}

# Sections of figures that are not limits: id, heading, quantity groups.
_GROUPS = (
    ("charging", "Charging and discharging in practice", ("charge", "discharge")),
    ("protection", "Protection thresholds (BMS cut-off)", ("protection",)),
    ("storage", "Storage and self-discharge", ("storage",)),
    ("ageing", "Ageing and cycle life", ("ageing",)),
    ("resistance", "Internal resistance", ("resistance",)),
    ("energy", "Energy, mass and efficiency", ("energy",)),
    ("voltages-more", "More voltages", ("voltage", "temperature")),
    ("abuse", "What happens beyond the limits", ("safety",)),
    ("materials", "Materials", ("material",)),
    ("conductors", "Conductors", ("conductor",)),
    ("transport", "Transport", ("transport",)),
    ("tests", "Tests", ("test",)),
)

TOPICS = {
    "identity": "What it is",
    "label": "Labels",
    "marking": "Markings",
    "charge": "Charging",
    "discharge": "Discharging",
    "storage": "Storage",
    "ageing": "Ageing",
    "resistance": "Resistance",
    "safety": "Safety",
    "protection": "Protection",
    "transport": "Transport",
    "test": "Tests",
    "use": "Use",
}

_LABEL_QUANTITY = "nominal-voltage"


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it."""

    id: str
    title: str
    items: tuple


def limit_sections(subject: Subject) -> tuple[Section, ...]:
    """Return the subject's limits by task, leaving out what only tells how a cell fails."""
    limits = [s for s in subject.stated if is_working_limit(s)]
    return _sections(((f"limits-{task}", title, [s for s in limits if _task(s) == task]) for task, title in TASKS.items()))


def is_working_limit(stated: Stated) -> bool:
    """Whether a figure is a limit to work within, not an observation of failure or a board's threshold."""
    return stated.quantity.is_limit and stated.quantity.group not in ("safety", "protection")


def _task(stated: Stated) -> str:
    tasks = stated.quantity.tasks
    return tasks[0] if tasks else "product"


def label_figures(subject: Subject) -> tuple[Stated, ...]:
    """Return the stated nominal voltages, which stand beside the reason of the label."""
    return tuple(s for s in subject.stated if s.quantity.id == _LABEL_QUANTITY)


def figure_sections(subject: Subject) -> tuple[Section, ...]:
    """Return everything that is neither a limit nor a nominal voltage, by section."""
    rest = [s for s in subject.stated if not is_working_limit(s) and s.quantity.id != _LABEL_QUANTITY]
    known = {group for _, _, groups in _GROUPS for group in groups}
    placed = [(id, _group_title(id, title, subject), [s for s in rest if s.quantity.group in groups]) for id, title, groups in _GROUPS]
    return _sections([*placed, ("other", "Other figures", [s for s in rest if s.quantity.group not in known])])


def _group_title(id: str, title: str, subject: Subject) -> str:
    """A cell that is never charged has no practice of charging."""
    return "Discharging in practice" if id == "charging" and subject.rechargeable is False else title


def remark_sections(remarks: Iterable[Remark]) -> tuple[Section, ...]:
    """Return remarks by topic."""
    remarks = list(remarks)
    return _sections(((f"remarks-{topic}", title, [r for r in remarks if r.topic == topic]) for topic, title in TOPICS.items()))


def evidence_sections(values: Sequence[Value]) -> tuple[Section, ...]:
    """Return values by quantity, in the order of quantities.yml."""
    names = {value.quantity.id: value.quantity.name for value in values}
    return _sections(((id, name, [v for v in values if v.quantity.id == id]) for id, name in names.items()))


def _sections(candidates: Iterable[tuple[str, str, list]]) -> tuple[Section, ...]:
    return tuple(Section(id, title, tuple(items)) for id, title, items in candidates if items)
