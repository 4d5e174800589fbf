"""The flow is one-way: a later stage imports earlier ones, never the reverse, and only one file knows the site engine."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
FILES = sorted((ROOT / "generator").rglob("*.py"))

# In the order the data flow. A module may import its own stage and the stages before it.
STAGES = (
    ("problem", "read_yaml", "read", "read_json", "tree", "statement_ids", "stating", "cache", "apart", "check", "model", "editions", "compute", "draw")
    + ("pages", "cite", "export", "build", "author", "sink", "cli")
)
# Modules outside the flow: texts every stage may use, and the two ends.
ENDS = {"address", "places", "theme_html", "set_aside", "mkdocs_plugin", "__main__", "__init__"}


def stage_of(path: Path) -> str:
    first = path.relative_to(ROOT / "generator").parts[0]
    return first.removesuffix(".py")


def imports_of(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            package = path.relative_to(ROOT).with_suffix("").parts[: -node.level] if node.level else ()
            module = ".".join((*package, *([node.module] if node.module else [])))
            found |= {f"{module}.{alias.name}" for alias in node.names} | {module}
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_imports_only_earlier_stages(path):
    stage = stage_of(path)
    if stage in ENDS:
        return
    allowed = set(STAGES[: STAGES.index(stage) + 1]) | {"address", "places"}
    for name in imports_of(path):
        if name.startswith("generator."):
            assert name.split(".")[1] in allowed, f"{stage} imports {name}"


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_only_the_plugin_imports_the_site_engine(path):
    engine = {name for name in imports_of(path) if name.split(".")[0] in ("mkdocs", "material", "pymdownx", "markdown")}
    assert path.name == "mkdocs_plugin.py" or not engine


def test_the_plugin_stays_thin():
    lines = (ROOT / "generator" / "mkdocs_plugin.py").read_text("utf-8").splitlines()
    assert len(lines) <= 60


def test_stages_are_all_named():
    assert {stage_of(path) for path in FILES} - ENDS <= set(STAGES)


def test_no_text_is_evaluated():
    for path in FILES:
        called = {node.func.id for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
        assert not called & {"eval", "exec", "compile_source"}, path
