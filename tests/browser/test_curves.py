"""Curves in a browser: the overlay and its readout, figures whose letters never touch, pages without scripts."""

from __future__ import annotations

import json

import pytest

pytestmark = pytest.mark.browser


@pytest.fixture
def without_policy(opened):
    """A page for files opened by themselves, for which a browser also asks for an icon that no one made."""
    return opened(viewport={"width": 600, "height": 500})


def exported(site, cell: str, rate: float, temperature: float) -> dict:
    lines = json.loads((site / f"data/v1/curves/{cell}.json").read_text("utf-8"))["lines"]
    return next(line for line in lines if (line["c_rate"], line["temperature_c"]) == (rate, temperature))


def readings(page) -> dict[str, str]:
    """The readout: name of a line to what is said of it."""
    page.wait_for_selector("#lay-output li")
    rows = page.locator("#lay-output li")
    return {row.locator("a").inner_text(): row.locator("b").inner_text() for row in rows.all()}


def test_keyboard_reads_the_exported_volts(page, address, site):
    page.goto(address + "curves/?cell=chen-2020&rate=1&temperature=25")
    (name,) = readings(page)
    line = exported(site, "chen-2020", 1.0, 25.0)
    assert readings(page)[name] == f"{line['volts'][50]:.3f} V"
    page.focus("#lay-charge")
    page.keyboard.press("ArrowRight")
    assert readings(page)[name] == f"{line['volts'][51]:.3f} V"
    page.keyboard.press("Home")
    assert readings(page)[name] == f"{line['volts'][0]:.3f} V"
    page.keyboard.press("End")
    assert readings(page)[name] == "no figure here"  # 1 C ends before 100 %
    assert "no figure here" in page.get_attribute("#lay-charge", "aria-valuetext")


def test_exported_volts_are_the_table_of_the_page(page, address, site):
    page.goto(address + "curves/chen-2020/")
    head = page.locator("#numbers-rates >> xpath=..").locator("thead th").all_inner_texts()
    row = page.locator("#numbers-rates >> xpath=..").locator("tbody tr", has_text="30").first.locator("td").all_inner_texts()
    assert row[head.index("1 C") - 1] == f"{exported(site, 'chen-2020', 1.0, 25.0)['volts'][30]:.3f}"


def test_pointer_moves_the_reading(page, address, site):
    page.set_viewport_size({"width": 1350, "height": 900})
    page.goto(address + "curves/?cell=chen-2020&rate=1&temperature=25")
    (name,) = readings(page)
    plot = page.locator(".lay-plot")
    plot.scroll_into_view_if_needed()
    box = plot.bounding_box()
    page.mouse.move(box["x"] + box["width"] * (40 + 348 * 20 / 105) / 400, box["y"] + box["height"] / 2)
    assert page.input_value("#lay-charge") == "20"
    assert readings(page)[name] == f"{exported(site, 'chen-2020', 1.0, 25.0)['volts'][20]:.3f} V"


def test_series_multiplies_the_volts(page, address, site):
    page.goto(address + "curves/?cell=chen-2020&rate=1&temperature=25&series=3")
    (name,) = readings(page)
    assert readings(page)[name] == f"{3 * exported(site, 'chen-2020', 1.0, 25.0)['volts'][50]:.3f} V"
    assert "3 cells in series" in page.inner_text("#lay-output")


def test_cells_are_laid_over_one_another_and_the_choice_stands_in_the_address(page, address):
    page.goto(address + "curves/")
    before = set(readings(page))
    page.check("input[name=cell][value=sulzer-2019]")
    page.locator("#lay-output li").nth(len(before)).wait_for()
    assert page.locator("#lay-output li").count() == len(before) + 1
    assert page.locator(".lay-line").count() >= 2 * (len(before) + 1)  # in the plot and beside the reading
    assert "cell=sulzer-2019" in page.url
    page.reload()
    assert set(readings(page)) > before


