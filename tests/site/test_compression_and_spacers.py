"""Compression and spacers, as a reader meets it on the built pages."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.site.conftest import PHONE, answered, calculator, corrected, fill, sizes

PAGE = "/calculators/compression-and-spacers/"
SQUARE = {"bore": "86", "stroke": "86", "target": "10.5"} | {f"deck__{row}": "0" for row in range(1, 5)}


@sizes
def test_finds_the_spacer_for_typed_readings(open_page, size):
    """Identity: 86 × 86 sweeps 499.557 cm³; 46.776 cm³ and 1 mm of bore (5.809 cm³) make 10.5 : 1."""
    page = open_page(PAGE, size)
    fill(page, **SQUARE, **{f"chamber__{row}": "46.776" for row in range(1, 5)})
    answered(page)
    expect(calculator(page).locator(".bench-lead")).to_contain_text("1.00 mm")
    expect(calculator(page).locator('[data-value="displacement"] .bench-number').first).to_contain_text("1998.2 ±")
    ratios = calculator(page).locator('td[data-label="Ratio, to 1"]').all_inner_texts()
    assert [ratio.split(" ")[0] for ratio in ratios] == ["10.50"] * 4


def test_says_what_is_wrong_with_which_cylinder(open_page):
    page = open_page(PAGE, PHONE)
    empty = "Enter the chamber volume of cylinder 2, in cubic centimetres"
    corrected(page, {"chamber__2": ""}, "chamber.2", empty)
    corrected(page, {"deck__3": "low"}, "deck.3", "Deck height of cylinder 3 must be a number, like 0.42")
    corrected(page, {"bore": "80 Nm"}, "bore", "Bore must use a unit of length, like mm or in")


def test_an_impossible_ratio_still_shows_what_the_readings_give(open_page):
    page = open_page(PAGE)
    fill(page, target="9")
    expect(calculator(page).locator('[data-field="target"] .bench-error')).to_contain_text(
        "No stack of these spacers reaches 9 : 1. The nearest is 7.74 : 1"
    )
    expect(calculator(page).locator('[data-value="displacement"]')).to_be_visible()


def test_the_drawer_grows_by_a_row_whenever_the_last_is_used(open_page):
    page = open_page(PAGE)
    rows = calculator(page).locator('[data-rows="drawer"] .bench-row:visible')
    before = rows.count()
    fill(page, **{f"thickness__{before}": "0.1", f"pieces__{before}": "8"})
    expect(rows).to_have_count(before + 1)
    answered(page)
    expect(calculator(page).locator(f'[name="thickness.{before}"]')).to_have_value("0.1")


def test_fewer_cylinders_hide_their_readings_and_more_bring_them_back(open_page):
    page = open_page(PAGE)
    fill(page, chamber__4="48.9", cylinders="2", heads="1 2")
    expect(calculator(page).locator('[name="chamber.4"]')).to_be_hidden()
    answered(page)
    fill(page, cylinders="6", heads="1 2 3 / 4 5 6")
    expect(calculator(page).locator('[name="chamber.6"]')).to_be_visible()
    expect(calculator(page).locator('[name="chamber.4"]')).to_have_value("48.9")


def test_a_column_read_in_another_unit_is_shown_in_it(open_page):
    page = open_page(PAGE)
    fill(page, deck__unit="thou", deck__1="16", deck__2="15", deck__3="18", deck__4="16")
    expect(calculator(page).locator('[data-unit-of="deck"]').first).to_have_text("thou")
    answered(page)
    expect(calculator(page).locator(".bench-lead")).to_contain_text("7.53 to 7.62 : 1")
