"""The exports of one made-up library, as a folder of files too."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.export import data_files
from generator.model.library import Library
from tests.made_up import made_up_library, made_up_results


@pytest.fixture(scope="session")
def made_up(tmp_path_factory) -> Library:
    return made_up_library(tmp_path_factory.mktemp("made-up") / "chemistry")


@pytest.fixture(scope="session")
def exports(made_up) -> dict[str, str]:
    return dict(data_files(made_up, made_up_results(made_up)))


@pytest.fixture(scope="session")
def folder(exports, tmp_path_factory) -> Path:
    out = tmp_path_factory.mktemp("exports")
    for path, text in exports.items():
        (out / path).parent.mkdir(parents=True, exist_ok=True)
        (out / path).write_text(text, "utf-8", newline="")
    return out / "data" / "v1"