def a_stopped_line(site) -> tuple[str, dict]:
    """A cell and one of its lines on which the electrolyte ran out below 10 degrees Celsius."""
    for file in sorted((site / "data/v1/curves").glob("*.json")):
        data = json.loads(file.read_text("utf-8"))
        for line in data["lines"]:
            if line["stopped_because"] == "electrolyte-depleted" and line["temperature_c"] < 10:
                return data["id"], line
    raise AssertionError("no curve stops early")


def test_what_a_source_does_not_reach_is_said(page, address, site):
    cell, line = a_stopped_line(site)  # chen-2020 holds at 25 degrees Celsius only
    page.goto(f"{address}curves/?cell=chen-2020&cell={cell}&rate={line['c_rate']:g}&temperature={line['temperature_c']:g}")
    assert len(readings(page)) == 1
    assert "has no such curve" in page.inner_text("#lay-missing")
    assert page.locator(".lay-stop").count() == 1  # the electrolyte ran out


def test_at_most_six_cells(page, address):
    page.goto(address + "curves/")
    boxes = page.locator("input[name=cell]:not(:checked):not(:disabled)")
    while boxes.count():
        boxes.first.check()
    assert page.locator("input[name=cell]:checked").count() == 6
    page.locator("input[name=cell]:checked").first.uncheck()
    assert page.locator("input[name=cell]:disabled").count() == 0


def test_a_strange_address_breaks_nothing(page, address):
    for query in ("?cell=<script>alert(1)</script>", "?cell=../../x&rate=NaN&temperature=&series=-5", "?series=1e9&rate=99"):
        page.goto(address + "curves/" + query, wait_until="networkidle")
        assert page.locator("#lay-output").count() == 1
        assert 1 <= int(page.input_value("input[name=series]")) <= 24


def test_readout_works_with_a_coarse_pointer_and_names_its_slider(page, address):
    page.goto(address + "curves/")
    readings(page)
    label = page.locator("label[for=lay-charge]").inner_text()
    assert label.startswith("Read the volts")
    assert page.locator(".lay-plot title").text_content()


def test_without_scripts_the_figures_and_the_list_remain(without_scripts, address):
    without_scripts.goto(address + "curves/")
    assert not without_scripts.locator("#lay").is_visible()
    assert without_scripts.locator(".plot img:visible").count() >= 4
    assert without_scripts.locator("a[href='chen-2020/'], a[href$='/chen-2020/']").count() >= 1


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_only_the_figure_of_the_palette_shows(opened, address, scheme):
    page = opened(color_scheme=scheme)
    page.goto(address + "curves/chen-2020/")
    shown = page.locator(".plot img:visible")
    assert shown.count() == 1
    assert shown.first.get_attribute("src").endswith(f"-{scheme}.svg#only-{scheme}")
    assert "V at half charge" in shown.first.get_attribute("alt")


def test_letters_of_a_figure_never_touch(without_policy, site, address):
    """Every drawn file, with the letters of this browser: no two texts overlap and none leaves the drawing."""
    found = sorted((site / "assets/figures").glob("*-light.svg"))
    assert len(found) >= 30
    for file in found:
        without_policy.goto(f"{address}assets/figures/{file.name}")
        touching = without_policy.evaluate(
            """() => { const frame = document.documentElement.getBoundingClientRect(), out = [];
                const boxes = [...document.querySelectorAll('text')].map(t => [t.textContent.trim(), t.getBoundingClientRect()]);
                for (const [i, [a, p]] of boxes.entries()) {
                    if (p.left < frame.left - 1 || p.right > frame.right + 1) out.push([a, 'outside']);
                    for (const [b, q] of boxes.slice(i + 1))
                        if (Math.min(p.right, q.right) - Math.max(p.left, q.left) > 0.5
                            && Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 6) out.push([a, b]);
                }
                return boxes.length > 5 ? out : ['too few texts']; }"""
        )
        assert touching == [], file.name
