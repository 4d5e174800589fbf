"""One made-up library for every citation test."""

from __future__ import annotations

import pytest

from generator.cite.cited import Cited, Citer
from generator.model.library import Library
from tests.made_up import made_up_library

IDS = (
    "hostilium.nominal-voltage.standard",
    "hostilium.nominal-voltage.hostile",
    "hostilium.charge-voltage-max.standard",
    "hostilium.charge-voltage-max.page",
    "hostilium.charge-voltage-max.memory",
    "hostilium.charge-voltage-max.power-cell",
    "hostilium.discharge-cutoff-voltage.standard-2028",
    "hostilium.charge-temperature.standard",
    "hostilium.remark.warning",
    "lantern.charge-temperature.standard",
)


@pytest.fixture(scope="session")
def made_up(tmp_path_factory) -> Library:
    return made_up_library(tmp_path_factory.mktemp("made-up") / "chemistry")


@pytest.fixture(scope="session")
def citer(made_up) -> Citer:
    return Citer(made_up)


@pytest.fixture(params=IDS)
def cited(request, citer) -> Cited:
    return citer.cited(citer.find(request.param))
